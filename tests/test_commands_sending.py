"""`dorse export` and `dorse exports`: for whom, which works, what is refused, what was sent."""

from __future__ import annotations

import json

import pytest
from click.testing import CliRunner
from made_records import WHO, full_work

from catalogue.command import main
from catalogue.exchange.formats import FORMATS
from catalogue.exchange.withholding.profiles import offered, profiles
from catalogue.record import Inscription, Item, Job, Party, PartyName, Title, Transcript, Work
from catalogue.studio import Studio


@pytest.fixture
def folder(tmp_path):
    """A studio with a work by nobody's client, and one with its client's name on the label."""
    client = Party(kind="person", names=(PartyName(text="Mrs Ottery"),))
    label = Inscription(
        kind="inscription/label",
        face="face/back",
        transcripts=(Transcript(markup="MRS OTTERY, the mill", preferred=True),),
    )
    mill = Work(titles=(Title(text="The Mill", kind="title/given"),), inscriptions=(label,))
    job = Job(
        reason="reason/treatment", client=client.document, items=(Item(work=mill.document),)
    )
    with Studio.init(tmp_path / "studio") as studio:
        for record in (full_work(), client, mill, job):
            studio.save(record, who=WHO)
    return tmp_path / "studio"


def dorse(folder, *words, code=0):
    ran = CliRunner().invoke(main, ["--studio", str(folder), "--who", "Nell", *map(str, words)])
    assert ran.exit_code == code, ran.output
    return ran.output


def export(folder, out, *words, code=0):
    return dorse(
        folder, "export", "--format", "full-graph", "--profile", "public", "--out", out, *words,
        code=code,
    )  # fmt: skip


def test_a_name_on_a_label_is_refused_in_words_and_allowed_with_a_reason(folder, tmp_path):
    said = export(folder, tmp_path / "out", "--all", code=1)
    assert "nothing left" in said
    assert "Mrs Ottery" in said
    assert "MRS OTTERY, the mill" in said
    assert '--allow "Mrs Ottery=the reason"' in said
    assert "Traceback" not in said
    assert not (tmp_path / "out").exists()
    said = export(
        folder, tmp_path / "out", "--all", "--allow", "Mrs Ottery=she wrote it herself"
    )
    assert "allowed this once: Mrs Ottery (she wrote it herself)" in said


def test_what_was_sent_is_listed(folder, tmp_path):
    export(
        folder, tmp_path / "a", "--recipient", "Mole Rooms", "--reason", "by letter", "2026-041"
    )
    (row,) = map(json.loads, dorse(folder, "exports", "--json").splitlines())
    assert (row["who"], row["recipient"], row["reason"]) == ("Nell", "Mole Rooms", "by letter")
    assert (row["profile"], row["format"], row["works"]) == (
        "public",
        "full-graph",
        ["Low Water"],
    )
    assert len(row["digest"]) == 64
    assert "Mole Rooms" in dorse(folder, "exports")


def test_a_search_says_which_works_leave(folder, tmp_path):
    export(folder, tmp_path / "a", "--find", "low water")
    dorse(folder, "search", "--save", "low", "low water")
    export(folder, tmp_path / "b", "--saved", "low")
    names = [sorted(path.name for path in (tmp_path / each).iterdir()) for each in "ab"]
    assert names[0] == names[1] != []
    assert "finds no work" in export(folder, tmp_path / "c", "--find", "zzyzx", code=2)


def test_one_way_of_naming_works_at_a_time(folder, tmp_path):
    for words in ((), ("--all", "2026-041"), ("--all", "--find", "x")):
        assert "--find" in export(folder, tmp_path / "a", *words, code=2)
    assert "no reason" in export(folder, tmp_path / "a", "--all", "--allow", "x", code=2)
    assert "needs a name and a reason" in export(
        folder, tmp_path / "a", "--all", "--allow", "x=", code=1
    )


def test_help_lists_every_format_and_profile():
    said = CliRunner().invoke(main, ["export", "--help"]).output
    for name in (*FORMATS, *offered()):
        assert f"  {name} " in said, name


def test_lists_that_papers_take_of_themselves_are_not_offered(folder, tmp_path):
    said = CliRunner().invoke(main, ["export", "--help"]).output
    for_papers = {name for name, each in profiles().items() if each.papers_only}
    assert for_papers == {"client", "sale-papers", "loan-papers"}
    for name in for_papers:
        assert f"  {name} " not in said, name
        asked = ["export", "--format", "full-graph", "--profile", name, "--all"]
        refused = dorse(folder, *asked, "--out", str(tmp_path / "a"), code=1)
        assert "is for papers" in refused
        assert "export under one of: public, owner, sale, loan, authority, full" in refused
        assert not (tmp_path / "a").exists()


def test_other_files_in_the_folder_are_told(folder, tmp_path):
    (tmp_path / "a").mkdir()
    (tmp_path / "a" / "letter.txt").write_text("x")
    said = export(folder, tmp_path / "a", "2026-041")
    assert "also holds 1 file that is not of this export" in said


def test_how_much_was_written_is_said_in_numbers_that_agree(folder, tmp_path):
    def sent(format_name, work):
        return dorse(
            folder, "export", "--format", format_name, "--profile", "public",
            "--out", tmp_path / format_name, work,
        )  # fmt: skip

    with Studio.open(folder) as studio:
        bare = studio.new_work(title="Bare", who=WHO).record.number
    assert "1 record in 1 file in" in sent("turtle", bare)
    assert "no file was written" in sent("web-annotation", bare)
