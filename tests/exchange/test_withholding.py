"""What rules of lives, addresses and prices keep at home; the rules R2 to R8 and R14 of facts/trade.md 6.5."""

from __future__ import annotations

from dataclasses import replace

import pytest
from made_records import ARTIST
from redacting import redact
from test_redaction import STAND_INS

from catalogue.exchange.withholding.letters import shortened
from catalogue.exchange.withholding.lives import Life, Lives, life_of
from catalogue.exchange.withholding.redaction import areas_to_cover, leaving, profile, profiles
from catalogue.exchange.withholding.standing_in import StandIns
from catalogue.linked.documents import from_jsonld, to_jsonld
from catalogue.measure import Day, read_date
from catalogue.reading import read
from catalogue.record import (
    Attribution,
    Consent,
    Evidence,
    Exhibition,
    Inscription,
    Party,
    PartyName,
    PartyRole,
    Photo,
    ProvenanceEvent,
    Region,
    Statement,
    Transcript,
    Work,
)

TODAY = Day(2026, 3, 2)
PRIVATE, _ = STAND_INS
STRICT = ["public", "sale", "loan"]


def party(name, born=None, died=None, kind="person", roles=("role/collector",), **fields):
    return Party(
        kind=kind, names=(PartyName(text=name),), roles=roles,
        began=read_date(born) if born else None, ended=read_date(died) if died else None, **fields,
    )  # fmt: skip


def event(order, who, when, kind="provenance/private-sale", role="capacity/owner", **fields):
    fields.setdefault("evidence", (Evidence(kind="evidence/none-cited"),))
    shown = {"party": who.document} if isinstance(who, Party) else {"written": who}
    return ProvenanceEvent(
        order=order, kind=kind, when=read_date(when),
        parties=(PartyRole(role=role, life=fields.pop("life", None), **shown),), **fields,
    )  # fmt: skip


AUCTION = event(9, "Fenwick's Rooms", "2001", "provenance/auction", "capacity/auctioneer")


def sent(work, *people, profile_name="sale", today=TODAY):
    on_file = {each.document: each for each in people}
    kept, home = leaving(
        work, profile(profile_name), lambda _: False, StandIns(lambda _: None),
        Lives(on_file.get, today),
    )  # fmt: skip
    return kept, home


def named(who, when="1950", **fields):
    """What stands for somebody who had a painting, in a chain that ends at an auction."""
    life = {"life": fields.pop("life")} if "life" in fields else {}
    people = (who,) if isinstance(who, Party) else ()
    work = Work(provenance=(event(1, who, when, **life, **fields), AUCTION))
    kept, _ = sent(work, *people)
    (role,) = kept.provenance[0].parties
    return role.written or role.party


# R3: a private person who may be living is not named
@pytest.mark.parametrize(
    ("born", "died", "told"),
    [
        ("1948", None, False),
        (None, None, False),
        ("1889", "1961", True),
        ("1900", None, True),  # 126 years before
        ("1920", None, False),  # 106 years before: nobody is taken for dead
        (None, "1961", True),
        (None, "after 1950", False),
        ("1950", "2027", False),
    ],
)
def test_who_may_be_living_is_not_named(born, died, told):
    who = party("Clara Tallis", born, died)
    assert named(who) == (who.document if told else PRIVATE)


@pytest.mark.parametrize(
    ("written", "life", "told"),
    [
        ("Mrs Clara Tallis", None, False),
        ("Mrs Clara Tallis", "b. 1948", False),
        ("Mrs Clara Tallis", "1889-1961", True),
        ("Tallis & Sons Ltd", None, True),
        ("Someone in York", None, False),
    ],
)
def test_a_name_as_written_is_held_to_the_same(written, life, told):
    assert named(written, life=life) == (written if told else PRIVATE)


def test_who_had_it_long_ago_was_born_before():
    assert named("Mrs Clara Tallis", when="1911") == "Mrs Clara Tallis"
    assert named("Mrs Clara Tallis", when="1917") == PRIVATE


