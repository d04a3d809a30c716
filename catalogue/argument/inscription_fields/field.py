"""A whole field: its segments, the marks in them, and what is none."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

from catalogue.argument.inscription_fields.grammar import HeadReader
from catalogue.argument.inscription_fields.kinds import Before, kind_of, said_kind
from catalogue.argument.inscription_fields.mark import Mark
from catalogue.argument.inscription_fields.scan import Scan
from catalogue.argument.inscription_fields.transcription import transcription

_SIGNED: Final = frozenset({"signature", "monogram", "date"})
_THINGS: Final = frozenset({"label", "stamp", "seal", "plaque"})


_LINE_END: Final = re.compile(r"\r\n|\r|\n")


@dataclass(frozen=True, slots=True, kw_only=True)
class FieldMark:
    """One mark that the cataloguer tells apart; the field from `start` to `end` is about it.

    `kind` is a key of the group "inscription" in vocab/terms; `face` one of "face", or "frame" or
    "tacking-edge" where it isn't said which; `part` one of "part". `place` and `technique` are in our
    words, None where nothing is said; a place that no list has is as the cataloguer wrote it. `text`
    is what was copied from the object, "" for nothing; `lines`, `markup`, `years` and `short_years`
    are as in `Transcription`. `remark` is what else the cataloguer says of the mark.
    """

    kind: str
    face: str | None
    place: str | None
    part: str | None
    technique: str | None
    text: str
    lines: tuple[str, ...]
    markup: str
    years: tuple[int, ...]
    short_years: tuple[int, ...]
    remark: str
    start: int
    end: int


@dataclass(frozen=True, slots=True, kw_only=True)
class InscriptionField:
    """A field, its items in order, and the stretches of it that no item holds.

    Items, the stretches `unread`, and white space, ";" and "." between them are the whole text.
    """

    text: str
    items: tuple[FieldMark, ...]
    unread: tuple[tuple[int, int], ...]

    @property
    def rest(self) -> str:
        """The characters that no item holds, in order."""
        return "".join(self.text[start:end] for start, end in self.unread)


def read_inscriptions(text: str) -> InscriptionField:
    """The marks that a field describes. Never raises; the time grows with the length.

    >>> field = read_inscriptions("Signed l.l.: A. Wynne / 1887; verso, on label: Low Tide")
    >>> for mark in field.items:
    ...     print(mark.kind, mark.face, mark.place, mark.lines)
    signature None lower left ('A. Wynne', '1887')
    label back None ('Low Tide',)
    >>> read_inscriptions("unsigned").rest
    'unsigned'
    """
    reader = _FieldReader(text)
    for start, end in reader.stretches():
        reader.read(start, end)
    return InscriptionField(text=text, items=tuple(reader.items), unread=tuple(reader.unread))


class _FieldReader:
    """The items and the unread stretches of a field, as far as it has been read."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.scan = Scan(text)
        self.heads = HeadReader(self.scan)
        self.items: list[FieldMark] = []
        self.unread: list[tuple[int, int]] = []
        self._said = Before()
        self._heading_face: str | None = None  # of "Verso:" alone on its line

    def stretches(self) -> Iterator[tuple[int, int]]:
        """The segments, each line that ends in its head's colon with the lines of its text."""
        waiting: tuple[int, int] | None = None
        for start, end in self.scan.segments():
            if waiting and self._is_line_of_text(start, end):
                waiting = (waiting[0], end)
                continue
            if waiting:
                yield waiting
            waiting = (start, end) if self._awaits_text(start, end) else None
            if not waiting:
                yield start, end
        if waiting:
            yield waiting

    def _awaits_text(self, start: int, end: int) -> bool:
        last = self.scan.before(end, start)
        if last < start or self.scan.tokens[last] != ":":
            return False
        head = self.heads.read(start, end)
        return head.stopped == "colon" and self.scan.skip_blanks(head.end, end) == end

    def _is_line_of_text(self, start: int, end: int) -> bool:
        """Whether a segment begins on the very next line and has no head of its own."""
        if len(_LINE_END.findall(self.scan.tokens[start - 1])) != 1:
            return False
        at = self.scan.skip_blanks(start, end)
        return at < end and not self.heads.read(at, end).says_something

    def read(self, start: int, end: int) -> None:
        """Read the tokens of one stretch."""
        goes_on = start > 0 and self.scan.tokens[start - 1] == ";"
        at = self.scan.skip_blanks(start, end)
        while at < end:
            behind = self._behind_nothing(at, end)
            if behind is not None:
                self._leave(at, behind)
            elif self.items and self._is_translation(at, end):
                self._join_to_last(at, end)
                behind = end
            else:
                behind = self._read_mark(at, end, goes_on=goes_on)
            goes_on = False
            at = self.scan.skip_blanks(behind, end)

    def _read_mark(self, start: int, end: int, *, goes_on: bool) -> int:
        mark = Mark(self.scan, self.heads, start, end)
        if mark.is_heading():
            self._heading_face = mark.head.face()
            self._leave(start, mark.end)
        elif mark.says_that_nothing_is_there():
            self._leave(start, mark.end)
        else:
            if self._heading_face and not mark.head.face():
                mark.head.faces.append(self._heading_face)
            before = self._said if goes_on else None
            item = self._item(mark, before)
            self.items.append(item)
            same_list = before is not None and not mark.head.located
            self._said = Before(
                kind=said_kind(mark.head) or (self._said.kind if same_list else ""),
                face=item.face or (self._said.face if goes_on else None),
            )
        return mark.end

    def _item(self, mark: Mark, before: Before | None) -> FieldMark:
        start, end = self._span(mark.start, mark.end)
        kind = kind_of(mark, before)
        copied = transcription(mark.text, signed=kind in _SIGNED, drawn=kind in _THINGS)
        return FieldMark(
            kind=kind,
            face=mark.head.face(),
            place=mark.place(),
            part=mark.head.part(),
            technique=mark.head.technique(),
            text=copied.text,
            lines=copied.lines,
            markup=copied.markup,
            years=copied.years,
            short_years=copied.short_years,
            remark="; ".join(mark.remarks()),
            start=start,
            end=end,
        )

    # -- what is no mark

    def _behind_nothing(self, at: int, end: int) -> int | None:
        """The place behind words that say that nothing is there, or behind signs alone.

        None where a mark begins.
        """
        scan = self.scan
        here, said = at, False
        while here < end:
            found = scan.wording(here, end)
            if found and any(each.group == "nothing" for each in found[1]):
                here, said = found[0], True
            elif found and said and all(each.group == "between" for each in found[1]):
                here = found[0]
            elif scan.tokens[here].isalnum() or here in scan.quotes:
                break
            else:
                here += 1
        if here == end:
            return end
        breaks_off = said and scan.tokens[scan.before(here, at)] in ",.:"
        return here if breaks_off and self.heads.read(here, end).says_something else None

    def _leave(self, start: int, end: int) -> None:
        """Note a stretch as unread, without separators at its ends."""
        first, last = self._span(start, end)
        while first < last and _separates(self.text[first]):
            first += 1
        while last > first and _separates(self.text[last - 1]):
            last -= 1
        if last > first:
            self.unread.append((first, last))

    def _is_translation(self, at: int, end: int) -> bool:
        found = self.scan.wording(at + (self.scan.tokens[at] in "[("), end)
        return found is not None and found[1][0].group == "translation"

    def _join_to_last(self, start: int, end: int) -> None:
        """What only translates the mark before it belongs to that mark, as a remark."""
        first, last = self._span(start, end)
        mark = self.items.pop()
        remark = "; ".join(filter(None, (mark.remark, self.text[first:last])))
        self.items.append(replace(mark, remark=remark, end=last))

    def _span(self, start: int, end: int) -> tuple[int, int]:
        """From the first to the last letter of some tokens, without the blanks and ";" behind."""
        first, last = self.scan.starts[start], self.scan.starts[end]
        while last > first and (self.text[last - 1].isspace() or self.text[last - 1] == ";"):
            last -= 1
        return first, last


def _separates(letter: str) -> bool:
    return letter in ";." or letter.isspace()
