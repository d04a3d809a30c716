"""Events and claims of a work: every kind of claim once where it tightens a bound, once where it is silent.

The rules are those of the trade sheet (facts/trade.md): section 0 item 7 (a date on the back is not the
date of the picture), C6 (several marks on one work; addresses right to a year), 2.8 (agents do not own,
a label proves presence), V4 and V8 (what "direct" and "by 1937" mean), C10 (the neighbours of a chain).
Where nothing is named: common practice, no source.
"""

from __future__ import annotations

from dataclasses import replace
from typing import NamedTuple

import pytest

from catalogue.argument import KnownAddress, date_label
from catalogue.argument.timing.claims import Event, Firmness, Instant
from catalogue.argument.timing.from_work import chronology, datings_of, events_and_claims
from catalogue.argument.timing.in_words import (
    contradiction_in_words,
    explained,
    group_of,
    reasons,
)
from catalogue.argument.timing.solving import Chronology
from catalogue.measure import Day, read_date
from catalogue.places import table
from catalogue.record import (
    Address,
    Attribution,
    ConditionCheck,
    Evidence,
    Exhibition,
    Inscription,
    Layer,
    Location,
    Paper,
    Part,
    Party,
    PartyName,
    PartyRole,
    PriorRepair,
    ProvenanceEvent,
    Sighting,
    Statement,
    Step,
    Transcript,
    Treatment,
    Work,
)

NOBODY_CITED = (Evidence(kind="evidence/none-cited"),)
PAINTER = Party(
    kind="person", names=(PartyName(text="Ada Penhale"),),
    began=read_date("1851"), ended=read_date("1901"),
)  # fmt: skip
HEIR = Party(
    kind="person", names=(PartyName(text="Ruth Tallis"),),
    began=read_date("1880"), ended=read_date("1950"),
)  # fmt: skip
FIRM = Party(
    kind="group", names=(PartyName(text="Galerie Morvane"),),
    began=read_date("1925"), ended=read_date("1960"),
    addresses=(Address(text="14 Tanner Street, Ghent", when=read_date("1929-1947")),),
)  # fmt: skip
PEOPLE = {each.document: each for each in (PAINTER, HEIR, FIRM)}
BY = Attribution(artist=PAINTER.document, preferred=True)
PERHAPS = replace(BY, qualifier="qualifier/attributed-to")
CIRCLE = replace(BY, qualifier="qualifier/circle-of")
MADE = read_date("1880-1890")
STRETCHER = Part(kind="part/stretcher")
FITTED = replace(STRETCHER, fitted=read_date("1950"))
LOOK = ConditionCheck(
    number="K1", occasion="occasion/incoming", on=Day(2026, 3, 2), by=HEIR.document
)


def mark(kind="label", text=None, face="face/back", **more) -> Inscription:
    if text is not None:
        more["transcripts"] = (Transcript(markup=text),)
    return Inscription(number="I1", kind=f"inscription/{kind}", face=face, **more)


def dated(kind="title", written="1931", face="face/back", **more) -> Inscription:
    """A mark with one accepted date."""
    script = Transcript(markup=f"{written}")
    return Inscription(
        number="I1", kind=f"inscription/{kind}", face=face, transcripts=(script,),
        statements=(
            Statement(
                kind="statement/date", written=written, transcript=script.id, start=0,
                end=len(written), standing="standing/accepted",
            ),
        ), **more,
    )  # fmt: skip


def event(number="E1", kind="sale", *roles, when=None, cites=None, **more) -> ProvenanceEvent:
    evidence = (
        (Evidence(kind="evidence/inscription", source=cites, strength="strength/primary"),)
        if cites
        else NOBODY_CITED
    )
    return ProvenanceEvent(
        number=number, order=int(number[1:]), kind=f"provenance/{kind}", parties=roles,
        when=read_date(when) if when else None, evidence=more.pop("evidence", evidence), **more,
    )  # fmt: skip


def role(who, capacity="owner", **more) -> PartyRole:
    if isinstance(who, Party):
        return PartyRole(party=who.document, role=f"capacity/{capacity}", **more)
    return PartyRole(written=who, role=f"capacity/{capacity}", **more)


def repair(**more) -> PriorRepair:
    return PriorRepair(number="R1", kind="repair/tape", **more)


def solved(work: Work) -> Chronology:
    known = [
        KnownAddress(p.document, p.name(), a.text, a.when.earliest, a.when.latest)
        for p in PEOPLE.values()
        for a in p.addresses
        if a.when
    ]
    datings = datings_of(work)
    for each in work.inscriptions:
        if each.transcripts:
            datings[each.id] = date_label(
                each.preferred().reading(), addresses=known, techniques=each.techniques
            )
    return chronology(work, datings=datings, parties=PEOPLE)


