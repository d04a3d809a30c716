"""What a dealer or registrar reads of a painting on the page of a parcel, list by list."""

from __future__ import annotations

import html
import re
from dataclasses import replace
from itertools import pairwise
from uuid import UUID

import pytest
from parcels import WHO, contents, sent
from sent_works import leaving, sample_works, sender

from catalogue import places
from catalogue.exchange.outgoing import UNNAMED, Sender
from catalogue.exchange.parcels.chapter import named
from catalogue.exchange.parcels.page import section
from catalogue.exchange.parcels.sizes import size_said
from catalogue.exchange.parcels.told import chapters
from catalogue.measure import Day, read_date
from catalogue.measure.inches import MM_IN_AN_INCH
from catalogue.record import (
    Attribution,
    Citation,
    ConditionCheck,
    Evidence,
    Exhibition,
    Finding,
    Inquiry,
    Inscription,
    Item,
    Job,
    Location,
    MaterialUse,
    Observation,
    Offer,
    Party,
    PartyName,
    PartyRole,
    PriorRepair,
    ProvenanceEvent,
    Size,
    Step,
    Title,
    Transcript,
    Treatment,
    Work,
)
from catalogue.studio import Studio
from catalogue.surface import Box, Shape

ARTIST = Party(
    kind="person",
    names=(PartyName(text="Ada Penhale", preferred=True),),
    began=read_date("1861"),
    ended=read_date("1934"),
)
MEMBER = Party(
    kind="person", names=(PartyName(text="Wenna Carlyon"),), roles=("role/studio-member",)
)
FORMER = Party(kind="person", names=(PartyName(text="Jowan Tresize"),), began=read_date("1971"))
NONE_CITED = (Evidence(kind="evidence/none-cited"),)
CHECK = ConditionCheck(
    occasion="occasion/loan-out",
    on=Day(2026, 5, 1),
    by=MEMBER.document,
    framed=True,
    lights=("light/raking",),
    limits="The tacking edges.",
)


def _held(name: str | None, when: str, party: Party | None = None, **told: object):
    role = PartyRole(
        party=party.document if party else None, written=name, role="capacity/owner"
    )
    return ProvenanceEvent(
        kind="provenance/private-sale",
        parties=(role,),
        when=read_date(when),
        evidence=told.pop("evidence", NONE_CITED),
        **told,
    )


def _work() -> Work:
    signature = Inscription(
        kind="inscription/signature",
        face="face/front",
        transcripts=(Transcript(markup="A. Penhale", preferred=True),),
    )
    tear = Finding(
        number="F1",
        layer="layer/support",
        kind="damage/tear",
        observations=(
            Observation(
                check=CHECK.id,
                location=Location(face="face/front", shape=Shape.of_box(Box(500, 20, 60, 40))),
                length_mm=62,
            ),
        ),
    )
    return Work(
        titles=(Title(text="Low Water", kind="title/inscribed", preferred=True),),
        attributions=(
            Attribution(
                qualifier="qualifier/attributed-to",
                artist=ARTIST.document,
                said_by=MEMBER.document,
                on=Day(2026, 3, 2),
                preferred=True,
            ),
        ),
        sizes=(Size(what="size/support", height_mm=457, width_mm=610),),
        inscriptions=(signature,),
        checks=(CHECK,),
        findings=(tear,),
        repairs=(PriorRepair(number="R1", kind="repair/patch"),),
        treatments=(
            Treatment(
                aim="aim/remedial",
                steps=(
                    Step(
                        order=1,
                        kind="step/tear-mend",
                        began=Day(2026, 5, 4),
                        materials=(MaterialUse(material="material/isinglass"),),
                    ),
                    Step(order=2, kind="step/examination"),
                ),
            ),
        ),
        provenance=(
            _held("Elowen Baragwanath", "1901", order=1),
            _held(None, "2019", FORMER, order=2),
        ),
        exhibitions=(Exhibition(title="Coast and Harbour", at="Hull", when=read_date("1928")),),
        citations=(Citation(kind="citation/book", text="Painters of the Quay", pages="41"),),
        inquiries=(
            _inquiry("the open list of losses", "visibility/open"),
            _inquiry("the papers of the seller", "visibility/studio"),
        ),
    )


def _inquiry(subject: str, visibility: str) -> Inquiry:
    return Inquiry(
        kind="inquiry/register-of-losses",
        subject=subject,
        on=Day(2026, 2, 11),
        result="inquiry-result/nothing-found",
        visibility=visibility,
    )


@pytest.fixture(scope="module")
def pages(tmp_path_factory):
    """The page of the same painting under each list, as text with its line ends made spaces."""
    work = _work()
    offer = Offer(
        work=work.document,
        status="offer-status/for-sale",
        asked=24_500,
        net=19_876,
        currency="currency/euro",
        terms="With its frame.",
        since=Day(2026, 6, 1),
    )
    job = Job(reason="reason/consignment", items=(Item(work=work.document),), offers=(offer,))
    told = {}
    with Studio.open("memory:") as studio:
        for record in (ARTIST, MEMBER, FORMER, work, job):
            studio.save(record, who=WHO)
        for profile in ("public", "sale", "loan", "full"):
            parcel = sent(studio, profile, tmp_path_factory.mktemp(profile), [work.document])
            told[profile] = _text(contents(parcel)["data/index.html"])
    return told


def _text(page: bytes) -> str:
    article = page.decode().partition("<article")[2].partition("</article>")[0]
    return re.sub(r"\s+", " ", html.unescape(re.sub("<[^>]+>", " ", article)))


