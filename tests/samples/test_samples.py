"""The sample records: readable, whole, and holding an example of everything that the tool is for.

The scenario is invented; what each record must contain is the table of features below.
"""

from __future__ import annotations

import re
from collections import Counter
from datetime import date
from itertools import chain
from pathlib import Path

import pytest
from drawing.dressing import dressings
from drawing.photographs import draw, wanted
from drawing.sight import camera, corners, loose, readable

from catalogue.argument.laid_on_photos import laid_on
from catalogue.linked.documents import from_jsonld, to_jsonld
from catalogue.linked.text import parse, write_readable
from catalogue.places import folder
from catalogue.reading import nodes
from catalogue.reading.nodes import walk
from catalogue.record import Job, Party, Work
from catalogue.record.rules import values_within

SAMPLES = folder("sample_records")
FILES = sorted(
    chain.from_iterable(
        (SAMPLES / each).glob("*.json") for each in ("works", "parties", "jobs")
    )
)


def record_of(path: Path):
    return from_jsonld(parse(path.read_bytes()))


RECORDS = {path: record_of(path) for path in FILES}
WORKS = [each for each in RECORDS.values() if isinstance(each, Work)]
PARTIES = [each for each in RECORDS.values() if isinstance(each, Party)]
JOBS = [each for each in RECORDS.values() if isinstance(each, Job)]
WRITTEN = [each for work in WORKS for each in work.inscriptions]
TRANSCRIPTS = [each for inscription in WRITTEN for each in inscription.transcripts]
SIGHTINGS = [each for inscription in WRITTEN for each in inscription.sightings]
TREES = [list(walk(each.reading().tree)) for each in TRANSCRIPTS]
TODAY = date(2026, 11, 25)
"""The day for which the due dates were invented."""


# Files ------------------------------------------------------------------------------------------


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_a_file_says_exactly_what_its_record_says(path):
    document, record = parse(path.read_bytes()), RECORDS[path]
    assert to_jsonld(record) == document
    assert from_jsonld(to_jsonld(record)) == record
    assert write_readable(document) == path.read_bytes()


def test_no_id_is_used_twice():
    used = Counter(
        each.id
        for record in RECORDS.values()
        for each in values_within(record)
        if hasattr(each, "id")
    )
    assert [own for own, times in used.items() if times > 1] == []


def test_every_reference_leads_to_a_record():
    known = {each.document for each in RECORDS.values()}
    named = {
        found
        for path in FILES
        for found in re.findall(
            r'"((?:work|party|job|reference)/[0-9a-f-]{36})"', path.read_text()
        )
    }
    assert named <= known


def test_whatever_lies_over_something_lies_over_something_of_the_same_work():
    for work in WORKS:
        own = {each.id for each in (*work.inscriptions, *work.repairs)}
        assert all(own.issuperset(each.lies_over) for each in work.inscriptions)
        assert all(own.issuperset(each.covers) for each in work.repairs)


def test_no_markup_has_a_fault():
    assert [fault for each in TRANSCRIPTS for fault in each.reading().faults] == []


def test_numbers_of_works_and_jobs_are_their_own():
    assert len({work.number for work in WORKS}) == len(WORKS) == 12
    assert len({job.number for job in JOBS}) == len(JOBS)


def test_every_work_is_in_a_job():
    assert {item.work for job in JOBS for item in job.items} == {
        work.document for work in WORKS
    }


def test_a_statement_names_letters_of_its_own_reading():
    for each in WRITTEN:
        read = {transcript.id: transcript for transcript in each.transcripts}
        for statement in each.statements:
            letters = read[statement.transcript].reading().seen_letters()
            seen = "".join(
                it.letter for it in letters if statement.start <= it.start < statement.end
            )
            assert " ".join(seen.split()) == statement.written


# What they must hold ----------------------------------------------------------------------------


def kinds(*names):
    return {f"inscription/{name}" for name in names} <= {each.kind for each in WRITTEN}


def says(pattern, kind=""):
    return any(
        re.search(pattern, transcript.reading().seen())
        for each in WRITTEN
        if each.kind.endswith(kind)
        for transcript in each.transcripts
    )


def has_node(*wanted):
    return any(isinstance(node, wanted) for tree in TREES for node in tree)


def qualifiers(work):
    return {each.qualifier for each in work.attributions}


def items():
    return [item for job in JOBS for item in job.items]


def states(inscription):
    return [sighting.state for sighting in inscription.sightings]


