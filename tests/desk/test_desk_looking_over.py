"""What is open about a work, on a page of its own."""

from __future__ import annotations

from uuid import UUID

from markupsafe import escape

from catalogue.checking import Remark
from catalogue.linked.documents import FORMAT
from catalogue.linked.text import parse, write
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
    assert "Nothing in what is recorded contradicts itself" in shown


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


def test_how_a_record_is_written_down_comes_after_the_rest_once_and_then_with_it(desk):
    (kept, *_) = desk.studio.all(Work)
    page = f"/work/{kept.record.id}/open"
    first = desk.client.get(page).text
    assert f'data-later="{page}/written"' in first
    for each in desk.studio.check(kept.document_id, shapes=False):
        assert str(escape(each.says)) in first
    piece = desk.client.get(f"{page}/written").text
    assert "nothing is to be said of it" in piece
    assert "data-later" not in desk.client.get(page).text


def test_what_is_wrong_in_how_it_is_written_down_is_told_in_the_piece_and_on_the_whole_page(
    desk,
):
    (kept, *_) = desk.studio.all(Work)
    document = parse(desk.studio.ledger.read(kept.document_id).body)
    document["carries"] = [*document.get("carries", ()), {"id": "no address", "type": "Place"}]
    with desk.studio.ledger.change(who="Nell", why="by hand", written_in=FORMAT) as change:
        change.save(kept.document_id, write(document), expected=kept.revision)
    known = desk.studio.check(kept.document_id, shapes=False)
    page = f"/work/{kept.record.id}/open"
    assert "is no address" not in desk.client.get(page).text
    piece = desk.client.get(f"{page}/written").text
    whole = desk.client.get(f"{page}?whole=yes").text
    added = [each for each in desk.studio.check(kept.document_id) if each not in known]
    assert any("is no address" in each.says for each in added)
    for each in added:
        assert str(escape(each.says)) in piece
        assert str(escape(each.says)) in whole
    for each in known:
        assert str(escape(each.says)) in whole


def test_without_script_a_link_shows_all_of_it(desk):
    (kept, *_) = desk.studio.all(Work)
    page = f"/work/{kept.record.id}/open"
    assert f'href="{page}?whole=yes"' in desk.client.get(page).text
    whole = desk.client.get(f"{page}?whole=yes").text
    assert "data-later" not in whole
    for each in desk.studio.check(kept.document_id):
        assert str(escape(each.says)) in whole
