"""What rests on an inscription: beside it, before it is read anew, before it is taken out."""

from __future__ import annotations

from argued_back import LABEL, argued_back


def read_page(desk, back):
    return desk.client.get(f"/work/{desk.low_water}/read/{back.label}").text


def slip(desk, back, markup, **more):
    return desk.post(
        f"/work/{desk.low_water}/read/{back.label}",
        revision=desk.revision(desk.low_water),
        inscription=back.label, kind="inscription/dealer-label", face="face/back", markup=markup,
        preferred="yes", **more,
    )  # fmt: skip


def mark(desk, back):
    return desk.work(desk.low_water).inscription(back.label)


def test_what_rests_on_an_inscription_stands_beside_it_and_leads_there(desk):
    desk.begin()
    back = argued_back(desk)
    resting = read_page(desk, back).partition('id="resting"')[2].partition("</section>")[0]
    assert f'href="/work/{desk.low_water}/argue#{back.second}"' in resting
    assert "nothing else is cited for it" in resting
    assert "Shores" in resting
    assert "decided from its reading" in resting
    assert f'href="/work/{desk.low_water}/treat#{back.patch}"' in resting


def test_an_inscription_that_nothing_cites_says_so(desk):
    desk.begin()
    back = argued_back(desk)
    text = desk.client.get(f"/work/{desk.low_water}/read/{back.over}").text
    assert "No event, showing or literature cites it" in text


def test_a_reading_under_which_something_falls_is_told_before_it_is_saved(desk):
    desk.begin()
    back = argued_back(desk)
    answer = slip(desk, back, "The Lantern Room|14 Sorrel Place, Bath")
    assert answer.status_code == 422
    assert "Not saved yet: under this reading something loses its ground" in answer.text
    assert "“212” is no longer there" in answer.text
    assert "E2" in answer.text.partition('class="ask falls"')[2].partition("</section>")[0]
    assert "The Lantern Room|14 Sorrel Place, Bath" in answer.text  # what was typed stays
    assert len(mark(desk, back).transcripts) == 1
    saved = slip(desk, back, "The Lantern Room|14 Sorrel Place, Bath", known="yes")
    assert saved.status_code == 302
    assert mark(desk, back).preferred().markup.endswith("Bath")


def test_looking_at_a_reading_tells_the_same_and_saves_nothing(desk):
    desk.begin()
    back = argued_back(desk)
    answer = slip(desk, back, "The Lantern Room", look="yes")
    assert answer.status_code == 200
    assert "What this reading would change" in answer.text
    assert "Save all the same" not in answer.text
    assert len(mark(desk, back).transcripts) == 1


def test_days_that_would_be_known_otherwise_are_told(desk):
    desk.begin()
    back = argued_back(desk)
    answer = slip(desk, back, "The Lantern Room|No. 212", look="yes")
    assert "Days that would be known otherwise" in answer.text


def test_a_reading_that_takes_nothing_away_is_saved_at_once(desk):
    desk.begin()
    back = argued_back(desk)
    answer = slip(desk, back, LABEL.replace("Room", "R_oom"))
    assert answer.status_code == 302
    assert len(mark(desk, back).transcripts) == 2


def test_a_reading_that_is_not_shown_first_changes_nothing(desk):
    desk.begin()
    back = argued_back(desk)
    answer = desk.post(
        f"/work/{desk.low_water}/read/{back.label}", revision=desk.revision(desk.low_water),
        inscription=back.label, kind="inscription/dealer-label", face="face/back", markup="Bath",
    )  # fmt: skip
    assert answer.status_code == 302


def test_before_an_inscription_is_taken_out_one_sees_what_falls(desk):
    desk.begin()
    back = argued_back(desk)
    path = f"/work/{desk.low_water}/read/{back.label}/without"
    text = desk.client.get(path).text
    assert "Nothing else is cited for E2" in text
    assert "Nothing else is cited for the showing Shores" in text
    assert "“212”" in text
    refused = desk.post(path, revision=desk.revision(desk.low_water), why=" ")
    assert refused.status_code == 422
    assert "say why it is taken out" in refused.text
    done = desk.post(path, revision=desk.revision(desk.low_water), why="of another picture")
    assert done.status_code == 302
    work = desk.work(desk.low_water)
    assert back.label not in {each.id for each in work.inscriptions}
    event = work.value("provenance", back.second)
    assert [each.kind for each in event.evidence] == ["evidence/none-cited"]
    last = list(desk.studio.history(work.document))[-1]
    assert last.why == f"I2 of {work.number} taken out: of another picture"


def test_taking_out_is_for_somebody_who_works(desk):
    back = argued_back(desk)
    answer = desk.client.get(f"/work/{desk.low_water}/read/{back.label}/without")
    assert answer.status_code == 302
    assert "/who" in answer.headers["Location"]
