"""What leaves: only what a profile lists. Confidential words are planted, and looked for in what leaves."""

from __future__ import annotations

from dataclasses import fields, replace

import pytest
from hypothesis import HealthCheck, given, settings
from made_records import ARTIST, CLIENT, full_job, full_work, records
from redacting import redact

from catalogue.errors import BadSetting
from catalogue.exchange.withholding.redaction import listed_fields, profile, profiles
from catalogue.linked.documents import from_jsonld, to_jsonld
from catalogue.linked.text import write
from catalogue.places import table
from catalogue.record import VALUES, Inscription, Statement, Transcript, Work, dangling
from catalogue.record.rules import OPEN

_NOTES = table("provenance_words.toml")["notes"]
STAND_INS = (_NOTES["withheld_name"], _NOTES["withheld_evidence"])
"""What stands in a provenance for what stayed home, whatever a list says."""

SECRETS = {
    "Bought from a cellar.": "a note that nobody released",
    "The client argues.": "a private note",
    "see file": "a note within a reading",
    "paper tape R1": "what covers a label, in words",
    "back.jpg": "the name of a file",
    "quillan@post.example": "how to reach a client",
    "Mrs Quillan": "a client",
    "Ring after six.": "a note on a contact",
    "Half in advance.": "a note on a commission",
    "rack 3": "where a work is kept",
    "envelope 2026-041/B1": "where a piece is kept",
    "12 gns.": "a price that was paid",
    "Mrs Q.": "a name in the words of a paper",
    "the client's aunt": "who told it",
    "the sale of 1963": "what a paper proves",
    "letter.pdf": "the name of a paper's file",
    "Warmer than proposed.": "a departure from the proposal",
    "A-1107": "the lot of a material, which is no business of the public's",
    "Not unframed.": "the limits of a check",
    "receipt.pdf": "a paper of a commission",
    "Lower right corner torn.": "a note that nobody released",
    "Hollis and Trewin, framers": "what a label comes to, in somebody's own words",
    "The younger firm.": "a note on a statement",
    "sold by her nephew to": "how it passed, in the words of a paper",
    "active 1880-1911": "the years of somebody who is named in words alone",
    "Porthmellow Quay": "where somebody lived who is named in words alone",
    "the agent of her cousin": "what somebody was to somebody else",
    "Her niece wrote it.": "how a consent was given",
    "the author's daughter": "who told what a book speaks of",
    "2217, Ebbe, Low Water": "what was searched for",
    "Passport of the seller": "an inquiry into a seller",
    '"content":"84","format"': "an inscription that is restricted",
}


def leaving(record, name, hidden=lambda _: False):
    document, home = redact(to_jsonld(record), record.document, profile(name), hidden)
    return ("" if document is None else write(document).decode()), home


def everything(name):
    work = full_work()
    hidden = lambda document_id: document_id == CLIENT.document  # noqa: E731
    return "".join(
        leaving(each, name, hidden)[0] for each in (work, ARTIST, CLIENT, full_job(work))
    )


@pytest.mark.parametrize("secret", SECRETS, ids=SECRETS.values())
def test_under_public_it_stays_home_and_under_full_it_leaves(secret):
    assert secret not in everything("public")
    assert secret in everything("full")


def test_an_inquiry_leaves_for_the_owner_once_it_is_marked_so_and_no_other_does():
    sent = leaving(full_work(), "owner")[0]
    assert "Stock book of the framers" in sent
    assert "Passport of the seller" not in sent
    assert "The page is loose." not in sent
    assert "Stock book of the framers" not in leaving(full_work(), "public")[0]


def test_words_about_people_leave_with_the_names_as_written():
    sent = leaving(full_work(), "owner")[0]
    for words in ("active 1880-1911", "the agent of her cousin", "sold by her nephew to"):
        assert words in sent


@pytest.mark.parametrize("name", ["public", "owner"])
def test_clients_and_commissions_never_leave(name):
    sent = everything(name)
    for secret in ("Quillan", "quillan@", "Half in advance", "rack 3", "The client argues"):
        assert secret not in sent


def test_a_released_text_leaves_and_an_edit_takes_it_back():
    work = full_work()
    assert "A shore at low water." in leaving(work, "public")[0]
    edited = tuple(
        replace(note, text=note.text + " Or high.") if note.released else note
        for note in work.notes
    )
    assert "A shore at low water." not in leaving(replace(work, notes=edited), "public")[0]


def test_what_stayed_home_is_listed():
    _, home = leaving(full_work(), "public")
    said = {(each.what, each.why) for each in home}
    assert ("Note", "nobody has released this text") in said
    assert ("Note", "it is marked studio") in said
    assert ("Inscription", "it is marked restricted") in said


def test_a_party_that_may_not_be_named_is_not_named():
    sent, _ = leaving(
        full_work(), "owner", hidden=lambda document_id: document_id == CLIENT.document
    )
    assert CLIENT.id not in sent


def test_what_belongs_to_something_that_stayed_home_stays_with_it():
    work = full_work()
    hidden = tuple(replace(each, visibility="visibility/studio") for each in work.checks)
    document, home = redact(
        to_jsonld(replace(work, checks=hidden)),
        work.document,
        profile("owner"),
        lambda _: False,
    )
    left = from_jsonld(document, document_id=work.document)
    assert left.checks == ()
    assert left.findings == ()
    assert left.treatments[0].steps[0].addresses == (work.repairs[0].id,)
    assert ("Finding", "what it belongs to stayed home") in {(it.what, it.why) for it in home}


