"""Cataloguers' fields of inscriptions: what each says, and what it must not be taken to say.

Kinds, faces and parts are checked against the concepts of vocab/terms. Roman numerals:
MDCCCLXXXVII is 1887 by addition of its signs. "Signed and dated" as one signature, and "/" as a line
end but not within 12/25: common practice, no source.
"""

from __future__ import annotations

import unicodedata
from pathlib import Path

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from catalogue.argument.inscription_fields import read_inscriptions
from catalogue.argument.inscription_fields.transcription import (
    lines_of,
    markup_of,
    transcription,
)
from catalogue.argument.inscription_fields.words import guesses, listed, table, wordings
from catalogue.reading import read
from catalogue.terms import known

BANK = Path(__file__).with_name("inscription_bank.txt").read_text("utf-8")


def banked():
    """Field, its marks and its rest, as the bank has them."""
    found = []
    for line in BANK.splitlines():
        if line.startswith("#"):
            continue
        if not line.startswith("    "):
            found.append((line.replace("\\n", "\n"), [], []))
        elif line.startswith("    rest: "):
            found[-1][2].append(line.removeprefix("    rest: "))
        else:
            found[-1][1].append(line.strip())
    return found


def told(mark):
    years = " ".join(map(str, mark.years))
    said = [
        mark.kind,
        mark.face,
        mark.place,
        mark.technique,
        " ⏎ ".join(mark.lines),
        years,
        mark.remark,
    ]
    return " | ".join(each or "-" for each in said)


@pytest.mark.parametrize(("field", "marks", "rest"), banked(), ids=lambda each: str(each)[:70])
def test_the_bank(field, marks, rest):
    found = read_inscriptions(field)
    assert [told(mark) for mark in found.items] == marks
    assert found.rest == "".join(rest)


def test_the_bank_is_large():
    assert len(banked()) >= 500
    assert sum(len(marks) for _, marks, _ in banked()) >= 600


# -- how a field is cut


@pytest.mark.parametrize(
    ("field", "texts"),
    [
        # what stands in quotation marks or brackets is never cut
        ('signed l.r.: "A. Wynne; Garrow"; verso: 412', ["A. Wynne; Garrow", "412"]),
        ("verso: “Low Tide; evening”", ["Low Tide; evening"]),
        ("verso: « Marée ; soir »; 412", ["Marée ; soir", "412"]),
        ("labels: [five labels; two torn]; 412", ["[five labels; two torn]", "412"]),
        ("verso: Low Tide (evening; spring)", ["Low Tide (evening; spring)"]),
        ('verso: "Low\nTide"\nl.r.: AW', ["Low\nTide", "AW"]),
        # an opening mark without a closing one is a letter
        ('verso: "Low Tide; l.r.: AW', ['"Low Tide', "AW"]),
        ('l.r.: "A. Wynne\nverso: "Low Tide"', ['"A. Wynne', "Low Tide"]),
        ("verso: 12\" x 9\"; l.r.: AW", ['12" x 9"', "AW"]),
        ("verso: [Low Tide; l.r.: AW", ["[Low Tide", "AW"]),
        # an apostrophe is no quotation mark
        ("verso: Wynne's boat; l.r.: Wynne '87; c.: the Nolls' house", ["Wynne's boat", "Wynne '87", "the Nolls' house"]),
        # signs of a web page
        ("l.r.: Hollis &amp; Son; verso: 412", ["Hollis &amp; Son", "412"]),
        # a word for a kind or a place within a text begins nothing
        ("verso: Signed prints; framed", ["Signed prints", "framed"]),
        ("label: Title: Low Tide / Price: £12 / Size: 24 x 20", ["Title: Low Tide / Price: £12 / Size: 24 x 20"]),
        ("verso: painted on the back of the boat, lower left of the quay", ["painted on the back of the boat, lower left of the quay"]),
        ("verso: No. 12. Low Tide. A. Wynne", ["No. 12. Low Tide. A. Wynne"]),
        ("titled: View from the Back", ["View from the Back"]),
        ("Front Street", ["Front Street"]),
        ("Mark Wynne", ["Mark Wynne"]),
    ],
)  # fmt: skip
def test_where_a_field_is_cut(field, texts):
    assert [mark.text for mark in read_inscriptions(field).items] == texts


@pytest.mark.parametrize(
    ("field", "place"),
    [
        # unten rechts, upper right, rechtsonder: the words around it tell the language
        ("bez. u.r.: A. Wynne", "lower right"),
        ("signiert u. r.", "lower right"),
        ("signed u.r.: A. Wynne", "upper right"),
        ("u.r.: A. Wynne", "upper right"),
        ("gesigneerd b.r.: A. Wynne", "upper right"),
        ("signed b.r.: A. Wynne", "lower right"),
        ("signed, l.r.: Blick auf die Alm", "lower right"),
        # initials are no place
        ("L. R. Wynne", None),
        ("L.R. Wynne 1887", None),
        ("L.R.: Wynne 1887", "lower right"),
        ("LR, in pencil: Wynne", "lower right"),
        ("c. 1887", None),
        ("signed c. 1887", None),
    ],
)
def test_short_forms_of_places(field, place):
    (mark,) = read_inscriptions(field).items
    assert mark.place == place


