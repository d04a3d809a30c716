"""The words of a step that are listed in the vocabulary: ways of passing, sales, what leads to somebody."""

from __future__ import annotations

from dataclasses import replace

from catalogue.argument.prose.reading.course import Course
from catalogue.argument.prose.reading.figures import read_number
from catalogue.argument.prose.reading.naming import (
    begins,
    else_called,
    is_sale_room,
    relation,
    run,
)
from catalogue.argument.prose.reading.people import (
    close_kin,
    in_part,
    is_place_run,
    somewhere,
    unnamed,
)
from catalogue.argument.prose.reading.words import Word, firm_mark, is_title, longest


def read_listed(step: Course, at: int, behind: int) -> int:
    """Read a listed wording; `at` where none begins, or where it means nothing here."""
    scan = step.scan
    went = read_number(step, at, behind)
    if went > at:
        return went
    role = longest(scan.lows, at, behind, "role")
    if (
        role
        and step.told.parties
        and not step.kin
        and (step.comma or step.depth)
        and step.closed(role[0], behind)
    ):
        somebody = step.told.parties[-1]
        if not step.fresh or step.depth:
            somebody.role = role[1].key
            step.comma = False
            return step.place(at, role[0])
    if is_title(scan.lows[at]) and scan.is_capital(at) and step.is_capital(at + 1, behind):
        return at  # "Don" is a title before a name
    if scan.lows[at] == "as" and at + 1 in scan.quotes:
        return _beside(step, at, at + 1, behind)
    if else_called(scan.lows[at]) and step.comma and step.last == "party":
        end = run(scan, at + 1, behind)
        if end > at + 1:
            step.told.parties[-1].end = end  # "Mrs. Ada Quill, née Penhale"
            return step.place(at, end)
    beside = longest(scan.lows, at, behind, "beside")
    if (
        beside
        and beside[1].key == "lead"
        and (not step.fresh or step.depth or beside[0] - at > 2)
    ):
        return _beside(step, at, beside[0], behind)
    found = longest(
        scan.lows, at, behind, "passing", "leading", "sure", "unknown", "nobody", "behalf"
    )
    if not found:
        return at
    end, word = found
    if word.group == "behalf":
        return in_part(step, at, end, behind)
    if word.group == "nobody":
        return unnamed(step, at, end, word, behind)
    if word.group == "unknown":
        if word.key == "gap":
            step.told.gap = True
        elif word.key == "aside":
            step.told.aside = True
        elif word.key == "editorial":
            step.told.editorial = True
        return step.place(at, end)
    if word.group == "sure":
        step.told.sure = word.key if step.told.sure == "certain" else step.told.sure
        return step.place(at, end)
    if word.group == "leading":
        return _leading(step, at, end, word, behind)
    return _passing(step, at, end, word, behind)


def _beside(step: Course, at: int, end: int, behind: int) -> int:
    """A remark, to the next comma or bracket or to a way of passing."""
    scan = step.scan
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
    step.told.remarks.append(step.text(at, end))
    return step.place(at, end)


def _leading(step: Course, at: int, end: int, word: Word, behind: int) -> int:
    if end - at > 1:
        passing = longest(step.scan.lows, at + 1, behind, "passing")
        if passing and passing[0] > end:
            return step.place(at, at + 1)  # "and by descent"
    if word.key == "place":
        if step.fresh and end < behind and step.scan.is_capital(end):
            stop = run(step.scan, end, behind)
            if (
                step.told.passings
                and not step.in_sale
                and word.key == "place"
                and step.scan.lows[at] != "of"
            ):
                step.told.place = step.told.place or (end, stop)
                return step.place(at, stop)
        if end < behind and begins(step.scan, end, behind) and not step.in_sale:
            stop = run(step.scan, end, behind)
            if not step.fresh and step.told.parties:
                step.place(at, end)
                return somewhere(step, end, stop)
        return at
    names_next = end < behind and (_names_somebody(step, end, behind))
    if word.key == "to":
        if names_next or step.told.passings:
            step.fresh = True
            step.expect = step.then
            close_kin(step)
        return step.place(at, end)
    if not names_next:
        return at
    if (
        step.scan.lows[at] in ("and", "or")
        and step.scan.words[end - 1].islower()
        and step.told.parties
        and not step.fresh
    ):
        step.expect = (
            step.told.parties[-1].role
            if step.told.parties[-1].role != "auctioneer"
            else "holder"
        )
        step.fresh = True
        return step.place(at, end)
    if step.scan.lows[at] == "for":
        step.then = "holder"
        step.expect = "holder"
        step.fresh = True
        return step.place(at, end)
    if step.fresh and step.expect != "holder":
        return step.place(at, end)
    step.fresh = True
    if step.expect != "commissioner":
        step.expect = "holder"
    return step.place(at, end)


