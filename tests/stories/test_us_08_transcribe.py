"""US-8: as the restorer I write exactly what is there (trade sheet 1.3)."""

import pytest

from catalogue.errors import BadData
from catalogue.reading import compare, read
from catalogue.record import Inscription, Transcript

ONE, TWO = "Sea Wall, Evening", "Sea Wall Evenina"


@pytest.mark.parametrize(
    ("typed", "tei"),
    [
        # the signs that the story names, each with its element of EpiDoc
        ("Br_andt", "<unclear>r</unclear>"),
        ("Ho[...]nn", "<gap "),
        ("[abc]", "<supplied "),
        ("a(bc)", "<ex>bc</ex>"),
        ("[[412]]", "<del "),
        ("\\mit/", "<add "),
    ],
)
def test_marks_of_doubt_and_supply_are_those_of_leiden(typed, tei):
    assert tei in read(typed).tei()


def test_case_spelling_abbreviation_and_lines_stay_as_they_stand():
    typed = "GALERY Str.\nmaY 3rd"
    assert read(typed).diplomatic() == typed
    assert read(typed).markup == typed


def test_what_is_seen_and_what_it_says_are_two_things():
    reading = read("Gal.(erie) Ho[ffma]nn")
    assert reading.seen() == "Gal. Ho…nn"
    assert reading.plain() == "Galerie Hoffmann"


def test_illegible_is_a_value():
    reading = read("+(?)")
    assert reading.diplomatic() == "…"
    assert reading.seen() == "…"
    assert not reading.faults


def test_two_readers_may_differ_and_neither_is_deleted():
    readings = (Transcript(markup=ONE), Transcript(markup=TWO))
    written = Inscription(kind="inscription/title", face="face/back", transcripts=readings)
    assert {each.markup for each in written.transcripts} == {ONE, TWO}
    found = compare(read(ONE), read(TWO))
    # trade sheet C23: two edits in seventeen letters
    assert found.error_rate == pytest.approx(2 / 17, abs=0.001)
    assert found.verdict == "minor"


def test_the_direction_of_a_text_is_in_degrees_on_its_own_side():
    upside_down = Inscription(kind="inscription/title", face="face/back", orientation=180)
    assert upside_down.orientation == 180
    with pytest.raises(BadData):
        Inscription(kind="inscription/title", face="face/back", orientation=360)
