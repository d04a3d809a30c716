"""Every page of the desk with an address in a studio where there is something to show.

A route for which nothing here makes an address is told as missing: a new page cannot be forgotten.
"""

from __future__ import annotations

import io
import time
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

from desk_studio import Desk, filled, photo_named, picture
from flask import Flask
from werkzeug.routing import Rule

from catalogue.desk.under_way import begin, errands
from catalogue.drafting import Line, MachineDraft
from catalogue.drafting.draft import written
from catalogue.places import folder
from catalogue.record import Job, Party, Photo, Transcript, Work
from catalogue.record.rules import fields_of, is_value
from catalogue.studio import Studio
from catalogue.under_way import Landing, UnderWay

NOT_PAGES = frozenset(
    {"static", "drafts.show", "drafts.here", "pictures.onto", "sorting.picture"}
)
"""Routes that never answer with a page, and need more than a studio to answer at all."""

KEY = "0" * 31 + "1"

FORMS = frozenset({
    "checks", "findings", "repairs", "treatments", "provenance", "parts", "proposals", "items", "hours", "photos",
})  # fmt: skip
"""Values whose form is looked at, empty and filled in: together they have every kind of blank that there is."""

AMISS = (
    "/nowhere",
    "/work/00000000-0000-4000-8000-000000000000",
)
"""What nobody finds."""


@dataclass(frozen=True)
class Seen:
    """What there is to look at: ids of a work with everything in it, of one with photographs, and so on."""

    rich: Work
    pictured: Work
    job: Job
    party: Party
    ids: dict[str, str]
    token: str
    errand: str
    card: str


def furnished(studio: Studio) -> dict[str, str]:
    """The desk's small studio, and beside it the sample records; the small one's ids."""
    ids = filled(studio)
    records = folder("sample_records")
    told = list(
        studio.import_(
            [records / name for name in ("parties", "works", "jobs")], who="Nell Quince"
        )
    )
    assert {each.outcome for each in told} == {"new"}, [each.said for each in told]
    _read_again(studio, ids)
    studio.save_search("labels of a dealer", "dealer")
    studio.catch_up()
    return ids


def _read_again(studio: Studio, ids: dict[str, str]) -> None:
    """Somebody else reads the label too, so that there are readings to lay side by side."""
    kept = studio.read(f"work/{ids['low_water']}")
    (label,) = kept.record.inscriptions
    other = Transcript(
        markup="Hollis & Trewin\nDealers in Pictures", by=f"party/{ids['artist']}"
    )
    label = replace(label, transcripts=(*label.transcripts, other))
    studio.save(replace(kept.record, inscriptions=(label,)), who="Nell Quince", read=kept)


def to_look_at(studio: Studio, ids: dict[str, str], token: str, errand: str, card: str) -> Seen:
    works = [kept.record for kept in studio.all(Work)]
    jobs = [kept.record for kept in studio.all(Job)]
    parties = [kept.record for kept in studio.all(Party)]
    return Seen(
        rich=max(works, key=_fullness),
        pictured=next(each for each in works if each.id == ids["low_water"]),
        job=max(jobs, key=_fullness),
        party=max(parties, key=_fullness),
        ids=ids,
        token=token,
        errand=errand,
        card=card,
    )


def _fullness(record: Any) -> int:
    """How many kinds of value the record has, then how many values."""
    held = [
        len(value)
        for value in (getattr(record, name) for name in record.__dataclass_fields__)
        if isinstance(value, tuple)
    ]
    return sum(100 for each in held if each) + sum(held)


def on_the_tray(desk: Desk) -> str:
    """A file handed over and lying on the tray; its token."""
    table = b"number,title,artist\n1,The Slip,Ada Penhale\n2,Ebb,\n"
    answer = desk.post("/take-in", files=(io.BytesIO(table), "old book.csv"))
    return answer.headers["Location"].rpartition("/")[2]


def under_way(app: Flask, studio: Studio) -> str:
    """An errand that is done, with a file to fetch; its token."""
    made = studio.folder / "made.txt"
    made.write_text("what was made", "utf-8")
    with app.test_request_context():
        errand = begin(
            "counting the labels",
            "Nell Quince",
            lambda progress: Landing(
                says="They are counted.", file=made, file_name="labels.txt"
            ),
        )
    while not errands_of(app).one(errand.token).is_over:
        time.sleep(0.01)
    return errand.token


