"""A cataloguer's prose about what is written on a picture → one item for each mark, and the rest.

A line end or a semicolon begins another mark; so does a sentence or a phrase that has a place or a
kind of its own. What stands in quotation marks or brackets is never cut. The words are in
vocab/inscription_fields.toml. An item says what the cataloguer says, no more: a kind that nobody
names is told from the text only where its form leaves little doubt.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

from catalogue.argument.inscription_heads import Head, HeadReader
from catalogue.argument.inscription_scan import Scan
from catalogue.argument.inscription_texts import lines_of, transcription
from catalogue.argument.inscription_words import Meaning, guesses, listed, table

SEPARATORS: Final = ";."
"""What may stand between items and rest beside white space, belonging to neither."""
_BULLET: Final = re.compile(r"(?:\(?(?:\d{1,2}|[a-h])[.)]|[•*–-])\s+")
_BRACKETED: Final = re.compile(r"\[[^\[\]]*\]")
_PLACES_ALONE: Final = {"upper": "top", "lower": "bottom"}
_EDGES: Final = {"upper": "top", "lower": "bottom", "left": "left", "right": "right"}
_SENTENCE_ENDS: Final = frozenset(".!?)]\"”’'")
_LONGEST_TAIL: Final = 48
_LONGEST_NAMED: Final = 200
_LONGEST_SIGNATURE: Final = 12
_SIGNED: Final = ("signature", "monogram", "date")
_WHERE_ONE_SIGNS: Final = frozenset(
    {"lower left", "lower right", "left", "right", "centre left", "centre right"}
)
_THINGS: Final = frozenset({"label", "stamp", "seal", "plaque"})
_GOES_ON: Final = frozenset({"label", "inscription"})
_IN_BRACKETS: Final = frozenset({"monogram", "signature", "stamp", "label", "seal"})


@dataclass(frozen=True, slots=True, kw_only=True)
class FieldMark:
    """One mark that the cataloguer tells apart; the field from `start` to `end` is about it.

    `kind` is a key of the group "inscription" in vocab/terms; `face` one of "face", or "frame" or
    "tacking-edge" where it isn't said which; `part` one of "part". `place` and `technique` are in our
    words, None where nothing is said. `text` is what was copied from the object, "" for nothing;
    `lines`, `markup`, `years` and `short_years` are as in `Transcription`. `remark` is what else the
    cataloguer says of the mark.
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

    Items, the stretches `unread` and separators between them are the whole text.
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
    reading = _Field(text)
    reading.read()
    return InscriptionField(text=text, items=tuple(reading.items), unread=tuple(reading.unread))


class _Field:
    def __init__(self, text: str) -> None:
        self.text = text
        self.scan = Scan(text)
        self.heads = HeadReader(self.scan)
        self.items: list[FieldMark] = []
        self.unread: list[tuple[int, int]] = []
        self.goes_on = False  # whether only a semicolon parts the mark from the one before
        self.said_before = ""  # the kind that was last said
        self.face_before: str | None = None

    def read(self) -> None:
        for start, end in self.scan.segments():
            self.goes_on = start > 0 and self.scan.tokens[start - 1] == ";"
            at = self.scan.skip_blanks(start, end)
            while at < end:
                behind = self._nothing(at, end)
                if behind is None:
                    behind = self._mark(at, end)
                at = self.scan.skip_blanks(behind, end)

    def _mark(self, at: int, end: int) -> int:
        if self.items and self._is_translation(at, end):
            self._join_to_last(at, end)
            return end
        mark = _Mark(self, at, end)
        behind = mark.read()
        if mark.says_that_nothing_is_there():
            self._leave(at, behind)
        else:
            item = mark.item()
            self.items.append(item)
            if mark.head.kinds or "label" in mark.head.parts:
                self.said_before = item.kind
            elif mark.head.located:
                self.said_before = ""
            if mark.head.located or not self.goes_on:
                self.face_before = item.face
        self.goes_on = False
        return behind

    def _is_translation(self, at: int, end: int) -> bool:
        bracket = self.scan.tokens[at] in "[("
        found = self.scan.wording(at + bracket, end)
        return found is not None and found[1][0].group == "translation"

    def _join_to_last(self, start: int, end: int) -> None:
        """What only translates the mark before it belongs to that mark, as a remark."""
        first, last = self.span(start, end)
        mark = self.items.pop()
        remark = "; ".join(filter(None, (mark.remark, self.text[first:last])))
        self.items.append(replace(mark, remark=remark, end=last))

    def span(self, start: int, end: int) -> tuple[int, int]:
        """The letters of some tokens, without separators at their ends."""
        first, last = self.scan.starts[start], self.scan.starts[end]
        while last > first and (self.text[last - 1].isspace() or self.text[last - 1] == ";"):
            last -= 1
        return first, last

    def _nothing(self, at: int, end: int) -> int | None:
        """The place behind words that say that nothing is there, or behind signs alone."""
        here, said = at, False
        while here < end:
            token = self.scan.tokens[here]
            found = self.scan.wording(here, end)
            if found and any(each.group == "nothing" for each in found[1]):
                here, said = found[0], True
            elif token.isalnum() or here in self.scan.quotes:
                break
            else:
                here += 1
        if here < end and not (said and self._breaks_before(here, at)):
            return None
        self._leave(at, here)
        return here

    def _breaks_before(self, here: int, start: int) -> bool:
        before = self.scan.before(here, start)
        return (
            self.scan.tokens[before] in ",.:"
            and self.heads.read(here, len(self.scan.tokens)).says_something
        )

    def _leave(self, start: int, end: int) -> None:
        first, last = self.span(start, end)
        while first < last and _separates(self.text[first]):
            first += 1
        while last > first and _separates(self.text[last - 1]):
            last -= 1
        if last > first:
            self.unread.append((first, last))


