"""The tree of a label: what was typed, piece by piece, each with its place.

Every node is a `Leaf` (typed as one sign or a run of letters) or a `Branch` (an opening, what
it holds, a closing). Both keep what was typed, so `write` gives the label back to the letter.
`start` and `end` are code-point offsets into the markup.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, fields
from typing import Literal, TypeAlias

Technique: TypeAlias = Literal[
    "printed", "typed", "handwritten", "stamped", "stencilled", "branded"
]
Certainty: TypeAlias = Literal["high", "medium", "low"]
Data: TypeAlias = "str | int | bool | dict[str, Data] | list[Data] | None"


@dataclass(frozen=True, slots=True)
class Leaf:
    """One sign, or a run of letters, exactly as typed."""

    start: int
    end: int
    typed: str


@dataclass(frozen=True, slots=True)
class Branch:
    """A sign around other nodes; opening and closing are exactly as typed, and may be empty."""

    start: int
    end: int
    opening: str
    children: tuple[Node, ...]
    closing: str


Node: TypeAlias = Leaf | Branch
Tree: TypeAlias = tuple[Node, ...]


@dataclass(frozen=True, slots=True)
class Extent:
    """How much is missing: at least, at most (None = no limit known), in letters or lines.

    `about` is the number typed after "c."; the two limits are then the house's 30 per cent
    either way, at least one (common practice, no source).
    """

    least: int
    most: int | None
    unit: Literal["character", "line"] = "character"
    about: int | None = None

    @property
    def exact(self) -> int | None:
        """The number, if it was counted."""
        return self.least if self.about is None and self.least == self.most else None


@dataclass(frozen=True, slots=True)
class Text(Leaf):
    """Letters that mean themselves."""


@dataclass(frozen=True, slots=True)
class Escaped(Leaf):
    r"""A sign that is printed on the label itself, typed with a backslash: `\[`."""

    @property
    def letter(self) -> str:
        """The sign as it stands on the label."""
        return self.typed[1:]


@dataclass(frozen=True, slots=True)
class Point(Leaf):
    """The full stop that marks an abbreviation, and goes when it is completed: `Gal.(erie)`."""


@dataclass(frozen=True, slots=True)
class Doubtful(Leaf):
    """A letter that could be another outside its context: `a_` or `ạ`."""

    letter: str


@dataclass(frozen=True, slots=True)
class Gap(Leaf):
    """Something that cannot be read: lost, or seen but illegible.

    `unsure` means that there may be no gap at all; `cause` is the typist's word for it.
    """

    reason: Literal["lost", "illegible"]
    extent: Extent
    cause: str | None
    unsure: bool


@dataclass(frozen=True, slots=True)
class Space(Leaf):
    """A place left empty: `(vac.3)` in a text, `(blank)` in a form. None = width not said."""

    letters: int | None

    @property
    def is_field(self) -> bool:
        """Whether it is a field of a form that nobody filled in."""
        return self.typed == "(blank)"


@dataclass(frozen=True, slots=True)
class Hand(Leaf):
    """From here on another technique or writer: `@h2(pencil) `."""

    technique: Technique
    number: int | None
    medium: str | None


@dataclass(frozen=True, slots=True)
class Turned(Leaf):
    """From here on the text runs in another direction: `@r90 `, degrees clockwise, 0 to 359."""

    degrees: int


@dataclass(frozen=True, slots=True)
class Break(Leaf):
    """A new line, or a new block or column; `runs_on` when a word goes on without a hyphen."""

    unit: Literal["line", "block"]
    runs_on: bool


@dataclass(frozen=True, slots=True)
class Drawn(Leaf):
    """A mark without text, in the cataloguer's words: `{{crown over shield}}`."""

    words: str


@dataclass(frozen=True, slots=True)
class Note(Leaf):
    """An editor's note, never part of the label: `/* under raking light */`."""

    words: str


@dataclass(frozen=True, slots=True)
class Restored(Branch):
    """Lost on the object, supplied by the editor: `[abc]`, `[abc?]`, `[abc ?medium]`.

    `certainty` is None when the editor said nothing; a bare "?" is "low".
    """

    certainty: Certainty | None

    @property
    def unsure(self) -> bool:
        """Whether the editor has doubts."""
        return self.certainty in ("medium", "low")


