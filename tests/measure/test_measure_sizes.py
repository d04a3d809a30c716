"""Sizes as written, in millimetres.

Inches: 25.4 mm exactly (international yard and pound agreement, 1959); feet twelve inches. French
numbers: the table of vocab/canvas_sizes.toml. Height first, and what the words mean: common practice
of museums, no source.
"""

from __future__ import annotations

from fractions import Fraction
from itertools import product

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from catalogue.measure import read_sizes, sizes_refused
from catalogue.measure.size_words import table
from catalogue.terms import known

INCH = Fraction("25.4")

# (text, [(what, height, width, depth, diameter), ...])
SIZES = [
    ("63,5 × 76,2 cm", [(None, 635, 762, None, None)]),
    ("25 x 30 1/8 in.", [(None, 635, 765.17, None, None)]),
    ("610 x 500 mm", [(None, 610, 500, None, None)]),
    ("25¼ x 30⅛ in.", [(None, 641.35, 765.17, None, None)]),
    ("36-1/4 x 29-7/8 inches", [(None, 920.75, 758.83, None, None)]),
    ("25 in. x 30 in.", [(None, 635, 762, None, None)]),
    ("25 by 30 inches", [(None, 635, 762, None, None)]),
    ("2 ft 3 in x 1 ft 6 in", [(None, 685.8, 457.2, None, None)]),
    ("2' 3\" x 1' 6\"", [(None, 685.8, 457.2, None, None)]),
    ("61x50cm", [(None, 610, 500, None, None)]),
    ("1,250 x 980 mm", [(None, 1250, 980, None, None)]),
    ("1,25 x 0,98 m", [(None, 1250, 980, None, None)]),
    ("61 x 50 x 3 cm", [(None, 610, 500, 30, None)]),
    ("H. 61 cm; W. 50 cm", [(None, 610, 500, None, None)]),
    ("B 50 x H 61 cm", [(None, 610, 500, None, None)]),
    ("h 61 x w 50 x d 3 cm", [(None, 610, 500, 30, None)]),
    ("61 cm high, 50 cm wide", [(None, 610, 500, None, None)]),
    ("Height: 61 cm, width: 50 cm", [(None, 610, 500, None, None)]),
    ("61 cm high x 50 cm wide", [(None, 610, 500, None, None)]),
    ("50 x 61 cm (B x H)", [(None, 610, 500, None, None)]),
    ("W x H: 50 x 61 cm", [(None, 610, 500, None, None)]),
    ("diameter 30 cm", [(None, None, None, None, 300)]),
    ("Ø 30,5 cm", [(None, None, None, None, 305)]),
    ("Framed: 80 x 70 cm", [("framed", 800, 700, None, None)]),
    ("61 x 50 cm (unframed)", [("support", 610, 500, None, None)]),
    ("62 x 38 mm label", [("label", 62, 38, None, None)]),
    ("50 x 40 cm ohne Rahmen", [("support", 500, 400, None, None)]),
    (
        "61 x 50 cm, framed 80 x 70 cm",
        [(None, 610, 500, None, None), ("framed", 800, 700, None, None)],
    ),
    (
        "24 1/2 x 20 in. (62.2 x 50.8 cm)",
        [(None, 622.3, 508, None, None), (None, 622, 508, None, None)],
    ),
    (
        "Frame: 31 × 27 in (78.7 × 68.6 cm)",
        [("framed", 787.4, 685.8, None, None), ("framed", 787, 686, None, None)],
    ),
    (
        "sight 58 x 47 cm; support 61 x 50 cm; with frame 75 x 64 x 5 cm",
        [
            ("sight", 580, 470, None, None),
            ("support", 610, 500, None, None),
            ("framed", 750, 640, 50, None),
        ],
    ),
    ("Oil on panel, dated 1885, 30 x 40 cm", [(None, 300, 400, None, None)]),
    # one size in two units
    (
        "H. 13-1/2 in. (34.3 cm.); W. 10-1/8 in. (25.7 cm.)",
        [(None, 342.9, 257.18, None, None), (None, 343, 257, None, None)],
    ),
    (
        "24 in. (61 cm) x 20 in. (50.8 cm)",
        [(None, 609.6, 508, None, None), (None, 610, 508, None, None)],
    ),
    (
        "W 20 x H 24 in. (50.8 x 61 cm)",
        [(None, 609.6, 508, None, None), (None, 610, 508, None, None)],
    ),
    (
        "12 1/2 in. (31.8 cm) diam.",
        [(None, None, None, None, 317.5), (None, None, None, None, 318)],
    ),
    (
        "24 x 20 in. / 61 x 51 cm",
        [(None, 609.6, 508, None, None), (None, 610, 510, None, None)],
    ),
    (
        "7 ft. 5 in. x 6 ft. 3 in. (226.1 x 190.5 cm)",
        [(None, 2260.6, 1905, None, None), (None, 2261, 1905, None, None)],
    ),
    (
        "unframed: 61 by 51 cm.; 24 by 20 in. framed: 80 by 70 cm.; 31 1/2 by 27 1/2 in.",
        [
            ("support", 610, 510, None, None),
            ("support", 609.6, 508, None, None),
            ("framed", 800, 700, None, None),
            ("framed", 800.1, 698.5, None, None),
        ],
    ),
    (
        "sight 24 x 20 in.; 80 x 70 cm framed",
        [("sight", 609.6, 508, None, None), ("framed", 800, 700, None, None)],
    ),
    # what was measured, before the figures and behind them
    (
        "30 x 26 x 3 in. (76.2 x 66.04 x 7.62 cm) (outer frame)",
        [("framed", 762, 660.4, 76.2, None), ("framed", 762, 660.4, 76.2, None)],
    ),
    (
        "support: 610 x 508 mm frame: 760 x 660 x 70 mm",
        [("support", 610, 508, None, None), ("framed", 760, 660, 70, None)],
    ),
    (
        "60 x 80 cm ohne Rahmen, 80 x 100 cm mit Rahmen",
        [("support", 600, 800, None, None), ("framed", 800, 1000, None, None)],
    ),
    (
        "60 x 80 cm, gerahmt, 80 x 100 cm",
        [(None, 600, 800, None, None), ("framed", 800, 1000, None, None)],
    ),
    ("Composition (irreg.): 25 × 18.3 cm", [("image", 250, 183, None, None)]),
    ("61 x 50 cm (support, canvas/panel external)", [("support", 610, 500, None, None)]),
    ("Overall (without frame): 24 x 20 in.", [("support", 609.6, 508, None, None)]),
    ("Rahmenmaß 80 x 100 cm", [("framed", 800, 1000, None, None)]),
    ("oil on canvas, 61 x 50 cm", [(None, 610, 500, None, None)]),
    ("canvas: 61 x 50 cm", [("support", 610, 500, None, None)]),
    ("Overall: 61 x 50 cm", [(None, 610, 500, None, None)]),
    # a unit before the figures, or behind them all
    ("cm 65,5 x 81", [(None, 655, 810, None, None)]),
    ("olio su tela, cm. 65,5x81", [(None, 655, 810, None, None)]),
    ("Hauteur en cm : 65 ; Largeur en cm : 81", [(None, 650, 810, None, None)]),
    ("H. 73 ; L. 92 ; en cm", [(None, 730, 920, None, None)]),
    ("Height (cm): 65; Width (cm): 81", [(None, 650, 810, None, None)]),
    ("65 x 81 (cm)", [(None, 650, 810, None, None)]),
    ("900 (height) x 760 (width) mm", [(None, 900, 760, None, None)]),
    ("16 h × 10⅜ w in", [(None, 406.4, 263.52, None, None)]),
    ("1,23 m x 98 cm", [(None, 1230, 980, None, None)]),
    ("24 in x 20", [(None, 609.6, 508, None, None)]),
    # words for measures
    ("60 x 80 cm (HxB)", [(None, 600, 800, None, None)]),
    ("60 x 80 cm (BxH)", [(None, 800, 600, None, None)]),
    ("Alto: 65 cm; Ancho: 81 cm", [(None, 650, 810, None, None)]),
    ("Image: 610mm (width), 508mm (height)", [("image", 508, 610, None, None)]),
    ("H: 12 3/8 × W: 9 1/2 × Approx. D: 1 3/8 in.", [(None, 314.32, 241.3, 34.92, None)]),
    ("18 1/2 inches high by 24 inches wide", [(None, 469.9, 609.6, None, None)]),
    ("length 30 cm, width 20 cm", [(None, 300, 200, None, None)]),
    ("H 24 L 30 cm", [(None, 240, 300, None, None)]),
    ("height 61 cm × width 50 cm × weight 3 kg", [(None, 610, 500, None, None)]),
    (
        "a) 24 x 20 cm b) 30 x 40 cm",
        [(None, 240, 200, None, None), (None, 300, 400, None, None)],
    ),
    (
        "(a) 24 x 20 cm; (b) 30 x 40 cm",
        [(None, 240, 200, None, None), (None, 300, 400, None, None)],
    ),
    ("H. 24 x 20 cm", [(None, 240, 200, None, None)]),
    ("b. 1860, d. 1930, 30 x 40 cm", [(None, 300, 400, None, None)]),
    ("support, circular: 320 x 320 mm", [("support", 320, 320, None, None)]),
    ("H with frame: 24 1/2 × W with frame: 20 in.", [("framed", 622.3, 508, None, None)]),
    ("H (max): 12 in. x W (max): 9 in.", [(None, 304.8, 228.6, None, None)]),
    ("Height: 61.5cm estimate, Width: 50cm", [(None, 615, 500, None, None)]),
    (
        "Support height 56.5 cm Support width 43.5 cm Frame height 70 cm Frame width 57 cm",
        [("support", 565, 435, None, None), ("framed", 700, 570, None, None)],
    ),
    (
        "Höhe: 61 cm Breite: 50 cm Rahmen: Höhe: 80 cm Breite: 70 cm",
        [(None, 610, 500, None, None), ("framed", 800, 700, None, None)],
    ),
    ("30 x 24 in., 12 lb.", [(None, 762, 609.6, None, None)]),
    # feet, fractions, shapes, ranges
    ("10'3 3/8\" x 6'11 1/8\"", [(None, 3133.72, 2111.38, None, None)]),
    ("H. 0m61 ; L. 0m50", [(None, 610, 500, None, None)]),
    ("1 m 20 x 98 cm", [(None, 1200, 980, None, None)]),
    ("6 ft. 2 1/2 in. x 4 ft.", [(None, 1892.3, 1219.2, None, None)]),
    ("6 feet 2 1/2 inches × 48 inches", [(None, 1892.3, 1219.2, None, None)]),
    ("4 ft 2 × 3 ft 1 in", [(None, 1270, 939.8, None, None)]),
    ("24 3 / 4 x 20 in.", [(None, 628.65, 508, None, None)]),
    ("25³⁄₈ x 30 in.", [(None, 644.52, 762, None, None)]),
    ("1'250 x 980 mm", [(None, 1250, 980, None, None)]),
    ("61 x 50 x 3 cm (h x w)", [(None, 610, 500, 30, None)]),
    ("H. 61 cm; L. 50 cm; P. 3 cm", [(None, 610, 500, 30, None)]),
    ("61cmx50cm", [(None, 610, 500, None, None)]),
    ("24inx20in", [(None, 609.6, 508, None, None)]),
    ("12500 x 9800 mm", [(None, 12500, 9800, None, None)]),
    (".98 x 1.2 m", [(None, 980, 1200, None, None)]),
    ("tondo, 30 cm", [(None, None, None, None, 300)]),
    ("12 in. square", [(None, 304.8, 304.8, None, None)]),
    ("30-31 x 40 cm", [(None, 305, 400, None, None)]),
]

