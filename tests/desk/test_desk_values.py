"""Entering values: each kind through its page, read back equal; refusals at their blank; two people at once."""

from __future__ import annotations

from dataclasses import dataclass, replace

import pytest
from hypothesis import HealthCheck, given, settings
from made_records import ARTIST, CLIENT, full_work, works
from markupsafe import escape
from paper_forms import PaperForm

from catalogue.desk import create_app
from catalogue.desk.filling import Filling
from catalogue.desk.layout import NOT_TYPED, sections, typed_fields
from catalogue.desk.typed import Typed, written_out
from catalogue.desk.values import Spot
from catalogue.record import (
    VALUES,
    ConditionCheck,
    Party,
    PartyName,
    Reference,
    Region,
    Release,
    Work,
)
from catalogue.record.rules import fields_of, values_within
from catalogue.studio import Studio
from catalogue.terms import label

PLACES = ("5a0f1f5c-7a51-4ec1-9a3b-0d0b6d1f2a77", "5a0f1f5c-7a51-4ec1-9a3b-0d0b6d1f2a78")
PENDANT = "5a0f1f5c-7a51-4ec1-9a3b-0d0b6d1f2a79"
WITHOUT_FILES = (
    "numbers", "notes", "parts", "layers", "checks", "findings", "repairs", "tests", "treatments",
    "provenance", "exhibitions", "citations", "relations", "movements", "inquiries",
)  # fmt: skip
ALL = (*WITHOUT_FILES, "photos", "papers")


@dataclass
class Easel:
    """A desk with one full work on it, and somebody who is working."""

    studio: Studio
    client: object
    work: Work

    @property
    def kept(self):
        return self.studio.read(self.work.document)

    def page(self, path: str) -> str:
        answer = self.client.get(path)
        assert answer.status_code == 200, (path, answer.status_code)
        return answer.text

    def form(self, path: str) -> PaperForm:
        return PaperForm.of(self.page(path))

    def enter(self, path: str, **typed):
        """Type over a form and send it; the answer, and the work as it stands then."""
        form = self.form(path)
        answer = self.client.post(form.action, data=form.sent(**typed))
        return answer, self.kept.record

    def address(self, field: str, value: str = "") -> str:
        return f"/work/{self.work.id}/enter/{field}" + (f"/{value}" if value else "")


def laid_out(work: Work) -> tuple[Studio, Easel]:
    studio = Studio.open("memory:")
    for party in (ARTIST, CLIENT):
        studio.save(party, who="Nell")
    for number, uuid in enumerate(PLACES):
        studio.save(
            Reference(
                id=uuid,
                address=f"https://elsewhere.example/{number}",
                types=("Place",),
                labels=(f"Elsewhere {number}",),
            ),
            who="Nell",
        )
    studio.save(Work(id=PENDANT), who="Nell")
    kept = studio.save(work, who="Nell")
    member = studio.welcome("Nell Quince")
    app = create_app(studio)
    app.config["WTF_CSRF_ENABLED"] = False
    client = app.test_client()
    client.post("/who", data={"who": member.id})
    return studio, Easel(studio, client, kept.record)


@pytest.fixture
def easel():
    studio, easel = laid_out(full_work())
    with studio:
        yield easel


@pytest.fixture(scope="module")
def resting():
    """An easel for tests after which everything is as it was."""
    studio, easel = laid_out(full_work())
    with studio:
        yield easel


def test_the_layout_names_every_field_that_a_form_has():
    """A field that no section names would come last, unsorted: the layout says where each goes."""
    unnamed = {
        "Work",
        "Inscription",
        "Region",
        "Transcript",
        "Release",
        "Title",
        "Attribution",
        "Size",
        "Reference",
    }
    for kind in VALUES:
        if kind.__name__ not in unnamed:
            fields = {rule.name for rule in fields_of(kind)} - NOT_TYPED
            last = sections(kind)[-1]
            assert {rule.name for rule in typed_fields(kind)} == fields
            assert last.title or len(sections(kind)) == 1, kind.__name__


# --- each kind of value --------------------------------------------------------------------------


@pytest.mark.parametrize("field", ALL)
def test_a_form_sent_back_untouched_changes_nothing(resting, field):
    before = resting.kept
    for value in getattr(before.record, field):
        answer, _ = resting.enter(resting.address(field, value.id))
        assert answer.status_code == 302, answer.text
    assert resting.kept.revision == before.revision


