"""US-32, retention: a rule for each class, the list of what is due, holds, and a log of what was deleted.

The story is that of the trade sheet, section 1.8 and C21 (trigger date and rule; a hold overrides).
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from click.testing import CliRunner
from made_records import ARTIST, CLIENT, WHO

from catalogue.command import main
from catalogue.errors import BadData, NotOnFile
from catalogue.measure import Day
from catalogue.record import Contact, Party, PartyName, Reach
from catalogue.retention import rules
from catalogue.studio import Studio


def job_of(studio, left):
    """The commission with every work gone on that day, None for still here."""
    read = studio.read(
        next(studio.jobs_of(studio.work("2026-041").document_id).__iter__()).document
    )
    came = left or Day(2026, 3, 1)
    items = tuple(replace(each, came=came, due=None, left=left) for each in read.record.items)
    return studio.save(replace(read.record, items=items), who=WHO, read=read)


def due(studio, key):
    return [each for each in studio.retention() if each.rule.key == key]


def test_every_class_has_years_or_is_for_good_and_says_why():
    assert [each.key for each in rules() if each.years is None] == ["treatment"]
    assert all(each.basis and each.source for each in rules())


def test_accounts_count_from_the_day_the_last_work_left_to_the_end_of_the_tenth_year(studio):
    job_of(studio, Day(2016, 3, 1))
    (accounts,) = due(studio, "accounts")
    assert accounts.due == Day(2027, 1, 1)
    assert not accounts.is_due(Day(2026, 12, 31))
    assert accounts.is_due(Day(2027, 1, 1))


def test_while_a_work_is_here_nothing_counts(studio):
    job_of(studio, None)
    (accounts,) = due(studio, "accounts")
    assert accounts.due is None
    assert accounts.says(Day(2026, 11, 29)) == "a work of it is still in the house"


def test_a_hold_overrides_and_nothing_that_is_held_can_be_forgotten(studio):
    job = job_of(studio, Day(2001, 3, 1))
    assert due(studio, "accounts")[0].is_due(Day(2026, 11, 29))
    studio.hold(job.record.number, who=WHO, why="claim about the frame")
    (held,) = due(studio, "accounts")
    assert not held.is_due(Day(2026, 11, 29))
    assert "claim about the frame" in held.says(Day(2026, 11, 29))
    studio.hold(CLIENT.document, who=WHO, why="the same claim")
    with pytest.raises(BadData, match="the same claim"):
        studio.forget(CLIENT.document, who=WHO, why="asked for it")
    studio.let_go(CLIENT.document)
    assert studio.forget(CLIENT.document, who=WHO, why="asked for it") == 1
    with pytest.raises(NotOnFile):
        studio.let_go(CLIENT.document)


def test_a_hold_needs_a_reason_and_a_record(studio):
    with pytest.raises(BadData):
        studio.hold(CLIENT.document, who=WHO, why="  ")


def test_an_enquirer_that_no_record_names_is_due_after_two_years(studio):
    asker = Party(
        kind="person", names=(PartyName(text="Wil Harrop"),),
        contact=Contact(reaches=(Reach(medium="reach/telephone", text="05 55 01 02"),)),
    )  # fmt: skip
    studio.save(asker, who=WHO)
    found = {each.document_id: each for each in due(studio, "enquirer")}
    assert CLIENT.document not in found  # a commission names them
    assert ARTIST.document not in found
    assert found[asker.document].due.year == found[asker.document].begins.year + 2


def test_what_was_deleted_is_listed_with_who_when_and_why(studio):
    assert list(studio.forgotten()) == []
    studio.forget(CLIENT.document, who=WHO, why="asked for it")
    (deleted,) = studio.forgotten()
    assert (deleted.why, deleted.who) == ("asked for it", WHO)


def test_the_command_lists_holds_and_lets_go(tmp_path):
    path = str(tmp_path / "s")
    with Studio.init(tmp_path / "s") as studio:
        made = studio.new_work(title="Kiln in Snow", artist="Ada Ferrow", made=None, who=WHO)

    number = str(made.record.number)

    def run(*words):
        told = CliRunner().invoke(main, ["--studio", path, "retention", *words])
        return told.exit_code, told.output

    assert "for good" in run("--rules")[1]
    assert run("--hold", number)[0] == 1  # no reason
    assert run("--hold", number, "--because", "a claim")[0] == 0
    assert "a claim" in run("--held")[1]
    assert run("--let-go", number)[0] == 0
    assert "a claim" not in run("--held")[1]
    assert run("--all")[0] == 0
    assert run("--deleted") == (0, "")
