"""What every part of a LIDO record is read with: ids, dates, people, places, notes.

Whoever is named with a number in a public list of names becomes a party of ours, known again wherever
the same number comes from; so does whoever an attribution names, for a record needs somebody to
attribute to. Everybody else stays in the words of the record.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import cache
from uuid import NAMESPACE_URL, uuid5

from catalogue.exchange.lido.source import Ids, Piece, of_address, of_word
from catalogue.linked.addresses import uuid_in
from catalogue.measure import DateSpan, Day, read_date
from catalogue.places import table
from catalogue.reading.tei_pen import Pen
from catalogue.record import Note, Number, Party, PartyName

_DAY = re.compile(r"-?\d{4,}-\d\d-\d\d")
_SCHEME = re.compile(r"https?://(www\.)?")


@dataclass(frozen=True, slots=True)
class Somebody:
    """Who is named: the `name`, the address of their record elsewhere, what is said of their life."""

    name: str
    address: str | None = None
    ours: str | None = None
    kind: str = "person"
    life: str | None = None
    began: DateSpan | None = None
    ended: DateSpan | None = None
    variants: tuple[Piece, ...] = ()


@dataclass(slots=True)
class Taking:
    """One record being read: whether it is `ours`, what it is cited as, the parties that it brings."""

    uuid: str
    ours: bool
    base: str | None
    source: str
    cited: str
    ids: Ids
    kinds: Callable[[str], str | None] = lambda _uuid: None
    parties: dict[str, Party] = field(default_factory=dict)
    remarks: list[str] = field(default_factory=list)

    def id_of(self, piece: Piece | None, *said: str) -> str:
        """The id of a value: the one it left us with, else one made of what it says."""
        if self.ours and piece is not None:
            own = piece.analog()[1]
            if own:
                return own
        return self.ids.of(*said)

    def note(self, piece: Piece, kind: str = "note/description") -> Note | None:
        """The text of a piece as a note, None for none."""
        text = piece.text()
        if not text:
            return None
        own = self.id_of(piece, "note", kind, text)
        return Note(id=own, kind=kind, text=text, language=piece.language)

    def date(self, piece: Piece | None) -> DateSpan | None:
        """The span of a set of a date: as its words read, unless its days say otherwise."""
        if piece is None:
            return None
        words = piece.told("displayDate")
        first, last = piece.told("date", "earliestDate"), piece.told("date", "latestDate")
        found = span_of(words, first, last)
        for each, text in (("earliestDate", first), ("latestDate", last)):
            if text and (found is None or _bound(text) is None):
                piece.unread("date", each)
        if found is None:
            piece.unread("displayDate")
        return found

    def date_in(self, text: str) -> DateSpan | None:
        """The span that words mean by themselves."""
        return span_of(text, "", "")

    def somebody(self, actor: Piece) -> Somebody | None:
        """Whoever an actor element names, None where it names nobody."""
        names = [
            value
            for value in actor.each("nameActorSet", "appellationValue")
            if (value.element.text or "").strip()
        ]
        if not names:
            return None
        shown = next(
            (each for each in names if each.attribute("pref") in _preferred()), names[0]
        )
        # what is no address stays unread, and is told
        addresses = [
            each.text() for each in actor.each("actorID") if ":" in (each.element.text or "")
        ]
        ours = next((uuid for each in addresses if (uuid := uuid_in(each, self.base))), None)
        vital = actor.one("vitalDatesActor")
        first = vital.told("earliestDate") if vital else ""
        last = vital.told("latestDate") if vital else ""
        began = span_of("", first, first) if first else None
        ended = span_of("", last, last) if last else None
        for vital_date, read in (("earliestDate", began), ("latestDate", ended)):
            if vital and read is None:
                vital.unread(vital_date)
        group = actor.attribute("type").casefold() in ("group", "corporation", "family")
        return Somebody(
            name=shown.text(),
            variants=tuple(each for each in names if each is not shown),
            address=next(filter(None, addresses), None),
            ours=ours,
            kind="group" if group else "person",
            life="-".join(each[:4] for each in (first, last) if each) or None,
            began=began,
            ended=ended,
        )

    def party(self, who: Somebody, *, needed: bool = False) -> str | None:
        """The id of a party for somebody: of ours, of a public list, or made where one is `needed`."""
        if who.ours and self.ours:
            if who.ours not in self.parties and self.kinds(who.ours) is None:
                # only the name came along: better than nobody
                own = Ids(who.ours).of("name", who.name)
                name = PartyName(id=own, text=who.name)
                self.parties[who.ours] = Party(id=who.ours, kind=who.kind, names=(name,))
            return f"party/{who.ours}"
        number = number_at(who.address) if who.address else None
        if number is None and not needed:
            return None
        told = who.address if number else f"{self.source}\x1f{who.name.casefold()}"
        uuid = str(uuid5(NAMESPACE_URL, f"lido-actor\x1f{told}"))
        if uuid not in self.parties:
            ids = Ids(uuid)
            self.parties[uuid] = Party(
                id=uuid,
                kind=who.kind,
                names=_names(ids, who),
                began=who.began,
                ended=who.ended,
                numbers=(Number(id=ids.of("number"), kind=number[0], text=number[1]),)
                if number
                else (),
            )
        for each in who.variants:
            # they are names of the party, whichever record made it
            each.text()
        return f"party/{uuid}"

    def role(self, in_role: Piece, otherwise: str) -> str:
        """In what capacity somebody acted, by the first role that we have a term for."""
        for each in in_role.each("roleActor"):
            if key := each.concept("capacity"):
                return key
        return otherwise


def _names(ids: Ids, who: Somebody) -> tuple[PartyName, ...]:
    """All that somebody is called, the name to show first."""
    others = dict.fromkeys(each.text() for each in who.variants)
    others.pop(who.name, None)
    first = PartyName(id=ids.of("name", who.name), text=who.name, preferred=bool(others))
    return (first, *(PartyName(id=ids.of("name", each), text=each) for each in others))


@cache
def _preferred() -> tuple[str, ...]:
    return tuple(table("lido.toml")["terminology"]["preferred"])


def markup_of(text: str) -> str:
    r"""A text that somebody else transcribed, as markup in which every sign is a letter.

    >>> markup_of("Lot [12]\n2 + 3")
    'Lot \\[12\\]\n2 + 3'
    """
    pen = Pen()
    for number, line in enumerate(text.strip().splitlines()):
        if number:
            pen.line(block=False, runs_on=False)
        pen.letters(line)
    return pen.markup


def span_of(words: str, first: str, last: str) -> DateSpan | None:
    """A date by its words and its first and last day (or year), None where neither can be read.

    >>> span_of("um 1880", "", "").edtf
    '1880~'
    >>> span_of("spring of that year", "1880", "1882").earliest.iso
    '1880-01-01'
    """
    read = read_date(words) if words else None
    begins, ends = _bound(first), _bound(last)
    earliest = begins.earliest if begins else None
    latest = ends.latest if ends else None
    if earliest is None and latest is None:
        return read
    if earliest and latest and latest < earliest:
        return read
    if read and (read.earliest, read.latest) == (earliest, latest):
        return read
    if not words and begins and ends and (begins.edtf == ends.edtf):
        return begins
    edtf = f"{begins.edtf if begins else '..'}/{ends.edtf if ends else '..'}"
    return DateSpan(
        written=words or edtf, edtf=edtf, earliest=earliest, latest=latest, rule="as the record says"
    )  # fmt: skip


def day_of(text: str) -> Day | None:
    """The first day (ISO) that stands in a text."""
    found = _DAY.search(text)
    try:
        return Day.from_iso(found[0]) if found else None
    except ValueError:
        return None


def _bound(said: str) -> DateSpan | None:
    """A year, month or day; anything longer counts by its date alone ("1882-01-01T00:00:00")."""
    return read_date(said.partition("T")[0]) if said else None


@cache
def number_at(address: str) -> tuple[str, str] | None:
    """The kind and the number that an address stands for in a public list of names.

    >>> number_at("https://www.wikidata.org/entity/Q12")
    ('number/wikidata', 'Q12')
    >>> number_at("17")
    """
    bare = _SCHEME.sub("", address)
    if bare == address:
        return None
    for row in table("authorities.toml")["list"]:
        before, mark, _ = row["address"].partition("{0}")
        start = _SCHEME.sub("", before)
        if mark and start and bare.startswith(start):
            number = bare.removeprefix(start)
            if re.fullmatch(row["form"], number, re.ASCII):
                return row["kind"], number
    return "number/authority", address


def term_of(said: str, group: str) -> str | None:
    """The key of a term that an attribute names, by address or by word."""
    return of_address(said, group) or of_word(said, group)
