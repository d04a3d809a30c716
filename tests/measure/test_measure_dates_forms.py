"""The forms that museums and dealers write, form by form; every phrase is invented.

The forms, as counted in the openly licensed data of six museums: years and short ranges, circa
signs in many places, several dates with what was done on each, lives, centuries and their parts, eras,
names of periods with years in brackets. Days: Cataloging Cultural Objects (2006), p. 168, and the UC
San Diego visual-resources date guide where they have the form; else arithmetic, or common practice, no
source.
"""

from __future__ import annotations

import datetime

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from catalogue.measure import Day, read_date, read_edtf, understand, why_not

# form: phrase = EDTF, and the years of its first and last day ("-" open)
FORMS = {
    "years and short ranges": """
        1887 = 1887 1887 1887
        1883-4 = 1883/1884 1883 1884
        1883–84 = 1883/1884 1883 1884
        1883 – 1884 = 1883/1884 1883 1884
        1898-1902 = 1898/1902 1898 1902
        1883(-84) = 1883/1884 1883 1884
        1883 (–1884) = 1883/1884 1883 1884
        1901-02 = 1901/1902 1901 1902
        1883--85 = 1883/1885 1883 1885
        "1883" = 1883 1883 1883
        1883; = 1883 1883 1883
        MDCCCLXXXVII = 1887 1887 1887
    """,
    "slashes": """
        1880/81 = [1880,1881] 1880 1881
        1880/90 = [1880..1890] 1880 1890
        1880/1890 = 1880/1890 1880 1890
        late 1883/early 1884 = [1883-09..1883-12,1884-01..1884-04] 1883 1884
        1880s/1890s = [188X,189X] 1880 1899
        18th/19th century = [17XX,18XX] 1700 1899
        April/May 1903 = [1903-04,1903-05] 1903 1903
        1950–51/60 = 1950/1960 1950 1960
        1470/75-80 = 1470/1480 1470 1480
        c. 1470/1475-c. 1480 = 1470~/1480~ 1470 1480
        1883/01 = 1883-01 1883 1883
        01/1883 = 1883-01 1883 1883
    """,
    "circa anywhere": """
        c.1826-7 = 1826~/1827~ 1826 1827
        c1885 = 1885~ 1880 1890
        ca. 1640s = 1640~/1649~ 1635 1654
        circa 1860's = 1860~/1869~ 1855 1874
        about 1880/90 = 1880~/1890~ 1880 1890
        1885–ca. 1890 = 1885/1890~ 1885 1890
        1885+ = [1885..] 1885 -
        c. 1883–c. 1890 = 1883~/1890~ 1883 1890
        1883 c. = 1883~ 1878 1888
        1883 (ca.) = 1883~ 1878 1888
        1883 or thereabouts = 1883~ 1878 1888
        c. early 1880s = 1880~/1883~ 1875 1888
        c. 19th century = 1800~/1899~ 1795 1904
        c. 950 = 0950~ 945 955
        c. 800–900 = 0800~/0900~ 800 900
        [ca.] 1876 = 1876~ 1871 1881
        1885 plus or minus 3 years = 1885~ 1882 1888
        1885 ± 3 years = 1885~ 1882 1888
        c. 1750 or later = [1745..] 1745 -
        after c. 1750 = [1746..] 1746 -
    """,
    "doubt": """
        ?1830 = 1830? 1830 1830
        ?c.1830–5 = 1830%/1835~ 1830 1835
        1883?-1890? = 1883?/1890? 1883 1890
        1883–84? = 1883/1884? 1883 1884
        possibly 1880s = 1880?/1889? 1880 1889
        17th century (?) = 1600?/1699? 1600 1699
        1[8]65 = 1865? 1865 1865
        186[5] = 1865? 1865 1865
        [1883?] = 1883? 1883 1883
    """,
    "open and narrowed": """
        after 1887 until 1890 = [1888..1890] 1888 1890
        after 1750, before 1760 = [1751..1759] 1751 1759
        before 1760, after 1750 = [1751..1759] 1751 1759
        after 1880 and before 1890 = [1881..1889] 1881 1889
        not before 1887 and not after 1890 = [1887..1890] 1887 1890
        probably between 1876 and 1880 = [1876..1880] 1876 1880
        in or shortly after 1876 = [1876..] 1876 -
        not long before 1876 = [..1875] - 1875
        unknown - 1887 = ../1887 - 1887
        shortly after 1500 = [1501..] 1501 -
        1883 or slightly later = [1883..] 1883 -
        1883 (or later) = [1883..] 1883 -
        18th century or later = [1700..] 1700 -
        1750 at the latest = [..1750] - 1750
        sometime between 1883 and 1890 = [1883..1890] 1883 1890
        shortly after 1650/1652 = [1651..] 1651 -
        20th century, after 1950 = [1951..1999] 1951 1999
        after 1800, probably 1820s = 1820?/1829? 1820 1829
        late 19th century, before 1890 = [1875..1889] 1875 1889
        dated 1801, but possibly later = [1801..] 1801 -
        between January and March 1883 = [1883-01..1883-03] 1883 1883
        1912-present = 1912/.. 1912 -
        1883– = 1883/.. 1883 -
        ?–1883 = ../1883 - 1883
    """,
    "decades": """
        1880s-90s = 188X/189X 1880 1899
        1880-1890s = 1880/189X 1880 1899
        early to mid-1880s = 1880/1886 1880 1886
        late 1880s–early 1890s = 1887/1893 1887 1893
        1850s or 1860s = [185X,186X] 1850 1869
        first half of the 1880s = 1880/1884 1880 1884
        80er Jahre des 19. Jahrhunderts = 188X 1880 1889
        années 1880-1890 = 188X/189X 1880 1899
        1890s-1900s = 189X/190X 1890 1909
        sometime in the 1880s = 188X 1880 1889
        188- = 188X 1880 1889
        188-? = 1880?/1889? 1880 1889
        18-- = 18XX 1800 1899
    """,
    "centuries and parts": """
        17th–18th century = 16XX/17XX 1600 1799
        late 17th–early 18th century = 1675/1725 1675 1725
        mid-to-late 19th century = 1835/1899 1835 1899
        mid- 19th century = 1835/1865 1835 1865
        18th–early 19th century = 17XX/1825 1700 1825
        1st half of 19th century = 1800/1849 1800 1849
        19th century, second half = 1850/1899 1850 1899
        19th century (early) = 1800/1825 1800 1825
        3rd quarter of 16th century = 1550/1574 1550 1574
        last third of the 19th century = 1866/1899 1866 1899
        last decade of the 19th century = 1890/1899 1890 1899
        early in the second half of the 19th century = 1850/1862 1850 1862
        3rd-4th quarter of the 15th century = 1450/1499 1450 1499
        2nd quarter 18th–1st quarter 19th century = 1725/1824 1725 1824
        18th and 19th centuries = {17XX,18XX} 1700 1899
        16th or 17th century = [15XX,16XX] 1500 1699
        Ende 17./Anfang 18. Jh. = [1675..1699,1700..1725] 1675 1725
        fin XVIIe-début XVIIIe siècle = 1675/1725 1675 1725
        secc. XVII-XVIII = 16XX/17XX 1600 1799
        fine XVII-inizio XVIII secolo = 1675/1725 1675 1725
        early 1900s = 1900/1925 1900 1925
        late C18th = 1775/1799 1775 1799
        C17-C18 = 16XX/17XX 1600 1799
        XIXᵉ siècle = 18XX 1800 1899
        turn of the century = 1890/1910 1890 1910
    """,
    "before our era and long ago": """
        ca. 1550 BC = -1549~ -1554 -1544
        664–525 BC = -0663/-0524 -663 -524
        late 4th–early 3rd century B.C. = -0324/-0274 -324 -274
        2nd half of the 5th century B.C. = -0449/-0400 -449 -400
        1st century BC = -0099/0000 -99 0
        1st century BC–1st century AD = -0099/0099 -99 99
        200 BC–AD 100 = -0199/0100 -199 100
        500 B.C.-A.D. 200 = -0499/0200 -499 200
        A.D. 200–300 = 0200/0300 200 300
        200-300 A.D. = 0200/0300 200 300
        2nd–3rd century A.D. = 01XX/02XX 100 299
        330s BC = -0338/-0329 -338 -329
        3rd millennium BC = -2999/-2000 -2999 -2000
        before 330 BC = [..-0330] - -330
        IIe siècle apr. J.-C. = 01XX 100 199
    """,
    "periods with their years": """
        A.H. 950/A.D. 1543–44 = 1543/1544 1543 1544
        dated 1170 AH/1756–57 CE = 1756/1757 1756 1757
        10th century AH/AD 16th century = 15XX 1500 1599
        Edo-Meiji period, 19th century = 18XX 1800 1899
        late Ming dynasty, early 17th century = 1600/1625 1600 1625
        Ming dynasty (1368–1644) = 1368/1644 1368 1644
        Edo period, 19th century = 18XX 1800 1899
        Edo period (1615–1868), 1831 = 1831 1831 1831
        Ming dynasty (1368-1644), 16th-17th century = 15XX/16XX 1500 1699
        Edo period = 1615/1868 1615 1868
        19th century (1850s) = 185X 1850 1859
        between the wars = 1918-11-12/1939-08-31 1918 1939
    """,
    "what was done": """
        exhibited 1887 = 1887 1887 1887
        published 1819 = 1819 1819 1819
        dated 1634 = 1634 1634 1634
        painted c. 1650–55 = 1650~/1655~ 1650 1655
        cast after 1950 = [1951..] 1951 -
        exhibited at the Salon of 1883 = 1883 1883 1883
        1968, printed later = 1968 1968 1968
        ?begun 1801 = 1801? 1801 1801
        probably woven 1765 = 1765? 1765 1765
        begun 1506, completed 1511 = 1506/1511 1506 1511
        begun c. 1883, completed 1890 = 1883~/1890 1878 1890
    """,
    "several dates": """
        1887, reworked 1901 = {1887,1901} 1887 1901
        designed 1930, cast 1955 = {1930,1955} 1930 1955
        1880, published 1884 = {1880,1884} 1880 1884
        1863 (printed 1901) = {1863,1901} 1863 1901
        1880 (original), reprinted 1900 = {1880,1900} 1880 1900
        model 1880; carved 1890 = {1880,1890} 1880 1890
        1867. (Print executed 1897) = {1867,1897} 1867 1897
        1967/printed 1980 = {1967,1980} 1967 1980
        conceived in 1883 and cast in 1950 = {1883,1950} 1883 1950
        1883–90, completed 1901 = {1883..1890,1901} 1883 1901
        1883, cast after 1950 = {1883,1951..} 1883 -
        ca. 1883 (cast by 1921) = {1883~,1921} 1878 1921
        1883, 1885, and 1887 = {1883,1885,1887} 1883 1887
        1883 or 1884, cast 1950 = {1883,1884,1950} 1883 1950
        1880 (or 1881) = [1880,1881] 1880 1881
        1880, 1881 or 1882 = [1880,1881,1882] 1880 1882
        n.d. (c. 1883) = 1883~ 1878 1888
    """,
    "days": """
        4/15/1906 = 1906-04-15 1906 1906
        15/4/1906 = 1906-04-15 1906 1906
        December 7, 1944 = 1944-12-07 1944 1944
        7 December, 1944 = 1944-12-07 1944 1944
        1883, January 5 = 1883-01-05 1883 1883
        April 12–14, 1903 = 1903-04-12/1903-04-14 1903 1903
        12.-14. April 1903 = 1903-04-12/1903-04-14 1903 1903
        12.4.-13.5.1903 = 1903-04-12/1903-05-13 1903 1903
        12 and 13 April 1903 = {1903-04-12,1903-04-13} 1903 1903
        17 or 18 April 1903 = [1903-04-17,1903-04-18] 1903 1903
        5 January-12 February 1883 = 1883-01-05/1883-02-12 1883 1883
        du 5 au 12 janvier 1883 = 1883-01-05/1883-01-12 1883 1883
        Tuesday, January 5, 1883 = 1883-01-05 1883 1883
        3. 5. 1907 = 1907-05-03 1907 1907
        1887, 19 May = 1887-05-19 1887 1887
        4 July [1876] = 1876-07-04 1876 1876
        May the 5th, 1887 = 1887-05-05 1887 1887
        12-Jan-1967 = 1967-01-12 1967 1967
        1883.05.03 = 1883-05-03 1883 1883
    """,
    "months, seasons, parts of a year": """
        July 1889 = 1889-07 1889 1889
        December–January 1904 = 1903-12/1904-01 1903 1904
        early January 1883 = 1883-01-01/1883-01-10 1883 1883
        Summer, 1937 = 1937-22 1937 1937
        Spring-Summer 1883 = 1883-21/1883-22 1883 1883
        1883 (spring) = 1883-21 1883 1883
        Winter 1911–12 = 1911-24 1911 1912
        late spring 1883 = 1883-21 1883 1883
        late 1909 = 1909-09/1909-12 1909 1909
        Jan-1967 = 1967-01 1967 1967
        1967-01/1967-03 = 1967-01/1967-03 1967 1967
        Q1 1903 = 1903-33 1903 1903
        first quarter of 1903 = 1903-01/1903-03 1903 1903
    """,
    "lives": """
        (1834–1903) = 1834/1903 1834 1903
        [1870-] = 1870/.. 1870 -
        [-1972] = ../1972 - 1972
        b. 1870 = 1870/.. 1870 -
        d. 1953 = ../1953 - 1953
        b. 1870, d. 1953 = 1870/1953 1870 1953
        * 1834 † 1903 = 1834/1903 1834 1903
        born c. 1600 = 1600~/.. 1595 -
        active 1850–1880 = 1850/1880 1850 1880
        fl. c. 1620 = 1620~ 1615 1625
        tätig um 1850 = 1850~ 1845 1855
    """,
}
ROWS = [
    (form, *row.strip().split(" = "))
    for form, rows in FORMS.items()
    for row in rows.strip().splitlines()
]