@pytest.mark.parametrize("role", ["role/dealer", "role/museum", "role/artist"])
def test_trades_and_artists_are_no_private_persons(role):
    who = party("Clara Tallis", "1948", roles=(role,))
    assert named(who) == who.document


def test_a_consent_names_until_it_is_taken_back():
    given = Consent(to="consent/name", on=Day(2026, 1, 5))
    yes = party("Clara Tallis", "1948", consents=(given,))
    assert named(yes) == yes.document
    for other in (
        replace(given, withdrawn=Day(2026, 2, 1)),
        replace(given, on=Day(2026, 6, 1)),
        replace(given, to="consent/address"),
    ):
        assert named(replace(yes, consents=(other,))) == PRIVATE


def test_without_a_day_nobody_is_known_to_be_dead():
    who = party("Clara Tallis", "1889", "1961")
    kept, _ = sent(Work(provenance=(event(1, who, "1911"), AUCTION)), who, today=None)
    assert kept.provenance[0].parties[0].party is None


# R2: who had it after it was last seen in public
def test_who_had_it_last_is_not_named_nor_is_a_family():
    family = party("The Tallis family", kind="group", roles=("role/family",))
    museum = party("Norbury Museum", kind="group", roles=("role/museum",))
    for who, told in ((family, False), (museum, True)):
        kept, home = sent(Work(provenance=(AUCTION, event(10, who, "2005"))), who)
        assert (kept.provenance[1].parties[0].party == who.document) is told
        assert any("last seen in public" in each.why for each in home) is not told
    assert named(family) == family.document  # before the auction it was no secret


def test_where_nothing_was_public_the_last_one_is_not_named():
    kept, _ = sent(Work(provenance=(event(1, "Ann Oake", "1890"), event(2, "Jo Oake", "1900"))))
    assert [each.parties[0].written for each in kept.provenance] == ["Ann Oake", PRIVATE]


# R3: dead for less than thirty years: the name if published, else the first letter
def test_somebody_who_died_lately_is_told_by_a_letter_where_it_was_not_published():
    who = party("Clara Tallis", "1920", "2004")
    assert named(who) == "T."
    cited = (Evidence(kind="evidence/citation", text="Harbour painters, 1990"),)
    assert named(who, evidence=cited) == who.document
    assert named(party("Clara Tallis", "1900", "1995")) != "T."


def test_words_beside_a_withheld_name_go_with_it():
    told = event(
        1,
        "Mrs Clara Tallis",
        "1950",
        phrase="sold by Tallis to",
        life="b. 1948",
        at="Tallis House, Bath",
    )
    kept, _ = sent(Work(provenance=(told, AUCTION)))
    assert "Tallis" not in str(kept)


@pytest.mark.parametrize("name", STRICT)
def test_a_chain_is_as_long_as_it_was(name):
    """R14: what is withheld is said in its place."""
    hidden = replace(event(2, "Jo Oake", "1960"), visibility="visibility/studio")
    work = Work(provenance=(event(1, "Ann Oake", "1950"), hidden, AUCTION))
    document, _ = redact(to_jsonld(work), work.document, profile(name), lambda _: False)
    left = from_jsonld(document, document_id=work.document).provenance
    assert [each.order for each in left] == [1, 2, 9]
    assert [each.parties[0].written for each in left[:2]] == [PRIVATE, PRIVATE]


def test_a_date_that_stands_for_an_event_has_no_words_beside_it():
    when = replace(read_date("1960"), written="1960, when Oake needed money")
    hidden = replace(event(2, "Jo Oake", "1960"), when=when, visibility="visibility/studio")
    (left,) = sent(Work(provenance=(hidden,)))[0].provenance
    assert (left.when.written, left.when.earliest) == ("1960", Day(1960, 1, 1))


@pytest.mark.parametrize("name", ["owner", "authority", "full"])
def test_other_profiles_name_names(name):
    who = party("Clara Tallis", "1948")
    kept, _ = sent(Work(provenance=(event(1, who, "1950"),)), who, profile_name=name)
    assert kept.provenance[0].parties[0].party == who.document


