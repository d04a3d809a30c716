"""Nothing unlisted leaves: records with a word of its own planted in every text, in every format.

A word that stands in a field in no list, in a value that is marked for the house, in a text that nobody
released, in a note within a reading, in the name of a file or in somebody who may not be named must be in
no file of any format. And the control: in records without such marks every word in a listed field leaves.
300 records in the suite, a hundred for each profile; `DORSE_CASES=10000` for the long run, in which every
record leaves under each of them (facts/trade.md C22). `DORSE_FROM=2500` begins the long run there, so that it
can be run in pieces. Of its batches every tenth is written in every format; the others leave out those that
write the same statements or cells a second time.
"""

from __future__ import annotations

import io
import os
import random
import re
import shutil
import zipfile
from dataclasses import dataclass, fields, replace
from uuid import NAMESPACE_URL, uuid5

import pytest
from made_records import ARTIST, CLIENT, full_job, full_work

from catalogue.errors import NotOnFile
from catalogue.exchange.formats import FORMATS
from catalogue.exchange.outgoing import Sender
from catalogue.exchange.sending import Sending
from catalogue.exchange.withholding.profiles import profile
from catalogue.linked.documents import from_jsonld, to_jsonld
from catalogue.linked.text import parse, write
from catalogue.measure import Day
from catalogue.record import Job, Note, Release, Transcript, digest_of
from catalogue.record.rules import OPEN, UUID, fields_of, is_value

LONG = "DORSE_CASES" in os.environ
CASES = int(os.environ.get("DORSE_CASES", "100"))
FROM = int(os.environ.get("DORSE_FROM", "0"))
A_TIME = 50
STRICT = ("public", "sale", "loan")
# Made of other formats, or of the same statements and cells: now and then shows that they add nothing.
OF_THE_OTHERS = {"parcel", "linked-art-whole", "turtle", "nquads", "xlsx"}
TODAY = Day(2026, 11, 29)
MARKS = (OPEN, OPEN, OPEN, "visibility/restricted", "visibility/studio")

# Texts in a listed field of which rules of their own decide: `test_withholding.py` has those.
RULED = {
    "PartyRole.written", "PartyRole.life", "PartyRole.place", "PartyRole.relation",
    "ProvenanceEvent.at", "ProvenanceEvent.phrase",
}  # fmt: skip
# What kind of file something is, is no text that a person wrote.
NOT_WRITTEN = {"Photo.media_type", "Paper.media_type"}
_WORD = re.compile(r"zq[0-9a-f]{8}z")


@dataclass(frozen=True)
class Planted:
    """One word, the fields that it stands in from the outer to the inner, and what speaks against it."""

    word: str
    path: tuple[str, ...]
    marks: frozenset[str]
    kept_back: bool

    def is_secret(self, allowed):
        return (
            self.kept_back
            or not set(self.path) <= allowed.fields
            or not self.marks <= allowed.visibility
        )

    def must_leave(self, allowed):
        return not self.is_secret(allowed) and self.path[-1] not in RULED


class Planting:
    """Words planted into the records of one case. `marking` says whether values get marks of their own."""

    def __init__(self, seed, marking):
        self.chance = random.Random(seed)
        self.seed = seed
        self.marking = marking
        self.planted: list[Planted] = []

    def word(self, path, marks, kept_back=False):
        word = f"zq{self.seed:04x}{len(self.planted):04x}z"
        self.planted.append(Planted(word, path, frozenset(marks), kept_back))
        return word

    def of(self, value, path=(), marks=(), kept_back=False):
        """The value with a word in each of its texts."""
        kind = type(value).__name__
        changed = {}
        if hasattr(value, "visibility"):
            mark = value.visibility
            if path:
                mark = self.chance.choice(MARKS) if self.marking else OPEN
            changed["visibility"] = mark
            marks = (*marks, mark)
        release = isinstance(value, Note) and self.chance.random() < 0.5
        if isinstance(value, Note):
            kept_back = kept_back or not release
        for rule in fields_of(type(value)):
            held = getattr(value, rule.name)
            here = (*path, f"{kind}.{rule.name}")
            if held is None or held == () or rule.name in ("id", "visibility", "released"):
                continue
            if is_value(rule.kind):
                inner = held if rule.many else (held,)
                new = tuple(self.of(each, here, marks, kept_back) for each in inner)
                changed[rule.name] = new if rule.many else new[0]
            elif _is_text(rule) and here[-1] not in NOT_WRITTEN:
                changed[rule.name] = self.text(value, held, here, marks, kept_back)
        if isinstance(value, Note):
            said = Release(
                by="Nell", at="2026-03-03T10:00:00Z", digest=digest_of(changed["text"])
            )
            changed["released"] = said if release else None
        return replace(value, **changed)

    def text(self, value, held, path, marks, kept_back):
        if isinstance(value, Transcript):
            # before the letters of the reading nothing may be put, or its statements would move
            said = f"{held} {self.word(path, marks)} /* {self.word(path, marks, True)} */"
            if self.chance.random() < 0.2:
                said += f"/* {self.word(path, marks, True)}"
            return said
        if path[-1] == "PartyRole.life" and self.chance.random() < 0.5:
            return "1851-1911"
        return f"{self.word(path, marks, kept_back)} {held}"


