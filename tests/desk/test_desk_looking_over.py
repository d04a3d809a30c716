"""What is open about a work, on a page of its own."""

from __future__ import annotations

from uuid import UUID

from catalogue.checking import Remark
from catalogue.record import Work


def test_the_folder_leads_to_what_is_open(desk):
    (kept, *_) = desk.studio.all(Work)
    folder = desk.client.get(f"/work/{kept.record.id}").get_data(as_text=True)
    assert f'href="/work/{kept.record.id}/open"' in folder


def test_every_remark_is_shown_under_its_kind(desk):
    (kept, *_) = desk.studio.all(Work)
    page = desk.client.get(f"/work/{kept.record.id}/open")
    shown = page.get_data(as_text=True)
    assert page.status_code == 200
    for each in desk.studio.check(kept.document_id):
        assert isinstance(each, Remark)
        assert f'id="{each.kind}"' in shown
    assert "the conservator decides" in shown


def test_a_work_of_which_nothing_is_to_be_said(desk):
    work = Work()
    desk.studio.save(work, who="Nell")
    shown = desk.client.get(f"/work/{work.id}/open").get_data(as_text=True)
    assert "Nothing: it contradicts itself nowhere" in shown


def test_one_that_was_merged_leads_to_the_one_that_answers_for_it(desk):
    old, new = Work(), Work()
    for work in (old, new):
        desk.studio.save(work, who="Nell")
    desk.studio.merge(old.document, new.document, who="Nell", why="the same")
    page = desk.client.get(f"/work/{old.id}/open")
    assert page.status_code == 302
    assert page.headers["Location"].endswith(f"/work/{new.id}/open")


def test_an_unknown_work_is_not_found(desk):
    assert desk.client.get(f"/work/{UUID(int=7)}/open").status_code == 404
