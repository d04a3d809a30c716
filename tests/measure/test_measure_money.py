"""Prices as written, exactly, and the years of the money.

Sterling: 12 pence a shilling, 20 shillings a pound, 21 shillings a guinea; the sums are the check
values of the sheet of datable evidence (arithmetic). Years of currencies: the rules of that sheet,
and Unicode CLDR as the package `babel` carries it. Rates to the euro: Regulation (EC) 2866/98.
What the words mean: common practice, no source.
"""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from fractions import Fraction

import pytest
from babel.core import get_global
from hypothesis import given
from hypothesis import strategies as st

from catalogue.measure import in_euros, money_refused, read_money
from catalogue.measure.tariff import table
from catalogue.terms import known

# The check values of the sheet: what is written, and farthings.
STERLING = [
    ("1 gn", 1008), ("30 gns", 30240), ("100 gns", 100800), ("2,500 gns", 2520000),
    ("£31 10s 0d", 30240), ("12/6", 600), ("£1 19s 11¾d", 1919), ("7s 6d", 360), ("2/6", 120),
    ("5/-", 240), ("120 gns", 120960), ("12 gns", 12096), ("£12 10s 6d", 12024),
    ("31½ gns", 31752), ("½ gn", 504), ("£31.10.0", 30240), ("£31:10:0", 30240), ("£31 10s.", 30240),
]  # fmt: skip

