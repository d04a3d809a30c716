"""Where a name in a step ends, and what a name alone says of whoever bears it."""

from __future__ import annotations

import re
from functools import cache
from typing import Final

from catalogue.argument.prose.reading.dated import may_begin
from catalogue.argument.prose.reading.scan import Scan
from catalogue.argument.prose.reading.words import (
    firm_mark,
    institution_mark,
    is_particle,
    is_title,
    kin,
    longest,
    plain,
    stops,
    table,
)
from catalogue.measure.address_words import is_place, towns

_ORDINAL: Final = re.compile(r"\d{1,2}(?:st|nd|rd|th)")
_LONGEST: Final = 30


@cache
def _list(key: str) -> frozenset[str]:
    return frozenset(plain(each) for each in table()["name"][key])


def run(scan: Scan, at: int, behind: int) -> int:
    """The place behind the name that begins at a word, that word where none does.

    >>> scan = Scan("Mr. and Mrs. John P. van der Quill, Jr., of Hull in 1900")
    >>> " ".join(scan.words[: run(scan, 0, len(scan))])
    'Mr . and Mrs . John P . van der Quill , Jr .'
    """
    first = end = at
    behind = min(behind, at + _LONGEST)
    if not begins(scan, at, behind):
        return first
    while at < behind:
        if scan.is_capital(at) and not (at > first and _breaks(scan, at, behind)):
            at = end = _with_stop(scan, at, behind)
        elif _ORDINAL.fullmatch(scan.lows[at]) and at + 1 < behind and scan.is_capital(at + 1):
            at += 1
        elif scan.words[at] == ",":
            at = _suffix(scan, at, behind, first)
            if at == end:
                return end
            end = at
        else:
            joined = _joined(scan, first, at, behind)
            if joined == at:
                return end
            at = joined
    return end


def begins(scan: Scan, at: int, behind: int) -> bool:
    """Whether a name may begin at a word."""
    if at >= behind:
        return False
    if scan.is_capital(at):
        return True
    if _ORDINAL.fullmatch(scan.lows[at]):
        return at + 1 < behind and scan.is_capital(at + 1)
    here = at
    while (
        here < behind
        and here < at + 3
        and is_particle(scan.lows[here])
        and scan.lows[here] != "of"
    ):
        here += 1
    return at < here < behind and scan.is_capital(here)


def _with_stop(scan: Scan, at: int, behind: int) -> int:
    """Behind a word and the full stop of a short form."""
    behind_word = at + 1
    if behind_word < behind and scan.words[behind_word] == "." and not scan.blank[behind_word]:
        low = scan.lows[at]
        if (
            len(low) == 1
            or is_title(low)
            or low in stops("never")
            or low in stops("perhaps")
            or low in _list("suffixes")
            or (behind_word + 1 < behind)
        ):
            return behind_word + 1
    return behind_word


def _breaks(scan: Scan, at: int, behind: int) -> bool:
    """Whether a word with a capital begins something else: "Sale", "May 1902", "Lot 12"."""
    next_one = scan.lows[at + 1] if at + 1 < behind else ""
    if next_one and (next_one[0].isdigit() or next_one == ".") and may_begin(scan.lows[at]):
        after = scan.lows[at + 2] if at + 2 < behind else ""
        if next_one[0].isdigit() or (after and after[0].isdigit()):
            return True
    found = longest(scan.lows, at, behind, "passing", "number")
    if not found:
        return False
    end, word = found
    if word.group == "number":
        return end < behind and scan.lows[end][0].isdigit()
    rooms = scan.lows[at] in _list("sale_rooms")
    if rooms and end - at == 1 and end < behind and scan.is_capital(end):
        return False  # "Trewin Auction Rooms"
    return word.sale or (
        word.group == "passing" and end - at > 1 and scan.words[end - 1].islower()
    )


def _suffix(scan: Scan, comma: int, behind: int, first: int) -> int:
    """Behind a comma and what still belongs to the name before it; the comma where nothing does."""
    at = comma + 1
    if at >= behind:
        return comma
    titled = title_behind(scan, at, behind)
    if titled > at:
        return titled
    low = scan.lows[at]
    if low in _list("suffixes") and (scan.is_capital(at)):
        return _with_stop(scan, at, behind)
    if scan.is_capital(at) and at + 2 < behind and scan.words[at + 1] in ("&", "and"):
        firm = firm_mark(scan.lows[at + 1 : at + 3])
        left = scan.text[scan.starts[first] : scan.ends[comma - 1]]
        ampersand = scan.words[at + 1] == "&" and not (
            is_place(scan.words[at]) or is_place(left)
        )
        if not is_place(left) and (firm or ampersand) and scan.is_capital(at + 2):
            return at + 1
    if scan.words[at] == "&" and at + 1 < behind and scan.is_capital(at + 1):
        return at + 1
    return comma


def title_behind(scan: Scan, at: int, behind: int) -> int:
    """Behind the first words of a peer's title that follows a name: "3rd Earl", "Duke"; else `at`."""
    if at >= behind:
        return at
    low = scan.lows[at]
    here = at
    if low == "the" and at + 1 < behind and _ORDINAL.fullmatch(scan.lows[at + 1]):
        here = at + 1
    numbered = _ORDINAL.fullmatch(scan.lows[here]) is not None
    here += numbered
    if here < behind and scan.lows[here] in _list("peers") and scan.is_capital(here):
        of = here + 1 < behind and scan.lows[here + 1] in ("of", "de", "von", "di", "van")
        if numbered or of or (here + 1 < behind and scan.is_capital(here + 1)):
            return _with_stop(scan, here, behind)
    return at


