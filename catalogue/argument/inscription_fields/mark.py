"""One mark of a field: its head, and where the text that was copied begins and ends.

A text in quotation marks ends with them, and what stands behind them may still be head. Any other
text goes on until a sentence or a phrase begins that has a place or a kind of its own.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final

from catalogue.argument.inscription_fields.grammar import HeadReader
from catalogue.argument.inscription_fields.head import Head
from catalogue.argument.inscription_fields.scan import LINE_ENDS, Scan
from catalogue.argument.inscription_fields.words import Meaning, listed

_BULLET: Final = re.compile(r"(?:\(?(?:\d{1,2}|[a-h])[.)]|[•*–-])\s+")
_FULL_STOP: Final = re.compile(r"(?<=\w\w)\.\Z")
"""A full stop that ends no initials."""
_SENTENCE_ENDS: Final = frozenset(".!?)]\"”’'")
_LONGEST_TAIL: Final = 48
_QUOTED: Final = frozenset({'""', "“”", "''", "‘’"})


class Mark:
    """The mark that begins at the token `start`, read up to the token `end`.

    `first` is the token where its text begins; `text` is that text, as written.
    """

    def __init__(self, scan: Scan, heads: HeadReader, start: int, end: int) -> None:
        self.scan = scan
        self.heads = heads
        self.start = start
        self.end = end
        self.first = end
        self.head = Head(start, start, "text")
        self.text = ""
        self.other_words: list[str] = []
        self._ends_sentence = False
        self._read()

    def _read(self) -> None:
        self._read_head()
        if self.head.stopped == "mark":
            self.end = self.head.next_mark
        else:
            self.first = self._behind_signs(self.head.end)
            if self.head.stopped == "text" and any(kind.thing for kind in self.head.kinds):
                self.first = self._behind_small_words(
                    self.first
                )  # "label of the Harbour Rooms"
            if self.first in self.scan.quotes:
                self._quoted()
            elif self.first < self.end:
                self._unquoted()
        if not self.head.says_something:
            self._describe_by_bracket()
        elif not self.text and self._is_description():
            self.text = self.written(self.start, self.end).rstrip(".")
        self.text = _without_its_bracket(self.text)

    # -- what is said of it

    def says_that_nothing_is_there(self) -> bool:
        """Whether it only names what is missing: "Signature: none", "[Signature] unsigned"."""
        head = self.head
        if head.nothing and not (self.text or head.located or any(k.opens for k in head.kinds)):
            return True
        said = self.text.strip(" .[]()").casefold()
        nothing = listed("nothing", "words") | listed("nothing", "answers")
        return head.stopped == "colon" and said in nothing

    def is_heading(self) -> bool:
        """Whether it is a heading over the next lines: "Inscriptions:", "Verso:"."""
        head = self.head
        named = all(kind.key == "inscription" and not kind.opens for kind in head.kinds)
        only_a_face = not (head.where or head.parts or head.makings or head.spots)
        return head.stopped == "colon" and not self.text and named and only_a_face

    def place(self) -> str | None:
        """Its place in our words, or in the cataloguer's where no list has it."""
        spot = next(iter(self.head.spots), None)
        return self.head.place() or (self.written(*spot) if spot else None)

    def remarks(self) -> list[str]:
        """What else the cataloguer says of it, as written."""
        spots = self.head.spots if self.head.place() else self.head.spots[1:]
        told = sorted([*self.head.remarks, *spots])
        return [*(self.written(*span) for span in told), *self.other_words]

    def kinds_in_brackets(self) -> Iterator[Meaning]:
        """The kinds that brackets in the text name: "AW [monogram] 1887"; a thing only at its start."""
        for at in range(self.first, self.end):
            if at in self.scan.closes and at not in self.scan.quotes:
                for meaning in self._meanings(at + 1, self.scan.closes[at]):
                    if meaning.group == "kind" and (at == self.first or not meaning.thing):
                        yield meaning

    def written(self, start: int, end: int) -> str:
        """The letters of some tokens, without a comma or bar that only parts them from others."""
        scan = self.scan
        return scan.text[scan.starts[start] : scan.starts[end]].strip().rstrip(",|").rstrip()

    # -- its head

    def _read_head(self) -> None:
        scan = self.scan
        at = self.start
        bullet = _BULLET.match(scan.text, scan.starts[at], scan.starts[at] + 8)
        if bullet:
            behind = at
            while behind < self.end and scan.starts[behind] < bullet.end():
                behind += 1
            head = self.heads.read(behind, self.end)
            if head.says_something:
                self.head = head
                return
        head = self._head_behind_a_tag() or self.heads.read(at, self.end)
        if not head.says_something and head.remarks and head.stopped == "text":
            self.other_words += [self.written(*span) for span in head.remarks]
            self.head = Head(at, head.end, "text")
        elif head.says_something and not self._is_text_after_all(head):
            self.head = head

    def _head_behind_a_tag(self) -> Head | None:
        """The head behind a tag that no list knows: "[Coat of arms] Upper left: ..."."""
        scan = self.scan
        at = self.start
        if scan.tokens[at] != "[" or at not in scan.closes or self.heads.tag(at):
            return None
        head = self.heads.read(scan.skip_blanks(scan.after(at), self.end), self.end)
        if not head.says_something or head.stopped not in ("colon", "quote"):
            return None
        head.remarks.insert(0, (at, scan.after(at)))
        return head

    def _is_text_after_all(self, head: Head) -> bool:
        """Whether what looks like a head is the beginning of a bare text: "Front Street"."""
        first = self.scan.tokens[head.start]
        if head.stopped != "text" or head.exact or not first[:1].isupper():
            return False
        if any(kind.key != "inscription" or kind.opens for kind in head.kinds):
            return False
        if first.casefold() in listed("certain", "words"):
            return False
        following = self.scan.skip_blanks(head.end, self.end)
        return following < self.end and self.scan.tokens[following][:1].isupper()

    def _behind_signs(self, at: int) -> int:
        """The first token of the text: behind a comma or dash that only parts it from the head."""
        at = self.scan.skip_blanks(at, self.end)
        while (
            self.start < at < self.end
            and self.scan.tokens[at] in ",.:–—-"
            and (at + 1 >= self.end or self.scan.tokens[at + 1].isspace())
        ):
            at = self.scan.skip_blanks(at + 1, self.end)
        return at

    def _behind_small_words(self, at: int) -> int:
        while at < self.end:
            found = self.scan.wording(at, self.end)
            if not found or any(meaning.group != "between" for meaning in found[1]):
                break
            at = self.scan.skip_blanks(found[0], self.end)
        return at

    def _is_description(self) -> bool:
        """Whether the whole mark is a bracket that describes: "[stamp]", and no tag: "[Stamp]"."""
        closing = self.scan.closes.get(self.start)
        if closing is None or self.scan.tokens[self.start] != "[":
            return False
        return self.scan.tokens[self.start + 1].islower() and self.head.end == closing + 1

    def _describe_by_bracket(self) -> None:
        """Take the head from a mark that is only described: "[five labels on the backing]"."""
        closing = self.scan.closes.get(self.first)
        if closing is None or self.scan.tokens[self.first] != "[":
            return
        whole = self.scan.skip_blanks(closing + 1, self.end) >= self.end
        for meaning in self._meanings(self.first + 1, closing):
            if meaning.group == "kind":
                self.head.kinds.append(meaning)
            elif whole and meaning.group == "face":
                self.head.faces.append(meaning.key)
            elif whole and meaning.group == "part" and meaning.key:
                self.head.parts.append(meaning.key)

    def _meanings(self, at: int, end: int) -> Iterator[Meaning]:
        """What the wordings between two places say, whatever stands between them."""
        while at < end:
            found = self.scan.wording(at, end)
            if found:
                yield from found[1]
            at = found[0] if found else at + 1

    # -- a text in quotation marks

    def _quoted(self) -> None:
        """Take the quotations, and what is said of them behind them, up to the next mark."""
        quotations = [self.first]
        at = self.scan.after(self.first)
        told = told_between = False
        while True:
            here = self.scan.skip_blanks(at, self.end)
            comma = here < self.end and self.scan.tokens[here] in ",."
            here = self.scan.skip_blanks(here + 1, self.end) if comma else here
            if here in self.scan.quotes and not (comma and told):
                quotations.append(here)
                told_between = told_between or told
                at = self.scan.after(here)
                continue
            if here >= self.end:
                break
            if here in self.scan.quotes:
                self.end = here
                break
            more = self.heads.read(here, self.end, strict=True, kinds=tuple(self.head.kinds))
            if not more.says_something and more.stopped == "quote":
                at = self._behind_small_words(here)  # "A" and "B"
                if not told:
                    continue
                self.end = at
                break
            if not more.says_something:
                self.end = self._next_mark(here)
                if not (told or comma):
                    self.text = self.written(self.first, self.end)
                    return
                self.other_words.append(self.written(here, self.end))
                break
            if self._is_another(more, told=told):
                self.end = here
                break
            self.head.absorb(more)
            told, at = True, more.end
            if more.stopped == "mark":
                self.end = more.next_mark
                break
        if len(quotations) == 1 or told_between:
            self.text = " ".join(map(self._inside, quotations))
        else:
            self.text = self.written(self.first, self.scan.after(quotations[-1]))

    def _inside(self, opening: int) -> str:
        first, last = self.scan.starts[opening + 1], self.scan.starts[self.scan.closes[opening]]
        return self.scan.text[first:last].strip(" ,")

    def _is_another(self, more: Head, *, told: bool) -> bool:
        """Whether the head behind a quotation begins another mark."""
        head = self.head
        if more.kinds:
            only_date = all(kind.key == "date" for kind in more.kinds)
            one = only_date and head.kinds and not (head.located and more.located)
            if not one or more.stopped != "quote":
                return True
            opening = self.scan.skip_blanks(more.end, self.end)
            return told and self.heads.placed_behind(opening, self.end)
        if more.stopped == "colon":
            return True
        return more.stopped == "quote" and head.located and more.located

    # -- a text without quotation marks

    def _unquoted(self) -> None:
        self.end = self._next_mark(self.first + 1)
        tail = self._tail()
        self.text = self.written(self.first, tail)
        if self._ends_sentence or self._follows_a_sentence():
            self.text = _FULL_STOP.sub("", self.text)

    def _follows_a_sentence(self) -> bool:
        before = self.scan.before(self.start, 0)
        blanks = self.scan.tokens[before + 1 : self.start]
        same_line = not any(map(LINE_ENDS.intersection, blanks))
        return before >= 0 and self.scan.tokens[before] == "." and same_line

    def _next_mark(self, at: int) -> int:
        """Where in the text another mark begins, the end of the segment when none does."""
        while at < self.end:
            if at > self.first and self._begins_mark(at):
                return at
            at = self.scan.after(at)
        return self.end

    def _begins_mark(self, at: int) -> bool:
        scan = self.scan
        token = scan.tokens[at]
        if not scan.tokens[at - 1].isspace():
            return False
        if token in "[(":
            return self._bracket_begins_mark(at)
        found = scan.wording(at, self.end) if token[:1].isalpha() else None
        if found is None:
            return False
        before = scan.before(at, self.first)
        sign = scan.tokens[before] if before >= self.first else ""
        small = all(each.group == "between" for each in found[1])
        joining = small and found[1][0].key == "and"
        sentence = sign in _SENTENCE_ENDS
        if small and not (joining or sentence or sign == ","):
            return False
        more = self.heads.read(at, self.end, strict=True)
        if not more.says_something:
            return False
        if sentence:
            begins = self._sentence_begins_mark(more)
        elif sign == "," or joining:
            begins = self._clause_begins_mark(more)
        else:
            short = found[1][0].group == "short" and "." in scan.tokens[at : found[0]]
            follows = short and self.head.located and more.stopped == "text"
            begins = follows or (more.stopped == "colon" and (more.exact or bool(more.faces)))
        self._ends_sentence = begins and sign == "."
        return begins

    def _bracket_begins_mark(self, at: int) -> bool:
        """Whether a bracket is a tag, "[Label] verso: ...", or the next of several places."""
        scan = self.scan
        tag = self.heads.tag(at)
        behind = scan.skip_blanks(scan.after(at), self.end)
        if tag is None or behind >= self.end:
            return False
        if scan.tokens[at] == "(":
            return scan.tokens[self.start] == "(" and tag.located
        if not tag.kinds or not scan.tokens[at + 1][:1].isupper():
            return False
        if scan.tokens[behind] == ":" or behind in scan.quotes:
            return True
        return self.heads.read(behind, self.end, strict=True).says_something

    def _sentence_begins_mark(self, more: Head) -> bool:
        if more.stopped == "colon" and (more.strong or more.opens):
            return True
        if more.opens and (more.strong or more.stopped in ("quote", "end")):
            return True
        follows = self.scan.skip_blanks(more.end, self.end)
        comma = follows < self.end and self.scan.tokens[follows] == ","
        return more.strong and (more.stopped == "quote" or more.exact or comma)

    def _clause_begins_mark(self, more: Head) -> bool:
        if more.stopped == "end" and not self.head.says_something:
            return False  # "A. Wynne, signed lower right"
        if more.stopped in ("colon", "quote"):
            return more.strong or more.opens
        return more.opens and more.strong

    # -- what is said behind a text

    def _tail(self) -> int:
        """Where the text ends: before words behind it that say where it stands or how it was made."""
        for at in range(max(self.first + 1, self.end - _LONGEST_TAIL), self.end):
            if not self.scan.tokens[at - 1].isspace() or not self._may_begin_tail(at):
                continue
            more = self.heads.read(at, self.end, strict=True)
            if more.says_something and self._is_tail(at, more):
                self.head.absorb(more)
                if more.kinds:  # "the Harbour Rooms label"
                    self.first = self._behind_small_words(self.first)
                return at
        return self.end

    def _may_begin_tail(self, at: int) -> bool:
        token = self.scan.tokens[at]
        if token.casefold() in listed("between", "of"):
            return False
        return token in "([" or token[:1].islower() or token.isupper()

    def _is_tail(self, at: int, more: Head) -> bool:
        scan, head = self.scan, self.head
        if more.stopped not in ("end", "colon"):
            return False
        comma = scan.tokens[scan.before(at, self.first)] == ","
        if more.kinds:  # "Harbour Rooms label on the stretcher"
            bare = not head.says_something
            in_bracket = scan.tokens[at] in "([" and more.located
            thing = all(kind.thing for kind in more.kinds)
            return not head.kinds and (thing or in_bracket or (bare and more.located and comma))
        if any(scan.tokens[place].isalnum() for place in range(more.end, self.end)):
            return False
        led_to = comma or self._is_small_word(at)
        where = more.exact or bool(more.faces) or (bool(more.parts) and led_to)
        where = where and not head.located
        how = not head.makings and bool(more.makings) and scan.tokens[at] in ("in", "(")
        if scan.tokens[at] in "([":
            return more.located or (how and scan.tokens[at] == "(")
        return how or (where and (head.stopped != "colon" or comma or more.exact))

    def _is_small_word(self, at: int) -> bool:
        found = self.scan.wording(at, self.end)
        return found is not None and any(each.group == "between" for each in found[1])


def _without_its_bracket(text: str) -> str:
    """The text in a bracket that only sets the whole off: "[A. Wynne / 1887]"."""
    inside = text[1:-1]
    if text[:1] != "[" or text[-1:] != "]" or set("[]") & set(inside):
        return text
    if len(inside) > 2 and inside[0] + inside[-1] in _QUOTED:
        return inside[1:-1].strip()
    words = {word.casefold() for word in re.findall(r"[^\W\d_]+", inside)}
    described = words & (listed("bracket", "drawn") | listed("bracket", "unread"))
    return inside.strip() if " / " in inside and not described else text
