"""XML that would do harm: refused in words, in little memory, nothing fetched and nothing expanded.

Outside: XML 1.0, sections 2.8 (document type), 4.2.2 (external entities) and 4.3.3 (encodings); XInclude
1.0, section 3; the entity bomb is the one published as "billion laughs" (from memory).
"""

from __future__ import annotations

import subprocess
import sys
import textwrap
import threading
from http.server import BaseHTTPRequestHandler, HTTPServer

import pytest

from catalogue.errors import BadDocument
from catalogue.exchange import xml
from catalogue.exchange.readers import READERS
from catalogue.studio import Studio

TEI = '<TEI xmlns="http://www.tei-c.org/ns/1.0"><text><body><p>{}</p></body></text></TEI>'
LAUGHS = (
    "<!DOCTYPE TEI [<!ENTITY l0 'ha'>"
    + "".join(f"<!ENTITY l{n} '{f'&l{n - 1};' * 10}'>" for n in range(1, 10))
    + "]>"
    + TEI.format("&l9;")
)
PARAMETERS = (
    "<!DOCTYPE TEI [<!ENTITY % p SYSTEM 'file:///etc/hostname'><!ENTITY % q '%p;%p;'>]>"
    + TEI.format("")
)

HARMFUL = {
    "entities that swell": (LAUGHS, "declares a document type"),
    "parameter entities": (PARAMETERS, "declares a document type"),
    "an external document type": (
        "<!DOCTYPE TEI SYSTEM 'file:///etc/hostname'>" + TEI.format("x"),
        "declares a document type",
    ),
    "a public document type": (
        "<!DOCTYPE TEI PUBLIC '-//x' 'http://127.0.0.1:9/x.dtd'>" + TEI.format("x"),
        "declares a document type",
    ),
    "an external entity": (
        "<!DOCTYPE TEI [<!ENTITY x SYSTEM 'file:///etc/passwd'>]>" + TEI.format("&x;"),
        "declares a document type",
    ),
    "an entity of nobody's": (TEI.format("&unheard;"), "Entity 'unheard' not defined"),
    "elements without end": (TEI.format("<seg>" * 300 + "</seg>" * 300), "Excessive depth"),
    "cut off": (TEI.format("Lot")[:-9], "not well-formed"),
    "two roots": (TEI.format("Lot") * 2, "Extra content"),
    "not XML at all": ("Lot 3", "Start tag expected"),
    "nothing": ("", "holds no XML element"),
    "white space": (" \n ", "not well-formed"),
    "only a comment": ("<!-- Lot 3 -->", "not well-formed"),
    "one name twice": ("<TEI a='1' a='2'/>", "redefined"),
    "a name without its namespace": ("<tei:TEI/>", "is not defined"),
    "a sign that XML has not": (TEI.format("&#0;"), "xmlChar"),
    "an encoding of nobody's": (
        "<?xml version='1.0' encoding='klingon'?>" + TEI.format("x"),
        "Unsupported encoding",
    ),
}


@pytest.mark.parametrize("name", HARMFUL)
def test_what_would_do_harm_is_refused_in_words(name):
    content, said = HARMFUL[name]
    with pytest.raises(BadDocument, match=said) as refused:
        xml.parsed(content.encode())
    assert "XML_PARSE" not in str(refused.value)
    if content:
        assert refused.value.remedy


@pytest.mark.parametrize("name", HARMFUL)
def test_whichever_reader_gets_it_one_bad_file_stops_no_other(tmp_path, name):
    content, _ = HARMFUL[name]
    (tmp_path / "a.xml").write_text(content, "utf-8")
    (tmp_path / "b.xml").write_text(TEI.format("Lot 3"), "utf-8")
    with Studio.open("memory:") as studio:
        told = list(studio.import_([tmp_path], who="Nell"))
    assert [each.outcome for each in told] == ["refused", "new"]
    assert "a.xml" in told[0].said[0]


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (TEI.format("Käte").encode("latin-1"), "Invalid bytes"),
        (
            b"<?xml version='1.0' encoding='UTF-8'?>" + TEI.format("ä").encode("latin-1"),
            "bytes",
        ),
        (
            b"<?xml version='1.0' encoding='utf-16'?>" + TEI.format("x").encode(),
            "not well-formed",
        ),
        (TEI.format("Lot").encode("utf-16-le"), "not well-formed"),
        (b"\x1f\x8b\x08\x00" + b"\0" * 40, "not well-formed"),
        (b"\0" * 4000, "not well-formed"),
    ],
)
def test_a_wrong_encoding_is_refused_in_words(content, said):
    with pytest.raises(BadDocument, match=said):
        xml.parsed(content)


