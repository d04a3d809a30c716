"""The pages of borders, of how long what is kept, and of everything on one person."""

from __future__ import annotations

import re
from dataclasses import replace

from desk_studio import PRIVATE

from catalogue.linked.documents import FORMAT, to_jsonld
from catalogue.linked.text import write
from catalogue.lists import PAGE
from catalogue.measure import Day
from catalogue.record import Item, Job, new_id


def test_the_page_of_borders_answers_and_tells_what_was_typed_wrongly(desk):
    page = f"/work/{desk.low_water}/send/borders"
    told = desk.client.get(f"{page}?leaves=be&goes_to=us&value=200000+EUR").text
    assert "116/2009" in told
    assert "not legal advice" in told
    assert "It is 1" in told  # its age
    for wrong in ("value=plenty", "on=soon", "leaves=Belgium"):
        answer = desk.client.get(f"{page}?{wrong}")
        assert answer.status_code == 200
        assert 'role="alert"' in answer.text


def test_a_record_is_held_and_let_go(desk):
    desk.begin()
    held = desk.post("/kept", record=f"job/{desk.job}", why="a claim about the frame")
    assert held.status_code == 303
    assert "a claim about the frame" in desk.client.get("/kept").text
    desk.post("/kept", record=f"job/{desk.job}", let_go="yes")
    assert "Nothing is held." in desk.client.get("/kept").text


def test_a_hold_without_a_reason_is_refused_in_words(desk):
    desk.begin()
    answer = desk.post("/kept", record=f"job/{desk.job}", why=" ")
    assert answer.status_code == 422
    assert "held for a reason" in answer.text


def test_a_long_list_of_what_is_due_is_told_a_page_at_a_time_and_nothing_is_missing(desk):
    gone = Item(work=f"work/{desk.low_water}", came=Day(2001, 1, 5), left=Day(2001, 3, 1))
    kept = Item(work=f"work/{desk.low_water}", came=Day(2026, 1, 5), left=Day(2026, 3, 1))
    with desk.studio.ledger.change(who="bench", why="many jobs", written_in=FORMAT) as change:
        for number in range(PAGE + 5):
            for series, item in (("J2001", gone), ("J2026", kept)):
                job = Job(
                    number=f"{series}-{number + 100}",
                    reason="reason/treatment",
                    items=(replace(item, id=new_id()),),
                )
                change.save(job.document, write(to_jsonld(job)), expected=None)

    def named(address, series):
        return re.findall(rf">({series}-[0-9]+)</a>", desk.client.get(address).text)

    first, second = (named(f"/kept?page={page}", "J2001") for page in (1, 2))
    assert (len(first), len(second), len({*first, *second})) == (PAGE, 5, PAGE + 5)
    first, second = (named(f"/kept/later?page={page}", "J2026") for page in (1, 2))
    assert (len(first), len(second), len({*first, *second})) == (PAGE, 5, PAGE + 5)
    assert 'href="/kept/later"' in desk.client.get("/kept").text
    assert named("/kept/later", "J2001") == []


def test_everything_on_one_person_stands_on_one_page(desk):
    job = desk.studio.read(f"job/{desk.job}").record
    told = desk.client.get(f"/people/{job.client.partition('/')[2]}/everything").text
    assert PRIVATE in told  # the contact's own note: it is for them
    assert f"/jobs/{desk.job}" in told
    assert desk.client.get(f"/people/{desk.artist}").text.count("/everything") == 1
