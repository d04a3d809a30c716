"""A step that the order of work stops: told at the form, nothing lost, answered in writing or mended."""

import re
from dataclasses import replace
from datetime import UTC, datetime

import pytest
from mapped import sea_wall

from catalogue.desk.refusals import in_its_words
from catalogue.errors import Stopped
from catalogue.record import Item, Job, Option, Photo, PlannedStep, Proposal

TODAY = datetime.now(UTC).strftime("%Y-%m-%d")


@pytest.fixture
def mapped(desk):
    desk.begin()
    found = sea_wall(desk.studio, f"party/{desk.member}")
    item = Item(work=found.work.document, came=desk.studio.today())
    job = Job(reason="reason/treatment", client=f"party/{desk.artist}", items=(item,))
    desk.studio.save(job, who=f"party/{desk.member}")
    return found


def path(mapped, *more):
    treatment = mapped.work.treatments[0].id
    return "/".join((f"{mapped.path}/enter/treatments/{treatment}/steps", *more))


def patch(mapped, **more):
    """A patch over the title, as the form sends it."""
    return {
        "revision": "1", "order": "1", "kind": "patching", "began": TODAY,
        "covers": mapped.work.inscriptions[0].id, "shown": "covers",
        "outcome": "Lies flat; the weave shows through.", **more,
    }  # fmt: skip


def told(page):
    """What the order of work says on a page: each rule, and whether it stops."""
    found = re.findall(
        r"<strong>(Stop|Mind|Done all the same|Note) ([A-Z0-9-]+)\.</strong>", page
    )
    return {rule: level for level, rule in found}


def stops(page):
    return {rule for rule, level in told(page).items() if level == "Stop"}


def saved(desk, mapped):
    return desk.work(mapped.work.id).treatments[0].steps


def test_a_stop_is_told_at_the_form_with_all_that_was_typed(desk, mapped):
    answer = desk.post(path(mapped), **patch(mapped))
    assert answer.status_code == 422
    # trade sheet C5: no treatment before approval (O1) and photographs (O2), nothing covered
    # before it is recorded (O3)
    assert {"O1", "O2", "O3"} <= stops(answer.text)
    assert "Lies flat; the weave shows through." in answer.text
    assert re.search(rf'value="{mapped.work.inscriptions[0].id}" checked', answer.text)
    assert "Have the proposal approved" in answer.text
    assert saved(desk, mapped) == ()


def test_each_stop_leads_to_where_it_can_be_mended(desk, mapped):
    page = desk.post(path(mapped), **patch(mapped)).text
    assert f'href="{mapped.path}/photos"' in page
    assert f'href="{mapped.path}/read"' in page
    assert re.search(r'href="/jobs/[^"]+">The job J', page)


def test_a_written_reason_for_every_stop_lets_it_be_saved_and_stays(desk, mapped):
    rules = stops(desk.post(path(mapped), **patch(mapped)).text)
    reasons = {f"answer.{rule}": f"because of {rule}" for rule in rules}
    answer = desk.post(path(mapped), **patch(mapped, **reasons))
    assert answer.status_code == 302
    (step,) = saved(desk, mapped)
    assert {each.rule for each in step.overrides} == rules
    assert {each.reason for each in step.overrides} == set(reasons.values())
    assert {each.by for each in step.overrides} == {f"party/{desk.member}"}
    assert all(each.on == desk.studio.today() for each in step.overrides)
    leaf = desk.client.get(f"{mapped.path}/treat").text
    assert "“because of O3”" in leaf
    assert not stops(leaf)
    again = desk.client.get(path(mapped, step.id)).text
    assert told(again)["O3"] == "Done all the same"


def test_a_reason_for_one_stop_is_kept_while_another_still_stands(desk, mapped):
    answer = desk.post(path(mapped), **patch(mapped, **{"answer.O2": "shot on the old camera"}))
    assert answer.status_code == 422
    assert told(answer.text)["O2"] == "Done all the same"
    assert told(answer.text)["O3"] == "Stop"
    assert re.search(r'name="overrides\.\d+\.rule"[^>]*value="O2"', answer.text)
    assert "shot on the old camera" in answer.text
    empty = desk.post(path(mapped), **patch(mapped, **{"answer.O2": "  "}))
    assert told(empty.text)["O2"] == "Stop"


def test_what_was_mended_on_another_page_is_no_longer_asked_for(desk, mapped):
    """The form was begun at revision 1; the photographs it asked for came after that."""
    assert "O2" in stops(desk.post(path(mapped), **patch(mapped)).text)
    kept = desk.studio.read(mapped.work.document)
    taken = tuple(
        Photo(
            file_name=f"{face[5:]}.jpg",
            view="view/whole",
            face=face,
            light="light/normal",
            stage="stage/incoming",
        )
        for face in ("face/front", "face/back")
    )
    more = replace(kept.record, photos=(*kept.record.photos, *taken))
    desk.studio.save(more, who=f"party/{desk.member}", read=kept)
    for asked in ({}, {"look": "yes"}):
        found = stops(desk.post(path(mapped), **patch(mapped, **asked)).text)
        assert "O1" in found
        assert "O2" not in found


def test_an_emergency_needs_no_approval(desk, mapped):
    page = desk.post(path(mapped), **patch(mapped)).text
    assert 'href="#b-emergency"' in page
    page = desk.post(path(mapped), **patch(mapped, emergency="the paint was falling")).text
    assert "O1" not in stops(page)
    assert 'href="#b-emergency"' not in page