def kind_of(claim) -> str:
    return claim.key.partition(":")[0]


def told(found: Chronology, wanted: str) -> Event:
    """The event of a number ("I1"), or of a number and a stage ("I1/printed")."""
    called, _, stage = wanted.partition("/")
    stages = {"made": "part-made"}
    for each in found.events:
        if each.called == called and (
            each.kind == stages.get(stage, stage)
            if stage
            else each.kind not in ("printed", "filled", "there", "part-made")
        ):
            return each
    raise LookupError(wanted)


def chain(found: Chronology, instant: Instant, bound: str) -> list:
    return [link.claim for link in found.why(instant, bound)]


def kinds_at_work(found: Chronology) -> set[str]:
    """The kinds of claims on which any bound of any event rests."""
    return {
        kind_of(claim)
        for each in found.events
        for instant in (each.began, each.ended)
        for bound in ("earliest", "latest")
        for claim in chain(found, instant, bound)
    }


class Case(NamedTuple):
    """A kind of claim; a work in which it bounds an event, and one in which it says nothing."""

    kind: str
    work: Work
    event: str
    end: str
    bound: str
    day: str
    silent: Work


I1, I2 = mark(), replace(mark(), id=mark().id, number="I2")
OWNED = event("E1", "sale", role(HEIR), when="1931")
LATER = event("E2", "sale", role("A. Sieber"), when="1935")
KEPT = replace(OWNED, until=read_date("1937"))
STAMP = mark("canvas-stamp", "Registered 1931")
LINING = Layer(kind="layer/lining", applied=read_date("1931"))
GROUND = Layer(kind="layer/ground", position=1, applied=read_date("1905"))
PAINT = Layer(kind="layer/paint", position=2)
TAPE = repair(made=read_date("1930"))
BILL = Paper(
    number="D1", kind="paper/invoice", title="Bill", file_name="bill.pdf", on=Day(1963, 5, 1)
)
SHOW = Exhibition(title="Winter", when=read_date("1908"))


def on(part, kind="label") -> Inscription:
    return mark(kind, part=part.id, face="face/stretcher-bar")


def cites(inscription: Inscription, *parts: Part, kind="presence", who=FIRM) -> Work:
    held = event("E1", kind, role(who, "dealer"), cites=inscription.id)
    return Work(inscriptions=(inscription,), provenance=(held,), parts=parts)


def treated(field: str, thing, number: str) -> Work:
    step = Step(order=1, kind="step/other", began=Day(2026, 4, 2), **{field: (thing.id,)})
    return Work(repairs=(thing,), treatments=(Treatment(number="T1", steps=(step,)),))


def two_steps(second: Day | None) -> Work:
    steps = (
        Step(order=1, kind="step/other", began=Day(2026, 4, 2), ended=Day(2026, 4, 3)),
        Step(order=2, kind="step/other", began=second, covers=(TAPE.id,)),
    )
    return Work(repairs=(TAPE,), treatments=(Treatment(number="T1", steps=steps),))


def lying(mark_: Inscription, *others: Inscription, **more) -> Work:
    return Work(inscriptions=(mark_, *others), **more)


ADDRESS = mark("dealer-label", "Galerie M.\n14 Tanner Street, Ghent")
RAILWAY = mark("transport-label", "L.N.E.R.", techniques=("technique/printed",))
PRINCE = mark("label", "L.N.E.R.\nBy Appointment to H.R.H. the Prince of Wales", techniques=("technique/printed",))  # fmt: skip
_FILLED = dated("transport-label", "long ago", techniques=("technique/printed",))
FILLED = replace(
    _FILLED,
    transcripts=(replace(_FILLED.transcripts[0], markup="L.N.E.R.\n@h long ago"),),
    statements=(replace(_FILLED.statements[0], value="[..1950]"),),
)
PALACE = mark("exhibition-label", "Glaspalast München")
OVER_TAPE = mark(lies_over=(TAPE.id,))
BELOW = replace(dated("title", "1931"), number="I2")
MOVED = Sighting(state="state/transferred", on=None)

