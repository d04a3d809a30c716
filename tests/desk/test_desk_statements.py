"""What a reading says: shown beside its text, decided by buttons, never asked twice, kept with who and when."""

from __future__ import annotations

import html
import re
from dataclasses import replace

import pytest
from desk_studio import HOSTILE

from catalogue.record import Inscription, Transcript

MARKUP = f"@p Lot @h 3_8|{HOSTILE} [[12 gns]] £31.10 [---]|No. 7"


@pytest.fixture
def mark(desk):
    """The id of a label with a lot number, a price struck out, another, and a number."""
    desk.begin()
    label = Inscription(
        kind="inscription/label",
        face="face/back",
        transcripts=(Transcript(markup=MARKUP, preferred=True),),
    )
    changed(desk, lambda work: replace(work, inscriptions=(*work.inscriptions, label)))
    return label.id


def changed(desk, change):
    kept = desk.studio.read(f"work/{desk.low_water}")
    return desk.studio.save(change(kept.record), who="Nell Quince", read=kept)


def page(desk, mark):
    return desk.client.get(f"/work/{desk.low_water}/read/{mark}").text


def words(text):
    section = text.partition('<section class="slip" id="statements"')[2].partition(
        "</section>"
    )[0]
    heard = re.sub(r"<select.*?</select>", "", section, flags=re.DOTALL)
    return " ".join(html.unescape(re.sub(r"<[^>]+>", " ", heard)).split())


def key(desk, mark, written):
    """What the form of an open statement names it by."""
    rows = page(desk, mark).split('<li class="statement')[1:]
    (row,) = [each for each in rows if f">{html.escape(written)}<" in each]
    return html.unescape(re.search('name="statement" value="([^"]+)"', row)[1])


def decide(desk, mark, written, decision, revision=None, statement=None, **more):
    return desk.post(
        f"/work/{desk.low_water}/read/{mark}/statements",
        revision=revision or desk.revision(desk.low_water),
        statement=statement or key(desk, mark, written),
        decision=decision if decision == "open" else f"standing/{decision}",
        **more,
    )


def kept(desk, mark):
    return desk.work(desk.low_water).inscription(mark).statements


def test_the_statements_stand_beside_the_letters_they_rest_on(desk, mark):
    text = page(desk, mark)
    heard = words(text)
    assert "4 to decide" in heard
    assert "number Lot 38 → comes to 38" in heard
    assert "a letter of it is doubtful" in heard
    assert "price 12 gns → comes to 12.6 GBP" in heard
    assert "struck out" in heard
    assert "a lost part stands beside it" in heard
    assert HOSTILE not in text
    marked = re.findall(r'<mark data-numbers="(\d)">(.*?)</mark>', text, re.DOTALL)
    letters: dict[str, str] = {}
    for number, piece in marked:
        letters[number] = letters.get(number, "") + re.sub("<[^>]+>", "", piece)
    assert letters == {"1": "Lot 38", "2": "12 gns", "3": "£31.10", "4": "No. 7"}


def test_accepted_it_is_kept_with_who_and_when_and_not_asked_again(desk, mark):
    answer = decide(desk, mark, "£31.10", "accepted")
    assert answer.headers["Location"].endswith(f"/read/{mark}#statements")
    (price,) = kept(desk, mark)
    assert (price.kind, price.value) == ("statement/money", "31.1 GBP or 31.5 GBP")
    assert (price.by, price.on) == (f"party/{desk.member}", desk.studio.today())
    assert MARKUP[price.start : price.end] == "£31.10"
    heard = words(page(desk, mark))
    assert "accepted by Nell Quince" in heard
    assert "3 to decide" in heard


def test_the_folder_says_what_was_accepted_and_nothing_that_was_rejected(desk, mark):
    decide(desk, mark, "£31.10", "accepted")
    decide(desk, mark, "No. 7", "rejected")
    folder = desk.client.get(f"/work/{desk.low_water}").text
    heard = " ".join(html.unescape(re.sub("<[^>]+>", " ", folder)).split())
    assert "says price £31.10 (31.1 GBP or 31.5 GBP)" in heard
    assert "31.5 GBP), number" not in heard


def test_the_history_says_it_in_words(desk, mark):
    decide(desk, mark, "£31.10", "accepted")
    told = desk.client.get(f"/work/{desk.low_water}/history").text
    number = desk.work(desk.low_water).inscription(mark).number
    assert f"price “£31.10” accepted on {number}" in html.unescape(told)
    _, (last, *_) = desk.studio.retold(f"work/{desk.low_water}")
    (change,) = last.changes
    assert change.what == f"statement (price) of inscription {number}"
    said = {each.label: each.after for each in change.fields}
    assert said["as written"] == "£31.10"
    assert said["standing"] == "accepted"
    assert said["decided by"] == "Nell Quince"
    assert said["in the reading"] == f"reading of inscription {number}"


