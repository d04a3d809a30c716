"""Drafts of forms, as the desk keeps them: offered, taken up, used up by the save; and what is kept of a refusal."""

from __future__ import annotations

import json
import re
from dataclasses import replace

import pytest
from paper_forms import PaperForm

from catalogue.desk import drafts
from catalogue.desk.together import FORGOTTEN_AFTER, Present
from catalogue.half_typed import HalfTyped
from catalogue.record import Title, new_id
from catalogue.studio import Studio

OWN = "5a0f1f5c-7a51-4ec1-9a3b-0d0b6d1f2ad1"


def finding(desk) -> str:
    return f"/work/{desk.low_water}/enter/findings"


def page(desk, path: str) -> str:
    answer = desk.client.get(path)
    assert answer.status_code == 200, (path, answer.status_code, answer.headers.get("Location"))
    return answer.text


def blank(text: str, name: str) -> str:
    found = re.search(rf'name="{name}" value="([^"]*)"', text)
    assert found, name
    return found[1]


def keep(desk, place: str, draft: str = OWN, **typed):
    told = {"draft": draft, "draft_place": place, "draft_called": "a form", **typed}
    return desk.post("/drafts", **told)


def on_file(desk):
    return desk.studio.ledger.drafts()


def second_person(desk):
    """Another browser, in which somebody else works."""
    other = replace(desk, client=desk.app.test_client())
    member = desk.studio.welcome("Tobias Vell")
    other.post("/who", who=member.document)
    return other


def test_a_form_of_every_kind_carries_the_blanks_of_its_draft(desk):
    desk.begin()
    work = f"/work/{desk.low_water}"
    for path in (
        f"{work}/enter/findings", f"{work}/enter/repairs", f"{work}/enter/treatments", f"{work}/enter/tests",
        f"{work}/enter/checks", f"{work}/enter/provenance", f"{work}/papers", work, "/work/new", "/jobs/new",
        "/people/new", f"/jobs/{desk.job}/edit", f"/jobs/{desk.job}/enter/notes", f"/people/{desk.artist}/edit",
    ):  # fmt: skip
        text = page(desk, path)
        assert 'data-draft="/drafts"' in text, path
        assert blank(text, "draft_place").partition("#")[0] == path
        assert "drafts.js" in text, path


def test_half_typed_is_offered_taken_up_and_used_up_by_the_save(desk):
    desk.begin()
    form = PaperForm.of(page(desk, finding(desk)))
    typed = form.sent(**{"notes.0.text": "Lifts along the left edge."})
    assert desk.post("/drafts", **typed).status_code == 200
    (kept,) = on_file(desk)
    assert (kept.document, kept.place) == (f"work/{desk.low_water}", finding(desk))
    assert "csrf_token" not in kept.text

    bench = page(desk, "/")
    assert "Lifts along the left edge." in bench
    assert f"{finding(desk)}?draft={kept.id}" in bench
    offered = page(desk, finding(desk))
    assert "Half typed here by Nell Quince" in offered
    again = page(desk, f"{finding(desk)}?draft={kept.id}")
    assert "Half typed here" not in again
    assert blank(again, "draft") == kept.id


def test_a_save_uses_its_draft_up_in_the_same_change(desk):
    desk.begin()
    path = f"/people/{desk.artist}/edit"
    form = PaperForm.of(page(desk, path))
    typed = form.sent(**{"names.0.text": "Ada Penhale the elder"})
    desk.post("/drafts", **typed)
    assert len(on_file(desk)) == 1
    before = desk.studio.ledger.last()[0]
    assert desk.post(path, **typed).status_code == 302
    assert on_file(desk) == []
    assert desk.studio.ledger.last()[0] == before + 1
    assert (
        desk.studio.party(f"party/{desk.artist}").record.names[0].text
        == "Ada Penhale the elder"
    )
    # what the page that was left still sends comes too late
    late = desk.post("/drafts", **typed)
    assert late.status_code == 409
    assert "again" in late.json
    assert on_file(desk) == []


def test_a_refused_form_keeps_its_draft_and_what_was_typed(desk):
    desk.begin()
    typed = {"revision": "1", "made": "the year of the great frost"}
    answer = desk.post(
        f"/work/{desk.ferry}/made", draft=OWN, draft_place=f"/work/{desk.ferry}#made", **typed
    )
    assert answer.status_code == 422
    assert "the year of the great frost" in answer.text
    assert f"/work/{desk.ferry}?draft={OWN}#made" in answer.text
    (kept,) = on_file(desk)
    filled = desk.client.get(f"/draft/{kept.id}.json").json["fields"]
    assert filled["made"] == ["the year of the great frost"]
    assert f'data-fill="/draft/{OWN}.json"' in page(desk, f"/work/{desk.ferry}?draft={OWN}")