CASES = [
    # --- dates on record
    Case("date", Work(made=MADE), "the painting", "began", "earliest", "1880-01-01", Work()),
    Case("until", Work(provenance=(KEPT,)), "E1", "ended", "latest", "1937-12-31", Work(provenance=(OWNED,))),
    Case("by-then", Work(provenance=(event("E1", "sale", role("Keel"), when="by 1937"),)), "E1", "ended", "earliest",
         "1937-01-01", Work(provenance=(event("E1", "sale", role("Keel"), when="before 1937"),))),
    Case("day", Work(checks=(LOOK,)), "K1", "began", "earliest", "2026-03-02", Work()),
    Case("born", Work(attributions=(BY,)), "Ada Penhale", "began", "earliest", "1851-01-01", Work(attributions=(CIRCLE,))),
    Case("died", Work(attributions=(BY,)), "Ada Penhale", "ended", "latest", "1901-12-31", Work(attributions=(CIRCLE,))),
    Case("lived", Work(provenance=(event("E1", "sale", role("Clara Voss", life="1889-1961")),)), "Clara Voss", "began",
         "latest", "1889-12-31", Work(provenance=(event("E1", "sale", role("Clara Voss")),))),
    Case("was-at", lying(ADDRESS), "Galerie Morvane at 14 Tanner Street, Ghent", "ended", "latest", "1947-12-31",
         lying(mark("dealer-label", "Galerie M."))),
    # --- the making
    Case("made-in-life", Work(attributions=(BY,)), "the painting", "ended", "latest", "1901-12-31", Work(attributions=(CIRCLE,))),
    Case("perhaps-made-in-life", Work(attributions=(PERHAPS,)), "the painting", "began", "earliest", "1851-01-01",
         Work(attributions=(CIRCLE,))),
    Case("made-date", Work(provenance=(event("E1", "creation", when="1884"),)), "the painting", "began", "earliest", "1884-01-01",
         Work(provenance=(event("E1", "commission", when="1884"),))),
    # first sold in 1930: facts/dating-rules.tsv, tech.cellulose_tape
    Case("material", Work(repairs=(repair(materials=("material/cellophane-tape",)),)), "R1", "began", "earliest", "1930-01-01",
         Work(repairs=(repair(materials=("material/paper",)),))),
    Case("material-current", Work(repairs=(repair(materials=("material/cellophane-tape",)),)), "R1", "began", "latest", "1990-12-31",
         Work(repairs=(repair(materials=("material/eva-adhesive",)),))),
    Case("laid-on", Work(layers=(GROUND, PAINT)), "layer 2", "began", "earliest", "1905-01-01", Work(layers=(LINING, PAINT))),
    Case("layer-original", Work(made=MADE, layers=(replace(PAINT, original=True),)), "layer 2", "began", "latest", "1890-12-31",
         Work(made=MADE, layers=(PAINT,))),
    Case("layer-later", Work(made=MADE, layers=(replace(PAINT, original=False),)), "layer 2", "began", "earliest", "1880-01-01",
         Work(made=MADE, layers=(PAINT,))),
    Case("part-first", Work(parts=(FITTED,)), "the stretcher/made", "began", "latest", "1950-12-31", Work(parts=(STRETCHER,))),
    Case("part-original", Work(made=MADE, parts=(replace(STRETCHER, original=True),)), "the stretcher", "began", "latest", "1890-12-31",
         Work(made=MADE, parts=(Part(kind="part/frame", original=True),))),
    Case("part-later", Work(made=MADE, parts=(replace(STRETCHER, original=False),)), "the stretcher", "began", "earliest", "1880-01-01",
         Work(made=MADE, parts=(STRETCHER,))),
    # --- what is written: facts/dating-rules.tsv, gb.rail.lner, 1923 to 1947 and used up until 1950
    Case("dating", lying(RAILWAY), "I1/printed", "began", "earliest", "1923-01-01",
         lying(mark("transport-label", "[L].N.E.R."))),
    Case("dating-current", lying(RAILWAY), "I1/printed", "began", "latest", "1947-12-31",
         lying(mark("transport-label", "formerly L.N.E.R.", techniques=("technique/printed",)))),
    # the Prince of Wales of 1910 to 1936 is the only one while there was an L.N.E.R.: facts/dating-rules.tsv
    Case("dating-together", lying(PRINCE), "I1/printed", "began", "latest", "1936-01-20",
         lying(mark("label", "By Appointment to H.R.H. the Prince of Wales"))),
    Case("at-address-current", lying(ADDRESS), "I1/printed", "began", "latest", "1947-12-31",
         lying(mark("dealer-label", "Galerie M.\n1[...] Tanner Street, Ghent"))),
    Case("used-up", lying(RAILWAY), "I1", "began", "latest", "1950-12-31", lying(mark("chalk-mark", "L.N.E.R."))),
    Case("printed-first", lying(RAILWAY), "I1", "began", "earliest", "1923-01-01", lying(mark("chalk-mark", "L.N.E.R."))),
    Case("printed-before-filled", lying(FILLED), "I1/filled", "began", "earliest", "1923-01-01", lying(RAILWAY)),
    # built 1854, burnt 1931: facts/dating-rules.tsv, xx.inst.glaspalast
    Case("there-finished", lying(PALACE), "the painting", "ended", "latest", "1931-06-06", lying(mark("label", "Glasp[alast]"))),
    Case("there-near", lying(PALACE), "I1", "began", "latest", "1932-06-06", lying(mark("label", "Glasp[alast]"))),
    Case("filled-first", lying(dated("label")), "I1", "began", "earliest", "1931-01-01", lying(dated("title"))),
    Case("stuck-soon", lying(dated("label")), "I1", "began", "latest", "1934-01-01", lying(dated("title"))),
    Case("accepted", lying(dated()), "I1", "began", "earliest", "1931-01-01", lying(mark("title", "1931"))),
    Case("accepted-near", lying(dated()), "I1", "began", "latest", "1932-12-31", lying(mark("title", "1931"))),
    Case("signed-date", Work(attributions=(BY,), inscriptions=(dated("signature", "1884", "face/front"),)), "the painting", "ended",
         "latest", "1884-12-31", Work(attributions=(BY,), inscriptions=(dated("signature", "1884"),))),
    Case("seen", lying(mark(sightings=(Sighting(state="state/present", on=Day(2019, 5, 1)),))), "I1", "began", "latest", "2019-05-01",
         lying(mark(sightings=(Sighting(state="state/not-seen", on=Day(2019, 5, 1)),)))),
    Case("on-front", Work(made=MADE, inscriptions=(mark("number", face="face/front"),)), "I1", "began", "earliest", "1880-01-01",
         Work(made=MADE, inscriptions=(mark("number", face="face/frame-front"),))),
    Case("on-back", Work(made=MADE, inscriptions=(mark("number"),)), "I1", "began", "earliest", "1880-01-01",
         Work(made=MADE, inscriptions=(mark("number", face="face/stretcher-bar"),))),
    Case("stamped-first", lying(mark("canvas-stamp"), made=MADE), "I1", "began", "latest",
         "1890-12-31", lying(mark("collector-stamp"), made=MADE)),
    Case("stamped-lined", lying(mark("canvas-stamp"), made=MADE, layers=(LINING,)), "I1", "began", "latest", "1890-12-31",
         lying(mark("canvas-stamp"), made=MADE)),
    Case("finished-first", lying(on(STRETCHER, kind="dealer-label"), made=MADE, parts=(STRETCHER,)), "I1", "began", "earliest",
         "1880-01-01", lying(on(STRETCHER, kind="supplier-label"), made=MADE, parts=(STRETCHER,))),
    Case("written-in-life", Work(attributions=(BY,), inscriptions=(mark("signature"),)), "I1", "began", "latest", "1901-12-31",
         Work(attributions=(BY,), inscriptions=(mark("owner-name"),))),
    Case("after-death", Work(attributions=(BY,), inscriptions=(mark("estate-stamp"),)), "I1", "began", "earliest", "1901-01-01",
         Work(attributions=(CIRCLE,), inscriptions=(mark("estate-stamp"),))),
    # --- what lies over what
    Case("over", lying(OVER_TAPE, repairs=(TAPE,)), "I1", "began", "earliest", "1930-01-01", lying(I1, repairs=(TAPE,))),
    Case("over-moved", lying(replace(OVER_TAPE, sightings=(MOVED,)), repairs=(TAPE,)), "I1", "began", "earliest", "1930-01-01",
         lying(OVER_TAPE, repairs=(TAPE,))),
    Case("across", lying(mark(across=(FITTED.id, TAPE.id)), repairs=(TAPE,), parts=(FITTED,)), "I1", "began", "earliest", "1950-01-01",
         lying(I1, repairs=(TAPE,), parts=(FITTED,))),
    Case("covers", lying(BELOW, repairs=(repair(covers=(BELOW.id,)),)), "R1", "began", "earliest", "1931-01-01",
         lying(BELOW, repairs=(repair(),))),
    Case("step-covers", treated("covers", repair(), "R1"), "R1", "began", "latest", "2026-04-02", Work(repairs=(repair(),))),
    Case("step-removes", treated("removes", repair(), "R1"), "R1", "began", "latest", "2026-04-02",
         treated("addresses", repair(), "R1")),
    # plywood: facts/dating-rules.tsv, cv.plywood, from about 1900, ten years sooner at the most
    Case("on-part", lying(on(replace(STRETCHER, materials=("material/plywood",))), parts=(replace(STRETCHER, materials=("material/plywood",)),)),
         "I1", "began", "earliest", "1890-01-01", lying(mark(), parts=(replace(STRETCHER, materials=("material/plywood",)),))),
    Case("after-fitting", lying(on(FITTED), parts=(FITTED,)), "I1", "began", "earliest", "1950-01-01",
         lying(on(FITTED, kind="supplier-label"), parts=(FITTED,))),
    Case("cited-after-fitting", cites(on(FITTED), FITTED), "I1", "began", "earliest", "1950-01-01",
         lying(on(FITTED), parts=(FITTED,))),
    Case("on-layer", lying(mark(part=GROUND.id), layers=(replace(GROUND, kind="layer/varnish"),)), "I1", "began", "earliest", "1905-01-01",
         lying(mark(), layers=(replace(GROUND, kind="layer/varnish"),))),
    Case("on-lining", lying(mark(part=LINING.id), layers=(LINING,)), "I1", "began", "earliest", "1931-01-01",
         lying(mark("canvas-stamp", part=LINING.id), layers=(LINING,))),
    Case("repair-begun", Work(made=MADE, repairs=(repair(),)), "R1", "began", "earliest", "1880-01-01",
         Work(made=MADE, repairs=(repair(location=Location(face="face/frame-back", part=STRETCHER.id)),), parts=(STRETCHER,))),
    Case("repair-finished", Work(repairs=(TAPE,)), "the painting", "ended", "latest", "1930-12-31",
         Work(repairs=(repair(made=read_date("after 1930")),))),
    Case("repaired-in-life", Work(repairs=(repair(by=HEIR.document),)), "R1", "began", "latest", "1950-12-31", Work(repairs=(repair(),))),
    # --- hands
    Case("held-begun", Work(made=MADE, provenance=(event("E1", "gift"),)), "E1", "began", "earliest", "1880-01-01",
         Work(made=MADE, provenance=(event("E1", "commission"),))),
    Case("held-finished", Work(provenance=(OWNED,)), "the painting", "ended", "latest", "1931-12-31",
         Work(provenance=(event("E1", "commission", role(HEIR), when="1931"),))),
    Case("created", Work(made=MADE, provenance=(event("E1", "creation"),)), "E1", "began", "latest", "1890-12-31",
         Work(made=MADE, provenance=(event("E1", "gift"),))),
    Case("follows", Work(provenance=(OWNED, event("E2", "gift"))), "E2", "began", "earliest", "1931-01-01",
         Work(provenance=(OWNED, replace(event("E2", "gift"), order=None)))),
    Case("handed-on", Work(provenance=(OWNED, LATER)), "E1", "ended", "latest", "1935-12-31",
         Work(provenance=(OWNED, replace(LATER, parties=(role("H. Keel", "agent"),))))),
    Case("direct", Work(provenance=(replace(KEPT, passage="passage/direct"), event("E2", "gift", role("A. Sieber")))), "E2", "began",
         "latest", "1937-12-31", Work(provenance=(replace(KEPT, passage="passage/not-known"), event("E2", "gift", role("A. Sieber"))))),
    Case("acted", Work(provenance=(event("E1", "sale", role(HEIR)),)), "E1", "began", "latest", "1950-12-31",
         Work(provenance=(event("E1", "sale", role(HEIR, "donor")),))),
    Case("traded", Work(provenance=(event("E1", "sale", role(FIRM, "dealer")),)), "E1", "began", "earliest", "1925-01-01",
         Work(provenance=(event("E1", "sale", role("Galerie M.", "dealer")),))),
    Case("had-begun", Work(provenance=(event("E1", "gift", role(HEIR, "donor")),)), "E1", "began", "earliest", "1880-01-01",
         Work(provenance=(event("E1", "gift", role("her aunt", "donor")),))),
    Case("until-death", Work(provenance=(OWNED,)), "E1", "ended", "latest", "1950-12-31",
         Work(provenance=(replace(OWNED, parties=(*OWNED.parties, role("his wife"))),))),
    Case("includes", cites(dated("dealer-label", "1938")), "E1", "ended", "earliest", "1938-01-01",
         cites(dated("dealer-label", "1938"), kind="offered")),
    Case("includes-there", cites(PALACE, who="Keel"), "E1", "ended", "earliest", "1854-07-15", cites(PALACE, kind="offered")),
    Case("papered", Work(papers=(BILL,), provenance=(event("E1", "sale", role("Keel"), evidence=(Evidence(kind="evidence/paper", source=BILL.id),)),)),
         "E1", "began", "latest", "1963-05-01", Work(papers=(BILL,), provenance=(event("E1", "sale", role("Keel")),))),
    # --- shows and the studio
    Case("shown-begun", Work(made=MADE, exhibitions=(Exhibition(title="Winter"),)), "Winter", "began", "earliest", "1880-01-01",
         Work(exhibitions=(Exhibition(title="Winter"),))),
    Case("shown-finished", Work(exhibitions=(SHOW,)), "the painting", "ended", "latest", "1908-12-31", Work(exhibitions=(replace(SHOW, when=None),))),
    Case("shown-label", Work(inscriptions=(I1,), exhibitions=(replace(SHOW, evidence=(Evidence(kind="evidence/inscription", source=I1.id),)),)),
         "I1", "began", "earliest", "1906-12-31", Work(inscriptions=(I1,), exhibitions=(SHOW,))),
    Case("lent", Work(exhibitions=(Exhibition(title="Winter", lender=HEIR.document),)), "Winter", "began", "latest", "1950-12-31",
         Work(exhibitions=(Exhibition(title="Winter"),))),
    Case("checked", Work(checks=(LOOK,)), "the painting", "ended", "latest", "2026-03-02", Work()),
    Case("steps", two_steps(None), "T1.2", "began", "earliest", "2026-04-02", two_steps(Day(2026, 4, 2))),
]  # fmt: skip


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.kind)
def test_a_claim_tightens_a_bound(case):
    found = solved(case.work)
    assert not found.contradictions
    instant = getattr(told(found, case.event), case.end)
    assert getattr(found.window(instant), case.bound).iso == case.day
    own = [each for each in chain(found, instant, case.bound) if kind_of(each) == case.kind]
    assert own, f"it rests on {list(map(kind_of, chain(found, instant, case.bound)))}"
    # and without it the bound is another, or rests on something else
    without = found.without_claim(own[0].key)
    assert own[0] not in chain(without, instant, case.bound)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.kind)
