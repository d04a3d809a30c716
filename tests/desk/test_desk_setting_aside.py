"""Setting a record aside at the desk: told in numbers, with a reason, and back again."""

from __future__ import annotations

import json

import pytest

from catalogue.record import Attribution, Party, PartyName, Title, Work

PANS = {
    "@context": "https://linked.art/ns/v1/linked-art.json",
    "id": "https://museum.example/object/77",
    "type": "HumanMadeObject",
    "_label": "<i>The Salt Pans</i>",
    "identified_by": [{"type": "Name", "content": "The Salt Pans"}],
    "produced_by": {
        "type": "Production",
        "carried_out_by": [
            {"id": "https://museum.example/person/3", "type": "Person", "_label": "M. Orr"}
        ],
    },
}


def aside(desk, act, path, **fields):
    desk.begin()
    return desk.post(f"{path}/aside/{act}", **fields)


@pytest.fixture
def twin(desk):
    """A second record of the artist, by whom another work is said to be."""
    names = (PartyName(text="A. J. Penhale", preferred=True),)
    kept = desk.studio.save(
        Party(kind="person", names=names, roles=("role/dealer",)), who="Nell Quince"
    )
    said = Attribution(artist=kept.document_id, preferred=True)
    title = Title(text="Skiffs", kind="title/given", preferred=True)
    desk.studio.save(Work(titles=(title,), attributions=(said,)), who="Nell Quince")
    return kept.record.id


def test_a_work_set_aside_is_off_the_bench_and_its_page_says_so(desk):
    path = f"/work/{desk.ferry}"
    assert "The Ferry at Dawn" in desk.client.get("/").text
    assert aside(desk, "withdraw", path, why="entered twice").status_code == 302
    assert "The Ferry at Dawn" not in desk.client.get("/").text
    assert "The Ferry at Dawn" not in desk.client.get("/find?q=ferry").text
    page = desk.client.get(path).text
    for words in ("Set aside", "Nell Quince", "entered twice", "Take it back into the lists"):
        assert words in page
    aside(desk, "reinstate", path, why="it was not")
    assert "The Ferry at Dawn" in desk.client.get("/").text


def test_a_merge_is_shown_done_and_undone(desk, twin):
    old, new = f"/people/{twin}", f"/people/{desk.artist}"
    page = desk.client.get(f"{old}/aside?into=Ada Penhale").text
    for words in (
        "Ada Penhale</b> will answer",
        "<b>1</b> record will",
        "dealer",
        "A. J. Penhale",
    ):
        assert words in page
    answer = aside(desk, "merge", old, into="Ada Penhale", why="one and the same")
    assert answer.headers["Location"].endswith(new)
    assert desk.client.get(old).headers["Location"].endswith(new)
    assert desk.client.get(f"{old}/aside").headers["Location"].endswith(f"{new}/aside")
    assert "It answers for" in desk.client.get(new).text
    found = desk.client.get("/find?q=skiffs").text
    assert "Ada Penhale" in found
    answer = aside(desk, "unmerge", new, old=f"party/{twin}", why="mother and daughter")
    assert answer.headers["Location"].endswith(old)
    assert desk.client.get(old).status_code == 200


def test_forgetting_wants_a_typed_word(desk):
    path = f"/people/{desk.artist}"
    page = desk.client.get(f"{path}/aside").text
    assert "<b>1</b> state loses the text" in page
    assert "<b>1</b> work will show the pseudonym" in page
    answer = aside(desk, "forget", path, why="asked", pseudonym="N.N.", confirm="yes")
    assert answer.status_code == 422
    assert "was not typed" in answer.text
    assert "Ada Penhale" in desk.client.get(path).text
    aside(desk, "forget", path, why="asked", pseudonym="N.N.", confirm="Forget")
    assert "Ada Penhale" not in desk.client.get(path).text
    assert "N.N." in desk.client.get(f"/work/{desk.low_water}").text


def test_of_a_work_what_it_used_to_say_is_forgotten(desk):
    path = f"/work/{desk.low_water}"
    assert "Forget what it used to say" in desk.client.get(f"{path}/aside").text
    aside(desk, "forget", path, why="a name in a note", confirm="forget")
    assert "a name in a note" in desk.client.get(f"{path}/history").text
    assert desk.work(desk.low_water).title() == "Low Water"


@pytest.mark.parametrize(
    ("act", "fields", "words"),
    [
        ("withdraw", {}, "needs a reason"),
        ("reinstate", {"why": "x"}, "is not set aside"),
        ("merge", {"why": "x", "into": "nobody"}, "is called"),
        ("merge", {"why": "x", "into": "Ada Penhale"}, "not of one kind"),
        ("unmerge", {"why": "x", "old": "work/x"}, "not on file"),
        ("burn", {"why": "x"}, "no such way"),
    ],
)
def test_what_cannot_be_is_refused_in_words(desk, act, fields, words):
    answer = aside(desk, act, f"/work/{desk.ferry}", **fields)
    assert answer.status_code in (404, 422)
    assert words in answer.text


@pytest.fixture
def pans(desk, tmp_path):
    """A museum's record, as it was imported; its page."""
    (tmp_path / "pans.json").write_text(json.dumps(PANS))
    list(desk.studio.import_([tmp_path / "pans.json"], who="Nell Quince"))
    return "/" + desk.studio.at(PANS["id"])


def test_somebody_elses_record_is_a_page_of_statements(desk, pans):
    page = desk.client.get(pans).text
    for words in (
        "The Salt Pans",
        "produced by",
        "M. Orr",
        PANS["id"],
        "pans.json",
        "Make this a work",
    ):
        assert words in page
    assert "<i>The Salt" not in page
    assert pans in desk.client.get("/find?q=salt+pans").text
    assert "Make this" not in desk.client.get(f"/reference/{desk.reference}").text


def test_it_is_made_a_work_and_its_old_page_leads_there(desk, pans):
    desk.begin()
    assert desk.post(f"{pans}/adopt", why=" ").status_code == 422
    answer = desk.post(f"{pans}/adopt", why="it came for cleaning")
    work = answer.headers["Location"]
    assert work.startswith("/work/")
    assert desk.client.get(pans).headers["Location"].endswith(work)
    page = desk.client.get(work).text
    assert "The Salt Pans" in page
    assert "M. Orr" in page, "a maker who is not on file is named as it came"
    assert desk.post(f"{pans}/adopt", why="again").status_code == 422