@pytest.mark.parametrize(
    ("form", "phrase", "expected"), ROWS, ids=lambda value: value.replace(" ", "_")
)
def test_a_form_is_understood(form, phrase, expected):
    span = read_date(phrase)
    assert span is not None, why_not(phrase)
    years = [str(day.year) if day else "-" for day in (span.earliest, span.latest)]
    assert [span.edtf, *years] == expected.split()
    assert understand(phrase).rest == ""


@pytest.mark.parametrize(("form", "phrase", "expected"), ROWS, ids=lambda value: value[:40])
def test_the_edtf_of_a_form_means_the_same_days(form, phrase, expected):
    span = read_date(phrase, circa=0)
    again = read_edtf(span.edtf, circa=0)
    if "±" not in phrase and "plus or minus" not in phrase:
        assert (again.earliest, again.latest) == (span.earliest, span.latest)


# --- the rule says what was made of it ------------------------------------------------------------------

RULES = [
    ("1887", "year"),
    ("c. 1887", "circa"),
    ("exhibited 1887", "year, exhibited"),
    ("1887, reworked 1901", "several dates: 1887; reworked 1901"),
    ("1880 (original), reprinted 1900", "several dates: made 1880; printed 1900"),
    ("begun 1506, completed 1511", "begun - finished"),
    ("19th century (1850s)", "decade, the narrowest of several"),
    ("b. 1870", "born then; the end of the life is not said"),
    ("3/4/1906", "day and month in either order"),
    ("12,000 BC", "year, beyond the years -9999 to 9999, where no bounds are kept"),
    ("Y170000002", "edtf: beyond the years -9999 to 9999, where no bounds are kept"),
]


