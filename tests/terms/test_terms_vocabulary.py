"""Every file of vocab/terms: what each concept must say, and what others say of the same AAT ids."""

from __future__ import annotations

import json
import re
from pathlib import Path

import cromulent
import pytest
from rdflib import RDF, SKOS, Graph, Literal, URIRef

from catalogue import places
from catalogue.terms import AAT, NAMESPACE, concept, group, groups, known, labelled, within
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
number: studio job inscription finding check repair test treatment paper photo event batch inventory lot
  stock catalogue authority file-name digest
object: painting work-of-art
dimension: height width depth diameter length gap area count temperature set-temperature
  surface-temperature humidity dwell pressure ph conductivity overlap layer-count roll-count
unit: millimetre centimetre inch pixel square-millimetre degree-celsius percent second millibar
  millisiemens-per-centimetre count
language: en fr de it nl es pt la
reach: telephone e-mail post other
activity: commission stay at-an-address prior-repair treatment test provenance exhibition
layer: auxiliary-support support size ground imprimatura underdrawing paint varnish retouch
  overpaint fill surface frame lining
damage: tear tear-straight tear-l-shaped tear-three-corner tear-branched puncture hole split
  seam-opening deformation bulge dent draw corner-draw sag stretcher-bar-mark patch-edge-mark cockle
  slack over-taut brittle crack crack-age crack-drying crack-impact crack-stretcher-bar cupping
  tenting blister lifting flaking loss abrasion overcleaned efflorescence bloom blanching
  discoloured-varnish varnish-drip uneven-gloss grime accretion fly-speck nicotine stain tide-line
  foxing mould mould-active mould-inactive insect-holes frass fading darkening transparency
  overpaint discoloured-retouch old-fill adhesive-residue tape-stain tacking-edge-weakness rust
  key-missing
cause: impact handling tension moisture heat light insects mould inherent prior-treatment vandalism
  transport unknown
extent: localised limited widespread general
severity: trace visible affecting threatening
stability: stable active unknown
change: new unchanged grown shrunk changed treated not-found
occasion: incoming before-treatment during-treatment after-treatment outgoing loan-out loan-return
  periodic insurance sale other
condition: no-symptoms minor moderate major
urgency: long-term medium-term short-term immediate
handling: may-travel travel-after-stabilising do-not-move
repair: tape fabric-patch canvas-inset paper-patch wax-resin wax-resin-lining glue-paste-lining
  synthetic-lining strip-lining stitching fill overpaint re-keying backing cradle unknown
basis: tested seen infrared ultraviolet documented guessed
effect: none pull bulge stain thread-loss
decision: keep remove reduce replace undecided
test: cleaning solubility water-sensitivity ph conductivity fluorescence adhesive
response: none softened swollen removed pigment-on-swab gloss-change blanching ink-bleed
result: safe conditional unsafe
step: photograph examination transcribe face remove-facing turn-face-down remove-tape remove-patch
  remove-lining reduce-adhesive surface-clean varnish-removal overpaint-removal fumigate humidify
  relax flatten thread-by-thread-mend tear-mend inset patch patch-heat-set lining strip-lining
  stretch key-out isolate-varnish fill level texture retouch varnish tone-patch label-lifting
  label-reattachment backing-board framing
aim: preventive remedial restoration
concentration: w-v v-v w-w
use: adhesive solvent thinner consolidant facing-tissue patch-fabric filler binder varnish-resin
  pigment interleaf cleaning-agent rinse support
edge: feathered rounded pinked straight perforated scalloped deckled trimmed torn
shape: rectangle square rounded-rectangle cut-corners oval round shield tag strip other
colour: white cream buff brown grey black red pink orange yellow green blue light-blue violet gold silver
verdict: same-form another-form consistent not-inconsistent inconsistent cannot-say
movement: arrival return bench store loan loan-return exhibition framing other
relation: part-of pendant-of copy-after version-of study-for same-canvas
provenance: creation commission sale private-sale auction forced-sale bought-in consignment gift
  bequest inheritance descent exchange dowry loan pledge confiscation theft restitution deposit
  discovery presence unknown
capacity: owner dealer agent auctioneer custodian consignor commissioner artist lender borrower
  unknown
passage: direct not-known gap
inquiry: register-of-losses official-list seller-identity proof-of-title years-of-persecution
  country-of-origin export-papers sanctions-and-money artist-estate former-owner archive other
inquiry-result: nothing-found similar-found same-found seen seen-and-copied worked-out
  worked-out-with-gaps awaited refused not-to-be-had not-applicable other
evidence: inscription paper citation oral none-cited
strength: primary secondary inferred oral
currency: pound-sterling guinea shilling french-franc reichsmark deutsche-mark us-dollar euro
  italian-lira florin danish-krone
paper: report condition-report letter invoice receipt certificate valuation photograph other
citation: book catalogue-raisonne exhibition-catalogue auction-catalogue article archive website
seen: that-side through-front unknown
statement: date money name address postal telephone number size currency
standing: accepted corrected rejected
content: painting frame backing-board hardware fragment bag glass other
risk: live-insects mould flaking-paint broken-glass unknown-powder
answer: yes no not-looked
piece: label tape patch fixings keys stretcher sample other
piece-state: kept returned discarded
client-kind: private dealer museum estate insurer trade-referral other
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
def test_a_group_has_a_title_and_every_word_in_it_leads_to_one_concept(name):
    assert groups()[name]
    leads_to: dict[str, set[str]] = {}
    for each in group(name):
        assert each.label.casefold() not in {word.casefold() for word in each.alternatives}
        for word in (each.label, each.name, *each.alternatives):
            leads_to.setdefault(word.casefold(), set()).add(each.key)
            assert labelled(word, name) is each
    assert not {word: keys for word, keys in leads_to.items() if len(keys) > 1}


