"""Questions as they are typed, and what is understood: by hand, in tables, and by chance.

The forms of questions come from the list of what restorers ask of past jobs (trade sheet, section 5);
days are worked out with `datetime`, the reference library, not with our own calendar.
"""

from __future__ import annotations

import datetime
import math
import re
from itertools import islice

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from catalogue.indexes.folding import LONGEST, tokens
from catalogue.indexes.language.fields import facts, field_called, fields, flags, table
from catalogue.indexes.language.filters import as_wish
from catalogue.indexes.language.help import help_sections
from catalogue.indexes.language.understanding import MOST_SOUGHT, understand
from catalogue.indexes.language.values import values_of
from catalogue.indexes.language.writing import with_fact, written_again
from catalogue.indexes.question import Query
from catalogue.indexes.wish import (
    AllOf,
    AnyOf,
    Elsewhere,
    Fact,
    InTime,
    Measured,
    Name,
    Not,
    Run,
    Word,
)
from catalogue.measure import Day
from catalogue.terms import groups

TODAY = Day(2026, 3, 1)


def asked(typed):
    return understand(typed, TODAY)


def wish(typed):
    return asked(typed).wish


def day(*when):
    return datetime.date(*when).toordinal()


def years(first, last):
    return day(first, 1, 1), day(last, 12, 31)


# --- words ------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "typed",
    ["S.W.7", "H.M.S.", "O'Hara", "No 14", "12F", "£12 10s", "120 gns", "#14", "a/b", "2026-041",
     "http://framers.example/prices?x=1", 'size 24" x 36"', "Ref:12", "12:30", "à l'huile", "1,234",
     "made in England", "painted by hand", "near the door", "cadre en or", "or fin 24 carats",
     "date on the back", "label", "title page", "since", "certainly", "also", "Smith AND", "A - B",
     "length", "note before", "(Smith)", "back – left", "5 x 7", "½", "Müller"],
)  # fmt: skip
def test_what_stands_on_labels_is_nothing_but_words(typed):
    found = wish(typed)
    words = [
        word.written
        for part in (found.parts if isinstance(found, AllOf) else (found,))
        for word in (part.words if isinstance(part, Run) else (part,))
    ]
    assert words == [typed[each.start : each.end] for each in tokens(typed)]


@pytest.mark.parametrize(
    ("typed", "expected"),
    [
        ("harrowell~", Word("harrowell", alike=1)),
        ("harrowell~2", Word("harrowell", alike=2)),
        ("title:harbour", Word("harbour", fields=("title",))),
        ("titled:harbour", Word("harbour", fields=("title",))),
        ('title:"low tide"', Run((Word("low", fields=("title",)), Word("tide", fields=("title",))))),
        ("[Cub]itt", Word("Cubitt")),
        ("Gal.(erie)", Word("Galerie")),
        ('"or"', Word("or")),
        ("'or'", Word("or")),
        ("a near/5 b", Run((Word("a"), Word("b")), 5)),
        ("a near/5 b near/5 c", Run((Word("a"), Word("b"), Word("c")), 5)),
        ("-frame", Not(Word("frame"))),
        ("not frame", Not(Word("frame"))),
        ("--frame", Word("frame")),
        ("-(-(frame))", Word("frame")),
        ("a or b or c", AnyOf((Word("a"), Word("b"), Word("c")))),
        ("a OR b", AnyOf((Word("a"), Word("b")))),
        ("(a b) or c", AnyOf((AllOf((Word("a"), Word("b"))), Word("c")))),
        ("a (b or c)", AllOf((Word("a"), AnyOf((Word("b"), Word("c")))))),
        ("also (a)", Elsewhere(Word("a"))),
        ("without (a b)", Elsewhere(AllOf((Word("a"), Word("b"))), there=False)),
        ("title:(a or b)", AnyOf((Word("a", fields=("title",)), Word("b", fields=("title",))))),
    ],
)  # fmt: skip
def test_words_together_and_apart(typed, expected):
    assert wish(typed) == expected


