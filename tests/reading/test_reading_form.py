"""What was printed on a label and what was filled in: kept apart, and both kept."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalogue.reading import read

_BITS = ["@p ", "@h ", "@h2(pencil) ", "@s ", "@t ", " @p ", " @h ", "(blank)", "|", "||", "\n",
    "No.", " Lot ", "12", "[...]", "[abc]", "[[", "]]", "*", "{{crown}}", "/* note */", "<a=b>",
    "Gal.(erie)", "&((and))", "\\{", "\\}", "{", "}", "=|", "-|", "a_", "e\u0301",
]  # fmt: skip
forms = st.lists(st.sampled_from(_BITS), max_size=30).map("".join)


def told(label, **how):
    return [(each.caption, each.technique, each.seen) for each in read(label).filled(**how)]


def test_hands_may_alternate_within_a_line():
    reading = read("@p Inv. Nr. @h 4+7 @p vom @s 12. MAI @p 19 @h2(pencil) 21")
    assert reading.printed() == "Inv. Nr. vom 19"
    assert reading.form().template == "Inv. Nr. {1} vom {2} 19 {3}"
    assert [(f.technique, f.seen) for f in reading.filled()] == [
        ("handwritten", "4…7"),
        ("stamped", "12. MAI"),
        ("handwritten", "21"),
    ]
    last = reading.filled()[-1]
    assert (last.hand.number, last.hand.medium) == (2, "pencil")


def test_a_field_left_empty_is_a_blank_without_a_hand():
    reading = read("@p Title: (blank)|@p Size: @h (blank) |@p Price: @h 30 gns")
    assert reading.form().template == "Title: {1}\nSize: {2}\nPrice: {3}"
    assert [(f.caption, f.left_empty) for f in reading.filled()] == [
        ("Title:", True),
        ("Size:", True),
        ("Price:", False),
    ]


def test_two_hands_at_one_blank_are_two_fillings():
    assert told("@p Price: @h [[30]] @h2(red chalk) 25") == [
        ("Price:", "handwritten", "30"),
        ("Price:", "handwritten", "25"),
    ]


def test_a_filling_keeps_what_is_seen_and_what_it_says():
    (filling,) = read("@p Lot @h Gal.(erie) [[12]]<<13>> [abc]").filled()
    assert (filling.seen, filling.plain) == ("Gal. 12 13 …", "Galerie 13 abc")


def test_a_stamp_without_text_is_filled_in_too():
    (filling,) = read("@p Passed: @s {{eagle over shield}}").filled()
    assert (filling.technique, filling.seen, filling.drawn) == (
        "stamped",
        "",
        ("eagle over shield",),
    )


def test_a_gap_in_the_printed_part_stays_a_gap_unless_asked():
    reading = read("@p Ga[lerie] No. @h 12")
    assert reading.printed() == "Ga… No."
    assert reading.printed("plain") == "Galerie No."


def test_a_hand_inside_another_sign_changes_the_hand_from_there():
    reading = read("@p *Lot @h 12* 13 @p end")
    assert (reading.printed(), told("@p *Lot @h 12* 13 @p end")) == (
        "Lot end",
        [("Lot", "handwritten", "12 13")],
    )


def test_two_labels_of_one_form_have_the_same_printed_text():
    one = read("@p Title: @h Low Tide |@p Price: @h 30 gns")
    other = read("@p Title: @t THE MILL|@p Price: (blank)")
    assert one.printed() == other.printed()
    assert one.form().template == other.form().template


@pytest.mark.parametrize(
    ("unsaid", "printed", "filled"),
    [("printed", "Lot", "12"), ("handwritten", "", "Lot"), ("stencilled", "", "Lot")],
)
def test_before_the_first_sign_the_technique_is_the_inscriptions(unsaid, printed, filled):
    reading = read("Lot @h 12")
    assert reading.printed(unsaid=unsaid) == printed
    assert reading.filled(unsaid=unsaid)[0].seen == filled


def test_a_brace_on_the_label_is_no_blank():
    assert read("@p \\{1\\} @h 2").form().template == "{{1}} {1}"


@given(forms)
def test_the_form_and_its_fillings_are_the_whole_label(markup):
    reading = read(markup)
    form = reading.form()
    texts = {f"{{{each.number}}}": each.seen for each in form.fillings}
    assert re.findall(r"\{\d+\}", re.sub(r"\{\{|\}\}", "", form.template)) == list(texts)
    whole = re.sub(
        r"\{\{|\}\}|\{\d+\}",
        lambda sign: texts.get(sign[0], sign[0][0]),
        form.template,
    )
    assert "".join(whole.split()) == "".join(reading.seen().split())
    assert "".join(form.printed.split()) == "".join(
        re.sub(r"\{\{|\}\}|\{\d+\}", lambda s: "" if s[0] in texts else s[0][0], form.template)
        .split()
    )  # fmt: skip


@given(forms)
def test_each_filling_knows_where_it_was_typed(markup):
    end = 0
    for filling in read(markup).filled():
        assert end <= filling.start < filling.end <= len(markup)
        assert filling.left_empty is (filling.technique is None)
        letters = [letter for letter in filling.seen if letter.isalnum() and letter.isascii()]
        typed = iter(markup[filling.start : filling.end])
        assert all(letter in typed for letter in letters)
        end = filling.end