NOTHING = [
    "", "25 x 30", "30 cm", "d. 30 cm", "65 mm from the edge", "dated 1885", "0 x 5 cm", "1/0 x 2 cm",
    "99999999 x 2 m", "12 x 12 x 12 x 12 cm", "1.2.3 x 4 cm", "14 Gannet Steps", "h 61 x h 50 cm", "ø 30", "40 x 50", "15 M. Harrow", "12 figures", "62 mm x 14 threads", "tape T2\", F3", "H319 [m]",
]  # fmt: skip

# Imperial fractions: arithmetic, as in the check values of the dating sheet.
INCHES = [
    ("24", 609.6), ("30", 762.0), ("36 1/4", 920.75), ("29 7/8", 758.82), ("24 1/2", 622.3),
    ("18 3/8", 466.72), ("44 3/8", 1127.12), ("12 5/16", 312.74), ("0 1/16", 1.59), ("0 1/32", 0.79),
]  # fmt: skip


@pytest.mark.parametrize(("text", "expected"), SIZES)
def test_a_size_is_read_as_these_millimetres(text, expected):
    found = [
        (each.what, each.height_mm, each.width_mm, each.depth_mm, each.diameter_mm)
        for each in read_sizes(text)
    ]
    assert found == expected


@pytest.mark.parametrize("text", NOTHING)
def test_where_no_unit_or_no_second_figure_is_written_nothing_is_guessed(text):
    assert read_sizes(text) == ()


