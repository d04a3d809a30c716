"""Reading heads: the cataloguer's own words for what a mark is, where it stands, how it was made.

A head is a run of listed wordings in any order, with commas and small words between them: "signed
and dated, lower left, in black paint". It ends at a colon, at a quotation, or where other words begin.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from catalogue.argument.inscription_fields.head import Head
from catalogue.argument.inscription_fields.scan import OPEN_BRACKETS, Scan
from catalogue.argument.inscription_fields.words import ENGLISH, Meaning

PLACES: Final = frozenset({"row", "column", "centre", "whole", "short", "zone"})
MAKING: Final = frozenset({"made", "medium", "colour"})
_SIGNS: Final = frozenset(",.-–—/&+|")
_LONGEST: Final = 48
"""So many words, signs and blanks a head may have before it is taken for something else."""
_DEEPEST: Final = 3


@dataclass(slots=True)
class _Between:
    """What stands between the last listed wording and the next."""

    sign: str = ""  # the last comma, full stop or "and"
    start: int | None = None  # where its small words begin
    words: int = 0
    where: bool = False  # whether one of them leads to a place ("on")

    @property
    def small_words(self) -> bool:
        return self.words > 0


class HeadReader:
    """Reads heads in one field."""

    def __init__(self, scan: Scan) -> None:
        self.scan = scan

    def read(
        self,
        start: int,
        end: int,
        *,
        strict: bool = False,
        depth: int = 0,
        kinds: tuple[Meaning, ...] = (),
    ) -> Head:
        """The head that begins at the token `start`; one that says nothing when there is none.

        `strict` admits no word that is not listed; `kinds` are those said before it.
        """
        return _Run(self, start, end, strict=strict, depth=depth, kinds=kinds).head()

    def placed_behind(self, opening: int, end: int) -> bool:
        """Whether words for a place stand behind the quotation that begins here."""
        behind = self.scan.skip_blanks(self.scan.closes[opening] + 1, end)
        return self.read(behind, end, strict=True, depth=_DEEPEST).located

    def tag(self, at: int) -> Head | None:
        """The head in a bracket of its own, "[Signature]" or "[Gallery label]"; None when it is none."""
        scan = self.scan
        closing = scan.closes.get(at)
        if closing is None or closing - at > _LONGEST:
            return None
        first = scan.wording(at + 1, closing)
        where = first is not None and any(each.key == "where" for each in first[1])
        strict = not (where and scan.tokens[at] == "(")  # "(on the quay)"
        inner = self.read(at + 1, closing, strict=strict, depth=1)
        if (inner.says_something or inner.remarks) and scan.skip_blanks(
            inner.end, closing
        ) == closing:
            return inner if inner.stopped in ("end", "colon") else None
        return self._tag_by_its_last_word(at + 1, closing)

    def _tag_by_its_last_word(self, at: int, closing: int) -> Head | None:
        scan = self.scan
        if scan.tokens[at - 1] != "[" or not scan.tokens[at][:1].isupper():
            return None
        for place in range(at, closing):
            found = scan.wording(place, closing)
            if found and found[0] == closing:
                kinds = [each for each in found[1] if each.group == "kind"]
                if kinds:
                    return Head(at, closing, kinds=kinds, remarks=[(at, place)])
        return None


class _Run:
    """One reading of one head."""

    def __init__(
        self,
        reader: HeadReader,
        start: int,
        end: int,
        *,
        strict: bool,
        depth: int,
        kinds: tuple[Meaning, ...],
    ) -> None:
        self.reader = reader
        self.scan = reader.scan
        self.start = start
        self.end = end
        self.strict = strict
        self.depth = depth
        self.kinds_before = kinds
        self.behind_colon = start > 0 and self.scan.tokens[start - 1] == ":"
        self.found = Head(start, start)
        self.between = _Between()
        self.making_end = -1  # behind the last word for a technique
        self.in_spot = False  # whether the last word was one of a spot
        self.promised = -1  # up to here, words that are not listed belong to the head

    def head(self) -> Head:
        at = self.start
        found, scan = self.found, self.scan
        while found.stopped == "end":
            at = scan.skip_blanks(at, self.end)
            if at >= self.end:
                break
            if at - self.start > _LONGEST:
                found.stopped = "text"
            elif at in scan.quotes:
                found.stopped = "quote"
            elif at in scan.closes:
                at = self._bracket(at)
            elif scan.tokens[at] == ":":
                at = self._colon(at)
            elif scan.tokens[at] in _SIGNS:
                at = self._sign(at)
            else:
                at = self._word(at)
        return found

    # -- one step each: the place to go on from

    def _bracket(self, at: int) -> int:
        found = self.found
        behind = self.scan.closes[at] + 1
        tag = self.reader.tag(at) if self.depth < _DEEPEST else None
        if tag is None and self._is_remark(at):
            self._note(found.remarks, at, behind)
            return self._taken(behind)
        if tag is None or (tag.kinds and self._describes(at)):
            found.stopped = "text"
            return at
        if self.scan.tokens[at] == "[" and found.kinds and tag.kinds and found.located:
            return self._another_mark(at)
        found.absorb(tag)
        return self._taken(behind)

    def _is_remark(self, at: int) -> bool:
        """Whether a bracket only says something of the head before it: "in pencil [?]: 412"."""
        closing = self.scan.closes[at]
        asks = not "".join(self.scan.tokens[at + 1 : closing]).strip("? ")
        if not self.found.says_something:
            return False
        after = self._next(closing + 1)
        goes_on = after == "," and not self.strict and self._promises(closing + 1, listed=False)
        return asks or after == ":" or goes_on

    def _describes(self, at: int) -> bool:
        """Whether a bracket stands for a mark that nobody copied, "[stamp]", and is no heading."""
        written = self.scan.tokens[at] == "[" and self.scan.tokens[at + 1].islower()
        return written and (self.found.says_something or self.behind_colon)

    def _sign(self, at: int) -> int:
        if not (self.found.says_something or self.found.remarks):
            self.found.stopped = "text"
        elif self.scan.tokens[at] in ",.":
            self.between.sign = self.scan.tokens[at]
        elif self.scan.tokens[at] in "&+":
            self.between.sign = "and"
        return at + 1

    def _word(self, at: int) -> int:
        listed = self.scan.wording(at, self.end)
        meanings = self._meant(at, *listed) if listed else []
        if listed is None or not meanings:
            return self._other_word(at)
        behind = listed[0]
        if all(meaning.group == "between" for meaning in meanings):
            if self.between.start is None:
                self.between.start = at
            self.between.words += 1
            if self.between.words > 4:
                self.found.stopped = "text"
            if meanings[0].key == "and":
                self.between.sign = "and"
            self.between.where |= any(meaning.key == "where" for meaning in meanings)
            return behind
        if self._begins_another(at, meanings):
            return self._another_mark(at)
        if not self._is_head(at, behind, meanings):
            return self._other_word(at)
        self._take(meanings, (at, behind))
        if any(meaning.group in MAKING for meaning in meanings):
            self.making_end = behind
        return self._taken(behind)

    def _other_word(self, at: int) -> int:
        """A word that is not listed: a remark when the head goes on behind it, else its end."""
        if self.strict or not self._promises(at, listed=False):
            self.found.stopped = "text"
            return at
        start = at if self.between.start is None else self.between.start
        spot = self.between.where or (self.in_spot and not self.between.sign)
        self._note(self.found.spots if spot else self.found.remarks, start, at + 1)
        self._taken(at + 1)
        self.in_spot = spot
        return at + 1

    def _taken(self, behind: int) -> int:
        self.found.end = behind
        self.between = _Between()
        self.in_spot = False
        return behind

    def _another_mark(self, at: int) -> int:
        self.found.stopped = "mark"
        self.found.next_mark = at if self.between.start is None else self.between.start
        return at

    # -- what a wording means here

    def _meant(self, at: int, behind: int, meanings: list[Meaning]) -> list[Meaning]:
        """The meanings of a wording that hold here: short forms by their language and look."""
        shorts = [each for each in meanings if each.group == "short"]
        others = [each for each in meanings if each.group != "short"]
        if shorts and self._is_short_form(at, behind):
            language = {each.language: each for each in shorts}
            chosen = language.get(self.scan.language) or language.get(ENGLISH)
            return [*others, chosen or shorts[0]]
        if any(each.group == "relative" for each in meanings):
            return self._relative(behind, meanings)
        if len(self.scan.tokens[at]) == 1 and behind - at <= 2 and not shorts:
            # a letter alone ("v.") says something only before a sign that ends a head
            return others if self._next(behind) in (":", ",") or _small(others) else []
        return others

    def _relative(self, behind: int, meanings: list[Meaning]) -> list[Meaning]:
        """ "Below" is a place by itself; before other words it only leads to one."""
        if self._next(behind) in ("", ":", ",", "(") or self._next(behind).casefold() == "in":
            return [Meaning("whole", each.key) for each in meanings]
        return [Meaning("between", "where")]

    def _is_short_form(self, at: int, behind: int) -> bool:
        """Whether letters are a short form of a place, and no one's initials."""
        scan = self.scan
        after = self._next(behind)
        written = "".join(scan.tokens[at:behind])
        if sum(map(str.isalpha, written)) == 1:
            return after in (":", ",")
        if not written.isupper() or self.found.says_something:
            return True
        if after in ("", ":", ",", "("):
            return True
        follows = scan.skip_blanks(behind, self.end)
        return follows in scan.quotes or (
            scan.tokens[follows].islower() and scan.wording(follows, self.end) is not None
        )

    def _next(self, at: int) -> str:
        """The next token that is no blank, "" at the end."""
        at = self.scan.skip_blanks(at, self.end)
        return self.scan.tokens[at] if at < self.end else ""

    def _is_head(self, at: int, behind: int, meanings: Iterable[Meaning]) -> bool:
        """Whether a wording with a capital still belongs to the head, or begins the text."""
        if at == self.start or not self.scan.tokens[at][:1].isupper():
            return True
        groups = {meaning.group for meaning in meanings}
        led_to = self.between.small_words and groups != {"colour"}  # "in Red Square"
        if led_to or "short" in groups or self._promises(at):
            return True
        if any(meaning.thing for meaning in meanings) and not self.found.kinds:
            return True  # "Keilrahmen Etikett"
        if groups & {"row", "column", "centre"}:
            following = self.scan.wording(self.scan.skip_blanks(behind, self.end), self.end)
            pair = following is not None and any(
                each.group in ("row", "column", "centre") for each in following[1]
            )
            return pair or (bool(self.found.where) and not self.found.exact)
        return False

    def _begins_another(self, at: int, meanings: Iterable[Meaning]) -> bool:
        """Whether a wording begins a mark of its own: "signed lower left, dated lower right"."""
        kinds = self.found.kinds or self.kinds_before
        if not kinds or not self.between.sign:
            return False
        kind = next((each for each in meanings if each.group == "kind"), None)
        if self.between.sign == ".":
            return kind is not None or self._sentence_begins_another(at)
        if kind is None or not self.found.located or not (kind.opens or kind.thing):
            return False
        if self.depth >= _DEEPEST:
            return True
        own = self.reader.read(at, self.end, strict=True, depth=_DEEPEST)
        # behind a text (its kinds came before) a text of its own is enough
        own_text = bool(self.kinds_before) and own.stopped in ("colon", "quote")
        if own.located or own.stopped != "quote" or (own_text and kind.key != "date"):
            return own.located or own_text
        return self.reader.placed_behind(self.scan.skip_blanks(own.end, self.end), self.end)

    def _sentence_begins_another(self, at: int) -> bool:
        """Whether a new sentence says where something else stands: "Signed. On the back a label"."""
        start = at if self.between.start is None else self.between.start
        if not self.scan.tokens[start][:1].isupper() or self.depth >= _DEEPEST:
            return False
        own = self.reader.read(at, self.end, strict=True, depth=_DEEPEST)
        return own.located and (bool(own.kinds) or own.stopped in ("colon", "quote"))

    def _promises(self, at: int, *, listed: bool = True) -> bool:
        """Whether the head goes on to a colon, a quotation or the end over words that are not listed.

        They have no capitals, being the cataloguer's and no one's name, unless they tell a place
        ("on the Virgin's book:"). `listed` is whether the first of them is.
        """
        if at < self.promised:
            return True
        scan = self.scan
        every_word_listed = listed
        where = not listed and (self.between.where or self.in_spot)
        said = self.found.says_something
        here = at
        limit = min(self.end, at + _LONGEST)
        while here < limit:
            token = scan.tokens[here]
            if here in scan.quotes:
                return self._promise(here if said else -1)
            if token == ":" and self._ends_head(here):
                return self._promise(here if said or where else -1)
            found = scan.wording(here, self.end) if token[:1].isalpha() else None
            if found:
                said = said or not _small(found[1])
                here = found[0]
                continue
            if token[:1].isalpha():
                every_word_listed = False
                if token[:1].isupper() and not where and not here == at == self.start:
                    return False
            elif token.isdigit() or (token == "." and self._ends_sentence(here)):
                return False
            here = scan.after(here)
        if here < self.end:
            return False
        goes_on = every_word_listed or (self.between.small_words and self._kind_said())
        return self._promise(self.end if said and goes_on else -1)

    def _promise(self, until: int) -> bool:
        self.promised = max(self.promised, until)
        return until >= 0

    def _kind_said(self) -> bool:
        return any(kind.opens for kind in self.found.kinds)

    def _ends_head(self, at: int) -> bool:
        following = self.scan.tokens[at + 1] if at + 1 < self.end else " "
        return following.isspace() or at + 1 in self.scan.closes

    def _ends_sentence(self, at: int) -> bool:
        following = self.scan.skip_blanks(at + 1, self.end)
        return following < self.end and self.scan.tokens[following][:1].isupper()

    # -- taking it in

    def _take(self, meanings: Iterable[Meaning], span: tuple[int, int]) -> None:
        found = self.found
        for meaning in meanings:
            if meaning.group == "kind":
                found.kinds.append(meaning)
            elif meaning.group in PLACES:
                found.where.append(meaning)
            elif meaning.group == "face":
                found.faces.append(meaning.key)
            elif meaning.group == "part":
                found.parts += [meaning.key] if meaning.key else []
            elif meaning.group in MAKING:
                self._take_making(meaning)
            elif meaning.group == "neutral":
                found.neutral = True
            elif meaning.group in ("remark", "nothing"):
                found.nothing = found.nothing or meaning.group == "nothing"
                self._note(found.remarks, *span)

    def _take_making(self, meaning: Meaning) -> None:
        runs = self.found.makings
        joined = self.between.sign == "and" or not (
            self.between.sign or self.between.small_words
        )
        if runs and joined and self.making_end == self.found.end:
            if self.between.sign == "and":
                runs[-1].append(Meaning("between", "and"))
            runs[-1].append(meaning)
        else:
            runs.append([meaning])

    def _note(self, told: list[tuple[int, int]], start: int, end: int) -> None:
        """Add a stretch of words, joined to the last where only blanks part them."""
        if told and self.scan.skip_blanks(told[-1][1], start) == start:
            start = told.pop()[0]
        told.append((start, end))

    # -- behind the colon

    def _colon(self, at: int) -> int:
        found = self.found
        if not found.says_something:
            found.stopped = "text"
            return at
        found.stopped, found.end = "colon", at + 1
        if self.depth >= _DEEPEST:
            return at + 1
        kinds = (*self.kinds_before, *found.kinds)
        leads = self.scan.wording(self.scan.skip_blanks(at + 1, self.end), self.end)
        where = leads is not None and any(each.key == "where" for each in leads[1])
        more = self.reader.read(
            at + 1, self.end, strict=not where, depth=self.depth + 1, kinds=kinds
        )
        if more.says_something and self._goes_on_in(more):
            if self._refines(more):
                found.kinds.clear()
            found.absorb(more)
            found.end, found.stopped, found.next_mark = more.end, more.stopped, more.next_mark
        return found.end

    def _goes_on_in(self, more: Head) -> bool:
        """Whether what looks like a head behind a colon is one: "Signed: l.r.: A. Wynne"."""
        found = self.found
        new = (
            (bool(more.kinds) and not found.kinds and not self.kinds_before)
            or (more.exact and not found.where)
            or (bool(more.faces or more.parts) and not found.located)
        )
        said = any(kind.opens or kind.thing for kind in more.kinds)
        first = self.scan.tokens[self.scan.skip_blanks(more.start, self.end)]
        if more.stopped == "colon":
            made = first.islower() and bool(more.makings or more.spots)
            return new or (more.located and not found.where) or self._refines(more) or made
        if more.stopped in ("end", "mark"):
            return new and (more.exact or bool(more.faces or more.parts) or said)
        small = first.islower() or first in OPEN_BRACKETS or _is_short(more)
        if more.stopped == "quote":
            return new or (small and bool(more.makings or more.located))
        return small and (
            (new and (more.exact or said or first in OPEN_BRACKETS))
            or (bool(more.makings) and first.casefold() == "in")
        )

    def _refines(self, more: Head) -> bool:
        """Whether a second kind says more of the first: "Inscriptions: signed: ..."."""
        kinds = (*self.kinds_before, *self.found.kinds)
        plain = bool(kinds) and all(kind.key == "inscription" for kind in kinds)
        return plain and any(kind.opens or kind.thing for kind in more.kinds)


def _small(meanings: Iterable[Meaning]) -> bool:
    return all(meaning.group == "between" for meaning in meanings)


def _is_short(head: Head) -> bool:
    return any(meaning.group == "short" for meaning in head.where)
