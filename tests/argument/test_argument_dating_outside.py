"""The rules of dating against days that were fixed outside: by law, by decree, by the post."""

import phonenumbers
import pytest
from babel.core import get_global

from catalogue.argument import date_label, rule
from catalogue.measure import Day
from catalogue.reading import read
from catalogue.reading.scan import SIGNS_TO_ESCAPE

OFFICIAL = [
    # the day a rule begins
    ("gb.post.london_numbered", "not_before", "1917-03-01", "Post Office leaflet of 1 March 1917, reproduced at geograph.org.uk"),
    ("gb.post.norwich_trial", "not_before", "1959-07-28", "Postmaster General's announcement, 28 July 1959 (information-britain.co.uk)"),
    ("us.post.zone", "not_before", "1943-05-01", "US postal zones, 1 May 1943 (fact sheet, page found)"),
    ("us.post.zip5", "not_before", "1963-07-01", "ZIP codes, 1 July 1963 (fact sheet, page found)"),
    ("de.post.2digit", "not_before", "1941-07-25", "order of 25 July 1941 for parcels (fact sheet, conflict table)"),
    ("de.post.4digit_w", "not_before", "1961-11-01", "four figures from 1 November 1961 (fact sheet, conflict table: the earliest of three)"),
    ("at.post.4digit", "not_before", "1966-01-01", "Austrian codes, 1 January 1966 (fact sheet, page found)"),
    ("it.post.cap", "not_before", "1967-07-01", "Italian code, 1 July 1967 (fact sheet, conflict table)"),
    ("au.post.4digit", "not_before", "1967-07-01", "Australian postcodes, 1 July 1967 (fact sheet, page found)"),
    ("ca.post.code", "not_before", "1971-04-01", "Ottawa test, 1 April 1971 (fact sheet, page found)"),
    ("jp.post.7", "not_before", "1998-02-02", "seven figures in Japan, February 1998 (fact sheet, page found)"),
    ("gb.tel.std_any", "not_before", "1958-12-05", "subscriber trunk dialling, 5 December 1958 (fact sheet, page found)"),
    ("gb.tel.071_081", "not_before", "1990-05-06", "01 split on 6 May 1990 (fact sheet, conflict table: agreed by two)"),
    ("fr.tel.8", "not_before", "1985-10-25", "eight figures from 25 October 1985 (fact sheet, page found)"),
    ("fr.tel.10", "not_before", "1996-10-18", "ten figures, 18 October 1996, 23.00 (fact sheet, page found)"),
    ("gb.tax.vat", "not_before", "1972-07-27", "Finance Act 1972, charged from 1 April 1973 (Halsbury's Laws, summary)"),
    ("fr.co.sarl", "not_before", "1925-03-07", "law of 7 March 1925 (from memory; a paper says 1926)"),
    ("de.co.gmbh", "not_before", "1892-04-20", "law of 20 April 1892 (Business History Review 2021)"),
    ("de.made.ddr", "not_before", "1949-10-07", "the state existed 7 October 1949 to 2 October 1990 (fact sheet, page found)"),
    # the day it ends
    ("gb.money.lsd", "not_after", "1971-02-14", "decimal day was 15 February 1971 (telescoper.wordpress.com, 15 Feb 2021)"),
    ("gb.money.farthing", "not_after", "1960-12-31", "farthing demonetised at the end of 1960 (retrowow.co.uk)"),
    ("fr.money.nf", "not_after", "1962-12-31", "decret 62-1320 of 9 November 1962: 'new' dropped from 1963 (legifrance)"),
    ("gb.tel.01_london", "not_after", "1990-05-05", "01 ended on 6 May 1990 (fact sheet, conflict table)"),
    ("gb.tel.071_081", "not_after", "1995-04-15", "renumbered on 16 April 1995 (fact sheet, page found)"),
    ("gb.tel.0171_0181", "not_after", "2000-04-21", "closed at the change of 22 April 2000 (fact sheet, page found)"),
    ("fr.tel.letters", "not_after", "1963-09-30", "all figures in Paris from 1 October 1963 (fact sheet, page found)"),
    ("de.post.4digit_w", "not_after", "1993-06-30", "five figures valid on 1 July 1993 (fact sheet, page found)"),
    ("tr.name.constantinople", "not_after", "1930-03-28", "Turkish post, 28 March 1930 (thecentrecannothold.net)"),
    ("gb.rail.lner", "not_after", "1947-12-31", "nationalised on 1 January 1948 (dailybritain.wordpress.com, 19 Aug 2016)"),
]  # fmt: skip