# R4: an address on the back
LIVING, DEAD = party("Ada Penn", "1950", roles=("role/artist",)), ARTIST


def back(markup, maker=DEAD, kind="inscription/inscription", statements=(), **fields):
    transcript = Transcript(markup=markup)
    statements = tuple(replace(each, transcript=transcript.id) for each in statements)
    photo = Photo(sha256="ab" * 32, width=100, height=100)
    mark = Inscription(
        kind=kind, face="face/back", transcripts=(transcript,), statements=statements,
        regions=(Region(photo=photo.id, corners=((1, 1), (9, 1), (9, 5), (1, 5))),), **fields,
    )  # fmt: skip
    attributed = (Attribution(artist=maker.document),) if maker else ()
    return Work(inscriptions=(mark,), photos=(photo,), attributions=attributed)


def text_sent(work, *people, profile_name="sale"):
    kept, home = sent(work, LIVING, DEAD, *people, profile_name=profile_name)
    return kept.inscriptions[0].transcripts[0].markup, home


@pytest.mark.parametrize("maker", [LIVING, None])
@pytest.mark.parametrize(
    ("typed", "left"),
    [
        ("A. Penn|6 Chandler's Row", "A. Penn|[--- :address withheld]"),
        (
            "14, Bruton St., London W.1",
            "[--- :address withheld], London [--- :address withheld]",
        ),
        ("[6] Ch_andler's Row, Bath", "[--- :address withheld], Bath"),
        ("6 Chandl[...] Row", "[--- :address withheld]"),
        ("*A. Penn* [[6 Chandler's Row]]", "*A. Penn* [[[--- :address withheld]]]"),
        ("6 Chandler's Row /* her home */", "[--- :address withheld] "),
        ("Tel. Mayfair 2211", "Tel. [--- :telephone number withheld]"),
        ("Low Water 1931", "Low Water 1931"),
    ],
)
def test_an_address_of_the_living_is_withheld_and_its_town_told(typed, left, maker):
    assert text_sent(back(typed, maker))[0] == left
    assert read(left).faults == ()


def test_an_address_of_the_dead_leaves():
    typed = "A. Penhale|6 Chandler's Row"
    assert text_sent(back(typed))[0] == typed
    old = replace(back(typed, None), made=read_date("1887"))
    assert text_sent(old)[0] == typed


def test_a_firm_prints_where_it_trades():
    typed = "Hollis & Trewin|14, Bruton St., London W.1"
    assert text_sent(back(typed, LIVING, "inscription/dealer-label"))[0] == typed


def test_an_owners_label_is_not_the_artists():
    assert "Row" not in text_sent(back("6 Chandler's Row", DEAD, "inscription/owner-label"))[0]


def test_all_of_an_address_that_is_not_known_as_one_is_withheld():
    left = text_sent(back("The Old Mill, Tregarrick", LIVING, "inscription/address"))[0]
    assert left == "[--- :address withheld]"


def test_what_a_person_rejected_is_no_address_and_what_they_accepted_is_one():
    no = Statement(
        kind="statement/address", written="6 Chandler's Row", transcript=ARTIST.id, start=0,
        end=16, standing="standing/rejected",
    )  # fmt: skip
    assert (
        text_sent(back("6 Chandler's Row", LIVING, statements=(no,)))[0] == "6 Chandler's Row"
    )
    yes = replace(no, written="Old Mill 3", end=10, standing="standing/accepted")
    assert text_sent(back("Old Mill 3", LIVING, statements=(yes,)))[0].startswith("[---")


def test_copies_are_covered_where_letters_are_withheld():
    work = back("A. Penn|6 Chandler's Row", LIVING)
    _, home = text_sent(work)
    assert areas_to_cover(home) == {work.photos[0].id: (((1, 1), (9, 1), (9, 5), (1, 5)),)}
    hidden = replace(work.inscriptions[0], visibility="visibility/restricted")
    _, home = sent(replace(work, inscriptions=(hidden,)))
    assert list(areas_to_cover(home)) == [work.photos[0].id]
    assert areas_to_cover(text_sent(back("A. Penhale"))[1]) == {}