@pytest.mark.parametrize(
    ("typed", "fits", "others"),
    [
        ("c?b*tt", ["cubitt", "cabett"], ["cubit", "cbtt"]),
        ("C[..]itt", ["cubitt"], ["cubbitt", "citt"]),
        ("Cub+++", ["cubitt"], ["cub", "cubits1"]),
        ("C\u0323ubit\u0323t", ["cubitt", "rubilt"], ["cubit"]),
        ("C[---]tt", ["cubitt", "ctt"], ["cubit"]),
        ("cubitt?", ["cubitt", "cubitts"], ["cubittss"]),
        ("*bitt", ["cubitt", "bitt"], ["bitter"]),
        ("C[..]i*", ["cubitt", "cabi"], ["cubbitt", "citt"]),
    ],
)
def test_open_letters(typed, fits, others):
    pattern = re.compile(wish(typed).pattern)
    assert all(map(pattern.fullmatch, fits))
    assert not any(map(pattern.fullmatch, others))


# --- facts and figures --------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("typed", "field", "values"),
    [
        ("face:back", "face", ("face/back",)),
        ("side:Verso", "face", ("face/back",)),
        ("light:UV", "light", ("light/ultraviolet",)),
        ("light:raking light", "light", ("light/raking",)),
        ("light: raking", "light", ("light/raking",)),
        ("technique:technique/ink", "technique", ("technique/ink",)),
        ("technique:ink,pencil", "technique", ("technique/ink", "technique/pencil")),
        ("colr:green", "colour", ("colour/green",)),
        ("colour:gren", "colour", ("colour/green",)),
        ("town:Ghent", "town", ("ghent",)),
        ('town:"The Hague"', "town", ("the hague",)),
        ("lot:B-0219", "lot", ("b-0219",)),
        ("job:2024-017", "job", ("2024-017",)),
        ("unit:gns", "unit", ("guinea",)),
        ("is:open-gap", "is", ("open-gap",)),
        ("is:open gap", "is", ("open-gap",)),
        ("kind:proposals", "kind", ("proposal",)),
        ("artist:party/12345678-1234-1234-1234-123456789012", "artist",
         ("party/12345678-1234-1234-1234-123456789012",)),
        ("now:store", "place", ("store",)),
        ("kind:step/", "kind", ("step",)),
        ("kind:step/,treatment/", "kind", ("step", "treatment")),
    ],
)  # fmt: skip
def test_facts_by_their_words(typed, field, values):
    assert wish(typed) == Fact(field, values)


def test_labels_are_labels_of_every_kind():
    found = wish("kind:label").values
    every = {
        f"inscription/{kind}-label" for kind in ("dealer", "exhibition", "framer", "auction")
    }
    assert every | {"inscription/label"} <= set(found)
    assert wish("kind:labels") == wish("kind:label")
    assert not any(each.startswith(("step/", "test/")) for each in found)


@pytest.mark.parametrize("field", ["artist", "firm", "owner", "client", "person"])
def test_names_are_kept_as_written(field):
    assert wish(f'{field}:"J. Harrowell"') == Name("J. Harrowell", field)
    assert wish(f"{field}: Harrowell") == Name("Harrowell", field)


@pytest.mark.parametrize(
    ("typed", "least", "most"),
    [
        ("length:60", 60, 60),
        ("length:50..100", 50, 100),
        ("length:5..10cm", 50, 100),
        ("length:5cm..10cm", 50, 100),
        ("length:50-100", 50, 100),
        ("length:2,5cm", 25, 25),
        ("length:2in", 50.8, 50.8),
        ("length:>=50", 50, None),
        ("length:<=5cm", None, 50),
        ("length:>50", math.nextafter(50, math.inf), None),
        ("length:<50", None, math.nextafter(50, -math.inf)),
        ("length:50..", 50, None),
        ("length:..50", None, 50),
        ("length > 5 cm", math.nextafter(50, math.inf), None),
        ("length>5cm", math.nextafter(50, math.inf), None),
        ("long:100..50", 50, 100),
        ('length:"5 cm"', 50, 50),
        ("length: 5 cm", 50, 50),
    ],
)
def test_figures_in_their_units(typed, least, most):
    assert wish(typed) == Measured("length", least, most)


