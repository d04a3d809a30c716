"""A draft by machine at the desk: made in the background, taken in by a person, and in no record before that."""

from __future__ import annotations

import io
import json
import re
import time
from importlib.util import find_spec

import pytest
from desk_studio import Desk, filled
from PIL import Image, ImageDraw, ImageFont

from catalogue.desk import create_app
from catalogue.studio import Studio

pytestmark = pytest.mark.skipif(
    find_spec("rapidocr") is None,
    reason="THE DRAFTS BY MACHINE WERE NOT TRIED: pip install 'dorse[ocr]'",
)
WORD = "QUAYSIDE"


def printed() -> bytes:
    """A label with one printed word, drawn with the plain letters that come with Pillow."""
    image = Image.new("RGB", (640, 300), "#8a744c")
    pen = ImageDraw.Draw(image)
    pen.rectangle((90, 90, 550, 210), fill="#fbf6e6", outline="#333")
    pen.text((130, 120), f"{WORD} 412", fill="#222", font=ImageFont.load_default(52))
    file = io.BytesIO()
    image.save(file, "JPEG", quality=92)
    return file.getvalue()


@pytest.fixture(scope="module")
def desk(tmp_path_factory):
    folder = tmp_path_factory.mktemp("machine") / "studio"
    with Studio.init(folder) as studio:
        ids = filled(studio)
        kept = studio.read(f"work/{ids['ferry']}")
        studio.add_photo(kept, printed(), name="back.jpg", who="Nell Quince", face="face/back")
        app = create_app(studio)
        found = Desk(studio, app, app.test_client(), **ids)
        found.begin()
        yield found


BOX = {"frame_x": "90", "frame_y": "90", "frame_width": "460", "frame_height": "120"}


def begun(desk, number: int = 0, framed: dict[str, str] = BOX) -> str:
    """The page of a draft of what is framed on a slip."""
    answer = desk.post(
        f"/work/{desk.ferry}/machine-draft", photo=desk.work(desk.ferry).photos[number].id,
        markup="typed before", kind="inscription/label", face="face/back", hand="a clerk's", **framed,
    )  # fmt: skip
    assert answer.status_code == 303
    for _ in range(600):
        if "/machine-draft/" in answer.location:
            return answer.location
        state = desk.client.get(answer.location).text
        found = re.search(r'href="([^"]*/machine-draft/[^"]*)"', state)
        if found:
            return found[1].replace("&amp;", "&")
        assert "could not be done" not in state, state
        time.sleep(0.1)
    raise AssertionError("the draft never came")


@pytest.fixture(scope="module")
def drafted(desk):
    return begun(desk)


def test_its_page_says_what_it_is_and_boxes_every_line(desk, drafted):
    page = desk.client.get(drafted).text
    assert WORD in page
    assert "Machine draft, rapidocr" in page
    assert "For handwriting it is not meant" in page
    assert page.count('class="over"') == page.count("% by its own account") >= 1
    picture = re.search(r'src="(/photo/[0-9a-f]{64}/drafted/[0-9a-f]{32}\.jpg)"', page)[1]
    with desk.client.get(picture) as answer:
        assert answer.mimetype == "image/jpeg"


def test_what_was_outlined_on_a_turned_photo_is_read_as_it_was_turned(desk):
    """A label glued on sideways, two lines: each is a line, the upper one first."""
    image = Image.new("RGB", (640, 300), "#fbf6e6")
    pen = ImageDraw.Draw(image)
    for y, text in ((60, "LOW WATER"), (170, "HARTWELL")):
        pen.text((110, y), text, fill="#222", font=ImageFont.load_default(52))
    file = io.BytesIO()
    image.rotate(-90, expand=True).save(file, "JPEG", quality=92)
    kept = desk.studio.read(f"work/{desk.ferry}")
    desk.studio.add_photo(
        kept, file.getvalue(), name="side.jpg", who="Nell Quince", face="face/back"
    )
    outlined = {"frame_outline": "5,5 295,5 295,630 60,635 5,600", "as_turned": "-90"}
    page = desk.client.get(begun(desk, -1, outlined)).text
    assert re.search(r"LOW WATER\s*HARTWELL", re.search(r"<pre.*?</pre>", page, re.DOTALL)[0])