def test_the_notice_names_the_thesaurus_and_its_licence():
    notice = (places.folder("vocab") / "terms" / "NOTICE.md").read_text("utf-8")
    assert "Art & Architecture Thesaurus" in notice
    assert "J. Paul Getty Trust" in notice
    assert "ODC-By" in notice


def test_a_scale_has_every_step_under_its_number_and_a_letter_is_a_grade_of_evidence():
    """Four steps from 0, as the classes of EN 16096 (title and idea public, wording from memory)."""
    for name in ("severity", "condition", "urgency"):
        steps = [labelled(str(number), name) for number in range(4)]
        assert {each.key for each in steps} == {each.key for each in group(name)}
        assert all(str(number) in each.note for number, each in enumerate(steps))
    grades = [labelled(letter, "strength") for letter in "ABCD"]
    assert {each.key for each in grades} == {each.key for each in group("strength")}
    assert all(
        f"Grade {letter}" in each.note for letter, each in zip("ABCD", grades, strict=True)
    )


def test_the_steps_of_extent_leave_no_percentage_out():
    """The bounds said in the notes; common practice, no source."""
    said = [
        re.findall(r"\d+", concept(f"extent/{each}").note)
        for each in ("localised", "limited", "widespread", "general")
    ]
    assert said == [["5"], ["5", "25"], ["25", "60"], ["60"]]


LEGACY_CODES = "ATS BEF LUF DEM ESP FIM FRF GRD IEP ITL NLG PTE"
"""The currencies of Council Regulation (EC) 2866/98, and Greece's of 2000, by their ISO 4217 codes."""


@pytest.mark.parametrize(
    "code", [*LEGACY_CODES.split(), "EUR", "GBP", "USD", "CHF", "DKK", "SEK", "NOK"]
)
def test_a_currency_is_found_by_its_code(code):
    assert labelled(code, "currency")


HARMFUL = """
solvent epoxy-resin contact-adhesive cyanoacrylate polyurethane-adhesive lead lead-white red-lead
lead-tin-yellow chrome-yellow vermilion emerald-green cadmium-pigment pigment ammonia-solution
sodium-hydroxide hydrogen-peroxide citric-acid enzyme edta triammonium-citrate solvent-gel biocide
fumed-silica resin-colour light-stabiliser
"""
"""Materials that can hurt; which ones is common practice, no source: the data sheet decides."""


@pytest.mark.parametrize(
    "each",
    [
        each
        for each in group("material")
        if each.name in HARMFUL.split() or within(each.key, "material/solvent")
    ],
    ids=lambda each: each.key,
)
def test_a_material_that_can_hurt_sends_the_reader_to_its_safety_data_sheet(each):
    assert "safety data sheet" in each.note


@pytest.mark.parametrize(
    "key",
    ["damage/mould", "damage/mould-active", "damage/mould-inactive", "cause/mould"],
)
def test_mould_is_said_to_harm_people(key):
    assert re.search(r"protect airways|harm people", concept(key).note)


@pytest.mark.parametrize(
    "key",
    ["step/varnish-removal", "step/solvent-clean", "step/varnish", "step/overpaint-removal"],
)
def test_a_step_with_solvents_sends_the_reader_to_the_safety_data_sheet(key):
    assert "safety data sheet" in concept(key).note


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


def witnesses() -> dict[str, tuple[str, str]]:
    """What others call the AAT ids that cromulent does not carry, and who they are.

    Beside this file: id, label there, source. Most rows come from an extract of the AAT's facets
    (cbinding/rematch2, 2023-10-18) or from the alignments of Linked Conservation Data.
    """
    lines = Path(__file__).with_name("aat_witnesses.tsv").read_text("utf-8").splitlines()
    rows = [line.split("\t") for line in lines]
    assert rows.pop(0) == ["aat_id", "called_there", "source"]
    return {number: (called, source) for number, called, source in rows}


def test_every_aat_id_is_carried_by_an_outside_list_or_has_a_witness_on_file():
    used = {
        address.removeprefix(AAT)
        for each in CONCEPTS
        for address in (each.aat, each.broad_aat)
        if address
    }
    assert used - set(outside_labels()) == set(witnesses())
    assert all(source for _, source in witnesses().values())


CALLED_OTHERWISE = {"note/position is 'orientation/arrangement description' there"}
"""The entry nearest to a statement of where on the object something is."""


def test_no_witness_contradicts_what_we_call_an_aat_id():
    said = witnesses()
    strange = {
        f"{each.key} is {said[number][0]!r} there"
        for each in CONCEPTS
        if (number := (each.aat or "").removeprefix(AAT)) in said
        and not words(said[number][0])
        & set().union(*(words(text) for text in (each.label, each.name, *each.alternatives)))
    }
    assert strange == CALLED_OTHERWISE