@pytest.mark.parametrize(("phrase", "rule"), RULES)
def test_the_rule_says_what_was_made_of_the_words(phrase, rule):
    assert read_date(phrase).rule == rule


# --- what is left open: the century, day and month -------------------------------------------------------

THIS_YEAR = datetime.date.today().year
WINDOW = (Day(1890, 1, 1), Day(1930, 12, 31))


@pytest.mark.parametrize(
    ("phrase", "month_and_day"),
    [("3.5.07", "05-03"), ("3 Aug 45", "08-03"), ("12.IV.03", "04-12"), ("12 April '03", "04-12"), ("Dec. 24, '87", "12-24")],
)  # fmt: skip
def test_two_figures_may_be_of_any_century_since_1600_that_is_past(phrase, month_and_day):
    span = read_date(phrase)
    years = [member[:4] for member in span.edtf.strip("[]").split(",")]
    assert span.edtf.startswith(f"[16{years[0][2:]}-{month_and_day},17")
    assert all(1600 <= int(year) <= THIS_YEAR for year in years)
    assert len(years) == len(range(int(years[0]), THIS_YEAR + 1, 100))
    assert span.rule == "two-digit year: the century is not said"


def test_other_evidence_argues_the_century_and_the_rule_says_so():
    span = read_date("3.5.07", within=WINDOW)
    assert (span.edtf, span.rule) == (
        "1907-05-03",
        "two-digit year: the only one within 1890-01-01/1930-12-31",
    )
    assert read_date("'87", within=(Day(1850, 1, 1), None)).edtf == "[1887,1987]"
    assert read_date("c. '87", within=(Day(1892, 1, 1), Day(1899, 1, 1))).edtf == "1887~"