FEATURES = {
    "a lined canvas": lambda: any(part.kind == "part/lining" for work in WORKS for part in work.parts),
    "a panel": lambda: any(part.kind == "part/panel" for work in WORKS for part in work.parts),
    "a patch": lambda: any(part.kind == "part/patch" for work in WORKS for part in work.parts),
    "a label under another label": lambda: any(
        below in {it.id for it in WRITTEN} for each in WRITTEN for below in each.lies_over
    ),
    "a label on an old repair": lambda: any(
        repair.id in each.lies_over for work in WORKS for repair in work.repairs for each in work.inscriptions
    ),
    "a stamp across a label and the wood": lambda: any(
        len(each.across) >= 2 and set(each.across) & set(each.lies_over) for each in WRITTEN
    ),
    "a label removed and kept": lambda: any("state/removed-kept" in states(each) for each in WRITTEN),
    "covered by tape": lambda: any("tape" in (each.covered_by or "") for each in SIGHTINGS),
    "covered by a lining": lambda: any("lining" in (each.covered_by or "") for each in SIGHTINGS),
    "covered, then revealed": lambda: any(
        states(each) == ["state/covered", "state/revealed"] for each in WRITTEN
    ),
    "seen in three years": lambda: any(
        len({sighting.on.year for sighting in each.sightings if sighting.on}) >= 3 for each in WRITTEN
    ),
    "labels of every trade": lambda: kinds(
        "dealer-label", "exhibition-label", "auction-label", "framer-label", "supplier-label",
        "owner-label", "museum-label", "transport-label",
    ),
    "canvas, customs and collector's stamps": lambda: kinds(
        "canvas-stamp", "customs-stamp", "collector-stamp"
    ),
    "a wax seal": lambda: kinds("seal"),
    "a brand": lambda: kinds("brand"),
    "signatures, titles, dedications, addresses": lambda: kinds(
        "signature", "title", "dedication", "address", "monogram", "price", "direction"
    ),
    "chalk lot numbers": lambda: says(r"\d", "lot-number")
    and any("technique/chalk" in each.techniques for each in WRITTEN if each.kind.endswith("lot-number")),
    "a price in guineas": lambda: says(r"12 gns"),
    "a postal district": lambda: says(r"S\.W\.7"),
    "a telephone exchange": lambda: says(r"KENsington 0417"),
    "a stencilled inventory number": lambda: any(
        each.kind.endswith("inventory-number") and "technique/stencilled" in each.techniques
        for each in WRITTEN
    ),
    "a typed label": lambda: any("technique/typed" in each.techniques for each in WRITTEN),
    "lost text": lambda: has_node(nodes.Gap)
    and any(node.typed in ("[---]", "[...]") for tree in TREES for node in tree if isinstance(node, nodes.Gap)),
    "doubtful letters": lambda: has_node(nodes.Doubtful),
    "struck out": lambda: has_node(nodes.Struck),
    "written over": lambda: has_node(nodes.Over),
    "restored": lambda: has_node(nodes.Restored),
    "an abbreviation completed": lambda: has_node(nodes.Expanded) and has_node(nodes.Full),
    "a later insertion": lambda: has_node(nodes.Added),
    "raised letters": lambda: has_node(nodes.Raised),
    "marks without text": lambda: has_node(nodes.Drawn),
    "two readers in two lights": lambda: any(
        len({each.by for each in inscription.transcripts}) > 1
        and len({each.light for each in inscription.transcripts}) > 1
        for inscription in WRITTEN
    ),
    "statements accepted, corrected and rejected": lambda: {
        "standing/accepted", "standing/corrected", "standing/rejected"
    } == {statement.standing for each in WRITTEN for statement in each.statements},
    "private notes": lambda: any(
        note.visibility == "visibility/studio" for work in WORKS for note in work.notes
    ),
    "a released note": lambda: any(note.may_leave for work in WORKS for note in work.notes),
    "restricted values": lambda: {"visibility/restricted", "visibility/studio"}
    <= {each.visibility for each in WRITTEN},
    "a living artist's address": lambda: any(
        "role/artist" in party.roles
        and party.ended is None
        and any(address.visibility == "visibility/restricted" for address in party.addresses)
        for party in PARTIES
    ),
    "how to reach clients": lambda: sum(
        "role/client" in party.roles and party.contact is not None for party in PARTIES
    ) >= 5,
    "one job with two works": lambda: [len(job.items) for job in JOBS].count(2) == 1,
    "due soon": lambda: any(
        not item.left and item.due and "2026-12-01" <= item.due.iso <= "2026-12-31" for item in items()
    ),
    "one overdue": lambda: sum(
        not item.left and item.due is not None and item.due.iso < TODAY.isoformat() for item in items()
    ) == 1,
    "finished in 2012 and in 2019": lambda: {item.left.year for item in items() if item.left} == {2012, 2019},
    "every qualifier wanted": lambda: {
        f"qualifier/{each}" for each in ("by", "attributed-to", "circle-of", "after", "unknown")
    } <= set().union(*map(qualifiers, WORKS)),
    "rival attributions": lambda: any(len(qualifiers(work)) > 2 for work in WORKS),
    "five languages": lambda: {"en", "fr", "de", "nl", "it"}
    <= {tag for each in WRITTEN for tag in each.languages},
    "four lights": lambda: {"light/normal", "light/raking", "light/ultraviolet", "light/transmitted"}
    <= {photo.light for work in WORKS for photo in work.photos},
    "front and back of each": lambda: all(
        {"face/front", "face/back"} <= {photo.face for photo in work.photos} for work in WORKS
    ),
    "photos known by file name only": lambda: all(
        photo.file_name and photo.sha256 is None for work in WORKS for photo in work.photos
    ),
}  # fmt: skip