def _without_its_bracket(text: str) -> str:
    """The text in a bracket that only sets the whole off: "[A. Wynne / 1887]"."""
    inside = text[1:-1]
    if text[:1] != "[" or text[-1:] != "]" or set("[]") & set(inside):
        return text
    if len(inside) > 2 and inside[0] + inside[-1] in ('""', "“”", "''", "‘’"):
        return inside[1:-1].strip()
    words = {word.casefold() for word in re.findall(r"[^\W\d_]+", inside)}
    described = words & (listed("bracket", "drawn") | listed("bracket", "unread"))
    return inside.strip() if " / " in inside and not described else text


def _separates(letter: str) -> bool:
    return letter in SEPARATORS or letter.isspace()


class _Mark:
    """One mark while it is read: its head, and the tokens of its text."""

    def __init__(self, field: _Field, start: int, end: int) -> None:
        self.field = field
        self.scan = field.scan
        self.heads = field.heads
        self.start = start
        self.end = end  # of the segment; of the mark once it is read
        self.head = Head(start, start, "text")
        self.text = ""
        self.first = end
        self.remarks: list[str] = []
        self.cut_at_sentence = False

    def read(self) -> int:
        """Read it, and return the place behind it."""
        self._read_head()
        if self.head.stopped == "mark":
            self.end = self.head.next_mark
        else:
            self.first = self._behind_signs(self.head.end)
            if self.head.stopped == "text" and any(kind.thing for kind in self.head.kinds):
                self.first = self._behind_small_words(self.first)
            if self.first in self.scan.quotes:
                self._quoted()
            elif self.first < self.end:
                self._unquoted()
        return self.end

    def says_that_nothing_is_there(self) -> bool:
        """Whether its text is a "none": "Signature: none"."""
        said = self.text.strip(" .[]()").casefold()
        nothing = listed("nothing", "words") | listed("nothing", "answers")
        return self.head.stopped == "colon" and said in nothing

    def _read_head(self) -> None:
        at = self.start
        written = self.field.text
        bullet = _BULLET.match(written, self.scan.starts[at], self.scan.starts[at] + 8)
        if bullet:
            behind = at
            while behind < self.end and self.scan.starts[behind] < bullet.end():
                behind += 1
            head = self.heads.read(behind, self.end)
            if head.says_something:
                self.head = head
                return
        head = self.heads.read(at, self.end)
        if not head.says_something and head.remarks and head.stopped == "text":
            self.remarks += [self._written(*span) for span in head.remarks]
            self.head = Head(at, head.end, "text")
        elif head.says_something and not self._is_text_after_all(head):
            self.head = head

    def _is_text_after_all(self, head: Head) -> bool:
        """Whether what looks like a head is the beginning of a bare text: "Front Street"."""
        scan = self.scan
        first = scan.tokens[head.start]
        if head.stopped != "text" or head.exact or not first[:1].isupper():
            return False
        if any(kind.key != "inscription" or kind.opens for kind in head.kinds):
            return False
        if first.casefold() in listed("certain", "words"):
            return False
        following = scan.skip_blanks(head.end, self.end)
        return following < self.end and scan.tokens[following][:1].isupper()

    def _behind_signs(self, at: int) -> int:
        """The first token of the text: behind a comma or dash that only parts it from the head."""
        at = self.scan.skip_blanks(at, self.end)
        while (
            at < self.end
            and at > self.start
            and self.scan.tokens[at] in ",.:–—-"
            and (at + 1 >= self.end or self.scan.tokens[at + 1].isspace())
        ):
            at = self.scan.skip_blanks(at + 1, self.end)
        return at

    def _behind_small_words(self, at: int) -> int:
        """Behind the "of the" of "label of the Harbour Rooms"."""
        while at < self.end:
            found = self.scan.wording(at, self.end)
            if not found or any(meaning.group != "between" for meaning in found[1]):
                break
            at = self.scan.skip_blanks(found[0], self.end)
        return at

    # -- a text in quotation marks

    def _quoted(self) -> None:
        """Take the quotations, and what is said of them behind them, up to the next mark."""
        scan = self.scan
        pieces = [self.first]
        at = scan.closes[self.first] + 1
        told_behind = told_between = False
        while True:
            here = scan.skip_blanks(at, self.end)
            comma = here < self.end and scan.tokens[here] in ",."
            here = scan.skip_blanks(here + 1, self.end) if comma else here
            if here >= self.end:
                break
            if here in scan.quotes and comma and told_behind:
                self.end = here
                break
            if here in scan.quotes:
                pieces.append(here)
                told_between = told_between or told_behind
                at = scan.closes[here] + 1
                continue
            more = self.heads.read(here, self.end, strict=True, kinds=tuple(self.head.kinds))
            if not more.says_something and more.stopped == "quote":
                at = self._behind_small_words(here)  # "A" and "B"
                continue
            if not more.says_something:
                self._behind_quotations(here, told_behind=told_behind or comma)
                if not self.remarks:
                    return
                break
            if self._is_another(more, told_behind=told_behind):
                self.end = here
                break
            self.head.absorb(more)
            told_behind, at = True, more.end
            if more.stopped == "mark":
                self.end = more.next_mark
                break
        if len(pieces) == 1 or told_between:
            self.text = " ".join(self._inside(piece) for piece in pieces)
        else:
            self.text = self._written(self.first, scan.closes[pieces[-1]] + 1)

    def _inside(self, opening: int) -> str:
        first = self.scan.starts[opening + 1]
        return self.field.text[first : self.scan.starts[self.scan.closes[opening]]].strip(" ,")

    def _is_another(self, more: Head, *, told_behind: bool) -> bool:
        """Whether the head behind a quotation begins another mark."""
        head = self.head
        if more.kinds:
            only_date = all(kind.key == "date" for kind in more.kinds)
            one = only_date and head.kinds and not (head.located and more.located)
            if not one or more.stopped != "quote":
                return True
            return told_behind and self.heads.placed_behind(
                self.scan.skip_blanks(more.end, self.end), self.end
            )
        if more.stopped == "colon":
            return True
        return more.stopped == "quote" and head.located and more.located

    def _behind_quotations(self, at: int, *, told_behind: bool) -> None:
        """Other words behind a quotation: a remark after a comma, else the text goes on."""
        cut = self._next_mark(at)
        if told_behind:
            self.remarks.append(self._written(at, cut))
        else:
            self.text = self._written(self.first, cut)
        self.end = cut

    # -- a text without quotation marks

    def _unquoted(self) -> None:
        cut = self._next_mark(self.first + 1)
        tail = self._tail(cut)
        self.text = self._written(self.first, tail)
        if self.cut_at_sentence or (cut == self.end and self._follows_a_sentence()):
            self.text = self.text.removesuffix(".")
        self.end = cut

    def _follows_a_sentence(self) -> bool:
        before = self.scan.before(self.start, 0)
        return before >= 0 and self.scan.tokens[before] == "."

    def _written(self, start: int, end: int) -> str:
        scan = self.scan
        return (
            self.field.text[scan.starts[start] : scan.starts[end]].strip().rstrip(",|").rstrip()
        )

    def _next_mark(self, at: int) -> int:
        """Where in the text another mark begins, the end of the segment when none does."""
        scan = self.scan
        while at < self.end:
            if at > self.first and self._begins_mark(at):
                return at
            at = scan.after(at)
        return self.end

    def _begins_mark(self, at: int) -> bool:
        scan = self.scan
        token = scan.tokens[at]
        if not scan.tokens[at - 1].isspace():
            return False
        if token in "[(":
            return self._bracket_begins_mark(at)
        listed_here = scan.wording(at, self.end) if token[:1].isalpha() else None
        if listed_here is None:
            return False
        before = scan.before(at, self.first)
        sign = scan.tokens[before] if before >= self.first else ""
        small = all(each.group == "between" for each in listed_here[1])
        joining = small and listed_here[1][0].key == "and"
        ends_sentence = sign in _SENTENCE_ENDS
        if small and not joining and not ends_sentence and sign != ",":
            return False
        more = self.heads.read(at, self.end, strict=True)
        if not more.says_something:
            return False
        if ends_sentence:
            begins = self._sentence_begins_mark(more)
        elif sign == "," or joining:
            begins = self._clause_begins_mark(more)
        else:
            begins = more.stopped == "colon" and (more.exact or bool(more.faces))
        self.cut_at_sentence = begins and sign == "."
        return begins

    def _bracket_begins_mark(self, at: int) -> bool:
        tag = self.heads.tag(at)
        if tag is None:
            return False
        behind = self.scan.skip_blanks(self.scan.closes[at] + 1, self.end)
        if self.scan.tokens[at] == "(":
            opened = self.scan.tokens[self.start] == "("
            return opened and tag.located and behind < self.end
        if not tag.kinds or not self.scan.tokens[at + 1][:1].isupper() or behind >= self.end:
            return False
        more = self.heads.read(behind, self.end, strict=True)
        return (
            self.scan.tokens[behind] == ":" or more.says_something or behind in self.scan.quotes
        )

    def _sentence_begins_mark(self, more: Head) -> bool:
        strong = more.exact or bool(more.faces or more.parts)
        opens = any(kind.opens or kind.thing for kind in more.kinds)
        if more.stopped == "colon" and (strong or opens):
            return True
        if opens and (strong or more.stopped in ("quote", "end")):
            return True
        return strong and (more.stopped == "quote" or more.exact or self._next(more.end) == ",")

    def _clause_begins_mark(self, more: Head) -> bool:
        strong = more.exact or bool(more.faces or more.parts)
        opens = any(kind.opens or kind.thing for kind in more.kinds)
        if more.stopped in ("colon", "quote"):
            return strong or opens
        return opens and strong

    def _next(self, at: int) -> str:
        at = self.scan.skip_blanks(at, self.end)
        return self.scan.tokens[at] if at < self.end else ""

    def _tail(self, cut: int) -> int:
        """Where the text ends: before words behind it that say where it stands or how it was made."""
        scan = self.scan
        for at in range(max(self.first + 1, cut - _LONGEST_TAIL), cut):
            if not scan.tokens[at - 1].isspace() or not self._may_begin_tail(at):
                continue
            more = self.heads.read(at, cut, strict=True)
            if more.says_something and self._is_tail(at, more, cut):
                self.head.absorb(more)
                if more.kinds:  # "the Harbour Rooms label"
                    self.first = self._behind_small_words(self.first)
                return at
        return cut

    def _may_begin_tail(self, at: int) -> bool:
        token = self.scan.tokens[at]
        return token == "(" or token[:1].islower() or (token.isupper() and len(token) < 4)

    def _is_tail(self, at: int, more: Head, cut: int) -> bool:
        scan, head = self.scan, self.head
        if more.stopped not in ("end", "colon"):
            return False
        if scan.tokens[at].casefold() in listed("between", "of"):
            return False
        if more.kinds:  # "Harbour Rooms label on the stretcher"
            return not head.says_something and all(kind.thing for kind in more.kinds)
        if any(scan.tokens[place].isalnum() for place in range(more.end, cut)):
            return False
        small = any(meaning.group == "between" for meaning in self._first_meanings(at))
        comma = scan.tokens[scan.before(at, self.first)] == ","
        where = more.exact or bool(more.faces) or (bool(more.parts) and (small or comma))
        where = where and not head.located
        how = not head.makings and bool(more.makings) and scan.tokens[at] in ("in", "(")
        if scan.tokens[at] == "(":
            return more.located or how
        return how or (where and (head.stopped != "colon" or comma))

    def _first_meanings(self, at: int) -> list[Meaning]:
        found = self.scan.wording(at, self.end)
        return found[1] if found else []

    # -- what it comes to

    def item(self) -> FieldMark:
        """What has been read."""
        start, end = self.field.span(self.start, self.end)
        head = self.head
        if not head.says_something:
            self._describe_by_bracket()
        elif not self.text and self._is_description():
            self.text = self._written(self.start, self.end).rstrip(SEPARATORS)
        self.text = _without_its_bracket(self.text)
        kind = self._kind()
        copied = transcription(self.text, signed=kind in _SIGNED, drawn=kind in _THINGS)
        return FieldMark(
            kind=kind,
            face=self._face(),
            place=place_in_words(head) or self._spot(),
            part=next((part for part in head.parts if part != "label"), None)
            or next(iter(head.parts), None),
            technique=technique_in_words(head),
            text=copied.text,
            lines=copied.lines,
            markup=copied.markup,
            years=copied.years,
            short_years=copied.short_years,
            remark="; ".join([*self._head_remarks(), *self.remarks]),
            start=start,
            end=end,
        )

    def _head_remarks(self) -> Iterator[str]:
        spots = self.head.spots if place_in_words(self.head) else self.head.spots[1:]
        for start, end in sorted([*self.head.remarks, *spots]):
            yield self._written(start, end)

    def _spot(self) -> str | None:
        """A place in the cataloguer's own words, where no listed one is said."""
        spot = next(iter(self.head.spots), None)
        return self._written(*spot) if spot else None

    def _is_description(self) -> bool:
        """Whether the whole mark is a bracket that describes: "[stamp]", and no tag: "[Stamp]"."""
        scan = self.scan
        closing = scan.closes.get(self.start)
        if closing is None or scan.tokens[self.start] != "[":
            return False
        return scan.tokens[self.start + 1].islower() and self.head.end == closing + 1

    def _describe_by_bracket(self) -> None:
        """A mark that is only described: "[five labels on the backing]"."""
        scan = self.scan
        if self.first not in scan.closes or scan.tokens[self.first] != "[":
            return
        closing = scan.closes[self.first]
        whole = scan.skip_blanks(closing + 1, self.end) >= self.end
        at = self.first + 1
        while at < closing:
            found = scan.wording(at, closing)
            for meaning in found[1] if found else ():
                if meaning.group == "kind":
                    self.head.kinds.append(meaning)
                elif whole and meaning.group == "face":
                    self.head.faces.append(meaning.key)
                elif whole and meaning.group == "part" and meaning.key:
                    self.head.parts.append(meaning.key)
            at = found[0] if found else at + 1

    def _kind(self) -> str:
        head = self.head
        if not head.kinds:
            return "label" if "label" in head.parts else self._guessed()
        first = head.kinds[0]
        if first.thing:
            return first.key
        kind = min(head.kinds, key=lambda each: each.rank).key
        if kind != "inscription":
            return kind
        if "label" in head.parts:
            return "label"
        return self._guessed() if head.neutral else kind

    def _guessed(self) -> str:
        if told := self._told_in_brackets():
            return told
        goes_on = self.field.goes_on and not self.head.located
        if goes_on and self.field.said_before in _GOES_ON:
            return self.field.said_before
        text = _BRACKETED.sub(" ", self.text)
        flat = " ".join(text.split())
        if len(flat) <= 200:
            for guess in guesses():
                if guess.pattern.fullmatch(flat):
                    return guess.kind
        by_artist = any("artist" in remark for remark in self._head_remarks())
        face = self.field.face_before if goes_on else self._face()
        if not by_artist and face not in (None, "front"):
            return "inscription"
        lines = lines_of(text[:_LONGEST_NAMED])
        in_corner = place_in_words(self.head) in _WHERE_ONE_SIGNS
        if listed("name", "age").intersection(
            re.findall(r"\w+", self.text[:_LONGEST_NAMED].casefold())
        ):
            return "inscription"
        named = any(is_name(line, plainly=True) for line in lines[:3])
        signs = named or (in_corner and bool(lines) and is_name(lines[0]))
        return (
            "signature"
            if signs and len(self.text.split()) <= _LONGEST_SIGNATURE
            else "inscription"
        )

    def _told_in_brackets(self) -> str | None:
        """The kind that a bracket in the text names: "AW [monogram] 1887", "[stamp] A. Wynne"."""
        scan = self.scan
        for at in range(self.first, self.end):
            if scan.tokens[at] != "[" or at not in scan.closes:
                continue
            for kind in self._kinds_between(at + 1, scan.closes[at]):
                if at == self.first or not kind.thing:
                    return kind.key
        return None

    def _kinds_between(self, at: int, end: int) -> Iterator[Meaning]:
        while at < end:
            found = self.scan.wording(at, end)
            for meaning in found[1] if found else ():
                if meaning.group == "kind" and meaning.key in _IN_BRACKETS:
                    yield meaning
            at = found[0] if found else at + 1

    def _face(self) -> str | None:
        head = self.head
        side = next(iter(head.faces), None)
        for part in head.parts:
            faces = table()["face_of_part"].get(part)
            face: str | None = faces and faces.get(side or "alone", faces.get("alone"))
            if face == "tacking-edge":
                return self._edge()
            if face:
                return face
        return side

    def _edge(self) -> str:
        edges = [_EDGES[each.key] for each in self.head.where if each.key in _EDGES]
        return f"tacking-edge-{edges[0]}" if len(edges) == 1 else "tacking-edge"