def test_and_is_silent_where_it_has_nothing_to_say(case):
    assert case.kind not in kinds_at_work(solved(case.silent))


def test_every_kind_of_claim_has_a_case():
    of_its_own = {"at-address"}  # below: it bounds only when the years of the firm are out
    assert {case.kind for case in CASES} | of_its_own == set(table("chronology.toml")["claims"])


def test_every_case_says_who_says_so_and_what_to_do():
    for case in CASES:
        for claim in events_and_claims(case.work, parties=PEOPLE)[1]:
            assert claim.words
            assert claim.resolve
            assert claim.source
            assert claim.rests_on
            assert not any("{" in text for text in (claim.words, claim.resolve))


# --- how firm -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("certainty", "written", "firmness"),
    [
        ("certainty/certain", "1931", Firmness.HARD),
        (None, "1931", Firmness.HARD),
        ("certainty/probable", "1931", Firmness.LIKELY),
        ("certainty/possible", "1931", Firmness.WEAK),
        ("certainty/certain", "c. 1931", Firmness.LIKELY),
        ("certainty/certain", "1931?", Firmness.LIKELY),
    ],
)
def test_a_date_is_as_firm_as_it_is_certain(certainty, written, firmness):
    one = event("E1", "sale", when=written, certainty=certainty)
    claims = {each.key: each for each in events_and_claims(Work(provenance=(one,)))[1]}
    assert claims[f"date:{one.id}"].firmness is firmness


