"""Which file gets which reader, and what is said of one that gets none."""

from __future__ import annotations

import pytest

from catalogue.errors import BadDocument
from catalogue.exchange import intake
from catalogue.exchange.incoming import Receiver, Refusal
from catalogue.exchange.readers import READERS, documents_of, files_to_read, reader_of


@pytest.mark.parametrize(
    ("name", "content"),
    [
        ("record.json", b"{}"),
        ("RECORD.JSON", b"{}"),
        ("record.jsonld", b"[]"),
        ("record.txt", b'{"id": 1}'),
        ("record", b"  \n[1]"),
        ("record.bak", b'\xef\xbb\xbf{"id": 1}'),
        ("record.bin", '\ufeff{"id": 1}'.encode("utf-16-le")),
    ],
)
def test_a_record_is_known_by_its_ending_or_by_how_it_begins(tmp_path, name, content):
    source = tmp_path / name
    source.write_bytes(content)
    assert reader_of(source).read is intake.arrivals


@pytest.mark.parametrize(
    ("name", "content", "said"),
    [
        ("letter.txt", b"Dear Sir", "is a text, and no table"),
        ("empty.txt", b"", "is a text, and no table"),
        ("picture.jpg", b"\xff\xd8\xff\xe0", "of no kind that is read here"),
        ("page.xml", b"<html/>", "begins with <html>"),
        ("page.txt", b"<page/>", "begins with <page>"),
        ("empty.xml", b"", "holds no XML element"),
        ("broken.xml", b"<a", "not well-formed"),
        ("text.xml", b"Dear Sir", "not well-formed"),
    ],
)
def test_what_no_reader_takes_is_refused_and_the_kinds_that_are_read_are_named(
    tmp_path, name, content, said
):
    source = tmp_path / name
    source.write_bytes(content)
    with pytest.raises(BadDocument, match=said):
        reader_of(source)
    (refusal,) = documents_of(source, Receiver())
    assert isinstance(refusal, Refusal)
    assert said in str(refusal.error)


def test_a_file_that_is_not_there_is_said_to_be_missing(tmp_path):
    (refusal,) = documents_of(tmp_path / "nowhere.json", Receiver())
    assert isinstance(refusal, Refusal)
    assert "is not there" in str(refusal.error)


def test_of_a_folder_only_the_files_that_a_reader_takes_are_read_in_order(tmp_path):
    for name in ("b.json", "a.JSONLD", "photo.jpg", "notes.txt"):
        (tmp_path / name).write_bytes(b"{}")
    (tmp_path / "within.json").mkdir()
    (tmp_path / "within.json" / "c.json").write_bytes(b"{}")
    found = [path.relative_to(tmp_path).as_posix() for path in files_to_read(tmp_path)]
    assert found == ["a.JSONLD", "b.json", "within.json/c.json"]


def test_no_two_readers_want_the_same_file():
    plain = [ending for reader in READERS if not reader.roots for ending in reader.endings]
    assert len(plain) == len(set(plain))
    roots = [root for reader in READERS for root in reader.roots]
    assert len(roots) == len(set(roots))
    assert all(reader.endings for reader in READERS)