OFFER = ("For sale", "24 500", "With its frame.", "1 June 2026")
CONDITION = (
    "Examined on 1 May 2026 by Wenna Carlyon: in its frame, raking light.",
    "Tear (support), front, upper right: length 62 mm",
    "tacking margins",
    "Repairs from before",
    "T1.1 tear mending",
    "isinglass",
    "4 May 2026",
)
EVERYWHERE = (
    "attributed to Ada Penhale",
    "45.7 cm high × 61 cm wide (18.0 × 24.0 in.)",
    "Elowen Baragwanath",
    "Coast and Harbour",
    "Painters of the Quay",
    "it accuses nobody",
    "whose hand it is has not been told",
)


@pytest.mark.parametrize(
    ("profile", "stands"),
    [
        ("public", EVERYWHERE),
        ("loan", (*EVERYWHERE, *CONDITION)),
        (
            "sale",
            (*EVERYWHERE, *CONDITION, *OFFER, "according to Wenna Carlyon, 2 March 2026",
             "the open list of losses", "no clearance"),
        ),
        ("full", (*EVERYWHERE, *CONDITION, *OFFER, "the papers of the seller", "Jowan Tresize")),
    ],
)  # fmt: skip
def test_the_page_tells_what_its_list_lets_leave(pages, profile, stands):
    """Trade sheet 6.1 and 6.2, US-23, US-24."""
    missing = [each for each in stands if each not in pages[profile].replace("\u202f", " ")]
    assert not missing, pages[profile]


@pytest.mark.parametrize(
    ("profile", "stays"),
    [
        ("public", (*OFFER, *CONDITION, "list of losses", "according to")),
        ("loan", (*OFFER, "list of losses")),
        ("sale", ("the papers of the seller",)),
    ],
)
def test_the_page_tells_no_more(pages, profile, stays):
    """Trade sheet 6.4 and 6.5: allow-lists; what the owner is to have, and who may be living, never."""
    never = ("Jowan Tresize", "19 876", "19876", "stolen", "suspicious", "guaranteed")
    said = pages[profile].replace("\u202f", " ")
    assert not [each for each in (*stays, *never) if each in said]


def test_a_step_that_was_only_planned_is_no_treatment(pages):
    assert "T1.2" not in pages["sale"]


def test_a_semicolon_says_that_it_passed_directly_a_full_stop_does_not():
    """The form of the AAM guide (trade sheet, 7.1)."""
    letter = (Evidence(kind="evidence/paper", text="a receipt", strength="strength/primary"),)
    for passage, between in (("passage/direct", ";"), ("passage/not-known", ".")):
        first = _held("Ann Roe", "1901", order=1, passage=passage, evidence=letter)
        work = Work(provenance=(first, _held("Ben Roe", "1902", order=2, evidence=letter)))
        (chapter,) = chapters(work, sender(), "2026-01-01")
        said = chapter.says[0]
        assert re.search(rf"Ann Roe[^;.]*{re.escape(between)}.*Ben Roe", said), said


def test_inches_are_by_definition():
    """An inch is 25.4 mm exactly (international yard and pound agreement, 1959; from memory)."""
    assert str(MM_IN_AN_INCH) == "25.4"
    assert "(10.0\N{NO-BREAK SPACE}in.)" in size_said(
        Size(what="size/support", diameter_mm=254)
    )


def test_whoever_has_no_name_that_may_leave_is_not_called_so():
    nameless = Sender(None, lambda _: ("Person", UNNAMED))
    assert named(nameless, ARTIST.document) == ""
    assert named(nameless, None) == ""
    work = replace(_work(), provenance=(_held(None, "1950", ARTIST, order=1),))
    page = section(work, nameless, (), ()).decode()
    assert f"by {UNNAMED}" not in page
    assert f"to {UNNAMED}," not in page


@pytest.mark.parametrize("profile", ["public", "sale", "loan", "owner", "full"])
@pytest.mark.parametrize("work", sample_works(), ids=lambda work: UUID(work.id).hex[:8])
def test_every_sample_work_is_told_in_order(work, profile):
    """WCAG 2.2, 1.3.1: no heading skips a level; no heading without words."""
    page = section(leaving(work, profile).record, sender(profile=profile), (), ()).decode()
    levels = [int(each) for each in re.findall(r"<h(\d)>", page)]
    assert levels[0] == 2
    assert all(b - a <= 1 for a, b in pairwise(levels))
    assert not re.search(r"<h\d>\s*</h\d>|<li>\s*</li>|<dd>\s*</dd>|None", page)


# --- its look ----------------------------------------------------------------------------------


def _looks() -> list[dict[str, str]]:
    style = (places.folder("templates") / "parcel.css").read_text("utf-8")
    found = re.findall(r":root \{([^}]*--ink[^}]*)\}", style)
    return [dict(re.findall(r"--(\w+): (#[0-9a-f]{6})", each)) for each in found]


def _light(colour: str) -> float:
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    linear = [
        each / 12.92 if each <= 0.04045 else ((each + 0.055) / 1.055) ** 2.4 for each in parts
    ]
    return sum(
        share * each for share, each in zip((0.2126, 0.7152, 0.0722), linear, strict=True)
    )


def test_both_looks_can_be_read():
    """WCAG 2.2, 1.4.3 (text 4.5 to 1) and 1.4.11 (marks 3 to 1), by its formula of relative luminance."""
    looks = _looks()
    assert len(looks) == 2
    for look in looks:
        for ground in ("paper", "linen"):
            for colour, least in (
                ("ink", 4.5), ("soft", 4.5), ("link", 4.5), ("gold", 3), ("red", 3),
            ):  # fmt: skip
                one, other = sorted((_light(look[colour]), _light(look[ground])))
                assert (other + 0.05) / (one + 0.05) >= least, (colour, ground, look)
