"""The ten worked examples of provenance prose in facts/trade.md, 7.3, text for text, and what bears on each.

Footnotes that dorse itself writes begin with a capital letter and end with a full stop, as they are printed.
"""

from __future__ import annotations

import pytest

from catalogue.argument.prose.entries import Entry, EntryNote, EntryParty
from catalogue.argument.prose.writing import write_provenance
from catalogue.errors import NeedsDocument
from catalogue.measure import Day, read_date

TODAY = Day(2026, 3, 2)
DIRECT, UNKNOWN, GAP = "passage/direct", "passage/not-known", "passage/gap"


def who(name, role="owner", **facts):
    return EntryParty(name=name, role=f"capacity/{role}", **facts)


def step(kind, *parties, when=None, until=None, passage=None, certainty="certain", **facts):
    return Entry(
        kind=f"provenance/{kind}",
        parties=parties,
        when=read_date(when) if when else None,
        until=read_date(until) if until else None,
        passage=passage,
        certainty=f"certainty/{certainty}",
        **facts,
    )


def written(entries, profile="life", form="public", **more):
    return write_provenance(entries, profile, form, today=TODAY, **more)


UNBROKEN = [
    step("creation", who("the artist", "artist"), passage=DIRECT),
    step("sale", who("Agnes Verlinden", "buyer", life="1889-1961", place="Ghent"), when="1931", passage=DIRECT),
    step("inheritance", who("Paul Verlinden", "heir", life="1920-2004", place="Ghent", relation="her nephew"),
         when="1961", passage=DIRECT),
    step("presence", who("Halewyck Fine Pictures", "dealer", place="Antwerp"), when="1963", passage=DIRECT),
    step("sale", who("private collection", "buyer", place="Belgium"), when="1963"),
]  # fmt: skip


# facts/trade.md 7.3, example 1
def test_unbroken():
    assert written(UNBROKEN).text == (
        "The artist; sold to Agnes Verlinden [1889-1961], Ghent, 1931; by inheritance to her nephew, "
        "Paul Verlinden [1920-2004], Ghent, 1961; (Halewyck Fine Pictures, Antwerp, 1963); private "
        "collection, Belgium, purchased 1963."
    )


LABELS_ONLY = [
    step("creation", who("M. Harrowell", "artist"), until="c. 1934-1936", passage=UNKNOWN),
    step("presence", who("Galerie Morvane", "dealer", place="Ghent"), when="by 1937",
         until="1938 at the latest", passage=GAP, notes=("b",)),
    step("presence", who("private collection", place="Netherlands"), when="by 1948",
         until="1962 at the latest", notes=("a",)),
]  # fmt: skip
LABEL_NOTES = [
    EntryNote("a", "Exhibition label, verso, lower left seen from the back; lender named on it, withheld."),
    EntryNote("b", "Printed label, verso, top stretcher bar, seen 2026; shows the work was with the firm, "
                   "not that the firm owned it."),
]  # fmt: skip


# facts/trade.md 7.3, example 2; it prints no note about the window, which V11 makes a duty of the public form
def test_gaps_with_labels_alone():
    bare = written(LABELS_ONLY, notes=LABEL_NOTES, windows=())
    assert bare.text == (
        "M. Harrowell, until c. 1934-1936. (Galerie Morvane, Ghent, by 1937, until 1938 at the latest).¹ "
        "Private collection, Netherlands, by 1948, until 1962 at the latest.²"
    )
    assert [each.text for each in bare.notes] == [LABEL_NOTES[1].text, LABEL_NOTES[0].text]


def test_the_window_adds_its_note_to_the_gaps():
    duly = written(LABELS_ONLY, notes=LABEL_NOTES)
    assert duly.text == (
        "M. Harrowell, until c. 1934-1936. (Galerie Morvane, Ghent, by 1937, until 1938 at the latest).¹\N{NARROW NO-BREAK SPACE}² "
        "Private collection, Netherlands, by 1948, until 1962 at the latest.³\N{NARROW NO-BREAK SPACE}⁴"
    )
    assert duly.notes[1].text == (
        "Whereabouts between 1934 and 1937 have not been established; research continues."
    )
    assert duly.notes[3].text.startswith("Whereabouts between 1938 and 1948")


# facts/trade.md 7.3, example 3
def test_doubtful_owner():
    told = written(
        [
            step("presence", who("Edmund Tallis", place="Hull"), when="before 1914", passage=UNKNOWN,
                 certainty="possible", notes=("1",)),
            step("presence", who("Clara Tallis", place="York"), when="by 1922"),
        ],
        notes=[EntryNote("1", "crayon initials \"E.T.\" verso; no document.")],
    )  # fmt: skip
    assert (
        told.text == "Possibly Edmund Tallis, Hull, before 1914.¹ Clara Tallis, York, by 1922."
    )
    assert told.remarks == ()