def test_a_firms_years_at_an_address_give_way_by_a_year_and_no_more():
    # trade sheet C6: supplier and address dates are widened by a year
    tape = repair(made=read_date("June 1928"), covers=(ADDRESS.id,))
    found = solved(Work(inscriptions=(ADDRESS,), repairs=(tape,)))
    (told_,) = found.contradictions
    assert not told_.firm
    assert {kind_of(each) for each in told_.aside} == {"at-address-current"}
    printed = told(found, "I1/printed").began
    assert found.window(printed).earliest == Day(1928, 1, 1)  # 366 days sooner
    assert kind_of(chain(found, printed, "earliest")[-1]) == "at-address"

    sooner = solved(
        Work(inscriptions=(ADDRESS,), repairs=(replace(tape, made=read_date("1920")),))
    )
    assert any(each.firm for each in sooner.contradictions)


# --- what contradicts -----------------------------------------------------------------------------


def clashes(work: Work) -> list:
    return [contradiction_in_words(each) for each in solved(work).contradictions]


def test_a_label_older_than_the_fitting_of_the_stretcher_it_stands_on():
    label = replace(on(FITTED, "dealer-label"), transcripts=(Transcript(markup="x"),))
    script = label.transcripts[0]
    label = replace(
        label,
        statements=(
            Statement(kind="statement/date", written="x", transcript=script.id, start=0, end=1,
                      standing="standing/corrected", value="1905-04"),
        ),
    )  # fmt: skip
    seen = (Sighting(state="state/present", on=Day(1906, 1, 1)),)
    work = cites(replace(label, sightings=seen), FITTED, who="Keel")
    (clash,) = clashes(work)
    assert not clash.firm
    assert clash.given_up == (
        "E1 rests on I1 (dealer's label), which stands on the stretcher: it speaks of this "
        "painting only if it was put on when the stretcher belonged to it",
    )
    assert "the stretcher is dated “1950”" in clash.cannot
    assert "proves nothing of this one" in clash.resolve[0]
    assert {label.id, FITTED.id} <= set(clash.rests_on)
    # without an event that rests on it, that is no more than a habit: an old stretcher was used
    (habit,) = clashes(replace(work, provenance=()))
    assert "unless it was used before" in habit.given_up[0]
    # a supplier's label is there from the start, and contradicts nothing
    assert not clashes(replace(work, provenance=(), inscriptions=(replace(label, kind="inscription/supplier-label", sightings=seen),)))  # fmt: skip


