"""Drafts by machine: printed labels are spelled out almost rightly, without a network, and kept apart."""

from __future__ import annotations

import hashlib
import io
import json
import socket
from importlib.util import find_spec

import pytest
from drawn_labels import ENGLISH, GERMAN, corners_of, label
from hypothesis import given
from hypothesis import strategies as some
from PIL import Image
from rapidfuzz.distance import Levenshtein

from catalogue.drafting import (
    Line,
    MachineDraft,
    as_markup,
    drafted,
    drafted_from,
    drafted_picture,
)
from catalogue.drafting.engine import missing
from catalogue.errors import BadSetting, NotOnFile
from catalogue.reading import read

needs_engine = pytest.mark.skipif(
    find_spec("rapidocr") is None,
    reason="THE DRAFTS BY MACHINE WERE NOT TRIED: pip install 'dorse[ocr]'",
)


@pytest.fixture(autouse=True)
def no_network(monkeypatch):
    """Whoever asks for a socket fails: nothing may be fetched while a draft is made."""

    def refused(*_):
        raise AssertionError("a draft asked for the network")

    monkeypatch.setattr(socket, "socket", refused)
    monkeypatch.setattr(socket, "getaddrinfo", refused)


def draft_of(content: bytes, folder, corners=(), turn=0) -> MachineDraft:
    sha256 = hashlib.sha256(content).hexdigest()
    original = folder / "original.jpg"
    original.write_bytes(content)
    with Image.open(io.BytesIO(content)) as picture:
        size = picture.size
    return drafted_from(
        original, sha256, size, folder / "derived", corners, turn=turn, on="2026-11-29"
    )


def folded(text: str) -> str:
    return " ".join(text.casefold().split())


def wrong(draft: MachineDraft, truth) -> float:
    """The character error rate, case and white space folded, as the trial sheet has it."""
    said, meant = folded(read(as_markup(draft)).seen()), folded(" ".join(truth))
    return Levenshtein.distance(said, meant) / len(meant)


@needs_engine
@pytest.mark.parametrize(
    ("text", "state", "face"),
    [
        (GERMAN, "clean", "baskerville"),
        (GERMAN, "aged", "baskerville"),
        (GERMAN, "bad", "baskerville"),
        (ENGLISH, "aged", "typewriter"),
    ],
)
def test_a_printed_label_is_spelled_out_almost_rightly(tmp_path, text, state, face):
    # Our own trial of this engine, frontend-and-packaging sheet, section 6: 1.6 / 1.6 / 2.4 % for print.
    draft = draft_of(label(text, state, face), tmp_path)
    assert wrong(draft, text) <= 0.05, as_markup(draft)


@needs_engine
def test_a_part_is_set_upright_by_its_corners_or_by_its_turn_and_every_line_has_its_box(
    tmp_path,
):
    content = label(ENGLISH, "bad")
    framed = draft_of(content, tmp_path, corners_of(ENGLISH, "bad"))
    assert wrong(framed, ENGLISH) <= 0.05, as_markup(framed)
    assert abs(framed.width - 820) < 3
    for line in framed.lines:
        tops = [y for _, y in line.corners[:2]]
        assert abs(tops[0] - tops[1]) < 6  # it lies level now
        assert all(
            -5 <= x <= framed.width + 5 and -5 <= y <= framed.height + 5
            for x, y in line.corners
        )
    head_down = io.BytesIO()
    Image.open(io.BytesIO(label(ENGLISH, "clean"))).rotate(180).save(
        head_down, "JPEG", quality=90
    )
    turned = draft_of(head_down.getvalue(), tmp_path, turn=180)
    assert wrong(turned, ENGLISH) <= 0.05, as_markup(turned)


@needs_engine
def test_what_was_made_is_read_again_and_lies_apart_from_the_original(tmp_path):
    content = label(("Lot 12",), "clean")
    draft = draft_of(content, tmp_path)
    again = draft_of(content, tmp_path)
    assert again == draft == drafted(tmp_path / "derived", draft.photo, draft.key)
    assert drafted_picture(tmp_path / "derived", draft.photo, draft.key).is_file()
    assert {each.name for each in tmp_path.iterdir()} == {"original.jpg", "derived"}
    assert draft.engine == "rapidocr"
    assert "rapidocr" in draft.says
    assert "2026-11-29" in draft.says
    assert all(0 <= sure <= 1 for line in draft.lines for sure in line.sure)