@pytest.mark.parametrize(("inches", "mm"), INCHES)
def test_fractions_of_an_inch(inches, mm):
    (size,) = read_sizes(f"{inches} x 10 in.")
    assert size.height_mm == pytest.approx(mm, abs=0.011)


@pytest.mark.parametrize("text", [text for text, _ in SIZES])
def test_what_is_written_stands_where_it_is_said_to_stand(text):
    for size in read_sizes(text):
        assert text[size.start : size.end] == size.written
        assert size.what is None or known(f"size/{size.what}")


def test_a_written_size_has_no_words_around_it():
    assert [each.written for each in read_sizes("W x H: 50 x 61 cm, framed")] == ["50 x 61 cm"]


@given(st.data(), st.integers(1, 200), st.sampled_from([2, 4, 8, 16, 32]))
def test_every_fraction_is_exact_to_a_hundredth_of_a_millimetre(data, whole, below):
    above = data.draw(st.integers(1, below - 1))
    (size,) = read_sizes(f"{whole} {above}/{below} x 10 in")
    assert size.height_mm == round(float((whole + Fraction(above, below)) * INCH), 2)
    assert size.within_mm == round(float(INCH / below / 2), 4)


# Banks of strings: every way to write the figures of a size, crossed with every way to set them down.
INCHES_BANK = [
    (Fraction(195, 8), ["24 3/8", "24-3/8", "24⅜", "24³⁄₈", "24.375"]),
    (Fraction(20), ["20", "20.0"]),
    (Fraction(149, 16), ["9 5/16", "9-5/16"]),
    (Fraction(1, 2), ["1/2", "½", ".5"]),
]
METRIC_BANK = [
    (Fraction("61.9"), ["61.9", "61,9", "61.90"]),
    (Fraction("50"), ["50", "50.0", "50,0"]),
    (Fraction("120.65"), ["120.65", "120,65"]),
]
PAIRS = [
    "{a}{b} x {c}{b}", "{a} x {c}{b}", "{a} × {c}{b}", "{a}x{c}{b}", "{a} X {c}{b}", "H: {a}xW: {c}{b}", "{a} by {c}{b}",
    "H. {a}{b}; W. {c}{b}", "H. {a}, W. {c}{b}", "H: {a}{b} × W: {c}{b}", "h. {a}{b} w. {c}{b}",
    "W. {c}{b} x H. {a}{b}", "Height: {a}{b}\nWidth: {c}{b}", "{a}{b} high x {c}{b} wide",
    "{a}{b} (height), {c}{b} (width)", "Höhe {a}{b}, Breite {c}{b}", "{c} x {a}{b} (B x H)",
    "W x H: {c} x {a}{b}", "haut. {a}{b} ; larg. {c}{b}", "Oval, {a} x {c}{b}", "Unframed: {a} x {c}{b}",
    "{a} x {c}{b} (sight)", "Overall: {a} x {c}{b} irregular",
]  # fmt: skip
INCH_SIGNS = [" in.", "in", '"']
CM_SIGNS = [" cm", "cm."]


