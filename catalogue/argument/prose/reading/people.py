"""Whoever is named in a step, or told of without a name, and the places that belong to them."""

from __future__ import annotations

from typing import Final

from catalogue.argument.prose.reading import words
from catalogue.argument.prose.reading.course import Course, Somebody
from catalogue.argument.prose.reading.dated import date_at, may_begin
from catalogue.argument.prose.reading.naming import (
    begins,
    holder,
    is_fund,
    is_strong,
    is_town,
    known_place,
    relation,
    run,
    title_behind,
)
from catalogue.argument.prose.reading.words import Word, is_title, longest

_MOVES: Final = frozenset({"transfer", "export", "import", "recovery"})
"""Ways of passing behind which a town is where it went, not to whom."""


def in_part(step: Course, at: int, end: int, behind: int) -> int:
    """ "the estate of Ada Penhale": the name begins with these words."""
    scan = step.scan
    stop = end
    if scan.words[at] == "the" and step.is_capital(at + 1, behind):
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
    if not step.fresh and not step.comma:
        return somewhere(step, at, stop)
    return somebody_new(step, at, stop, None if step.fresh else "holder")


def unnamed(step: Course, at: int, end: int, word: Word, behind: int) -> int:
    """Read somebody without a name, "private collection"; `at` where the words only begin a name."""
    scan = step.scan
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
    ) and not step.closed(end, behind):
        return step.place(at, end)
    if word.key in ("makers", "sitters") and _named_too(step, end, behind):
        step.place(at, end)
        step.kin = (at, end)
        step.fresh = True
        return end
    if word.key == "makers" and not step.told.parties:
        step.told.maker = True
    if word.key == "dealers" and (not step.fresh or step.expect == "holder"):
        return somebody_new(step, at, end, "dealer")
    if (
        word.key == "words"
        and scan.lows[at:end] == ["the", "family"]
        and step.told.parties
        and step.told.passings
        and not step.fresh
    ):
        return step.place(at, end)
    return somebody_new(step, at, end, None if step.fresh else "holder")


def _named_too(step: Course, at: int, behind: int) -> bool:
    """Whether a name follows whoever was told of: "the sitter, Sir James Trewin"."""
    scan = step.scan
    name = at + 1
    if name >= behind or scan.words[at] != "," or not begins(scan, name, behind):
        return False
    end = run(scan, name, behind)
    if known_place(step.text(name, end)) or longest(scan.lows, name, behind, "passing"):
        return False
    words = [each for each in scan.words[name:end] if each[0].isalnum()]
    return is_title(scan.lows[name]) or len(words) > 1


def read_kin(step: Course, at: int, end: int, behind: int) -> int:
    """ "his son": who that is may follow, or it tells of whoever was named before."""
    scan = step.scan
    step.place(at, end)
    told = step.told
    nxt = end + (end < behind and scan.words[end] == ",")
    named = (
        nxt < behind
        and begins(scan, nxt, behind)
        and not (nxt > end and is_place_run(step, nxt, behind))
    )
    if named and longest(scan.lows, nxt, behind, "passing") and not scan.is_capital(nxt):
        named = False
    if named:
        close_kin(step)
        step.kin = (at, end)
        step.fresh = True
        step.comma = False
        return end
    if (
        told.parties
        and (step.last in ("party", "life") or step.depth)
        and (step.comma or step.depth)
        and not step.kin
        and told.parties[-1].relation is None
        and not step.fresh
    ):
        told.parties[-1].relation = step.text(at, end)
        step.comma = False
        return end
    if step.depth and told.parties and not step.fresh:
        return end
    return somebody_new(step, at, end, None if step.fresh else "holder")


def is_place_run(step: Course, at: int, behind: int) -> bool:
    """Whether the name that begins at a word is a town or country of the lists."""
    stop = run(step.scan, at, behind)
    return known_place(step.text(at, stop))


def close_kin(step: Course) -> None:
    """Kin of whom no name followed are named by what they were."""
    if step.kin:
        start, end = step.kin
        step.kin = None
        somebody_new(step, start, end, None)


