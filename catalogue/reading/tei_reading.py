"""`read_tei`: from a TEI file, of ours or of somebody else's, back to our markup.

What our markup cannot say is told in `remarks`, with its line in the file and what became of it:
nothing is dropped in silence.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from catalogue.errors import MarkupError
from catalogue.reading.nodes import Break, Technique, walk
from catalogue.reading.reading import MOST_BYTES, Reading, read
from catalogue.reading.scan import HANDS
from catalogue.reading.tei_document import Corner
from catalogue.reading.tei_markup import Remarks, TeiRemark, Transcriber, hand_medium
from catalogue.reading.tei_source import Element, parsed
from catalogue.reading.tei_words import table
from catalogue.reading.voices import joined_lines

_OURS: Final = re.compile(rf"({'|'.join(HANDS.values())})([0-9]?)(?:\.[0-9]+)?")
_LETTERS: Final = {technique: letter for letter, technique in HANDS.items()}
_FIGURE: Final = re.compile(r"[^0-9]*([1-9])")
_NUMBER: Final = r"-?[0-9]{1,7}(?:\.[0-9]{1,7})?"
_POINT: Final = re.compile(rf"({_NUMBER}),({_NUMBER})")
# what an editor supplied, or says about the text: no ink of the object
_NOT_INK: Final = frozenset({
    "ex", "supplied", "corr", "reg", "note", "figDesc", "figure", "desc", "head", "rdg", "certainty",
    "#comment", "#instruction",
})  # fmt: skip
_HOLDERS: Final = frozenset({"text", "body", "div", "ab", "p", "lg"})
_OUTSIDE: Final = ("front", "back", "standOff", "sourceDoc")


@dataclass(frozen=True, slots=True)
class TeiZone:
    """Where a text stands: the address of a picture, and corners in its pixels, clockwise."""

    picture: str
    corners: tuple[Corner, ...]


@dataclass(frozen=True, slots=True)
class TeiText:
    """One edition of a file: its number there, its language, its markup and where it stands."""

    number: str
    language: str | None
    markup: str
    zones: tuple[TeiZone, ...]

    @property
    def reading(self) -> Reading:
        """The markup as read."""
        return read(self.markup)


@dataclass(frozen=True, slots=True)
class TeiReading:
    """What a TEI file says of a label, and what of it our markup could not keep as it was."""

    texts: tuple[TeiText, ...]
    remarks: tuple[TeiRemark, ...]

    @property
    def markup(self) -> str:
        """The markup of all its editions, each a block."""
        return "||".join(text.markup for text in self.texts)

    @property
    def reading(self) -> Reading:
        """All its editions as read."""
        return read(self.markup)


def read_tei(xml: str | bytes) -> TeiReading:
    """The labels of a TEI file or fragment, in our markup.

    Raises `BadDocument` with the line for what is no XML, defines entities or is over 1 MB, and
    `MarkupError` where the markup of a text would be over 1 MB.

    >>> found = read_tei('<expan>Gal<ex>erie</ex></expan> Ho<gap reason="lost" quantity="3" '
    ...                  'unit="character"/>nn, <persName>A. Brandt</persName>')
    >>> found.markup
    'Gal(erie) Ho[...]nn, A. Brandt'
    >>> [(remark.element, remark.line, remark.became) for remark in found.remarks]
    [('persName', 1, 'its text was kept, the element was not')]
    """
    root = parsed(xml)
    remarks = Remarks()
    hands = _hands(root)
    zones = dict(_zones(root))
    for header in _and_inside(root, "teiHeader"):
        remarks.add(header, "header")
    texts = [_text(edition, hands, zones, remarks) for edition in _editions(root, remarks)]
    return TeiReading(tuple(texts), remarks.in_order())


def _text(
    edition: Element, hands: dict[str, str], zones: dict[str, TeiZone], remarks: Remarks
) -> TeiText:
    blocks = [edition, *edition.every("div", "ab", "p")]
    facs = [key for block in blocks for key in block.attributes.get("facs", "").split()]
    used = [shift.attributes.get("new", "") for shift in edition.every("handShift")]
    transcriber = Transcriber(_distinct(hands, used), remarks)
    markup = transcriber.text(edition)
    size = len(markup.encode())
    if size > MOST_BYTES:
        raise MarkupError(f"the markup of this text would have {size:,} bytes")
    _compared(edition, transcriber, markup, remarks)
    language = next(
        (b.attributes["xml:lang"] for b in blocks if "xml:lang" in b.attributes), None
    )
    places = (zones.get(key.removeprefix("#")) for key in dict.fromkeys(facs))
    number = edition.attributes.get("n", "")
    return TeiText(number, language, markup, tuple(place for place in places if place))


def _compared(
    edition: Element, transcriber: Transcriber, markup: str, remarks: Remarks
) -> None:
    """Look at what was written once more, and say where it is not read as the file has it."""
    reading = read(markup)
    joined = joined_lines(reading.tree)
    ends = [node.start in joined for node in walk(reading.tree) if isinstance(node, Break)]
    if len(ends) == len(transcriber.breaks):
        for (element, wanted), found in zip(transcriber.breaks, ends, strict=True):
            if wanted != found:
                remarks.add(element, "line_joined" if found else "line_parted")
    for fault in reading.faults:
        remarks.add(edition, "fault", fault.sign)
    if _letters("".join(_ink(edition))) != _letters(reading.seen()):
        remarks.add(edition, "ink")


def _letters(text: str) -> str:
    """The bare letters and figures, since accents may be typed in another order."""
    apart = unicodedata.normalize("NFD", text)
    return "".join(letter for letter in apart if letter.isalnum())


def _ink(element: Element) -> Iterator[str]:
    """The letters that stand on the object by what a file says."""
    for child in _that_stand(element):
        if isinstance(child, str):
            yield child
        elif child.name not in _NOT_INK:
            yield from _ink(child)


def _that_stand(element: Element) -> list[Element | str]:
    """What of an element stands on the object, where it offers several possibilities."""
    if element.name not in ("choice", "app"):
        return element.children
    found = [child for child in element.elements() if child.name[0] != "#"]
    for name in ("sic", "orig", "abbr", "lem"):
        for child in found:
            if child.name == name:
                return [child]
    return list(found[:1]) if element.name == "choice" else []


# --- which parts are editions


def _and_inside(root: Element, *names: str) -> Iterator[Element]:
    if root.name in names:
        yield root
    else:
        yield from root.every(*names)


def _editions(root: Element, remarks: Remarks) -> list[Element]:
    """The divisions that are editions; all of the text in a file that marks none as such."""
    found: list[Element] = []
    for text in _texts(root):
        for part in text.elements(*_OUTSIDE):
            remarks.add(part, "not_edition")
        body = next(text.elements("body"), text)
        marked = list(_marked(body))
        if marked:
            _rest(body, marked, remarks)
            found += marked
        else:
            if body.name in ("body", "text"):
                remarks.add(body, "no_edition")
            found.append(body)
    return found


def _texts(root: Element) -> list[Element]:
    if root.name in ("TEI", "teiCorpus"):
        return list(root.every("text"))
    return [root if root.name in _HOLDERS else Element("ab", root.line, {}, [root])]


def _marked(body: Element) -> Iterator[Element]:
    if body.name == "div" and body.attributes.get("type") == "edition":
        yield body
        return
    for child in body.elements():
        yield from _marked(child)


def _rest(body: Element, editions: list[Element], remarks: Remarks) -> None:
    """Tell of what lies beside the editions."""
    for child in body.elements():
        if any(child is edition for edition in editions):
            continue
        if any(edition is inner for inner in child.every("div") for edition in editions):
            _rest(child, editions, remarks)
        else:
            remarks.add(child, "comment" if child.name[0] == "#" else "not_edition")


# --- hands and zones


def _hands(root: Element) -> dict[str, str]:
    """Our hand sign for each `handNote`, by its `xml:id`."""
    found: dict[str, str] = {}
    notes = list(root.every("handNote"))
    for place, note in enumerate(notes, 1):
        key = note.attributes.get("xml:id", "")
        sign = _hand_sign(key, note, place if len(notes) > 1 else None)
        if medium := note.attributes.get("medium"):
            sign += f"({hand_medium(medium)})"
        if key:
            found[key] = sign
    return found


def _hand_sign(key: str, note: Element, place: int | None) -> str:
    if ours := _OURS.fullmatch(key):
        return f"@{_LETTERS[_technique(ours[1])]}{ours[2]}"
    said = " ".join(
        (note.attributes.get("medium", ""), note.attributes.get("script", ""), note.text())
    )
    for word, technique in table("technique").items():
        if word in said.casefold():
            return f"@{_LETTERS[_technique(technique)]}"
    figure = _FIGURE.fullmatch(key)
    number = figure[1] if figure else str(place) if place and place < 10 else ""
    return f"@h{number}"


def _distinct(hands: dict[str, str], used: list[str]) -> dict[str, str]:
    """The signs of the hands that a text refers to, so that no two hands share one.

    A fragment has no `handNote`: then our own ids still say the technique.
    """
    keys = list(dict.fromkeys(each.removeprefix("#") for each in used))
    signs = dict(hands)
    for key in keys:
        if key not in signs and (ours := _OURS.fullmatch(key)):
            signs[key] = f"@{_LETTERS[_technique(ours[1])]}{ours[2]}"
    last: dict[str, str] = {}  # a hand without a medium is the last one of its kind
    for key in (each.removeprefix("#") for each in used if each.removeprefix("#") in signs):
        bare, _, medium = signs[key].partition("(")
        if not medium and last.get(bare, key) != key:
            signs[key] = f"{bare}({hand_medium(key)})"
        last[bare] = key
    return signs


def _technique(word: str) -> Technique:
    return next(technique for technique in HANDS.values() if technique == word)


def _zones(root: Element) -> Iterator[tuple[str, TeiZone]]:
    """Where each `zone` lies, by its `xml:id`."""
    for surface in root.every("surface"):
        graphic = next(surface.every("graphic"), None)
        picture = graphic.attributes.get("url", "") if graphic else ""
        for zone in surface.every("zone"):
            key, corners = zone.attributes.get("xml:id"), _corners(zone)
            if key and corners:
                yield key, TeiZone(picture, corners)


def _corners(zone: Element) -> tuple[Corner, ...]:
    points = zone.attributes.get("points", "").split()
    pairs = [_POINT.fullmatch(point) for point in points]
    found = tuple((float(pair[1]), float(pair[2])) for pair in pairs if pair)
    if len(found) >= 3 and len(found) == len(points):
        return found
    told = [zone.attributes.get(name, "") for name in ("ulx", "uly", "lrx", "lry")]
    if not all(re.fullmatch(_NUMBER, each) for each in told):
        return ()
    left, top, right, bottom = map(float, told)
    return ((left, top), (right, top), (right, bottom), (left, bottom))
