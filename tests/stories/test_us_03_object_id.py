"""US-3, identify the object so the police could: every heading is filled, or its blank has a reason.

The story is that of the trade sheet, section 1.1. The headings, their order, the photographs and the
five further ones are those of the Object ID checklist of ICOM ("Object ID Checklist", "The Standard"),
as quoted in the standards sheet, section 5.
"""

from __future__ import annotations

from dataclasses import replace
from io import BytesIO

import pytest
from lxml import html
from made_records import ARTIST, WHO
from painting_0_1 import EXAMINER, painting, title
from PIL import Image
from printed_papers import both, pdf_pages

from catalogue.measure import Day, read_date
from catalogue.record import (
    Attribution,
    Note,
    Number,
    PriorRepair,
    Step,
    Title,
    Treatment,
    Work,
    digest_of,
)
from catalogue.record.common import Release

TEN = (
    "Type of object", "Materials and techniques", "Measurements", "Inscriptions and markings",
    "Distinguishing features", "Title", "Subject", "Date or period", "Maker", "Short description",
)  # fmt: skip
FURTHER = (
    "Inventory number", "Related written material", "Place of origin or discovery",
    "Related objects", "Date documented",
)  # fmt: skip


def facts(studio, number):
    """The headings of the sheet with what stands beside them, in order."""
    content = studio.print_(number, "object-id", written_as="html").content
    tree = html.fromstring(content.decode())
    rows = tree.xpath("//dl/div")
    return {
        row.xpath("string(dt)").strip(): " ".join(row.xpath("string(dd)").split())
        for row in rows
    }


def told(text, kind):
    word = Release(by="Nell", at="2026-11-29T10:00:00Z", digest=digest_of(text))
    return Note(kind=kind, text=text, released=word)


def whole():
    """The painting of the trade sheet with all that the checklist asks for."""
    mend = Step(
        order=1, kind="step/patch-heat-set", began=Day(2026, 4, 2), ended=Day(2026, 4, 2)
    )
    return painting(
        numbers=(Number(kind="number/inventory", text="M 31"),),
        titles=(Title(text="Sea Wall, Evening", kind="title/inscribed"),),
        attributions=(
            Attribution(artist=ARTIST.document, qualifier="qualifier/attributed-to"),
        ),
        made=read_date("1931"),
        medium="oil on canvas",
        materials=("material/linen",),
        repairs=(PriorRepair(number="R1", kind="repair/patch", materials=("material/linen",)),),
        treatments=(Treatment(number="T1", steps=(mend,)),),
        notes=(
            told("A sea wall at dusk, two figures.", "note/subject"),
            told(
                "A landscape with a wall from lower left; a stamp on the back.",
                "note/description",
            ),
        ),
    )


def test_the_ten_headings_stand_in_the_order_of_the_checklist_and_the_five_after_them(studio):
    found = list(facts(studio, "2026-041"))
    assert tuple(found) == TEN + FURTHER


def test_a_blank_sheet_gives_a_reason_for_every_blank(empty_studio):
    number = empty_studio.save(Work(), who=WHO).record.number
    found = facts(empty_studio, number)
    never = {"Type of object", "Inventory number", "Date documented"}
    for heading in {*TEN, *FURTHER} - never - {"Title"}:
        assert found[heading].startswith("Blank: "), heading
        assert len(found[heading]) > 30
    assert "no title is on record" in found["Title"]
    assert found["Type of object"] == "Painting: easel painting"


def test_a_whole_sheet_has_no_blank_but_where_nothing_is_to_be_told(kept):
    studio, number = kept
    found = facts(studio, number)
    for heading in TEN:
        assert not found[heading].startswith("Blank"), heading
    assert found["Title"] == "Sea Wall, Evening (inscribed title)"
    assert found["Maker"] == "attributed to Ada Penhale"
    assert found["Subject"] == "A sea wall at dusk, two figures."
    assert found["Measurements"] == (
        "support: 500 × 610 mm (height × width); 50 × 61 cm (19.7 × 24.0 in.)"
    )
    assert (
        "I1 title, back, upper right: ‘Sea Wall, Evening’" in found["Inscriptions and markings"]
    )
    assert number in found["Inventory number"]
    assert "M 31 (inventory number)" in found["Inventory number"]