@dataclass(frozen=True, slots=True)
class Omitted(Branch):
    """Never written, supplied by the editor: `<abc>`."""


@dataclass(frozen=True, slots=True)
class Meant(Branch):
    """The editor's half of a correction."""


@dataclass(frozen=True, slots=True)
class Stands(Branch):
    """The label's half of a correction."""


@dataclass(frozen=True, slots=True)
class Correction(Branch):
    """`<meant=seen>`: its children are a `Meant` and a `Stands`."""


@dataclass(frozen=True, slots=True)
class Surplus(Branch):
    """Written once too often: `{abc}`."""


@dataclass(frozen=True, slots=True)
class Struck(Branch):
    """Struck out or gone over, still legible or not: `[[abc]]`, `[[erased: abc]]`."""

    how: Literal["strikethrough", "erased", "covered", "overwritten"]


@dataclass(frozen=True, slots=True)
class Over(Branch):
    """Written over something else; directly after a `Struck`, in its place: `<<abc>>`."""


@dataclass(frozen=True, slots=True)
class Added(Branch):
    r"""Put in later: `\abc/`, `\margin:abc/`."""

    place: str


@dataclass(frozen=True, slots=True)
class Underlined(Branch):
    """`*abc*`."""


@dataclass(frozen=True, slots=True)
class Raised(Branch):
    """Above the line and small: `M^rs^`."""


@dataclass(frozen=True, slots=True)
class Foreign(Branch):
    """In another language: `~fr:abc~`."""

    language: str


@dataclass(frozen=True, slots=True)
class Expanded(Branch):
    """The letters that an abbreviation leaves out: the `(bc)` of `a(bc)`, `a(bc ?medium)`.

    `certainty` as in `Restored`.
    """

    certainty: Certainty | None

    @property
    def unsure(self) -> bool:
        """Whether the editor has doubts."""
        return self.certainty in ("medium", "low")


@dataclass(frozen=True, slots=True)
class Abbreviation(Branch):
    """A word with some letters left out: `Gal.(erie)`; holds letters and `Expanded`."""


@dataclass(frozen=True, slots=True)
class Full(Branch):
    """The whole word for a short form, symbol or ditto mark: the `((Stück))` of `Stk((Stück))`."""


@dataclass(frozen=True, slots=True)
class Replaced(Branch):
    """A short form with its whole word: what stands there, then one `Full`.

    What stands there may be letters, a symbol or a ditto mark: `&((and))`, `"((Hollis))`.
    """


@dataclass(frozen=True, slots=True)
class Unresolved(Branch):
    """An abbreviation that nobody has resolved: `A.(---)`."""


@dataclass(frozen=True, slots=True)
class DoubtfulWord(Branch):
    """A word read with doubt: `word(?)`."""


@dataclass(frozen=True, slots=True)
class Sic(Branch):
    """A word that really stands so: `word[!]`."""


def write(tree: Iterable[Node]) -> str:
    """The markup of a tree: `write(read(markup).tree) == markup`, to the letter."""
    written: list[str] = []
    _write(tree, written)
    return "".join(written)


def _write(tree: Iterable[Node], written: list[str]) -> None:
    # at most 64 levels deep, so calling itself is safe
    for node in tree:
        if isinstance(node, Leaf):
            written.append(node.typed)
        else:
            written.append(node.opening)
            _write(node.children, written)
            written.append(node.closing)


def walk(tree: Iterable[Node]) -> Iterator[Node]:
    """Every node of a tree, in the order of the label, a branch before what it holds."""
    waiting = [iter(tree)]
    while waiting:
        node = next(waiting[-1], None)
        if node is None:
            waiting.pop()
            continue
        yield node
        if isinstance(node, Branch):
            waiting.append(iter(node.children))


def outline(tree: Iterable[Node]) -> list[Data]:
    """The tree as plain dicts and lists, for JSON: `kind` is the node's name, lower case."""
    return [_outlined(node) for node in tree]


def _outlined(node: Node | Extent) -> dict[str, Data]:
    told: dict[str, Data] = {"kind": type(node).__name__.lower()}
    for field in fields(node):
        value = getattr(node, field.name)
        if isinstance(value, tuple):
            value = outline(value)
        elif isinstance(value, Extent):
            value = {key: kept for key, kept in _outlined(value).items() if key != "kind"}
        told[field.name] = value
    return told