def test_sums_of_money_by_their_first_figure_and_unit():
    assert wish("price:120gns") == AllOf(
        (Measured("price", 120, 120), Fact("unit", ("guinea",)))
    )
    assert wish('price:"£12 10s"') == AllOf(
        (Measured("price", 12, 12), Fact("unit", ("pound",)))
    )
    assert wish("price:100..150") == Measured("price", 100, 150)


def test_a_size_is_length_width_or_height():
    assert {each.field for each in wish("size:>50").parts} == {"length", "width", "height"}


# --- time ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("typed", "what", "first", "last"),
    [
        ("painted 1880..1890", "made", *years(1880, 1890)),
        ("painted 1880…1890", "made", *years(1880, 1890)),
        ("painted:1880..1890", "made", *years(1880, 1890)),
        ("painted c. 1885", "made", *years(1880, 1890)),
        ("painted 1880-1890", "made", *years(1880, 1890)),
        ("painted between 1880 and 1890", "made", *years(1880, 1890)),
        ("painted from 1880 to 1890", "made", *years(1880, 1890)),
        ("made in 1912", "made", *years(1912, 1912)),
        ("painted 1890..1880", "made", *years(1880, 1890)),
        ("painted since 1880", "made", day(1880, 1, 1), None),
        ("painted after 1880", "made", day(1881, 1, 1), None),
        ("painted before 1880", "made", None, day(1879, 12, 31)),
        ("painted until 1880", "made", None, day(1880, 12, 31)),
        ("painted ..1880", "made", None, day(1880, 12, 31)),
        ("painted 12 May 1903..June 1904", "made", day(1903, 5, 12), day(1904, 6, 30)),
        ("dated 1917..", "own", day(1917, 1, 1), None),
        ("1880..1890", "any", *years(1880, 1890)),
        ("older than 30 days", "own", None, day(2026, 1, 29)),
        ("in the last 12 months", "own", day(2025, 3, 1), day(2026, 3, 1)),
        ("last week", "own", day(2026, 2, 22), day(2026, 3, 1)),
    ],
)
def test_time_as_one_writes_it(typed, what, first, last):
    assert wish(typed) == InTime(what, first, last)


@pytest.mark.parametrize(
    ("typed", "kinds"),
    [
        ("treated since 2019", ("step", "treatment")),
        ("checked since 2019", ("check", "finding")),
        ("signed since 2019", ("inscription/signature", "inscription/monogram")),
        ("stamp 2019..", values_of(facts()["kind"], "stamp").keys),
        ("dealer label since 2019", ("inscription/dealer-label",)),
        ("proposals 2019..", ("proposal",)),
    ],
)
def test_a_kind_and_the_time_of_its_statement(typed, kinds):
    assert wish(typed) == AllOf((Fact("kind", kinds), InTime("own", day(2019, 1, 1), None)))


def test_certainly_goes_before_a_time():
    assert wish("certainly painted 1880..1890") == InTime("made", *years(1880, 1890), True)
    assert wish("certainly label 1917..").parts[1].certainly
    assert wish("certainly painted:1885").certainly


def test_a_date_ends_where_it_ends():
    assert wish("painted c. 1885 harrowell") == AllOf(
        (InTime("made", *years(1880, 1890)), Word("harrowell"))
    )
    assert wish("label painted 1880..1890").parts[0] == Word("label")
    assert wish("label painted 1880..1890").parts[1].what == "made"
    assert wish("label 1917").parts == (Word("label"), Word("1917"))
    assert wish("label 1917.. green").parts[2] == Word("green")


def test_a_month_back_from_its_last_day():
    found = understand("treated in the last month", Day(2026, 3, 31)).wish.parts[1]
    assert found.earliest == day(2026, 2, 28)


# --- what is said ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "row", [row for each in help_sections() for row in each.rows], ids=lambda row: row.typed
)
def test_the_help_says_what_happens(row):
    found = asked(row.typed)
    assert found.said == row.said
    assert not found.hints
    assert not found.ignored
    assert written_again(found.wish)


