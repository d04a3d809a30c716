"""A whole text: its dates with what was done on each, and what in it is no date.

Words of making ("cast", "reworked") go with the date behind them, words that nothing is known of are
left over, and a word that may change a date but hangs on none makes the text doubtful.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from typing import Any, NamedTuple

from catalogue.measure import found as spans
from catalogue.measure.days import NotADate
from catalogue.measure.found import Found
from catalogue.measure.phrases import Phrases
from catalogue.measure.words import Piece, table


class NoDate(NotADate):
    """A text that says itself that it has no date."""


class Dated(NamedTuple):
    """One date of a text with what was done then, and the pieces from `first` to before `behind`.

    `of_a_period`: in brackets behind the name of a period.
    """

    found: Found
    act: str
    first: int
    behind: int
    bracketed: bool
    of_a_period: bool


class Said(NamedTuple):
    """What a text says: its dates, the places of unknown words, and of a word that makes it doubtful."""

    dates: list[Dated]
    unknown: list[int]
    doubtful: int | None
    undated: bool


def read_whole(phrases: Phrases) -> Said:
    """All dates of a text, and all that is none. Raises `NotADate`, `Undecided`."""
    pieces = phrases.pieces
    dates: list[Dated] = []
    unknown: list[int] = []
    doubtful: int | None = None
    undated = False
    act, act_at, at, depth = "", None, 0, 0
    while pieces[at].key:
        read = phrases.date(at)
        if read:
            found, behind = read
            first = at if act_at is None else act_at
            bracketed = depth > 0 or pieces[at].key in ("(", "[")
            before = pieces[at - 1] if at else None
            of_a_period = bool(
                bracketed and before and ({"period", "period_word"} & set(before.senses))
            )
            dates.append(Dated(found, act, first, behind, bracketed, of_a_period))
            act, act_at, at = "", None, behind
            continue
        senses, key = pieces[at].senses, pieces[at].key
        depth += (key in ("(", "[")) - (key in (")", "]"))
        if "act" in senses and _belongs_to_the_last(pieces, at) and dates:
            dates[-1] = dates[-1]._replace(act=senses["act"])
        elif "act" in senses:
            act, act_at = senses["act"], at
        elif "undated" in senses:
            undated = True
        elif ("manner" in senses and act) or ("and" in senses and dates):
            pass  # understood, and it says nothing of a day
        elif _changes_a_date(phrases, at):
            doubtful = at if doubtful is None else doubtful
        elif key[0].isalnum() and "lead" not in senses:
            unknown.append(at)
        at += 1
    return Said(dates, unknown, doubtful, undated)


def _belongs_to_the_last(pieces: Sequence[Piece], at: int) -> bool:
    """1880 (original): what stands alone in brackets says what was done on the date before."""
    return at > 0 and pieces[at - 1].key == "(" and pieces[at + 1].key == ")"


_STRONG = frozenset({
    "circa", "before", "after", "until", "since", "or_earlier", "or_later", "between", "either", "probably",
    "month", "division", "part", "number", "tens", "hidden", "bc", "hijri", "century", "millennium",
    "revolutionary_month", "old_style", "denied", "broken", "fraction", "refusal",
})  # fmt: skip


def _changes_a_date(phrases: Phrases, at: int) -> bool:
    """Whether a word that hangs on no date would change one, or is a figure of its own."""
    pieces = phrases.pieces
    piece = pieces[at]
    if not any(sense in _STRONG for sense in piece.senses):
        return False
    if piece.key in everyday():
        # "by by 1907": what stands right before a date is never beside the point
        return any(sense in _BOUNDING for sense in piece.senses) and bool(phrases.date(at + 1))
    if "number" in piece.senses:
        return not counted(pieces, at)
    if "part" in piece.senses:
        # Late Period, Middle Kingdom: of something that is no date
        return not _plain_word(pieces[at + 1])
    apart = at > 0 and pieces[at - 1].key in _SEPARATING
    of_something_else = _plain_word(pieces[at + 1])
    return not (
        apart and of_something_else and ("probably" in piece.senses or "after" in piece.senses)
    )


def _plain_word(piece: Piece) -> bool:
    """Whether it is a word that says nothing of dates."""
    of_dates = any(sense in _STRONG for sense in piece.senses) and piece.key not in everyday()
    return piece.key[:1].isalpha() and not of_dates


_BOUNDING = ("circa", "before", "after", "until", "since")
_SEPARATING = (",", ";", "(", ".")


@cache
def everyday() -> frozenset[str]:
    """Words that mean something about dates only beside one."""
    return frozenset(table()["everyday"]["words"])


@cache
def _counted() -> dict[str, frozenset[str]]:
    held: dict[str, Any] = table()["counted"]
    return {name: frozenset(words) for name, words in held.items()}


def counted(pieces: Sequence[Piece], at: int) -> bool:
    """Whether what stands around a number says that it counts something else than years.

    No. 1887, £1887, 1887 mm, 1887 Elm Street, 1887A.
    """
    return _counts_before(pieces, at) or _counts_behind(pieces, at)


def _counts_before(pieces: Sequence[Piece], at: int) -> bool:
    before = pieces[at - 1] if at else None
    if before and before.key == "." and at > 1:
        before = pieces[at - 2]
    if before is None or "act" in before.senses:
        return False
    one_letter = len(before.key) == 1 and before.key.isalpha() and not before.senses
    return one_letter or before.key in _counted()["before"]


def _counts_behind(pieces: Sequence[Piece], at: int) -> bool:
    behind = pieces[at + 1]
    glued_word = behind.glued and behind.key[:1].isalpha()
    return glued_word or behind.key in _counted()["behind"] or _in_an_address(pieces, at)


def _in_an_address(pieces: Sequence[Piece], at: int) -> bool:
    """Whether a street follows within three words, with no sign between."""
    for piece in pieces[at + 1 : at + 5]:
        if piece.key in _counted()["street"]:
            return True
        if not piece.key[:1].isalpha():
            return False
    return False


# --- several dates as one -------------------------------------------------------------------------------


def one_date(said: Said, pieces: Sequence[Piece]) -> Found:
    """What all dates of a text mean together. Raises `NotADate` where that is not beyond doubt."""
    _refuse_doubt(said, pieces)
    dates = _without_context(said.dates)
    if len(dates) == 1:
        return _with_its_act(dates[0])
    if [each.act for each in dates] == ["begun", "finished"]:
        return spans.from_to(dates[0].found, dates[1].found, "begun - finished")
    narrower = _narrower(dates)
    if narrower:
        return narrower
    told = "; ".join(_told(each) for each in dates)
    return spans.all_of([each.found for each in dates], f"several dates: {told}")


def _refuse_doubt(said: Said, pieces: Sequence[Piece]) -> None:
    if said.doubtful is not None:
        word = pieces[said.doubtful].key
        if said.dates:
            raise NotADate(f"what {word!r} says of the date is not understood")
        raise NotADate(f"no way of writing a date that is known here has {word!r} so")
    if not said.dates:
        if said.undated and not said.unknown:
            raise NoDate("it says that it has no date")
        raise NotADate("no way of writing a date that is known here fits it")
    for each in said.dates:
        first, last = each.first, each.behind - 1
        if "number" in pieces[first].senses and _counts_before(pieces, first):
            raise NotADate(f"{pieces[first].key!r} counts something else than years")
        if "number" in pieces[last].senses and _counts_behind(pieces, last):
            raise NotADate(f"{pieces[last].key!r} counts something else than years")


def _without_context(dates: list[Dated]) -> list[Dated]:
    """Without periods and the years in brackets behind them, where a date stands beside them."""
    own = [each for each in dates if each.found.rule != "period" and not each.of_a_period]
    return own or dates


def _with_its_act(dated: Dated) -> Found:
    if dated.act in _OF_THE_MAKING:
        return dated.found
    return dated.found._replace(rule=f"{dated.found.rule}, {dated.act}")


_OF_THE_MAKING = ("", "made", "dated")


def _narrower(dates: list[Dated]) -> Found | None:
    """One date said twice, once more closely: "19th century (c. 1850)"."""
    if not any(each.bracketed for each in dates):
        return None
    if any(each.act not in _OF_THE_MAKING for each in dates):
        return None
    for inner in reversed(dates):
        if all(spans.lies_within(inner.found, outer.found) for outer in dates):
            return inner.found._replace(rule=f"{inner.found.rule}, the narrowest of several")
    return None


def _told(dated: Dated) -> str:
    return f"{dated.act} {dated.found.edtf}" if dated.act else dated.found.edtf