def test_two_figures_of_a_year_are_not_guessed_out():
    for field, short in [
        ("l.r.: A. Wynne '87", (87,)),
        ("l.r.: A. Wynne 87", (87,)),
        ("l.r.: A. Wynne / ’07", (7,)),
        ("l.r.: A. Wynne 12.2.87", (87,)),
        ("verso: Lot 87", ()),
        ("label: Harbour Rooms 87", ()),
    ]:
        (mark,) = read_inscriptions(field).items
        assert (mark.years, mark.short_years) == ((), short), field


def test_an_item_says_no_more_than_the_cataloguer():
    above, below = read_inscriptions("verso, u.l.: 412; l.r.: A. Wynne").items
    assert (above.face, below.face) == ("back", None)
    assert below.kind == "inscription"  # perhaps still on the back, whoever wrote it
    (frame,) = read_inscriptions("label on frame").items
    assert frame.face == "frame"  # front or back isn't said


def test_a_heading_on_its_own_line_is_over_the_lines_below():
    field = read_inscriptions(
        "Recto:\nl.r.: A. Wynne\nVerso:\nu.l.: 412\nu.r., label: Harbour Rooms"
    )
    assert [(mark.face, mark.place) for mark in field.items] == [
        ("front", "lower right"),
        ("back", "upper left"),
        ("back", "upper right"),
    ]
    assert field.rest == "Recto:Verso:"


@pytest.mark.parametrize(
    ("field", "texts"),
    [
        ("verso, label:\nHARBOUR ROOMS\nGarrow", ["HARBOUR ROOMS\nGarrow"]),
        ("Signed:\r\nA. Wynne\r\nverso: 412", ["A. Wynne", "412"]),
        ("label:\nHarbour Rooms\n\nLow Tide", ["Harbour Rooms", "Low Tide"]),
        ("l.r.: A. Wynne\nLow Tide", ["A. Wynne", "Low Tide"]),
        # a full stop that ends the cataloguer's sentence, and one that ends initials
        ("l.r.: A.W.\nl.l.: A.W.", ["A.W.", "A.W."]),
        ("Signed l.r.: A.W. Label verso: Low Tide.", ["A.W.", "Low Tide"]),
    ],
)
def test_a_text_on_the_lines_below_its_head(field, texts):
    assert [mark.text for mark in read_inscriptions(field).items] == texts


# -- what was copied


@pytest.mark.parametrize(
    ("text", "lines"),
    [
        ("A. Wynne / 1887", ("A. Wynne", "1887")),
        ("A. Wynne/ 1887", ("A. Wynne", "1887")),
        ("A. Wynne /1887", ("A. Wynne", "1887")),
        ("A. Wynne // 1887", ("A. Wynne", "1887")),
        ("A. Wynne/1887", ("A. Wynne", "1887")),
        ("Wynne/Garrow", ("Wynne", "Garrow")),
        ("A. Wynne / c/o Noll", ("A. Wynne", "c/o Noll")),
        ("oil and/or ink", ("oil and/or ink",)),
        ("12/25", ("12/25",)),
        ("12 / 25", ("12 / 25",)),
        ("A/P", ("A/P",)),
        ("A. Wynne 2/40", ("A. Wynne 2/40",)),
        ("A. Wynne / 2/40 / Garrow", ("A. Wynne", "2/40", "Garrow")),
        ("1887 / 12", ("1887", "12")),
        ("1887/88", ("1887/88",)),
        ("24 1/2 x 20 in.", ("24 1/2 x 20 in.",)),
        ("Low\r\nTide", ("Low", "Tide")),
        ('"Low Tide" / "A. Wynne"', ("Low Tide", "A. Wynne")),
        (" / ", ()),
        ("", ()),
    ],
)
def test_lines(text, lines):
    assert lines_of(text) == lines