@pytest.mark.parametrize(
    "encoding", ["utf-8", "utf-8-sig", "utf-16", "iso-8859-1", "windows-1252"]
)
def test_an_encoding_that_the_file_names_is_read(encoding):
    named = "utf-8" if encoding == "utf-8-sig" else encoding
    text = f'<?xml version="1.0" encoding="{named}"?>' + TEI.format("Käte")
    assert "Käte" in "".join(xml.parsed(text.encode(encoding)).itertext())


class _Asked(BaseHTTPRequestHandler):
    asked: list[str]

    def do_GET(self):
        self.asked.append(self.path)
        self.send_error(404)

    def log_message(self, *_said):
        pass


@pytest.fixture
def server():
    asked: list[str] = []
    handler = type("Handler", (_Asked,), {"asked": asked})
    with HTTPServer(("127.0.0.1", 0), handler) as running:
        thread = threading.Thread(target=running.serve_forever)
        thread.start()
        yield f"http://127.0.0.1:{running.server_port}", asked
        running.shutdown()
        thread.join()


def test_nothing_is_fetched_from_anywhere(server, tmp_path):
    address, asked = server
    secret = tmp_path / "secret.txt"
    secret.write_text("the client argues")
    inclusion = (
        '<xi:include xmlns:xi="http://www.w3.org/2001/XInclude" href="{}" parse="text"/>'
    )
    made = {
        "dtd.xml": f"<!DOCTYPE TEI SYSTEM '{address}/a.dtd'>" + TEI.format("Lot 1"),
        "entity.xml": f"<!DOCTYPE TEI [<!ENTITY x SYSTEM '{address}/b'>]>" + TEI.format("&x;"),
        "web.xml": TEI.format("Lot 2 " + inclusion.format(f"{address}/c")),
        "file.xml": TEI.format("Lot 3 " + inclusion.format(secret.as_uri())),
        "style.xml": f'<?xml-stylesheet href="{address}/d.xsl"?>' + TEI.format("Lot 4"),
        "schema.xml": f'<?xml-model href="{address}/e.rng"?>' + TEI.format("Lot 5"),
        "image.xml": TEI.format(f'Lot 6 <graphic url="{address}/f.jpg"/>'),
    }
    for name, content in made.items():
        (tmp_path / name).write_text(content, "utf-8")
    with Studio.open("memory:") as studio:
        told = {each.source: each for each in studio.import_([tmp_path], who="Nell")}
        outcomes = {source.rpartition("/")[2]: each.outcome for source, each in told.items()}
        kept = [head.document for head in studio.ledger.heads("work")]
        assert not any(b"the client argues" in studio.ledger.read(each).body for each in kept)
    assert asked == []
    refused = {"dtd.xml", "entity.xml"}
    assert outcomes == {n: "refused" if n in refused else "new" for n in made}
    # what would have been brought in is told, and not in silence left out
    (said,) = [each.said for source, each in told.items() if source.endswith("file.xml")]
    assert any("include" in each for each in said)


def test_instructions_and_comments_do_nothing():
    root = xml.parsed(b"<?xml-stylesheet href='x'?><!-- a --><a><?run me?>Lot<!-- b --></a>")
    assert xml.plain(root.tag) == "a"


def test_records_come_one_by_one_and_those_before_a_break_are_kept():
    content = b"<r>" + b"".join(b"<w><n>%d</n></w>" % n for n in range(5)) + b"<w><n>5</w></r>"
    records = xml.records(content, frozenset({"w"}))
    assert [int(next(records)[0].text) for _ in range(5)] == [0, 1, 2, 3, 4]
    with pytest.raises(BadDocument, match="not well-formed"):
        next(records)


def test_texts_that_share_their_ids_are_read_and_breaks_are_still_found():
    content = b"<r><w xml:id='x'/><w xml:id='x'/></r>"
    assert len(list(xml.records(content, frozenset({"w"})))) == 2
    for broken in (content[:-4], content[:-4] + b"<q></r>"):
        with pytest.raises(BadDocument, match="not well-formed"):
            list(xml.records(broken, frozenset({"w"})))