@pytest.mark.parametrize(("key", "end", "day", "source"), OFFICIAL)
def test_a_rule_begins_and_ends_on_the_official_day(key, end, day, source):
    assert getattr(rule(key), end) == Day.from_iso(day), source


# Unicode CLDR, supplemental data, territoryCurrencies, as the package Babel carries it: the days
# between which money was tender. Where the two disagree, who is right stands beside it.
TENDER = [
    ("de.money.dm", "DE", "DEM", 2, 60, "the sheet ends on the last day before euro cash"),
    ("fr.money.franc", "FR", "FRF", None, 0, "CLDR counts the new franc only"),
    ("at.money.schilling", "AT", "ATS", None, 0, "CLDR counts from the reform of 1947; Schilling from 1925"),
    ("it.money.lire", "IT", "ITL", 0, 0, "the sheet had the same day of 1861; mended"),
    ("nl.money.guilder", "NL", "NLG", 366, 31, "the Netherlands were done on 28 January 2002, CLDR has the last day of February"),
    ("au.money.dollar", "AU", "AUD", 0, None, "14 February 1966"),
    ("eu.money.euro", "DE", "EUR", None, None, "account money 1999; the name is of December 1995"),
]  # fmt: skip


@pytest.mark.parametrize(("key", "territory", "code", "starts", "ends", "who"), TENDER)
def test_money_was_tender_when_the_unicode_tables_say_so(
    key, territory, code, starts, ends, who
):
    tender = {row[0]: row for row in get_global("territory_currencies")[territory]}[code]
    here = rule(key)
    begins = Day(*tender[1])
    if starts is None:
        assert here.not_before <= begins, who
    else:
        assert abs(here.not_before.ordinal - begins.ordinal) <= starts, who
    if ends is None:
        assert here.not_after is None
        assert tender[2] is None
    else:
        assert abs(here.not_after.ordinal - Day(*tender[2]).ordinal) <= ends, who


# Today's numbering plans, as the package phonenumbers carries them: a number of a rule that is
# still open is valid today, one of a rule that has closed is not.
NUMBERS = [
    ("GB", "020 7839 7551", "gb.tel.020_78"),
    ("GB", "020 8123 4567", "gb.tel.020_78"),
    ("GB", "020 3839 7551", "gb.tel.020_3"),
    ("GB", "0121 643 1234", "gb.tel.0121etc"),
    ("GB", "0117 973 1234", "gb.tel.011x"),
    ("GB", "01225 123456", "gb.tel.01xxx"),
    ("GB", "023 8012 3456", "gb.tel.02x"),
    ("GB", "07400 123 456", "gb.tel.mobile07"),
    ("FR", "01 42 25 18 09", "fr.tel.10"),
    ("US", "(212) 555-0142", "us.tel.areacode"),
    ("GB", "01-839 7551", "gb.tel.01_london"),
    ("GB", "021-643 1234", "gb.tel.director_std"),
    ("GB", "071-839 7551", "gb.tel.071_081"),
    ("GB", "0171-839 7551", "gb.tel.0171_0181"),
    ("GB", "0272 123456", "gb.tel.0X_pre95"),
    ("FR", "42.25.18.09", "fr.tel.8"),
    ("FR", "225.18.09", "fr.tel.paris7"),
]


@pytest.mark.parametrize(("country", "number", "key"), NUMBERS)
def test_a_telephone_rule_is_open_when_the_number_is_valid_today(country, number, key):
    valid = phonenumbers.is_valid_number(phonenumbers.parse(number, country))
    typed = "".join(f"\\{each}" if each in SIGNS_TO_ESCAPE else each for each in number)
    found = {each.rule: each for each in date_label(read(typed), regions=[country]).reasons}
    assert (found[key].latest is None) is valid
    closed = [each.rule for each in found.values() if valid and each.latest]
    assert closed == [], "no rule for an older form fires on a number of today"