@pytest.mark.parametrize(
    ("typed", "hint"),
    [
        ('"low tide', "nothing closed the quotation mark"),
        ("(low tide", "nothing closed a bracket"),
        ("low) tide", "nothing to close"),
        ("colr:green", "“colr:” was read as “colour:”"),
        ("colour:gren", "“gren” was read as “green”"),
        ("colour:zebra", "knows no “zebra”"),
        ("length:wide", "type length:>50"),
        ("painted:zebra", "“zebra” is no date"),
        ("sort:zebra", "“zebra” is none of these"),
        ("kind:", "nothing stands behind “kind:”"),
        ("not for sale", "in quotation marks it is a word"),
        ("cadre en or", "“or” had nothing on one side"),
        ("certainly blue", "goes before a time"),
        ("without frame", "type: without ( … )"),
    ],
)
def test_mistakes_are_hinted_at(typed, hint):
    found = asked(typed)
    assert any(hint in each for each in found.hints), found.hints


@pytest.mark.parametrize("typed", ["colour:zebra", "length:zebra", "is:zebra", "xqzw:zebra"])
def test_what_is_not_understood_is_looked_for_as_words(typed):
    assert "zebra" in str(wish(typed))
    assert any("zebra" in each for each in asked(typed).said)


@pytest.mark.parametrize(
    ("typed", "order"),
    [("x sort:newest", "newest"), ("x order:number", "number"), ("sort:painted x", "made"), ("x", "best")],
)  # fmt: skip
def test_the_order_of_the_works(typed, order):
    found = asked(typed)
    assert found.order == order
    assert found.wish == Word("x")


def test_only_signs_ask_for_nothing_and_say_so():
    for typed in ("", "   ", "*", "???", "—", "()", '""', "-", "🙂", "\x00", "\ud800"):
        found = asked(typed)
        assert found.empty
        assert found.ignored or found.hints or not typed.strip()


# --- typed again ------------------------------------------------------------------------------------------

PIECES = st.sampled_from(
    ["cubitt", "(", ")", "-", "not", "or", "near/5", '"', "“", "kind:", "label", "title:", "artist:",
     "painted", "1880..1890", "since", "2019", "c.", "1885", "length:", ">50", "cm", "C[..]itt", "c?b*tt",
     "Cub+++", "harr~", "harr~2", "also", "without", "certainly", "sort:", "newest", "is:", "gap", "*", "?",
     "S.W.7", "O'Hara", "🙂", "\x00", "\ud800", "unit:", "gns", "price:", "120gns", "in the last", "12",
     "months", "older than", "days", "colr:", "town:", "Ghent", "now:", "when:", "dated", "..1890", "May",
     "AND", "[abc]", "(a", "a)", "-5", "a-b", "Mu\u0308ller", "C\u0323ubit\u0323t", "C[..]itt-Row", "+bit",
     "_", "~", "«", 'a"', "x:", "http://a", "Gal.(erie)", "face:back", "before", "between", "\\", "/*"]
)  # fmt: skip
TYPED = st.lists(PIECES, max_size=12).map(" ".join) | st.lists(PIECES, max_size=6).map("".join)
ANYTHING = TYPED | st.text(max_size=80)
OFTEN = settings(max_examples=400, deadline=None, suppress_health_check=[HealthCheck.too_slow])


@OFTEN
@given(ANYTHING)
def test_every_text_is_a_question(typed):
    found = asked(typed)
    assert found.said or found.ignored or found.hints or not typed.strip()
    assert all("{" not in each or "{" in typed for each in (*found.said, *found.hints))


@OFTEN
@given(ANYTHING)
def test_a_wish_written_again_is_the_same_wish(typed):
    found = wish(typed)
    assert wish(written_again(found)) == found


@OFTEN
@given(st.text(max_size=60))
def test_what_is_quoted_is_nothing_but_words(text):
    inner = re.sub('["“”„«»]', " ", text)
    found = wish(f'"{inner}"')
    words = (
        found.words if isinstance(found, Run) else (found,) if isinstance(found, Word) else ()
    )
    assert all(word.pattern is None and not word.alike for word in words)
    read = [each.forms for each in islice(tokens(inner), 100)]
    # a sign for "and" between two words is one too
    said = [word.written for word in words if word.written != "&"]
    assert [next(tokens(each)).forms for each in said] == read


