"""What a paper consists of, whatever it is written as: a title, a page, and blocks one after the other.

Every text is text: a writer sets it as it stands and never reads signs in it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

Voice = Literal["plain", "small", "strong"]
PageSize = Literal["a4", "letter"]
SIZES: tuple[PageSize, ...] = ("a4", "letter")


@dataclass(frozen=True, slots=True)
class Heading:
    """The heading of a section (`level` 1), of a part of one (2), of a part of that (3)."""

    text: str
    level: Literal[1, 2, 3] = 1


@dataclass(frozen=True, slots=True)
class Paragraph:
    """A paragraph; its line ends are kept."""

    text: str
    voice: Voice = "plain"


@dataclass(frozen=True, slots=True)
class Facts:
    """What is known, one fact a row: what it is, and what it says."""

    rows: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Points:
    """Sentences one below the other, none before the others."""

    items: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Table:
    """Rows under headings that come again on every page; `shares` are the widths of the columns.

    `ruled` draws every cell, with room to write in by hand.
    """

    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    shares: tuple[int, ...]
    ruled: bool = False

    def __post_init__(self) -> None:
        if any(len(row) != len(self.head) for row in (*self.rows, self.shares)):
            raise ValueError("every row of a table has as many cells as its head")


@dataclass(frozen=True, slots=True)
class Transcription:
    """Writing from an object, line by line as it stands there; `where` it stands."""

    text: str
    where: str


@dataclass(frozen=True, slots=True)
class Picture:
    """A photograph or drawing: its file, what it shows in words (`alt`), what stands below it.

    `width` and `height` are only there for their proportion.
    """

    content: bytes
    media_type: Literal["image/jpeg", "image/svg+xml"]
    width: float
    height: float
    alt: str
    caption: str


@dataclass(frozen=True, slots=True)
class Pictures:
    """Pictures side by side, two in a row; `wide` ones below each other, `small` ones four in a row."""

    pictures: tuple[Picture, ...]
    wide: bool = False
    small: bool = False


@dataclass(frozen=True, slots=True)
class Notice:
    """What has to be seen: a short text under a title, in a frame."""

    title: str
    text: str


@dataclass(frozen=True, slots=True)
class Signature:
    """A line to sign on: in which role, the name where it is known."""

    role: str
    name: str = ""


@dataclass(frozen=True, slots=True)
class Signatures:
    """Lines to sign on, each with its day."""

    lines: tuple[Signature, ...]
    day: str


@dataclass(frozen=True, slots=True)
class Label:
    """One label to cut out: its number in large letters, a few lines, and a code that a camera reads.

    `code` is all that the code holds; `code_alt` says so in words.
    """

    number: str
    lines: tuple[str, ...]
    code: str
    code_alt: str
    warning: str = ""


@dataclass(frozen=True, slots=True)
class Labels:
    """Labels to cut out, all of one size; `hole` marks where a string goes through."""

    labels: tuple[Label, ...]
    hole: bool = False


Block: TypeAlias = (
    Heading
    | Paragraph
    | Facts
    | Points
    | Table
    | Transcription
    | Pictures
    | Notice
    | Signatures
    | Labels
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Document:
    """One paper. `number` is what it is filed under, `letterhead` who it is from, `day` of its issue.

    `day` is a day in ISO form, so that the same paper is the same bytes whenever it is printed.
    `compact` sets it in small type, for a sheet that is to be one page.
    """

    title: str
    number: str
    day: str
    letterhead: tuple[str, ...]
    blocks: tuple[Block, ...]
    page: PageSize = "a4"
    compact: bool = False
    language: str = "en-GB"