def errands_of(app: Flask) -> UnderWay:
    with app.test_request_context():
        return errands()


def machine_draft(studio: Studio, photo: Photo) -> str:
    """A draft as the engine leaves one, laid down without it; its key."""
    drawn = photo.sha256
    box = ((10.0, 10.0), (90.0, 10.0), (90.0, 30.0), (10.0, 30.0))
    line = Line(text="HOLLIS", corners=box, sure=(0.9, 0.9, 0.4, 0.9, 0.9, 0.9), score=0.9)
    draft = MachineDraft(
        key=KEY, photo=drawn, corners=(), turn=0, width=600, height=450, engine="an engine",
        version="1", on="2026-03-02", lines=(line,),
    )  # fmt: skip
    file = studio.folder / "derived" / drawn[:2] / f"{drawn}-draft-{KEY}.json"
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_text(written(draft), "utf-8")
    file.with_suffix(".jpg").write_bytes(picture())
    return KEY


def on_a_card(desk: Desk) -> str:
    """Photographs from a camera's card lying on the tray, looked at; its token."""
    files = [
        (io.BytesIO(picture(paint)), f"{paint[1:]}.jpg") for paint in ("#8a744c", "#4c748a")
    ]
    answer = desk.post("/card", files=files)
    token = answer.headers["Location"].rpartition("/")[2]
    for _ in range(500):
        if not (running := desk.client.get(f"/card/{token}")).location:
            break
        time.sleep(0.02)
    assert running.status_code == 200
    return token


def addresses(rule: Rule, seen: Seen) -> Iterator[str]:
    """The addresses at which a route is looked at; none where nobody has said."""
    work, pictured, ids = seen.rich, seen.pictured, seen.ids
    photo = photo_named(pictured, "face/back")
    read = next(each for each in work.inscriptions if len(each.transcripts) > 0)
    at = f"/work/{work.id}"
    inside = f"/work/{pictured.id}"
    match rule.endpoint:
        case "sending.one":
            # The rules for tables take the square of their rows, and of the other work hundreds of values stay.
            yield f"{inside}/send"
        case "choosing.which":
            yield from ("/read", "/argue")
        case "past.before_back":
            yield (
                rule.rule.replace(
                    "<uuid:uuid>", pictured.id if "work" in rule.rule else ids["artist"]
                )
                + "?state=1"
            )
        case "past.one":
            yield rule.rule.replace(
                "<uuid:uuid>", work.id if "work" in rule.rule else seen.party.id
            ).replace("<int:seq>", "1")
        case "sorting.sort" | "sorting.told":
            yield rule.rule.replace("<token>", seen.card)
        case "under_way.one" | "under_way.file":
            yield rule.rule.replace("<token>", seen.errand)
        case "machine_drafts.show":
            yield f"{inside}/machine-draft/{photo.sha256}/{KEY}?inscription={ids['label']}"
        case "machine_drafts.picture":
            yield f"/photo/{photo.sha256}/drafted/{KEY}.jpg"
        case "pictures.tile":
            yield f"/photo/{photo.sha256}/plain/0/0-0.jpg"
        case "pictures.tiles":
            yield f"/photo/{photo.sha256}/tiles.json"
        case "pictures.onto":
            front = photo_named(pictured, "face/front")
            yield f"/photo/{photo.sha256}/onto/{front.sha256}.json"
        case "finding.find":
            yield from (
                "/find",
                "/find?q=dealer",
                "/find?q=nobodywrotethis",
                "/find?q=after:never",
            )
        case "finding.part":
            yield "/find/part?q=dealer"
        case "slip.again":
            yield f"{at}/read/{read.id}"
            yield f"{inside}/read/{ids['label']}"
        case "slip.begin" | "folder.work" | "arriving.photos":
            yield rule.rule.replace("<uuid:uuid>", work.id)
            yield rule.rule.replace("<uuid:uuid>", pictured.id)
        case "beside.beside":
            yield f"{inside}/read/{ids['label']}/beside"
        case "resting.ask":
            yield f"{at}/read/{read.id}/without"
        case "families.like":
            yield f"{at}/read/{read.id}/alike"
        case "aside.reference":
            yield f"/reference/{ids['reference']}"
        case "pictures.picture":
            yield f"/photo/{photo.sha256}/screen.jpg"
        case "pictures.part":
            yield f"/photo/{photo.sha256}/part/150-120-200-100.jpg"
        case "values.new":
            yield from _new_values(
                rule,
                work,
                at,
                ("inscriptions", "titles", "attributions", "sizes", "photos", "papers"),
            )
        case "values.again":
            yield from _old_values(
                rule, work, at, ("inscriptions", "titles", "attributions", "sizes")
            )
        case "values.new_of_job":
            yield from _new_values(rule, seen.job, f"/jobs/{seen.job.id}", ("papers",))
        case "values.again_of_job":
            yield from _old_values(rule, seen.job, f"/jobs/{seen.job.id}", ())
        case "papers.file":
            yield from (f"{at}/papers/{each.id}/file" for each in work.papers[:1])
        case "papers.file_of_job":
            yield from (
                f"/jobs/{seen.job.id}/papers/{each.id}/file" for each in seen.job.papers[:1]
            )
        case "arguing.years":
            yield f"{at}/argue/{read.id}"
        case "scaling.scale":
            yield f"{inside}/photos/{photo.id}/scale"
        case "mapping.show":
            yield f"{at}/map"
            yield f"{at}/map?face=face/back&x_mm=10&y_mm=10&width_mm=300&height_mm=300&margin_mm=5&cover=yes"
        case "mapping.draw":
            yield f"{at}/map/findings?face=face/back&x_mm=10&y_mm=10&width_mm=30&height_mm=30"
        case "printing.paper":
            yield f"{at}/print/paper?paper=condition&as=html&page=a4"
        case "printing.paper_of_job":
            yield f"/jobs/{seen.job.id}/print/paper?paper=entry-receipt&as=html&page=a4"
        case "chain.show":
            yield f"{at}/argue/chain"
            yield f"{at}/argue/chain?on=1938"
            yield f"{at}/argue/chain?on=some+day"
        case "families.show":
            yield "/families"
            yield "/families?sheet=yes"
        case "borders.show":
            yield f"{at}/send/borders"
            yield f"{at}/send/borders?leaves=GB&goes_to=FR&value=20000+EUR"
            yield f"{at}/send/borders?leaves=GB&goes_to=FR&value=much"
        case "setting_aside.of_party":
            yield f"/people/{seen.party.id}/aside"
        case "setting_aside.of_work":
            yield f"{at}/aside"
            yield f"{at}/aside?into={pictured.number}"
        case "taking.look":
            yield f"/take-in/{seen.token}"
        case "aside.people":
            yield from ("/people", "/people?q=nobodyofthisname")
        case _:
            yield from _plain(rule, seen)