def test_without_the_extra_it_is_said_what_to_install_and_nothing_else_breaks(
    tmp_path, monkeypatch
):
    monkeypatch.setattr("catalogue.drafting.engine.find_spec", lambda name: None)
    assert 'pip install "dorse[ocr]"' in missing()
    with pytest.raises(BadSetting, match="no engine"):
        draft_of(label(("Lot 12",), "clean"), tmp_path)


@needs_engine
def test_a_picture_without_a_letter_gives_no_line(tmp_path):
    file = io.BytesIO()
    Image.new("RGB", (300, 200), "#caa").save(file, "JPEG")
    assert as_markup(draft_of(file.getvalue(), tmp_path)) == ""


def made_of(*lines: Line) -> MachineDraft:
    return MachineDraft(
        key="0" * 32, photo="0" * 64, corners=(), turn=0, width=900, height=900, engine="rapidocr",
        version="3.10.0", on="2026-11-29", lines=lines,
    )  # fmt: skip


def line(
    text: str, sure: float | tuple[float, ...] = 1.0, y: float = 0, x: float = 0, score=0.9
) -> Line:
    known = sure if isinstance(sure, tuple) else (sure,) * len(text)
    return Line(
        text=text,
        sure=known,
        score=score,
        corners=((x, y), (x + 90, y), (x + 90, y + 20), (x, y + 20)),
    )


def test_letters_that_the_engine_is_unsure_of_carry_the_sign_of_doubt():
    found = made_of(line("No 412", (0.99, 0.99, 0.2, 0.4, 0.9, 0.79)))
    assert as_markup(found) == "No 4_12_"
    assert as_markup(made_of(line("Sea", 0.9, score=0.4))) == "S_e_a_"


def test_what_lies_on_one_line_of_the_label_is_one_line_of_the_text():
    found = made_of(line("12 gns", x=130, y=44), line("Price", y=40), line("Lot 7", y=0))
    assert as_markup(found) == "Lot 7\nPrice 12 gns"


def test_what_lies_far_apart_at_one_height_are_two_labels():
    found = made_of(line("AMBRY", x=400, y=4), line("GALERIE", y=0))
    assert as_markup(found) == "GALERIE\nAMBRY"


@pytest.mark.parametrize(
    ("text", "markup"),
    [
        ("[sold] {x} <y> a_b", r"\[sold\] \{x\} \<y\> a\_b"),
        ("@p not a sign", r"\@p not a sign"),
        ("No. 3 (framed) / 4 = 5 #6", "No. 3 (framed) / 4 = 5 #6"),
        ("W.(vac.3)", r"W.\(vac.3\)"),
    ],
)
def test_signs_of_ours_that_stand_on_a_label_are_escaped_where_they_would_be_read_as_such(
    text, markup
):
    assert as_markup(made_of(line(text))) == markup


@given(
    some.text(
        some.characters(codec="utf-8", exclude_categories=("C", "Z")), min_size=1, max_size=30
    )
)
def test_whatever_was_drafted_is_read_back_as_it_was_and_holds_no_fault(text):
    reading = read(as_markup(made_of(line(text, 0.1))))
    assert reading.faults == ()
    plain = "".join(f"\\{each}" if each in "[](){}<>+_|\\/=#@~*^" else each for each in text)
    assert reading.seen() == read(plain).seen()


@pytest.mark.parametrize("key", ["../../etc/passwd", "0" * 31, "G" * 32, ""])
def test_a_draft_is_asked_for_by_its_key_alone(tmp_path, key):
    with pytest.raises(NotOnFile):
        drafted(tmp_path, "0" * 64, key)
    with pytest.raises(NotOnFile):
        drafted_picture(tmp_path, "0" * 64, key)


def test_a_broken_file_is_as_good_as_none(tmp_path):
    (tmp_path / "00").mkdir()
    (tmp_path / "00" / f"{'0' * 64}-draft-{'0' * 32}.json").write_text(json.dumps({"key": 7}))
    with pytest.raises(NotOnFile):
        drafted(tmp_path, "0" * 64, "0" * 32)
