"""`dorse check` tells what cannot hold together in time, once, with what would settle it."""

from __future__ import annotations

from dataclasses import replace

from made_records import ARTIST, CLIENT, WHO

from catalogue.argument.timing.from_work import chronology
from catalogue.checking import Around, Remark, of_record
from catalogue.measure import Day, read_date
from catalogue.record import (
    Attribution,
    Evidence,
    Inscription,
    Part,
    Party,
    PartyName,
    PartyRole,
    PriorRepair,
    ProvenanceEvent,
    Sighting,
    Statement,
    Transcript,
    Work,
)

GONE = Party(kind="person", names=(PartyName(text="Ruth Tallis"),), ended=read_date("1950"))
TAPE = PriorRepair(
    number="R1",
    kind="repair/tape",
    materials=("material/cellophane-tape",),
    made=read_date("1921"),
)
STRETCHER = Part(kind="part/stretcher", fitted=read_date("1950"))
LABEL = Inscription(
    number="I1", kind="inscription/dealer-label", face="face/stretcher-bar", part=STRETCHER.id,
    sightings=(Sighting(state="state/present", on=Day(1906, 1, 1)),),
)  # fmt: skip


def bought(when: str, order: int = 1, **more) -> ProvenanceEvent:
    return ProvenanceEvent(
        number=f"E{order}", order=order, kind="provenance/sale", when=read_date(when),
        parties=(PartyRole(party=GONE.document, role="capacity/owner"),),
        evidence=(Evidence(kind="evidence/oral", text="her niece"),), **more,
    )  # fmt: skip


def told(work: Work) -> list[Remark]:
    """What is said of time alone."""
    kept = {each.document: each for each in (ARTIST, CLIENT, GONE)}
    solved = chronology(work, parties=kept)
    around = Around(kept.get, lambda named: named, solved=solved)
    without = set(of_record(work, replace(around, solved=None)))
    return [each for each in of_record(work, around) if each not in without]


def test_a_tape_that_was_not_to_be_had_yet_is_wrong():
    # cellulose tape was first sold in 1930: facts/dating-rules.tsv, tech.cellulose_tape
    (remark,) = told(Work(repairs=(TAPE,)))
    assert remark.kind == "wrong"
    assert (remark.where, remark.value) == ("R1 tape", TAPE.id)
    assert remark.says.startswith("These cannot all hold: (1) R1 (tape) is dated “1921”; (2) ")
    assert "until somebody decides" in remark.says
    assert "see whether the transparent tape in R1 was tested" in remark.remedy
    assert told(Work(repairs=(replace(TAPE, made=read_date("1931")),))) == []


def test_a_soft_statement_that_was_given_up_is_told_as_open():
    (remark,) = told(Work(parts=(STRETCHER,), inscriptions=(LABEL,)))
    assert remark.kind == "open"
    assert "Given up: (1) I1 (dealer's label) stands on the stretcher" in remark.says
    assert "may speak of another painting" in remark.remedy
    assert not told(Work(parts=(replace(STRETCHER, fitted=None),), inscriptions=(LABEL,)))


def test_an_owner_who_died_before_buying():
    (remark,) = told(Work(provenance=(bought("1953"),)))
    assert remark.kind == "wrong"
    assert "Ruth Tallis: “1950” for the end" in remark.says


def test_what_two_dates_and_the_rule_between_them_say_is_not_told_twice():
    early = Work(made=read_date("1930"), provenance=(bought("1920"),))
    assert told(early) == []
    around = Around({}.get, lambda named: named)
    assert any("before the work was made" in each.says for each in of_record(early, around))
    # after the artist's death, before an earlier event: told by checks of their own
    late = Attribution(artist=GONE.document, preferred=True)
    assert told(Work(made=read_date("1960"), attributions=(late,))) == []
    assert told(Work(provenance=(bought("1940"), bought("1930", 2)))) == []


def test_the_studio_tells_it_with_the_people_on_file(empty_studio):
    for record in (GONE, Work(number="2026-050", provenance=(bought("1953"),))):
        kept = empty_studio.save(record, who=WHO)
    said = [each.says for each in empty_studio.check(kept.document_id)]
    assert any("Ruth Tallis took part in E1 (sale)" in each for each in said)
    assert len(empty_studio.chronology("2026-050").contradictions) == 1
    unsaved = replace(kept.record, provenance=(bought("1949"),))
    assert not empty_studio.chronology(unsaved).contradictions


def test_what_somebody_rejected_is_not_argued_from(empty_studio):
    script = Transcript(markup="L.N.E.R.")
    label = replace(LABEL, part=None, sightings=(), transcripts=(script,))
    as_name = Statement(
        kind="statement/name", written="L.N.E.R.", transcript=script.id, start=0, end=8,
        standing="standing/rejected",
    )  # fmt: skip

    def of_the_railway(mark: Inscription) -> bool:
        claims = empty_studio.chronology(Work(inscriptions=(mark,))).claims
        return any("gb.rail.lner" in each.key for each in claims)

    assert of_the_railway(label)
    assert not of_the_railway(replace(label, statements=(as_name,)))
