"""A work's folder: each small form changes its one fact, and two people see each other's changes."""

from __future__ import annotations

import pytest


def save(desk, fact, **fields):
    desk.begin()
    fields.setdefault("revision", desk.revision(desk.low_water))
    answer = desk.post(f"/work/{desk.low_water}/{fact}", **fields)
    return answer, desk.work(desk.low_water)


def test_a_title_is_added_and_shown_instead_of_the_old_one(desk):
    answer, work = save(
        desk, "title", text="Ebb at Porthmellow", kind="title/inscribed", preferred="yes"
    )
    assert answer.status_code == 302
    assert work.title() == "Ebb at Porthmellow"
    assert sum(title.preferred for title in work.titles) == 1
    assert len(work.titles) == 3


def test_a_title_is_changed_in_place(desk):
    first = desk.work(desk.low_water).titles[0]
    _, work = save(
        desk, "title", value=first.id, text="Low Waters", kind=first.kind, preferred="yes"
    )
    assert [title.text for title in work.titles if title.id == first.id] == ["Low Waters"]
    assert len(work.titles) == 2


def test_a_title_is_taken_away_but_stays_in_the_history(desk):
    former = desk.work(desk.low_water).titles[1]
    revision = desk.revision(desk.low_water)
    _, work = save(desk, "title", value=former.id, remove="yes")
    assert former.id not in {title.id for title in work.titles}
    assert desk.studio.read(work.document, revision).record.titles[1] == former


def test_made_is_read_as_one_would_write_it(desk):
    _, work = save(desk, "made", made="before 1907")
    assert work.made.latest.iso == "1906-12-31"


def test_a_date_that_is_none_is_refused_with_the_reason(desk):
    answer, work = save(desk, "made", made="31 February 1900")
    assert answer.status_code == 422
    assert "there is no day 1900-02-31" in answer.text
    assert work.made.written == "c. 1887"


def test_medium_and_materials(desk):
    _, work = save(
        desk, "medium", medium="oil on canvas", materials=["material/canvas", "material/oil-paint"],
        offered=["material/canvas", "material/oil-paint", "material/oak"],
    )  # fmt: skip
    assert work.medium == "oil on canvas"
    assert work.materials == ("material/canvas", "material/oil-paint")


def test_an_attribution_names_somebody_who_becomes_a_party(desk):
    _, work = save(
        desk,
        "attribution",
        qualifier="qualifier/after",
        artist="Ivo Brandreth",
        said_by="Nell Quince",
    )
    new = next(each for each in work.attributions if each.qualifier == "qualifier/after")
    assert desk.studio.name_of(new.artist) == "Ivo Brandreth"
    assert new.said_by == f"party/{desk.member}"


def test_only_the_unknown_maker_goes_without_a_name(desk):
    answer, _ = save(desk, "attribution", qualifier="qualifier/by")
    assert answer.status_code == 422
    answer, work = save(desk, "attribution", qualifier="qualifier/unknown")
    assert answer.status_code == 302
    assert any(each.artist is None for each in work.attributions)


def test_a_size_takes_a_comma_and_keeps_who_measured(desk):
    _, work = save(desk, "size", what="size/framed", height_mm="700,5", width_mm="812")
    framed = next(each for each in work.sizes if each.what == "size/framed")
    assert (framed.height_mm, framed.width_mm) == (700.5, 812)
    assert framed.by == f"party/{desk.member}"


@pytest.mark.parametrize("typed", ["wide", "nan", "inf", "1e999", "-5"])
def test_a_size_that_is_no_size_is_refused(desk, typed):
    answer, _ = save(desk, "size", what="size/framed", height_mm=typed)
    assert answer.status_code == 422


def test_a_note_stays_home_until_its_very_text_is_released(desk):
    note = next(
        each for each in desk.work(desk.low_water).notes if each.visibility == "visibility/open"
    )
    _, work = save(desk, "release", value=note.id)
    released = next(each for each in work.notes if each.id == note.id)
    assert released.may_leave
    assert released.released.by == "Nell Quince"
    _, work = save(
        desk,
        "note",
        value=note.id,
        text="Bought from a cellar.",
        kind=note.kind,
        visibility=note.visibility,
    )
    assert not next(each for each in work.notes if each.id == note.id).may_leave


def test_changes_to_different_facts_are_joined(desk):
    revision = desk.revision(desk.low_water)
    save(desk, "made", made="1890", revision=revision)
    answer, work = save(desk, "medium", medium="oil on panel", revision=revision)
    assert answer.status_code == 302
    assert (work.made.written, work.medium) == ("1890", "oil on panel")


def test_the_same_fact_changed_twice_shows_both_and_lets_the_second_decide(desk):
    revision = desk.revision(desk.low_water)
    title = desk.work(desk.low_water).titles[0]
    fields = {"value": title.id, "kind": title.kind, "preferred": "yes", "revision": revision}
    save(desk, "title", text="Ebb", **fields)
    answer, work = save(desk, "title", text="Flood", **fields)
    assert answer.status_code == 409
    assert "Ebb" in answer.text
    assert "Flood" in answer.text
    assert work.title() == "Ebb"
    answer, work = save(
        desk, "title", text="Flood", **{**fields, "revision": desk.revision(desk.low_water)}
    )
    assert work.title() == "Flood"


@pytest.mark.parametrize("revision", ["", "0", "x", "-1", "99"])
def test_a_form_from_nowhere_is_refused(desk, revision):
    answer, _ = save(desk, "made", made="1900", revision=revision)
    assert answer.status_code in (404, 422)


def test_the_history_says_who_and_why(desk):
    save(desk, "made", made="1890")
    page = desk.client.get(f"/work/{desk.low_water}").text
    assert "made of 2026-001" in page or "made of" in page
    assert "Nell Quince" in page
