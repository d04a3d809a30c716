"""The pages of borders, of how long what is kept, and of everything on one person."""

from __future__ import annotations

from desk_studio import PRIVATE


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


def test_everything_on_one_person_stands_on_one_page(desk):
    job = desk.studio.read(f"job/{desk.job}").record
    told = desk.client.get(f"/people/{job.client.partition('/')[2]}/everything").text
    assert PRIVATE in told  # the contact's own note: it is for them
    assert f"/jobs/{desk.job}" in told
    assert desk.client.get(f"/people/{desk.artist}").text.count("/everything") == 1
