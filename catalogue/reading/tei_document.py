"""A whole TEI document: one inscription, its text, where it stands and what is known of it.

Plain values in, so that this room need not know the record; what fills them has been through
redaction. The shape is that of the EpiDoc Guidelines, page ex-epidoctemplate. What is dated is the
text, never the painting.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final, TypeAlias

from catalogue.reading.nodes import Break, walk
from catalogue.reading.reading import Reading, read
from catalogue.reading.tei import HandUsed, for_xml, tei
from catalogue.reading.tei_words import table

Corner: TypeAlias = tuple[float, float]
OBJECT: Final = "object"
"""What the identifier of the painting is marked as, beside that of the text."""
_HEAD: Final = (
    '<?xml version="1.0" encoding="UTF-8"?>\n'
    '<TEI xmlns="http://www.tei-c.org/ns/1.0" xml:lang="en">\n'
)


@dataclass(frozen=True, slots=True)
class Term:
    """A word and the address of its concept, None where there is none."""

    label: str
    address: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """One photograph, and the corners of the text on it: pixels, clockwise, one tuple a region."""

    address: str
    number: str | None = None
    width: int | None = None
    height: int | None = None
    regions: tuple[tuple[Corner, ...], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Dated:
    """When the text was written: days as ISO dates (None = open), the phrase, what it rests on."""

    earliest: str | None
    latest: str | None
    phrase: str
    evidence: tuple[str, ...] = ()
    about: bool = False


@dataclass(frozen=True, slots=True)
class Observed:
    """What state the text was in when somebody looked; `day` is an ISO date or None."""

    words: str
    day: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class TeiDocument:
    """What a document says. `number` is what people cite ("2026-041, I3"), `address` what machines do.

    `work_address` is that of the painting, so that a text that comes back finds its way there.
    `on` are the words for what bears the text and where ("stretcher bar"); `condition` its last
    state; `reader` and `read_on` who read it, and when.
    """

    markup: str
    address: str
    kind: Term
    work: str
    work_address: str | None = None
    number: str = ""
    on: str = ""
    materials: tuple[Term, ...] = ()
    techniques: tuple[Term, ...] = ()
    hand: str | None = None
    languages: tuple[Term, ...] = ()
    turned: int = 0
    condition: str | None = None
    pictures: tuple[Picture, ...] = ()
    dated: Dated | None = None
    observed: tuple[Observed, ...] = ()
    reader: str | None = None
    read_on: str | None = None
    light: str | None = None
    remarks: tuple[str, ...] = ()


def tei_document(document: TeiDocument) -> str:
    """The document as XML, the same for the same values to the letter.

    >>> label = TeiDocument(markup="Low|Tide", address="urn:x", kind=Term("label"), work="Low Tide")
    >>> print(tei_document(label).partition("<text>")[2])
    <BLANKLINE>
    <body>
    <div type="edition" xml:space="preserve"><ab><lb n="1"/>Low<lb n="2"/>Tide</ab></div>
    </body>
    </text>
    </TEI>
    <BLANKLINE>
    """
    reading = read(document.markup)
    zones = [
        f"z{number}"
        for number in range(1, sum(len(picture.regions) for picture in document.pictures) + 1)
    ]
    facs = _attribute("facs", " ".join(f"#{zone}" for zone in zones))
    language = document.languages[0].address if len(document.languages) == 1 else None
    number = _attribute("n", document.number)
    edition = (
        f'<div type="edition"{number}{_attribute("xml:lang", language)} xml:space="preserve">'
        f"<ab{facs}>{tei(reading.tree, numbered=True)}</ab></div>"
    )
    remarks = "".join(_element("p", for_xml(remark)) for remark in document.remarks)
    parts = [
        "<teiHeader>", *_header(document, reading), "</teiHeader>",
        *_facsimile(document, zones),
        "<text>", "<body>", edition,
        *([f'<div type="commentary">{remarks}</div>'] if remarks else []),
        "</body>", "</text>", "</TEI>",
    ]  # fmt: skip
    return _HEAD + "\n".join(parts) + "\n"


def _attribute(name: str, value: object) -> str:
    return f' {name}="{for_xml(str(value))}"' if value not in (None, "") else ""


def _element(name: str, content: str, **attributes: object) -> str:
    told = "".join(_attribute(key.replace("_", ":"), it) for key, it in attributes.items())
    return f"<{name}{told}>{content}</{name}>"


def _term(name: str, term: Term) -> str:
    return _element(name, for_xml(term.label), ref=term.address)


# --- the header


def _header(document: TeiDocument, reading: Reading) -> Iterable[str]:
    words = table("document")
    title = words["title"].format(kind=document.kind.label, work=document.work)
    reader = (
        f"<respStmt><resp>reading</resp><name>{for_xml(document.reader)}</name></respStmt>"
        if document.reader
        else ""
    )
    yield "<fileDesc>"
    yield f"<titleStmt><title>{for_xml(title)}</title>{reader}</titleStmt>"
    yield f"<publicationStmt><p>{for_xml(words['made'])}</p></publicationStmt>"
    yield f"<sourceDesc><msDesc>{_identifier(document)}"
    yield f"<physDesc>{_object(document, reading)}{_hands(document, reading.hands())}</physDesc>"
    history = _history(document)
    yield f"{_element('history', history) if history else ''}</msDesc></sourceDesc>"
    yield "</fileDesc>"
    yield f"<encodingDesc><p>{for_xml(words['encoding'])}</p></encodingDesc>"
    yield from _profile(document)
    if document.read_on:
        light = document.light
        said = words["read_under"].format(light=light) if light else words["read"]
        change = _element("change", for_xml(said), when=document.read_on)
        yield f"<revisionDesc>{change}</revisionDesc>"


def _identifier(document: TeiDocument) -> str:
    address = _element("idno", for_xml(document.address), type="URI")
    painting = ""
    if document.work_address:
        inner = _element("idno", for_xml(document.work_address), type="URI")
        painting = f'<altIdentifier type="{OBJECT}">{inner}</altIdentifier>'
    if not document.number:
        return f"<msIdentifier>{address}{painting}</msIdentifier>"
    number = _element("idno", for_xml(document.number), type="studio")
    text = f"<altIdentifier>{address}</altIdentifier>"
    return f"<msIdentifier>{number}{text}{painting}</msIdentifier>"


def _object(document: TeiDocument, reading: Reading) -> str:
    materials = ", ".join(_term("material", each) for each in document.materials)
    on = ", ".join(
        filter(None, (_term("objectType", document.kind), for_xml(document.on), materials))
    )
    condition = _element("condition", for_xml(document.condition)) if document.condition else ""
    words = table("document")
    lines = lines_of(reading)
    said = words["line"] if lines == 1 else words["lines"].format(n=lines)
    if document.turned:
        said += ", " + words["turned"].format(n=document.turned)
    layout = _element("layout", said, writtenLines=lines)
    return (
        f"<objectDesc><supportDesc><support><p>{on}</p></support>{condition}</supportDesc>"
        f"<layoutDesc>{layout}</layoutDesc></objectDesc>"
    )


def lines_of(reading: Reading) -> int:
    """How many lines a label has.

    >>> lines_of(read("Low|Tide"))
    2
    """
    return 1 + sum(isinstance(node, Break) for node in walk(reading.tree))


def _hands(document: TeiDocument, hands: tuple[HandUsed, ...]) -> str:
    told = [each.label for each in document.techniques]
    if document.hand:
        told.append(table("hand")["writer"].format(words=document.hand))
    said = for_xml(", ".join(told))
    if not hands:
        return f"<handDesc>{_element('handNote', said)}</handDesc>" if said else ""
    summary = _element("summary", said) if said else ""
    return f"<handDesc>{summary}{''.join(map(_hand_note, hands))}</handDesc>"


def _hand_note(hand: HandUsed) -> str:
    words = table("hand")
    said = [words[hand.technique]]
    if hand.number is not None:
        said.append(words["writer"].format(words=hand.number))
    if hand.medium:
        said.append(hand.medium)
    return _element("handNote", for_xml(", ".join(said)), xml_id=hand.key, medium=hand.medium)


def _history(document: TeiDocument) -> str:
    dated = document.dated
    origin = ""
    if dated:
        when = _element(
            "origDate",
            for_xml(dated.phrase),
            **{"notBefore-custom": dated.earliest, "notAfter-custom": dated.latest},
            datingMethod="#gregorian",
            precision="low" if dated.about else None,
            evidence=" ".join("-".join(each.split()) for each in dated.evidence),
        )
        origin = f"<origin>{when}</origin>"
    seen = (
        _element("provenance", for_xml(each.words), type="observed", when=each.day)
        for each in document.observed
    )
    return origin + "".join(seen)


def _profile(document: TeiDocument) -> Iterable[str]:
    calendar = ""
    if document.dated:
        said = _element("p", table("document")["calendar"])
        calendar = (
            f'<calendarDesc><calendar xml:id="gregorian">{said}</calendar></calendarDesc>'
        )
    languages = "".join(
        _element("language", for_xml(each.label), ident=each.address)
        for each in document.languages
    )
    used = f"<langUsage>{languages}</langUsage>" if languages else ""
    keyword = _element("keywords", _term("term", document.kind))
    yield f"<profileDesc>{calendar}{used}<textClass>{keyword}</textClass></profileDesc>"


# --- the pictures


def _facsimile(document: TeiDocument, zones: list[str]) -> Iterable[str]:
    shown = [picture for picture in document.pictures if picture.regions]
    if not shown:
        return
    yield "<facsimile>"
    keys = iter(zones)
    for picture in shown:
        whole = ""
        if picture.width and picture.height:
            whole = f' ulx="0" uly="0" lrx="{picture.width}" lry="{picture.height}"'
        size = "".join(
            _attribute(name, f"{pixels}px")
            for name, pixels in (("width", picture.width), ("height", picture.height))
            if pixels
        )
        yield f"<surface{_attribute('n', picture.number)}{whole}>"
        yield f"<graphic{_attribute('url', picture.address)}{size}/>"
        for corners in picture.regions:
            yield _zone(next(keys), corners)
        yield "</surface>"
    yield "</facsimile>"


def _zone(key: str, corners: tuple[Corner, ...]) -> str:
    """A zone with its bounding box, and its corners unless they are those of an upright text."""
    across, down = [x for x, _ in corners], [y for _, y in corners]
    left, top, right, bottom = min(across), min(down), max(across), max(down)
    box = ((left, top), (right, top), (right, bottom), (left, bottom))
    ends = zip(("ulx", "uly", "lrx", "lry"), (left, top, right, bottom), strict=True)
    told = " ".join(f'{name}="{_pixels(end)}"' for name, end in ends)
    if corners == box:
        return f'<zone xml:id="{key}" {told}/>'
    points = " ".join(f"{_pixels(x)},{_pixels(y)}" for x, y in corners)
    return f'<zone xml:id="{key}" {told} points="{points}"/>'


def _pixels(number: float) -> str:
    return f"{number:.2f}".rstrip("0").rstrip(".")