@pytest.mark.parametrize(
    ("text", "markup", "seen"),
    [
        ("A. Wynne [illegible] 1887", "A. Wynne +(?) 1887", "A. Wynne … 1887"),
        ("A. Wynne [indistinct date]", "A. Wynne +(?)", "A. Wynne …"),
        ("186[5 indistinct]", "1865_", "1865"),
        ("18[?]7", "18+(1)7", "18…7"),
        ("A. Wynne (?)", "A. Wynne(?)", "A. Wynne"),
        ("Wynne [?] 1887", "Wynne(?) 1887", "Wynne 1887"),
        ("Galery [sic] of Garrow", "Galery[!] of Garrow", "Galery of Garrow"),
        ("W[ynne] 18[87?]", "W[ynne] 18[87?]", "W… 18…"),
        ("[to] my friend", "[to] my friend", "… my friend"),
        ("A. W... 1887", "A. W[---] 1887", "A. W… 1887"),
        ("[...] 1887", "[---] 1887", "… 1887"),
        ("[stamp] Garrow", "{{stamp}} Garrow", " Garrow"),
        ("AW [in monogram]", "AW {{in monogram}}", "AW "),
        ("Low Tide [translation: Ebbe]", "Low Tide /* translation: Ebbe */", "Low Tide "),
        ("illegible", "+(?)", "…"),
        # what is only a letter here, and would be a sign of the markup
        ("Hollis + Son", "Hollis + Son", "Hollis + Son"),
        ("B+W", "B\\+W", "B+W"),
        ("Gal.(Garrow)", "Gal.\\(Garrow\\)", "Gal.(Garrow)"),
        ("C:\\wynne|12", "C:\\\\wynne\\|12", "C:\\wynne|12"),
        ("@h Wynne", "\\@h Wynne", "@h Wynne"),
        ("Lot (12)", "Lot (12)", "Lot (12)"),
    ],
)
def test_markup(text, markup, seen):
    assert markup_of([text]) == markup
    reading = read(markup)
    assert not reading.faults
    assert reading.seen().strip() == seen.strip()


@pytest.mark.parametrize(
    ("text", "years"),
    [
        ("A. Wynne 1887", (1887,)),
        ("begun 1887, finished 1889", (1887, 1889)),
        ("1887-89", (1887, 1889)),
        ("1887/8", (1887, 1888)),
        ("12/3/1887", (1887,)),
        ("3.1887", (1887,)),
        ("1887-03-12", (1887,)),
        (".1887.", (1887,)),
        ("A° 1587", (1587,)),
        ("MDCCCLXXXVII", (1887,)),
        ("No. 1887", ()),
        ("N° 1887", ()),
        ("£1887", ()),
        ("1887.12", ()),
        ("18875", ()),
        ("1887B", ()),
        ("18[87]", ()),  # the editor's, not the object's
        ("1[8 indistinct]87", (1887,)),
        ("MIX", ()),
        ("DIM CIVIC", ()),
        ("0087", ()),
    ],
)
def test_years(text, years):
    assert transcription(text).years == years


LETTERS = st.text(
    st.characters(exclude_categories=("C", "M", "Z"))
    | st.sampled_from(" /|()+_*^~=@#\\{}<>&,."),
    max_size=40,
).filter(
    lambda text: "…" not in text and ".." not in text and "[" not in text and "]" not in text
)


def is_only_letters(text):
    """Whether nothing in a text is a sign or a word of the cataloguer's own."""
    dotted = "\u0323" in unicodedata.normalize(
        "NFD", text
    )  # the markup's sign for a doubtful letter
    return not (
        dotted or "(?)" in text or listed("bracket", "unread") & set(text.casefold().split())
    )


@given(LETTERS.filter(is_only_letters))
@example("\\")
@example('"((a))')
@example("word(?")
def test_the_markup_shows_the_lines_again(text):
    lines = lines_of(text)
    written = unicodedata.normalize("NFC", "\n".join(lines))
    assert read(markup_of(lines)).seen().split() == written.split()


# -- the vocabulary


def test_every_key_is_a_concept():
    words = table()
    assert all(known(f"inscription/{kind['key']}") for kind in words["kind"])
    assert all(known(f"face/{face}") for face in words["face"])
    assert all(known(f"part/{part}") for part in words["part"] if part)
    faces = {face for row in words["face_of_part"].values() for face in row.values()}
    families = {"frame", "tacking-edge"}  # where it isn't said which
    assert all(known(f"face/{face}") for face in faces - families)
    assert all(
        known(f"face/{family}-{side}")
        for family, side in [("frame", "back"), ("tacking-edge", "top")]
    )
    assert {guess.kind for guess in guesses()} <= {kind["key"] for kind in words["kind"]}


def test_no_wording_is_taken_for_two_kinds():
    def kinds(node):
        yield {meaning.key for meaning in node.meanings if meaning.group == "kind"}
        for below in node.words.values():
            yield from kinds(below)

    assert max(map(len, kinds(wordings()))) == 1


@pytest.mark.parametrize(
    "text",
    ["", " ", ";", ".", ":", "[", "]", '"', "''", "\x00", "\ud800", "\u2028", "[" * 50_000, '"' * 50_000, "lower " * 20_000, "«a\n" * 20_000, "signed l.r. and " * 6_000],
    ids=lambda text: repr(text[:12]),
)  # fmt: skip
def test_anything_can_be_read(text):
    field = read_inscriptions(text)
    held = "".join(text[mark.start : mark.end] for mark in field.items) + field.rest
    kept = [letter for letter in text if not letter.isspace() and letter not in ";."]
    assert sorted(
        letter for letter in held if not letter.isspace() and letter not in ";."
    ) == sorted(kept)