def read_name(step: Course, at: int, behind: int) -> int:
    """Read a name: of somebody new, or of the place of whoever was named before."""
    scan = step.scan
    if at == step.first and scan.lows[at] in words.first_fillers():
        return at  # "Either Ada Penhale or"
    if step.last == "life" and step.comma and title_behind(scan, at, behind) > at:
        end = run(scan, at, behind)
        step.told.parties[-1].more = (
            at,
            end,
        )  # "Ada Penhale (1860-1934), Countess of Ostrey"
        return step.place(at, end)
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
        role = market or (None if step.fresh else "holder")
        return somebody_new(step, at, nobody[0], role)  # "Swiss private collection"
    if closing and (closing[0] >= behind or scan.lows[closing[0]] != "sale"):
        end = closing[0]
    if is_fund(scan.lows[at:end]):
        step.told.remarks.append(step.text(at, end))
        return step.place(at, end)
    if step.fresh:
        return _fresh_name(step, at, end)
    if (
        step.in_sale
        and step.last in ("number", "date")
        and step.comma
        and (step.told.lot or step.told.place)
        and not known_place(step.text(at, end))
    ):
        return somebody_new(step, at, end, "holder")
    known = known_place(step.text(at, end))
    consigned = step.told.parties and step.told.parties[-1].role == "consignor"
    if not known and step.comma and step.in_sale and not step.sale_named and consigned:
        return somebody_new(step, at, end, "auctioneer")
    if not known and step.comma and is_strong(scan, at, end) and step.told.parties:
        return somebody_new(
            step, at, end, "auctioneer" if step.in_sale and not step.sale_named else "holder"
        )
    if (
        not known
        and step.last == "date"
        and step.comma
        and step.told.parties
        and step.told.parties[-1].place
        and end - at > 1
    ):
        return somebody_new(step, at, end, "holder")
    return somewhere(step, at, end)


def _fresh_name(step: Course, at: int, end: int) -> int:
    """Somebody is to be named here; behind a word for a sale it may be the town."""
    moved = step.told.passings and step.told.passings[-1][0].key in _MOVES
    if moved and is_town(step.text(at, end)):
        step.told.place = step.told.place or (at, end)
        step.last = "place"
        return step.place(at, end)
    if step.expect == "auctioneer" and known_place(step.text(at, end)):
        step.told.place = (at, end) if step.told.place is None else step.told.place
        step.last = "sale"
        step.comma = False
        return step.place(at, end)
    return somebody_new(step, at, end, None)


def somebody_new(step: Course, at: int, end: int, role: str | None) -> int:
    """Name somebody new."""
    kin = step.kin
    step.kin = None
    role = role or step.expect
    if role == "auctioneer" and step.in_sale:
        step.sale_named = True
    if role == "holder":
        role = (
            "dealer"
            if step.bracket and not step.bracket_named
            else holder(step.scan.words[at:end])
        )
    joined = step.scan.lows[at - 1] in ("and", "&") if at else False
    if step.bracket_named and joined and step.bracket and step.told.parties:
        role = step.told.parties[-1].role
    somebody = Somebody(at, end, role, bracket=step.bracket)
    step.bracket_named = step.bracket_named or bool(step.bracket)
    if kin:
        somebody.relation = step.text(*kin)
    step.told.parties.append(somebody)
    step.last_party_end = end
    step.last = "party"
    step.fresh = False
    step.comma = False
    step.expect = "holder"
    return step.place(at, end)


def somewhere(step: Course, at: int, end: int) -> int:
    """A place: of whoever was named last, or of the step."""
    told = step.told
    if not told.parties:
        told.place = told.place or (at, end)
        step.last = "place"
        return step.place(at, end)
    somebody = told.parties[-1]
    if somebody.place is None:
        somebody.place = (at, end)
    elif step.last == "place" and _joins(step, somebody.place[1], at):
        somebody.place = (somebody.place[0], end)
    elif told.place is None:
        told.place = (at, end)
    else:
        return end
    step.last = "place"
    step.comma = False
    return step.place(at, end)


def _joins(step: Course, end: int, at: int) -> bool:
    """Whether nothing but a comma, or a bracket that opens, stands between two places."""
    between = step.scan.words[end : min(at, end + 4)]
    small = (",", "near", "in", "outside", "of")
    return len(between) < 4 and all(each in small for each in between)


def described(step: Course, at: int, behind: int, small: int) -> int:
    """Somebody who is told of without a name: "an Allied collecting point", "a local doctor"."""
    scan = step.scan
    if not step.fresh or step.kin or not (step.told.passings or at == step.first):
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
    return somebody_new(step, at, end, None)