def is_name(text: str, *, plainly: bool = False) -> bool:
    """Whether a line looks like a name that signs: few words, each with a capital, perhaps a year.

    `plainly` asks for more than words with a capital: for initials, a year, or "fecit".

    >>> [is_name(each) for each in ("A. Wynne 87", "A. van Wynne pinx.", "AW", "View of the sea")]
    [True, True, True, False]
    >>> is_name("Low Tide"), is_name("Low Tide", plainly=True)
    (True, False)
    """
    words = re.findall(r"[^\W\d_][\w.'’-]*|\d+|©", text)
    names = [word for word in words if not word.isdigit() and not _is_signing(word)]
    if not 1 <= len(names) <= 5:
        return False
    initials = [word for word in names if len(word.rstrip(".")) == 1 or word.count(".") > 1]
    plain = {word.casefold().rstrip(".") for word in names if word not in initials}
    if plain & (listed("name", "never") | listed("name", "age")):
        return False
    capitals = [
        word[0].isupper()
        for word in names
        if word.casefold() not in listed("name", "particles")
    ]
    if not capitals or not all(capitals):
        return False
    return not plainly or bool(initials) or len(names) < len(words) or _is_code(names)


def _is_signing(word: str) -> bool:
    return word.casefold() in listed("name", "signing")