def is_fund(lows: list[str]) -> bool:
    """Whether a name is that of money that something was bought with."""
    return lows[-1] in _list("funds")


def else_called(low: str) -> bool:
    """Whether another name of somebody follows a word ("née")."""
    return low in _list("else_called")


def is_sale_room(low: str) -> bool:
    """Whether a word for a sale stands in the names of houses too ("Auction Rooms")."""
    return low in _list("sale_rooms")


def _joined(scan: Scan, first: int, at: int, behind: int) -> int:
    """Behind the small words that lead from one word of a name to the next; `at` where it ends."""
    low = scan.lows[at]
    if (
        low in ("-", "–", "'", "’", "/")
        and not scan.blank[at]
        and at + 1 < behind
        and not scan.blank[at + 1]
    ):
        return at + 1 if scan.is_capital(at + 1) else at
    if low == "the" and not (at + 1 < behind and scan.lows[at + 1] in ("elder", "younger")):
        return at
    here = at
    while (
        here < behind
        and here < at + 4
        and (is_particle(scan.lows[here]) or scan.lows[here] in _list("joining"))
    ):
        if here > at and scan.lows[here] in ("and", "&"):
            break
        here += 1
    if (
        here == at
        or here >= behind
        or not (scan.is_capital(here) or scan.lows[here] in ("elder", "younger"))
    ):
        return at
    if scan.lows[here] in ("elder", "younger"):
        return here + 1
    if low in ("and", "et", "und", "y", "e", "+", "og"):
        return here if _one_name(scan, first, at, here, behind) else at
    if low == "for" and not institution_mark(scan.lows[first:at]):
        return at
    if low in ("of", "for") and not _of_something(scan, first, at, here, behind):
        return at
    return here


def _one_name(scan: Scan, first: int, at: int, right: int, behind: int) -> bool:
    """Whether "and" joins words of one name ("Reid and Lefevre"), not two people."""
    left = [each for each in scan.lows[first:at] if each not in (".", ",")]
    if all(is_title(each) for each in left) or institution_mark(left):
        return True
    if firm_mark(scan.lows[at : right + 2]):
        return True
    far = run(scan, right, behind)
    if institution_mark(scan.lows[right:far]) and not firm_mark(left) and len(left) < 4:
        return not any(is_title(each) for each in left)
    if is_title(scan.lows[right]):
        return len([each for each in left if not is_title(each)]) <= 1
    bare = [each for each in left if not is_title(each)]
    if len(bare) <= 1:
        return True
    follows = right + 1
    return follows >= behind or not (
        scan.is_capital(follows)
        or is_particle(scan.lows[follows])
        or scan.words[follows] == "."
    )


def _of_something(scan: Scan, first: int, at: int, right: int, behind: int) -> bool:
    """Whether "of" belongs to a name: "Duke of Trewin", "Museum of Art"; not "Ada Penhale of Hull"."""
    left = scan.lows[first:at]
    if (
        any(each in _list("peers") for each in left)
        or institution_mark(left)
        or firm_mark(left)
    ):
        return True
    return not is_place(scan.words[right]) and not (
        right + 1 < behind and is_place(" ".join(scan.words[right : right + 2]))
    )


def is_strong(scan: Scan, start: int, end: int) -> bool:
    """Whether a name shows by itself that it is no place: a title, initials, a firm's mark."""
    lows = scan.lows[start:end]
    if is_title(lows[0]) and lows[0] not in ("st", "ste", "san", "the"):
        return True
    if any(
        len(each) == 1
        and each.isalpha()
        and scan.words[start + number].isupper()
        and start + number + 1 < end
        and scan.words[start + number + 1] == "."
        and start + number + 2 < end
        and len(scan.words[start + number + 2]) > 2
        for number, each in enumerate(lows)
    ):
        return not is_place(scan.text[scan.starts[start] : scan.ends[end - 1]])
    return firm_mark(lows) or institution_mark(lows)


def holder(name: list[str]) -> str:
    """What whoever bears a name was, as far as the name shows it: a firm a dealer, else an owner.

    >>> holder(["Galerie", "Quill"]), holder(["the", "artist's", "studio"])
    ('dealer', 'owner')
    """
    said = [plain(each) for each in name if not each[0].islower() or each in _list("joining")]
    if institution_mark(said):
        return "owner"
    return "dealer" if firm_mark(said) else "owner"


def known_place(text: str) -> bool:
    """Whether a text is a town or country of the lists."""
    return is_place(text)


def is_town(text: str) -> bool:
    """Whether a text is a town of the lists."""
    return plain(text) in towns()


def relation(scan: Scan, at: int, behind: int) -> int:
    """Behind "his eldest son", "the artist's widow"; `at` where nothing of the kind stands."""
    low = scan.lows[at]
    here = at
    if low not in kin("whose"):
        here += low == "the"
        if here >= behind or not (
            scan.lows[here].endswith("'s") or (scan.lows[here] == "latter's")
        ):
            return at
    here += 1
    last = at
    limit = min(behind, here + 7)
    while here < limit:
        low = scan.lows[here]
        if low in kin("words"):
            here += 1
            last = here
        elif low in kin("between") or low in ("-", "."):
            if low == "or" and last == here:
                break
            here += 1
        elif last == at and scan.words[here].startswith(("great-", "grand-", "step", "half-")):
            here += 1
            last = here
        else:
            break
    if last < behind and scan.lows[last] in ("sale", "sales", "auction"):
        return at  # "his estate sale"
    return last
