"""A label as a form: what was printed on it, and what was filled into its blanks.

Look-alike search compares the printed text, evidence needs both; so both are kept, and neither
is guessed from the other. A stretch is what stands between one sign of a hand and the next,
wherever they stand, also in the middle of a line or of another sign.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace

from catalogue.reading.nodes import (
    Break,
    Drawn,
    Hand,
    Node,
    Note,
    Space,
    Technique,
    Text,
    Tree,
    Turned,
    walk,
)
from catalogue.reading.voices import Piece, Voice, pieces, tidied

_UNPRINTED = (Break, Note, Turned)
_BREAKS = ("line", "block", "runs_on")


@dataclass(frozen=True, slots=True)
class Filling:
    """What stands in one blank of a form, or what a stamp or a pen put between its lines.

    `number` is the blank's in the template, `caption` the printed words before it on its line.
    `technique` is None for a field that was left empty; `hand` is the sign that began the filling,
    None where there was no sign. `seen` and `plain` are as in a reading, `drawn` are marks without
    text. `start` and `end` are offsets into the markup.
    """

    number: int
    caption: str
    technique: Technique | None
    hand: Hand | None
    seen: str
    plain: str
    drawn: tuple[str, ...]
    start: int
    end: int

    @property
    def left_empty(self) -> bool:
        """Whether it is a field into which nobody wrote anything."""
        return self.technique is None


@dataclass(frozen=True, slots=True)
class Form:
    """The printed part of a label and its fillings.

    `printed` is the printed text alone. `template` has each blank as a number, `{1}`, in its
    place; a brace that is printed on the label is doubled there.
    """

    printed: str
    template: str
    fillings: tuple[Filling, ...]


@dataclass(slots=True)
class _Stretch:
    """What one hand wrote, from its sign to the next."""

    hand: Hand | None
    technique: Technique
    begin: int
    nodes: list[Node] = field(default_factory=list)
    end: int = 0

    def place(self) -> tuple[int, int] | None:
        """From where to where something stands that is neither a line end nor a note."""
        start, end = self.end, self.begin
        for node in self.nodes:
            first, last = node.start, min(node.end, self.end)
            if isinstance(node, Text):
                first += len(node.typed) - len(node.typed.lstrip())
                last -= len(node.typed) - len(node.typed.rstrip())
            if first < last and not isinstance(node, _UNPRINTED):
                start, end = min(start, first), max(end, last)
        return (start, end) if start < end else None

    def fields(self) -> Iterator[Space]:
        return (n for n in self.nodes if isinstance(n, Space) and n.is_field)

    def drawn(self) -> tuple[str, ...]:
        return tuple(node.words for node in self.nodes if isinstance(node, Drawn))


def form(tree: Tree, voice: Voice = "seen", unsaid: Technique = "printed") -> Form:
    """The form that a label is, its printed part in that voice.

    `unsaid` is the technique of what stands before the first sign of a hand.

    >>> from catalogue.reading.reading import read
    >>> told = form(read("@p Lot @h(chalk) 4+7 @p of (blank)").tree)
    >>> told.template
    'Lot {1} of {2}'
    >>> [(each.caption, each.technique, each.seen) for each in told.fillings]
    [('Lot', 'handwritten', '4…7'), ('of', None, '')]
    """
    return _Forming(tree, voice, unsaid).form()


def _stretches(tree: Tree, unsaid: Technique) -> list[_Stretch]:
    found = [_Stretch(None, unsaid, 0)]
    for node in walk(tree):
        if isinstance(node, Hand):
            found[-1].end = node.start
            found.append(_Stretch(node, node.technique, node.end))
        else:
            found[-1].nodes.append(node)
    found[-1].end = tree[-1].end if tree else 0
    return found


class _Forming:
    """Goes along a label and sorts what it says into the printed part and the fillings."""

    def __init__(self, tree: Tree, voice: Voice, unsaid: Technique) -> None:
        self._stretches = _stretches(tree, unsaid)
        ends = [stretch.end for stretch in self._stretches]
        self._printed_voice = _shared(pieces(tree, voice), ends)
        self._seen = _shared(pieces(tree, "seen"), ends)
        self._plain = _shared(pieces(tree, "plain"), ends)
        self._printed: list[Piece] = []
        self._template: list[Piece] = []
        self._fillings: list[Filling] = []
        self._caption: list[Piece] = []
        self._captioned = False  # something was filled in since the caption

    def form(self) -> Form:
        for number, stretch in enumerate(self._stretches):
            if stretch.technique == "printed":
                self._print(stretch, self._printed_voice[number])
            else:
                self._fill(stretch, self._seen[number], self._plain[number])
        return Form(_set(self._printed), _set(self._template), tuple(self._fillings))

    def _print(self, stretch: _Stretch, said: list[Piece]) -> None:
        left_empty = {space.start: space for space in stretch.fields()}
        for piece in said:
            if piece.at in left_empty and piece.origin == "blank":
                self._leave_empty(left_empty[piece.at])
            else:
                self._put(piece)

    def _put(self, piece: Piece) -> None:
        if piece.origin in _BREAKS:
            self._caption = []
        elif piece.text.strip() and self._captioned:
            self._caption, self._captioned = [], False
        if piece.origin not in _BREAKS:
            self._caption.append(piece)
        self._printed.append(piece)
        doubled = piece.text.replace("{", "{{").replace("}", "}}")
        self._template.append(piece._replace(text=doubled))

    def _fill(self, stretch: _Stretch, seen: list[Piece], plain: list[Piece]) -> None:
        start, end = stretch.place() or (stretch.end, stretch.end)
        for piece in seen:
            if piece.at < start:
                self._put(piece)  # line ends before what was filled in are the form's
        if start < end:
            self._fill_in(stretch, _between(seen, start, end), plain, start, end)
        for piece in seen:
            if piece.at >= end:
                self._put(piece)

    def _fill_in(
        self, stretch: _Stretch, seen: list[Piece], plain: list[Piece], start: int, end: int
    ) -> None:
        filling = Filling(
            number=len(self._fillings) + 1,
            caption=_set(self._caption),
            technique=stretch.technique,
            hand=stretch.hand,
            seen=_set(seen),
            plain=_set(_between(plain, start, end), joining=True),
            drawn=stretch.drawn(),
            start=start,
            end=end,
        )
        nothing = not (filling.seen or filling.plain or filling.drawn)
        if nothing and any(stretch.fields()):
            filling = replace(filling, technique=None, hand=None)
        self._blank(filling)

    def _leave_empty(self, space: Space) -> None:
        number, caption = len(self._fillings) + 1, _set(self._caption)
        self._blank(Filling(number, caption, None, None, "", "", (), space.start, space.end))

    def _blank(self, filling: Filling) -> None:
        self._fillings.append(filling)
        number, start = filling.number, filling.start
        space = Piece(" ", start, "soft")
        self._printed.append(space)
        self._template += [space, Piece(f"{{{number}}}", start, "ink"), space]
        self._captioned = True


def _shared(said: Iterable[Piece], ends: list[int]) -> list[list[Piece]]:
    """The pieces of each stretch; both come in the order of the label."""
    shared: list[list[Piece]] = [[] for _ in ends]
    number = 0
    for piece in said:
        while number < len(ends) - 1 and piece.at >= ends[number]:
            number += 1
        shared[number].append(piece)
    return shared


def _between(said: list[Piece], start: int, end: int) -> list[Piece]:
    return [piece for piece in said if start <= piece.at < end]


def _set(said: Iterable[Piece], *, joining: bool = False) -> str:
    text = "".join(piece.text for piece in tidied(said, joining=joining))
    return unicodedata.normalize("NFC", text).strip()
