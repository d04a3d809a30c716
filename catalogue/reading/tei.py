"""A label as an EpiDoc fragment: what goes inside `<ab>`, or any element that holds text.

Elements and attributes are those of the EpiDoc Guidelines, pages trans-*. `gap/@reason` is a
closed list there, so the cause of a loss goes into `@agent`. How a line is turned goes into a
`milestone`, which the TEI Guidelines keep for any boundary that has no element of its own.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from html import escape
from typing import Final

from catalogue.reading.nodes import (
    Abbreviation,
    Added,
    Branch,
    Break,
    Certainty,
    Correction,
    Doubtful,
    DoubtfulWord,
    Drawn,
    Escaped,
    Expanded,
    Extent,
    Foreign,
    Full,
    Gap,
    Hand,
    Leaf,
    Meant,
    Node,
    Note,
    Omitted,
    Over,
    Point,
    Raised,
    Replaced,
    Restored,
    Sic,
    Space,
    Stands,
    Struck,
    Surplus,
    Technique,
    Text,
    Tree,
    Turned,
    Underlined,
    Unresolved,
    walk,
)
from catalogue.reading.sentences import is_withheld
from catalogue.reading.voices import joined_lines

_NOT_XML: Final = re.compile(r"[^\t\n\r\x20-\uD7FF\uE000-\uFFFD\U00010000-\U0010FFFF]")
# branches that are one element around what they hold
_ELEMENTS: Final[dict[type[Branch], str]] = {
    Omitted: '<supplied reason="omitted">',
    Surplus: "<surplus>",
    Over: '<add place="overstrike">',
    Underlined: '<hi rend="underline">',
    Raised: '<hi rend="superscript">',
    Correction: "<choice>",
    Meant: "<corr>",
    Stands: "<sic>",
    Sic: "<sic>",
    DoubtfulWord: '<seg cert="low">',
    Unresolved: "<abbr>",
    Full: "<expan>",
}


@dataclass(frozen=True, slots=True)
class HandUsed:
    """One hand or technique of a label, for `handNote`; the fragment refers to its `key`."""

    key: str
    technique: Technique
    number: int | None
    medium: str | None


def for_xml(text: str) -> str:
    """Text for an XML or HTML file: composed, escaped, what XML forbids as U+FFFD or a space."""
    return escape(_NOT_XML.sub(_allowed, unicodedata.normalize("NFC", text)))


def _allowed(forbidden: re.Match[str]) -> str:
    return " " if forbidden[0].isspace() else "\N{REPLACEMENT CHARACTER}"


def hands_used(tree: Tree) -> tuple[HandUsed, ...]:
    """The hands of a label, each once. A hand without a medium is the last one of its kind."""
    return tuple(dict.fromkeys(_hands(tree).values()))


def _hands(tree: Tree) -> dict[int, HandUsed]:
    """Which hand begins at which offset."""
    begins: dict[int, HandUsed] = {}
    known: dict[tuple[str, str | None], HandUsed] = {}
    last: dict[str, HandUsed] = {}
    counted: dict[str, int] = {}
    for node in walk(tree):
        if not isinstance(node, Hand):
            continue
        kind = node.technique + (str(node.number) if node.number is not None else "")
        if node.medium is None and kind in last:
            begins[node.start] = last[kind]
            continue
        if (kind, node.medium) not in known:
            counted[kind] = counted.get(kind, 0) + 1
            key = kind if counted[kind] == 1 else f"{kind}.{counted[kind]}"
            known[kind, node.medium] = HandUsed(key, node.technique, node.number, node.medium)
        begins[node.start] = last[kind] = known[kind, node.medium]
    return begins


def tei(tree: Tree, *, numbered: bool = False) -> str:
    """The EpiDoc fragment of a label; `numbered` as a document has it: every line with its number.

    A fragment has a `lb` where a line ends and another begins; a document has one at the beginning
    of each line, the first included (Guidelines, trans-linebreak).

    >>> from catalogue.reading.reading import read
    >>> tei(read("Gal.(erie) Ho[...]nn").tree)
    '<expan><abbr>Gal<am>.</am></abbr><ex>erie</ex></expan> Ho<gap reason="lost" quantity="3"
    unit="character"/>nn'
    >>> tei(read("Low|Tide").tree, numbered=True)
    '<lb n="1"/>Low<lb n="2"/>Tide'
    """
    writer = _Writer(tree, numbered=numbered)
    if numbered:
        writer.out.append('<lb n="1"/>')
    writer.write(tree)
    return "".join(writer.out)


class _Writer:
    def __init__(self, tree: Tree, *, numbered: bool) -> None:
        self.out: list[str] = []
        self._line = self._column = 1 if numbered else 0
        self._joined = joined_lines(tree)
        self._hands = _hands(tree)

    def write(self, tree: tuple[Node, ...]) -> None:
        number = 0
        while number < len(tree):
            node = tree[number]
            after = tree[number + 1] if number + 1 < len(tree) else None
            if isinstance(node, Struck) and isinstance(after, Over):
                self.out.append("<subst>")
                self._branch(node)
                self._branch(after)
                self.out.append("</subst>")
                number += 1
            elif isinstance(node, Text) and isinstance(after, Break):
                self.out.append(for_xml(node.typed.rstrip()))
            elif isinstance(node, Leaf):
                self.out.append(self._leaf(node))
            else:
                self._branch(node)
            number += 1

    def _around(self, element: str, tree: tuple[Node, ...]) -> None:
        self.out.append(element)
        self.write(tree)
        name = element[1:].partition(" ")[0].rstrip(">")
        self.out.append(f"</{name}>")

    def _branch(self, node: Branch) -> None:
        if isinstance(node, Abbreviation):
            self._abbreviation(node)
        elif isinstance(node, Replaced):
            self.out.append("<choice>")
            self._around("<abbr>", node.children[:-1])
            self._branch(_branch(node.children[-1]))
            self.out.append("</choice>")
        elif isinstance(node, Restored):
            self._around(f'<supplied reason="lost"{_cert(node.certainty)}>', node.children)
        elif isinstance(node, Expanded):
            self._around(f"<ex{_cert(node.certainty)}>", node.children)
        elif isinstance(node, Struck):
            self._around(f'<del rend="{node.how}">', node.children)
        elif isinstance(node, Added):
            self._around(f'<add place="{node.place}">', node.children)
        elif isinstance(node, Foreign):
            self._around(f'<foreign xml:lang="{node.language}">', node.children)
        else:
            self._around(_ELEMENTS[type(node)], node.children)

    def _abbreviation(self, node: Abbreviation) -> None:
        self.out.append("<expan>")
        letters: list[Node] = []
        for child in node.children:
            if isinstance(child, Expanded):
                self._abbr(letters)
                letters = []
                self._branch(child)
            else:
                letters.append(child)
        self._abbr(letters)
        self.out.append("</expan>")

    def _abbr(self, letters: list[Node]) -> None:
        if letters:
            self._around("<abbr>", tuple(letters))

    def _leaf(self, node: Leaf) -> str:
        if isinstance(node, Doubtful):
            return f"<unclear>{for_xml(node.letter)}</unclear>"
        if isinstance(node, Point):
            return "<am>.</am>"
        if isinstance(node, Escaped):
            return for_xml(node.letter)
        if isinstance(node, Gap):
            return _gap(node)
        if isinstance(node, Break):
            return self._break(node)
        if isinstance(node, Hand):
            return f'<handShift new="#{self._hands[node.start].key}"/>'
        if isinstance(node, Turned):
            return f'<milestone unit="rotation" n="{node.degrees}"/>'
        if isinstance(node, Space):
            wide = 'extent="unknown"' if node.letters is None else f'quantity="{node.letters}"'
            return f'<space {wide} unit="character"/>'
        if isinstance(node, Drawn):
            return f"<figure><figDesc>{for_xml(node.words)}</figDesc></figure>"
        if isinstance(node, Note):
            return f"<note>{for_xml(node.words)}</note>"
        return for_xml(node.typed)

    def _break(self, node: Break) -> str:
        inside = ' break="no"' if node.start in self._joined else ""
        if not self._line:
            return f"<{'cb' if node.unit == 'block' else 'lb'}{inside}/>"
        self._line += 1
        line = f'<lb n="{self._line}"{inside}/>'
        if node.unit == "line":
            return line
        self._column += 1
        return f'<cb n="{self._column}"{inside}/>{line}'


def _cert(certainty: Certainty | None) -> str:
    return f' cert="{certainty}"' if certainty else ""


def _branch(node: Node) -> Branch:
    if isinstance(node, Branch):
        return node
    raise TypeError("the last child of a Replaced is its Full")


def _gap(gap: Gap) -> str:
    low = ' precision="low"' if gap.extent.about is not None else ""
    # hyphens join the words in the attribute: one that stands alone or twice would not come back
    cause = "-".join(filter(None, re.split(r"[-\s]+", gap.cause or "")))
    agent = f' agent="{for_xml(cause)}"' if cause else ""
    # a loss that may be none at all: Guidelines, trans-possiblylost
    inside = '<certainty match=".." locus="name"/>' if gap.unsure else ""
    # left out by the editor, not lost: the closed list of EpiDoc has a word for that
    reason = "omitted" if is_withheld(gap.cause) else gap.reason
    told = f'reason="{reason}" {_extent(gap.extent)} unit="{gap.extent.unit}"{low}{agent}'
    return f"<gap {told}>{inside}</gap>" if inside else f"<gap {told}/>"


def _extent(extent: Extent) -> str:
    if extent.about is not None:
        return f'quantity="{extent.about}"'
    if extent.most is None:
        return 'extent="unknown"'
    if extent.least == extent.most:
        return f'quantity="{extent.least}"'
    return f'atLeast="{extent.least}" atMost="{extent.most}"'