@pytest.mark.parametrize(
    ("field", "inner"), [("treatments", "steps"), ("findings", "observations")]
)
def test_the_form_of_an_inner_value_sent_back_untouched_changes_nothing(resting, field, inner):
    before = resting.kept
    for outer in getattr(before.record, field):
        for value in getattr(outer, inner):
            answer, _ = resting.enter(resting.address(field, f"{outer.id}/{inner}/{value.id}"))
            assert answer.status_code == 302, answer.text
    assert resting.kept.revision == before.revision


@pytest.mark.parametrize("field", WITHOUT_FILES)
def test_a_value_is_entered_through_its_page_and_read_back_equal(field):
    full = full_work()
    wanted = getattr(full, field)
    fewer = {field: (), "findings": () if field == "checks" else full.findings}
    if field == "findings":
        fewer["findings"] = ()
    if field == "parts":
        label = replace(full.inscriptions[0], part=None)
        fewer["inscriptions"] = (label, *full.inscriptions[1:])
    studio, easel = laid_out(replace(full, **fewer))
    with studio:
        filling = Filling(studio, easel.work, Typed({}), None)
        for value in wanted:
            typed = written_out(Spot(field).kind, value, "", filling.wording)
            form = easel.form(easel.address(field))
            known = {"treatments": "steps"}.get(field)
            assert {name for name in typed if "." not in name and name != known} <= form.blanks
            answer = easel.client.post(
                form.action,
                data={"revision": str(easel.kept.revision), "id": value.id, **typed},
            )
            assert answer.status_code == 302, answer.text
        entered = getattr(easel.kept.record, field)
    numbered = {each.id: getattr(each, "number", None) for each in entered}
    expected = tuple(
        replace(each, number=numbered[each.id])
        if "number" in {rule.name for rule in fields_of(type(each))}
        else each
        for each in wanted
    )
    if field == "notes":
        expected = tuple(replace(each, released=None) for each in expected)
    assert {each.id: each for each in entered} == {each.id: each for each in expected}


def test_a_step_is_entered_in_its_treatment_and_comes_next_in_order(easel):
    treatment = easel.work.treatments[0]
    path = easel.address("treatments", f"{treatment.id}/steps")
    assert dict(easel.form(path).fields)["order"] == "3"
    answer, work = easel.enter(
        path, kind="tear mending", began="3 May 2026", began_at="10:15",
        materials__0__material="isinglass", materials__0__concentration_percent="2,5",
        materials__0__basis="concentration/w-v", addresses=[work_id(easel, "findings")],
        location__face="face/back", location__shape__x_mm="120", location__shape__y_mm="140",
        location__shape__width_mm="60", location__shape__height_mm="45",
    )  # fmt: skip
    assert answer.status_code == 302, answer.text
    step = work.treatments[0].steps[2]
    assert (step.order, step.kind, step.began.iso) == (3, "step/tear-mend", "2026-05-03")
    assert step.materials[0].material == "material/isinglass"
    assert step.materials[0].concentration_percent == 2.5
    assert step.location.shape.box.width_mm == 60
    assert step.by == (studio_member(easel),)
    assert answer.headers["Location"].endswith(f"/treat#{step.id}")


def work_id(easel, field: str) -> str:
    return getattr(easel.work, field)[0].id


def studio_member(easel) -> str:
    return easel.studio.find_party("Nell Quince").document_id


def test_a_new_finding_is_seen_at_the_latest_check(easel):
    path = easel.address("findings")
    form = dict(easel.form(path).fields)
    assert form["observations.0.check"] == easel.work.checks[-1].id
    answer, work = easel.enter(
        path, kind="rip", layer="layer/paint", observations__0__length_mm="62"
    )
    assert answer.status_code == 302, answer.text
    finding = work.findings[-1]
    assert (finding.number, finding.kind) == ("F2", "damage/tear")
    assert finding.observations[0].length_mm == 62


def test_a_further_observation_goes_on_with_the_course(easel):
    finding = easel.work.findings[0]
    later = easel.studio.save(
        replace(
            easel.kept.record,
            checks=(
                *easel.kept.record.checks,
                ConditionCheck(
                    occasion="occasion/periodic", on=easel.studio.today(), by=ARTIST.document
                ),
            ),
        ),
        who="Nell",
        read=easel.kept,
    )
    path = easel.address("findings", f"{finding.id}/observations")
    answer, work = easel.enter(path, gap_mm="0.5", change="change/grown")
    assert answer.status_code == 302, answer.text
    assert [each.gap_mm for each in work.course(work.findings[0])] == [3, 0, 0.5]
    page = easel.page(f"/work/{easel.work.id}/check")
    assert later.record.checks[-1].number in page
    assert "0.5 mm" in page


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(works())
def test_whatever_a_value_says_its_form_says_again(work):
    with Studio.open("memory:") as studio:
        for value in values_within(work):
            if type(value) in (Work, Release, Region):
                continue
            filling = Filling(studio, work, Typed({}), None)
            filling.typed.add(written_out(type(value), value, "", filling.wording))
            assert filling.value(type(value), "", value) == value, filling.errors


