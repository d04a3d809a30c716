"""What of the samples may leave the house, and what is planted in them that never may."""

from __future__ import annotations

import json
from dataclasses import fields

import pytest

from catalogue.exchange.withholding.profiles import offered
from catalogue.places import folder
from catalogue.record import Note, Work
from catalogue.record.rules import OPEN, values_within
from catalogue.studio import Studio

RESTRICTED, STUDIO = "visibility/restricted", "visibility/studio"
MAY_SEE = {"public": {OPEN}, "owner": {OPEN, RESTRICTED}}
LEAVING = [
    (name, profile) for name in ("linked-art", "full-graph") for profile in ("public", "owner")
]

PLANTED = {
    "public": (
        "Gull Cottage", "Margery Alder", "Hanno Querfeld", "Philippa Sele", "Beatrice Noll",
        "35 gns, she thought", "9 000 euro", "EUR 4 200", "an heir in Ghent", "a dealer in Genoa",
        "the present owner's mother", "2026-012/B1", "Rack 2", "The sum she was told",
        "drawing-room", "came off whole", "for Bea, with love", "boat enamel",
    ),
    "owner": (
        "35 gns, she thought", "9 000 euro", "EUR 4 200", "an heir in Ghent", "a dealer in Genoa",
        "Rack 2, upper", "The sum she was told", "for Bea, with love", "Hers to pay or not",
        "Written on a slip", "came off whole", "Payment in two parts", "not written down here",
    ),
}  # fmt: skip
"""Words that stand in the samples and stay at home: addresses, sums, sellers, places, private remarks."""


@pytest.fixture(scope="module")
def samples():
    with Studio.open("memory:") as studio:
        home = folder("sample_records")
        told = list(
            studio.import_([home / each for each in ("parties", "works", "jobs")], who="x")
        )
        assert {each.outcome for each in told} == {"new"}
        yield studio


@pytest.fixture(scope="module")
def left(samples, tmp_path_factory):
    """Everything that leaves, as one text, by format and profile."""
    found = {}
    for name, profile in LEAVING:
        out = tmp_path_factory.mktemp(f"{name}-{profile}")
        samples.export(name, profile, out)
        paths = sorted(path for path in out.rglob("*") if path.is_file())
        # Written plainly, so that no escape hides a word.
        found[name, profile] = "\n".join(
            json.dumps(json.loads(path.read_text("utf-8")), ensure_ascii=False)
            for path in paths
            if path.suffix == ".json"
        )
    return found


def may_see(value, profile):
    visibility = getattr(value, "visibility", OPEN)
    released = not isinstance(value, Note) or value.may_leave
    return visibility in MAY_SEE[profile] and released


def directly_within(value):
    """The values directly within a value."""
    everything = list(values_within(value))[1:]
    deeper = {id(inner) for each in everything for inner in list(values_within(each))[1:]}
    return [each for each in everything if id(each) not in deeper]


def told(samples, profile):
    """The words that a profile may see and those that it may not, by the marks of the samples."""
    seen, kept = set(), set()

    def go(value, hidden):
        hidden = hidden or not may_see(value, profile)
        for field in fields(value):
            held = getattr(value, field.name)
            if isinstance(held, str) and " " in held and len(held) >= 12:
                (kept if hidden else seen).add(held)
        for each in directly_within(value):
            go(each, hidden)

    for work in samples.all(Work):
        go(work.record, False)
    return seen, kept - seen


@pytest.mark.parametrize(("name", "profile"), LEAVING)
def test_nothing_marked_private_leaves(samples, left, name, profile):
    seen, kept = told(samples, profile)
    assert len(kept) > 40
    whole = left[name, profile]
    leaked = [
        each
        for each in kept
        if json.dumps(each, ensure_ascii=False)[1:-1] in whole
        and not any(each in other for other in seen)
    ]
    assert leaked == []


@pytest.mark.parametrize(("name", "profile"), LEAVING)
def test_nothing_planted_leaves(left, name, profile):
    assert [each for each in PLANTED[profile] if each in left[name, profile]] == []


def test_what_is_planted_is_there():
    everything = "\n".join(
        path.read_text("utf-8") for path in folder("sample_records").glob("*/*.json")
    )
    planted = {each for words in PLANTED.values() for each in words}
    assert [each for each in sorted(planted) if each not in everything] == []


@pytest.mark.parametrize("name", ["linked-art", "full-graph"])
def test_what_was_released_does_leave(samples, left, name):
    """A released note of an open event may go to anybody; one of a finding goes to the owner."""
    for profile, words in (
        ("public", "A gap is no accusation; the registers of losses have been asked."),
        ("owner", "The bottom bar is broken across a knot."),
    ):
        assert words in left[name, profile]


@pytest.mark.parametrize("profile", offered())
def test_no_last_scan_refuses_the_samples(samples, tmp_path, profile):
    """The format that tells most of a record: somebody who tries the samples is not stopped by them."""
    made = samples.rehearse("full-graph", profile, tmp_path)
    assert made.refused is None