def test_the_same_value_changed_twice_shows_both_and_keeps_the_second(desk):
    desk.begin()
    place, made = f"/work/{desk.ferry}#made", {"revision": str(desk.revision(desk.ferry))}
    first = desk.post(f"/work/{desk.ferry}/made", made="1907", **made)
    assert first.status_code == 302
    answer = desk.post(
        f"/work/{desk.ferry}/made", made="c. 1911", draft=OWN, draft_place=place, **made
    )
    assert answer.status_code == 409
    assert "1907" in answer.text
    assert "c. 1911" in answer.text
    assert f"/work/{desk.ferry}?draft={OWN}#made" in answer.text
    assert len(on_file(desk)) == 1
    over = {**made, "revision": blank(answer.text, "revision"), "made": "c. 1911"}
    desk.post(f"/work/{desk.ferry}/made", draft=OWN, draft_place=place, **over)
    assert desk.work(desk.ferry).made.written == "c. 1911"
    assert on_file(desk) == []


def test_a_form_without_its_token_is_shown_and_not_kept(desk):
    desk.begin()
    answer = desk.client.post(
        f"/work/{desk.ferry}/note",
        data={"revision": "1", "text": "Typed <b>by hand", "draft": OWN, "draft_place": f"/work/{desk.ferry}#note"},
    )  # fmt: skip
    assert answer.status_code == 400
    assert "Typed &lt;b&gt;by hand" in answer.text
    assert on_file(desk) == []


def test_a_form_sent_before_anybody_said_who_works_is_kept_all_the_same(desk):
    token = desk.token("/who")
    answer = desk.client.post(
        f"/work/{desk.ferry}/note",
        data={"csrf_token": token, "revision": "1", "text": "Written in haste", "kind": "note/description",
              "visibility": "visibility/open", "draft": OWN, "draft_place": f"/work/{desk.ferry}#note"},
    )  # fmt: skip
    assert answer.status_code == 302
    assert answer.headers["Location"].startswith("/who?next=")
    assert len(on_file(desk)) == 1
    desk.begin()
    assert "Written in haste" in page(desk, f"/work/{desk.ferry}")


def test_the_draft_of_one_is_never_written_over_by_another(desk):
    desk.begin()
    keep(desk, finding(desk), text="Nell's")
    other = second_person(desk)
    text = page(other, f"{finding(desk)}?draft={OWN}")
    assert blank(text, "draft") != OWN
    assert blank(text, "draft_from").startswith(f"{OWN}@")
    assert keep(other, finding(desk), text="Tobias's").json["id"] != OWN
    assert sorted(each.who for each in on_file(desk)) == sorted(
        [f"party/{desk.member}", other.studio.members()[-1].document]
    )
    assert len({each.text for each in on_file(desk)}) == 2


def test_a_slip_of_one_is_never_written_over_by_another(desk):
    desk.begin()
    slip = f"/work/{desk.ferry}/read"
    desk.post(f"/work/{desk.ferry}/draft", markup="Nell's reading", draft=OWN)
    other = second_person(desk)
    text = page(other, f"{slip}?draft={OWN}")
    assert "Nell&#39;s reading" in text
    assert blank(text, "draft") != OWN
    assert blank(page(desk, f"{slip}?draft={OWN}"), "draft") == OWN


def test_somebody_elses_goes_with_the_save_unless_they_went_on_typing(desk):
    desk.begin()
    place = f"/work/{desk.ferry}#note"
    note = {
        "revision": "1",
        "text": "Both",
        "kind": "note/description",
        "visibility": "visibility/open",
    }
    for went_on in (False, True):
        own = new_id()
        keep(desk, place, own, text="Nell's")
        at = desk.studio.ledger.draft(own).at
        if went_on:
            desk.studio.ledger.keep_draft(
                who=f"party/{desk.member}", document=f"work/{desk.ferry}", place=place, text="more", draft_id=own
            )  # fmt: skip
            at = "2026-01-01T00:00:00.000Z"
        other = second_person(desk)
        other.post(
            f"/work/{desk.ferry}/note", draft=new_id(), draft_place=place, draft_from=f"{own}@{at}",
            **{**note, "revision": str(desk.revision(desk.ferry))},
        )  # fmt: skip
        assert (desk.studio.ledger.draft(own) is not None) == went_on


def test_new_records_are_kept_too_and_lie_on_the_bench(desk):
    desk.begin()
    for place, text in (
        ("/jobs/new", "lining"),
        ("/people/new", "Ida Frew"),
        ("/work/new", "Ebb"),
    ):
        assert keep(desk, place, new_id(), title=text).status_code == 200
        assert text in page(desk, "/")
        assert text in page(desk, place)