def test_it_is_in_no_record_no_index_no_export_and_nobodys_draft(desk, drafted, tmp_path):
    kept = b"".join(
        desk.studio.ledger.read(head.document).body for head in desk.studio.ledger.heads()
    )
    assert WORD.encode() not in kept
    assert desk.studio.search(desk.studio.query(WORD)).hits == ()
    assert not any(WORD in each.text for each in desk.studio.ledger.drafts())
    desk.studio.export(
        "full-graph", "full", tmp_path / "out", reason="a trial", recipient="nobody"
    )
    files = [each for each in (tmp_path / "out").rglob("*") if each.is_file()]
    assert files
    assert not any(WORD.encode() in each.read_bytes() for each in files)
    desk.studio.backup(tmp_path / "backup")
    files += [each for each in (tmp_path / "backup").rglob("*") if each.is_file()]
    assert not any(WORD.encode() in each.read_bytes() for each in files)
    assert not any("-draft-" in each.name for each in files)
    held = [
        each
        for each in desk.studio.folder.rglob("*")
        if each.is_file() and WORD.encode() in each.read_bytes()
    ]
    assert {each.relative_to(desk.studio.folder).parts[0] for each in held} == {"derived"}


def test_a_person_takes_it_in_behind_what_they_typed_and_saves_their_own_reading(desk, drafted):
    path, _, asked = drafted.partition("?")
    own = re.search("slip=([0-9a-f-]+)", asked)[1]
    answer = desk.post(path, slip=own)
    assert answer.status_code == 303
    page = desk.client.get(answer.location).text
    held = re.search(r'<textarea id="markup"[^>]*>([^<]*)', page)[1]
    assert held.splitlines()[0] == "typed before"
    assert WORD in held
    assert "a clerk&#39;s" in page
    assert desk.work(desk.ferry).inscriptions == ()  # taken in is not saved
    typed = json.loads(
        next(each.text for each in desk.studio.ledger.drafts() if each.id == own)
    )
    saved = desk.post(
        f"/work/{desk.ferry}/read", revision=str(desk.revision(desk.ferry)), draft=own,
        **{name: value for name, value in typed.items() if value and isinstance(value, str)},
    )  # fmt: skip
    assert saved.status_code == 302
    (label,) = desk.work(desk.ferry).inscriptions
    (transcript,) = label.transcripts
    assert transcript.by == f"party/{desk.member}"
    (note,) = transcript.notes
    assert re.fullmatch(
        r"Begun from a machine draft \(rapidocr [\d.]+, \d{4}-\d\d-\d\d\), then read by a person.",
        note.text,
    )
    assert "Begun from a machine draft" in desk.client.get(saved.location).text


def test_asked_again_it_leads_to_the_same_draft(desk, drafted):
    again = begun(desk)
    assert again.partition("?")[0] == drafted.partition("?")[0]


@pytest.mark.parametrize(
    "path", ["0" * 64 + "/" + "0" * 32, "x/y", "0" * 64 + "/..%2f..%2fetc"]
)
def test_a_draft_that_is_not_there_is_said_not_to_be(desk, path):
    assert desk.client.get(f"/work/{desk.ferry}/machine-draft/{path}").status_code == 404


def test_a_slip_that_names_no_photo_is_refused_in_words(desk):
    answer = desk.post(f"/work/{desk.ferry}/machine-draft", photo="", markup="x")
    assert answer.status_code == 404
    answer = desk.post(
        f"/work/{desk.ferry}/machine-draft", photo=desk.work(desk.ferry).photos[0].id,
        kind="inscription/label", face="face/back", frame_x="5", frame_y="",
    )  # fmt: skip
    assert answer.status_code == 422


def test_a_slip_that_names_a_draft_that_is_not_there_gets_no_note(desk):
    saved = desk.post(
        f"/work/{desk.low_water}/read", revision=str(desk.revision(desk.low_water)), markup="Lot 7",
        kind="inscription/label", face="face/back", machine="../../etc/passwd", preferred="yes",
    )  # fmt: skip
    assert saved.status_code == 302
    read = [
        each for label in desk.work(desk.low_water).inscriptions for each in label.transcripts
    ]
    assert all(each.notes == () for each in read)


def test_without_the_extra_the_slip_says_what_to_install_in_the_place_of_the_button(
    desk, monkeypatch
):
    page = f"/work/{desk.low_water}/read"
    assert "Draft by machine</button>" in desk.client.get(page).text
    monkeypatch.setattr("catalogue.drafting.engine.find_spec", lambda name: None)
    without = desk.client.get(page).text
    assert "Draft by machine</button>" not in without
    assert "pip install &#34;dorse[ocr]&#34;" in without