def _is_code(names: list[str]) -> bool:
    """Whether it is nothing but the initials of a name, "AW"."""
    return len(names) == 1 and names[0].isupper() and len(names[0]) < 4


def place_in_words(head: Head) -> str | None:
    """Where on its face a mark is, "lower left"; several places are joined by "and".

    A word for a row alone is "top" or "bottom".
    """
    places: list[dict[str, str]] = [{}]
    for meaning in head.where:
        current = places[-1]
        if meaning.group in ("whole", "short"):
            if current:
                places.append({})
            places[-1]["whole"] = meaning.key
        elif meaning.group == "zone":
            current.setdefault("zone", meaning.key)
        elif "whole" in current or meaning.group in current:
            row = (
                {"row": current["row"]}
                if meaning.group == "column" and "row" in current
                else {}
            )
            places.append({**row, meaning.group: meaning.key})
        else:
            current[meaning.group] = meaning.key
    told = dict.fromkeys(filter(None, map(_place, places)))
    return " and ".join(told) or None


def _place(found: dict[str, str]) -> str:
    row, column, centre = found.get("row"), found.get("column"), "centre" in found
    zone = found.get("zone", "").replace("corner", "")
    if "whole" in found:
        place = found["whole"]
    elif row and column:
        place = f"{row} {column}"
    elif centre:
        place = f"{row} centre" if row else f"centre {column}" if column else "centre"
    else:
        place = row or column or ""
        place = place if zone else _PLACES_ALONE.get(place, place)
    return f"{place} {zone}".strip()


def technique_in_words(head: Head) -> str | None:
    """How a mark was made, "red paint": colours before what they colour, as English has them."""
    told: list[str] = []
    for run in head.makings:
        words: list[str] = []
        groups: list[str] = []
        for meaning in run:
            behind_medium = meaning.group == "colour" and groups[-1:] == ["medium"]
            words.insert(len(words) - behind_medium, meaning.key)
            groups.insert(len(groups) - behind_medium, meaning.group)
        told.append(" ".join(words))
    return ", ".join(dict.fromkeys(told)) or None
