"""One entry of a chain as one block of prose: who, in which brackets, where, how, when, which number."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

from catalogue.argument.dating_words import named_in
from catalogue.argument.dating_words import table as places_known
from catalogue.argument.prose.dates_said import say_begin, say_both, say_until, say_when
from catalogue.argument.prose.entries import Entry, EntryParty
from catalogue.argument.prose.wording import Brackets, Form, is_unknown, leads, small, words
from catalogue.measure import Day

LONGEST_LIFE = 110
"""Years after a birth in which somebody of whose death nothing is known may be alive."""

_BORN_ONLY = re.compile(r"(?:b\.|born)\s*(?:c\. )?(\d{4})|(\d{4})\s*[-\N{EN DASH}]")


@dataclass(frozen=True, slots=True)
class Style:
    """How a chain is written: in which brackets, for whom, on which day."""

    brackets: Brackets
    form: Form
    today: Day

    def hides(self, party: EntryParty) -> bool:
        """Whether a name stays in the house."""
        return party.withheld and self.form == "public"

    def life_of(self, party: EntryParty) -> str:
        """Life dates in their brackets; none in public of somebody who may be alive."""
        if not party.life or (self.form == "public" and may_be_alive(party.life, self.today)):
            return ""
        opened, closed = words("brackets")[self.brackets]["person"]
        return f" {opened}{party.life}{closed}"

    def in_trade(self, inside: str) -> str:
        """Something about a dealer, auctioneer or agent in their brackets."""
        opened, closed = words("brackets")[self.brackets]["trade"]
        return f"{opened}{inside}{closed}"


def may_be_alive(life: str, today: Day) -> bool:
    """Whether life dates give a birth and no death, and the birth is not too long ago.

    >>> today = Day(2026, 3, 2)
    >>> [may_be_alive(each, today) for each in ("b. 1948", "1948-", "1889-1961", "b. 1860", "d. 1956")]
    [True, True, False, False, False]
    """
    born = _BORN_ONLY.fullmatch(life.strip())
    return born is not None and today.year - int(born[1] or born[2]) <= LONGEST_LIFE


def block(entry: Entry, style: Style, before: Entry | None = None) -> str:
    """An entry in words, small at the beginning; `before` is the one from which it came directly.

    >>> today = Style("life", "public", Day(2026, 3, 2))
    >>> nephew = EntryParty(name="Paul Verlinden", role="capacity/heir", life="1920-2004",
    ...                     place="Ghent", relation="her nephew")
    >>> block(Entry(kind="provenance/inheritance", parties=(nephew,)), today)
    'by inheritance to her nephew, Paul Verlinden [1920-2004], Ghent'
    """
    doubt = words("certainty").get(entry.certainty, "")
    said = _said(entry, style, before)
    return f"{doubt} {said}" if doubt else said


def is_trade(entry: Entry) -> bool:
    """Whether an entry is about somebody who traded in it, or about a sale."""
    main = main_party(entry)
    if main is None:
        return entry.kind in words("sales")["kinds"] and not entry.phrase
    return main.role in words("roles")["trade"]


def main_party(entry: Entry) -> EntryParty | None:
    """The one party that a block is about: the first that did not merely let it go."""
    came_from = words("roles")["from"]
    to = [each for each in entry.parties if each.role not in came_from]
    return next(iter((*to, *entry.parties)), None)


def _said(entry: Entry, style: Style, before: Entry | None) -> str:
    main = main_party(entry)
    if main is None:
        return _nobody(entry, style)
    if style.hides(main):
        entry = replace(entry, place=country_of(entry.place))
    rest = "".join(f", {each}" for each in _beside(entry, main, style))
    lead, behind = _phrases(entry, main, before)
    if main.role in words("roles")["trade"]:
        return _traded(entry, main, style, lead, behind) + rest
    name = _name(main, style, after_lead=bool(lead))
    relation = f"{main.relation}, " if main.relation and not style.hides(main) else ""
    dates = _dated(entry, behind, lead or behind)
    details = (_place(main, entry, style), *dates, *_numbers(entry, style))
    head = f"{lead} {relation}{name}" if lead else f"{relation}{name}"
    return _listed((head + style.life_of(main) * (not style.hides(main)), *details)) + rest


def _nobody(entry: Entry, style: Style) -> str:
    told = words("phrases")
    details = (entry.place or "", *_dated(entry, ""), *_numbers(entry, style))
    row = words("kinds").get(entry.kind, {})
    if is_trade(entry):
        return style.in_trade(_listed((row["inside"], *details)))
    phrase = entry.phrase if entry.phrase is not None else row.get("lead", "")
    if not phrase:
        nobody = told["artist"] if entry.kind == "provenance/creation" else told["nobody"]
        return _listed((nobody, *details))
    if leads(phrase):
        # "confiscated by" nobody known is "confiscated"
        phrase = (
            phrase.rpartition(" ")[0]
            if phrase.endswith(" by")
            else f"{phrase} {told['a_nobody']}"
        )
    return _listed((phrase, *details))


def _phrases(entry: Entry, main: EntryParty, before: Entry | None) -> tuple[str, str]:
    """What stands before the name and what behind it."""
    phrase = entry.phrase
    if phrase is not None and not _is_of_the_giver(phrase, main):
        phrase = _without_the_name(phrase, main.name)
        return (phrase, "") if leads(phrase) else ("", phrase)
    row: dict[str, Any] = words("kinds").get(entry.kind, {})
    if main.role in words("roles")["from"] or main.role == "capacity/artist":
        return "", ""
    lead, behind = str(row.get("lead", "")), str(row.get("behind", ""))
    straight = before is not None and not is_trade(before)
    return (lead, "") if lead and (straight or not behind) else ("", behind)


def _is_of_the_giver(phrase: str, main: EntryParty) -> bool:
    """Whether a phrase is about whoever let it go, although the block is about whoever received it."""
    said = phrase.casefold().strip()
    giving = any(said.endswith(each) for each in words("phrases")["of_the_giver"])
    return giving and main.role not in words("roles")["from"]


def _without_the_name(phrase: str, name: str) -> str:
    """A phrase that holds the name already, without it: "taken by the city council"."""
    said = phrase.removesuffix(name).rstrip()
    return said if said and leads(said) else phrase


def _traded(entry: Entry, main: EntryParty, style: Style, lead: str, behind: str) -> str:
    told, roles = words("phrases"), words("roles")
    numbers, dated = tuple(_numbers(entry, style)), _dated(entry, behind, lead or behind)
    place, name = _place(main, entry, style), _name(main, style) + style.life_of(main)
    if main.role not in roles["inside"]:
        # a stock number stands before the date, everything else behind it
        stock = told["stock"].format(number=entry.stock_number) if entry.stock_number else ""
        rest = (each for each in numbers if each != stock)
        said = style.in_trade(_listed((name, place, stock, *dated, *rest)))
        return f"{lead} {said}" if lead else said
    role = told["agent"] if main.role == "capacity/agent" else ""
    row = words("kinds").get(entry.kind, {})
    # "bought in" stands at the end of such a block, where it is said anyway
    phrase = None if entry.phrase == told["bought_in"] else entry.phrase
    first = phrase or (roles["agent"] if role else row.get("inside", ""))
    head = f"{first} {name}" if first and leads(first) else _listed((first, name))
    return style.in_trade(_listed((head, place, role, *_dated(entry, "", first), *numbers)))


def _dated(entry: Entry, behind: str, worded: str = "") -> tuple[str, ...]:
    """When it came and how long it stayed, after the word for how: "purchased 1963".

    Only years without such a word are those of a holding, "1914-1938": nothing is bought for years.
    """
    since = say_when(entry.when) if entry.when else ""
    until = say_until(entry.until) if entry.until else ""
    both = say_both(entry.when, entry.until) if entry.when and entry.until else ""
    if both and not worded:
        since, until = both, ""
    elif entry.when and (until or worded):
        since = say_begin(entry.when)
    if since.startswith(words("dates")["from"].format(date="")) and until:
        since, until = f"{since} {until}", ""
    # "purchased by 1937" would read as if 1937 had bought it
    runs_on = since and not leads(since.split()[0])
    if behind and runs_on and " " not in behind:
        return f"{behind} {since}", until
    return behind, since, until


def _numbers(entry: Entry, style: Style) -> Iterator[str]:
    """Lot, stock number, price, and that nobody bought it. Prices paid are never told in public."""
    told = words("phrases")
    for held, said in ((entry.lot, told["lot"]), (entry.stock_number, told["stock"])):
        if held:
            yield (
                held
                if held.casefold().startswith(said.split()[0])
                else said.format(lot=held, number=held)
            )
    if entry.price and style.form == "internal":
        framed = entry.price.startswith(told["price"].format(price=""))
        yield entry.price if framed else told["price"].format(price=entry.price)
    if entry.kind in words("sales")["unsold"]:
        yield told["bought_in"]


def _beside(entry: Entry, main: EntryParty, style: Style) -> Iterator[str]:
    """The other parties of an entry, where it holds several."""
    told, roles = words("phrases"), words("roles")
    for each in entry.parties:
        if each is main:
            continue
        which = "beside_from" if each.role in roles["from"] else "beside_to"
        which = "beside_agent" if each.role in roles["inside"] else which
        name = _name(each, style, after_lead=True) + style.life_of(each)
        where = country_of(each.place) if style.hides(each) else each.place
        said = _listed((name, where or ""))
        said = style.in_trade(said) if each.role in roles["trade"] else said
        yield told[which].format(name=said)


def _name(party: EntryParty, style: Style, *, after_lead: bool = False) -> str:
    told = words("phrases")
    if style.hides(party):
        if party.role in told["private_trade"]:
            return str(told["private_trade"][party.role])
        return str(told["a_private" if after_lead else "private"])
    if is_unknown(party.name) or party.name == told["nobody"]:
        return str(told["a_nobody" if after_lead else "nobody"])
    return small(party.name)


def _place(party: EntryParty, entry: Entry, style: Style) -> str:
    """Where the party was, and where the event was if elsewhere; of a hidden one the country alone."""
    if style.hides(party):
        return country_of(party.place) or entry.place or ""
    own, at = party.place or "", entry.place or ""
    # "Ghent, Vlaswegstraat 41, Ghent" says the town twice
    named = (at,) if at.endswith(own) else (own, at)
    return _listed(each for each in named if not party.name.endswith(each))


def country_of(place: str | None) -> str | None:
    """The one country that a place is in, None where that is not plain.

    >>> country_of("Lyon"), country_of("Garrowmouth")
    ('France', None)
    """
    found = named_in(place) if place else frozenset()
    return str(places_known()["regions"][next(iter(found))][0]) if len(found) == 1 else None


def _listed(parts: Any) -> str:
    return ", ".join(each for each in parts if each)