def _names_somebody(step: Course, at: int, behind: int) -> bool:
    """Whether somebody is named at a word, past small words."""
    scan = step.scan
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


def _passing(step: Course, at: int, end: int, word: Word, behind: int) -> int:
    scan = step.scan
    low = scan.lows[at]
    if (
        low in ("with", "at", "bei", "chez", "presso", "bij", "dealer", "agent", "of")
        and end - at == 1
    ):
        if not (end < behind and _names_somebody(step, end, behind)):
            return at
        if low == "at":
            if not step.in_sale:
                return _at_a_place(step, at, end, behind)
            step.fresh, step.expect = True, "auctioneer"
            return step.place(at, end)
    if word.sale and _is_part_of_name(step, at, end):
        return at
    if low in ("stock", "gallery") and end - at == 1:
        return at
    elsewhere = end < behind and (scan.words[end] == "," or scan.is_capital(end))
    if low in ("sold", "verkauft", "vendu") and end - at == 1 and elsewhere:
        word = replace(word, next="auctioneer", sale=True)  # "Sold, Holm & Sons, London"
        step.told.perhaps_house = True
    if word.sale and word.next == "consignor" and not _puts_up(step, end, behind):
        word = replace(word, next="auctioneer")
    close_kin(step)
    step.place(at, end)
    step.told.passings.append((word, at, end))
    step.fresh = True
    step.then = word.then
    step.expect = word.next
    step.last = "passing"
    if word.sale:
        _sale(step, at, word)
    return end


def _puts_up(step: Course, at: int, behind: int) -> bool:
    """Whether a name behind a word for a sale is that of whoever put it up, not of its house."""
    if at >= behind or step.scan.words[at] == "," or is_place_run(step, at, behind):
        return False
    return not firm_mark(step.scan.lows[at : run(step.scan, at, behind)])


def _at_a_place(step: Course, at: int, end: int, behind: int) -> int:
    stop = run(step.scan, end, behind)
    if stop > end and (not step.told.parties or not step.fresh):
        step.place(at, end)
        return somewhere(step, end, stop)
    step.fresh = True
    step.told.passings.append((Word("passing", "presence", "holder", "holder", 1), at, end))
    return step.place(at, end)


def _is_part_of_name(step: Course, at: int, end: int) -> bool:
    """Whether a word for a sale only begins the name of a house: "Auction Rooms"."""
    if end - at > 1 or end >= step.behind or not is_sale_room(step.scan.lows[at]):
        return False
    return step.scan.is_capital(at) and step.scan.is_capital(end)


def _sale(step: Course, at: int, word: Word) -> None:
    """What is said of a sale from here on; whoever was named just before it put it up."""
    told = step.told
    directly = told.parties and step.last_party_end == at and not step.comma
    if (
        directly
        and not step.in_sale
        and word.rank == 4
        and told.parties[-1].role in ("owner", "dealer")
    ):
        told.parties[-1].role = "consignor"
    if not step.in_sale:
        step.sale_named = False
    step.in_sale = True
    if word.next == "auctioneer" and step.sale_named:
        step.expect = "holder"