@pytest.mark.parametrize(
    ("place", "typed", "status"),
    [
        ("//elsewhere.example", {}, 422),
        ("/work/new?x", {}, 422),
        ("", {}, 422),
        ("/work/new", {"title": "x" * (2 * 1024 * 1024 + 1)}, 422),
        ("/work/new", {"draft": "7"}, 422),
        ("/work/new", {"title": "\x00 \u202e \ufffd \U0001f5bc"}, 200),
    ],
)
def test_what_is_no_draft_is_refused_in_words(desk, place, typed, status):
    desk.begin()
    own = typed.pop("draft", OWN)
    answer = keep(desk, place, own, **typed)
    assert answer.status_code == status
    if status == 422:
        assert answer.json["message"].startswith("not kept:")
        assert on_file(desk) == []
    else:
        assert json.loads(on_file(desk)[0].text)["fields"]["title"] == [typed["title"]]


def test_nobody_fills_the_table_with_drafts(desk, monkeypatch):
    monkeypatch.setattr(drafts, "MOST", 3)
    desk.begin()
    answers = [keep(desk, "/work/new", new_id(), title="x").status_code for _ in range(5)]
    assert answers == [200, 200, 200, 422, 422]
    assert len(on_file(desk)) == 3
    assert keep(desk, "/work/new", on_file(desk)[0].id, title="y").status_code == 200


def test_a_draft_leaves_by_no_export_and_stays_in_the_studios_own_backup(desk, tmp_path):
    desk.begin()
    secret = "xylograph in the attic"
    keep(desk, f"/work/{desk.low_water}#note", new_id(), text=secret)
    keep(desk, f"/jobs/{desk.job}/edit", new_id(), **{"notes.0.text": secret})
    for name in ("full-graph", "csv"):
        desk.studio.export(name, "full", tmp_path / name, who="Nell", reason="a test")
    written = [path for path in tmp_path.rglob("*") if path.is_file()]
    assert written
    assert not any(secret.encode() in path.read_bytes() for path in written)
    with Studio.init(tmp_path / "kept") as kept:
        who = kept.welcome("Nell Quince").document
        text = HalfTyped("job", {"notes.0.text": [secret]}).text()
        kept.ledger.keep_draft(who=who, document="job/new", place="/jobs/new", text=text)
        kept.backup(tmp_path / "backup")
    with Studio.restore(tmp_path / "backup", tmp_path / "again") as again:
        assert [each.text for each in again.ledger.drafts()] == [text]


# --- two people on one record -----------------------------------------------------------------


def beat(desk, record: str, revision: int, **more):
    return desk.post("/together", record=record, revision=str(revision), **more).text


def test_one_sees_who_else_has_the_record_open_and_who_saved_it(desk):
    desk.begin()
    record, revision = f"work/{desk.ferry}", desk.revision(desk.ferry)
    other = second_person(desk)
    assert "open too" not in beat(desk, record, revision)
    assert "Nell Quince has this open too" in beat(other, record, revision)
    assert "Tobias Vell has this open too" in beat(desk, record, revision)
    assert "open too" not in beat(desk, f"work/{desk.low_water}", 2)

    kept = desk.studio.read(record)
    added = replace(
        kept.record, titles=(*kept.record.titles, Title(text="Ebb", kind="title/former"))
    )
    desk.studio.save(added, who=f"party/{desk.member}", read=kept)
    assert "Saved by Nell Quince" in beat(other, record, revision)
    assert "You saved it on another page" in beat(desk, record, revision)
    # what a page saved itself, without being loaded again, is no news to it; what others saved is
    assert "saved-since" not in beat(desk, record, revision, own=str(revision + 1))
    assert "saved-since" in beat(desk, record, revision, own=f"{revision + 2} x {'9' * 5000}")
    desk.studio.save(
        replace(added, medium="oil on panel"),
        who=f"party/{desk.member}",
        read=desk.studio.read(record),
    )
    assert "Saved by Nell Quince" in beat(other, record, revision, own=str(revision + 2))
    assert "saved-since" not in beat(
        other, record, revision, own=f"{revision + 1} {revision + 2}"
    )
    assert "Saved by" not in beat(other, record, revision + 2)

    beat(desk, record, revision, leave="yes")
    assert "open too" not in beat(other, record, revision + 1)


def test_a_page_that_is_silent_for_a_minute_counts_as_closed():
    now = [0.0]
    present = Present(clock=lambda: now[0])
    present.say("work/1", "Nell")
    now[0] = FORGOTTEN_AFTER - 1
    assert present.say("work/1", "Tobias") == ["Nell"]
    now[0] = FORGOTTEN_AFTER + 1
    assert present.say("work/1", "Tobias") == []


def test_a_visitor_without_a_name_sees_but_is_not_seen(desk):
    record = f"work/{desk.ferry}"
    stranger = replace(desk, client=desk.app.test_client())
    assert "open too" not in beat(stranger, record, 1)
    desk.begin()
    assert "open too" not in beat(desk, record, 1)
    assert "Nell Quince has this open too" in beat(stranger, record, 1)


@pytest.mark.parametrize(
    "record", ["", "work/../x", "reference/7", "work/<b>", "work/" + "0" * 36]
)
def test_nothing_is_said_of_what_is_no_record(desk, record):
    desk.begin()
    assert "Saved" not in beat(desk, record, 1)
