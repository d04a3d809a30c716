"""Every file of vocab/terms: what each concept must say, and what others say of the same AAT ids."""

from __future__ import annotations

import json
import re
from pathlib import Path

import cromulent
import pytest
from rdflib import RDF, SKOS, Graph, Literal, URIRef

from catalogue import places
from catalogue.terms import AAT, NAMESPACE, concept, group, groups, known
from catalogue.terms.turtle import blocks

FILES = sorted((places.folder("vocab") / "terms").glob("*.ttl"))
CONCEPTS = [each for name in groups() for each in group(name)]

NEEDED = """
inscription: signature monogram date title dedication label dealer-label exhibition-label
  auction-label framer-label supplier-label owner-label museum-label customs-label transport-label
  stamp canvas-stamp customs-stamp seal stencil brand chalk-mark price address lot-number
  stock-number number direction plaque barcode other inscription
face: front back tacking-edge-top tacking-edge-right tacking-edge-bottom tacking-edge-left
  stretcher-bar frame-front frame-back lining backing-board loose
part: support stretcher strainer stretcher-bar cross-bar frame lining backing-board panel cradle
  label tape patch paint-layer ground varnish key other
technique: ink pen brush pencil charcoal chalk crayon ball-point felt-tip oil-paint stencilled
  stamped printed letterpress lithographed typed branded scratched embossed photocopied
light: normal raking specular ultraviolet transmitted infrared x-ray
view: whole detail edge label frame part
stage: incoming before during after outgoing
certainty: certain probable possible doubtful
state: present partly-covered covered removed-kept removed-lost lost revealed transferred
title: inscribed traditional descriptive given former
qualifier: by attributed-to probably-by possibly-by formerly-attributed-to workshop-of studio-of
  circle-of follower-of pupil-of school-of manner-of style-of after unknown
material: oil-paint tempera canvas linen cotton jute oak poplar paper card animal-glue flour-paste
  wax-resin pressure-sensitive-tape eva-adhesive
note: description condition inscription position provenance research creator materials access
  credit-line private transcription
role: artist dealer owner framer supplier studio-member auctioneer collector museum restorer
  carrier exhibition-society client
visibility: open restricted studio
reason: examination treatment valuation consignment purchase-offer loan storage framing
  return-visit other
size: support framed sight sheet image panel label
number: studio job inscription photo inventory lot stock catalogue authority file-name digest
object: painting work-of-art
dimension: height width depth diameter
unit: millimetre centimetre inch pixel
language: en fr de it nl es pt la
reach: telephone e-mail post other
activity: commission stay at-an-address
"""
"""Concepts that records, documents and the trade's own forms rely on."""


def needed():
    for line in re.sub(r"\n\s+", " ", NEEDED.strip()).splitlines():
        name, _, members = line.partition(": ")
        yield from (f"{name}/{member}" for member in members.split())


@pytest.mark.parametrize("key", list(needed()))
def test_the_concepts_that_others_rely_on_are_there(key):
    assert known(key)


@pytest.mark.parametrize("source", FILES, ids=lambda path: path.name)
def test_rdflib_reads_the_same_triples(source):
    """The reader of ours covers a subset of Turtle; rdflib (W3C Turtle 1.1) is the judge."""
    ours = Graph()
    for block in blocks(source):
        subject = URIRef(block.subject)
        ours.add((subject, RDF.type, SKOS[block.kind]))
        for name, values in block.properties.items():
            for value in values:
                plain = name in ("inScheme", "broader", "exactMatch", "broadMatch")
                held = URIRef(value) if plain else Literal(value, lang="en")
                ours.add((subject, SKOS[name], held))
    assert set(ours) == set(Graph().parse(source, format="turtle"))


@pytest.mark.parametrize("each", CONCEPTS, ids=lambda each: each.key)
def test_every_concept_says_what_it_is_and_matches_the_aat_or_says_why_not(each):
    assert each.label == each.label.strip()
    assert each.note.endswith(".")
    assert re.fullmatch(r"[a-z]+(?:-[a-z]+)*", each.name)
    assert bool(each.aat) != bool(each.why_none)
    for address in filter(None, (each.aat, each.broad_aat)):
        assert re.fullmatch(rf"{AAT}300\d{{6}}", address)
    assert concept(each.key) is each
    assert each.iri == NAMESPACE + each.key


@pytest.mark.parametrize("name", list(groups()))
def test_a_group_has_a_title_and_no_word_for_two_of_its_concepts(name):
    assert groups()[name]
    labels = [each.label for each in group(name)]
    assert len(labels) == len(set(labels))


def test_the_notice_names_the_thesaurus_and_its_licence():
    notice = (places.folder("vocab") / "terms" / "NOTICE.md").read_text("utf-8")
    assert "Art & Architecture Thesaurus" in notice
    assert "J. Paul Getty Trust" in notice
    assert "ODC-By" in notice


def outside_labels() -> dict[str, set[str]]:
    """What the data files of the package cromulent 1.0.1 (Apache-2.0) call each AAT id."""
    data = Path(cromulent.__file__).parent / "data"
    found: dict[str, set[str]] = {}
    for name in ("vocab_classes.json", "vocab_instances.json"):
        for key, each in json.loads((data / name).read_text("utf-8")).items():
            if str(each.get("id", "")).startswith("300"):
                found.setdefault(each["id"], set()).update((key, each.get("label", key)))
    return found


TWINS = {"days": "day", "feet": "foot", "meters": "metre"}
"""Words of that list that differ from ours in spelling or number only."""


def words(text: str) -> set[str]:
    """The words of a label as stems of four letters, enough to see that two labels mean one thing."""
    text = TWINS.get(text, text)
    apart = re.sub(r"(?<=[a-z])(?=[A-Z])", " ", text).casefold()
    return {word[:4] for word in re.findall(r"\w{2,}", apart)}


def test_an_outside_list_of_aat_ids_does_not_contradict_ours():
    outside = outside_labels()
    checked, strange = set(), set()
    for each in CONCEPTS:
        said = outside.get((each.aat or "").removeprefix(AAT))
        if not said:
            continue
        checked.add(each.aat)
        ours = set().union(
            *(words(text) for text in (each.label, each.name, *each.alternatives))
        )
        if not any(words(text) & ours for text in said):
            strange.add(f"{each.key} {each.aat} is {sorted(said)} there")
    assert len(checked) >= 90, "too few ids are in both lists to mean anything"
    assert not strange