@OFTEN
@given(ANYTHING, st.sampled_from(["face/back", "face/front"]))
def test_a_fact_added_narrows_what_was_asked(typed, key):
    before, after = wish(typed), wish(with_fact(typed, "face", key, TODAY))
    parts = after.parts if isinstance(after, AllOf) else (after,)
    assert Fact("face", (key,)) in parts or before == AllOf(()) or "\ud800" in typed


@OFTEN
@given(
    st.text(alphabet="ab*?[].+-_c\u0323", max_size=120), st.text(alphabet="ab", max_size=100)
)
def test_patterns_are_sound(typed, text):
    found = wish(typed)
    for word in found.words if isinstance(found, Run) else (found,):
        if isinstance(word, Word) and word.pattern:
            re.compile(word.pattern).fullmatch(text)


@pytest.mark.parametrize(
    "piece",
    ["(", ")", "-", "*", '"', "not ", "a(", "painted ", "label 1917.. ", "[...]a", "*a", "kind:", "or ",
     "x", "a near/5 ", "1880..1890 ", "colr:x ", "kind:zzzz ", "also (", "since between ", "length:", "😀",
     "price:1x ", "[.1-90]a", "label since ", "c. 1885 ", "\ud800"],
)  # fmt: skip
def test_ten_thousand_letters_of_anything_are_answered(piece):
    found = asked(piece * (10_000 // len(piece)))
    assert len(found.said) <= MOST_SOUGHT + 1
    assert found.said or found.ignored or found.hints


def test_ten_thousand_brackets_are_not_nested():
    found = asked("(" * 10_000 + "harbour" + ")" * 10_000)
    assert any("brackets" in each or "letters" in each for each in found.ignored)
    assert wish("(" * 11 + "harbour" + ")" * 11) == Word("harbour")


# --- filters, and the tables -------------------------------------------------------------------------------


def test_filters_of_a_form_are_the_same_as_typing_them():
    form = Query(
        words="cubitt", artist="J. Harrowell", kind="dealer label", place="back",
        earliest=day(1880, 1, 1), latest=day(1890, 12, 31),
    )  # fmt: skip
    typed = 'cubitt artist:"J. Harrowell" kind:dealer-label where:back painted 1880..1890'
    assert as_wish(form, TODAY) == wish(typed)
    assert as_wish(Query(), TODAY) == AllOf(())


def test_no_two_fields_share_a_word():
    held = table("finding.toml")
    taken = {}
    for group in ("texts", "facts", "figures", "spans"):
        for name, row in held[group].items():
            for word in (name, *row.get("words", ())):
                assert taken.setdefault(word.casefold(), name) == name, word


def test_values_are_chosen_from_groups_that_there_are():
    known = groups()
    for name, row in table("finding.toml")["facts"].items():
        assert set(row.get("terms", ())) <= set(known), name


@pytest.mark.parametrize("field", fields(), ids=lambda field: field.name)
def test_every_field_is_found_by_its_name(field):
    assert field_called(field.name) == field
    assert field.says


@pytest.mark.parametrize("name", sorted(flags()))
def test_every_flag_can_be_asked(name):
    assert wish(f"is:{name}") == Fact("is", (name,))


@pytest.mark.parametrize("name", [name for name, each in facts().items() if each.terms])
def test_every_term_can_be_asked_by_its_label(name):
    from catalogue.terms import group

    for each in facts()[name].terms:
        for term in group(each):
            found = wish(f'{name}:"{term.label}"')
            assert term.key in found.values, term.key
            assert wish(written_again(found)) == found


def test_no_pattern_is_longer_than_words_are():
    assert wish("[.999]a") is not None
    assert "999" not in (getattr(wish("[.999]a"), "pattern", "") or "")
    assert LONGEST < 999


def test_a_sum_may_be_more_or_less_or_between():
    for typed, least, most in (
        ("price:>=100gns", 100, None),
        ("price:100..200gns", 100, 200),
        ("price:..£12", None, 12),
    ):
        asked_for = wish(typed).parts[0]
        assert (asked_for.least, asked_for.most) == (least, most), typed
    assert asked("price:>100gns").said == ("price more than 100", "in “guinea”")


def test_a_word_of_thousands_of_letters_is_not_repeated_whole():
    assert len(asked("c" * 4_000).said[0]) < 120