@pytest.mark.parametrize("form", PAIRS)
@pytest.mark.parametrize(
    ("bank", "signs", "unit"),
    [(INCHES_BANK, INCH_SIGNS, INCH), (METRIC_BANK, CM_SIGNS, Fraction(10))],
    ids=["inches", "centimetres"],
)
def test_every_figure_in_every_form_comes_to_its_millimetres(form, bank, signs, unit):
    for (height, heights), (width, widths) in product(bank, repeat=2):
        for a, c, sign in product(heights, widths, signs):
            text = form.format(a=a, b=sign, c=c)
            (size,) = read_sizes(text)
            assert (size.height_mm, size.width_mm, size.depth_mm) == (
                round(float(height * unit), 2), round(float(width * unit), 2), None,
            ), text  # fmt: skip


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("63,5 x 76,2 cm", 0.5), ("25 1/8 x 30 in.", 1.5875), ("61 x 50 cm", 5), ("61 x 50.8 cm", 0.5),
        ("610 x 500 mm", 0.5), ("1,25 x 0,98 m", 5), ("2 ft 3 in x 1 ft", 12.7), ("24 x 20 in.", 12.7),
        ("24 1/2 x 20 in.", 6.35), ("60.96 x 50.8 cm", 0.05), ("30-31 x 40 cm", 5), ("30.5-31 x 40 cm", 3),
    ],
)  # fmt: skip
def test_the_precision_is_half_of_the_smallest_step_that_is_written(text, mm):
    assert read_sizes(text)[0].within_mm == mm