def test_nothing_that_leaves_points_at_what_stayed_home():
    for name in ("public", "owner"):
        document, _ = redact(
            to_jsonld(full_work()), full_work().document, profile(name), lambda _: False
        )
        left = from_jsonld(document, document_id=full_work().document)
        assert list(dangling(left)) == []
        assert left.photos[0].about


@pytest.mark.parametrize(
    ("markup", "left"),
    [
        ("12 gns /* ask */ 1903", "1903"),
        ("/* one */Lot [4]2 /* two */\n1_903 /* three", "1_903"),
        ("/* one */ /* 1903", None),
        ("/* over\ntwo lines */ @h 1903", "1903"),
    ],
)
def test_a_statement_still_names_its_letters_when_notes_stay_home(markup, left):
    letters = left or "1903"
    start = markup.index(letters)
    read = Transcript(markup=markup)
    year = Statement(
        kind="statement/date", written="1903", transcript=read.id, start=start,
        end=start + len(letters), standing="standing/accepted",
    )  # fmt: skip
    label = Inscription(
        kind="inscription/label", face="face/back", transcripts=(read,), statements=(year,)
    )
    work = Work(inscriptions=(label,))
    document, home = redact(to_jsonld(work), work.document, profile("owner"), lambda _: False)
    (sent,) = from_jsonld(document, document_id=work.document).inscriptions
    typed = sent.transcripts[0].markup
    assert "ask" not in typed
    assert "three" not in typed
    assert [typed[each.start : each.end] for each in sent.statements] == (
        [left] if left else []
    )
    assert any(each.what == "Statement" for each in home) is (left is None)


def test_several_people_who_did_something_are_named_only_where_they_may_be():
    work = full_work()
    steps = tuple(
        replace(step, by=(ARTIST.document, CLIENT.document))
        for step in work.treatments[0].steps
    )
    work = replace(work, treatments=(replace(work.treatments[0], steps=steps),))
    document, _ = redact(
        to_jsonld(work), work.document, profile("owner"), lambda it: it == CLIENT.document
    )
    left = from_jsonld(document, document_id=work.document)
    assert {step.by for step in left.treatments[0].steps} == {(ARTIST.document,)}


def test_an_unknown_profile_is_an_error():
    with pytest.raises(
        BadSetting, match="choose one of: public, owner, sale, loan, authority, full"
    ):
        profile("press")


def test_every_field_of_every_value_is_decided_on():
    """A field in no list does not leave; `full` lists every one, so a new field must be thought of."""
    assert listed_fields() == profile("full").fields


@pytest.mark.parametrize("name", profiles())
def test_profiles_list_only_fields_that_there_are(name):
    assert profile(name).fields <= listed_fields()


def test_a_field_in_no_list_does_not_leave():
    stripped = replace(profile("public"), fields=profile("public").fields - {"Work.medium"})
    document, _ = redact(
        to_jsonld(full_work()), full_work().document, stripped, lambda _: False
    )
    assert b"Oil on canvas" not in write(document)


def test_unknown_statements_leave_under_owner_and_full_only():
    work = full_work()
    document = {**to_jsonld(work), "museum_says": "kept by us"}
    sent = {
        name: b"museum_says"
        in write(redact(document, work.document, profile(name), lambda _: False)[0])
        for name in ("public", "owner", "full")
    }
    assert sent == {"public": False, "owner": True, "full": True}


def test_what_nobody_knows_within_a_contact_stays_home_with_it():
    document = to_jsonld(CLIENT)
    document["contact"]["night_bell"] = "a stranger's word for how to reach her"
    known = replace(CLIENT, visibility="visibility/open")
    document.pop("visibility")
    left, _ = redact(document, known.document, profile("owner"), lambda _: False)
    assert b"how to reach her" not in write(left)
    assert b"how to reach her" in write(document)


@settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))
@given(records)
def test_whatever_leaves_can_be_read_again_and_holds_nothing_unlisted(record):
    for name in ("public", "owner"):
        allowed = profile(name)
        document, _ = redact(to_jsonld(record), record.document, allowed, lambda _: False)
        if document is None:
            continue
        left = from_jsonld(document, document_id=record.document)
        for kind, value in _values(left):
            assert getattr(value, "visibility", "visibility/open") in allowed.visibility
            for each in fields(value):
                held = getattr(value, each.name)
                if each.name != "id" and held not in (each.default, OPEN, *STAND_INS):
                    assert f"{kind}.{each.name}" in allowed.fields


def _values(value):
    yield type(value).__name__, value
    for each in fields(value):
        held = getattr(value, each.name)
        for inner in held if isinstance(held, tuple) else (held,):
            if type(inner) in VALUES:
                yield from _values(inner)


def test_the_record_itself_is_not_changed():
    work = full_work()
    document = to_jsonld(work)
    before = write(document)
    redact(document, work.document, profile("public"), lambda _: False)
    assert write(document) == before
    assert isinstance(from_jsonld(document), Work)
