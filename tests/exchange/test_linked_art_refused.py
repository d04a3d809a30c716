"""Linked Art that cannot be taken in is refused in words, file by file; nothing is fetched, nothing breaks."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

PLAIN = '"@context":"https://linked.art/ns/v1/linked-art.json","type":"Set","_label":"x"'
ELSEWHERE = "https://elsewhere.example/c.json"


def document(more: str) -> bytes:
    return f'{{"id":"https://x.example/1",{more},{PLAIN}}}'.encode()


REFUSED = {
    "an empty file": (b"", "not JSON"),
    "no object": (b"null", "one JSON object"),
    "Latin letters of an old encoding": (document('"a":"é"').decode().encode("latin-1"), "not UTF-8"),
    "a number that is none": (document('"value":NaN'), "not a number"),
    "a number beyond all bounds": (document('"value":1e999'), "too large"),
    "a number of many digits": (document(f'"value":{"9" * 5000}'), "5000 digits"),
    "a key twice": (document('"type":"Set"'), "twice"),
    "deep nesting": (document('"part":' + '{"part":' * 5000 + "1" + "}" * 5000), "deeper"),
    "half a sign": (document('"name":"\\ud800"'), "cannot be stored"),
    "a number for an id": (f'{{"id":5,{PLAIN}}}'.encode(), "no id"),
    "a number for a context": (b'{"@context":5,"id":"https://x.example/1"}', "no context"),
    "a context from elsewhere": (
        json.dumps({"@context": ELSEWHERE, "id": "https://x.example/1"}).encode(), "never fetches one",
    ),
    "one that a context brings in": (
        json.dumps({"@context": {"@import": ELSEWHERE}, "id": "https://x.example/1"}).encode(),
        "never fetches one",
    ),
    "one in the middle": (
        document(f'"part":{{"@context":"{ELSEWHERE}","id":"https://x.example/2"}}'), "never fetches one",
    ),
    "one in a term": (
        json.dumps({"@context": {"a": {"@id": "x:a", "@context": ELSEWHERE}}, "id": "https://x.example/1"}).encode(),
        "never fetches one",
    ),
}  # fmt: skip


@pytest.mark.parametrize("what", REFUSED)
def test_it_is_refused_in_words_and_the_next_file_is_taken_in(empty_studio, tmp_path, what):
    content, says = REFUSED[what]
    (tmp_path / "a.json").write_bytes(content)
    (tmp_path / "b.json").write_bytes(
        document('"about":[]').replace(b"x.example/1", b"x.example/9")
    )
    told = {
        Path(each.source).name: each for each in empty_studio.import_([tmp_path], who="Nell")
    }
    assert told["a.json"].outcome == "refused"
    assert says in told["a.json"].said[0]
    assert told["b.json"].outcome == "new"


def test_a_file_of_a_gigabyte_is_refused_unread(empty_studio, tmp_path):
    with (tmp_path / "a.json").open("wb") as file:
        file.truncate(1_000_000_000)
    (told,) = empty_studio.import_([tmp_path / "a.json"], who="Nell")
    assert told.outcome == "refused"
    assert "1000 MB" in told.said[0]


@pytest.mark.parametrize("encoding", ["utf-16", "utf-8-sig"])
def test_other_encodings_of_unicode_are_read(empty_studio, tmp_path, encoding):
    (tmp_path / "a.json").write_bytes(document('"a":"é"').decode().encode(encoding))
    (told,) = empty_studio.import_([tmp_path / "a.json"], who="Nell")
    assert told.outcome == "new"