# R5: a price on the object
@pytest.mark.parametrize(
    ("typed", "left"),
    [
        ("12 gns", "12 gns"),  # guineas end with the currency of 1971
        ("£40", "[--- :price withheld]"),
        ("EUR 2.400", "[--- :price withheld]"),
        ("no price here", "no price here"),
    ],
)
def test_a_price_leaves_once_it_is_old(typed, left):
    assert text_sent(back(typed))[0] == left


def test_a_price_is_as_old_as_the_exhibition_of_its_label():
    work = back("Room 4, £40")
    showing = Exhibition(
        title="Spring Show", when=read_date("1908"),
        evidence=(Evidence(kind="evidence/inscription", source=work.inscriptions[0].id),),
    )  # fmt: skip
    assert text_sent(replace(work, exhibitions=(showing,)))[0] == "Room 4, £40"


@pytest.mark.parametrize("name", profiles())
def test_prices_paid_leave_in_no_list_but_the_whole(name):
    assert ("ProvenanceEvent.price" in profile(name).fields) is (name == "full")


# R7: what says how sure something is leaves with it
@pytest.mark.parametrize("name", profiles())
@pytest.mark.parametrize(
    ("said", "flag"),
    [
        ("Attribution.artist", "Attribution.qualifier"),
        ("Title.text", "Title.kind"),
        ("Transcript.markup", "Transcript.certainty"),
        ("ProvenanceEvent.kind", "ProvenanceEvent.certainty"),
        ("ProvenanceEvent.kind", "ProvenanceEvent.evidence"),
        ("Evidence.kind", "Evidence.strength"),
        ("Layer.kind", "Layer.basis"),
        ("PriorRepair.adhesive", "PriorRepair.adhesive_basis"),
        ("Finding.cause", "Finding.cause_certainty"),
        ("MaterialUse.concentration_percent", "MaterialUse.basis"),
        ("Statement.value", "Statement.standing"),
        ("ConditionCheck.condition", "Work.findings"),  # R8
        ("Work.checks", "Finding.observations"),
        ("Work.checks", "Observation.severity"),
        ("Work.checks", "Work.repairs"),
        ("Work.checks", "Work.treatments"),
    ],
)
def test_doubt_and_damage_are_never_left_out(name, said, flag):
    listed = profile(name).fields
    assert said not in listed or flag in listed


# Staff and other living people come along with a work: their lives and houses don't.
def test_the_life_of_somebody_living_stays_home():
    them = replace(
        ARTIST, began=read_date("1960"), ended=None, roles=("role/studio-member",), consents=()
    )
    kept, _ = sent(them, profile_name="public")
    assert (kept.began, kept.addresses) == (None, ())
    assert kept.name() == "Ada Penhale"
    dead, _ = sent(ARTIST, profile_name="public")
    assert dead.addresses


def test_a_profile_for_authorities_wants_a_reason_and_tells_why():
    assert profile("authority").needs_reason
    assert "proves no title" in profile("authority").note
    assert not profile("public").needs_reason


def test_where_cutting_would_make_another_sign_nothing_of_it_leaves():
    for typed in ("[6 Chandler's Row", "Lot 12 {6 Chandler's Row}", "+6 Chandler's Row+"):
        end = len(typed)
        made = shortened(typed, ((typed.index("6"), end, "address"),)).markup
        assert "Chandler" not in made


def test_lives_are_read_as_written():
    assert life_of("1889-1961") == Life(died=Day(1961, 12, 31))
    assert life_of("born c. 1860") == Life(born=Day(1860, 12, 31))


def test_what_is_withheld_is_an_omission_of_the_editor():
    """TEI Guidelines, `gap`: material left out for editorial reasons; EpiDoc: reason `omitted`."""
    left = read("[--- :address withheld], Bath")
    assert left.diplomatic() == "[address withheld], Bath"
    assert left.seen() == "…, Bath"
    assert '<gap reason="omitted"' in left.tei()
