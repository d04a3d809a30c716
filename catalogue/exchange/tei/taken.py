"""What a TEI document tells of a painting and of one inscription on it, as values of a record.

A text that we sent out ourselves comes back as what it was: kind, side, techniques, regions, states. Of
anybody's else the trade's words are taken where they are known, and everything in words is a note.
"""

from __future__ import annotations

import base64
import binascii
import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import PurePosixPath
from uuid import UUID, uuid5

from catalogue.errors import BadData
from catalogue.exchange.tei.source import TeiSource, language_of, paragraphs, words, words_of
from catalogue.exchange.xml import Element
from catalogue.measure import Day
from catalogue.reading import GAP, read
from catalogue.reading.tei_words import table
from catalogue.record import Inscription, Note, Part, Photo, Region, Sighting, Transcript
from catalogue.terms import labelled, of_iri

_DESCRIBED = "teiHeader/fileDesc/sourceDesc/msDesc"
_SUPPORT = f"{_DESCRIBED}/physDesc/objectDesc/supportDesc/support"
_NI = re.compile(r"ni:///sha-256;([A-Za-z0-9_-]{43})")
_PIXELS = re.compile(r"([0-9]{1,7})(?:\.0*)?(?:px)?")
_SPECIAL = re.compile(r"[a-z][a-z0-9+.-]*:", re.IGNORECASE)
_WHERE = "face/other"
_WHAT = "inscription/inscription"


@dataclass(slots=True)
class Taken:
    """The inscription of a document, and what of the painting it needs; `told` could not be kept."""

    inscription: Inscription
    parts: tuple[Part, ...] = ()
    photos: tuple[Photo, ...] = ()
    told: list[str] = field(default_factory=list)


def taken(source: TeiSource, own: str, work: str, *, ours: bool, number: str | None) -> Taken:
    """The inscription with the id `own` on the painting with the id `work`."""
    return _Taking(source, own, work, ours).all(number)


