"""The folder as a page: both sides numbered, layers, sections in the order of a day, pieces that come later."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from desk_studio import HOSTILE, photo_named, picture
from heavy_work import heavy
from mapped import sea_wall

from catalogue.linked.documents import FORMAT
from catalogue.linked.merge import merge
from catalogue.linked.text import parse, write
from catalogue.measure import Day, read_date
from catalogue.pictures.marks import marks
from catalogue.record import (
    ConditionCheck,
    Finding,
    Job,
    Location,
    Movement,
    Observation,
    Photo,
    Step,
    Treatment,
)
from catalogue.surface import Box, Shape


@pytest.fixture
def cared(desk):
    """The desk after two checks of a work, and a treatment that nobody approved."""
    kept = desk.studio.read(f"work/{desk.low_water}")
    work = kept.record
    member = f"party/{desk.member}"
    checks = tuple(
        ConditionCheck(on=Day(2026, month, 2), by=member, occasion=f"occasion/{occasion}")
        for month, occasion in ((1, "incoming"), (3, "during-treatment"))
    )
    place = Location(face="face/back", shape=Shape.of_box(Box(150, 130, 20, 15)))
    tear = Finding(
        kind="damage/tear-straight", layer="layer/support",
        observations=(
            Observation(check=checks[0].id, severity="severity/visible", length_mm=40, location=place),
            Observation(check=checks[1].id, severity="severity/affecting", length_mm=55, change="change/grown"),
        ),
    )  # fmt: skip
    stain = Finding(
        kind="damage/discoloured-varnish", layer="layer/varnish",
        observations=(Observation(check=checks[0].id, severity="severity/visible"),),
    )  # fmt: skip
    label = replace(work.inscriptions[0], place=Box(60, 50, 110, 55))
    after = replace(
        work, checks=checks, findings=(tear, stain), inscriptions=(label,),
        movements=(Movement(to="Rack 3", when=read_date("2 March 2026")),),
        treatments=(Treatment(title="The tear"),),
    )  # fmt: skip
    desk.studio.save(after, who="Nell Quince", read=kept)
    written_elsewhere(desk, Step(order=1, kind="step/humidify"))
    return desk


def written_elsewhere(desk, step: Step) -> None:
    """A step that came along from elsewhere: the desk itself would not have taken it in."""
    kept = desk.studio.read(f"work/{desk.low_water}")
    (treatment,) = kept.record.treatments
    after = replace(kept.record, treatments=(replace(treatment, steps=(step,)),))
    ledger = desk.studio.ledger
    body = merge(parse(ledger.read(kept.document_id).body), kept.record, after)
    with ledger.change(who="Nell Quince", why="from an old log", written_in=FORMAT) as change:
        change.save(kept.document_id, write(body), expected=kept.revision)


def folder(desk, query="") -> str:
    answer = desk.client.get(f"/work/{desk.low_water}{query}")
    assert answer.status_code == 200
    return answer.text


# --- both sides, numbered ---------------------------------------------------------------------------


def test_everything_numbered_stands_in_the_list_and_what_can_be_drawn_on_its_photo(cared):
    page, work = folder(cared), cared.work(cared.low_water)
    table = page.partition('id="picture"')[2].partition('id="inscriptions"')[0]
    front, back = table.partition('data-side="back"')[::2]
    back, listed = back.partition('class="numbers"')[::2]
    for mark in marks(work):
        assert f'data-mark="{mark.value}"' in listed, mark.called
        assert f'id="{mark.value}"' in page, f"{mark.called} leads to its slip"
    ids = {each.kind: each.id for each in work.findings}  # two that are new have no order
    tear, stain = ids["damage/tear-straight"], ids["damage/discoloured-varnish"]
    assert tear in back, "it has a place in mm, and the label lays the photo on the sheet"
    assert tear not in front
    assert stain not in back
    assert "no place in mm" in listed
    assert "cannot be drawn on these photos" in listed


def test_layers_are_switched_without_script_by_the_address(cared):
    def switched_off(page):
        begin = page.partition('id="picture"')[2].partition(">")[0]
        return set(re.findall(r"data-without-([a-z]+)", begin))

    assert switched_off(folder(cared)) == set()
    only = folder(cared, "?layers=chosen&show=finding")
    assert switched_off(only) == {"inscription"}
    assert re.search(r'value="finding" checked', only)
    assert not re.search(r'value="inscription" checked', only)
    none = folder(cared, "?layers=chosen")
    assert switched_off(none) == {"inscription", "finding"}


def test_another_photo_of_a_side_can_be_laid_on_the_table(desk):
    kept = desk.studio.read(f"work/{desk.low_water}")
    content = picture("#223344")
    raking = desk.studio.taken_in(content, name="r.jpg", face="face/back", light="light/raking")
    desk.studio.add_photos(kept, [(raking, content)], who="Nell Quince")
    work = desk.work(desk.low_water)
    one, other = (each for each in work.photos if each.face == "face/back")
    page = folder(desk)
    assert f"back={other.number}" in page
    chosen = folder(desk, f"?back={other.number}&layers=chosen&show=inscription")
    shown = chosen.partition('data-side="back"')[2].partition("figcaption")[0]
    assert other.sha256 in shown
    assert one.sha256 not in shown
    assert f"back={one.number}&amp;" in chosen or f"&amp;back={one.number}" in chosen
    assert "show=inscription" in chosen, "what is switched on stays so"


@pytest.mark.parametrize(
    "query", ["?front=P999", "?back=%00", "?show=nothing&layers=x", "?front=<b>"]
)
def test_an_address_that_asks_for_what_there_is_not_shows_the_folder(cared, query):
    assert "<b>" not in folder(cared, query)


# --- the sections -----------------------------------------------------------------------------------

SECTIONS = (
    "picture", "inscriptions", "condition", "repairs", "treatments", "proves", "photos", "papers",
    "facts", "jobs", "still-open", "history",
)  # fmt: skip


def test_sections_come_in_the_order_of_a_day_and_the_contents_lead_to_each(cared):
    page = folder(cared)
    places = [page.index(f'id="{each}"') for each in SECTIONS]
    assert places == sorted(places)
    contents = page.partition('class="contents"')[2].partition("</nav>")[0]
    assert re.findall(r'href="#([a-z-]+)"', contents) == list(SECTIONS)
    assert page.count("button primary") == 1, "one primary action"


def test_condition_over_time_says_what_became_of_a_finding_in_word_and_sign(cared):
    section = folder(cared).partition('id="condition"')[2].partition("</section>")[0]
    assert '<span class="madder"><span aria-hidden="true">▲</span> worse</span>' in section
    assert "length 40 mm" in section
    assert "length 55 mm" in section
    assert "not noted" in section, "the stain was not looked at again"
    assert f"/work/{cared.low_water}/compare?first=K1&amp;second=K2" in section


def test_what_one_looks_up_stands_before_the_picture(cared):
    before = folder(cared).partition('id="picture"')[0]
    assert "Rack 3" in before
    assert "Due back" in before
    assert "500 × 610.5 mm" in before
    assert "stops the order of work" in before or "stop the order of work" in before
    assert "T1.1" in before


def test_jobs_and_where_it_was_are_not_printed_with_what_is_open_to_all(cared):
    """The sheet of a work names no client: source, design of dorse, "confidentiality is structure"."""
    page = folder(cared)
    assert "Quillan" not in page


def test_pieces_that_take_longer_come_later_and_a_link_leads_to_the_same(cared):
    page = folder(cared)
    pieces = re.findall(r'data-later="([^"]+)"', page)
    assert len(pieces) == 2
    for address in pieces:
        answer = cared.client.get(address)
        assert answer.status_code == 200
        assert "<html" not in answer.text
        assert "<script" not in answer.text
    assert f'href="/work/{cared.low_water}/argue/chronology"' in page
    assert f'href="/work/{cared.low_water}/open"' in page
    still_open = cared.client.get(pieces[1]).text
    told = cared.studio.check(f"work/{cared.low_water}")
    for kind in ("missing", "open"):
        assert f"<b>{sum(each.kind == kind for each in told)}</b> {kind}" in still_open


def test_photos_lie_by_side_and_light(desk):
    page = folder(desk).partition('id="photos"')[2].partition('id="papers"')[0]
    assert page.index(">Front ") < page.index(">Back ")
    for face in ("face/front", "face/back"):
        assert photo_named(desk.work(desk.low_water), face).sha256 in page


def test_what_hostile_people_typed_stays_words(desk):
    kept = desk.studio.read(f"work/{desk.low_water}")
    hostile = replace(
        kept.record, medium=HOSTILE,
        movements=(Movement(to=HOSTILE),),
        treatments=(Treatment(title=HOSTILE, steps=(Step(order=1, kind="step/photograph", outcome=HOSTILE),)),),
        photos=(*kept.record.photos, Photo(file_name='"><img src=x onerror=1>.jpg')),
    )  # fmt: skip
    desk.studio.save(hostile, who="Nell Quince", read=kept)
    for path in ("", "/check", "/treat", "/history", "/history/between", "/history/back?state=1", "/in-folder/proves", "/in-folder/open"):  # fmt: skip
        page = desk.client.get(f"/work/{desk.low_water}{path}").text
        assert HOSTILE not in page
        assert "<img src=x" not in page


def test_a_work_of_which_nothing_is_known_has_a_folder_too(desk):
    kept = desk.studio.new_work(title="Untitled", who="Nell Quince")
    page = desk.client.get(f"/work/{kept.record.id}").text
    assert "no photo of the front yet" in page
    assert "not recorded" in page
    for path in ("/in-folder/proves", "/in-folder/open", "/check", "/treat"):
        assert desk.client.get(f"/work/{kept.record.id}{path}").status_code == 200


def test_what_was_approved_stands_by_the_treatments(cared):
    from catalogue.record import Approval, Option, PlannedStep, Proposal

    kept = cared.studio.read(f"job/{cared.job}")
    job: Job = kept.record
    work = cared.studio.read(f"work/{cared.low_water}").document_id
    option = Option(
        order=2, title="Mend the tear",
        steps=(PlannedStep(order=1, kind="step/humidify", work=work), PlannedStep(order=2, kind="step/face", work=work)),
    )  # fmt: skip
    proposal = Proposal(options=(Option(order=1, title="Leave it", nothing=True), option))
    approved = Approval(proposal=proposal.id, option=option.id, on=Day(2026, 1, 20))
    cared.studio.save(
        replace(job, proposals=(proposal,), approvals=(approved,)), who="Nell Quince", read=kept
    )
    section = folder(cared).partition('id="treatments"')[2].partition("</section>")[0]
    assert "Approved: Mend the tear" in section
    assert section.count("not begun") == 2


def test_a_heavy_work_is_whole(desk):
    uuid = heavy(desk.studio, picture(size=(2400, 1800)), revisions=3)
    page = desk.client.get(f"/work/{uuid}").text
    work = desk.work(uuid)
    assert (len(work.inscriptions), len(work.findings), len(work.photos)) == (40, 60, 30)
    for each in (*work.inscriptions, *work.findings):
        assert page.count(f'data-mark="{each.id}"') >= 3, (
            "on the photo, in the list, at its slip"
        )


def test_the_stop_stands_first_on_treat_with_the_way_to_mend_it(cared):
    page = cared.client.get(f"/work/{cared.low_water}/treat").text
    stops = page.partition('class="stop stops-of"')[2].partition("</section>")[0]
    step = cared.work(cared.low_water).treatments[0].steps[0]
    assert f'href="#{step.id}"' in stops
    assert re.search(r'<a href="/[^"]+">', stops), "the way to mend it"
    assert page.index("stops-of") < page.index('class="leaf-bar"') < page.index('id="picture"')
    assert page.index('id="picture"') < page.index('id="treatments"')
    assert page.count("button primary") == 1


def test_a_second_check_names_the_findings_that_it_says_nothing_of_yet(desk):
    desk.begin()
    mapped = sea_wall(desk.studio, f"party/{desk.member}")
    assert 'id="to-see"' not in desk.client.get(f"{mapped.path}/check").text
    kept = desk.studio.read(mapped.work.document)
    third = ConditionCheck(
        occasion="occasion/periodic", on=desk.studio.today(), by=f"party/{desk.member}"
    )
    desk.studio.save(
        replace(kept.record, checks=(*kept.record.checks, third)), who="Nell Quince", read=kept
    )
    page = desk.client.get(f"{mapped.path}/check").text
    told = page.partition('id="to-see"')[2].partition("</p>")[0]
    assert "K3 says nothing yet of" in told
    assert f"/enter/findings/{mapped.work.findings[0].id}/observations" in told
    # the next thing to do is to note findings, so that button is the first
    assert 'class="button primary" href="' + f"{mapped.path}/enter/findings" in page