@pytest.mark.parametrize("feature", FEATURES)
def test_the_samples_hold(feature):
    assert FEATURES[feature]()


# Photographs ------------------------------------------------------------------------------------

PHOTOS = list(wanted(SAMPLES / "works"))
IN_A_PHOTO = [pytest.param(each, id=each.photo.file_name) for each in PHOTOS]


@pytest.mark.parametrize("each", IN_A_PHOTO)
def test_every_region_lies_inside_its_photo(each):
    for inscription in each.work.inscriptions:
        for region in inscription.regions:
            if region.photo == each.photo.id:
                assert all(
                    0 <= x <= each.photo.width and 0 <= y <= each.photo.height
                    for x, y in region.corners
                )


@pytest.mark.parametrize("each", IN_A_PHOTO)
def test_regions_frame_what_is_drawn_and_nothing_that_is_hidden(each):
    """To half a millimetre: what was measured on the object and what is framed in the photo agree."""
    work, photo, dressing = each.work, each.photo, each.dressing
    view = camera(work, photo, dressing)
    seen = {inscription.id: inscription for inscription in readable(work, photo, dressing)}
    for inscription in work.inscriptions:
        framed = [region for region in inscription.regions if region.photo == photo.id]
        assert len(framed) == (inscription.id in seen)
        for region in framed:
            drawn = view.region(corners(work, photo, inscription, dressing))
            for (x, y), (other_x, other_y) in zip(region.corners, drawn, strict=True):
                assert abs(x - other_x) * photo.mm_per_pixel < 0.5
                assert abs(y - other_y) * photo.mm_per_pixel < 0.5


@pytest.mark.parametrize("each", IN_A_PHOTO)
def test_the_outline_of_each_photo_is_where_the_painting_is_drawn(each):
    work, photo, dressing = each.work, each.photo, each.dressing
    if loose(work, photo, dressing):
        assert photo.outline == ()
        return
    view = camera(work, photo, dressing)
    wide, high = view.face_width_mm, view.face_height_mm
    assert photo.outline == view.region(((0, 0), (wide, 0), (wide, high), (0, high)))
    lies = laid_on(work, photo)
    assert lies is not None
    assert lies.mm_per_pixel((1500, 1000)) == pytest.approx(photo.mm_per_pixel, rel=0.001)


@pytest.mark.parametrize("name", ["portrait-of-a-pilot-back.jpg", "pescatori-a-riva-front.jpg"])
def test_a_photo_drawn_twice_is_the_same_to_the_pixel(name):
    each = next(each for each in PHOTOS if each.photo.file_name == name)
    once, again = draw(each, 600), draw(each, 600)
    assert once.width == 600
    assert once.tobytes() == again.tobytes()
    assert len(once.resize((60, 60)).getcolors(3600)) > 100


def test_what_lies_under_tape_is_drawn_once_the_tape_has_gone():
    back = {each.photo.file_name: each for each in PHOTOS}
    covered = back["low-water-at-skerry-point-back.jpg"]
    revealed = back["low-water-at-skerry-point-back-tape-removed.jpg"]
    address = covered.work.inscription("I5")
    hidden, shown = (
        readable(each.work, each.photo, each.dressing) for each in (covered, revealed)
    )
    assert address not in hidden
    assert address in shown


def test_every_work_has_its_dressing_and_no_dressing_is_left_over():
    assert set(dressings()) == {path.stem for path in FILES if path.parent.name == "works"}
    for path in FILES:
        if path.parent.name == "works":
            numbers = {each.number for each in RECORDS[path].inscriptions}
            assert set(dressings()[path.stem].wear) <= numbers