# (text, [(written, currency, value), ...])
FORMS = [
    ("12 Guineas", [("12 Guineas", "GBP", "12.6")]),
    ("2 1/2 gns", [("2 1/2 gns", "GBP", "2.625")]),
    ("£2.12.6", [("£2.12.6", "GBP", "2.625")]),
    ("£2/12/6", [("£2/12/6", "GBP", "2.625")]),
    ("£3-10-0", [("£3-10-0", "GBP", "3.5")]),
    ("£ 31. 10. 0", [("£ 31. 10. 0", "GBP", "31.5")]),
    ("£31 10 0", [("£31 10 0", "GBP", "31.5")]),
    ("£5 5s 0d", [("£5 5s 0d", "GBP", "5.25")]),
    ("£ 12 - -", [("£ 12 - -", "GBP", "12")]),
    ("£12.-.-", [("£12.-.-", "GBP", "12")]),
    ("L. 12. 10. 6", [("L. 12. 10. 6", "GBP", "12.525")]),
    ("12l. 10s.", [("12l. 10s.", "GBP", "12.5")]),
    ("£31/10", [("£31/10", "GBP", "31.5")]),
    ("£31.10s.", [("£31.10s.", "GBP", "31.5")]),
    ("£31..10..6", [("£31..10..6", "GBP", "31.525")]),
    ("£5.5/-", [("£5.5/-", "GBP", "5.25")]),
    ("6/6/-", [("6/6/-", "GBP", "6.3")]),
    ("31l 10s", [("31l 10s", "GBP", "31.5")]),
    ("30gns", [("30gns", "GBP", "31.5")]),
    ("12 £20", [("£20", "GBP", "20")]),
    ("fr20.-", [("fr20.-", "FRF", "20")]),
    ("Kr. 20:50", [("Kr. 20:50", "DKK", "20.5")]),
    ("5 Thlr. 15 Sgr.", [("5 Thlr. 15 Sgr.", "thaler", "5.5")]),
    ("£5 7/6", [("£5 7/6", "GBP", "5.375")]),
    ("£5 3/4", [("£5 3/4", "GBP", "5.75")]),
    ("15s.", [("15s.", "GBP", "0.75")]),
    ("12/6d", [("12/6d", "GBP", "0.625")]),
    ("1s 6d", [("1s 6d", "GBP", "0.075")]),
    ("½d.", [("½d.", "GBP", "1/480")]),
    ("£1,250", [("£1,250", "GBP", "1250")]),
    ("£4.75", [("£4.75", "GBP", "4.75")]),
    ("£12 stg.", [("£12 stg.", "GBP", "12")]),
    ("12½p", [("12½p", "GBP", "0.125")]),
    ("two frames, 3 half-crowns", [("3 half-crowns", "GBP", "0.375")]),
    ("Frs. 1.500", [("Frs. 1.500", "FRF", "1500")]),
    ("1 500 fr.", [("1 500 fr.", "FRF", "1500")]),
    ("1\u202f500 francs", [("1\u202f500 francs", "FRF", "1500")]),
    ("fr. 12,50", [("fr. 12,50", "FRF", "12.5")]),
    ("12 fr. 50", [("12 fr. 50", "FRF", "12.5")]),
    ("12 fr. 50 c.", [("12 fr. 50 c.", "FRF", "12.5")]),
    ("NF 100", [("NF 100", "FRF", "100")]),
    ("500 nouveaux francs", [("500 nouveaux francs", "FRF", "500")]),
    ("15 000 anciens francs", [("15 000 anciens francs", "FRF", "150")]),
    ("25 sous", [("25 sous", "FRF", "1.25")]),
    ("25.000 francs belges", [("25.000 francs belges", "BEF", "25000")]),
    ("sFr. 40.-", [("sFr. 40.-", "CHF", "40")]),
    ("CHF 1'200", [("CHF 1'200", "CHF", "1200")]),
    ("RM 400", [("RM 400", "reichsmark", "400")]),
    ("M. 250,-", [("M. 250,-", "mark", "250")]),
    ("Mk. 300", [("Mk. 300", "mark", "300")]),
    ("3 Mk. 50 Pf.", [("3 Mk. 50 Pf.", "mark", "3.5")]),
    ("5 Millionen Mark", [("5 Millionen Mark", "mark", "5000000")]),
    ("DM 1.200,--", [("DM 1.200,--", "DEM", "1200")]),
    ("1.250,50 DM", [("1.250,50 DM", "DEM", "1250.5")]),
    ("fl. 80,-", [("fl. 80,-", "NLG", "80")]),
    ("ƒ 100", [("ƒ 100", "NLG", "100")]),
    ("3 fl. 20 kr.", [("3 fl. 20 kr.", "austrian-gulden", "3.2")]),
    ("fl. ö.W. 40", [("fl. ö.W. 40", "austrian-gulden", "40")]),
    ("40 Kronen", [("40 Kronen", "austrian-krone", "40")]),
    ("S 500 Schilling", [("500 Schilling", "ATS", "500")]),
    ("L. 5000", [("L. 5000", "ITL", "5000")]),
    ("Lit. 20.000", [("Lit. 20.000", "ITL", "20000")]),
    ("5 mila lire", [("5 mila lire", "ITL", "5000")]),
    ("$25.00", [("$25.00", "USD", "25")]),
    ("$1,250.50", [("$1,250.50", "USD", "1250.5")]),
    ("US$ 40", [("US$ 40", "USD", "40")]),
    ("kr. 300", [("kr. 300", "DKK", "300")]),
    ("300:- kr", [("300:- kr", "DKK", "300")]),
    ("1.500 kronor", [("1.500 kronor", "SEK", "1500")]),
    ("Kč 500", [("Kč 500", "CZK", "500")]),
    ("500 ptas", [("500 ptas", "ESP", "500")]),
    ("€ 1.200", [("€ 1.200", "EUR", "1200")]),
    ("12 €", [("12 €", "EUR", "12")]),
    ("40 roubles 50 kopeks", [("40 roubles 50 kopeks", "rouble", "40.5")]),
    ("10-15 gns", [("10", "GBP", "10.5"), ("15 gns", "GBP", "15.75")]),
    ("£20-30", [("£20", "GBP", "20"), ("30", "GBP", "30")]),
    ("Lot 12 fr. 250", [("fr. 250", "FRF", "250")]),
    ("lot 12 7/6", [("7/6", "GBP", "0.375")]),
    ("12 gns\n£5", [("12 gns", "GBP", "12.6"), ("£5", "GBP", "5")]),
]

NOTHING = [
    # the number of something, a date, an edition, a part of an inch, a decade, an initial
    "", "No. 12 gns", "lot 7/6", "12/25", "7/6/1903", "7/6 1903", "7/6 '03", "3/5/07", "7/06", "24 7/8 in.", "20 x 7/8",
    "1890s", "F12", "31.10.0", "1903", "14 Gannet Steps", "Kč", "£", "p. 50", "19th c.", "Norwich NR3 1GN", "Rm. 12", "04d", "a franc 1960", "NZ$ 20", "£1m", "B7/6", "10/6/3", "12 from Bath",
]  # fmt: skip

ACROSS_A_LOSS = [
    "£31.10.…", "£31.10…", "£3…", "…12 gns", "12… gns", "12…gns", "1…2 gns", "£1…2", "£…12", "7/…",
    "…/6", "7/6…", "£31 1…s", "…fr. 12", "12 fr…", "£31.….6", "Frs. 1.…", "…,50 fr.", "£12-…",
]  # fmt: skip

