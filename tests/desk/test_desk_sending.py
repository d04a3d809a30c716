"""Sending: what leaves is what the profile lists, and what stays home is shown before."""

from __future__ import annotations

import io
import json
import zipfile
from dataclasses import replace

import pytest
from desk_studio import PRIVATE
from photos.photo_files import saved, scene
from PIL import Image

from catalogue import sent
from catalogue.desk.under_way import ERRANDS
from catalogue.record import Inscription, Item, Job, Party, PartyName, Transcript


def parcel(answer) -> dict[str, bytes]:
    assert answer.status_code == 200
    assert answer.mimetype == "application/zip"
    content = answer.data
    answer.close()
    with zipfile.ZipFile(io.BytesIO(content)) as packed:
        assert packed.testzip() is None
        return {name: packed.read(name) for name in packed.namelist()}


def test_the_page_offers_every_format_and_profile_with_its_sentence(desk):
    page = desk.client.get(f"/work/{desk.low_water}/send").text
    for says in (*desk.studio.formats().values(), *desk.studio.profiles().values()):
        assert says.replace("'", "&#39;") in page


def test_what_stays_home_is_shown_before_anything_leaves(desk):
    page = desk.client.get(f"/work/{desk.low_water}/send").text
    assert "nobody has released this text" in page
    page = desk.client.get(f"/work/{desk.low_water}/send?profile=full&format=full-graph").text
    assert "Nothing stays home" in page


@pytest.mark.parametrize("format_name", ["linked-art", "full-graph"])
def test_a_public_parcel_holds_nothing_confidential(desk, format_name):
    desk.begin()
    answer = desk.post(f"/work/{desk.low_water}/send", format=format_name, profile="public")
    files = parcel(answer)
    assert f"2026-001-{format_name}-public.zip" in answer.headers[
        "Content-Disposition"
    ].replace(str(desk.studio.today().year), "2026")
    written = b"".join(
        content for name, content in files.items() if name.endswith(".json")
    ).decode()
    assert "Low Water" in written
    for secret in ("cellar", "Quillan", PRIVATE, "lift the tape", "Nell Quince"):
        assert secret not in written
    for name, content in files.items():
        if name.endswith(".json"):
            json.loads(content)


def test_all_works_leave_in_one_parcel(desk):
    desk.begin()
    begun = desk.post("/send", format="full-graph", profile="public")
    assert begun.status_code == 303
    desk.app.extensions[ERRANDS].wait()
    page = desk.client.get(begun.headers["Location"]).text
    assert "Fetch all-works-full-graph-public.zip" in page
    names = parcel(desk.client.get(begun.headers["Location"] + "/file"))
    assert f"work-{desk.low_water}.json" in names
    assert f"work-{desk.ferry}.json" in names


def test_looking_first_sends_nothing(desk):
    answer = desk.post(
        f"/work/{desk.low_water}/send", format="full-graph", profile="owner", look="yes"
    )
    assert answer.status_code == 303
    assert answer.headers["Location"].endswith("/send?format=full-graph&profile=owner")


@pytest.mark.parametrize(
    "asked", ["format=fax&profile=public", "format=linked-art&profile=press"]
)
def test_an_unknown_format_or_profile_is_refused(desk, asked):
    answer = desk.client.get(f"/work/{desk.low_water}/send?{asked}")
    assert answer.status_code == 422
    assert "Choose one of" in answer.text


def test_nobody_at_work_sends_nothing(desk):
    answer = desk.post("/send", format="full-graph", profile="public")
    assert answer.status_code == 302
    assert desk.studio.exports() == ()


def test_what_was_sent_is_put_down_with_who_and_to_whom(desk):
    desk.begin()
    parcel(
        desk.post(
            f"/work/{desk.low_water}/send",
            format="full-graph",
            profile="public",
            recipient="Harbour House",
            reason="for their wall text",
        )
    )
    page = desk.client.get("/sent").text
    for told in ("Harbour House", "for their wall text", "Nell Quince", "Low Water"):
        assert told in page


def test_what_leaves_and_what_stays_stand_side_by_side(desk):
    page = desk.client.get(f"/work/{desk.low_water}/send?profile=public").text
    assert "What leaves, and what stays" in page
    assert "release this text" in page
    whole = desk.client.get(f"/work/{desk.low_water}/send?profile=full&format=full-graph").text
    assert 'class="object stays"' not in whole


def test_a_profile_that_wants_a_reason_gets_none_without(desk):
    desk.begin()
    told = desk.client.get(f"/work/{desk.low_water}/send?profile=authority").text
    assert "Only the owner of the studio decides" in told
    answer = desk.post(f"/work/{desk.low_water}/send", format="full-graph", profile="authority")
    assert answer.status_code == 422
    assert "without a reason" in answer.text


def test_a_question_chooses_the_works(desk):
    desk.begin()
    page = desk.client.get("/send?q=Low+Water").text
    assert "<strong>1 found</strong>" in page
    names = parcel(desk.post("/send", format="full-graph", profile="public", q="Low Water"))
    assert f"work-{desk.low_water}.json" in names
    assert f"work-{desk.ferry}.json" not in names


