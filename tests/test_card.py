"""A card of photographs: times as cameras say them, what the studio knows of a day, and the command.

Times are held to what Pillow wrote; offsets to the standard library's own arithmetic of zones.
"""

from __future__ import annotations

import json
import shutil
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest
from card_photos import lay, shot
from click.testing import CliRunner

from catalogue import card
from catalogue.command import main
from catalogue.errors import BadPicture
from catalogue.measure import Day
from catalogue.record import (
    ConditionCheck,
    Item,
    Job,
    Movement,
    Party,
    PartyName,
    Photo,
    Step,
    Treatment,
)
from catalogue.sittings import proposed, sittings
from catalogue.studio import Studio

WHO = "Nell Quince"


@pytest.fixture
def house(tmp_path):
    with Studio.init(tmp_path / "studio", zone="Europe/London") as studio:
        yield studio


def looked(studio, path, **more):
    return studio.look_at(path, **{"key": "k", "name": path.name, **more})


def laid(tmp_path, content, name="a.jpg"):
    return lay(tmp_path / "card", {name: content}) / name


@pytest.mark.parametrize(
    ("taken", "fraction", "offset", "at"),
    [
        ("2026:03:02 09:00:00", "", "", "2026-03-02T09:00:00"),
        ("2026:03:02 09:00:00", "25", "", "2026-03-02T09:00:00.250000"),
        ("2026:03:02 09:00:00", "007", "", "2026-03-02T09:00:00.007000"),
        ("2026:03:02 09:00:00", "", "+05:30", "2026-03-02T03:30:00"),
        ("2026:07:02 00:30:00", "", "+02:00", "2026-07-01T23:30:00"),  # summer time in London
        ("2026:03:02 09:00:00", "soon", "+99:00", "2026-03-02T09:00:00"),
        ("0000:00:00 00:00:00", "", "", None),
    ],
)
def test_the_moment_is_the_cameras_in_the_studios_own_time(
    house, tmp_path, taken, fraction, offset, at
):
    found = looked(house, laid(tmp_path, shot(taken, fraction=fraction, offset=offset)))
    assert (found.at.isoformat() if found.at else None) == at
    assert found.clock == ("camera" if at else "")


def test_a_picture_that_says_no_time_has_that_of_its_file_and_it_is_told_so(house, tmp_path):
    path = laid(tmp_path, shot())
    written = datetime(2026, 7, 1, 8, 30, tzinfo=UTC).timestamp()
    found = looked(house, path, written=written)
    assert (found.at.isoformat(), found.clock) == ("2026-07-01T09:30:00", "file")
    assert looked(house, path).at is None


@pytest.mark.parametrize(
    ("content", "name"),
    [(b"", "e.jpg"), (b"<svg/>", "d.svg"), (b"\0\0\0\x18ftypisom" + bytes(40), "m.mp4"),
     (b"<html><script>1</script>", "h.jpg"), (shot()[:300], "cut.jpg"), (shot(), "a\u202egpj.exe"),
     (shot(), "x" * 300 + ".jpg")],
)  # fmt: skip
def test_what_is_no_photograph_is_told_with_the_reason_and_never_raised(
    house, tmp_path, content, name
):
    path = laid(tmp_path, content)
    found = looked(house, path, name=name)
    assert not found.fits
    assert found.refused
    assert found.remedy


@pytest.mark.parametrize(
    "said",
    ["../x.jpg", "a/../x.jpg", "/x.jpg", "a//x.jpg", "./x.jpg", "..\\x.jpg", "C:x.jpg", "a/", "", "a\n/x.jpg",
     "a/x\u202egpj.exe", "y" * 300, "a/NUL.jpg"],
)  # fmt: skip
def test_a_name_that_no_machine_should_hold_is_refused_and_shown_safely(said):
    name, folder, refused = card.called(said)
    assert refused
    assert folder == ""
    assert name.isprintable()
    assert len(name) <= 80


def test_a_file_that_went_away_is_told(house, tmp_path):
    assert "No such file" in looked(house, tmp_path / "gone.jpg").refused


def test_what_was_looked_at_is_written_down_and_read_again(house, tmp_path):
    found = looked(
        house, laid(tmp_path, shot("2026:03:02 09:00:00", fraction="5")), folder="DCIM"
    )
    assert card.from_data(json.loads(json.dumps(card.as_data(found)))) == found