def test_evidence_that_fits_no_century_is_told_and_nothing_is_lost():
    span = read_date("'87", within=(Day(1900, 1, 1), Day(1950, 1, 1)))
    assert span.edtf == "[1687,1787,1887,1987]"
    assert span.rule == "two-digit year: no century lies within the evidence"


def test_evidence_changes_no_date_that_says_its_century():
    assert read_date("1707", within=WINDOW) == read_date("1707")


def test_both_readings_of_day_and_month_stay_possible():
    assert read_date("3/4/1906").edtf == "[1906-03-04,1906-04-03]"
    # one date of a text that can be read in one order only settles the other
    assert read_date("3/4/1906-25/4/1906").edtf == "1906-04-03/1906-04-25"
    assert read_date("3/4/1906-4/25/1906").edtf == "1906-03-04/1906-04-25"
    assert (
        why_not("25/4/1906-4/26/1906") == "day and month stand in another order elsewhere in it"
    )


def test_two_figures_and_either_order():
    assert read_date("3/4/06", within=WINDOW).edtf == "[1906-03-04,1906-04-03]"


# --- what is not understood -------------------------------------------------------------------------------

BESIDE = [
    ("1887 (relined by somebody)", "1887", " (relined by somebody)"),
    ("Holm, 24 Aug. 1932", "1932-08-24", "Holm, "),
    ("ca. 1550 BC (New Kingdom)", "-1549~", " (New Kingdom)"),
    (
        "New Kingdom, Dynasty 18, ca. 1479–1425 B.C.",
        "-1478~/-1424~",
        "New Kingdom, Dynasty 18, ",
    ),
    ("Late Period (664–332 BC)", "-0663/-0331", "Late Period "),
    ("1540–1296 BCE (18th Dynasty)", "-1539/-1295", " (18th Dynasty)"),
    ("1887 [sic]", "1887", " [sic]"),
    ("1967, edition 12/25", "1967", ", edition 12/25"),
    ("1967 (edition of 50)", "1967", " (edition of 50)"),
    ("Holm? 1760s", "176X", "Holm? "),
    ("16th-century style, 19th century", "18XX", "16th-century style, "),
    ("c. 1750, probably by a pupil", "1750~", ", probably by a pupil"),
]

