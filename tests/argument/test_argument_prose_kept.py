"""A record's provenance as entries: one event in several blocks, whose name is told, what is worth a semicolon."""

from __future__ import annotations

import pytest

from catalogue.argument.prose.told import provenance_told
from catalogue.measure import Day, read_date
from catalogue.record import Evidence, Party, PartyName, PartyRole, ProvenanceEvent, Title, Work

TODAY = Day(2026, 3, 2)
BOOK = Evidence(kind="evidence/oral", text="a stock book", strength="strength/primary")


def party(name, kind="person", **facts):
    return Party(kind=kind, names=(PartyName(text=name),), **facts)


ARTIST = party("Mara Harrowell", roles=("role/artist",), began=read_date("1900"))
LIVING = party("Helga Brandt", began=read_date("1948"))
DEAD = party("Leopold Marr", began=read_date("1880"), ended=read_date("1951"))
PEOPLE = {each.document: each for each in (ARTIST, LIVING, DEAD)}


def role(who, capacity, **facts):
    named = {"party": who.document} if isinstance(who, Party) else {"written": who}
    return PartyRole(role=f"capacity/{capacity}", **named, **facts)


def event(order, kind, *parties, when=None, passage="passage/direct", **facts):
    facts.setdefault("evidence", (BOOK,))
    return ProvenanceEvent(
        order=order, kind=f"provenance/{kind}", parties=parties, passage=passage,
        when=read_date(when) if when else None, **facts,
    )  # fmt: skip


def told(*events, form="internal"):
    work = Work(titles=(Title(text="Sea Wall", kind="title/descriptive"),), provenance=events)
    text = provenance_told(work, PEOPLE.get, today=TODAY, form=form).text
    return "".join(each for each in text if each not in "⁰¹²³⁴⁵⁶⁷⁸⁹\u202f")


# facts/trade.md 7.3, examples 4 and 7: the saleroom and the agent stand in blocks of their own
@pytest.mark.parametrize(
    ("kind", "parties", "facts", "text"),
    [
        ("auction", (("Vaux & Son", "auctioneer"), ("Dr. A. Sieber", "buyer")), {"lot": "212", "at": "Rotterdam"},
         "(sale, Vaux & Son, Rotterdam, 1957, lot 212); Dr. A. Sieber, purchased at that sale."),
        ("sale", (("H. Keel", "agent"), (DEAD, "buyer")), {},
         "(through H. Keel, agent, 1957); Leopold Marr [1880-1951], purchased 1957."),
        ("gift", (("Ada Wren", "donor"), ("Hull Hall", "heir")), {}, "Ada Wren; by gift to Hull Hall, 1957."),
        ("gift", (("Ada Wren", "donor"), ("Hull Hall", "heir")), {"phrase": "given by"},
         "Ada Wren; by gift to Hull Hall, 1957."),
        ("sale", (("not known", "buyer"),), {}, "Unknown owner, purchased 1957."),
    ],
)  # fmt: skip
def test_one_event_in_blocks(kind, parties, facts, text):
    roles = [role(*each) for each in parties]
    assert told(event(1, kind, *roles, when="1957", passage=None, **facts)) == text


def test_the_artist_is_called_so():
    assert (
        told(event(1, "creation", role(ARTIST, "artist"), when="1931", passage=None))
        == "The artist, 1931."
    )


# facts/trade.md V7, R3
def test_who_may_be_alive_is_named_in_the_house_alone():
    chain = event(1, "sale", role(LIVING, "buyer", place="Lyon"), when="1988", passage=None)
    assert told(chain) == "Helga Brandt [b. 1948], Lyon, purchased 1988."
    assert told(chain, form="public") == "Private collection, France, purchased 1988."


# facts/trade.md V4: a semicolon needs evidence of grade A or B
@pytest.mark.parametrize(
    ("strength", "sign"),
    [("primary", ";"), ("secondary", ";"), ("inferred", "."), ("oral", ".")],
)
def test_a_semicolon_rests_on_evidence(strength, sign):
    held = (Evidence(kind="evidence/oral", text="a niece", strength=f"strength/{strength}"),)
    text = told(
        event(1, "presence", role("Ada Wren", "owner"), when="1950", evidence=held),
        event(2, "gift", role("Hull Hall", "heir"), when="1957", passage=None, evidence=held),
    )
    assert text.startswith(f"Ada Wren, 1950{sign} ")


# facts/trade.md V1: an event without a place in the chain goes where its date lets it
def test_a_loose_event_finds_its_place_and_parts_nobody():
    text = told(
        event(1, "presence", role("Ada Wren", "owner"), when="1950"),
        event(2, "gift", role("Hull Hall", "heir"), when="1957", passage="passage/gap"),
        event(3, "presence", role("Ivo Brandt", "owner"), when="1970", passage=None),
        event(None, "presence", role("Clara Tallis", "owner"), when="1955", passage="passage/not-known"),
    )  # fmt: skip
    assert (
        text
        == "Ada Wren, 1950; by gift to Hull Hall, 1957. Clara Tallis, 1955. Ivo Brandt, 1970."
    )
