"""A whole text: its dates with what was done on each, and what in it is no date.

Words of making ("cast", "reworked") go with the date behind them, words that nothing is known of are
left over, and a word that may change a date but hangs on none makes the text doubtful: then there is
no date.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from typing import NamedTuple

from catalogue.measure import found as spans
from catalogue.measure.days import NotADate
from catalogue.measure.found import Found
from catalogue.measure.other_numbers import (
    counted,
    counts_before,
    counts_behind,
    counts_what_was_done,
)
from catalogue.measure.phrases import Phrases
from catalogue.measure.words import Piece, table


class NoDate(NotADate):
    """A text that says itself that it has no date."""


class Dated(NamedTuple):
    """One date of a text with what was done then, and the pieces from `first` to before `behind`.

    `of_a_period`: the name of a period, or years in brackets behind one.
    """

    found: Found
    act: str
    first: int
    behind: int
    bracketed: bool
    of_a_period: bool


class Said(NamedTuple):
    """What a text says: its dates, the places of unknown words, and of a word that makes it doubtful.

    `undated`: it says that it has no date. `styled`: it names the time of a style ("18th-century style").
    """

    dates: list[Dated]
    unknown: list[int]
    doubtful: int | None
    undated: bool
    styled: bool


def read_whole(phrases: Phrases) -> Said:
    """All dates of a text, and all that is none. Raises `NotADate`, `Undecided`."""
    return _Text(phrases).read()


class _Text:
    """The reading of one text from left to right, and what has been met so far.

    `act` is what was done, waiting for its date, `act_at` its place; `depth` counts open brackets.
    """

    def __init__(self, phrases: Phrases) -> None:
        self.phrases = phrases
        self.pieces = phrases.pieces
        self.dates: list[Dated] = []
        self.unknown: list[int] = []
        self.doubtful: int | None = None
        self.undated = self.styled = False
        self.act = ""
        self.act_at: int | None = None
        self.depth = 0

    def read(self) -> Said:
        at = 0
        while self.pieces[at].key:
            if self._is_a_sign_of_the_word_before(at):
                at += 1
                continue
            read = self.phrases.date(at)
            if read:
                self._date(at, *read)
                at = read[1]
            else:
                self._word(at)
                at += 1
        return Said(self.dates, self.unknown, self.doubtful, self.undated, self.styled)

    def _is_a_sign_of_the_word_before(self, at: int) -> bool:
        """ "Holm?", "Edo-Meiji"."""
        glued = self.pieces[at].glued and self.pieces[at].key in _GLUED_SIGNS
        return glued and at - 1 in self.unknown

    def _date(self, at: int, found: Found, behind: int) -> None:
        if "style" in self.pieces[behind].senses:
            self.unknown.append(at)
            self.styled = True
            return
        inside = [
            piece.senses["act"] for piece in self.pieces[at:behind] if "act" in piece.senses
        ]
        act = self.act or (inside[0] if inside else "")
        bracketed = self.depth > 0 or self.pieces[at].key in ("(", "[")
        before = self.pieces[at - 1].senses if at else {}
        named = any("period" in piece.senses for piece in self.pieces[at:behind])
        of_a_period = named or (bracketed and ("period" in before or "period_word" in before))
        first = at if self.act_at is None else self.act_at
        self.dates.append(Dated(found, act, first, behind, bracketed, of_a_period))
        self.act, self.act_at = "", None

    def _word(self, at: int) -> None:
        senses, key = self.pieces[at].senses, self.pieces[at].key
        self.depth += (key in ("(", "[")) - (key in (")", "]"))
        if "act" in senses:
            self._act(at, senses["act"])
        elif "undated" in senses:
            self.undated = True
        elif ("manner" in senses and self.act) or ("and" in senses and self.dates):
            return  # understood, and it says nothing of a day
        elif _changes_a_date(self.phrases, at):
            self.doubtful = at if self.doubtful is None else self.doubtful
        elif key[0].isalnum() and "lead" not in senses:
            self.unknown.append(at)

    def _act(self, at: int, act: str) -> None:
        """What was done; in brackets alone it was done on the date before: 1880 (original)."""
        alone = at > 0 and self.pieces[at - 1].key == "(" and self.pieces[at + 1].key == ")"
        if alone and self.dates:
            self.dates[-1] = self.dates[-1]._replace(act=act)
        else:
            self.act, self.act_at = act, at


_STRONG = frozenset({
    "circa", "before", "after", "until", "since", "or_earlier", "or_later", "between", "either", "probably",
    "month", "division", "part", "number", "nth", "tens", "hidden", "bc", "hijri", "century", "millennium",
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
        return not (counted(pieces, at) or counts_what_was_done(pieces, at))
    if "part" in piece.senses or "nth" in piece.senses:
        # Late Period, 18th Dynasty: of something that is no date
        return not _plain_word(pieces[at + 1])
    apart = pieces[at - 1].key in _SEPARATING if at else "probably" in piece.senses
    of_something_else = _plain_word(pieces[at + 1])
    return not (
        apart and of_something_else and ("probably" in piece.senses or "after" in piece.senses)
    )


def _plain_word(piece: Piece) -> bool:
    """Whether it is a word that says nothing of dates."""
    of_dates = any(sense in _STRONG for sense in piece.senses) and piece.key not in everyday()
    return piece.key[:1].isalpha() and not of_dates


_BOUNDING = ("circa", "before", "after", "until", "since")
_GLUED_SIGNS = ("?", "(?)", "-", "/")
_SEPARATING = (",", ";", "(", ".")


@cache
def everyday() -> frozenset[str]:
    """Words that mean something about dates only beside one."""
    return frozenset(table()["everyday"]["words"])


# --- several dates as one -------------------------------------------------------------------------------


def one_date(said: Said, pieces: Sequence[Piece]) -> Found:
    """What all dates of a text mean together. Raises `NotADate` where that is not beyond doubt."""
    _refuse_doubt(said, pieces)
    dates = _without_context(said.dates)
    if len(dates) == 1:
        return _with_its_act(dates[0])
    if [each.act for each in dates] == ["begun", "finished"]:
        return spans.from_to(dates[0].found, dates[1].found, "begun - finished")
    narrower = _narrower(dates) or _both_hold(dates)
    if narrower:
        return narrower
    if dates[-1].found.rule == "either" and not any(each.act for each in dates):
        return spans.one_of([each.found for each in dates], "either")  # 1880, 1881 or 1882
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
        if said.styled:
            raise NotADate("it says in what style it is, not when it was made")
        raise NotADate("no way of writing a date that is known here fits it")
    for each in said.dates:
        first, last = each.first, each.behind - 1
        if "number" in pieces[first].senses and counts_before(pieces, first):
            raise NotADate(f"{pieces[first].key!r} counts something else than years")
        if "number" in pieces[last].senses and counts_behind(pieces, last):
            raise NotADate(f"{pieces[last].key!r} counts something else than years")


def _without_context(dates: list[Dated]) -> list[Dated]:
    """Without periods and the years in brackets behind them, where a date stands beside them."""
    own = [each for each in dates if not each.of_a_period]
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


def _both_hold(dates: list[Dated]) -> Found | None:
    """Dates of one act of which one is open: "20th century, after 1950". Raises `NotADate`."""
    if any(each.act not in _OF_THE_MAKING for each in dates):
        return None
    starts = [each.found.earliest for each in dates if each.found.earliest]
    ends = [each.found.latest for each in dates if each.found.latest]
    if len(starts) == len(ends) == len(dates):
        return None
    if not starts or not ends:
        return None
    for each in dates:
        if all(spans.lies_within(each.found, other.found) for other in dates):
            return each.found
    first, last = max(starts), min(ends)
    if first > last:
        raise NotADate("its dates do not fit together")
    return Found(f"[{'..'.join(spans.edges(first, last))}]", first, last, "all of them hold")


def _told(dated: Dated) -> str:
    return f"{dated.act} {dated.found.edtf}" if dated.act else dated.found.edtf