def test_a_repaired_tear_is_an_identifying_feature(kept):
    studio, number = kept
    features = facts(studio, number)["Distinguishing features"]
    assert "F1 tear, support, front, upper left" in features
    assert "R1 patch, linen" in features
    assert "T1.1 heat-set patching, 2 April 2026" in features
    read = studio.work(number)
    (tear,) = read.record.findings
    (once,) = tear.observations
    mended = replace(tear, observations=(replace(once, change="change/treated"),))
    studio.save(replace(read.record, findings=(mended,)), who=WHO, read=read)
    assert "treated since" in facts(studio, number)["Distinguishing features"]


def test_the_date_documented_is_the_day_of_the_sheet(kept):
    studio, number = kept
    documented = facts(studio, number)["Date documented"]
    assert documented.startswith(f"{studio.today().day} ")
    assert str(studio.today().year) in documented
    assert "last examined on 3 February 2026" in documented


@pytest.fixture
def kept(empty_studio):
    """A studio with the painting, its maker and who looked at it; the number of the painting."""
    for party in (ARTIST, EXAMINER):
        empty_studio.save(party, who=WHO)
    return empty_studio, empty_studio.save(whole(), who=WHO).record.number


def drawn(shade):
    held = BytesIO()
    Image.new("RGB", (300, 240), shade).save(held, "JPEG")
    return held.getvalue()


def test_overall_photographs_and_close_ups_with_their_scale(kept):
    studio, number = kept
    work = studio.work(number).record
    mark = work.inscriptions[0]
    for name, shade, facts_ in (
        ("front", "white", {"face": "face/front", "mm_per_pixel": 2.0333}),
        ("back", "grey", {"face": "face/back"}),
        ("mark", "red", {"face": "face/back", "view": "view/inscription", "about": (mark.id,),
                         "mm_per_pixel": 0.5}),
    ):  # fmt: skip
        studio.add_photo(
            studio.work(number), drawn(shade), name=f"{name}.jpg", who=WHO, **facts_
        )
    said = both(studio, number, "object-id")
    assert "P1, front, whole, normal light, picture 610 mm wide" in said
    assert "P2, back, whole, normal light, no scale known" in said
    assert "P3, back, inscription, normal light, picture 150 mm wide" in said
    assert said.index("P1, front") < said.index("Type of object") < said.index("P3, back")
    # what the set still lacks is named: the tear and the patch near by
    assert "Photographs still to be taken" in said
    assert "F1 tear, near by, with a scale" in said
    assert "I1 title, near by" not in said


def test_a_usual_painting_fits_on_one_page(kept):
    studio, number = kept
    for size in ("a4", "letter"):
        assert pdf_pages(studio.print_(number, "object-id", page=size).content) == 1


def test_it_says_to_keep_it_secure_and_nothing_of_owners_or_of_being_cleared(studio):
    said = both(studio, "2026-041", "object-id")
    assert "Keep it secure" in said
    assert "says nothing of who owns it" in said
    for word in ("stolen", "clear of", "guarantee", "suspicious"):
        assert word not in said.lower()


@pytest.mark.parametrize("kind", ["note/subject", "note/description"])
def test_a_note_that_nobody_released_does_not_stand_on_the_sheet(empty_studio, kind):
    work = Work(notes=(Note(kind=kind, text="His wife says it is a fake."),))
    number = empty_studio.save(work, who=WHO).record.number
    assert "fake" not in both(empty_studio, number, "object-id")


def test_the_mark_of_a_work_without_a_size_still_has_its_side(empty_studio):
    work = painting(sizes=(), findings=(), inscriptions=(title(),))
    number = empty_studio.save(work, who=WHO).record.number
    found = facts(empty_studio, number)
    assert "I1 title, back: ‘Sea Wall, Evening’" in found["Inscriptions and markings"]