def test_rejected_it_is_not_asked_again_in_a_further_reading_either(desk, mark):
    decide(desk, mark, "Lot 38", "rejected")
    heard = words(page(desk, mark))
    assert "3 to decide" in heard
    assert "1 rejected" in heard
    desk.post(
        f"/work/{desk.low_water}/read/{mark}", revision=desk.revision(desk.low_water),
        kind="inscription/label", face="face/back", preferred="yes", markup="LOT 38 Nr. 7",
    )  # fmt: skip
    heard = words(page(desk, mark))
    assert "1 to decide" in heard
    assert "1 decided in another reading" in heard


def test_a_correction_says_what_it_is_and_what_it_comes_to(desk, mark):
    decide(
        desk, mark, "No. 7", "corrected", kind="statement/address", value="7, Gannet Steps",
        note="As on I1.", visibility="visibility/restricted",
    )  # fmt: skip
    (address,) = kept(desk, mark)
    assert (address.kind, address.value) == ("statement/address", "7, Gannet Steps")
    assert [each.text for each in address.notes] == ["As on I1."]
    assert address.visibility == "visibility/restricted"
    assert "address No. 7 → comes to 7, Gannet Steps corrected by Nell Quince" in words(
        page(desk, mark)
    )


def test_a_correction_that_says_nothing_is_refused(desk, mark):
    answer = decide(desk, mark, "No. 7", "corrected", kind="statement/number", value=" ")
    assert answer.status_code == 422
    assert "a correction says what is right" in html.unescape(answer.text)
    assert kept(desk, mark) == ()


def test_a_decision_can_be_opened_again(desk, mark):
    decide(desk, mark, "No. 7", "rejected")
    (rejected,) = kept(desk, mark)
    decide(desk, mark, "", "open", statement=rejected.id)
    assert kept(desk, mark) == ()
    assert "4 to decide" in words(page(desk, mark))
    assert decide(desk, mark, "", "open", statement=rejected.id).status_code == 404


@pytest.mark.parametrize(
    ("statement", "decision", "status"),
    [("0-99-statement/date", "accepted", 404), ("", "rejected", 404), (None, "pending", 422)],
)
def test_what_is_not_found_there_or_is_no_decision_is_refused(
    desk, mark, statement, decision, status
):
    named = key(desk, mark, "No. 7") if statement is None else statement or "nothing"
    assert decide(desk, mark, "", decision, statement=named).status_code == status
    assert kept(desk, mark) == ()


def test_two_who_decide_otherwise_about_the_same_letters_are_told(desk, mark):
    named, seen = key(desk, mark, "No. 7"), desk.revision(desk.low_water)
    decide(desk, mark, "", "rejected", statement=named, revision=seen)
    answer = decide(desk, mark, "", "accepted", statement=named, revision=seen)
    assert answer.status_code == 409
    assert [each.standing for each in kept(desk, mark)] == ["standing/rejected"]
    decide(desk, mark, "", "accepted", statement=named)  # as the page with both sides offers it
    assert [each.standing for each in kept(desk, mark)] == ["standing/accepted"]


def test_two_who_decide_about_different_letters_are_joined(desk, mark):
    lot, number = key(desk, mark, "Lot 38"), key(desk, mark, "No. 7")
    seen = desk.revision(desk.low_water)
    decide(desk, mark, "", "rejected", statement=lot, revision=seen)
    decide(desk, mark, "", "accepted", statement=number, revision=seen)
    assert {each.written: each.standing for each in kept(desk, mark)} == {
        "Lot 38": "standing/rejected",
        "No. 7": "standing/accepted",
    }


def test_with_a_reading_that_is_set_aside_go_its_statements(desk, mark):
    decide(desk, mark, "No. 7", "accepted")
    (reading,) = desk.work(desk.low_water).inscription(mark).transcripts
    desk.post(
        f"/work/{desk.low_water}/read/{mark}/aside", revision=desk.revision(desk.low_water),
        transcript=reading.id, why="of another label",
    )  # fmt: skip
    assert kept(desk, mark) == ()
    assert desk.work(desk.low_water).inscription(mark).transcripts == ()


@pytest.mark.parametrize(
    ("readings", "said"),
    [((), ""), ((Transcript(markup="[---] /* Lot 38 */"),), "No date, price, name")],
)
def test_where_nobody_read_or_nothing_is_recognised_nothing_is_asked(
    desk, mark, readings, said
):
    blank = Inscription(kind="inscription/label", face="face/back", transcripts=readings)
    changed(desk, lambda work: replace(work, inscriptions=(*work.inscriptions, blank)))
    assert ('id="statements"' in page(desk, blank.id)) is bool(said)
    assert said in words(page(desk, blank.id))