def test_to_look_first_saves_nothing(desk, mapped):
    answer = desk.post(path(mapped), **patch(mapped, look="yes"))
    assert answer.status_code == 200
    assert {"O1", "O2", "O3"} <= stops(answer.text)
    assert "Lies flat" in answer.text
    assert saved(desk, mapped) == ()
    calm = desk.post(path(mapped), revision="1", order="1", kind="photographing", look="yes")
    assert "Nothing in the order of work is against this" in calm.text
    wrong = desk.post(path(mapped), **patch(mapped, began="soon", look="yes"))
    assert wrong.status_code == 422
    assert "such as 2026-03-01" in wrong.text


def test_a_figure_outside_the_studios_own_range_warns_where_it_is_typed(desk, mapped):
    hot = patch(mapped, surface_temperature_c="126.5", look="yes")
    page = desk.post(path(mapped), **hot).text
    assert "Outside this studio" in page
    assert "126.5 °C, over the studio" in page
    mild = desk.post(
        path(mapped), **patch(mapped, surface_temperature_c="52.5", look="yes")
    ).text
    assert "Outside this studio" not in mild


def test_what_only_warns_is_told_and_does_not_hold_up(desk, mapped):
    rules = stops(desk.post(path(mapped), **patch(mapped)).text)
    reasons = {f"answer.{rule}": "agreed with the owner" for rule in rules}
    page = desk.post(path(mapped), **patch(mapped, look="yes", **reasons)).text
    warned = {rule for rule, level in told(page).items() if level == "Mind"}
    assert "O12" in warned  # trade sheet C5: a patch after the mend
    assert not stops(page)
    assert desk.post(path(mapped), **patch(mapped, **reasons)).status_code == 302
    leaf = desk.client.get(f"{mapped.path}/treat").text
    assert told(leaf)["O12"] == "Mind"


def test_the_leaf_counts_what_stops_and_minds_each_step(desk, mapped):
    treatment = {
        "revision": "1", "title": "Before our time", "steps.0.order": "1",
        "steps.0.kind": "wet cleaning", "steps.0.began": "1998-05-01",
    }  # fmt: skip
    answer = desk.post(f"{mapped.path}/enter/treatments", **treatment)
    assert answer.status_code == 302  # before the work came on file: history
    page = desk.client.get(f"{mapped.path}/treat").text
    assert "the order of work" in page
    assert "O1" in stops(page)
    assert re.search(r"<summary[^>]*>Mind \(\d+\)</summary>", page)


def test_a_treatment_whose_step_is_stopped_says_which(desk, mapped):
    treatment = {
        "revision": "1", "title": "Now", "steps.0.order": "1", "steps.0.kind": "wet cleaning",
        "steps.0.began": TODAY,
    }  # fmt: skip
    answer = desk.post(f"{mapped.path}/enter/treatments", **treatment)
    assert answer.status_code == 422
    assert "O1" in stops(answer.text)
    assert 'value="Now"' in answer.text


def test_a_plan_is_told_what_it_would_break_and_a_better_order(desk, mapped):
    planned = (
        PlannedStep(order=1, kind="step/patch", addresses=(mapped.work.findings[0].id,)),
        PlannedStep(order=2, kind="step/tear-mend", addresses=(mapped.work.findings[0].id,)),
    )
    options = (
        Option(order=1, title="Leave it", nothing=True),
        Option(order=2, title="Mend it", steps=planned),
    )
    job = desk.studio.jobs_of(mapped.work.document)[0]
    read = desk.studio.read(job.document)
    changed = replace(read.record, proposals=(Proposal(options=options),))
    desk.studio.save(changed, who=f"party/{desk.member}", read=read)
    page = desk.client.get(f"/jobs/{job.id}").text
    assert told(page)["O12"] == "Mind"  # trade sheet C5: a patch after the mend
    assert "The order that the rules suggest: 2. tear mending, 1. patching." in page
    bench = desk.client.get("/").text
    assert "Waiting for approval" in bench


def test_the_bench_counts_the_stops_of_each_work_in_the_house(desk, mapped):
    page = desk.client.get("/").text
    assert "stops open" not in page
    rules = {"revision": "1", "title": "Before our time", "steps.0.order": "1",
             "steps.0.kind": "wet cleaning", "steps.0.began": "1998-05-01"}  # fmt: skip
    desk.post(f"{mapped.path}/enter/treatments", **rules)
    found = re.search(r"(\d+) stops? open", desk.client.get("/").text)
    assert int(found[1]) == len(stops(desk.client.get(f"{mapped.path}/treat").text))


def test_a_way_back_that_the_order_of_work_stops_says_every_rule(desk, mapped):
    rules = stops(desk.post(path(mapped), **patch(mapped)).text)
    reasons = {f"answer.{rule}": f"because of {rule}" for rule in rules}
    desk.post(path(mapped), **patch(mapped, **reasons))
    kept = desk.studio.read(mapped.work.document)
    (treatment,) = kept.record.treatments
    bare = replace(treatment, steps=(replace(treatment.steps[0], overrides=()),))
    with desk.app.test_request_context(), pytest.raises(Stopped) as refused:
        desk.studio.save(replace(kept.record, treatments=(bare,)), who="x", read=kept)
    with desk.app.test_request_context():
        page, code = in_its_words(refused.value)
    assert code == 422
    for rule in rules:
        assert f"{rule}: " in page
    assert "Have the proposal approved" in page