@pytest.mark.parametrize(
    ("text", "names", "height", "width", "doubt"),
    [
        ("12 F", ("12F",), 610, 500, "number"),
        ("No. 12 Figure", ("12F",), 610, 500, ""),
        ("toile de 12 paysage", ("12P",), 460, 610, ""),
        ("châssis n° 8 M", ("8M",), 270, 460, ""),
        ("toile de 30", ("30F", "30P", "30M"), 920, 730, "format"),
        ("120 F", ("120F",), 1950, 1300, "number"),
    ],
)
def test_a_french_number_is_the_size_of_the_table(text, names, height, width, doubt):
    (size,) = read_sizes(text)
    assert (size.canvas, size.height_mm, size.width_mm) == (names, height, width)
    assert size.doubt == (table()["doubt"][doubt] if doubt else "")
    assert size.within_mm == 10


@pytest.mark.parametrize(
    "text", ["13 F", "No. 12", "£12 F", "12 F 50", "12…F", "1912 F", "F 12"]
)
def test_no_french_number_is_made_of_what_is_none(text):
    assert read_sizes(text) == ()


def test_a_named_size_beside_a_measured_one_is_one_more():
    measured, named = read_sizes("65 x 54 cm (15 F)")
    assert (measured.canvas, named.canvas) == ((), ("15F",))


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("25 17/0 x 30 in.", "25 17/0 is no number"), ("1/0 x 2 cm", "1/0 is no number"),
        ("25 9/8 x 3 in.", "25 9/8 is no number"), ("1.2.3 x 4 cm", "1.2.3 is no number"),
        ("0 x 5 cm", "more than nothing"), ("99999999 x 2 m", "at most 100 metres"),
        ("h 61 x h 50 cm", "the same measure"), ("12 x 12 x 12 x 12 cm", "at most a height"),
        ("31-30 x 40 cm", "31-30 is no number"),
        ("b. 1860 in Ghent, d. 1930 in Bath", "is it a year?"),
    ],
)  # fmt: skip
def test_a_size_that_cannot_be_is_refused_in_words(text, why):
    assert read_sizes(text) == ()
    (refused,) = sizes_refused(text)
    assert why in refused.why
    assert text[refused.start : refused.end] == refused.written