REFUSED = [
    ("£3 20s 0d", "£3 20s 0d", "there are 20 shillings in a pound"),
    ("£3 20s. and 5d.", "£3 20s. and 5d.", "20s. is no part of a pound"),
    ("4s 12d", "4s 12d", "12d is no part of a shilling"),
    ("£12/25/6", "£12/25/6", "20 shillings in a pound"),
    ("£1.19.12", "£1.19.12", "12 pence in a shilling"),
    ("5 fr. 100 c.", "5 fr. 100 c.", "100 c. is no part of a franc"),
    ("1/0 gn", "1/0 gn", "1/0 is no number"),
    ("25 17/0 gns", "25 17/0 gns", "25 17/0 is no number"),
]

DOUBTFUL = [
    ("7/6", "day"), ("12/6", "day"), ("2/6", "day_or_edition"), ("40/9", "number"), ("1/2", "fraction"), ("the 20s", "decade"),
    ("2d edition", "ordinal"), ("12 F", "letter"), ("M 12", "letter"), ("20 s per spot", "letter"), ("5-60 s", "letter"), ("RM12", "letter"), ("£5-10", "range"),
]  # fmt: skip

NOT_DOUBTFUL = [
    "price 7/6", "7/6 each", "sold at 7/6", "7/6d", "5/-", "7/6½", "15s.", "2s 2d", "M 12,-", "price 12 F",
    "F 12,50", "£5.10.0", "21s", "RM 400", "RM12,50",
]  # fmt: skip

# The rules of the sheet of datable evidence, group 6.
YEARS = [
    ("£31.10.0", None, "1971-02-14", 1), ("7/6", None, "1971-02-14", 1),
    ("£4.75", "1968-04-23", None, 1), ("50p", "1968-04-23", None, 1),
    ("12 gns", "1717-12-22", "1971-02-14", 20), ("3¾d", None, "1960-12-31", 2),
    ("2 farthings", None, "1960-12-31", 2), ("15 N.P.", "1968-04-23", "1982-12-31", 3),
    ("NF 100", "1958-12-27", "1962-12-31", 2), ("500 A.F.", "1960-01-01", "1990-12-31", 10),
    ("100 F", "1795-04-07", "2002-02-28", 1), ("€ 12", "1995-12-16", None, 0),
    ("RM 400", "1924-08-30", "1948-06-20", 1), ("DM 400", "1948-06-18", "2001-12-31", 1),
    ("40 Rentenmark", "1923-10-15", "1948-06-20", 1), ("MDN 40", "1964-08-01", "1967-12-31", 1),
    ("40 Kronen", "1892-09-13", "1925-02-28", 2), ("öS 500", "1925-03-01", "2002-02-28", 1),
    ("Lire 500", "1861-08-24", "2002-02-28", 1), ("Hfl. 80", "1814-01-01", "2002-01-28", 1),
    ("A$ 40", "1966-02-14", None, 0), ("£31.10", None, None, 1), ("£12", None, None, 0),
]  # fmt: skip


@pytest.mark.parametrize(("text", "farthings"), STERLING)
def test_sterling_is_exact_to_the_farthing(text, farthings):
    (amount,) = read_money(text)
    assert (amount.written, amount.currency) == (text, "GBP")
    assert amount.value * 960 == farthings


@pytest.mark.parametrize(("text", "expected"), FORMS)
def test_a_price_is_read_as_this_much_of_this_money(text, expected):
    found = [(each.written, each.currency, each.value) for each in read_money(text)]
    assert found == [(written, key, Fraction(value)) for written, key, value in expected]
    assert not money_refused(text)


@pytest.mark.parametrize("text", NOTHING)
def test_what_is_no_price_is_not_read_as_one(text):
    assert read_money(text) == ()


@pytest.mark.parametrize("text", ACROSS_A_LOSS)
def test_no_price_is_read_where_a_figure_of_it_may_be_lost(text):
    assert read_money(text) == ()


def test_a_loss_that_does_not_touch_the_figures_takes_nothing_away():
    assert [each.written for each in read_money("… 12 gns …")] == ["12 gns"]


@pytest.mark.parametrize(("text", "written", "why"), REFUSED)
def test_a_sum_that_cannot_be_is_refused_in_words(text, written, why):
    assert read_money(text) == ()
    (refused,) = money_refused(text)
    assert refused.written == written == text[refused.start : refused.end]
    assert why in refused.why


@pytest.mark.parametrize(("text", "kind"), DOUBTFUL)
def test_what_may_be_no_price_is_kept_and_says_so(text, kind):
    assert [each.doubt for each in read_money(text)][-1] == table()["doubt"][kind]


