"""Statements: what some letters of a reading say - a date, a price, somebody's address - and where.

A statement rests on letters that are seen, never on what the editor restored or completed. It does
not reach over a lost part, and none is taken that touches one: its other letters may be lost. The
text is read as it was left, without what was struck out; then each struck part behind its line.

Where two readers want the same letters the longer statement wins, and of two of one length the more
particular (`KINDS`, the most particular first). Only a postal district within an address stands beside it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from itertools import groupby, takewhile
from typing import Final, NamedTuple
from uuid import UUID, uuid5

from catalogue.argument.label_text import LabelText
from catalogue.measure import (
    MoneyReading,
    WrittenSize,
    find_addresses,
    find_dates,
    find_names,
    read_money,
    read_sizes,
)
from catalogue.measure.currencies import find_currencies
from catalogue.measure.list_numbers import find_list_numbers
from catalogue.places import table
from catalogue.reading import GAP, Reading, SeenLetter, fold
from catalogue.record import Statement, Transcript
from catalogue.terms import label

KINDS: Final = (
    "telephone", "postal", "money", "size", "date", "number", "address", "name", "currency",
)  # fmt: skip
"""Every kind of statement (concepts of vocab/terms/statement.ttl), the most particular first."""

BESIDE: Final = frozenset({("postal", "address")})
"""What may stand within which other statement."""

_BEFORE: Final = 24
"""So many letters before a struck part may say what it is: in "No. [[412]]" the "No."."""
_APART: Final = tuple(SeenLetter(letter, 0, 0) for letter in f"\n{GAP}\n")
_MOST_PLACES: Final = 6
"""So many places a decimal may have; beyond them a fraction is easier to read."""


@dataclass(frozen=True, slots=True)
class FoundStatement:
    """What some letters of a reading say, as far as a reader can tell; a person decides.

    `kind` is a concept of vocab/terms; `start` and `end` are places in the markup, in code points;
    `value` is what it comes to: the EDTF of a date, a sum with its currency, a size in mm. `doubtful`
    says that one of its letters is, `struck` that it was struck out; `doubt` is why it may be nothing
    of the kind, "" where nothing speaks against it.
    """

    kind: str
    written: str
    start: int
    end: int
    value: str
    doubtful: bool = False
    struck: bool = False
    doubt: str = ""

    def decided(
        self,
        transcript: str,
        standing: str,
        *,
        kind: str | None = None,
        value: str | None = None,
    ) -> Statement:
        """The statement as it is kept: of which reading (its id), and what a person made of it.

        Two people who decide about the same letters at once decide about one value, so its id is
        made from them: the second is told, and nothing is kept twice.
        """
        accepted = self.value or None if standing == "standing/accepted" else None
        return Statement(
            id=str(uuid5(UUID(transcript), f"{self.start},{self.end}")),
            kind=kind or self.kind,
            written=self.written,
            transcript=transcript,
            start=self.start,
            end=self.end,
            standing=standing,
            value=value or accepted,
        )


class _Find(NamedTuple):
    """Some letters of a text that one of the readers took."""

    kind: str
    start: int
    end: int
    value: str
    doubt: str = ""


def find_statements(reading: Reading) -> tuple[FoundStatement, ...]:
    """What a reading says, in the order of the label.

    >>> from catalogue.reading import read
    >>> for each in find_statements(read("Lot [[38]]<<39>>, Inv. Nr. 4_7|No. 1[2]")):
    ...     print(each.kind, repr(each.written), each.start, each.end, each.value, each.doubtful)
    statement/number 'Lot 39' 0 14 39 False
    statement/number 'Lot 38' 0 8 38 False
    statement/number 'Inv. Nr. 47' 18 30 47 True
    """
    letters = LabelText.of(reading).letters
    found = [
        *_statements(_as_left(letters), struck=False),
        *_statements(_struck(letters), struck=True),
    ]
    return tuple(sorted(found, key=lambda each: (each.start, -each.end)))


def open_statements(
    transcript: Transcript, decided: Iterable[Statement]
) -> tuple[FoundStatement, ...]:
    """What a reading says as far as nobody decided about it yet.

    Decided is what has a statement in the same letters of the same reading, and what was decided in
    another reading of the inscription: the same kind, or corrected to another, in the same words.
    """
    here: set[tuple[int, int]] = set()
    elsewhere: set[tuple[str, str]] = set()
    for each in decided:
        if each.transcript == transcript.id:
            here.add((each.start, each.end))
        else:
            corrected = each.standing == "standing/corrected"
            elsewhere.add(("" if corrected else each.kind, fold(each.written)))
    return tuple(
        each
        for each in find_statements(transcript.reading())
        if (each.start, each.end) not in here
        and not {("", fold(each.written)), (each.kind, fold(each.written))} & elsewhere
    )


# --- the texts of a label -----------------------------------------------------------------------


def _as_left(letters: Sequence[SeenLetter]) -> LabelText:
    """The text without what was struck out."""
    return LabelText(tuple(_single_blanks(each for each in letters if not each.struck)))


def _struck(letters: Sequence[SeenLetter]) -> LabelText:
    """Each part that was struck out behind its line, apart from the others as by a lost part."""
    left: list[SeenLetter] = []
    found: list[SeenLetter] = []
    for struck, part in groupby(letters, key=lambda each: each.struck):
        if struck:
            line = takewhile(lambda each: each.letter != "\n", reversed(left[-_BEFORE:]))
            found += (*tuple(line)[::-1], *part, *_APART)
        else:
            left += part
    return LabelText(tuple(found))


def _single_blanks(letters: Iterable[SeenLetter]) -> Iterator[SeenLetter]:
    """The letters without the second of two blanks, between which something was struck out."""
    last = ""
    for each in letters:
        if not (each.letter == " " and last in (" ", "\n")):
            yield each
        last = each.letter


def _statements(text: LabelText, *, struck: bool) -> Iterator[FoundStatement]:
    """What a text says; of the struck parts only what reaches into one."""
    finds = [
        each
        for each in _finds(text.text)
        if not struck or any(it.struck for it in text.letters[each.start : each.end])
    ]
    for find in _without_overlaps(finds, len(text.text)):
        start, end = text.place(find.start, find.end)
        letters = text.letters[find.start : find.end]
        yield FoundStatement(
            kind=f"statement/{find.kind}",
            written=text.written(find.start, find.end),
            start=start,
            end=end,
            value=find.value,
            doubtful=any(each.doubtful for each in letters),
            struck=struck,
            doubt=find.doubt,
        )


def _finds(text: str) -> Iterator[_Find]:
    """What every reader takes, without what holds or touches a lost part."""
    for reader in READERS:
        for find in reader(text):
            if GAP in text[max(find.start - 1, 0) : find.end + 1]:
                continue
            # At most one blank stands between two letters of a line.
            before, behind = (
                text[max(find.start - 2, 0) : find.start],
                text[find.end : find.end + 2],
            )
            lost = GAP in (before.strip(" "), behind.strip(" "))
            yield find._replace(doubt=find.doubt or (_beside_a_gap() if lost else ""))


def _beside_a_gap() -> str:
    return str(table("statements.toml")["doubt"]["beside_a_gap"])


def _without_overlaps(finds: list[_Find], length: int) -> list[_Find]:
    """The finds that remain when each letter belongs to one, but for what may stand within another."""
    taken: list[str] = [""] * length
    kept: list[_Find] = []
    for find in sorted(finds, key=lambda it: (it.start - it.end, KINDS.index(it.kind))):
        there = {kind for kind in taken[find.start : find.end] if kind}
        if all((find.kind, kind) in BESIDE for kind in there):
            kept.append(find)
            taken[find.start : find.end] = [find.kind] * (find.end - find.start)
    return kept


# --- the readers ----------------------------------------------------------------------------------


def _dates(text: str) -> Iterator[_Find]:
    for each in find_dates(text):
        yield _Find("date", each.start, each.end, each.span.edtf)


def _sizes(text: str) -> Iterator[_Find]:
    for each in read_sizes(text):
        yield _Find("size", each.start, each.end, _in_mm(each), each.doubt)


def _in_mm(size: WrittenSize) -> str:
    """A size in words that any reader of sizes takes in again: "H. 610 x W. 500 mm"."""
    measures = (
        ("H.", size.height_mm), ("W.", size.width_mm), ("D.", size.depth_mm), ("diam.", size.diameter_mm),
    )  # fmt: skip
    said = " x ".join(f"{word} {mm:.10g}" for word, mm in measures if mm is not None)
    return f"{said} mm"


def _money(text: str) -> Iterator[_Find]:
    for each in read_money(text):
        yield _Find("money", each.start, each.end, _sums(each.readings), each.doubt)


def _sums(readings: Iterable[MoneyReading]) -> str:
    """Every way to read a sum, exact, each with its currencies: "31.1 GBP or 31.5 GBP"."""
    currencies: dict[Fraction, list[str]] = {}
    for each in readings:
        currencies.setdefault(each.value, []).append(each.currency)
    return " or ".join(
        f"{_exact(value)} {' or '.join(dict.fromkeys(held))}"
        for value, held in currencies.items()
    )


def _exact(value: Fraction) -> str:
    """A number as a decimal, as a fraction where no decimal is it.

    >>> _exact(Fraction(63, 5)), _exact(Fraction(1, 3)), _exact(Fraction(1500))
    ('12.6', '1/3', '1500')
    """
    for places in range(_MOST_PLACES + 1):
        scaled = value * 10**places
        if scaled.denominator == 1:
            return f"{Decimal(int(scaled)).scaleb(-places):f}"
    return str(value)


def _names(text: str) -> Iterator[_Find]:
    for each in find_names(text):
        family, given = each.value["family"], each.value["given"]
        listed = f"{family}, {given}" if given else family
        yield _Find("name", each.start, each.end, listed or "")


def _addresses(text: str) -> Iterator[_Find]:
    for each in find_addresses(text):
        if each.kind == "telephone" and "\n" in each.written:
            continue  # figures of two lines that happen to have its form
        said = (each.value.get(part) for part in _COMES_TO.get(each.kind, ()))
        lines = (line.strip(" ,") for line in each.written.split("\n"))
        value = " ".join(filter(None, said)) or ", ".join(lines)
        yield _Find(each.kind, each.start, each.end, value)


_COMES_TO: Final = {"postal": ("code",), "telephone": ("exchange", "number")}
"""What of the value of a find it comes to; of an address, its lines as one."""


def _numbers(text: str) -> Iterator[_Find]:
    for each in find_list_numbers(text):
        yield _Find("number", each.start, each.end, each.value)


def _currencies(text: str) -> Iterator[_Find]:
    for each in find_currencies(text):
        yield _Find("currency", each.start, each.end, " or ".join(map(label, each.means)))


READERS: Final[tuple[Callable[[str], Iterable[_Find]], ...]] = (
    _dates, _money, _sizes, _names, _addresses, _numbers, _currencies,
)  # fmt: skip
"""Every reader of statements in a text; they know a lost part by its sign."""