class _Taking:
    def __init__(self, source: TeiSource, own: str, work: str, ours: bool) -> None:
        self.source, self.own, self.work, self.ours = source, own, work, ours
        self.told: list[str] = []
        self.notes: list[Note] = []

    def all(self, number: str | None) -> Taken:
        source = self.source
        face, part = self._borne()
        techniques, hand = self._hands()
        transcripts = self._transcripts()
        sightings = tuple(self._sightings())
        photos = self._photos()
        regions = tuple(self._regions(photos))
        self._dated()
        self._noted("place", source.texts(f"{_DESCRIBED}/history/origin/origPlace"))
        self._noted(
            "kept_by",
            [
                ", ".join(said)
                for said in [
                    [
                        words
                        for name in ("repository", "collection", "settlement", "country")
                        for words in source.texts(f"{_DESCRIBED}/msIdentifier/{name}")
                    ]
                ]
                if said
            ],
        )
        for path in ("publisher", "authority", "availability"):
            self._noted("rights", source.texts(f"teiHeader/fileDesc/publicationStmt/{path}"))
        turned = self._layout()
        self._divisions()
        inscription = Inscription(
            id=self.own,
            number=number,
            kind=self._kind(),
            face=face,
            part=part.id if part else None,
            techniques=techniques,
            languages=self._languages(),
            hand=hand,
            orientation=turned,
            regions=regions,
            transcripts=transcripts,
            sightings=sightings,
            notes=tuple(self.notes),
        )
        shown = {region.photo for region in regions}
        return Taken(
            inscription,
            (part,) if part else (),
            tuple(photo for photo in photos.values() if photo.id in shown),
            self.told,
        )

    def _id(self, *said: str) -> str:
        return str(uuid5(UUID(self.own), "\x1f".join(said)))

    def _of_work(self, *said: str) -> str:
        return str(uuid5(UUID(self.work), "\x1f".join(said)))

    # --- what it is and what bears it

    def _kind(self) -> str:
        places = (f"{_SUPPORT}//objectType", "teiHeader/profileDesc/textClass/keywords//term")
        said = [element for path in places for element in self.source.each(path)]
        for element in said:
            found = of_iri(element.get("ref") or "", "inscription")
            if found or (found := labelled(words_of(element), "inscription")):
                return found.key
        self._noted("support", [words_of(element) for element in said])
        return _WHAT

    def _borne(self) -> tuple[str, Part | None]:
        """The side and the part that bear it; words that say neither are a note."""
        face, part = "", None
        for support in self.source.each(_SUPPORT):
            said = words_of(support)
            kinds = {words_of(each) for each in support.iter("{*}objectType")}
            rest = [each for each in map(str.strip, said.split(",")) if each not in kinds]
            left = []
            for word in rest:
                if not face and (found := labelled(word, "face")):
                    face = found.key
                elif self.ours and not part and (found := labelled(word, "part")):
                    part = Part(id=self._of_work("part", found.key), kind=found.key)
                else:
                    left.append(word)
            if any(left):
                self._note("support", said)
        return face or _WHERE, part

    def _hands(self) -> tuple[tuple[str, ...], str | None]:
        """The techniques, and in whose hand; the hands themselves stand in the markup."""
        description = f"{_DESCRIBED}/physDesc/handDesc"
        noted = self.source.texts(f"{description}/handNote")
        summary = self.source.texts(f"{description}/summary")
        if not self.ours:
            self._noted("hands", summary)
            self._noted("hands", noted)
            return (), None
        techniques, hands = [], []
        for said in summary or noted:
            for word in map(str.strip, said.split(",")):
                found = labelled(word, "technique")
                if found:
                    techniques.append(found.key)
                elif summary or not _hand_used(word):
                    hands.append(_unfilled("hand", "writer", word))
        return tuple(dict.fromkeys(techniques)), ", ".join(hands) or None

    def _languages(self) -> tuple[str, ...]:
        said = [
            each.get("ident")
            for each in self.source.each("teiHeader/profileDesc/langUsage/language")
        ]
        said += [text.language for text in self.source.text.texts]
        found = [each for each in said if each]
        for each in found:
            if not _is_language(each):
                self.told.append(words("language", words=each))
        # a header lists every language that an editor uses; the text says which is its own
        own = [text.language for text in self.source.text.texts if text.language]
        wanted = found if self.ours or not own else own
        return tuple(dict.fromkeys(each for each in wanted if _is_language(each)))

    def _layout(self) -> int:
        degrees = 0
        for said in self.source.texts(f"{_DESCRIBED}/physDesc/objectDesc/layoutDesc/layout"):
            turned = re.search(table("document")["turned"].format(n="([0-9]{1,3})"), said)
            if turned:
                degrees = int(turned[1]) % 360
            elif not self.ours:
                self._note("layout", said)
        return degrees

    # --- its readings and states

    def _transcripts(self) -> tuple[Transcript, ...]:
        markup = self.source.text.markup
        readers = list(self._readers())
        day, light, said = self._read_on()
        if not markup.strip():
            self.notes += [*readers, *said]
            return ()
        notes = (*readers, *said)
        own = self._id("transcript", markup)
        return (Transcript(id=own, markup=markup, on=day, light=light, notes=notes),)

    def _readers(self) -> Iterator[Note]:
        """Whoever is named for the edition, in words: a name alone makes no person on file."""
        title = "teiHeader/fileDesc/titleStmt"
        for name in ("author", "editor", "principal", "respStmt"):
            for element in self.source.each(f"{title}/{name}"):
                role = next((words_of(e) for e in element.iter("{*}resp")), name)
                who = [
                    words_of(e) for e in element.iter("{*}name", "{*}persName", "{*}orgName")
                ]
                said = ", ".join(filter(None, who)) or words_of(element)
                if said:
                    text = table("begins")["reader"].format(role=role, words=said)
                    yield self._made("reader", text)

    def _read_on(self) -> tuple[Day | None, str | None, list[Note]]:
        """When and under which light it was read, and what else was done to the file."""
        day, light, notes = None, None, []
        for change in self.source.each("teiHeader/revisionDesc/change"):
            said, when = words_of(change), _day(change.get("when"))
            under = _unfilled("document", "read_under", said)
            seen = labelled(under, "light") if under != said else None
            if self.ours and when and (seen or said == table("document")["read"]):
                day, light = when, seen.key if seen else None
            elif said:
                text = f"{change.get('when')}: {said}" if change.get("when") else said
                notes.append(self._made("read", text))
        return day, light, notes

    def _sightings(self) -> Iterator[Sighting]:
        condition = f"{_DESCRIBED}/physDesc/objectDesc/supportDesc/condition"
        seen: list[str] = []
        for place, element in enumerate(self.source.each(f"{_DESCRIBED}/history/provenance")):
            said = words_of(element)
            state, _, covered = said.partition(": ")
            found = labelled(state, "state")
            if self.ours and found:
                seen.append(said)
                yield Sighting(
                    id=self._id("sighting", str(place), said),
                    state=found.key,
                    on=_day(element.get("when")),
                    covered_by=covered or None,
                )
            elif said:
                role = " ".join(filter(None, (element.get("type"), element.get("when"))))
                text = (
                    table("begins")["history"].format(role=role, words=said) if role else said
                )
                self.notes.append(self._made("history", text))
        self._noted("condition", [s for s in self.source.texts(condition) if s not in seen])

    # --- where it stands on pictures

    def _photos(self) -> dict[str, Photo]:
        """The pictures of a file by their address, those that can be known again."""
        found: dict[str, Photo] = {}
        for surface in self.source.each("facsimile/surface"):
            for graphic in surface.iter("{*}graphic"):
                url = graphic.get("url") or ""
                photo = self._photo(url, surface, graphic)
                if photo:
                    found.setdefault(url, photo)
                else:
                    self.told.append(words("picture", url=url))
        for graphic in self.source.each("facsimile/graphic"):
            self.told.append(words("picture", url=graphic.get("url") or ""))
        return found

    def _photo(self, url: str, surface: Element, graphic: Element) -> Photo | None:
        digest = _digest(url)
        name = None if digest or _SPECIAL.match(url) else PurePosixPath(url).name or None
        if not digest and not name:
            return None
        number = surface.get("n") or ""
        return Photo(
            id=self._of_work("photo", url),
            number=number if self.ours and re.fullmatch(r"P[1-9][0-9]*", number) else None,
            sha256=digest,
            file_name=name,
            width=_pixels(graphic.get("width") or surface.get("lrx")),
            height=_pixels(graphic.get("height") or surface.get("lry")),
        )

    def _regions(self, photos: dict[str, Photo]) -> Iterator[Region]:
        zones = [zone for text in self.source.text.texts for zone in text.zones]
        for place, zone in enumerate(zones):
            photo = photos.get(zone.picture)
            if photo is None:
                continue
            try:
                yield Region(
                    id=self._id("region", str(place)), photo=photo.id, corners=zone.corners
                )
            except BadData:
                self.told.append(words("region", url=zone.picture))

    # --- what is said about it

    def _dated(self) -> None:
        for element in self.source.each(f"{_DESCRIBED}/history/origin/origDate"):
            bounds = [
                element.get(f"{bound}{ending}")
                for bound in ("notBefore", "notAfter", "when")
                for ending in ("", "-custom")
            ]
            span = " to ".join(filter(None, bounds))
            said = words_of(element)
            self._note("date", f"{said} ({span})" if said and span else said or span)

    def _divisions(self) -> None:
        for kind, division in self.source.divisions():
            key = kind if kind in table("kept_as") else "division"
            for place, said in enumerate(paragraphs(division)):
                language = language_of(division) if key == "translation" else None
                own = self._id("note", key, str(place), said)
                self.notes.append(
                    Note(id=own, kind=_kept_as(key, self.ours), text=said, language=language)
                )

    def _noted(self, key: str, texts: list[str]) -> None:
        for said in texts:
            self._note(key, said)

    def _note(self, key: str, said: str) -> None:
        if said:
            begins = table("begins").get(key, "{words}")
            note = self._made(key, begins.format(words=said))
            if note not in self.notes:
                self.notes.append(note)

    def _made(self, key: str, text: str) -> Note:
        return Note(id=self._id("note", key, text), kind=table("kept_as")[key], text=text)


