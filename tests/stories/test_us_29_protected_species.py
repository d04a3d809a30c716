"""US-29, materials of protected species: yes, no or unknown for frame, inlay and fittings; US-31, rights.

The stories are those of the trade sheet, section 1.7 and C20.
"""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from made_records import ARTIST, WHO

from catalogue.argument.borders import Journey
from catalogue.measure import Day, read_date
from catalogue.record import Attribution, Inquiry, Part

TODAY = Day(2026, 11, 29)


def asked(studio, work, **facts):
    return {
        each.key: each for each in studio.before_it_travels(work, Journey(on=TODAY, **facts))
    }


def test_a_frame_with_tortoiseshell_leads_to_the_question_of_papers(studio):
    work = studio.work("2026-041").record
    assert asked(studio, work)["species"].answer == "unlikely"
    frame = Part(kind="part/frame", materials=("material/tortoiseshell",))
    inlaid = replace(work, parts=(*work.parts, frame))
    found = asked(studio, inlaid)["species"]
    assert found.answer == "ask"
    assert "no trade without a certificate" in " ".join(found.because)


def test_what_was_asked_about_it_is_told_with_its_day(studio):
    work = studio.work("2026-041").record
    inquiry = Inquiry(
        kind="inquiry/species-papers", subject="the frame", on=Day(2026, 5, 4),
        result="inquiry-result/awaited",
    )  # fmt: skip
    found = asked(studio, replace(work, inquiries=(*work.inquiries, inquiry)))["species"]
    assert (
        "papers for protected species asked for: not answered yet, 2026-05-04." in found.because
    )


def test_us_31_pictures_need_leave_until_the_end_of_the_seventieth_year(studio):
    read = studio.party(ARTIST.document)
    studio.save(replace(read.record, ended=read_date("1961")), who=WHO, read=read)
    work = replace(
        studio.work("2026-041").record,
        attributions=(
            Attribution(qualifier="qualifier/by", artist=ARTIST.document, preferred=True),
        ),
    )
    found = asked(studio, work, value=Decimal(80_000), currency="EUR")
    assert "the right runs to 31 December 2031" in " ".join(found["image-rights"].because)
    assert "Of EUR 80,000 the share is EUR 2,900." in found["resale"].because  # trade sheet C20


def test_us_31_an_artist_without_a_death_may_be_alive(studio):
    work = studio.work("2026-041").record
    assert asked(studio, work)["image-rights"].answer in ("ask", "likely", "unlikely")
    nobody = replace(work, attributions=())
    assert asked(studio, nobody)["image-rights"].answer == "ask"