def test_an_owner_who_died_before_the_purchase():
    bought = event("E1", "sale", role(HEIR), when="1953")
    (clash,) = clashes(Work(provenance=(bought,)))
    assert clash.firm
    assert set(clash.cannot) == {
        "E1 (sale) is dated “1953”",
        "Ruth Tallis: “1950” for the end",
        "Ruth Tallis took part in E1 (sale), and nobody does before they are born or after they die",
    }
    assert any("another of that name" in way for way in clash.resolve)
    assert "until somebody decides" in clash.says
    # in the year of death it is possible, and she had it no longer than that year
    in_time = solved(Work(provenance=(replace(bought, when=read_date("1950")),)))
    assert not in_time.contradictions
    assert in_time.window(told(in_time, "E1").ended).latest == Day(1950, 12, 31)


def test_a_tape_that_was_not_to_be_had_yet():
    # cellulose tape was first sold in 1930: facts/dating-rules.tsv, tech.cellulose_tape
    tape = repair(materials=("material/cellophane-tape",), made=read_date("1921"))
    (clash,) = clashes(Work(repairs=(tape,)))
    assert clash.firm
    assert clash.cannot[0].startswith("R1 (tape) ")
    assert any("First sold 1930" in each for each in clash.cannot)
    assert any("tested" in way for way in clash.resolve)
    assert not clashes(Work(repairs=(replace(tape, made=read_date("1931")),)))


