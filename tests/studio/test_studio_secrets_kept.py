"""What must not leave follows every save: nobody's name slips out because it was read before it changed."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from catalogue.errors import MayNotLeave
from catalogue.record import Inscription, Item, Job, Party, PartyName, Title, Transcript, Work
from catalogue.studio import Studio

WHO = "Nell Quince"


@pytest.fixture
def studio():
    with Studio.open("memory:") as opened:
        yield opened


def client(studio: Studio, name: str):
    names = (PartyName(text=name, preferred=True),)
    return studio.save(
        Party(kind="person", names=names, visibility="visibility/studio"), who=WHO
    )


def work(studio: Studio, written: str) -> str:
    reading = Transcript(markup=written, preferred=True)
    label = Inscription(
        kind="inscription/owner-label", face="face/back", transcripts=(reading,)
    )
    titles = (Title(text="Low Water", kind="title/given", preferred=True),)
    return studio.save(Work(titles=titles, inscriptions=(label,)), who=WHO).document_id


def leaves(studio: Studio, out: Path, document: str) -> bool:
    made, _ = studio.looked_at(document, "full-graph", "public")
    try:
        studio.export("full-graph", "public", out, [document], who=WHO)
    except MayNotLeave:
        assert made.refused is not None
        return False
    assert made.refused is None
    return True


def job(studio: Studio, of: str, **more: object):
    item = Item(work=of)
    return studio.save(Job(reason="reason/treatment", items=(item,), **more), who=WHO)


def test_a_name_that_became_a_clients_is_guarded_from_then_on(studio, tmp_path):
    quillan = client(studio, "Honoria Quillan")
    document = work(studio, "lent by Honoria Quillan")
    assert leaves(studio, tmp_path / "a", document)
    commission = job(studio, document, client=quillan.document_id)
    assert not leaves(studio, tmp_path / "b", document)

    renamed = (PartyName(text="Honoria Trevelly", preferred=True),)
    quillan = studio.save(replace(quillan.record, names=renamed), who=WHO, read=quillan)
    assert leaves(studio, tmp_path / "c", document)
    old = (*renamed, PartyName(text="Honoria Quillan"))
    studio.save(replace(quillan.record, names=old), who=WHO, read=quillan)
    assert not leaves(studio, tmp_path / "d", document)

    # out of the lists is not out of the house
    studio.withdraw(commission.document_id, who=WHO, why="by mistake")
    assert not leaves(studio, tmp_path / "e", document)


def test_a_client_who_was_merged_is_guarded_by_the_names_of_both(studio, tmp_path):
    old, new = client(studio, "Honoria Quillan"), client(studio, "Mrs H. Quillan-Rook")
    document = work(studio, "lent by Mrs H. Quillan-Rook")
    job(studio, document, client=old.document_id)
    assert leaves(studio, tmp_path / "a", document)
    studio.merge(old.document_id, new.document_id, who=WHO, why="the same person")
    assert not leaves(studio, tmp_path / "b", document)
    studio.unmerge(old.document_id, who=WHO, why="they are two")
    assert leaves(studio, tmp_path / "c", document)
