"""From a reading to letters in their places: which hand wrote what, where it stands, what is lost.

The markup of the record says it all: what is struck out is drawn and struck through, what the
editor restored or completed is not drawn at all, and where text is lost the paper must be lost too.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from catalogue.reading import nodes

PRINT = ("printed", "typed", "stamped", "stencilled", "branded")
RAISED = 0.62
UNKNOWN = 5
"""How many letters wide a gap is drawn when nobody knows."""


@dataclass(frozen=True, slots=True)
class Run:
    """Letters that look alike. `gap` is "lost" or "illegible" where there is nothing to read."""

    text: str
    technique: str
    medium: str = ""
    writer: int = 1
    strength: float = 1.0
    size: float = 1.0
    rise: float = 0.0
    struck: bool = False
    over: bool = False
    underlined: bool = False
    gap: str = ""
    ruled: bool = False
    device: str = ""


Line = tuple[Run, ...]


def lines(tree: nodes.Tree, technique: str) -> list[Line]:
    """The label line by line, in the technique that it has where the markup names none."""
    found: list[list[Run]] = [[]]
    for piece in _runs(tree, Run("", technique)):
        if piece is None:
            found.append([])
        elif piece.text or piece.gap or piece.ruled or piece.device:
            found[-1].append(piece)
    return [_trimmed(line) for line in found]


def _trimmed(line: list[Run]) -> Line:
    if line and line[0].text:
        line[0] = replace(line[0], text=line[0].text.lstrip())
    if line and line[-1].text:
        line[-1] = replace(line[-1], text=line[-1].text.rstrip())
    return tuple(line)


def _runs(tree: Iterable[nodes.Node], style: Run) -> Iterator[Run | None]:
    """The runs of a tree, None for a new line."""
    for node in tree:
        match node:
            case nodes.Hand():
                style = replace(
                    style,
                    technique=node.technique,
                    medium=node.medium or "",
                    writer=node.number or 1,
                )
            case nodes.Break():
                yield None
                if node.unit == "block":
                    yield None
            case nodes.Leaf():
                yield from _leaf(node, style)
            case _:
                yield from _branch(node, style)


def _leaf(node: nodes.Leaf, style: Run) -> Iterator[Run]:
    match node:
        case nodes.Text():
            yield replace(style, text=node.typed)
        case nodes.Point():
            yield replace(style, text=".")
        case nodes.Escaped():
            yield replace(style, text=node.letter)
        case nodes.Doubtful():
            yield replace(style, text=node.letter, strength=style.strength * 0.45)
        case nodes.Gap():
            letters = node.extent.exact or node.extent.about or UNKNOWN
            yield replace(style, text="n" * min(letters, 30), gap=node.reason)
        case nodes.Space():
            yield replace(style, text="n" * (node.letters or 10), ruled=True)
        case nodes.Drawn():
            yield replace(style, text="", device=node.words)


def _branch(node: nodes.Branch, style: Run) -> Iterator[Run | None]:
    match node:
        case nodes.Omitted() | nodes.Expanded() | nodes.Full() | nodes.Meant():
            return
        case nodes.Restored():
            style = replace(style, gap="lost")
        case nodes.Struck(how="erased" | "covered"):
            style = replace(style, strength=0.22)
        case nodes.Struck():
            style = replace(style, struck=True, strength=style.strength * 0.8)
        case nodes.Over():
            style = replace(style, over=True)
        case nodes.Added() | nodes.Raised():
            style = replace(style, size=style.size * RAISED, rise=0.42)
        case nodes.Underlined():
            style = replace(style, underlined=True)
    yield from _runs(node.children, style)