def test_a_stretcher_of_another_painting_gives_way_to_what_is_firm():
    # trade sheet, section 0 item 7: a date on the back is not the date of the picture
    label = replace(
        on(STRETCHER, "exhibition-label"),
        sightings=(Sighting(state="state/present", on=Day(1870, 1, 1)),),
    )
    found = solved(Work(made=MADE, inscriptions=(label,), parts=(STRETCHER,)))
    (only,) = found.contradictions
    assert not only.firm
    assert [kind_of(each) for each in only.aside] == ["finished-first"]
    assert found.window(told(found, "the painting").began).earliest == Day(1880, 1, 1)


# --- a whole back ---------------------------------------------------------------------------------


def test_three_labels_and_a_repair_between_them():
    """A framer's label under a tape, the tape under a dealer's, and over that an exhibition's of 1951.

    The tape cannot be older than cellulose tape (1930), the dealer left the address in 1947: so the
    three upper things are squeezed between the two, and the framer's label is older than all.
    """
    framer = replace(mark("framer-label"), number="I1")
    tape = repair(materials=("material/cellophane-tape",), covers=(framer.id,))
    dealer = replace(ADDRESS, number="I2", lies_over=(tape.id,))
    shown = replace(dated("exhibition-label", "1951"), number="I3", lies_over=(dealer.id,))
    work = Work(
        made=MADE, inscriptions=(framer, dealer, shown), repairs=(tape,), checks=(LOOK,),
        exhibitions=(Exhibition(title="Ebb", when=read_date("1951"), evidence=(Evidence(kind="evidence/inscription", source=shown.id),)),),
    )  # fmt: skip
    found = solved(work)
    assert not found.contradictions
    days = {
        each: tuple(
            day.iso if day else None
            for day in (
                found.window(told(found, each).began).earliest,
                found.window(told(found, each).began).latest,
            )
        )
        for each in ("I1", "R1", "I2", "I3")
    }
    # 1948-12-31: the address (1947) with labels used up for a year after
    assert days == {
        "I1": ("1880-01-01", "1948-12-31"),
        "R1": ("1930-01-01", "1948-12-31"),
        "I2": ("1930-01-01", "1948-12-31"),
        "I3": ("1951-01-01", "1952-12-31"),
    }
    why = [text for text, _ in reasons(found, told(found, "I1").began, "latest")]
    assert why == [
        "I2 (dealer's label) says “14 Tanner Street”, and such labels were used up by then: "
        "I2 came to be where it is on 1948-12-31 or earlier",
        "I2 (dealer's label) lies over R1 (tape), so it came later: R1 was made on 1948-12-31 or earlier",
        "R1 (tape) covers I1 (framer's label), so it came later: "
        "I1 came to be where it is on 1948-12-31 or earlier",
    ]
    # taken apart again, statement by statement
    without = found.without_claim(f"over:{dealer.id}:{tape.id}")
    assert without.window(told(found, "R1").began).latest is not None
    assert {tape.id, framer.id} <= without.touched