def _plain(rule: Rule, seen: Seen) -> Iterator[str]:
    """Routes with no part to fill in, or with nothing but the record's id."""
    if not rule.arguments - set(rule.defaults or {}):
        yield rule.rule
    elif rule.arguments - set(rule.defaults or {}) == {"uuid"}:
        held = {"work": seen.rich, "people": seen.party, "jobs": seen.job}.get(
            rule.rule.split("/")[1]
        )
        if held:
            yield rule.rule.replace("<uuid:uuid>", held.id)


INNER = {"treatments": "steps", "findings": "observations", "proposals": "options"}


def _new_values(rule: Rule, record: Any, at: str, elsewhere: tuple[str, ...]) -> Iterator[str]:
    for field, values in _values_of(record):
        if field in elsewhere or field not in FORMS:
            continue
        if "inner" not in rule.arguments:
            yield f"{at}/enter/{field}"
        elif field in INNER and values:
            yield f"{at}/enter/{field}/{values[0].id}/{INNER[field]}"


def _old_values(rule: Rule, record: Any, at: str, elsewhere: tuple[str, ...]) -> Iterator[str]:
    for field, values in _values_of(record):
        if field in elsewhere or field not in FORMS or not values:
            continue
        if "inner" not in rule.arguments:
            yield f"{at}/enter/{field}/{values[0].id}"
        elif field in INNER and (inner := getattr(values[0], INNER[field])):
            yield f"{at}/enter/{field}/{values[0].id}/{INNER[field]}/{inner[0].id}"


def _values_of(record: Any) -> Iterator[tuple[str, tuple[Any, ...]]]:
    """The fields of a record that hold values with a form of their own, and what they hold."""
    for each in fields_of(type(record)):
        if each.many and is_value(each.kind):
            yield each.name, getattr(record, each.name)