# --- what is refused -----------------------------------------------------------------------------

REFUSED = [
    ("checks", {"on": "31 February 2026"}, "on", "there is no day"),
    ("checks", {"on": "1926"}, "on", "not one day"),
    ("checks", {"humidity_percent": "140"}, "humidity_percent", "between 0 and 100"),
    ("checks", {"temperature_c": "warm"}, "temperature_c", "not a number"),
    ("checks", {"by": ""}, "by", "must be said"),
    ("layers", {"kind": "layer/ground", "position": "1.5"}, "position", "whole number"),
    ("findings", {"kind": "teer"}, "kind", "no word of this list"),
    ("findings", {"kind": "tear", "layer": ""}, "layer", "must be said"),
    ("provenance", {"kind": "provenance/sale", "when": "the day after"}, "when", "not understood"),
    ("provenance", {"kind": "sale"}, "evidence.0.kind", "must be said"),
    ("provenance", {"kind": "sale", "evidence__0__kind": "evidence/none-cited", "evidence__0__text": "a letter"},
     "evidence.0.kind", "something is cited after all"),
    ("repairs", {"kind": "repair/tape", "adhesive_basis": "basis/tested"}, "adhesive_basis", "name the adhesive first"),
    ("repairs", {"kind": "repair/tape", "location__face": "face/back", "location__shape__x_mm": "3"},
     "location.shape", "go together"),
    ("repairs", {"kind": "repair/tape", "location__face": "face/back", "location__shape__outline": "CIRCLE (3)"},
     "location.shape", "no outline"),
    ("tests", {"kind": "test/ph", "materials__0__material": "ethanol", "materials__0__concentration_percent": "5"},
     "materials.0.basis", "go together"),
    ("relations", {"kind": "relation/pendant-of", "to": "1999-999"}, "to", "on file is called"),
    ("movements", {"to": ""}, "to", "say where to"),
]  # fmt: skip


@pytest.mark.parametrize(("field", "typed", "path", "said"), REFUSED)
def test_a_refusal_stands_at_its_blank_and_nothing_typed_is_lost(
    resting, field, typed, path, said
):
    before = resting.kept.revision
    answer, _ = resting.enter(
        resting.address(field), notes__0__text="Typed\nwith care.", **typed
    )
    assert answer.status_code == 422
    assert resting.kept.revision == before
    at = answer.text.partition(f'id="e-{path}"')[2].partition("</p>")[0]
    assert said in at.replace("&#39;", "'"), answer.text
    form = PaperForm.of(answer.text)
    again = form.sent()
    for name, value in typed.items():
        assert again.get(name.replace("__", "."), [""])[0] == value
    assert again["notes.0.text"] == ["Typed\r\nwith care."]


def test_another_blank_comes_without_a_script_and_keeps_what_was_typed(easel):
    path = easel.address("repairs")
    form = easel.form(path)
    sent = form.sent(
        kind="tape", notes__0__text="First.", more="notes", materials=["paper", ""]
    )
    answer = easel.client.post(form.action, data=sent)
    assert answer.status_code == 200
    again = PaperForm.of(answer.text)
    assert "notes.1.text" in again.blanks
    answer = easel.client.post(again.action, data=again.sent(notes__1__text="Second."))
    assert answer.status_code == 302, answer.text
    repair = easel.kept.record.repairs[-1]
    assert sorted(note.text for note in repair.notes) == ["First.", "Second."]
    assert repair.materials == ("material/paper",)


# --- people --------------------------------------------------------------------------------------


def test_a_new_name_becomes_a_party_only_when_somebody_says_so(easel):
    path = easel.address("movements")
    answer, _ = easel.enter(path, keeper="Ivo Brandreth")
    assert answer.status_code == 422
    assert "nobody on file is called" in answer.text
    assert easel.studio.find_party("Ivo Brandreth") is None
    form = PaperForm.of(answer.text)
    sent = form.sent(keeper__is="person")
    answer = easel.client.post(form.action, data=sent)
    assert answer.status_code == 302, answer.text
    found = easel.studio.find_party("Ivo Brandreth")
    assert found.record.kind == "person"
    assert found.document_id in {each.keeper for each in easel.kept.record.movements}