DOUBTFUL = [
    "not 1887", "1887, not 1888", "15s.", "15 s", "No. 1887", "lot 1887", "£1887", "1887 francs", "1234 Elm Street", "1887 mm", "1887A",
    "Tel. 1887", "12 1887", "1887 18", "by by 1907", "after a design of 1750", "between 1883", "1883 April 12 1884 5", "20 x 1883 cm",
]  # fmt: skip

REFUSED = [
    ("31 February 1900", "there is no day 1900-02-31"),
    ("29 February 1900", "there is no day 1900-02-29"),
    ("0 January 1883", "there is no day 1883-01-00"),
    ("January 32, 1883", "there is no day 1883-01-32"),
    ("31.4.1883", "there is no day 1883-04-31"),
    ("1899-13-45", "there is no month 13, so no day 1899-13-45"),
    ("25/25/1925", "there is no month 25, so no day 1925-25-25"),
    ("13/1883", "there is no month 13"),
    ("1885-13", "there is no month 13, and no year 1813 after 1885"),
    ("1883–1790", "it does not end after it begins"),
    ("between 1890 and 1880", "it does not end after it begins"),
    ("from 1890 to 1880", "it does not end after it begins"),
    ("after 1883, before 1880", "it does not end after it begins"),
    ("after 1890 and before 1880", "it does not end after it begins"),
    ("25th century", "there is no 25. century to date paintings by"),
    ("5th quarter of the 19th century", "there is no part 5 of 4"),
    ("0 BC", "there is no year 0 BC"),
    ("before 1880–after 1890", "it has neither a beginning nor an end"),
    ("before 1900, 1950 or later", "it does not end after it begins"),
    ("before 1900; 1950s", "its dates do not fit together"),
    ("16th-century style", "it says in what style it is, not when it was made"),
    ("c. 1880 to before", "what 'before' says of the date is not understood"),
]  # fmt: skip


