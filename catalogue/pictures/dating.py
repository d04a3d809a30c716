"""What a label or a repair proves of its own years: one bar a reason, and what they come down to."""

from __future__ import annotations

from collections.abc import Callable

from catalogue.argument import ALWAYS, Dated, Dating, Interval, Reason, Spans
from catalogue.pictures.bars import WIDTH, Bar, Group, bars
from catalogue.pictures.svg import Svg
from catalogue.pictures.words import table, years


def dating_picture(
    dating: Dating, *, of: str, key: str, leads_to: Callable[[int], str], width: float = WIDTH
) -> Svg:
    """The picture of a dating. `of` is what is dated, in words ("the dealer's label I3").

    `key` keeps its ids apart from others on a page; `leads_to` gives the address of a reason by its
    place among `dating.reasons`, where its letters are shown.
    """
    numbers = {id(reason): number for number, reason in enumerate(dating.reasons)}
    groups = [
        Group(
            table("dating")["parts"][part.what],
            (
                *(_of_reason(each, leads_to(numbers[id(each)])) for each in part.reasons),
                *_together(part),
            ),
        )
        for part in dating.parts
    ]
    return bars(table("dating")["title"].format(of=of), groups, key=key, width=width)


def _of_reason(reason: Reason, href: str) -> Bar:
    words = f"“{reason.written}” · {_in_words(reason.own, reason.reach, reason.strength)}"
    return Bar(
        words=words,
        said=f"{words}. {reason.why}",
        earliest=reason.earliest,
        latest=reason.latest,
        soft_earliest=reason.soft_earliest,
        soft_latest=reason.soft_latest,
        firm=reason.strength == "hard",
        href=href,
    )


def _in_words(own: Interval, reach: Interval, strength: str) -> str:
    told = [
        years(own.earliest, own.latest),
        table("dating")["firm" if strength == "hard" else "soft"],
    ]
    if reach != own:
        widest = years(reach.earliest, reach.latest)
        told.append(table("years")["widest"].format(years=widest))
    return ", ".join(told)


def in_years(part: Dated) -> str:
    """What the reasons of one thing come down to, in words.

    >>> from catalogue.argument import date_label
    >>> from catalogue.reading import read
    >>> in_years(date_label(read("14 Tanner Street, London, W.1")).main)
    'firm reasons: from 1 March 1917; all reasons, with margins: 1 March 1917 to 1989'
    """
    return "; ".join(bar.words for bar in _together(part))


def _together(part: Dated) -> tuple[Bar, ...]:
    """What the firm reasons leave, and what all of them leave with as far as each may reach."""
    told = table("dating")
    found = []
    if part.contradicts_itself:
        found.append(_sum(told["contradicted"], Interval(), firm=True, empty=True))
    elif part.spans != ALWAYS:
        found += _sums(told["by_firm"], part.spans, firm=True)
    if part.soft_spans != part.spans:
        found += _sums(told["by_all"], part.soft_spans, firm=False)
    return tuple(found) or (_sum(told["undated"], Interval(), firm=False, empty=True),)


def _sums(words: str, spans: Spans, *, firm: bool) -> list[Bar]:
    said = [years(span.earliest, span.latest) for span in spans]
    headed = [
        f"{words}: {each}" if not number else f"{table('years')['or']} {each}"
        for number, each in enumerate(said)
    ]
    return [_sum(each, span, firm=firm) for each, span in zip(headed, spans, strict=True)]


def _sum(words: str, span: Interval, *, firm: bool, empty: bool = False) -> Bar:
    return Bar(
        words=words, said=words, earliest=span.earliest, latest=span.latest, firm=firm, sum=True,
        empty=empty,
    )  # fmt: skip