def test_a_name_that_is_found_is_shown_and_can_be_let_through_once(desk):
    desk.begin()
    client = desk.studio.read(desk.studio.read(f"job/{desk.job}").record.client).record.name()
    read = desk.studio.read(f"work/{desk.low_water}")
    inscription = read.record.inscriptions[0]
    reading = Transcript(markup=f"lent by {client}", preferred=True)
    changed = replace(inscription, transcripts=(reading,), statements=())
    others = tuple(each for each in read.record.inscriptions if each.id != inscription.id)
    desk.studio.save(
        replace(read.record, inscriptions=(changed, *others)), who="Nell Quince", read=read
    )
    sent = {"format": "full-graph", "profile": "public"}
    refused = desk.post(f"/work/{desk.low_water}/send", **sent)
    assert refused.status_code == 422
    assert "It may not leave like this" in refused.text
    assert client in refused.text
    assert desk.studio.exports() == ()
    files = parcel(
        desk.post(
            f"/work/{desk.low_water}/send",
            allow=client,
            because="it stands on the label",
            **sent,
        )
    )
    assert client in files[f"work-{desk.low_water}.json"].decode()
    assert desk.studio.exports()[0].allowed == {client: "it stands on the label"}
    # once means once
    assert desk.post(f"/work/{desk.low_water}/send", **sent).status_code == 422


def test_a_parcel_is_sent_as_it_is(desk):
    desk.begin()
    files = parcel(desk.post(f"/work/{desk.low_water}/send", format="parcel", profile="public"))
    assert any(name.endswith("bagit.txt") for name in files)


@pytest.mark.parametrize(("which", "sent"), [("all", 2), ("none", 0)])
def test_a_sender_chooses_the_photographs_of_a_parcel(desk, which, sent):
    desk.begin()
    for number in range(2):
        kept = desk.studio.work(f"work/{desk.low_water}")
        content = saved(scene(400 + number, 300), "JPEG")
        desk.studio.add_photo(
            kept, content, name="a.jpg", who="A. Conservator", face="face/back"
        )
    asked = {"format": "parcel", "profile": "public", "pictures": which, "longest": "200"}
    files = parcel(desk.post(f"/work/{desk.low_water}/send", **asked))
    copies = [files[name] for name in files if "/pictures/" in name and name.endswith(".jpg")]
    assert len(copies) >= sent
    assert bool(copies) is bool(sent)
    for each in copies:
        with Image.open(io.BytesIO(each)) as picture:
            assert max(picture.size) <= 200


def test_what_was_chosen_of_photographs_stays_chosen_while_somebody_looks_first(desk):
    asked = {"format": "parcel", "profile": "public", "pictures": "chosen", "longest": "1200"}
    answer = desk.post(f"/work/{desk.low_water}/send", look="yes", **asked)
    page = desk.client.get(answer.headers["Location"]).text
    assert 'name="pictures" value="chosen" checked' in page
    assert 'name="longest" value="1200"' in page


@pytest.mark.parametrize(
    ("typed", "told"), [({"longest": "5"}, "Give 100"), ({"pictures": "best"}, "Choose one of")]
)
def test_a_choice_of_photographs_that_cannot_be_is_told(desk, typed, told):
    desk.begin()
    asked = {"format": "parcel", "profile": "public", **typed}
    answer = desk.post(f"/work/{desk.low_water}/send", **asked)
    assert answer.status_code == 422
    assert told in answer.text
    assert desk.studio.exports() == ()


def test_formats_without_photographs_do_not_mind_the_choice(desk):
    desk.begin()
    asked = {"format": "full-graph", "profile": "public", "pictures": "all", "longest": "2000"}
    assert parcel(desk.post(f"/work/{desk.low_water}/send", **asked))


def test_where_nothing_may_leave_the_page_does_not_say_that_something_would(desk):
    work = desk.studio.new_work(title="Second", who="Nell")
    job = Job(
        reason="reason/treatment",
        client=desk.studio.save(
            Party(kind="person", names=(PartyName(text="Orla Kettleby"),)), who="Nell"
        ).document_id,
        items=(Item(work=work.document_id),),
    )
    desk.studio.save(job, who="Nell")
    label = Inscription(
        kind="inscription/label",
        face="face/back",
        transcripts=(Transcript(markup="ORLA KETTLEBY", preferred=True),),
    )
    desk.studio.save(replace(work.record, inscriptions=(label,)), who="Nell", read=work)
    page = desk.client.get(f"/work/{work.record.id}/send").text
    assert "It may not leave like this" in page
    assert "as it is, nothing leaves" in page
    assert "Nothing stays home" not in page


def test_a_long_list_of_what_was_sent_is_told_a_page_at_a_time_the_last_first(desk):
    for number in range(45):
        sent.note(
            desk.studio.ledger, who=f"party/{desk.member}", profile="public", format="csv",
            works=(f"work/{desk.low_water}",), documents=1, files=1, recipient=f"R{number}.",
            reason="", allowed={}, digest="0" * 64,
        )  # fmt: skip
    pages = [desk.client.get(f"/sent?page={number}").text for number in (1, 2, 3)]
    assert ["R44." in pages[0], "R24." in pages[1], "R0." in pages[2]] == [True] * 3
    assert all("R25." not in each for each in pages[1:])
    assert "page 3 of 3" in pages[2]
