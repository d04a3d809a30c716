from __future__ import annotations

import hashlib

import pytest
from ledger_samples import PHOTO, WHO, WHY, a_passing_ledger

from catalogue.errors import BadData, NotOnFile

FIXTURES = (a_passing_ledger,)


def keep(ledger, content, name="back.png", media_type="image/png"):
    with ledger.change(who=WHO, why=WHY) as change:
        return change.keep_file(content, name=name, media_type=media_type)


def lying(ledger):
    return sorted(p.name for p in (ledger.folder / "files").rglob("*") if p.is_file())


@pytest.mark.parametrize("content", [PHOTO, b"", b"\x00" * 3_000_000])
def test_a_file_is_kept_byte_for_byte_under_its_digest(ledger, tmp_path, content):
    sha256 = hashlib.sha256(content).hexdigest()
    path = tmp_path / "back.png"
    path.write_bytes(content)
    assert keep(ledger, path) == sha256
    assert keep(ledger, content, name="again.png") == sha256
    assert ledger.file(sha256) == ledger.folder / "files" / sha256[:2] / sha256
    assert ledger.read_file(sha256) == content
    facts = ledger.file_facts(sha256)
    assert (facts.size, facts.name, facts.seq) == (len(content), "back.png", 1)
    assert lying(ledger) == [sha256]
    assert ledger.last()[0] == 1


def test_the_same_contents_twice_in_one_change_are_kept_once(ledger):
    with ledger.change(who=WHO, why=WHY) as change:
        first = change.keep_file(PHOTO, name="a.png", media_type="image/png")
        assert change.keep_file(PHOTO, name="b.png", media_type="image/png") == first
    assert lying(ledger) == [first]
    assert ledger.verify().faults == ()


def test_a_name_from_outside_is_only_a_name(ledger):
    sha256 = keep(ledger, PHOTO, name="../../../etc/passwd")
    assert ledger.file_facts(sha256).name == "../../../etc/passwd"
    assert lying(ledger) == [sha256]


def test_a_file_that_is_not_there_is_not_taken(ledger, tmp_path):
    for path in (tmp_path / "nothing.png", tmp_path):
        with pytest.raises(NotOnFile, match="cannot be read"):
            keep(ledger, path)
    assert lying(ledger) == []
    assert ledger.last()[0] == 0


@pytest.mark.parametrize("wrong", ["../../etc/passwd", "", "AB" * 32, "0" * 63])
def test_only_a_digest_finds_a_file(ledger, wrong):
    with pytest.raises(NotOnFile):
        ledger.file(wrong)
    with pytest.raises(BadData), ledger.change(who=WHO, why=WHY) as change:
        change.forget_file(wrong)


def test_a_document_names_the_file_it_came_from(ledger):
    with ledger.change(who=WHO, why=WHY) as change:
        sha256 = change.keep_file(b"{}", name="a.json", media_type="application/ld+json")
        change.save("work/mill", b"{}", expected=None, source=sha256)
    assert ledger.read("work/mill").source == sha256
    assert next(ledger.bodies()).source == sha256
    (kept,) = ledger.changes()
    assert kept.entries[1].source == kept.entries[0].digest != sha256
    with pytest.raises(NotOnFile, match="keep the file"), ledger.change(who=WHO, why=WHY) as c:
        c.save("work/other", b"{}", expected=None, source="0" * 64)


def test_a_stray_of_the_same_digest_is_replaced(ledger):
    sha256 = hashlib.sha256(PHOTO).hexdigest()
    place = ledger.folder / "files" / sha256[:2] / sha256
    place.parent.mkdir(parents=True)
    place.write_bytes(b"half of it")
    assert keep(ledger, PHOTO) == sha256
    assert ledger.read_file(sha256) == PHOTO