def test_a_name_may_stay_in_words(easel):
    answer, work = easel.enter(
        easel.address("provenance"), kind="sale", evidence__0__kind="evidence/none-cited",
        parties__0__party="The Misses Orme", parties__0__role="capacity/buyer", parties__0__party__is="written",
    )  # fmt: skip
    assert answer.status_code == 302, answer.text
    role = work.provenance[-1].parties[0]
    assert (role.party, role.written) == (None, "The Misses Orme")
    assert easel.studio.find_party("The Misses Orme") is None


def test_of_two_people_of_one_name_somebody_says_which(easel):
    second = Party(kind="person", names=(PartyName(text="Ada Penhale"),))
    easel.studio.save(second, who="Nell")
    answer, _ = easel.enter(easel.address("movements"), keeper="Ada Penhale")
    assert answer.status_code == 422
    assert "2 on file are called" in answer.text
    form = PaperForm.of(answer.text)
    answer = easel.client.post(form.action, data=form.sent(keeper__is=second.document))
    assert answer.status_code == 302, answer.text
    assert second.document in {each.keeper for each in easel.kept.record.movements}


# --- two at once, and taking out -----------------------------------------------------------------


def test_what_another_changed_meanwhile_is_joined(easel):
    layer = easel.work.layers[0]
    form = easel.form(easel.address("layers", layer.id))
    easel.enter(easel.address("exhibitions", easel.work.exhibitions[0].id), title="Summer")
    answer = easel.client.post(form.action, data=form.sent(colour="grey"))
    assert answer.status_code == 302, answer.text
    now = easel.kept.record
    assert (now.layers[0].colour, now.exhibitions[0].title) == ("grey", "Summer")


def test_the_same_value_changed_twice_shows_both_and_lets_the_second_decide(easel):
    layer = easel.work.layers[0]
    path = easel.address("layers", layer.id)
    form = easel.form(path)
    easel.enter(path, colour="black")
    answer = easel.client.post(form.action, data=form.sent(colour="grey"))
    assert answer.status_code == 409
    assert "black" in answer.text
    assert "grey" in answer.text
    assert easel.kept.record.layers[0].colour == "black"
    answer = easel.client.post(
        form.action, data={**form.sent(colour="grey"), "revision": str(easel.kept.revision)}
    )
    assert answer.status_code == 302
    assert easel.kept.record.layers[0].colour == "grey"


def test_a_form_sent_twice_is_one_value(easel):
    form = easel.form(easel.address("exhibitions"))
    sent = form.sent(title="Spring")
    easel.client.post(form.action, data=sent)
    easel.client.post(form.action, data=sent)
    assert [each.title for each in easel.kept.record.exhibitions].count("Spring") == 1


def test_taking_a_value_out_wants_a_reason_and_the_history_keeps_it(easel):
    before = easel.kept
    path = easel.address("exhibitions", easel.work.exhibitions[0].id)
    answer, _ = easel.enter(path, remove="yes")
    assert answer.status_code == 422
    assert "say why it is taken out" in answer.text
    answer, work = easel.enter(path, remove="yes", why="entered for the pendant")
    assert answer.status_code == 302
    assert work.exhibitions == ()
    assert easel.studio.read(before.document_id, before.revision).record.exhibitions
    assert "entered for the pendant" in list(easel.studio.history(before.document_id))[-1].why


def test_a_check_at_which_something_was_seen_cannot_be_taken_out(resting):
    check = resting.work.checks[0]
    answer, work = resting.enter(
        resting.address("checks", check.id), remove="yes", why="wrong work"
    )
    assert answer.status_code == 422
    assert "F1 tear at K1 would hang in the air" in answer.text
    assert len(work.checks) == 2


def test_taking_an_inner_value_away_wants_a_reason_too(easel):
    event = easel.work.provenance[0]
    path = easel.address("provenance", event.id)
    answer, _ = easel.enter(path, evidence__1__gone="yes")
    assert answer.status_code == 422
    answer, work = easel.enter(path, evidence__1__gone="yes", why="the aunt was mistaken")
    assert answer.status_code == 302, answer.text
    assert len(work.provenance[0].evidence) == 1