def _kept_as(key: str, ours: bool) -> str:
    """Remarks on a text of ours are notes as they were; their own kind did not leave with them."""
    return "note/description" if ours and key == "commentary" else table("kept_as")[key]


def _unfilled(section: str, key: str, said: str) -> str:
    """What a text of ours says in the place of `{...}`; the text itself where it is none."""
    before, _, rest = table(section)[key].partition("{")
    after = rest.partition("}")[2]
    if (
        said.startswith(before)
        and said.endswith(after)
        and len(said) > len(before) + len(after)
    ):
        return said[len(before) : len(said) - len(after)]
    return said


def _hand_used(word: str) -> bool:
    """Whether a hand note says no more than the markup does with its signs of hands."""
    return word in table("hand").values() or bool(re.fullmatch(r"\S+ [0-9]", word))


def _is_language(tag: str) -> bool:
    return bool(re.fullmatch(r"[a-z]{2,3}(-[A-Za-z0-9]{2,8})*", tag))


def _day(said: str | None) -> Day | None:
    try:
        return Day.from_iso(said or "")
    except ValueError:
        return None


def _digest(url: str) -> str | None:
    found = _NI.fullmatch(url)
    if not found:
        return None
    try:
        return base64.urlsafe_b64decode(f"{found[1]}=").hex()
    except binascii.Error:
        return None


def _pixels(said: str | None) -> int | None:
    found = _PIXELS.fullmatch(said or "")
    return int(found[1]) if found and 0 < int(found[1]) <= 1_000_000 else None


_WITHHELD = re.compile(r'<gap [^>]*agent="[^"]*withheld"/>')


def reads_alike(told: str, held: str) -> bool:
    """Whether a reading that comes says no more than one on file.

    Several spaces are one, as in XML. Where letters were withheld when it left, the others must be
    there in their order.

    >>> reads_alike("Price: [--- :price withheld] net", "Price:  22 gns. net")
    True
    >>> reads_alike("Price: [---] net", "Price: 22 gns. net")
    False
    """
    first, second = read(told), read(held)
    encoded = first.tei()
    if not _WITHHELD.search(encoded):
        return _spaced(encoded) == _spaced(second.tei())
    pieces = map(_letters, first.seen().split(GAP))
    return re.fullmatch(".*".join(pieces), _letters(second.seen())) is not None


def _spaced(encoded: str) -> str:
    return re.sub(" +", " ", encoded).strip()


def _letters(text: str) -> str:
    return "".join(letter for letter in text if letter.isalnum())
