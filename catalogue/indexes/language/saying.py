"""A wish in words: how a question was understood, part by part."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from catalogue.indexes.language.fields import (
    FactField,
    facts,
    figures,
    flags,
    sentence,
    spans,
    texts,
)
from catalogue.indexes.language.joining import NOTHING
from catalogue.indexes.language.numbers import just_over, just_under, plain
from catalogue.indexes.language.values import typed_for
from catalogue.indexes.wish import (
    AllOf,
    AnyOf,
    Elsewhere,
    Fact,
    InTime,
    Measured,
    Name,
    Not,
    Run,
    Wish,
    Word,
)
from catalogue.measure import Day
from catalogue.terms import known, label

Called = Callable[[str], str]

MOST_SAID = 80
"""So many letters of a word are repeated in a sentence."""


def explained(wish: Wish, called: Called) -> tuple[str, ...]:
    """What is wished for, a sentence for each part; () when nothing is."""
    if wish == NOTHING:
        return ()
    return tuple(
        _parts(wish.parts, called) if isinstance(wish, AllOf) else [_said(wish, called)]
    )


def _parts(parts: Sequence[Wish], called: Called) -> Iterator[str]:
    """Each part; a kind and the time of its statement are said together."""
    at = 0
    while at < len(parts):
        here = parts[at]
        behind = parts[at + 1] if at + 1 < len(parts) else None
        if (
            isinstance(here, Fact)
            and here.field == "kind"
            and isinstance(behind, InTime)
            and behind.what == "own"
        ):
            yield _span(here, behind)
            at += 2
        else:
            yield _said(here, called)
            at += 1


def _said(wish: Wish, called: Called) -> str:
    match wish:
        case Word():
            return _in_fields(_word(wish), wish.fields)
        case Run():
            return _in_fields(_run(wish), wish.words[0].fields)
        case Name():
            return sentence("said", "name", says=_field(wish.field).says, name=wish.written)
        case Fact():
            return _fact(wish, called)
        case Measured():
            return _figure(wish)
        case InTime():
            return sentence("said", wish.what, when=_when(wish), sure=_sure(wish))
        case Not():
            return sentence("said", "not", said=_inner(wish.part, called))
        case Elsewhere():
            key = "also" if wish.there else "without"
            return sentence("said", key, said=_inner(wish.part, called))
        case AnyOf():
            choices = [_inner(each, called) for each in wish.parts]
            return sentence("said", "either", choices=_joined(choices, "or"))
        case AllOf():
            if not wish.parts:
                return sentence("said", "everything")
            return sentence("said", "joined").join(_parts(wish.parts, called))


def _inner(wish: Wish, called: Called) -> str:
    """A wish within another, in brackets where it is more than one thing."""
    said = _said(wish, called)
    several = isinstance(wish, AnyOf) or (
        isinstance(wish, AllOf) and len(tuple(_parts(wish.parts, called))) > 1
    )
    return sentence("said", "group", said=said) if several else said


def _word(wish: Word) -> str:
    if wish.alike:
        letters = (
            sentence("said", "one_letter")
            if wish.alike == 1
            else sentence("said", "letters", number=wish.alike)
        )
        return sentence("said", "alike", word=_short(wish.written), letters=letters)
    return sentence("said", "pattern" if wish.pattern else "word", word=_short(wish.written))


def _short(written: str) -> str:
    """What was typed, as far as a sentence bears it."""
    return written if len(written) <= MOST_SAID else f"{written[:MOST_SAID]}…"


def _run(wish: Run) -> str:
    written = [_short(each.written) for each in wish.words]
    if wish.apart:
        words = _joined([f"“{each}”" for each in written], "and")
        return sentence("said", "near", words=words, apart=wish.apart)
    return sentence("said", "row", words=" ".join(written))


def _in_fields(said: str, names: tuple[str, ...]) -> str:
    if not names:
        return said
    where = _joined([texts()[name].says if name in texts() else name for name in names], "or")
    return sentence("said", "in_field", said=said, where=where)


def _fact(wish: Fact, called: Called) -> str:
    field = _field(wish.field)
    if field.flags:
        return _joined([flags().get(each, each) for each in wish.values], "or")
    said = sentence("said", "value", value=typed_for(field, wish.values))
    if field.names or (said.count(",") and len(wish.values) > 1) or len(wish.values) == 1:
        said = _joined(
            [sentence("said", "value", value=_called(each, called)) for each in wish.values],
            "or",
        )
    if wish.field == "kind":
        return sentence("said", "kind", values=said)
    return sentence("said", "fact", says=field.says, values=said)


def _called(key: str, called: Called) -> str:
    return label(key) if known(key) else called(key)


def _figure(wish: Measured) -> str:
    field = figures().get(wish.field)
    unit = f" {field.unit}" if field and field.unit else ""
    least, most = wish.least, wish.most
    over, under = just_over(least), just_under(most)
    if least is None and most is None:
        bounds = sentence("said", "any_figure")
    elif least == most and least is not None:
        bounds = f"{plain(least)}{unit}"
    elif most is None and least is not None:
        key, number = ("more", over) if over is not None else ("least", least)
        bounds = sentence("said", key, least=f"{plain(number)}{unit}")
    elif least is None and most is not None:
        key, number = ("less", under) if under is not None else ("most", most)
        bounds = sentence("said", key, most=f"{plain(number)}{unit}")
    else:
        bounds = sentence(
            "said", "from_to", least=plain(least or 0.0), most=f"{plain(most or 0.0)}{unit}"
        )
    return sentence("said", "figure", says=field.says if field else wish.field, bounds=bounds)


def _span(kind: Fact, time: InTime) -> str:
    says = next((each.says for each in spans().values() if each.kinds == kind.values), "")
    if not says:
        says = typed_for(facts()["kind"], kind.values)
    return sentence("said", "span", says=says, when=_when(time), sure=_sure(time))


def _sure(time: InTime) -> str:
    return sentence("said", "certainly" if time.certainly else "possibly")


def _when(time: InTime) -> str:
    if time.earliest is None and time.latest is None:
        return sentence("said", "ever")
    first = None if time.earliest is None else _day(time.earliest, 1, 1)
    last = None if time.latest is None else _day(time.latest, 12, 31)
    if first is not None and first == last:
        return sentence("said", "in_year" if "-" not in first[1:] else "on_day", first=first)
    if first is None:
        return sentence("said", "until", last=last)
    if last is None:
        return sentence("said", "since", first=first)
    return sentence("said", "between", first=first, last=last)


def _day(ordinal: int, month: int, of_month: int) -> str:
    day = Day.from_ordinal(ordinal)
    return str(day.year) if (day.month, day.day) == (month, of_month) else day.iso


def _field(key: str) -> FactField:
    return next(
        (each for each in facts().values() if each.key == key), FactField(key, key, key)
    )


def _joined(said: Sequence[str], joined_by: str) -> str:
    if len(said) < 2:
        return "".join(said)
    return sentence("said", joined_by, first=", ".join(said[:-1]), last=said[-1])