@pytest.mark.parametrize(
    "text",
    ["6… x 50 cm", "…1 x 50 cm", "61 x 5…0 cm", "61 x …,5 cm", "61… cm x 50 cm", "61 x 50… cm", "61 1/… x 50 in.", "61 x … x 50…"],
)  # fmt: skip
def test_no_size_is_read_where_a_figure_of_it_may_be_lost(text):
    assert read_sizes(text) == ()


def test_a_loss_that_does_not_touch_the_figures_takes_nothing_away():
    assert [each.written for each in read_sizes("… 61 x 50 cm …")] == ["61 x 50 cm"]


EVIL = ["1 ", "1x", "((1 ", "H x ", "½", "a", "1 (1 in) ", "oval, "]


@pytest.mark.parametrize("again", EVIL)
def test_a_long_text_of_one_form_is_read_to_its_end(again):
    """Nothing is measured: were the time to grow with the square, this would take minutes."""
    text = again * (20_000 // len(again))
    for size in read_sizes(text):
        assert text[size.start : size.end] == size.written


def test_feet_by_the_dozen_are_asked_about():
    assert read_sizes("24' x 36'")[0].doubt == table()["doubt"]["feet"]
    assert read_sizes("8' x 12'")[0].doubt == ""


@pytest.mark.parametrize(
    ("text", "left"),
    [
        ("Overall: 24 x 20 in.", ""), ("Framed: 30 x 26 in. (76.2 x 66 cm)", ""),
        ("oil, 24 x 20 in., oval", "oil, "), ("Oval, 24 x 20 in.", ""), ("cm 65 x 81", ""),
        ("24 x 20 in. (sight), signed", ", signed"), ("W x H: 50 x 61 cm", ""), ("No. 12 Figure", ""),
        ("oil on canvas, 24 x 20 in.", "oil on canvas, "), ("(24 x 20 in.)", ""), ("About 24 by 20 in.", ""),
    ],
)  # fmt: skip
def test_the_words_that_were_understood_are_said_to_be(text, left):
    said = [size.said for size in read_sizes(text)]
    outside = [at for at in range(len(text)) if not any(a <= at < b for a, b in said)]
    assert "".join(text[at] for at in outside) == left


@pytest.mark.parametrize("key", table()["what"])
def test_every_word_for_what_was_measured_is_read(key):
    for words in table()["what"][key].values():
        for word in words:
            for text in (f"{word}: 30 x 40 cm", f"30 x 40 cm ({word})"):
                assert [size.what for size in read_sizes(text)] == [key], text


@pytest.mark.parametrize("unit", table()["unit"])
def test_every_word_for_a_unit_is_read(unit):
    for word in table()["unit"][unit]:
        (size,) = read_sizes(f"3 {word} x 2 {word}")
        assert size.height_mm == round(float(3 * Fraction(table()["millimetres"][unit])), 2), (
            word
        )


@pytest.mark.parametrize("measure", ["height", "width", "depth", "diameter"])
def test_every_word_for_a_measure_is_read(measure):
    for word in table()["measure"][measure]:
        found = read_sizes(f"{word} 30 cm")
        alone = word.lower() not in table()["unclear_alone"]
        assert [getattr(size, f"{measure}_mm") for size in found] == [300] * alone, word


SPELT = "0123456789 x×,./½'\"cminhwd()-:ftF[]=;|\n"


@given(st.text(alphabet=SPELT, max_size=40))
@example("in cm in (")
@example("H(")
def test_no_text_at_all_raises(text):
    for size in read_sizes(text):
        assert text[size.start : size.end] == size.written
        assert size.said[0] <= size.start <= size.end <= size.said[1]
    for refused in sizes_refused(text):
        assert text[refused.start : refused.end] == refused.written