@pytest.mark.parametrize("text", NOT_DOUBTFUL)
def test_a_word_or_a_sign_that_makes_it_a_price_takes_the_doubt_away(text):
    (amount,) = read_money(text)
    assert amount.doubt == ""


def test_a_sum_with_one_point_is_read_in_both_ways():
    (amount,) = read_money("£31.10")
    decimal, shillings = amount.readings
    assert (decimal.value, shillings.value) == (Fraction("31.10"), Fraction("31.5"))
    assert decimal.use.not_before == date(1968, 4, 23)
    assert shillings.use.not_after == date(1971, 2, 14)


def test_a_word_of_many_countries_keeps_them_all():
    def currencies(text):
        return [each.currency for each in read_money(text)[0].readings]

    assert currencies("fr. 40") == ["FRF", "CHF", "BEF", "LUF"]
    assert currencies("kr. 40") == ["DKK", "NOK", "SEK"]
    assert currencies("L. 12") == ["ITL", "GBP"]
    assert currencies("£ 20.000") == ["GBP", "ITL"]
    assert currencies("Kč 40") == ["CZK", "CSK"]


@pytest.mark.parametrize(("text", "not_before", "not_after", "margin"), YEARS)
def test_the_years_of_the_money_are_those_of_the_rules(text, not_before, not_after, margin):
    use = read_money(text)[0].use
    assert (use.not_before and use.not_before.isoformat()) == not_before
    assert (use.not_after and use.not_after.isoformat()) == not_after
    assert use.margin_years == margin


def test_all_readings_together_are_open_where_one_of_them_is():
    (amount,) = read_money("Kč 500")
    assert amount.use.not_before == date(1919, 2, 25)
    assert amount.use.not_after is None


# The worked examples of the trade sheet (C11); rates fixed by Regulation (EC) 2866/98.
@pytest.mark.parametrize(
    ("text", "euros"),
    [
        ("15 000 anciens francs", "22.87"),
        ("25.000 francs belges", "619.73"),
        ("850 NLG", "385.71"),
        ("€ 12", "12.00"),
    ],
)
def test_the_fixed_rates(text, euros):
    assert in_euros(read_money(text)[0].readings[0]) == Decimal(euros)


def test_what_had_no_rate_has_no_euros():
    assert in_euros(read_money("12 gns")[0].readings[0]) is None


AS_WRITTEN = [
    "£{l}.{s}.{d}", "£{l}/{s}/{d}", "£{l}-{s}-{d}", "£{l}:{s}:{d}", "£{l} {s}s {d}d", "£{l} {s}s. {d}d.",
    "£ {l} . {s} . {d}", "{l}l. {s}s. {d}d.", "£{l} {s} {d}",
]  # fmt: skip


@given(
    st.integers(0, 5000), st.integers(0, 19), st.integers(0, 11), st.sampled_from(AS_WRITTEN)
)
def test_every_sum_in_every_form_comes_to_its_pence(pounds, shillings, pence, form):
    (amount,) = read_money(form.format(l=pounds, s=shillings, d=pence))
    assert amount.value * 240 == 240 * pounds + 12 * shillings + pence


@given(st.integers(1, 999), st.sampled_from(["¼", "½", "¾", ""]), st.booleans())
def test_guineas_are_twenty_one_shillings(count, part, in_words):
    (amount,) = read_money(f"{count}{part} {'guineas' if in_words else 'gns'}")
    quarters = 4 * count + ["", "¼", "½", "¾"].index(part)
    assert amount.value * 20 * 4 == 21 * quarters


@pytest.mark.parametrize(
    "unit", table()["unit"], ids=lambda unit: f"{unit['name']}-{unit['words'][0]}"
)
def test_every_word_of_the_table_is_read(unit):
    for word in unit["words"]:
        if unit.get("where") == "before":
            text = f"{word} 12"
        else:
            text = f"12{word}" if unit.get("glued") else f"12 {word}"
        if "only_with" in unit:
            text = f"3 {unit['only_with']} {text}"
        (amount,) = read_money(text)
        assert amount.written == text
        assert {each.currency for each in amount.readings} & set(unit["means"])
        if not unit.get("where") and word.lower() not in table()["behind_only"]:
            assert read_money(f"{word} 12")[0].written == f"{word} 12"


