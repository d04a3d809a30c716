"""The desk gives photographs out in tiles, says what is a derivative, and lays one photograph on another."""

from __future__ import annotations

import io
import json
from threading import Thread

import pytest
from desk_studio import filled, picture
from PIL import Image

from catalogue.desk import create_app
from catalogue.places import table
from catalogue.studio import Studio


@pytest.fixture
def desk(tmp_path):
    with Studio.init(tmp_path / "studio") as studio:
        ids = filled(studio)
        yield studio, create_app(studio).test_client(), studio.read(f"work/{ids['low_water']}")


def back_of(read):
    return next(each for each in read.record.photos if each.face == "face/back").sha256


def test_what_there_is_in_tiles_is_told_as_agreed(desk):
    _, client, read = desk
    told = json.loads(client.get(f"/photo/{back_of(read)}/tiles.json").data)
    assert (told["width"], told["height"], told["tile"], told["levels"]) == (600, 450, 512, 2)
    keys = [each["key"] for each in told["ways"]]
    assert keys == ["plain", *(each["key"] for each in table("ways_of_looking.toml")["way"])]
    assert all(set(each) == {"key", "label", "says"} for each in told["ways"])


def test_every_tile_told_of_is_there_and_stays_fresh(desk):
    studio, client, read = desk
    sha256 = back_of(read)
    there = studio.tiles(sha256)
    for way in there.ways:
        for level in range(there.levels):
            for (x, y), box in there.boxes(level).items():
                with client.get(f"/photo/{sha256}/{way.key}/{level}/{x}-{y}.jpg") as answer:
                    assert answer.status_code == 200
                    assert answer.mimetype == "image/jpeg"
                    assert "immutable" in answer.headers["Cache-Control"]
                    assert Image.open(io.BytesIO(answer.data)).size == box[2:]


def test_what_was_calculated_is_sent_under_a_name_that_says_so(desk):
    studio, client, read = desk
    sha256 = back_of(read)
    for way in studio.tiles(sha256).ways:
        with client.get(f"/photo/{sha256}/{way.key}/1/0-0.jpg") as answer:
            named = answer.headers["Content-Disposition"]
        assert ("derivative" in named) is (way.key != "plain")
        assert way.key == "plain" or f"{sha256[:8]}-{way.key}-derivative-1-0-0.jpg" in named


def test_a_way_of_looking_never_becomes_a_photo_of_the_object(desk):
    studio, client, read = desk
    sha256 = back_of(read)
    before = [*studio.history()]
    client.get(f"/photo/{sha256}/decorrelated/0/0-0.jpg").close()
    assert [*studio.history()] == before
    assert studio.read(read.document_id).record.photos == read.record.photos


NO_TILES = (
    "plain/2/0-0", "plain/0/2-0", "plain/0/0-1000000", "plain/00000000000000000000001/0-0", "plain/0/-1-0",
    "plain/0/0-0-0", "plain/0/0", "plain/x/0-0", "x-ray/0/0-0", "<b>/0/0-0", "plain/0/٣-0", "plain/-1/0-0",
    f"plain/{'9' * 5000}/0-0", f"plain/0/{'9' * 5000}-0", "%00/0/0-0", "..%2f..%2f/0/0-0",
)  # fmt: skip


def test_a_tile_that_there_is_not_is_said_in_words(desk):
    _, client, read = desk
    for place in NO_TILES:
        answer = client.get(f"/photo/{back_of(read)}/{place}.jpg")
        assert answer.status_code == 404, place
        assert "<b>/0" not in answer.text
        assert "<h1" in answer.text


def test_a_photo_that_there_is_not_is_said_in_words(desk):
    _, client, read = desk
    back = back_of(read)
    for sha256 in ("0" * 64, "xyz", "A" * 64, "..%2f..%2fetc%2fpasswd", "<script>"):
        for path in ("tiles.json", f"onto/{back}.json"):
            answer = client.get(f"/photo/{sha256}/{path}")
            assert answer.status_code == 404, sha256
            if "%2f" not in sha256:
                assert "on record" in json.loads(answer.data)["says"]
        assert client.get(f"/photo/{back}/onto/{sha256}.json").status_code == 404
        assert client.get(f"/photo/{sha256}/plain/0/0-0.jpg").status_code == 404


def test_how_one_photo_lies_on_another_is_told_as_agreed_or_why_it_does_not(desk):
    _, client, read = desk
    front, back = (each.sha256 for each in read.record.photos)
    told = json.loads(client.get(f"/photo/{back}/onto/{back}.json").data)
    assert told["matrix"] == [1, 0, 0, 0, 1, 0, 0, 0, 1]
    assert (told["sure"], bool(told["says"])) == (1, True)
    answer = client.get(f"/photo/{'0' * 64}/onto/{front}.json")
    assert (answer.status_code, set(json.loads(answer.data))) == (404, {"says", "remedy"})


def test_a_whole_page_of_tiles_at_once(desk):
    studio, _, read = desk
    content = picture(size=(2300, 1700))
    kept = studio.add_photo(read, content, name="large.jpg", who="Nell Quince")
    sha256 = kept.record.photos[-1].sha256
    app, got = create_app(studio), {}

    def ask(x, y):
        where = f"/photo/{sha256}/local-contrast/0/{x}-{y}.jpg"
        with app.test_client().get(where) as answer:
            got[x, y] = answer.status_code

    asking = [Thread(target=ask, args=place) for place in studio.tiles(sha256).boxes(0)]
    for each in asking:
        each.start()
    for each in asking:
        each.join()
    assert set(got.values()) == {200}
    assert len(got) == 5 * 4


def test_photographs_are_made_ready_and_how_far_it_is_is_told(desk):
    studio, _, read = desk
    shas = [each.sha256 for each in read.record.photos]
    told = []
    done = studio.prepare_pictures([*shas, "0" * 64, shas[0]], lambda *far: told.append(far))
    assert done == 2
    assert told == [(0, 3), (1, 3), (2, 3), (3, 3)]
    made = {each.name for each in (studio.folder / "derived").rglob("*.jpg")}
    assert {"0-0.jpg", "1-0.jpg"} <= made
    assert sum(name.startswith(shas[0]) for name in made) == 2  # thumb and screen
    assert studio.prepare_pictures(shas) == 2


def test_the_limit_of_the_studio_holds_for_tiles(desk):
    studio, client, read = desk
    sha256 = back_of(read)
    studio.ledger.set_setting("megapixels", "0.1")
    answer = client.get(f"/photo/{sha256}/tiles.json")
    assert answer.status_code == 422
    assert "too large" in json.loads(answer.data)["says"]
    for made in ("plain/0/0-0", "thumb", "screen", "part/0-0-50-50"):
        assert client.get(f"/photo/{sha256}/{made}.jpg").status_code == 422
    assert studio.prepare_pictures([sha256]) == 0
