"""One provenance in words, taken apart: its entries, their parties, its notes, what was not placed.

The same values are read out of prose and written as prose, so that the two can be held against each
other.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

from catalogue.measure import DateSpan

CERTAIN: Final = "certainty/certain"


@dataclass(frozen=True, slots=True, kw_only=True)
class EntryParty:
    """Somebody in an entry: the `name` as written, with honorifics, without life dates and place.

    `role` is a term ("capacity/owner"); `life` is what stands between the brackets ("1889-1961",
    "d. 1956"); `relation` what they were to who had it before ("her nephew"); `party` is the
    document on file, where it came from there. A `withheld` name is told in the house alone.
    """

    name: str
    role: str
    life: str | None = None
    place: str | None = None
    relation: str | None = None
    party: str | None = None
    withheld: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One step of a chain.

    `text` stands at `start` to `end` (code points) in the whole; "" and 0 for what was not read.
    `kind` is a term ("provenance/auction"). `when` is when it was acquired or seen, `until` how
    long it was held. `phrase` are the words that say how it passed, as they stand ("by
    inheritance to"). `passage` leads to the next entry: "passage/direct", "passage/not-known",
    "passage/gap"; None for the last. `notes` are the marks of footnotes, `remark` what is said
    beside the step ("as by a follower"), `remainder` the letters that found no place, in order.

    An entry made from a record names its `event`, whether evidence bears that it passed directly to
    the next (`evidenced`), and whether a document of the first grade is cited (`documented`); None is
    prose as it was found, of which nobody asks.
    """

    text: str = ""
    start: int = 0
    end: int = 0
    kind: str
    parties: tuple[EntryParty, ...] = ()
    phrase: str | None = None
    place: str | None = None
    when: DateSpan | None = None
    until: DateSpan | None = None
    lot: str | None = None
    price: str | None = None
    stock_number: str | None = None
    certainty: str = CERTAIN
    passage: str | None = None
    notes: tuple[str, ...] = ()
    remark: str | None = None
    remainder: str = ""
    event: str | None = None
    evidenced: bool | None = None
    documented: bool | None = None


@dataclass(frozen=True, slots=True)
class EntryNote:
    """One footnote: its `mark` ("1"), its `text`, and where it stands with its mark."""

    mark: str
    text: str
    start: int = 0
    end: int = 0


Warned = Literal[
    "unbalanced-bracket", "mixed-profiles", "note-without-text", "note-not-cited",
    "dates-out-of-order", "too-long",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class Remark:
    """Something about a text that a person should look at, at code point `at`."""

    kind: Warned
    at: int
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadProvenance:
    """A whole provenance as read. Entries, notes, `rest` and the separators between them are the text.

    `brackets` is the habit that it follows: "life" has life dates in square brackets and dealers in
    round ones, "dealer" the other way round; None where the text does not show it.
    """

    text: str
    entries: tuple[Entry, ...]
    notes: tuple[EntryNote, ...]
    rest: str
    warnings: tuple[Remark, ...] = ()
    brackets: Literal["life", "dealer"] | None = None