def test_an_owner_goes_on_owning_while_an_agent_has_it():
    # trade sheet 7.3, example 7: agents have custody only
    owner = event(
        "E1", "sale", role("Countess von Ostrau"), when="by 1925", passage="passage/direct"
    )
    agent = event(
        "E2", "consignment", role("H. Keel", "agent"), when="1928", passage="passage/direct"
    )
    buyer = event("E3", "sale", role("Leopold Marr"), when="1929")
    found = solved(Work(provenance=(owner, agent, buyer)))
    assert not found.contradictions
    assert found.window(told(found, "E1").ended).latest == Day(1929, 12, 31)
    assert found.window(told(found, "E1").ended).earliest == Day(1925, 1, 1)


def test_offered_and_bought_in_ends_no_ownership():
    # trade sheet 7.3, example 5
    owner = event("E1", "sale", role("Dr. A. Sieber"), when="by 1958", until=read_date("1960"))
    offered = event("E2", "bought-in", role("Vaux & Son", "auctioneer"), when="3 March 1958")
    found = solved(Work(provenance=(owner, offered)))
    assert not found.contradictions
    assert told(found, "E2").moment
    assert found.window(told(found, "E1").ended).earliest == Day(1960, 1, 1)


def test_several_attributions_hold_the_painting_to_the_one_shown():
    other = Attribution(artist=HEIR.document)
    found = solved(Work(attributions=(BY, other)))
    assert found.window(told(found, "the painting").began).earliest == Day(1851, 1, 1)


def test_what_is_not_on_record_is_passed_over():
    gone = mark(lies_over=("5a0f1f5c-7a51-4ec1-9a3b-0d0b6d1f2aff",))
    assert not solved(Work(inscriptions=(gone,))).contradictions


# --- in words -------------------------------------------------------------------------------------


def test_every_event_stands_in_a_group_and_is_told():
    for case in CASES:
        found = solved(case.work)
        named = {each.id: each for each in found.events}
        for each in found.events:
            assert group_of(each) in {
                "painting",
                "parts",
                "writing",
                "hands",
                "shows",
                "studio",
                "people",
            }
            assert each.called
            assert each.words
            for instant in (each.began, each.ended):
                for bound in ("earliest", "latest"):
                    for link in found.why(instant, bound):
                        assert "{" not in explained(link, bound, named[link.at.event])


@pytest.mark.parametrize("word", ["stolen", "clear", "guaranteed", "suspicious"])
def test_it_never_accuses_and_never_certifies(word):
    rows = table("chronology.toml")
    said = [text for group in ("events", "claims", "sentences") for row in rows[group].values()
            for text in (row.values() if isinstance(row, dict) else [row])]  # fmt: skip
    assert not [text for text in said if word in str(text).lower()]


def test_a_label_that_was_put_back_says_nothing_of_what_it_stands_on():
    # it may be older than the new stretcher, which is why it was moved to it
    moved = replace(on(FITTED), sightings=(MOVED,))
    found = solved(Work(inscriptions=(moved,), parts=(FITTED,)))
    assert not {"on-part", "after-fitting"} & {kind_of(each) for each in found.claims}


@pytest.mark.parametrize(
    ("life", "born", "died"),
    [
        ("1889-1961", ("1889-01-01", "1889-12-31"), ("1961-01-01", "1961-12-31")),
        ("d. 1956", (None, "1956-12-31"), ("1956-01-01", "1956-12-31")),
        ("b. 1901", ("1901-01-01", "1901-12-31"), ("1901-01-01", None)),
        ("active 1900-1920", None, None),
        ("a friend of the family", None, None),
    ],
)
def test_a_life_as_written_bounds_what_somebody_did(life, born, died):
    work = Work(provenance=(event("E1", "sale", role("Clara Voss", life=life)),))
    found = solved(work)
    if born is None:
        assert "Clara Voss" not in {each.called for each in found.events}
        return
    own = told(found, "Clara Voss")
    for instant, bounds in ((own.began, born), (own.ended, died)):
        window = found.window(instant)
        assert tuple(each and each.iso for each in (window.earliest, window.latest)) == bounds
    assert (found.window(told(found, "E1").began).latest or Day(9999, 1, 1)).iso == (died[1] or "9999-01-01")  # fmt: skip
