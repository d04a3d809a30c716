"""Borders and rights: the worked sums of the trade sheet, the edges of every rule, words for what is not known."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from catalogue import places
from catalogue.argument.borders import Journey, before_it_travels, journey_typed
from catalogue.argument.borders.licences import coming_in, leaving
from catalogue.argument.borders.rights import share
from catalogue.argument.borders.species import protected
from catalogue.errors import BadData, BadSetting
from catalogue.measure import Day, read_date
from catalogue.record import Inquiry, Note, Part, Work
from catalogue.terms import known

TODAY = Day(2026, 11, 29)
OIL = ("material/oil-paint",)


def journey(**facts):
    return Journey(**{"on": TODAY, **facts})


def answers(made, materials, **facts):
    return {
        each.key: each.answer for each in leaving(read_date(made), materials, journey(**facts))
    }


# trade sheet C20, after Directive 2001/84/EC article 4: 80,000 gives 2,900 and 260,000 gives 7,100; cap 12,500
@pytest.mark.parametrize(
    ("price", "owed"),
    [
        (80_000, 2_900), (260_000, 7_100), (0, 0), (50_000, 2_000), (200_000, 6_500),
        (350_000, 8_000), (500_000, 8_750), (2_000_000, 12_500), (90_000_000, 12_500),
    ],
)  # fmt: skip
def test_the_share_of_a_price(price, owed):
    assert share(Decimal(price)) == owed


def test_the_share_rises_with_the_price_and_meets_at_every_band():
    last = Decimal(0)
    for price in range(0, 600_000, 777):
        owed = share(Decimal(price))
        assert last <= owed <= Decimal(price) * 4 / 100
        assert owed - last <= 777 * Decimal("0.04") + Decimal("0.01")
        last = owed


# trade sheet C25 with the sums of US-27
@pytest.mark.parametrize(
    ("made", "materials", "value", "answer"),
    [
        ("1887", OIL, 150_000, "likely"),
        ("1887", OIL, 149_999, "unlikely"),
        ("1887", ("material/watercolour",), 30_000, "likely"),
        ("1887", ("material/gouache", "material/oil-paint"), 29_999, "unlikely"),
        ("1975", OIL, 900_000, "likely"),
        ("1976", OIL, 900_000, "unlikely"),  # fifty years old, not more than fifty
        ("1970-1980", OIL, 900_000, "ask"),
        ("1970-1980", OIL, 10, "unlikely"),
        ("1887", OIL, None, "ask"),
        ("1990", OIL, None, "unlikely"),
    ],
)
def test_a_licence_out_of_the_union(made, materials, value, answer):
    money = {"value": Decimal(value), "currency": "EUR"} if value is not None else {}
    assert answers(made, materials, leaves="BE", goes_to="CH", **money) == {"eu-2009": answer}


def test_within_the_union_there_is_no_border_and_a_stricter_country_is_always_asked():
    far = {"value": Decimal(900_000), "currency": "EUR"}
    assert answers("1800", OIL, leaves="BE", goes_to="NL", **far) == {"eu-2009": "unlikely"}
    assert answers("1990", OIL, leaves="IT", goes_to="CH", **far) == {
        "eu-2009": "unlikely",
        "IT": "ask",
    }
    assert answers("1990", OIL, leaves="CH", goes_to="IT", **far) == {"CH": "ask"}
    assert answers("1800", OIL, leaves="FR", goes_to="FR", **far) == {}


def test_a_value_in_another_currency_is_not_converted():
    (found,) = leaving(
        read_date("1887"), OIL,
        journey(leaves="GB", goes_to="US", value=Decimal(10**6), currency="EUR", temporary=True),
    )  # fmt: skip
    assert found.answer == "ask"
    assert "EUR only" in " ".join(found.because)
    assert "leaving for a time counts" in " ".join(found.because)
    assert "load the present ones" in found.version


# trade sheet US-28: Regulation (EU) 2019/880 from 28 June 2025, more than 200 years and EUR 18,000
@pytest.mark.parametrize(
    ("made", "value", "on", "leaves", "answer"),
    [
        ("1780", 18_000, TODAY, "CH", "likely"),
        ("1780", 17_999, TODAY, "CH", "unlikely"),
        ("1826", 18_000, TODAY, "CH", "unlikely"),
        ("1825", 18_000, TODAY, "CH", "likely"),
        ("1780", 18_000, Day(2025, 6, 27), "CH", "unlikely"),
        ("1780", 18_000, Day(2025, 6, 28), "CH", "likely"),
        ("1780", 18_000, TODAY, "FR", "unlikely"),
    ],
)
def test_coming_into_the_union(made, value, on, leaves, answer):
    (found,) = coming_in(
        read_date(made),
        journey(leaves=leaves, goes_to="DE", value=Decimal(value), currency="EUR", on=on),
    )
    assert (found.key, found.answer) == ("eu-2019-c", answer)


def test_protected_species_by_term_by_word_and_by_what_was_asked():
    frame = Part(kind="part/frame", materials=("material/tortoiseshell",))
    work = Work(medium="Oil on canvas, in a Rosewood frame", parts=(frame,))
    found = protected(work)
    told = " ".join(found.because)
    assert found.answer == "ask"
    assert "Appendix I" in told
    assert "“rosewood”" in told
    noted = Part(
        kind="part/frame",
        notes=(Note(kind="note/description", text="Corners inlaid with ivory."),),
    )
    assert protected(Work(parts=(noted,))).answer == "ask"
    assert (
        protected(Work(medium="ivory black and oil")).answer == "ask"
    )  # a person looks; better asked than missed
    assert protected(Work(medium="oil on canvas")).answer == "unlikely"
    asked = Inquiry(
        kind="inquiry/species-papers",
        subject="frame",
        on=Day(2026, 3, 1),
        result="inquiry-result/not-applicable",
    )
    assert "2026-03-01" in " ".join(protected(replace(work, inquiries=(asked,))).because)


def test_every_material_of_the_list_is_a_term():
    table = places.table("borders.toml")
    for row in (
        *table["species"],
        *(limit for each in table["licence"] for limit in each["limits"]),
    ):
        assert all(map(known, row["materials"])), row


@pytest.mark.parametrize(
    ("died", "answer"),
    [(None, "ask"), ("1955", "unlikely"), ("1956", "likely"), ("2020", "likely")],
)
def test_rights_run_seventy_years_to_the_end_of_the_last(died, answer):
    # Directive 2006/116/EC articles 1 and 8: seventy years after the death, from 1 January of the year after it
    found = {
        each.key: each
        for each in before_it_travels(
            Work(), journey(), maker="Ansel Roke", died=read_date(died) if died else None
        )
    }
    assert (found["image-rights"].answer, found["resale"].answer) == (answer, answer)


@pytest.mark.parametrize(
    "facts",
    [
        {"leaves": "England"}, {"goes_to": "gb"}, {"value": Decimal(-1), "currency": "EUR"},
        {"value": Decimal(5)}, {"currency": "EUR"}, {"value": Decimal("NaN"), "currency": "EUR"},
    ],
)  # fmt: skip
def test_what_is_no_journey_is_told(facts):
    with pytest.raises(BadSetting):
        journey(**facts)


def test_no_answer_says_that_anything_is_clear():
    work = Work(made=read_date("1780"), materials=OIL)
    for each in before_it_travels(work, journey(leaves="FR", goes_to="GB"), maker="Ansel Roke"):
        words = " ".join((each.answered, *each.because)).lower()
        assert not any(word in words for word in ("cleared", "guarantee", "legal to"))


@pytest.mark.parametrize(
    "typed",
    [
        {"value": "20000"},
        {"value": "much"},
        {"value": "1 EUR 2 EUR"},
        {"on": "1926"},
        {"on": "soon"},
    ],
)
def test_what_was_typed_wrongly_is_told(typed):
    with pytest.raises(BadData):
        journey_typed(TODAY, **typed)
