"""What the index is told of a record: an entry for the whole, and one for each statement."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One thing that can be found: a statement, or a whole work, party or reference.

    The entry of the whole has the document's own uuid as its `value`. `text` is what is shown;
    `words` is searched beside it (other spellings, restored and struck-out words); `patterns`
    say how a damaged word may have read, folded and in lower case. `where` is for people ("I3
    label, back"), `place` is what a search at a place looks into. The days are ordinals of the
    proleptic Gregorian calendar, both ends included, None = open; with both open there is no
    date at all. `earliest` and `latest` say when the work was made, on each of its entries;
    `own_earliest` and `own_latest` when this very statement was written, done or seen.

    `text` is what is shown and how it is read; `seen` the words whose ink is on the object, ""
    where the two cannot differ. `facts` are (field, key) pairs to filter and count by, several of
    one field allowed ("technique", "technique/ink"); `figures` (field, value) pairs in the units
    that vocab/finding.toml gives. `photo` is the SHA-256 of the photograph that shows the statement,
    `corners` the part of it in upright pixels, `light` what it was read or taken under. `touched` is
    the number of the change that last touched the document, 0 when that is not known.
    """

    document: str
    number: str
    title: str
    value: str
    where: str
    kind: str
    text: str
    words: str
    patterns: tuple[str, ...]
    artist: str
    place: str
    earliest: int | None
    latest: int | None
    private: bool = False
    seen: str = ""
    facts: tuple[tuple[str, str], ...] = ()
    figures: tuple[tuple[str, float], ...] = ()
    own_earliest: int | None = None
    own_latest: int | None = None
    photo: str = ""
    corners: tuple[tuple[float, float], ...] = ()
    light: str = ""
    touched: int = 0

    @property
    def whole(self) -> bool:
        """Whether this entry stands for the document itself, not for a statement in it."""
        return self.document.rpartition("/")[2] == self.value
