"""LIDO of ours out, in and out again: what it carries comes back; what it can't carry is in a table and is told."""

from collections import Counter
from pathlib import Path

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from lido_schemas import LIDO
from lxml import etree
from made_records import full_work, works

from catalogue.exchange.incoming import Arrival, Receiver
from catalogue.exchange.lido.reading import arrivals
from catalogue.exchange.lido.writing import lido
from catalogue.exchange.outgoing import Sender
from catalogue.exchange.xml import plain
from catalogue.places import folder
from catalogue.record import Party, Work
from catalogue.record.rules import values_within
from catalogue.studio import Studio

CANNOT = {
    "Inscription.place": "a place in millimetres: told in words",
    "Finding": "findings: told in words with the check that saw them",
    "Step.by": "who did which step: all who had a hand in a treatment are named together",
    "Treatment materials": "which material was used in which step",
    "Attribution source": "who attributed it and when: told in words",
    "Evidence on paper": "which paper an event rests on: by its number in words",
    "Paper": "papers: told by their titles, for their files do not come along",
}
"""What LIDO has no place for, and what becomes of it. All else of a record that leaves comes back."""

BASES = [None, "https://backs.example/"]


def leaves(content):
    """Every text with its path and marks, without what `CANNOT` names."""
    found = []
    for each in etree.fromstring(content.encode()).iter():
        if len(each) or not isinstance(each.tag, str):
            continue
        field = next(
            (value for key, value in each.attrib.items() if key.endswith("encodinganalog")), ""
        ).partition("#")[0]
        path = [each, *each.iterancestors()]
        names = [plain(here.tag) for here in path]
        event = next((here for here in path if plain(here.tag) == "eventSet"), None)
        shown = event[0].get(f"{LIDO}encodinganalog", "") if event is not None else ""
        # the display of whatever an element belongs to says of which field of ours it comes
        whose = {
            here[0].get(f"{LIDO}encodinganalog", "").partition("#")[0]
            for here in path
            if len(here)
        }
        lost = (
            any(here.get(f"{LIDO}type", "").endswith("evidence/paper") for here in path)
            or field in CANNOT
            or whose & {"Step.by", "Paper"}
            or (shown.startswith("Treatment") and "eventMaterialsTech" in names)
            or (names[0] == "sourceActorInRole" and not field)
        )
        if not lost:
            marks = tuple(sorted((plain(key), value) for key, value in each.attrib.items()))
            found.append(("/".join(names), marks, each.text))
    return Counter(found)


def differ(one, other):
    """What is said once and not again, and what only again."""
    first, second = leaves(one), leaves(other)
    return list(first - second), list(second - first)


def there_and_back(work, tmp_path, base=None, labels=None):
    called = labels or (lambda _id: ("Person", "Ada Penhale"))
    out = lido(work, Sender(base, called))
    source = Path(tmp_path, "sent.xml")
    source.write_bytes(out.encode())
    got = list(arrivals(source, Receiver(base)))
    assert all(isinstance(each, Arrival) for each in got), got
    (back,) = (each for each in got if isinstance(each.record, Work))
    parties = {
        each.record.document: each.record for each in got if isinstance(each.record, Party)
    }

    def called_now(document_id):
        party = parties.get(document_id)
        return (party.kind.title(), party.name()) if party else called(document_id)

    return out, back, lido(back.record, Sender(base, called_now))


@pytest.mark.parametrize("base", BASES)
def test_a_full_work_comes_back_as_far_as_lido_carries_it(tmp_path, base):
    work = full_work()
    out, back, again = there_and_back(work, tmp_path, base)
    assert back.document_id == work.document
    assert differ(out, again) == ([], [])
    told = " ".join(back.not_understood)
    assert "10 mm from the left edge" in told
    assert "F1 tear" in told
    assert "Letter of sale" in told


def test_a_full_work_comes_back_with_its_ids(tmp_path):
    work = full_work()
    _, back, _ = there_and_back(work, tmp_path)
    record = back.record
    for field in ("titles", "attributions", "sizes", "parts", "layers", "inscriptions", "provenance",
                  "exhibitions", "citations", "relations", "movements", "photos", "checks", "repairs",
                  "treatments", "notes", "numbers"):  # fmt: skip
        ours, theirs = getattr(work, field), getattr(record, field)
        assert {each.id for each in theirs} == {each.id for each in ours}, field
    first, second = record.inscriptions[0], work.inscriptions[0]
    assert first.preferred().markup == second.preferred().markup
    assert record.titles == work.titles
    assert record.made == work.made
    assert record.materials == work.materials
    assert record.provenance[0].evidence == work.provenance[0].evidence
    assert record.provenance[0].parties == work.provenance[0].parties


@settings(
    max_examples=40,
    deadline=None,
    suppress_health_check=list(HealthCheck),
    phases=(Phase.explicit, Phase.generate),
)
@given(works())
def test_any_work_comes_back_and_a_third_time_is_the_second(tmp_path_factory, work):
    """Words with line ends or signs of their own may lose them once, as XML and lists of words do; not twice."""
    folder_ = tmp_path_factory.mktemp("lido")
    _, back, again = there_and_back(work, folder_)
    assert back.document_id == work.document
    _, _, third = there_and_back(back.record, folder_)
    assert differ(again, third) == ([], [])


@pytest.fixture(scope="module")
def sent(tmp_path_factory):
    out = tmp_path_factory.mktemp("sent")
    with Studio.open("memory:") as studio:
        kept = folder("sample_records")
        list(studio.import_([kept / "parties", kept / "works", kept / "jobs"], who="x"))
        studio.export("lido", "full", out)
    return out


def test_every_sample_comes_back_and_is_known_when_it_comes_again(sent, tmp_path):
    with Studio.open("memory:") as studio:
        first = list(studio.import_([sent], who="x"))
        assert {each.outcome for each in first} == {"new", "same"}
        again = list(studio.import_([sent], who="x"))
        assert {each.outcome for each in again} == {"same"}
        studio.export("lido", "full", tmp_path)
    files = sorted(sent.iterdir())
    assert len(files) == len(list(tmp_path.iterdir())) >= 10
    for file in files:
        assert differ(file.read_text(), (tmp_path / file.name).read_text()) == ([], []), (
            file.name
        )


def test_what_comes_back_to_where_it_left_from_changes_nothing_and_adds_no_note_twice(tmp_path):
    work = full_work()
    with Studio.open("memory:") as studio:
        studio.save(work, who="x")
        studio.export("lido", "full", tmp_path)
        kept = studio.work(work.id).record
        outcomes = [
            each.outcome
            for each in studio.import_([tmp_path], who="x")
            if each.document_id == work.document
        ]
        assert outcomes == ["different"]
        assert studio.work(work.id).record == kept
        list(studio.import_([tmp_path], who="x", add=True))
        now = studio.work(work.id).record
    for before, after in zip(kept.inscriptions, now.inscriptions, strict=True):
        assert [each.id for each in after.notes] == [each.id for each in before.notes]
        assert [[note.id for note in each.notes] for each in after.transcripts] == [
            [note.id for note in each.notes] for each in before.transcripts
        ]
    assert [each.id for each in now.notes] == [each.id for each in kept.notes]
    ids = [each.id for each in values_within(now) if hasattr(each, "id")]
    assert len(ids) == len(set(ids))