def test_every_currency_has_its_term_and_every_row_its_source():
    assert read_money("RM 400")[0].readings[0].concept == "currency/reichsmark"
    for row in (*table()["currency"].values(), *table()["way"].values()):
        assert row["source"]
        assert "term" not in row or known(f"currency/{row['term']}")
    for unit in table()["unit"]:
        assert set(unit["means"]) <= set(table()["currency"])
        assert "source" in unit or not {"not_before", "not_after"} & set(unit)


@pytest.mark.parametrize("unit", table()["unit"], ids=lambda unit: unit["words"][0])
def test_a_way_of_writing_lies_within_the_years_of_its_money(unit):
    for key in unit["means"]:
        money = table()["currency"][key]
        first = max(
            row["not_before"]
            for row in (unit, money, {"not_before": date.min})
            if "not_before" in row
        )
        last = min(
            row["not_after"]
            for row in (unit, money, {"not_after": date.max})
            if "not_after" in row
        )
        assert first < last


# One sum as different countries set it down.
@pytest.mark.parametrize(
    "written",
    [
        "1250,50",
        "1250.50",
        "1.250,50",
        "1,250.50",
        "1 250,50",
        "1\u202f250,50",
        "1'250.50",
        "1’250.50",
    ],
)
def test_thousands_are_set_off_in_the_way_of_every_country(written):
    for text in (f"{written} francs", f"Frs. {written}", f"{written} Kč"):
        assert read_money(text)[0].value == Fraction("1250.5")
    whole = written[:-3]
    assert read_money(f"{whole} francs")[0].value == 1250


# Where CLDR counts otherwise than a price on a picture does.
COUNTED_OTHERWISE = {
    "FRF": "from the new franc of 1960 on",
    "GRD": "from the reform of 1954 on",
    "FIM": "from the reform of 1963 on",
    "PLN": "from the reform of 1995 on",
    "CSK": "from the reform of 1953 on",
    "LUF": "from 1944 on",
    "NOK": "from independence in 1905 on",
    "ATS": "from the law of 1947 on",
    "GBP": "from the Bank of England on; we give no first year",
    "EUR": "from 1999 on, the name is of 1995",
    "RUB": "from the reform of 1998 on",
}
HOMES = {
    "IEP": "IE", "FRF": "FR", "BEF": "BE", "LUF": "LU", "CHF": "CH", "DEM": "DE", "DDM": "DD", "ATS": "AT",
    "NLG": "NL", "ITL": "IT", "ESP": "ES", "PTE": "PT", "GRD": "GR", "FIM": "FI", "DKK": "DK", "NOK": "NO",
    "SEK": "SE", "CZK": "CZ", "CSK": "CZ", "HUF": "HU", "PLN": "PL", "RUB": "RU", "USD": "US", "CAD": "CA",
    "AUD": "AU", "JPY": "JP", "GBP": "GB", "EUR": "DE",
}  # fmt: skip


def test_every_code_of_the_table_is_known_to_cldr():
    codes = {key for key in table()["currency"] if key.isupper()}
    assert codes == set(HOMES)
    assert codes <= set(get_global("all_currencies"))


@pytest.mark.parametrize("key", HOMES)
def test_first_and_last_days_agree_with_cldr_within_a_year(key):
    (row,) = [each for each in get_global("territory_currencies")[HOMES[key]] if each[0] == key]
    ours = table()["currency"][key]
    for name, theirs in (("not_before", row[1]), ("not_after", row[2])):
        mine = ours.get(name)
        if name == "not_before" and key in COUNTED_OTHERWISE:
            assert mine is None or mine < date(*theirs)
        elif theirs is None or mine is None:
            assert mine is theirs
        else:
            assert abs((mine - date(*theirs)).days) <= 366


@given(st.text(alphabet="0123456789 £$€.,:/-½¼'gnsfrdMkLhe…\n", max_size=60))
def test_no_text_at_all_raises_and_nothing_is_moved(text):
    end = 0
    for amount in read_money(text):
        assert amount.written == text[amount.start : amount.end]
        assert end <= amount.start < amount.end
        assert "…" not in amount.written
        end = amount.end
    for refused in money_refused(text):
        assert refused.written == text[refused.start : refused.end]


@pytest.mark.parametrize(
    "again",
    ["1 ", "1", "£1.", "1-", "7/6 ", "fr. ", "no. 1 "],
)
def test_a_long_text_of_one_form_is_read_to_its_end(again):
    """Nothing is measured: were the time to grow with the square, this would take minutes."""
    text = again * (20_000 // len(again))
    for amount in read_money(text):
        assert amount.written == text[amount.start : amount.end]