def test_the_very_same_file_is_known_by_its_contents(house, tmp_path):
    path = laid(tmp_path, shot("2026:03:02 09:00:00"))
    kept = house.new_work(title="Ebb", who=WHO)
    house.add_photo(kept, path.read_bytes(), name="weir.jpg", who=WHO)
    assert looked(house, path, name="renamed.jpg").on_file == f"{kept.record.number} as P1"
    other = laid(tmp_path, shot("2026:03:02 09:00:00", "#123456"), "b.jpg")
    twice = [looked(house, other, key="1"), looked(house, other, key="2", name="copy.jpg")]
    first, second = card.without_doubles(twice)
    assert first.fits
    assert second.doubled
    assert "b.jpg" in second.refused


def test_a_file_that_changed_since_it_was_looked_at_is_not_taken_in(house, tmp_path):
    path = laid(tmp_path, shot("2026:03:02 09:00:00"))
    found = looked(house, path)
    path.write_bytes(shot("2026:03:02 09:00:00", "#ffffff"))
    kept = house.new_work(title="Ebb", who=WHO)
    with pytest.raises(BadPicture, match="changed since"):
        house.add_photos(kept, [(found.photo(found.at), path)], who=WHO)
    assert house.work(kept.record.number).record.photos == ()
    assert not any(each.is_file() for each in (house.folder / "files").rglob("*"))


# --- what is known of a day -------------------------------------------------------------------------


def filled(studio):
    """Two works in the house: one was checked, treated, moved and photographed on 2 March 2026."""
    member = studio.welcome(WHO).document
    ebb, flood = (studio.new_work(title=title, who=WHO) for title in ("Ebb", "Flood"))
    day = Day(2026, 3, 2)
    done = Step(
        order=1, kind="step/patch", began=day, began_at="09:00", ended=day, ended_at="10:00"
    )
    long = Step(
        order=2, kind="step/surface-clean", began=Day(2026, 3, 1), ended=Day(2026, 3, 9)
    )
    full = replace(
        ebb.record,
        treatments=(Treatment(number="T1", steps=(done, long)),),
        checks=(ConditionCheck(occasion="occasion/incoming", on=day, by=member),),
        movements=(Movement(to="rack 3", when=studio.date("2 March 2026")),),
        photos=(Photo(file_name="p.jpg", sha256="a" * 64, taken=day),),
    )
    studio.save(full, who=WHO, read=ebb)
    client = Party(kind="person", names=(PartyName(text="Mrs Quillan", preferred=True),))
    studio.save(client, who=WHO)
    stays = (
        Item(work=ebb.document_id, came=Day(2026, 2, 1)),
        Item(work=flood.document_id, came=day, left=Day(2026, 3, 5)),
    )
    studio.save(Job(client=client.document, reason="reason/treatment", items=stays), who=WHO)
    return ebb.record.number, flood.record.number


def known(studio, *taken, folder=""):
    frames = [
        card.Looked(
            key=each, name=f"{n}.jpg", folder=folder, at=datetime.fromisoformat(each)
        ).frame
        for n, each in enumerate(taken)
    ]
    return frames, studio.doings(frames)


def test_everything_that_is_known_of_a_day_is_gathered(house):
    ebb, flood = filled(house)
    _, doings = known(house, "2026-03-02T09:30:00")
    assert {(each.number, each.kind) for each in doings} == {
        (ebb, "step"), (ebb, "check"), (ebb, "photos"), (ebb, "moved"), (ebb, "here"), (flood, "came"),
    }  # fmt: skip
    step = next(each for each in doings if each.begins)
    assert (step.what.split(" ")[0], f"{step.begins:%H:%M}") == ("T1.1", "09:00")
    _, next_day = known(house, "2026-03-04T09:30:00")
    assert {(each.number, each.kind) for each in next_day} == {
        (ebb, "step"), (ebb, "here"), (flood, "here"),
    }  # fmt: skip
    assert known(house, "2024-01-01T09:00:00")[1] == ()


def test_a_folders_number_counts_only_where_such_a_work_is_on_file(house):
    ebb, _ = filled(house)
    frames, doings = known(house, "2024-01-01T09:00:00", folder=f"DCIM/{ebb}")
    assert proposed(sittings(frames)[0], doings).proposed.number == ebb
    assert known(house, "2024-01-01T09:00:00", folder="1999-001")[1] == ()


# --- the command ------------------------------------------------------------------------------------


def run(studio, *words):
    told = CliRunner().invoke(
        main, ["--studio", str(studio.folder), "--who", WHO, *map(str, words)]
    )
    assert told.exception is None or isinstance(told.exception, SystemExit), told.output
    rows = [json.loads(line) for line in told.stdout.splitlines() if line.startswith("{")]
    return told, rows