AUCTION = [
    step("presence", who("Robert Oosterveen", life="d. 1956", place="Rotterdam"), passage=DIRECT),
    step("inheritance", who("his estate", "heir"), when="1956", passage=DIRECT),
    step("auction", who("Vaux & Son", "auctioneer", place="Rotterdam"), when="14 May 1957", lot="212",
         passage=DIRECT),
]  # fmt: skip


# facts/trade.md 7.3, example 4
def test_auction_with_the_buyer_documented():
    chain = [
        *AUCTION,
        step("sale", who("Dr. A. Sieber", "buyer", place="Basel"), phrase="purchased at that sale", passage=DIRECT),
        step("exchange", who("Kunsthandel Lindt", "dealer", place="Zurich"), when="1960", stock_number="4417"),
    ]  # fmt: skip
    assert written(chain).text == (
        "Robert Oosterveen [d. 1956], Rotterdam; by inheritance to his estate, 1956; (sale, Vaux & Son, "
        "Rotterdam, 14 May 1957, lot 212); Dr. A. Sieber, Basel, purchased at that sale; by exchange to "
        "(Kunsthandel Lindt, Zurich, stock no. 4417, 1960)."
    )


# facts/trade.md 7.3, example 4b
def test_auction_with_the_buyer_unknown():
    chain = [
        *AUCTION[:2],
        step("auction", who("Vaux & Son", "auctioneer", place="Rotterdam"), when="14 May 1957", lot="212",
             passage=GAP),
        step("presence", who("Dr. A. Sieber", place="Basel"), when="by 1959"),
    ]  # fmt: skip
    assert written(chain).text.endswith(
        "; (sale, Vaux & Son, Rotterdam, 14 May 1957, lot 212). Dr. A. Sieber, Basel, by 1959."
    )


# facts/trade.md 7.3, example 5
def test_bought_in():
    chain = [
        step("presence", who("Dr. A. Sieber", place="Basel"), when="by 1958", passage=DIRECT),
        step("bought-in", who("Vaux & Son", "auctioneer", place="Rotterdam"), when="3 March 1958", lot="91",
             passage=DIRECT),
        step("other", who("Dr. A. Sieber"), phrase="returned to", when="1958"),
    ]  # fmt: skip
    assert written(chain).text == (
        "Dr. A. Sieber, Basel, by 1958; (offered, Vaux & Son, Rotterdam, 3 March 1958, lot 91, bought in); "
        "returned to Dr. A. Sieber, 1958."
    )


# facts/trade.md 7.3, example 6
@pytest.mark.parametrize(
    ("profile", "text"),
    [
        ("life", "(Halewyck Fine Pictures, Antwerp, 1934); Joanna Pryce [1901-1977], Bath, purchased 1934."),
        ("dealer", "[Halewyck Fine Pictures, Antwerp, 1934]; Joanna Pryce (1901-1977), Bath, purchased 1934."),
    ],
)  # fmt: skip
def test_the_same_facts_in_both_habits(profile, text):
    chain = [
        step("presence", who("Halewyck Fine Pictures", "dealer", place="Antwerp"), when="1934", passage=DIRECT),
        step("sale", who("Joanna Pryce", "buyer", life="1901-1977", place="Bath"), when="1934"),
    ]  # fmt: skip
    assert written(chain, profile).text == text


# facts/trade.md 7.3, example 7
def test_agent():
    chain = [
        step(
            "presence", who("Countess von Ostrau", place="Riga"), when="by 1925", passage=DIRECT
        ),
        step("sale", who("H. Keel", "agent", place="Berlin"), when="1929", passage=DIRECT),
        step(
            "sale", who("Leopold Marr", "buyer", life="1880-1951", place="Vienna"), when="1929"
        ),
    ]
    assert written(chain).text == (
        "Countess von Ostrau, Riga, by 1925; (through H. Keel, Berlin, agent, 1929); Leopold Marr "
        "[1880-1951], Vienna, purchased 1929."
    )


OPEN = [
    step(
        "presence",
        who("Leopold Marr", life="1880-1951", place="Vienna"),
        until="1938",
        passage=GAP,
    ),
    step(
        "presence",
        who("Galerie Nordhaus", "dealer", place="Munich"),
        when="1949",
        passage=DIRECT,
    ),
    step("sale", who("private collection", "buyer", place="Belgium"), when="1950"),
]
NOT_ESTABLISHED = (
    "Whereabouts between 1938 and 1949 have not been established; research continues."
)


