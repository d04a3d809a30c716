"""What a studio argues from: labels, decisions about them, old repairs, and the firms on file."""

import json
from dataclasses import replace

import pytest
from click.testing import CliRunner

from catalogue.arguing import known_of
from catalogue.command import main
from catalogue.measure import Day, read_date
from catalogue.record import (
    Address,
    Inscription,
    Party,
    PartyName,
    PriorRepair,
    Statement,
    Transcript,
    Work,
)
from catalogue.studio import Studio

WHO = "Nell Quince"
FIRM = Party(
    kind="group",
    names=(PartyName(text="Ambry & Fell", preferred=True),),
    began=read_date("1889"),
    ended=read_date("1954"),
    addresses=(Address(text="14 Sorrel Place, London", when=read_date("1921-1954")),),
)
LABEL = "@p AMBRY & FELL\n@p 14, Sorrel Pl., London, S.W.7\n@p No. @h 12 gns"


def work_with(markup, **more):
    transcript = Transcript(markup=markup)
    label = Inscription(
        number="I1", kind="inscription/dealer-label", face="face/back", transcripts=(transcript,),
        **more,
    )  # fmt: skip
    repair = PriorRepair(number="R1", kind="repair/patch", adhesive="material/eva-adhesive")
    return Work(number="2026-041", inscriptions=(label,), repairs=(repair,))


@pytest.fixture
def studio():
    with Studio.open("memory:") as opened:
        opened.save(FIRM, who=WHO)
        yield opened


def rules(found):
    return {each.rule.partition(":")[0] for each in found.dating.reasons}


def test_a_label_is_argued_from_with_the_firms_on_file(studio):
    label, repair = studio.argue(work_with(LABEL))
    assert {"address", "name", "gb.post.london_numbered"} <= rules(label)
    # an address that is known is right to about a year (NPG accuracy note, trade sheet C6)
    assert (label.dating.earliest, label.dating.latest) == (Day(1921, 1, 1), Day(1954, 12, 31))
    assert repair.reading is None
    assert repair.dating.earliest == Day(1967, 1, 1)  # rp.eva_heatseal


def test_a_firm_put_on_file_later_counts_at_once(studio):
    work = work_with("Hollis Brothers\n3 Quay Row")
    (before, _) = studio.argue(work)
    assert not before.dating.reasons
    hollis = Party(
        kind="group",
        names=(PartyName(text="Hollis Brothers"),),
        addresses=(Address(text="3 Quay Row", when=read_date("1903-1911")),),
    )
    studio.save(hollis, who=WHO)
    (after, _) = studio.argue(work)
    assert rules(after) == {"address"}


def test_what_somebody_rejected_is_no_reason(studio):
    work = work_with(LABEL)
    (label,) = work.inscriptions
    (found, _) = studio.argue(work)
    price = next(each for each in found.dating.reasons if "gns" in each.written)
    no_price = Statement(
        kind="statement/money", written=price.written, transcript=label.transcripts[0].id,
        start=price.start, end=price.end, standing="standing/rejected",
    )  # fmt: skip
    for standing, kept in (("standing/rejected", False), ("standing/accepted", True)):
        decided = replace(label, statements=(replace(no_price, standing=standing),))
        (again, _) = studio.argue(replace(work, inscriptions=(decided,)))
        assert any("gns" in each.written for each in again.dating.reasons) is kept


def test_what_nobody_has_read_is_not_argued_from(studio):
    work = Work(inscriptions=(Inscription(kind="inscription/label", face="face/back"),))
    assert list(studio.argue(work)) == []


def test_a_person_gives_addresses_but_no_trading_years():
    person = replace(FIRM, kind="person")
    assert [each.text for each in known_of(person)] == ["14 Sorrel Place, London"]
    nowhere = replace(
        FIRM, addresses=(Address(text="14 Sorrel Place"),), began=None, ended=None
    )
    assert not list(known_of(nowhere))


@pytest.fixture
def folder(tmp_path):
    with Studio.init(tmp_path / "studio") as opened:
        opened.save(FIRM, who=WHO)
        opened.save(work_with(LABEL), who=WHO)
    return tmp_path / "studio"


def argue(folder, *words, code=0):
    ran = CliRunner().invoke(main, ["--studio", str(folder), "argue", *words])
    assert ran.exit_code == code, ran.output
    return ran.output


def test_the_command_says_the_years_and_every_reason(folder):
    said = argue(folder, "2026-041")
    assert "I1  dealer's label" in said
    assert "When it was made: firm reasons: 1921 to 1954" in said
    assert "(firm, gb.post.london_numbered)" in said
    assert "R1  patch" in argue(folder, "2026-041", "R1")
    assert "I1" not in argue(folder, "2026-041", "R1")


def test_a_line_of_json_for_each_reason(folder):
    rows = [json.loads(line) for line in argue(folder, "2026-041", "I1", "--json").splitlines()]
    assert {row["number"] for row in rows} == {"I1"}
    assert all(row["why"] and row["source"] and row["rule"] for row in rows)


def test_an_unknown_work_is_said_in_words(folder):
    assert "no work has the number" in argue(folder, "1999-001", code=1)
