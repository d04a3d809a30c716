"""What reads the cell of each field. A new field is a row of vocab/job_books.toml and a line here."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from catalogue.exchange.books.rows import Written
from catalogue.job_books import people, prose, sizes, sums
from catalogue.job_books.days import day_in_figures, read_day
from catalogue.job_books.entry import Entry
from catalogue.job_books.headings import OF_THE_BACK
from catalogue.job_books.people import PeopleOnFile
from catalogue.job_books.told import CellRead, said
from catalogue.measure import Day, read_name, understand
from catalogue.record import Attribution, Note, Number, Offer, Size, Title, Treatment
from catalogue.terms import label, labelled

Reads = Callable[[Entry, str, Written, PeopleOnFile], CellRead]
MEASURES: Final = ("height", "width", "depth")
CONTACT: Final = {
    "client-phone": "reach/telephone",
    "client-e-mail": "reach/e-mail",
    "client-address": "reach/post",
}
_NO_DATE: Final = "no date"
"""What the reader of dates calls words that say so, such as n.d."""

_WITHDRAWN: Final = "offer-status/withdrawn"


def _number(kind: str, field: str) -> Reads:
    def read(entry: Entry, column: str, cell: Written, on_file: PeopleOnFile) -> CellRead:
        text = " ".join(cell.text.split())
        entry.numbers.append(Number(id=entry.new_id(f"number {field}"), kind=kind, text=text))
        return CellRead(column, field, cell.text, (f"{label(kind)} {text}",))

    return read


def _title(kind: str, field: str, *, preferred: bool) -> Reads:
    def read(entry: Entry, column: str, cell: Written, on_file: PeopleOnFile) -> CellRead:
        text = " ".join(cell.text.split())
        place = len(entry.titles)
        own = entry.new_id("title" if preferred else f"title {place}")
        entry.titles.append(Title(id=own, text=text, kind=kind, preferred=preferred))
        return CellRead(column, field, cell.text, (text,))

    return read


def _artist(entry: Entry, column: str, cell: Written, on_file: PeopleOnFile) -> CellRead:
    text = " ".join(cell.text.split())
    qualifier, name = people.attributed(text)
    told = [label(qualifier)]
    names = people.several(name)
    if not names:
        entry.note("note/creator", text, "artist")
        why = said("row")["perhaps_several"]
        return CellRead(column, "artist", cell.text, (label("note/creator"),), text, (why,))
    for at, each in enumerate(names):
        party = None
        if each:
            # One name alone may stand within words of attribution that follow it.
            meant, _ = on_file.meant(each if len(names) > 1 else text, people.ARTIST)
            party = meant.document_id
            told.append(meant.sentence)
        entry.attributions.append(
            Attribution(
                id=entry.new_id(f"attribution {at + 1}" if at else "attribution"),
                qualifier=qualifier,
                artist=party,
                written=text,
                preferred=True,
            )
        )
    rest = read_name(text).rest.strip() if len(names) == 1 and name else ""
    return CellRead(column, "artist", cell.text, tuple(told), rest)


def _date(entry: Entry, column: str, cell: Written, on_file: PeopleOnFile) -> CellRead:
    day = (
        cell.value
        if isinstance(cell.value, Day)
        else day_in_figures(cell.text, entry.mapping.habits)
    )
    read = understand(day.iso if day else cell.text)
    if read.span is None and read.rule == _NO_DATE:
        return CellRead(column, "date", cell.text, (read.rule,))
    if read.span is None:
        entry.note("note/date", cell.text, "date")
        why = said("row")["no_date"].format(why=read.why or read.rule)
        return CellRead(column, "date", cell.text, (), cell.text, (why,))
    entry.made = read.span
    if read.rest.strip():
        entry.note("note/date", cell.text, "date")
    bounds = " to ".join(
        each.iso if each else "..." for each in (read.span.earliest, read.span.latest)
    )
    return CellRead(
        column, "date", cell.text, (f"{read.span.edtf}: {bounds}",), read.rest.strip()
    )


def _size(what: str, field: str) -> Reads:
    def read(entry: Entry, column: str, cell: Written, on_file: PeopleOnFile) -> CellRead:
        found = sizes.read(cell.text, entry.mapping.habits)
        return take_sizes(entry, column, field, cell.text, found, what)

    return read


def take_sizes(
    entry: Entry, column: str, field: str, written: str, found: sizes.SizesRead, what: str
) -> CellRead:
    """Sizes that were read, as values of the work; what is left as a note."""
    told = []
    for size in found.sizes:
        kind = f"size/{size.what}" if size.what else what
        at = sum(each.what == kind for each in entry.sizes)
        entry.sizes.append(
            Size(
                id=entry.new_id(f"{kind} {at}"),
                what=kind,
                height_mm=size.height_mm,
                width_mm=size.width_mm,
                depth_mm=size.depth_mm,
                diameter_mm=size.diameter_mm,
            )
        )
        measures = (size.height_mm, size.width_mm, size.depth_mm, size.diameter_mm)
        shown = " × ".join(f"{each:.10g}" for each in measures if each is not None)
        told.append(f"{label(kind)} {shown} mm")
    remarks = tuple(filter(None, (found.why, *(each.doubt for each in found.sizes))))
    if found.rest:
        entry.note("note/dimensions", written, "size")
    return CellRead(column, field, written, tuple(told), found.rest, remarks)


def _measure(field: str) -> Reads:
    def read(entry: Entry, column: str, cell: Written, on_file: PeopleOnFile) -> CellRead:
        # Height, width and depth are read together once the whole row is there.
        entry.measures[field] = cell.text
        return CellRead(column, field, cell.text)

    return read


def _medium(entry: Entry, column: str, cell: Written, on_file: PeopleOnFile) -> CellRead:
    entry.medium = " ".join(cell.text.split())
    return CellRead(column, "medium", cell.text, (entry.medium,))


def _inscriptions(field: str) -> Reads:
    def read(entry: Entry, column: str, cell: Written, on_file: PeopleOnFile) -> CellRead:
        return prose.inscriptions(entry, column, cell.text, field)

    return read


def _provenance(entry: Entry, column: str, cell: Written, on_file: PeopleOnFile) -> CellRead:
    return prose.provenance(entry, column, cell.text)


def _note(kind: str, field: str) -> Reads:
    def read(entry: Entry, column: str, cell: Written, on_file: PeopleOnFile) -> CellRead:
        entry.note(kind, cell.text.strip())
        return CellRead(column, field, cell.text, (label(kind),))

    return read


def _treatment(entry: Entry, column: str, cell: Written, on_file: PeopleOnFile) -> CellRead:
    number = len(entry.treatments) + 1
    text = cell.text.strip()
    entry.treatments.append(
        Treatment(
            id=entry.new_id(f"treatment {number}"),
            number=f"T{number}",
            notes=(Note(kind="note/treatment", text=text),),
        )
    )
    return CellRead(column, "treatment", cell.text, (label("note/treatment"),))


def _private(entry: Entry, column: str, cell: Written, on_file: PeopleOnFile) -> CellRead:
    entry.job_note("note/private", cell.text.strip())
    return CellRead(column, "private-notes", cell.text, (label("note/private"),))


def _party(role: str, field: str) -> Reads:
    def read(entry: Entry, column: str, cell: Written, on_file: PeopleOnFile) -> CellRead:
        text = " ".join(cell.text.split())
        reaches = entry.reaches if field == "client" else ()
        meant, left = on_file.meant(text, role, reaches)
        entry.job[field] = meant.document_id
        remarks = []
        for _, reach in left:
            entry.job_note("note/private", reach, "contact", name=text)
        if left:
            remarks.append(said("row")["contact_left"].format(name=text))
        rest = (
            read_name(text).rest.strip()
            if people.plain_name(text, read_name(text)) != text
            else ""
        )
        return CellRead(column, field, cell.text, (meant.sentence,), rest, tuple(remarks))

    return read


def _reach(field: str) -> Reads:
    def read(entry: Entry, column: str, cell: Written, on_file: PeopleOnFile) -> CellRead:
        entry.reaches.append((CONTACT[field], " ".join(cell.text.split())))
        return CellRead(column, field, cell.text, (label(CONTACT[field]),))

    return read


def _reason(entry: Entry, column: str, cell: Written, on_file: PeopleOnFile) -> CellRead:
    found = labelled(cell.text.strip().removeprefix("reason/"), "reason")
    if found is None:
        entry.job_note("note/reason", cell.text, "reason")
        why = said("row")["no_reason"].format(text=cell.text)
        return CellRead(column, "reason", cell.text, (), cell.text, (why,))
    entry.job["reason"] = found.key
    return CellRead(column, "reason", cell.text, (found.label,))


def _day(field: str) -> Reads:
    def read(entry: Entry, column: str, cell: Written, on_file: PeopleOnFile) -> CellRead:
        found = read_day(cell, entry.mapping.habits, entry.from_1904)
        if found.day is None:
            entry.job_note("note/arrival", cell.text, field)
            # A workbook that holds no day there has said why already.
            why = () if cell.remark else (found.why,)
            return CellRead(column, field, cell.text, (), cell.text, why)
        entry.item[field] = found.day
        remarks = (found.remark,) if found.remark else ()
        return CellRead(column, field, cell.text, (found.day.iso,), "", remarks)

    return read


def _price(entry: Entry, column: str, cell: Written, on_file: PeopleOnFile) -> CellRead:
    found = sums.read(cell, entry.mapping.habits.currency)
    # What a job cost has no other place: an old book tells neither hours nor what was proposed.
    entry.job_note("note/private", "; ".join((cell.text, *found.told)), "price")
    return CellRead(column, "price", cell.text, found.told, found.rest, found.remarks)


def _asking_price(entry: Entry, column: str, cell: Written, on_file: PeopleOnFile) -> CellRead:
    found = sums.read(cell, entry.mapping.habits.currency)
    if found.amount is None:
        entry.job_note("note/private", cell.text, "asking-price")
        return CellRead(column, "asking-price", cell.text, (), found.rest, found.remarks)
    entry.offers.append(
        Offer(
            id=entry.new_id("offer"),
            work=f"work/{entry.work_id}",
            # Nobody knows from an old book whether it still stands.
            status=_WITHDRAWN,
            asked=found.amount,
            currency=found.currency,
        )
    )
    told = (*found.told, label(_WITHDRAWN))
    if found.rest:
        entry.job_note("note/private", cell.text, "asking-price")
    return CellRead(column, "asking-price", cell.text, told, found.rest, found.remarks)


READERS: Final[dict[str, Reads]] = {
    "number": _number("number/entry", "number"),
    "inventory-number": _number("number/inventory", "inventory-number"),
    "stock-number": _number("number/stock", "stock-number"),
    "title": _title("title/given", "title", preferred=True),
    "other-title": _title("title/former", "other-title", preferred=False),
    "artist": _artist,
    "date": _date,
    "size": _size("size/support", "size"),
    "framed-size": _size("size/framed", "framed-size"),
    "height": _measure("height"),
    "width": _measure("width"),
    "depth": _measure("depth"),
    "medium": _medium,
    "inscriptions": _inscriptions("inscriptions"),
    OF_THE_BACK: _inscriptions(OF_THE_BACK),
    "provenance": _provenance,
    "exhibited": _note("note/exhibition", "exhibited"),
    "literature": _note("note/bibliography", "literature"),
    "condition": _note("note/condition", "condition"),
    "treatment": _treatment,
    "notes": _note("note/description", "notes"),
    "private-notes": _private,
    "client-phone": _reach("client-phone"),
    "client-e-mail": _reach("client-e-mail"),
    "client-address": _reach("client-address"),
    "client": _party(people.CLIENT, "client"),
    "owner": _party(people.OWNER, "owner"),
    "reason": _reason,
    "came": _day("came"),
    "due": _day("due"),
    "left": _day("left"),
    "price": _price,
    "asking-price": _asking_price,
    "insurance": lambda entry, column, cell, on_file: _kept(
        entry.job, "insurance", column, cell
    ),
    "kept-at": lambda entry, column, cell, on_file: _kept(entry.item, "kept_at", column, cell),
}
"""What reads a cell, in the order in which the cells of a row are read: contact before whose it is."""


def _kept(held: dict[str, object], name: str, column: str, cell: Written) -> CellRead:
    held[name] = " ".join(cell.text.split())
    return CellRead(column, name.replace("_", "-"), cell.text, (str(held[name]),))