def test_a_record_inside_a_record_is_part_of_it():
    content = b"<r><w><w/></w><w/></r>"
    assert [len(each) for each in xml.records(content, frozenset({"w"}))] == [1, 0]


def test_a_record_that_is_the_whole_file_is_found():
    assert [each.get("n") for each in xml.records(b"<w n='1'/>", frozenset({"w"}))] == ["1"]


MEASURE = textwrap.dedent(
    """
    import resource, sys
    from pathlib import Path
    from catalogue.studio import Studio

    with Studio.open("memory:") as studio:
        told = list(studio.import_([Path(sys.argv[1])], who="Nell"))
    status = Path("/proc/self/status")
    if status.exists():
        # what getrusage tells counts what the process was before it became this one
        told_of = dict(line.split(":", 1) for line in status.read_text().splitlines())
        peak = int(told_of["VmHWM"].split()[0])
    else:
        peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    print(peak // 1024, len(told), told[0].outcome)
    print(told[0].said[0] if told[0].said else "")
    """
)
"""Takes one file in, in a process of its own; the most memory that it ever had (MB), and what was said."""


def measured(path):
    done = subprocess.run(
        [sys.executable, "-c", MEASURE, str(path)],
        capture_output=True,
        text=True,
        check=True,
    )
    first, _, said = done.stdout.partition("\n")
    peak, count, outcome = first.split()
    return int(peak), int(count), outcome, said


MB = 1_000_000


def _filled(path, head, piece):
    """A file of a gigabyte: what it begins with, 40 MB of pieces, and nothing (sparse) up to its end.

    Nobody should read as far as 40 MB: the most that is read in one piece is 8.
    """
    many = piece * (MB // len(piece))
    with path.open("wb") as file:
        file.write(head)
        for _ in range(40):
            file.write(many)
        file.truncate(1000 * MB)


@pytest.mark.parametrize(
    ("name", "head", "piece"),
    [
        ("zeros.xml", b"", b"\0"),
        ("one text.xml", b"<TEI xmlns='http://www.tei-c.org/ns/1.0'><text>", b"x"),
        ("small elements.xml", b"<TEI xmlns='http://www.tei-c.org/ns/1.0'>", b"<p/>"),
        ("comments within.xml", b"<TEI xmlns='http://www.tei-c.org/ns/1.0'>", b"<!-- x -->"),
        ("corpus.xml", b"<teiCorpus xmlns='http://www.tei-c.org/ns/1.0'>", b"<p>x</p>"),
        ("lido.xml", b"<lidoWrap xmlns='http://www.lido-schema.org'>", b"<lido><lidoRecID/>"),
        ("lido apart.xml", b"<lidoWrap xmlns='http://www.lido-schema.org'>", b"<p>x</p>"),
        ("one comment.xml", b"<!--", b"x"),
        ("many comments.xml", b"", b"<!-- x -->"),
        ("document type.xml", b"<!DOCTYPE a [", b"<!ENTITY a 'b'>"),
        ("attribute.xml", b"<a b='", b"x"),
        ("spaces.xml", b"", b" "),
    ],
)
def test_a_file_of_a_gigabyte_is_refused_in_little_memory(tmp_path, name, head, piece):
    path = tmp_path / name
    _filled(path, head, piece)
    peak, count, outcome, said = measured(path)
    path.unlink()
    assert (count, outcome) == (1, "refused")
    assert said
    assert peak < 500


def test_a_long_file_of_many_records_needs_the_memory_of_one(tmp_path):
    """A corpus of 16 MB: more than is read in one piece, and every text in it is taken in."""
    path = tmp_path / "corpus.xml"
    one = TEI.format("Lot 3 <note>" + "x" * 100_000 + "</note>")
    with path.open("w") as file:
        file.write('<teiCorpus xmlns="http://www.tei-c.org/ns/1.0">')
        for n in range(160):
            file.write(one.replace("Lot 3", f"Lot {n}"))
        file.write("</teiCorpus>")
    peak, count, outcome, _said = measured(path)
    assert (count, outcome) == (160, "new")
    assert peak < 500


def test_every_reader_of_xml_is_tried():
    """A reader of XML that is added must be refused the same things: all go through `xml`."""
    roots = [root for reader in READERS for root in reader.roots]
    assert any(root.startswith("{http://www.tei-c.org") for root in roots)
    assert any(root.startswith("{http://www.lido-schema.org") for root in roots)