@pytest.mark.parametrize(("phrase", "edtf", "rest"), BESIDE)
def test_words_beside_a_date_that_is_beyond_doubt_are_left_over(phrase, edtf, rest):
    understood = understand(phrase)
    assert (understood.span.edtf, understood.rest) == (edtf, rest)
    assert understood.rule.endswith("words beside it are not understood")


@pytest.mark.parametrize("phrase", DOUBTFUL)
def test_a_date_that_something_may_change_is_none(phrase):
    understood = understand(phrase)
    assert understood.span is None
    assert understood.rest == phrase
    assert understood.why


@pytest.mark.parametrize(("phrase", "why"), REFUSED)
def test_what_never_was_is_refused_in_words(phrase, why):
    assert read_date(phrase) is None
    assert why_not(phrase) == why


words = st.sampled_from(
    ["12", "April", "1903", "c.", "before", "19th", "century", "-", "/", "(", ")", "[", "]", ",", "or", "and", "to", "from",
     "between", "early", "half", "'87", "an", "VI", "Geo.", "AD", "BC", "80s", "of", "the", "?", "Monday", "b.", "O.S.", "cast", "1702/3"]
)  # fmt: skip


@given(st.one_of(st.text(max_size=80), st.lists(words, max_size=25).map(" ".join)))
@example("[00s]/EARLY")
@example("AD " * 60)
@example("80s of " * 28)
def test_any_text_has_a_date_or_a_reason_and_what_is_left_is_of_it(text):
    understood = understand(text)
    assert (understood.span is None) == bool(understood.why)
    left = iter(text)
    assert all(letter in left for letter in understood.rest)
    if understood.span:
        zero = understand(text, circa=0).span
        again = read_edtf(zero.edtf, circa=0)
        assert (again.earliest, again.latest) == (zero.earliest, zero.latest)