# facts/trade.md 7.3, example 8
def test_open_years_in_the_house():
    told = written(OPEN, form="internal", searched=Day(2026, 2, 11))
    assert told.text.startswith(
        "Leopold Marr [1880-1951], Vienna, until 1938. [Not established 1938-1949: inside 1933-1945, red "
        "flag, last searched 2026-02-11.]¹ (Galerie Nordhaus, Munich, 1949); "
    )
    assert told.notes == (EntryNote("1", NOT_ESTABLISHED),)


# facts/trade.md 7.3, example 8
def test_open_years_before_strangers():
    told = written(OPEN)
    assert told.text.startswith(
        "Leopold Marr [1880-1951], Vienna, until 1938. (Galerie Nordhaus, Munich, 1949);¹ "
    )
    assert told.notes == (EntryNote("1", NOT_ESTABLISHED),)


def test_no_semicolon_over_open_years_whatever_the_record_says():
    told = written(
        [step("presence", OPEN[0].parties[0], until="1938", passage=DIRECT), *OPEN[1:]]
    )
    assert "until 1938. (Galerie" in told.text
    assert "1933-1945" in told.remarks[0]


def taken(documented):
    return [
        step("presence", who("Leopold Marr", life="1880-1951", place="Vienna"), until="1939", passage=DIRECT),
        step("confiscation", who("a state authority", "authority", place="Vienna"), when="March 1939",
             passage=DIRECT, notes=("1",), documented=documented),
        step("recovery", who("an Allied collecting point", "custodian"), when="1945", passage=DIRECT,
             notes=("2",), documented=documented),
        step("restitution", who("the heirs of Leopold Marr", "heir"), when="1951", passage=DIRECT,
             notes=("3",), documented=documented),
        step("descent", phrase="by descent in the family"),
    ]  # fmt: skip


DECREES = [EntryNote(mark, f"decree {mark}, state archive, seen 2026") for mark in "123"]


# facts/trade.md 7.3, example 9
def test_confiscation_and_return():
    assert written(taken(True), notes=DECREES).text == (
        "Leopold Marr [1880-1951], Vienna, until 1939; confiscated by a state authority, Vienna, March "
        "1939;¹ recovered by an Allied collecting point, 1945;² restituted to the heirs of Leopold Marr, "
        "1951;³ by descent in the family."
    )


# facts/trade.md V15
def test_heavy_words_need_a_document():
    with pytest.raises(NeedsDocument, match="document of the first grade"):
        written(taken(False), notes=DECREES)


def test_a_confiscation_needs_its_day():
    chain = taken(True)
    chain[1] = step("confiscation", *chain[1].parties, documented=True, passage=DIRECT)
    with pytest.raises(NeedsDocument, match="without a date"):
        written(chain, notes=DECREES)


def test_without_a_document_the_words_can_be_left_out():
    told = written(taken(False), notes=DECREES, undocumented="neutral")
    assert "confiscated" not in told.text
    assert "restituted" not in told.text
    assert "Passed on in a way that no document here shows" not in told.text
    assert "; passed on in a way that no document here shows, March 1939;¹" in told.text
    assert len(told.remarks) == 3


PRIVATE = [
    step("presence", who("Halewyck Fine Pictures", "dealer", place="Antwerp"), when="1988", passage=DIRECT),
    step("sale", who("Helga Brandt", "buyer", life="b. 1948", place="Lyon", withheld=True), when="1988",
         passage=DIRECT, price="40 000 francs"),
    step("gift", who("Marc Brandt", "heir", place="Lyon", relation="her son", withheld=True), when="2015"),
]  # fmt: skip


# facts/trade.md 7.3, example 10
def test_redacted_for_a_dealer():
    told = written(PRIVATE)
    assert told.text.endswith(
        "; private collection, France, purchased 1988; by gift to a private collection, France, 2015.¹"
    )
    assert told.notes == (EntryNote("1", "Names withheld at the owners' request."),)


# facts/trade.md 7.3, example 10, and 6.5 R5: a price paid is told in the house alone
def test_the_same_in_the_house():
    phrased = [
        PRIVATE[0],
        step("sale", *PRIVATE[1].parties, when="1988", passage=DIRECT, phrase="purchased"),
        PRIVATE[2],
    ]
    assert written(phrased, form="internal").text.endswith(
        "; Helga Brandt [b. 1948], Lyon, purchased 1988; by gift to her son, Marc Brandt, Lyon, 2015."
    )
    assert "for 40 000 francs" in written(PRIVATE, form="internal").text
    assert "francs" not in written(PRIVATE).text