@pytest.mark.parametrize(
    "path",
    ["enter/inscriptions", "enter/titles", "enter/nothing", "enter/layers/0/steps", "enter/id"],
)
def test_there_is_no_form_for_what_is_none(resting, path):
    assert resting.client.get(f"/work/{resting.work.id}/{path}").status_code == 404


def test_a_note_of_a_step_leaves_once_its_very_text_is_released(easel):
    page = easel.page(f"/work/{easel.work.id}/treat")
    assert "stays in the house until somebody releases it" in page
    note = easel.work.treatments[0].steps[0].notes[0]
    answer = easel.client.post(
        f"/work/{easel.work.id}/release/{note.id}",
        data={"revision": easel.kept.revision, "next": f"/work/{easel.work.id}/treat"},
    )
    assert answer.headers["Location"] == f"/work/{easel.work.id}/treat"
    now = easel.kept.record
    assert now.treatments[0].steps[0].notes[0].may_leave
    assert now.findings == easel.work.findings
    step = easel.address(
        "treatments", f"{now.treatments[0].id}/steps/{now.treatments[0].steps[0].id}"
    )
    _, work = easel.enter(step, notes__0__text="Another text.")
    assert not work.treatments[0].steps[0].notes[0].may_leave


# --- the leaves ----------------------------------------------------------------------------------


def test_check_shows_the_course_of_a_finding_and_the_layers(resting):
    page = resting.page(f"/work/{resting.work.id}/check")
    for words in (
        "F1",
        "tear",
        "62 mm",
        "K1",
        "K2",
        "treated",
        "ground",
        "chalk",
        "Smells of smoke.",
    ):
        assert words in page, words


def test_treat_shows_steps_in_order_with_cautions_and_missing_data_sheets(easel):
    page = easel.page(f"/work/{easel.work.id}/treat")
    assert page.index("T1.1 ") < page.index("T1.2 ")
    for words in (
        "the conservator decides",
        "safety data sheet of 5 May 2025",
        "Heat: the surface is measured",
    ):
        assert words in page, words
    assert "material/" not in page
    answer, _ = easel.enter(
        easel.address("tests"), kind="solubility", materials__0__material="acetone"
    )
    assert answer.status_code == 302
    page = easel.page(f"/work/{easel.work.id}/treat")
    assert "no safety data sheet noted" in page
    assert "Solvents: fresh air" in page


def test_argue_certifies_nothing_and_names_people_with_their_page(resting):
    page = resting.page(f"/work/{resting.work.id}/argue")
    assert (
        "A gap is not an accusation; no hit is not clearance; this tool certifies neither title nor authenticity."
        in page
    )
    assert f'href="/people/{CLIENT.id}"' in page
    for words in (
        "12 gns.",
        "Lot",
        "84",
        "Winter Exhibition",
        "Harbour painters, 1990",
        "pendant of",
    ):
        assert words in page, words


def test_an_empty_work_says_that_nothing_is_recorded():
    studio, easel = laid_out(Work())
    with studio:
        for leaf in ("check", "treat", "argue"):
            page = easel.page(f"/work/{easel.work.id}/{leaf}")
            assert "is recorded" in page
            assert page.count('class="button primary"') == 1, leaf


def test_the_folder_says_where_it_is_now_and_that_this_stays_in_the_house(resting):
    page = resting.page(f"/work/{resting.work.id}")
    where = page.partition('id="movements"')[2].partition("</section>")[0]
    assert "rack 3" in where
    assert "studio only" in where


def test_what_is_typed_is_text_wherever_a_value_is_shown(easel):
    hostile = '<script>alert("ink")</script>'
    easel.enter(easel.address("exhibitions"), title=hostile)
    easel.enter(
        easel.address("layers", work_id(easel, "layers")),
        colour=hostile,
        notes__1__text=hostile,
    )
    for leaf in ("", "/check", "/treat", "/argue", "/enter/layers/" + work_id(easel, "layers")):
        page = easel.page(f"/work/{easel.work.id}{leaf}")
        assert hostile not in page
    assert escape(hostile) in easel.page(f"/work/{easel.work.id}/argue")


def test_values_are_offered_by_number_and_words(resting):
    label_there = resting.work.inscriptions[0]
    assert escape(f"I1 {label(label_there.kind)}") in resting.page(resting.address("repairs"))
    step = resting.page(resting.address("treatments", f"{resting.work.treatments[0].id}/steps"))
    for words in ("F1 tear", "R1 ", "T1.1 "):
        assert (words in step) is (words in ("F1 tear", "R1 ")), words