@pytest.fixture
def laid_card(tmp_path, house):
    ebb, flood = filled(house)
    files = {
        "DCIM/IMG_1.JPG": shot("2026:03:02 09:30:00", "#111111"),
        "DCIM/IMG_2 back.JPG": shot("2026:03:02 09:31:00", "#222222"),
        "DCIM/IMG_3.JPG": shot("2024:01:01 09:31:00", "#333333"),
        f"DCIM/{flood}/IMG_4.JPG": shot("2026:03:02 12:00:00", "#444444"),
        "DCIM/MVI_5.MP4": b"\0\0\0\x18ftypisom" + bytes(40),
        "DCIM/.hidden": b"x",
        "DCIM/COPY.JPG": shot("2026:03:02 09:30:00", "#111111"),
    }
    return lay(tmp_path / "card", files), ebb, flood


def test_a_dry_run_tells_where_each_would_go_and_why_and_saves_nothing(house, laid_card):
    folder, ebb, flood = laid_card
    seq = house.ledger.last()
    told, rows = run(house, "photos", folder, "--dry-run", "--json")
    by_name = {Path(each["file"]).name: each for each in rows}
    assert len(rows) == 6
    # the double that comes first by name is the one that counts
    assert by_name["COPY.JPG"]["work"] == ebb
    assert by_name["IMG_1.JPG"]["outcome"] == "double"
    assert by_name["IMG_2 back.JPG"]["face"] == "face/back"
    assert "face" not in by_name["COPY.JPG"]
    assert "was going on then" in by_name["COPY.JPG"]["why"]
    assert by_name["IMG_3.JPG"]["outcome"] == "no work"
    assert by_name["IMG_4.JPG"]["work"] == flood
    assert by_name["MVI_5.MP4"]["outcome"] == "refused"
    assert house.ledger.last() == seq
    assert told.exit_code == 1


def test_taken_in_once_however_often_it_is_asked(house, laid_card):
    folder, ebb, flood = laid_card
    before = {each.name: each.read_bytes() for each in folder.rglob("*") if each.is_file()}
    run(house, "photos", folder)
    photos = house.work(ebb).record.photos
    assert [each.file_name for each in photos] == ["p.jpg", "COPY.JPG", "IMG_2 back.JPG"]
    back = photos[2]
    assert (back.face, back.view, back.light, back.taken) == (
        "face/back", "view/not-said", "light/not-said", Day(2026, 3, 2),
    )  # fmt: skip
    assert house.ledger.read_file(back.sha256) == before["IMG_2 back.JPG"]
    assert len(house.work(flood).record.photos) == 1
    seq = house.ledger.last()
    _, rows = run(house, "photos", folder, "--json")
    assert house.ledger.last() == seq
    assert {each["outcome"] for each in rows} == {"on file", "no work", "refused"}
    assert {
        each.name: each.read_bytes() for each in folder.rglob("*") if each.is_file()
    } == before


def test_all_onto_one_work_and_a_clock_put_right(house, laid_card):
    folder, _, flood = laid_card
    told, rows = run(
        house, "photos", folder, "--onto", flood, "--clock-ahead", 24 * 60, "--json"
    )
    taken = [each for each in rows if each["outcome"] == "taken in"]
    assert {each["work"] for each in taken} == {flood}
    assert len(taken) == 4
    assert {each.taken for each in house.work(flood).record.photos} == {
        Day(2026, 3, 1), Day(2023, 12, 31),
    }  # fmt: skip
    assert told.exit_code == 1  # the film clip stayed


def test_a_clock_put_right_sorts_by_another_day(house, tmp_path):
    ebb, _ = filled(house)
    late = lay(tmp_path / "late", {"a.jpg": shot("2026:03:20 09:30:00")})
    _, rows = run(house, "photos", late, "--dry-run", "--json", "--clock-ahead", 18 * 24 * 60)
    assert rows[0]["work"] == ebb
    assert rows[0]["at"] == "2026-03-02T09:30:00"


def test_an_empty_folder_and_a_wrong_number_are_told(house, tmp_path):
    (tmp_path / "none").mkdir()
    assert "no photographs" in run(house, "photos", tmp_path / "none")[0].output
    assert run(house, "photos", tmp_path / "none", "--onto", "1999-009")[0].exit_code == 1
    shutil.rmtree(tmp_path / "none")
    assert run(house, "photos", tmp_path / "none")[0].exit_code == 2
