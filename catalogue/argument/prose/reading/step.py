"""One step of a provenance, read word by word from left to right.

Each word leads on: words for a way of passing say what whoever is named next was, a comma and a place
belong to whoever was named before, brackets tell more of them or hold a dealer or a sale. Whatever
finds no place is left over, and nothing else is.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace
from typing import Final

from catalogue.argument.prose.reading import words
from catalogue.argument.prose.reading.dated import Dated, date_at, may_begin
from catalogue.argument.prose.reading.money import price_at
from catalogue.argument.prose.reading.naming import (
    begins,
    else_called,
    holder,
    is_fund,
    is_sale_room,
    is_strong,
    is_town,
    known_place,
    relation,
    run,
    title_behind,
)
from catalogue.argument.prose.reading.notes import Mark
from catalogue.argument.prose.reading.scan import Scan
from catalogue.argument.prose.reading.words import (
    Word,
    firm_mark,
    institution_mark,
    is_title,
    longest,
)
from catalogue.measure import DateSpan

LIFE: Final = re.compile(
    r"""\s*(?:(?:b|d|born|died|c|ca|circa|about|act|active|fl|flourished|after|before|probably|geb|gest)\b\.?\s*)*
        (?P<first>\d{4}s?)?\s*\??\s*(?:/\d{1,4})?\s*
        (?:(?P<dash>[-–—])\s*(?:(?:c|ca|circa|d|after|before|about|died|or)\b\.?\s*)*(?P<last>\d{4}|\d{2}|\?|present)?)?\s*(?:/\d{1,4})?\s*\??\s*
        (?:\(\?\))?\s*""",
    re.VERBOSE | re.IGNORECASE,
)
_CENTURY: Final = re.compile(r".{0,20}\d{1,2}(?:st|nd|rd|th)[ -]century", re.IGNORECASE)
_NUMBER: Final = re.compile(
    r"(?:[A-Za-z]{1,3}[ .-]?)?\d[\w./-]*(?:\s?(?:-|–|and|&|to)\s?\d{1,5}[a-z]?(?![\w.]))*(?:\s?\([a-z]\))?"
)
_SINCE_WHEN: Final = re.compile(r"\s*\?\s*[-–—]\s*")
"""Begun nobody knows when: "(?-1944)"."""
_CITED_BOOK: Final = re.compile(
    r"\s*(?P<who>[A-ZÀ-Þ][\w'’-]+(?:\s(?:and|&)\s[A-ZÀ-Þ][\w'’-]+)?),?\s(?:1[89]|20)\d\d[a-z]?\s*(?:[,:;]|$)"
)
_RESEARCHER: Final = re.compile(r"\s*[A-Z]{2,4}[,\s]+(?:\d{1,2}[/.-]){1,2}\d{2,4}\s*$")
_ACCESSION: Final = re.compile(r"\(?[A-Z]{0,4}\.?\s?\d{1,4}[.-]\d[\w.-]*(?<![.-])")
_MOVES: Final = frozenset({"transfer", "export", "import", "recovery"})
"""Ways of passing behind which a town is where it went, not to whom."""
_DEEPEST: Final = 4
"""Brackets within brackets beyond so many are read as signs."""


@dataclass(slots=True)
class Somebody:
    """A party of a step as far as it is read; places of the scan, not yet text."""

    start: int
    end: int
    role: str
    life: str | None = None
    place: tuple[int, int] | None = None
    relation: str | None = None
    bracket: str = ""
    more: tuple[int, int] | None = None  # a title behind the life dates


@dataclass(slots=True)
class Told:
    """What a step has told so far."""

    parties: list[Somebody] = field(default_factory=list)
    passings: list[tuple[Word, int, int]] = field(default_factory=list)
    place: tuple[int, int] | None = None
    when: DateSpan | None = None
    until: DateSpan | None = None
    lot: str | None = None
    price: str | None = None
    stock_number: str | None = None
    sure: str = "certain"
    gap: bool = False
    maker: bool = False
    editorial: bool = False
    aside: bool = False  # a remark on the whole text
    perhaps_house: bool = False  # whether a name may be a sale's house or the buyer's
    remarks: list[str] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    habits: list[tuple[str, int]] = field(default_factory=list)


class Step:
    """Reads the words `first` to before `behind` of a scan; `told` is what they say."""

    def __init__(self, scan: Scan, first: int, behind: int, cited: dict[int, Mark]) -> None:
        self.scan = scan
        self.first = first
        self.behind = behind
        self.cited = cited
        self.told = Told()
        self.placed = bytearray(behind - first)
        self.expect = "holder"  # what whoever is named next was
        self.then = "holder"  # and who is led to by "to"
        self.fresh = True  # whether somebody new is to be named
        self.kin: tuple[int, int] | None = None
        self.last = ""  # what was read last: party, place, date, number, bracket, sale
        self.comma = False
        self.in_sale = False
        self.sale_named = False
        self.bracket = ""  # within which sort of bracket of its own a dealer stands
        self.depth = 0
        self.nested = 0

    def read(self) -> Told:
        """Read the whole step."""
        self._words(self.first, self.behind)
        self._close_kin()
        return self.told

    def left(self) -> str:
        """The words that found no place, in order."""
        runs: list[str] = []
        at = self.first
        while at < self.behind:
            if self.placed[at - self.first] or not self._says(at):
                at += 1
                continue
            start = at
            end = at
            while at < self.behind and not self.placed[at - self.first]:
                if self._says(at):
                    end = at
                at += 1
            runs.append(self.scan.text[self.scan.starts[start] : self.scan.ends[end]])
        return " ".join(runs)

    def _says(self, at: int) -> bool:
        return any(letter.isalnum() for letter in self.scan.words[at])

    # -- the words, one after the other

    def _words(self, at: int, behind: int) -> None:
        while at < behind:
            at = self._one(at, behind)

    def _one(self, at: int, behind: int) -> int:
        """Read what stands at a word; the place to go on from."""
        scan = self.scan
        mark = self.cited.get(scan.starts[at])
        if mark:
            return self._note(at, behind, mark)
        if at in scan.closes and scan.closes[at] < behind and self.nested < _DEEPEST:
            self.nested += 1
            went = self._bracket(at, scan.closes[at])
            self.nested -= 1
            return went
        word = scan.words[at]
        if at in scan.quotes and scan.quotes[at] < behind:
            self.told.remarks.append(self._text(at, scan.quotes[at] + 1))
            return self._place(at, scan.quotes[at] + 1)
        if not word[0].isalnum() and not (word[0] in "'’" and len(word) > 1):
            return self._sign(at, behind)
        low = scan.lows[at]
        if may_begin(low):
            dated = date_at(scan.text, scan.starts[at], scan.ends[behind - 1])
            if dated:
                return self._date(at, behind, dated)
        price = price_at(scan, at, behind)
        if price:
            return self._price(at, price)
        kin = relation(scan, at, behind)
        if kin > at:
            return self._kin(at, kin, behind)
        for reader in (self._listed, self._name, self._figure):
            went = reader(at, behind)
            if went > at:
                return went
        found = longest(scan.lows, at, behind, "filler")
        went = self._described(at, behind, found[0] if found else at)
        if went > at:
            return went
        if found:
            return self._place(at, found[0])
        return at + 1

    def _place(self, start: int, end: int) -> int:
        """Mark words as understood."""
        for at in range(start, end):
            self.placed[at - self.first] = 1
        return end

    def _note(self, at: int, behind: int, mark: Mark) -> int:
        end = at + 1
        while end < behind and self.scan.starts[end] < mark.end:
            end += 1
        self.told.notes += [each for each in mark.marks if each not in self.told.notes]
        return self._place(at, end)

    def _sign(self, at: int, behind: int) -> int:
        word = self.scan.words[at]
        if word == "?":
            self.told.sure = "possible"
        elif word == ",":
            self.comma = True
        elif word in "$£€¥ƒ":
            price = price_at(self.scan, at, behind)
            if price:
                return self._price(at, price)
        elif word == "#":
            found = self._number(at, behind)
            if found > at:
                return found
        elif word == ";":
            self.fresh = True
            self.comma = False
        return self._place(at, at + 1)

    # -- dates, prices, numbers

    def _date(self, at: int, behind: int, dated: Dated) -> int:
        told = self.told
        end = at
        while end < behind and self.scan.starts[end] < dated.end:
            end += 1
        if dated.doubt:
            told.sure = "possible"
        taken = False
        if dated.until and not told.until:
            told.until, taken = dated.until, True
        if dated.when:
            if told.when is None:
                told.when, taken = dated.when, True
            elif self._ends_holding(told, dated):
                told.until, taken = dated.when, True
            elif told.when.earliest and dated.when.lies_within(told.when):
                told.when, taken = dated.when, True
            elif dated.when.edtf in (told.when.edtf, told.until.edtf if told.until else ""):
                taken = True
        if taken:
            self._place(at, end)
        self.last = "date"
        return end

    def _ends_holding(self, told: Told, dated: Dated) -> bool:
        """Whether a further date is the end of a holding, or says more exactly when it ended."""
        if told.when is None or dated.when is None or dated.until:
            return False
        if told.until is None:
            return _follows(told.when, dated.when)
        return dated.when.lies_within(told.until)

    def _price(self, at: int, end: int) -> int:
        text = self.scan.text[self.scan.starts[at] : self.scan.ends[end - 1]]
        if self.told.price is None:
            self.told.price = text
            self.last = "number"
            return self._place(at, end)
        return end

    def _number(self, at: int, behind: int) -> int:
        """A lot, stock or inventory number with its lead; `at` where there is none."""
        found = longest(self.scan.lows, at, behind, "number")
        if not found:
            return at
        number_at, word = found
        for _ in range(3):  # "Stock book no. 4"
            while number_at < behind and self.scan.words[number_at] in (".", ":", "#"):
                number_at += 1
            again = (
                longest(self.scan.lows, number_at, behind, "number")
                if number_at < behind
                else None
            )
            if not again:
                break
            number_at = again[0]
        if number_at >= behind:
            return at
        start = self.scan.starts[number_at]
        match = _NUMBER.match(self.scan.text, start, self.scan.ends[behind - 1])
        if not match:
            return at
        stop = match.end() - (match[0][-1] in ".-/")
        end = number_at
        while end < behind and self.scan.starts[end] < stop:
            end += 1
        written = self.scan.text[start:stop]
        key = word.key
        if key == "plain":
            key = "lot" if self.in_sale and not self.told.lot else "stock"
            if key == "stock" and not any(each.role == "dealer" for each in self.told.parties):
                key = "own"
        if key == "lot" and self.told.lot is None:
            self.told.lot = written
            self.in_sale = True
        elif self.told.stock_number is None:
            lead = self.scan.text[self.scan.starts[at] : start] if key == "own" else ""
            self.told.stock_number = lead + written
        else:
            return end
        self.last = "number"
        return self._place(at, end)

    def _figure(self, at: int, behind: int) -> int:
        """A number without a lead: of an accession, a house in a street, a lot behind a sale's date."""
        scan = self.scan
        if not scan.words[at][0].isdigit():
            return at
        text = scan.text
        end = at + 1
        if (
            "." in scan.words[at]
            and _ACCESSION.match(text, scan.starts[at])
            and not self.told.stock_number
        ):
            match = _ACCESSION.match(text, scan.starts[at], scan.ends[behind - 1])
            if match:
                while end < behind and scan.starts[end] < match.end():
                    end += 1
                self.told.stock_number = match[0]
                return self._place(at, end)
        if (
            self.comma
            and self.told.parties
            and end < behind
            and (begins(scan, end, behind) or scan.lows[end] in ("rue", "via", "bis"))
        ):
            stop = end
            while (
                stop < behind
                and scan.words[stop] not in ",;()[]"
                and stop < at + 7
                and not (stop > end and scan.words[stop][0].isdigit())
            ):
                stop += 1
            return self._somewhere(at, stop)
        if (
            self.in_sale
            and self.told.lot is None
            and self.last == "date"
            and len(scan.words[at]) < 4
        ):
            self.told.lot = scan.words[at]
            return self._place(at, end)
        return at

    # -- listed words

    def _listed(self, at: int, behind: int) -> int:
        scan = self.scan
        went = self._number(at, behind)
        if went > at:
            return went
        role = longest(scan.lows, at, behind, "role")
        if (
            role
            and self.told.parties
            and not self.kin
            and (self.comma or self.depth)
            and self._closed(role[0], behind)
        ):
            somebody = self.told.parties[-1]
            if not self.fresh or self.depth:
                somebody.role = role[1].key
                self.comma = False
                return self._place(at, role[0])
        if is_title(scan.lows[at]) and scan.is_capital(at) and self._is_capital(at + 1, behind):
            return at  # "Don" is a title before a name
        if scan.lows[at] == "as" and at + 1 in scan.quotes:
            return self._beside(at, at + 1, behind)
        if else_called(scan.lows[at]) and self.comma and self.last == "party":
            end = run(scan, at + 1, behind)
            if end > at + 1:
                self.told.parties[-1].end = end  # "Mrs. Ada Quill, née Penhale"
                return self._place(at, end)
        beside = longest(scan.lows, at, behind, "beside")
        if (
            beside
            and beside[1].key == "lead"
            and (not self.fresh or self.depth or beside[0] - at > 2)
        ):
            return self._beside(at, beside[0], behind)
        found = longest(
            scan.lows, at, behind, "passing", "leading", "sure", "unknown", "nobody", "behalf"
        )
        if not found:
            return at
        end, word = found
        if word.group == "behalf":
            return self._behalf(at, end, behind)
        if word.group == "nobody":
            return self._nobody(at, end, word, behind)
        if word.group == "unknown":
            if word.key == "gap":
                self.told.gap = True
            elif word.key == "aside":
                self.told.aside = True
            elif word.key == "editorial":
                self.told.editorial = True
            return self._place(at, end)
        if word.group == "sure":
            self.told.sure = word.key if self.told.sure == "certain" else self.told.sure
            return self._place(at, end)
        if word.group == "leading":
            return self._leading(at, end, word, behind)
        return self._passing(at, end, word, behind)

    def _is_capital(self, at: int, behind: int) -> bool:
        return at < behind and self.scan.is_capital(at)

    def _beside(self, at: int, end: int, behind: int) -> int:
        """A remark, to the next comma or bracket or to a way of passing."""
        scan = self.scan
        while end < behind and scan.words[end] not in ",;()[]":
            if end in scan.quotes and scan.quotes[end] < behind:
                end = scan.quotes[end] + 1
                end += (
                    end < behind
                    and scan.words[end] == ","
                    and scan.lows[end + 1 : end + 2] == ["by"]
                )
                continue
            found = longest(scan.lows, end, behind, "passing")
            if found and found[1].rank > 1 and scan.words[end][0].islower():
                break
            end += 1
        self.told.remarks.append(self._text(at, end))
        return self._place(at, end)

    def _closed(self, at: int, behind: int) -> bool:
        """Whether a phrase ends here: at a comma, a bracket or the end."""
        return at >= behind or self.scan.words[at] in ",;.()[]"

    def _leading(self, at: int, end: int, word: Word, behind: int) -> int:
        if end - at > 1:
            passing = longest(self.scan.lows, at + 1, behind, "passing")
            if passing and passing[0] > end:
                return self._place(at, at + 1)  # "and by descent"
        if word.key == "place":
            if self.fresh and end < behind and self.scan.is_capital(end):
                stop = run(self.scan, end, behind)
                if (
                    self.told.passings
                    and not self.in_sale
                    and word.key == "place"
                    and self.scan.lows[at] != "of"
                ):
                    self.told.place = self.told.place or (end, stop)
                    return self._place(at, stop)
            if end < behind and begins(self.scan, end, behind) and not self.in_sale:
                stop = run(self.scan, end, behind)
                if not self.fresh and self.told.parties:
                    self._place(at, end)
                    return self._somewhere(end, stop)
            return at
        names_next = end < behind and (self._names_somebody(end, behind))
        if word.key == "to":
            if names_next or self.told.passings:
                self.fresh = True
                self.expect = self.then
                self._close_kin()
            return self._place(at, end)
        if not names_next:
            return at
        if (
            self.scan.lows[at] in ("and", "or")
            and self.scan.words[end - 1].islower()
            and self.told.parties
            and not self.fresh
        ):
            self.expect = (
                self.told.parties[-1].role
                if self.told.parties[-1].role != "auctioneer"
                else "holder"
            )
            self.fresh = True
            return self._place(at, end)
        if self.scan.lows[at] == "for":
            self.then = "holder"
            self.expect = "holder"
            self.fresh = True
            return self._place(at, end)
        if self.fresh and self.expect != "holder":
            return self._place(at, end)
        self.fresh = True
        if self.expect != "commissioner":
            self.expect = "holder"
        return self._place(at, end)

    def _names_somebody(self, at: int, behind: int) -> bool:
        """Whether somebody is named at a word, past small words."""
        scan = self.scan
        limit = min(behind, at + 4)
        while at < limit:
            if scan.words[at] in ("(", "["):
                return at in scan.closes
            if begins(scan, at, behind) or relation(scan, at, behind) > at:
                return True
            if longest(scan.lows, at, behind, "nobody", "behalf", "sure"):
                return True
            if scan.lows[at] not in (
                "the",
                "a",
                "an",
                "his",
                "her",
                "their",
                "dealer",
                "dealers",
                "art",
                "agent",
                "collector",
                "whom",
            ):
                return False
            at += 1
        return False

    def _passing(self, at: int, end: int, word: Word, behind: int) -> int:
        scan = self.scan
        low = scan.lows[at]
        if (
            low in ("with", "at", "bei", "chez", "presso", "bij", "dealer", "agent", "of")
            and end - at == 1
        ):
            if not (end < behind and self._names_somebody(end, behind)):
                return at
            if low == "at":
                if not self.in_sale:
                    return self._at_a_place(at, end, behind)
                self.fresh, self.expect = True, "auctioneer"
                return self._place(at, end)
        if word.sale and self._is_part_of_name(at, end):
            return at
        if low in ("stock", "gallery") and end - at == 1:
            return at
        elsewhere = end < behind and (scan.words[end] == "," or scan.is_capital(end))
        if low in ("sold", "verkauft", "vendu") and end - at == 1 and elsewhere:
            word = replace(word, next="auctioneer", sale=True)  # "Sold, Holm & Sons, London"
            self.told.perhaps_house = True
        if word.sale and word.next == "consignor" and not self._puts_up(end, behind):
            word = replace(word, next="auctioneer")
        self._close_kin()
        self._place(at, end)
        self.told.passings.append((word, at, end))
        self.fresh = True
        self.then = word.then
        self.expect = word.next
        self.last = "passing"
        if word.sale:
            self._sale(at, word)
        return end

    def _puts_up(self, at: int, behind: int) -> bool:
        """Whether a name behind a word for a sale is that of whoever put it up, not of its house."""
        if at >= behind or self.scan.words[at] == "," or self._is_place_run(at, behind):
            return False
        return not firm_mark(self.scan.lows[at : run(self.scan, at, behind)])

    def _at_a_place(self, at: int, end: int, behind: int) -> int:
        stop = run(self.scan, end, behind)
        if stop > end and (not self.told.parties or not self.fresh):
            self._place(at, end)
            return self._somewhere(end, stop)
        self.fresh = True
        self.told.passings.append((Word("passing", "presence", "holder", "holder", 1), at, end))
        return self._place(at, end)

    def _is_part_of_name(self, at: int, end: int) -> bool:
        """Whether a word for a sale only begins the name of a house: "Auction Rooms"."""
        if end - at > 1 or end >= self.behind or not is_sale_room(self.scan.lows[at]):
            return False
        return self.scan.is_capital(at) and self.scan.is_capital(end)

    def _sale(self, at: int, word: Word) -> None:
        """What is said of a sale from here on; whoever was named just before it put it up."""
        told = self.told
        directly = told.parties and self.last_party_end == at and not self.comma
        if (
            directly
            and not self.in_sale
            and word.rank == 4
            and told.parties[-1].role in ("owner", "dealer")
        ):
            told.parties[-1].role = "consignor"
        if not self.in_sale:
            self.sale_named = False
        self.in_sale = True
        if word.next == "auctioneer" and self.sale_named:
            self.expect = "holder"

    last_party_end = -1
    bracket_named = False

    # -- somebody

    def _behalf(self, at: int, end: int, behind: int) -> int:
        """ "the estate of Ada Penhale": the name begins with these words."""
        scan = self.scan
        stop = end
        if scan.words[at] == "the" and self._is_capital(at + 1, behind):
            return at  # "the Convent of" is called "Convent of"
        if stop < behind and scan.lows[stop] == "the":
            stop += 1
        nobody = longest(scan.lows, stop, behind, "nobody") if stop < behind else None
        kin = relation(scan, stop, behind) if stop < behind else stop
        if stop < behind and begins(scan, stop, behind):
            stop = run(scan, stop, behind)
        elif nobody:
            stop = nobody[0]
        elif kin > stop:
            stop = kin
        else:
            return at
        if not self.fresh and not self.comma:
            return self._somewhere(at, stop)
        return self._somebody(at, stop, None if self.fresh else "holder")

    def _nobody(self, at: int, end: int, word: Word, behind: int) -> int:
        scan = self.scan
        if (
            end < behind
            and end - at == 1
            and scan.is_capital(at)
            and scan.is_capital(end)
            and scan.words[end] not in "(["
        ):
            return at  # "Kunsthandel Lindt" has a name
        if end < behind and scan.lows[end] == "of" and "private" not in scan.lows[at:end]:
            return at  # "the Museum of"
        if scan.lows[at:end] in (
            ["unknown"],
            ["unidentified"],
            ["anonymous"],
            ["donor"],
            ["family"],
            ["artist"],
        ) and not self._closed(end, behind):
            return self._place(at, end)
        if word.key in ("makers", "sitters") and self._named_too(end, behind):
            self._place(at, end)
            self.kin = (at, end)
            self.fresh = True
            return end
        if word.key == "makers" and not self.told.parties:
            self.told.maker = True
        if word.key == "dealers" and (not self.fresh or self.expect == "holder"):
            return self._somebody(at, end, "dealer")
        if (
            word.key == "words"
            and scan.lows[at:end] == ["the", "family"]
            and self.told.parties
            and self.told.passings
            and not self.fresh
        ):
            return self._place(at, end)
        return self._somebody(at, end, None if self.fresh else "holder")

    def _named_too(self, at: int, behind: int) -> bool:
        """Whether a name follows whoever was told of: "the sitter, Sir James Trewin"."""
        scan = self.scan
        name = at + 1
        if name >= behind or scan.words[at] != "," or not begins(scan, name, behind):
            return False
        end = run(scan, name, behind)
        if known_place(self._text(name, end)) or longest(scan.lows, name, behind, "passing"):
            return False
        words = [each for each in scan.words[name:end] if each[0].isalnum()]
        return is_title(scan.lows[name]) or len(words) > 1

    def _kin(self, at: int, end: int, behind: int) -> int:
        """ "his son": who that is may follow, or it tells of whoever was named before."""
        scan = self.scan
        self._place(at, end)
        told = self.told
        nxt = end + (end < behind and scan.words[end] == ",")
        named = (
            nxt < behind
            and begins(scan, nxt, behind)
            and not (nxt > end and self._is_place_run(nxt, behind))
        )
        if named and longest(scan.lows, nxt, behind, "passing") and not scan.is_capital(nxt):
            named = False
        if named:
            self._close_kin()
            self.kin = (at, end)
            self.fresh = True
            self.comma = False
            return end
        if (
            told.parties
            and (self.last in ("party", "life") or self.depth)
            and (self.comma or self.depth)
            and not self.kin
            and told.parties[-1].relation is None
            and not self.fresh
        ):
            told.parties[-1].relation = self._text(at, end)
            self.comma = False
            return end
        if self.depth and told.parties and not self.fresh:
            return end
        return self._somebody(at, end, None if self.fresh else "holder")

    def _is_place_run(self, at: int, behind: int) -> bool:
        stop = run(self.scan, at, behind)
        return known_place(self._text(at, stop))

    def _close_kin(self) -> None:
        """Kin of whom no name followed are named by what they were."""
        if self.kin:
            start, end = self.kin
            self.kin = None
            self._somebody(start, end, None)

    def _name(self, at: int, behind: int) -> int:
        scan = self.scan
        if at == self.first and scan.lows[at] in words.first_fillers():
            return at  # "Either Ada Penhale or"
        if self.last == "life" and self.comma and title_behind(scan, at, behind) > at:
            end = run(scan, at, behind)
            self.told.parties[-1].more = (
                at,
                end,
            )  # "Ada Penhale (1860-1934), Countess of Ostrey"
            return self._place(at, end)
        end = run(scan, at, behind)
        if end == at:
            return at
        closing = longest(scan.lows, end, behind, "closing") if end < behind else None
        nobody = longest(scan.lows, end, behind, "nobody") if end < behind else None
        if (
            nobody
            and scan.lows[end] in ("private", "dealer", "collector", "art")
            and scan.blank[end]
        ):
            market = "dealer" if nobody[1].key == "dealers" else None
            role = market or (None if self.fresh else "holder")
            return self._somebody(at, nobody[0], role)  # "Swiss private collection"
        if closing and (closing[0] >= behind or scan.lows[closing[0]] != "sale"):
            end = closing[0]
        if is_fund(scan.lows[at:end]):
            self.told.remarks.append(self._text(at, end))
            return self._place(at, end)
        if self.fresh:
            return self._fresh_name(at, end)
        if (
            self.in_sale
            and self.last in ("number", "date")
            and self.comma
            and (self.told.lot or self.told.place)
            and not known_place(self._text(at, end))
        ):
            return self._somebody(at, end, "holder")
        known = known_place(self._text(at, end))
        consigned = self.told.parties and self.told.parties[-1].role == "consignor"
        if not known and self.comma and self.in_sale and not self.sale_named and consigned:
            return self._somebody(at, end, "auctioneer")
        if not known and self.comma and is_strong(scan, at, end) and self.told.parties:
            return self._somebody(
                at, end, "auctioneer" if self.in_sale and not self.sale_named else "holder"
            )
        if (
            not known
            and self.last == "date"
            and self.comma
            and self.told.parties
            and self.told.parties[-1].place
            and end - at > 1
        ):
            return self._somebody(at, end, "holder")
        return self._somewhere(at, end)

    def _fresh_name(self, at: int, end: int) -> int:
        """Somebody is to be named here; behind a word for a sale it may be the town."""
        moved = self.told.passings and self.told.passings[-1][0].key in _MOVES
        if moved and is_town(self._text(at, end)):
            self.told.place = self.told.place or (at, end)
            self.last = "place"
            return self._place(at, end)
        if self.expect == "auctioneer" and known_place(self._text(at, end)):
            self.told.place = (at, end) if self.told.place is None else self.told.place
            self.last = "sale"
            self.comma = False
            return self._place(at, end)
        return self._somebody(at, end, None)

    def _somebody(self, at: int, end: int, role: str | None) -> int:
        """Name somebody new."""
        kin = self.kin
        self.kin = None
        role = role or self.expect
        if role == "auctioneer" and self.in_sale:
            self.sale_named = True
        if role == "holder":
            role = (
                "dealer"
                if self.bracket and not self.bracket_named
                else holder(self.scan.words[at:end])
            )
        joined = self.scan.lows[at - 1] in ("and", "&") if at else False
        if self.bracket_named and joined and self.bracket and self.told.parties:
            role = self.told.parties[-1].role
        somebody = Somebody(at, end, role, bracket=self.bracket)
        self.bracket_named = self.bracket_named or bool(self.bracket)
        if kin:
            somebody.relation = self._text(*kin)
        self.told.parties.append(somebody)
        self.last_party_end = end
        self.last = "party"
        self.fresh = False
        self.comma = False
        self.expect = "holder"
        return self._place(at, end)

    def _somewhere(self, at: int, end: int) -> int:
        """A place: of whoever was named last, or of the step."""
        told = self.told
        if not told.parties:
            told.place = told.place or (at, end)
            self.last = "place"
            return self._place(at, end)
        somebody = told.parties[-1]
        if somebody.place is None:
            somebody.place = (at, end)
        elif self.last == "place" and self._joins(somebody.place[1], at):
            somebody.place = (somebody.place[0], end)
        elif told.place is None:
            told.place = (at, end)
        else:
            return end
        self.last = "place"
        self.comma = False
        return self._place(at, end)

    def _joins(self, end: int, at: int) -> bool:
        """Whether nothing but a comma, or a bracket that opens, stands between two places."""
        between = self.scan.words[end : min(at, end + 4)]
        small = (",", "near", "in", "outside", "of")
        return len(between) < 4 and all(each in small for each in between)

    def _text(self, start: int, end: int) -> str:
        return self.scan.text[self.scan.starts[start] : self.scan.ends[end - 1]]

    def _described(self, at: int, behind: int, small: int) -> int:
        """Somebody who is told of without a name: "an Allied collecting point", "a local doctor"."""
        scan = self.scan
        if not self.fresh or not self.told.passings or self.kin:
            return at
        begun = scan.lows[at] in (
            "a",
            "an",
            "the",
            "two",
            "three",
            "several",
            "some",
            "various",
            "another",
        )
        if not begun:
            return at
        end = at + 1
        while end < behind and end < at + 8 and scan.words[end][0].isalpha():
            if end > at + 1 and longest(scan.lows, end, behind, "passing", "number", "leading"):
                word = longest(scan.lows, end, behind, "passing", "number", "leading")
                if word and word[1].key != "place":
                    break
            if may_begin(scan.lows[end]) and date_at(
                scan.text, scan.starts[end], scan.ends[behind - 1]
            ):
                break
            end += 1
        named = run(scan, at + 1, behind)
        if named > at + 1 and (
            named >= end or longest(scan.lows, named, behind, "filler", "closing")
        ):
            return at
        names = [each for each in scan.words[at + 1 : end] if each[0].islower()]
        things = longest(scan.lows, at + 1, behind, "filler") if at + 1 < behind else None
        if not names or (things and things[0] >= end):
            return at
        return self._somebody(at, end, None)

    # -- brackets

    def _bracket(self, opening: int, closing: int) -> int:
        scan = self.scan
        inside = scan.text[scan.ends[opening] : scan.starts[closing]]
        sort = scan.words[opening]
        self._place(opening, opening + 1)
        self._place(closing, closing + 1)
        behind = closing + 1
        if not inside.strip(" ?"):
            if "?" in inside:
                self.told.sure = "possible"
                self._place(opening, behind)
            return behind
        told = self.told
        open_begin = _SINCE_WHEN.match(inside)
        if (
            open_begin
            and told.parties
            and (
                sort == "("
                or institution_mark(scan.lows[told.parties[-1].start : told.parties[-1].end])
            )
        ):
            dated = date_at(
                scan.text, scan.ends[opening] + open_begin.end(), scan.starts[closing]
            )
            if dated and dated.when and not told.until:
                told.until = dated.when
                return self._place(opening, behind)
        if self._is_literature(inside) or _RESEARCHER.match(inside):
            told.remarks.append(inside.strip())
            return self._place(opening, behind)
        if told.parties and self._is_life(inside, sort):
            told.parties[-1].life = told.parties[-1].life or inside.strip()
            if told.parties[-1].role == "owner":
                told.habits.append(("life" if sort == "[" else "dealer", scan.starts[opening]))
            self.last = "life"
            return self._place(opening, behind)
        if self.fresh and not self.kin and self._holds_somebody(opening + 1, closing):
            return self._own_bracket(opening, closing, sort)
        if (
            told.parties
            and sort + inside[:3].casefold() in ("(née", "[née")
            and self._years(inside)
        ):
            told.parties[-1].life = told.parties[-1].life or inside.strip()
            return self._place(opening, behind)
        if self._is_remark(opening, closing):
            told.remarks.append(inside.strip())
            for at in range(opening, behind):  # but for notes that it cites
                mark = self.cited.get(scan.starts[at])
                if mark:
                    self._note(at, behind, mark)
            return self._place(opening, behind)
        if self._is_other_name(opening, closing):
            told.parties[-1].end = behind
            self.last = "party"
            return self._place(opening, behind)
        if (
            self.in_sale
            and not self.sale_named
            and begins(scan, opening + 1, closing)
            and not known_place(inside.strip())
        ):
            self.fresh, self.expect = True, "auctioneer"
            self._words(opening + 1, closing)
            self.fresh = False
            return behind
        was = (self.fresh, self.expect, self.then, self.comma, self.in_sale, self.sale_named)
        self.depth += 1
        self.comma = False
        self.fresh = False
        self._words(opening + 1, closing)
        self._close_kin()
        self.depth -= 1
        self.fresh, self.expect, self.then, self.comma, self.in_sale, self.sale_named = was
        if self.last in ("sale", "passing"):
            self.last = "bracket"
        return behind

    def _own_bracket(self, opening: int, closing: int, sort: str) -> int:
        """A bracket in which somebody is named: a dealer, an agent or a sale."""
        before = len(self.told.parties)
        outer = self.bracket
        if self.expect not in ("auctioneer", "agent", "custodian"):
            self.bracket = sort
            said = longest(self.scan.lows, opening + 1, closing, "passing")
            self.bracket_named = bool(said and said[1].rank > 1 and said[1].next == "holder")
        self._words(opening + 1, closing)
        self._close_kin()
        self.bracket = outer
        self.fresh = False
        self.comma = False
        self.last = "bracket"
        parties = self.told.parties[before:]
        if parties and not self.depth:
            self.told.habits.append(
                ("life" if sort == "(" else "dealer", self.scan.starts[opening])
            )
        return closing + 1

    def _is_literature(self, inside: str) -> bool:
        """Whether a bracket cites a book: "(Holm 1908, no. 12)"."""
        found = _CITED_BOOK.match(inside)
        return bool(
            found
            and self.told.parties
            and not known_place(found["who"])
            and not (self.in_sale and not self.sale_named)
        )

    def _years(self, inside: str) -> bool:
        """Whether the last words between commas are years of a life."""
        return LIFE.fullmatch(inside.rpartition(",")[2]) is not None

    def _is_remark(self, opening: int, closing: int) -> bool:
        """Whether a bracket is an editor's, by a word that stands in it."""
        scan = self.scan
        if self.fresh and not self.told.parties:
            return False
        if scan.lows[opening + 1] == "as":
            return True
        if longest(scan.lows, opening + 1, closing, "passing", "unknown", "number"):
            return False
        return any(each in words.beside_words() for each in scan.lows[opening + 1 : closing])

    def _is_other_name(self, opening: int, closing: int) -> bool:
        """Whether a bracket holds another name of whoever stands before it: "Mrs. J. Quill (Ada Wynne)"."""
        scan = self.scan
        if not self.told.parties or self.last_party_end != opening:
            return False
        somebody = self.told.parties[-1]
        first = opening + 1
        if else_called(scan.lows[first]):
            return begins(scan, first + 1, closing) or scan.words[first + 1 : first + 2] == [
                "."
            ]
        end = run(scan, first, closing)
        married = is_title(scan.lows[first]) or scan.lows[somebody.start] in (
            "mrs",
            "mme",
            "lady",
            "madame",
            "frau",
            "mr",
            "sir",
            "princess",
            "countess",
        )
        return married and end == closing and not known_place(self._text(first, end))

    def _holds_somebody(self, at: int, behind: int) -> bool:
        scan = self.scan
        if date_at(scan.text, scan.starts[at], scan.ends[behind - 1]):
            return False
        if longest(scan.lows, at, behind, "unknown"):
            return False
        found = longest(scan.lows, at, behind, "passing", "sure", "nobody", "behalf", "leading")
        return found is not None or begins(scan, at, behind) or relation(scan, at, behind) > at

    def _is_life(self, inside: str, sort: str) -> bool:
        """Whether the letters between two brackets are somebody's years, not those of a holding."""
        if self.last not in ("party", "life", "place", "bracket"):
            return False
        nation, _, years = inside.rpartition(",")
        known = nation.strip() and nation.strip()[0].isalpha() and len(nation.split()) < 4
        inside = years if known and years.strip()[:1].isdigit() else inside
        found = LIFE.fullmatch(inside)
        if not found or not (found["first"] or found["last"]):
            return _CENTURY.match(inside) is not None and sort == "["
        somebody = self.told.parties[-1]
        if somebody.role in ("dealer", "auctioneer") and sort == "(":
            return False
        if institution_mark(self.scan.lows[somebody.start : somebody.end]):
            return False
        lead = inside.strip()[:1].isalpha()
        if not found["dash"]:
            return lead and inside.strip()[:4].lower().startswith(
                ("b", "d", "act", "fl", "gest", "geb")
            )
        if found["first"] and found["last"] and found["last"].isdigit():
            last = (
                int(found["last"])
                if len(found["last"]) == 4
                else int(found["first"][:2] + found["last"])
            )
            if sort == "(":
                died = re.search(r"^\s*\d.*[-–—]\s*d\b", inside) is not None
                return (
                    self.last == "party" and last - int(found["first"][:4]) >= 20 and not died
                )
            return last - int(found["first"][:4]) >= 12
        return sort == "[" or self.last == "party"


def _follows(first: DateSpan, second: DateSpan) -> bool:
    """Whether a second date lies after a first."""
    one, two = first.earliest or first.latest, second.latest or second.earliest
    return one is not None and two is not None and one <= two
