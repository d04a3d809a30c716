"""US-34, a person asks what is kept about them: everything in one go; put right; forgotten, and the work remains.

The story is that of the trade sheet, section 1.8 (Regulation (EU) 2016/679, articles 15 to 17 and 89 there).
"""

from __future__ import annotations

from dataclasses import replace

from click.testing import CliRunner
from made_records import CLIENT, WHO

from catalogue.command import main
from catalogue.record import Contact, PartyName, Reach
from catalogue.record.rules import values_within
from catalogue.studio import Studio


def test_everything_that_their_record_says_is_told(studio):
    found = studio.about_person(CLIENT.document)
    told = " ".join(says for _, says in found.written)
    for value in values_within(CLIENT):
        for name in ("text",):
            said = getattr(value, name, None)
            assert said is None or said in told
    assert found.party == studio.read(CLIENT.document).record


def test_every_place_that_names_them_is_told_and_nothing_else_of_it(studio):
    found = studio.about_person(CLIENT.document)
    assert any(each.document_id.startswith("job/") for each in found.named)
    for each in found.named:
        assert CLIENT.id in str(studio.document(each.document_id))


def test_a_correction_is_added_and_the_history_stays(studio):
    read = studio.read(CLIENT.document)
    studio.save(
        replace(read.record, names=(replace(read.record.names[0], text="Nora Vesely"),)),
        who=WHO,
        read=read,
        why="her name",
    )
    found = studio.about_person(CLIENT.document)
    assert "Nora Vesely" in dict(found.written).values()
    assert [each.why for each in found.changes][-1] == "her name"


def test_forgotten_a_pseudonym_stands_for_them_and_the_work_remains(studio):
    before = studio.work("2026-041").record
    studio.forget(CLIENT.document, who=WHO, why="asked for it")
    found = studio.about_person(CLIENT.document)
    told = " ".join(says for _, says in found.written)
    assert CLIENT.name() not in told
    assert found.named  # the commission still names somebody
    assert studio.work("2026-041").record == before


def test_the_command_says_the_same(tmp_path):
    with Studio.init(tmp_path / "s") as studio:
        made = replace(
            CLIENT, names=(PartyName(text="Orla Finch"),),
            contact=Contact(reaches=(Reach(medium="reach/telephone", text="05 55 99 88"),)),
        )  # fmt: skip
        studio.save(made, who=WHO)
    told = CliRunner().invoke(main, ["--studio", str(tmp_path / "s"), "about", "Orla Finch"])
    assert told.exit_code == 0, told.output
    assert "05 55 99 88" in told.output
