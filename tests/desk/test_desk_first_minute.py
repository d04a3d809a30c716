"""The first minute: an empty studio says what comes first; a sample explains itself, and can be left out."""

from __future__ import annotations

import json
import subprocess
import sys
from dataclasses import replace

import pytest

from catalogue.desk import create_app, first_minute
from catalogue.desk.under_way import ERRANDS
from catalogue.places import folder, table
from catalogue.record import Attribution, Title, Work
from catalogue.studio import Studio
from catalogue.under_way import Landing

TITLE = (Title(text="Skiffs", kind="title/given", preferred=True),)


@pytest.fixture
def sampled(desk):
    """A desk whose two works, job and artist are taken for the sample."""
    documents = [
        f"work/{desk.low_water}", f"work/{desk.ferry}", f"party/{desk.artist}", f"job/{desk.job}",
    ]  # fmt: skip
    desk.studio.know_sample(documents)
    desk.begin()
    return desk


def test_an_empty_studio_says_what_comes_first():
    with Studio.open("memory:") as studio:
        client = create_app(studio).test_client()
        page = client.get("/").text
        for each in table("first_minute.toml")["empty"]["step"]:
            assert each["says"] in page
        assert page.count("button primary") == 1
        studio.welcome("Nell Quince")
        again = client.get("/").text
        assert "✓ done" in again
        assert again.count("button primary") == 1


def test_a_studio_of_ones_own_says_nothing_of_samples(desk):
    page = desk.client.get("/").text
    assert "sample" not in page.lower()
    assert "An empty studio" not in page


def test_the_sample_studio_says_what_it_is_and_that_it_is_invented(sampled):
    page = sampled.client.get("/").text
    assert "This is a sample studio" in page
    assert "all invented" in page
    assert "Leave this sample out" in page


def test_the_sample_is_left_out_as_one_change_and_ones_own_stays(sampled):
    studio = sampled.studio
    said = Attribution(artist=f"party/{sampled.artist}", preferred=True)
    own = studio.save(Work(titles=TITLE, attributions=(said,)), who="Nell Quince")
    assert "among your records" in sampled.client.get("/").text
    before = studio.ledger.last()[0]
    assert sampled.post("/sample/out").status_code == 302
    assert studio.ledger.last()[0] == before + 1
    page = sampled.client.get("/").text
    assert "Skiffs" in page
    assert "Low Water" not in page
    assert "among your records" not in page
    # whom a record of one's own names is needed by it
    assert not studio.ledger.head(f"party/{sampled.artist}").withdrawn
    assert studio.ledger.head(f"job/{sampled.job}").withdrawn
    assert not studio.ledger.head(own.document_id).withdrawn
    assert studio.verify().faults == ()

    sampled.post("/sample/in")
    assert studio.ledger.last()[0] == before + 2
    assert "Low Water" in sampled.client.get("/").text
    assert not studio.ledger.head(f"job/{sampled.job}").withdrawn


def test_a_work_of_the_same_title_is_no_sample(sampled):
    twin = sampled.studio.save(
        Work(titles=(replace(TITLE[0], text="Low Water"),)), who="Nell Quince"
    )
    sampled.post("/sample/out")
    assert not sampled.studio.ledger.head(twin.document_id).withdrawn


def test_whoever_worked_under_a_name_of_the_sample_is_asked_anew(desk):
    desk.begin()
    desk.studio.know_sample([f"party/{desk.member}", f"job/{desk.job}"])
    unused = desk.studio.welcome("Una Sele")
    desk.studio.know_sample([unused.document])
    desk.client.post("/who", data={"csrf_token": desk.token("/who"), "who": unused.id})
    desk.post("/sample/out")
    assert "Who is working?" in desk.client.get("/").text


def test_the_sample_is_brought_in_in_the_background(desk, monkeypatch):
    def quick(studio, progress):
        studio.know_sample(())
        return Landing(says="The sample studio is here.", where="/")

    monkeypatch.setattr(first_minute, "bring_in", quick)
    begun = desk.post("/sample/in")
    assert begun.status_code == 303
    desk.app.extensions[ERRANDS].wait()
    assert "The sample studio is here." in desk.client.get(begun.headers["Location"]).text


def test_how_far_the_drawing_is_is_told_of_all_from_the_first(tmp_path):
    """As many as there are photographs in the sample records, by their own words; two are drawn small."""
    script = folder("sample_records") / "draw.py"
    drawn = subprocess.run(
        [sys.executable, script, tmp_path, "--width", "300", "--only", "a-sea-fog-lifting"],
        capture_output=True, text=True, check=True,
    ).stdout.splitlines()  # fmt: skip
    files = sorted(tmp_path.glob("*.jpg"))
    assert len(files) > 1
    assert [line.partition(":")[0] for line in drawn] == [
        f"{done} of {len(files)}" for done in range(len(files) + 1)
    ]
    assert sorted(line.partition(": ")[2] for line in drawn[1:]) == [
        each.name for each in files
    ]


def test_what_there_is_to_try_is_among_the_sample_records():
    works = {
        json.loads(each.read_text("utf-8"))["id"]
        for each in (folder("sample_records") / "works").glob("*.json")
    }
    said = table("first_minute.toml")
    assert {f"work/{each['work']}" for each in said["sample"]["try"]} <= works
    with Studio.open("memory:") as studio:
        app = create_app(studio)
        pages = {rule.endpoint for rule in app.url_map.iter_rules()}
    assert {each["page"] for each in said["sample"]["try"]} <= pages
