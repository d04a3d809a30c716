"""What stands aside from the works: people, jobs, other people's records, the card of signs."""

from __future__ import annotations

import re
from typing import Any
from uuid import UUID

from flask import Blueprint, redirect, render_template, request, url_for

from catalogue.desk import forms
from catalogue.desk.asking import at_work, page_of, studio
from catalogue.desk.calling import names_within
from catalogue.desk.stops import better_orders, of_plan
from catalogue.measure import DateSpan
from catalogue.reading import SIGNS, SNIPPETS, fault_examples, read
from catalogue.record import Reference
from catalogue.record.authority import address_of, doubt_about

pages = Blueprint("aside", __name__)


@pages.get("/people")
def people() -> str:
    """List people, firms and institutions, a page at a time."""
    named, role = request.args.get("q", "").strip(), request.args.get("role", "")
    found = studio().people(named, role, forms.page())
    return render_template("people.html", found=found, named=named, role=role)


@pages.get("/people/<uuid:uuid>")
def party(uuid: UUID) -> Any:
    """Show one party; how to reach them stands apart."""
    kept = studio().party(str(uuid))
    if kept.record.id != str(uuid):
        return redirect(url_for("aside.party", uuid=kept.record.id))
    found = studio().search(studio().query(artist=kept.record.name(), limit=100))
    return render_template(
        "party.html",
        party=kept.record,
        years=[(address, years_said(address.when)) for address in kept.record.addresses],
        numbers=[(each, address_of(each), doubt_about(each)) for each in kept.record.numbers],
        works=found.hits,
        history=list(studio().history(kept.document_id))[::-1],
        standing=studio().standing(kept.document_id),
        doubles=studio().doubles(kept.record),
        apart=[
            (each, each.written or studio().name_of(str(each.other)))
            for each in kept.record.not_same
        ],
    )


@pages.post("/people/<uuid:uuid>/apart")
def apart(uuid: UUID) -> Any:
    """Say that one is not the other, or take that back."""
    document, other, why = f"party/{uuid}", forms.text("other") or "", forms.text("why") or ""
    if forms.text("undo"):
        studio().take_for_one(document, other, who=at_work(), why=why)
    else:
        studio().tell_apart(document, other, who=at_work(), why=why)
    return redirect(url_for("aside.party", uuid=uuid, _anchor="doubles"))


def years_said(when: DateSpan | None) -> str:
    """The years that a date was taken as, "" where its own words have the very same figures.

    >>> from catalogue.measure import read_date
    >>> [years_said(read_date(each)) for each in ("c. 1890", "from c. 1905", "until 1920", "1880-1891")]
    ['1885 to 1895', 'from 1900', '', '']
    """
    if when is None:
        return ""
    first, last = (str(day.year) if day else "" for day in (when.earliest, when.latest))
    if {first, last} - {""} == set(re.findall(r"[0-9]+", when.written)):
        return ""
    if first and last:
        return first if first == last else f"{first} to {last}"
    return f"from {first}" if first else f"up to {last}"


@pages.get("/jobs")
def jobs() -> str:
    """List the commissions, the latest first, a page at a time."""
    asked, here = request.args.get("q", "").strip(), bool(request.args.get("here"))
    found = studio().commissions(asked, here=here, page=forms.page())
    return render_template("jobs.html", found=found, asked=asked, here=here, day=forms.iso_day)


@pages.get("/jobs/<uuid:uuid>")
def job(uuid: UUID) -> str:
    """Show one commission, which never leaves."""
    found = studio().commission(f"job/{uuid}")
    here = (studio().at(item.work) for item in found.job.items)
    works = [studio().read(own).record for own in here if own]
    inside = {
        own: name
        for work in works
        for own, name in names_within(work, studio().name_of).items()
    }
    return render_template(
        "job.html",
        found=found,
        job=found.job,
        inside=inside,
        broken=lambda option: of_plan(works, option),
        better_orders=better_orders,
    )


@pages.get("/reference/<uuid:uuid>")
def reference(uuid: UUID) -> Any:
    """Show somebody else's record as the statements it makes; one made our own is shown as that."""
    kept = studio().read(f"reference/{uuid}")
    if not isinstance(kept.record, Reference):
        return redirect(page_of(kept.document_id) or "/")
    _, history = studio().retold(kept.document_id)
    return render_template(
        "reference.html",
        reference=kept.record,
        name=studio().name_of(kept.document_id),
        document=studio().document(kept.document_id),
        becomes=studio().may_become(kept.record),
        history=history,
        named_by=studio().naming(kept.document_id),
    )


@pages.get("/help/signs")
def signs() -> str:
    """Show the card of signs."""
    signs = [(sign, read(sign.example)) for sign in SIGNS]
    return render_template("signs.html", signs=signs, snippets=SNIPPETS)


@pages.get("/help/faults")
def faults() -> str:
    """Show signs that were typed wrongly, and what is said about each."""
    return render_template("faults.html", examples=fault_examples())