def _is_text(rule):
    """Whether a field holds words as somebody wrote them: no term, no id, no number of a fixed form."""
    free = ("_writable", "_says_something")
    return rule.kind is str and all(
        getattr(each, "__name__", "") in free for each in rule.checks
    )


@dataclass
class Case:
    documents: dict[str, bytes]
    planted: list[Planted]
    wanted: str


def case(seed):
    """One work with its people and its commission, all ids its own. Every other one has marks."""
    planting = Planting(seed, marking=bool(seed % 2))
    work = full_work()
    raw = {}
    for record in (work, ARTIST, CLIENT, full_job(work)):
        new = planting.of(record, kept_back=isinstance(record, Job))
        raw[new.document] = write(to_jsonld(new)).decode()
    ids = sorted(set(re.findall(UUID, "".join(raw.values()))))
    renamed = {each: str(uuid5(NAMESPACE_URL, f"{seed} {each}")) for each in ids}
    swap = re.compile("|".join(ids))
    own = {
        swap.sub(lambda found: renamed[found[0]], name): swap.sub(
            lambda found: renamed[found[0]], text
        ).encode()
        for name, text in raw.items()
    }
    return Case(own, planting.planted, next(each for each in own if each.startswith("work/")))


def words_in(name, content):
    """Every planted word in a file, its name and the files within it."""
    data = content if isinstance(content, bytes) else content.read_bytes()
    found = set(_WORD.findall(name.casefold()))
    if data[:2] == b"PK":
        with zipfile.ZipFile(io.BytesIO(data)) as within:
            for each in within.infolist():
                found |= words_in(each.filename, within.read(each))
        return found
    return found | set(_WORD.findall(data.decode("utf-8", "replace").casefold()))


def exported(cases, profile_name, formats, scratch):
    """The words that are in the files of each format, when these cases are exported under a profile."""
    documents = {name: body for each in cases for name, body in each.documents.items()}

    def stored(document_id):
        if document_id not in documents:
            raise NotOnFile(document_id)
        return documents[document_id]

    sending = Sending(
        stored, FORMATS["full-graph"], profile(profile_name), None,
        lambda *_: None, today=TODAY,
    )  # fmt: skip
    found = {name: set() for name in formats}
    writing = {}
    for name in formats:
        folder = scratch / f"{profile_name}-{name}"
        folder.mkdir(exist_ok=True)
        sender = Sender(
            None, sending._label_once, profile_name, scratch=folder, changed="2026-11-01"
        )
        writing[name] = FORMATS[name].begin(sender)
    for document_id, body in documents.items():
        leaving = sending._leaving(document_id, body)
        if leaving is None or (
            document_id.startswith("party/") and leaving.record.visibility != OPEN
        ):
            continue
        for name in formats:
            for file, content in writing[name].add(leaving):
                found[name] |= words_in(file, content)
    for name in formats:
        for file, content in writing[name].close():
            found[name] |= words_in(file, content)
    return found


@pytest.mark.parametrize("name", STRICT)
def test_nothing_leaves_that_the_profile_does_not_list(name, tmp_path):
    allowed = profile(name)
    leaked: dict[str, set[tuple[str, ...]]] = {}
    missing: set[tuple[str, ...]] = set()
    looked_for = 0
    begin = FROM if LONG else CASES * STRICT.index(name)
    for first in range(begin, begin + CASES, A_TIME):
        cases = [case(seed) for seed in range(first, min(first + A_TIME, begin + CASES))]
        chosen = [each for each in FORMATS if first % 500 == 0 or each not in OF_THE_OTHERS]
        folder = tmp_path / str(first)
        folder.mkdir()
        found = exported(cases, name, chosen, folder)
        shutil.rmtree(folder)
        for each in cases:
            for planted in each.planted:
                if planted.is_secret(allowed):
                    looked_for += 1
                    for written_as in chosen:
                        if planted.word in found[written_as]:
                            leaked.setdefault(written_as, set()).add(planted.path)
        for each in cases[::2]:  # those without marks
            missing |= {
                planted.path
                for planted in each.planted
                if planted.must_leave(allowed) and planted.word not in found["full-graph"]
            }
    assert leaked == {}
    assert missing == set()
    assert looked_for > 50 * CASES


def test_every_text_of_every_value_is_planted():
    """A new field of words is looked for as soon as the full records hold it."""
    planted = {each.path[-1] for seed in range(4) for each in case(seed).planted}
    texts = {
        f"{type(value).__name__}.{rule.name}"
        for record in (full_work(), ARTIST, CLIENT, full_job(full_work()))
        for value in _within(record)
        for rule in fields_of(type(value))
        if _is_text(rule) and getattr(value, rule.name)
    }
    assert texts - NOT_WRITTEN - {"Release.by"} == planted
    assert len(planted) > 90


def _within(value):
    yield value
    for each in fields(value):
        held = getattr(value, each.name)
        for inner in held if isinstance(held, tuple) else (held,):
            if is_value(type(inner)):
                yield from _within(inner)


def test_the_test_would_notice(tmp_path):
    """With a profile that lists one field more, its word is found."""
    one = case(0)
    (hidden,) = [each for each in one.planted if each.path[-1] == "Price.written"]
    found = exported([one], "full", ["full-graph"], tmp_path)
    assert hidden.word in found["full-graph"]
    assert all(
        from_jsonld(parse(body), document_id=name) for name, body in one.documents.items()
    )
