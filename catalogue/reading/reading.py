"""`read`: from a label as typed to its reading, and all that a reading can say."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from catalogue.errors import MarkupError
from catalogue.reading.faults import Fault
from catalogue.reading.form import Filling, Form, form
from catalogue.reading.grammar import Builder
from catalogue.reading.html import html
from catalogue.reading.letters import SeenLetter, seen_letters
from catalogue.reading.nodes import (
    Data,
    Drawn,
    Hand,
    Node,
    Note,
    Technique,
    Tree,
    outline,
    walk,
)
from catalogue.reading.scan import Scan
from catalogue.reading.tei import HandUsed, hands_used, tei
from catalogue.reading.voices import Voice, places, spell
from catalogue.reading.words import Word, words

MOST_BYTES: Final = 1_000_000


@dataclass(frozen=True, slots=True)
class Passage:
    """What one hand or technique wrote; `hand` is None before the first one is named."""

    hand: Hand | None
    tree: Tree

    def seen(self) -> str:
        """As `Reading.seen`, of this passage alone."""
        return spell(self.tree, "seen")

    def plain(self) -> str:
        """As `Reading.plain`, of this passage alone."""
        return spell(self.tree, "plain")


@dataclass(frozen=True, slots=True)
class Reading:
    """A label as somebody read it: what was typed, what it means, and what was typed wrongly.

    Each rendering is made when it is asked for. All of them are in composed Unicode (NFC) with
    single spaces; only `markup` and `tree` keep every letter as typed.
    """

    markup: str
    tree: Tree
    faults: tuple[Fault, ...]

    def diplomatic(self) -> str:
        """What the eye sees, line by line: a box for each counted letter that is missing.

        >>> read("Gal.(erie) Ho[...]nn|[[1912]] 1913").diplomatic()
        'Gal. Ho□□□nn\\n1912 1913'
        """
        return spell(self.tree, "diplomatic")

    def plain(self) -> str:
        """What the label says: restored, completed, corrected, without what was struck out.

        >>> read("Gal.(erie) Ho[ffma]nn|[[1912]] Ausstel-|lung").plain()
        'Galerie Hoffmann Ausstellung'
        """
        return spell(self.tree, "plain")

    def seen(self) -> str:
        """The only text to argue from: all whose ink is or was on the object, nothing else.

        Struck-out and overwritten text is in it, a lost or illegible part is one "…".

        >>> read("Gal.(erie) Ho[ffma]nn, W[...]1 [[1912]]<<1913>>").seen()
        'Gal. Ho…nn, W…1 1912 1913'
        """
        return spell(self.tree, "seen")

    def seen_at(self) -> tuple[int, ...]:
        """For each letter of `seen()`: the offset in the markup where it was typed."""
        return places(self.tree, "seen")

    def seen_letters(self) -> tuple[SeenLetter, ...]:
        """Each letter of `seen()` with its place, its hand, and whether it is sure or struck out.

        >>> [(each.letter, each.start, each.doubtful) for each in read("W.7_").seen_letters()]
        [('W', 0, False), ('.', 1, False), ('7', 2, True)]
        """
        return seen_letters(self.tree, self.markup)

    def words(self) -> tuple[Word, ...]:
        """The words for the index."""
        return words(self.tree)

    def tei(self) -> str:
        """The label as an EpiDoc fragment, to stand inside `<ab>`."""
        return tei(self.tree)

    def html(self) -> str:
        """The label for the desk, every sign in words for a screen reader."""
        return html(self.tree)

    def outline(self) -> list[Data]:
        """The tree as plain lists and dicts, for JSON."""
        return outline(self.tree)

    def notes(self) -> tuple[str, ...]:
        """The editor's notes, in order."""
        return tuple(node.words for node in walk(self.tree) if isinstance(node, Note))

    def drawn(self) -> tuple[str, ...]:
        """The marks without text, in words, in order.

        >>> read("{{crown over shield}} @s DOUANE").drawn()
        ('crown over shield',)
        """
        return tuple(node.words for node in walk(self.tree) if isinstance(node, Drawn))

    def hands(self) -> tuple[HandUsed, ...]:
        """The hands and techniques on the label, as `tei()` refers to them."""
        return hands_used(self.tree)

    def passages(self) -> tuple[Passage, ...]:
        """The label by hand: what is printed and what was filled in, in order.

        A change of hand inside another sign stays with the passage around it.

        >>> [(p.hand.technique, p.seen()) for p in read("@p Price: @h 30 gns").passages()]
        [('printed', 'Price:'), ('handwritten', '30 gns')]
        """
        found: list[Passage] = []
        hand: Hand | None = None
        nodes: list[Node] = []
        for node in self.tree:
            if isinstance(node, Hand):
                if nodes:
                    found.append(Passage(hand, tuple(nodes)))
                hand, nodes = node, []
            else:
                nodes.append(node)
        if nodes:
            found.append(Passage(hand, tuple(nodes)))
        return tuple(found)

    def form(self, voice: Voice = "seen", unsaid: Technique = "printed") -> Form:
        """The label as a form: its printed part in that voice, numbered blanks, the fillings.

        `unsaid` is the technique of what stands before the first sign of a hand: the
        inscription's own, for a label that is not printed.

        >>> read("@p Inv. Nr. @h 4+7").form().template
        'Inv. Nr. {1}'
        """
        return form(self.tree, voice, unsaid)

    def printed(self, voice: Voice = "seen", unsaid: Technique = "printed") -> str:
        """What was printed on the label before anybody filled it in; for look-alike search.

        >>> read("@p Title: @h Low Tide |@p Price: (blank)").printed()
        'Title:\\nPrice:'
        """
        return self.form(voice, unsaid).printed

    def filled(self, unsaid: Technique = "printed") -> tuple[Filling, ...]:
        """What was filled in, each filling with its hand and its place; a field left empty too.

        >>> for each in read("@p Title: @h Low Tide |@p Price: (blank)").filled():
        ...     print(each.caption, each.technique, repr(each.seen), each.start, each.end)
        Title: handwritten 'Low Tide' 13 21
        Price: None '' 33 40
        """
        return self.form(unsaid=unsaid).fillings


def read(markup: str) -> Reading:
    """The reading of a label. Wrong signs stay as typed and are listed in its `faults`.

    Raises `MarkupError` only for what cannot be a label: no text, or more than 1 MB of it.

    >>> [fault.message for fault in read("Sm[ith").faults]
    ["this '[' has no partner: kept as a letter"]
    """
    if not isinstance(markup, str):
        raise MarkupError(
            f"a label is text, not {type(markup).__name__}",
            remedy="give its markup as a string",
        )
    size = len(markup.encode("utf-8", "surrogatepass"))
    if size > MOST_BYTES:
        raise MarkupError(
            f"this label has {size:,} bytes; the most that one can have is {MOST_BYTES:,}",
            remedy="keep a long document as a paper, and read only the label",
        )
    scan = Scan(markup)
    tree = Builder(markup, scan.tokens, scan.faults).tree()
    return Reading(markup, tree, scan.faults.in_order())
