"""Records made at will: one full example of each kind, and hypothesis strategies over all of them."""

from __future__ import annotations

from dataclasses import fields, replace

from hypothesis import strategies as st

from catalogue.measure import Day, read_date
from catalogue.record import (
    Address,
    Approval,
    Attribution,
    Citation,
    Comparison,
    ConditionCheck,
    Consent,
    Contact,
    Content,
    Cover,
    Departure,
    Evidence,
    Exhibition,
    Facility,
    Finding,
    Hours,
    Inquiry,
    Inscription,
    Item,
    Job,
    Layer,
    Loan,
    Location,
    MaterialUse,
    Movement,
    Note,
    NotSame,
    Number,
    Observation,
    Offer,
    Option,
    Outlay,
    Override,
    Paper,
    Part,
    Party,
    PartyName,
    PartyRole,
    Photo,
    Piece,
    PlannedStep,
    Price,
    PriorRepair,
    Proposal,
    ProvenanceEvent,
    Reach,
    Region,
    Relation,
    Release,
    Response,
    Risk,
    Sighting,
    Size,
    Statement,
    Step,
    Test,
    Title,
    Transcript,
    Treatment,
    Valuation,
    Work,
    digest_of,
)
from catalogue.surface import Box, Shape
from catalogue.terms import group

WHO = "Nell"

ARTIST = Party(
    id="5a0f1f5c-7a51-4ec1-9a3b-0d0b6d1f2a01",
    kind="person",
    names=(
        PartyName(text="Ada Penhale", sort="Penhale, Ada", preferred=True),
        PartyName(text="A. Penhale"),
    ),
    roles=("role/artist",),
    began=read_date("1851"),
    ended=read_date("after 1901"),
    addresses=(Address(text="3 Gannet Steps, Porthmellow", when=read_date("1880-1891")),),
    not_same=(
        NotSame(
            other="party/5a0f1f5c-7a51-4ec1-9a3b-0d0b6d1f2a90",
            by="party/5a0f1f5c-7a51-4ec1-9a3b-0d0b6d1f2a91",
            on=Day(2026, 3, 6),
            notes=(Note(text="Born thirty years later."),),
        ),
        NotSame(written="A. Penhaligan"),
    ),
    consents=(
        Consent(
            to="consent/name",
            on=Day(2026, 3, 6),
            withdrawn=Day(2026, 9, 1),
            by="party/5a0f1f5c-7a51-4ec1-9a3b-0d0b6d1f2a91",
            notes=(Note(kind="note/private", text="Her niece wrote it."),),
        ),
        Consent(to="consent/address", on=Day(2026, 9, 2)),
    ),
    notes=(Note(text="Painter of harbours."),),
)
CLIENT = Party(
    id="5a0f1f5c-7a51-4ec1-9a3b-0d0b6d1f2a02",
    kind="person",
    names=(PartyName(text="Mrs Quillan", preferred=True),),
    roles=("role/client",),
    contact=Contact(
        reaches=(Reach(medium="reach/e-mail", text="quillan@post.example"),),
        notes=(Note(kind="note/private", text="Ring after six."),),
    ),
    visibility="visibility/studio",
)


def full_work() -> Work:
    """A work with something in every field."""
    stretcher = Part(
        kind="part/stretcher",
        materials=("material/pine",),
        original=True,
        fitted=read_date("1887"),
    )
    photo = Photo(
        number="P1",
        sha256="ab" * 32,
        file_name="back.jpg",
        media_type="image/jpeg",
        width=3000,
        height=2459,
        face="face/back",
        stage="stage/incoming",
        taken=Day(2026, 3, 2),
        by=ARTIST.document,
        light_from=315,
        mm_per_pixel=0.2033,
        outline=((120.5, 90), (2870, 101.25), (2866, 2330), (118, 2341)),
        about=(stretcher.id,),
        notes=(Note(text="Slightly turned."),),
    )
    first_reading = Transcript(
        markup="Hollis & Tr_ewin\n[---]don S.W. /* see file */",
        by=ARTIST.document,
        on=Day(2026, 3, 2),
        light="light/normal",
        certainty="certainty/probable",
        preferred=True,
        notes=(Note(text="Read through the tape."),),
    )
    label = Inscription(
        number="I1",
        kind="inscription/dealer-label",
        face="face/stretcher-bar",
        part=stretcher.id,
        techniques=("technique/ink", "technique/printed"),
        languages=("de-AT", "en"),
        hand="A",
        written_by=ARTIST.document,
        written_by_certainty="certainty/probable",
        place=Box(10, 5, 62, 38.5),
        regions=(
            Region(photo=photo.id, corners=((10, 10), (100, 10), (100, 50), (10, 50))),
            Region(photo=photo.id, corners=((10, 10.5), (100, 20), (95, 60), (5, 50))),
        ),
        transcripts=(
            first_reading,
            Transcript(markup="Hollis & Trewin", on=Day(2019, 5, 1)),
        ),
        statements=(
            Statement(
                kind="statement/name",
                written="Hollis & Trewin",
                transcript=first_reading.id,
                start=0,
                end=16,
                standing="standing/corrected",
                value="Hollis and Trewin, framers",
                by=ARTIST.document,
                on=Day(2026, 3, 4),
                notes=(Note(kind="note/inscription", text="The younger firm."),),
            ),
            Statement(
                kind="statement/postal",
                written="S.W.",
                transcript=first_reading.id,
                start=26,
                end=30,
                standing="standing/accepted",
            ),
        ),
        sightings=(
            Sighting(state="state/present", on=Day(2019, 5, 1)),
            Sighting(
                state="state/partly-covered", on=Day(2026, 3, 2), covered_by="paper tape R1"
            ),
        ),
        shape="shape/rectangle",
        edge="edge/trimmed",
        materials=("material/paper",),
        paper="colour/cream",
        colours=("colour/black", "colour/red"),
        adhesive="material/flour-paste",
        complete_percent=92.5,
        compared=(
            Comparison(
                other="5a0f1f5c-7a51-4ec1-9a3b-0d0b6d1f2a88",
                work="work/5a0f1f5c-7a51-4ec1-9a3b-0d0b6d1f2a87",
                verdict="verdict/same-form",
                by=ARTIST.document,
                on=Day(2026, 3, 5),
                notes=(Note(kind="note/inscription", text="The same nick in the rule."),),
            ),
            Comparison(
                other="5a0f1f5c-7a51-4ec1-9a3b-0d0b6d1f2a89",
                work="work/5a0f1f5c-7a51-4ec1-9a3b-0d0b6d1f2a87",
                verdict="verdict/another-form",
            ),
        ),
        notes=(Note(kind="note/inscription", text="Lower right corner torn."),),
    )
    chalk = Inscription(
        number="I2",
        kind="inscription/chalk-mark",
        face="face/back",
        orientation=180,
        lies_over=(label.id,),
        across=(label.id, stretcher.id),
        transcripts=(Transcript(markup="84"),),
        visibility="visibility/restricted",
    )
    released = "A shore at low water."
    history = full_history(label, stretcher, photo)
    return Work(
        number="2026-041",
        numbers=(Number(kind="number/lot", text="84"),),
        titles=(
            Title(text="Low Water", kind="title/inscribed", language="en", preferred=True),
            Title(text="Ebbe", kind="title/former"),
        ),
        attributions=(
            Attribution(artist=ARTIST.document, preferred=True),
            Attribution(
                qualifier="qualifier/circle-of",
                artist=ARTIST.document,
                written="circle of A. Penhale",
                said_by=CLIENT.document,
                on=Day(2012, 1, 9),
            ),
            Attribution(qualifier="qualifier/attributed-to", artist=ARTIST.document),
            Attribution(qualifier="qualifier/after", artist=ARTIST.document),
            Attribution(qualifier="qualifier/unknown"),
        ),
        made=read_date("c. 1887"),
        materials=("material/canvas", "material/oil-paint"),
        medium="Oil on canvas",
        sizes=(
            Size(what="size/support", height_mm=500, width_mm=610.5, on=Day(2026, 3, 2)),
            Size(what="size/framed", height_mm=700, width_mm=812, depth_mm=45.25),
        ),
        parts=(stretcher, Part(kind="part/frame")),
        inscriptions=(label, chalk),
        photos=(photo,),
        **history,
        notes=(
            Note(text="Bought from a cellar."),
            Note(
                text=released,
                released=Release(
                    by="Nell", at="2026-03-03T10:00:00Z", digest=digest_of(released)
                ),
            ),
            Note(
                kind="note/private", text="The client argues.", visibility="visibility/studio"
            ),
        ),
    )


def full_history(label: Inscription, stretcher: Part, photo: Photo) -> dict[str, tuple]:
    """What was seen, done and known of that work, with something in every field."""
    beneath = Location(
        face="face/back",
        part=stretcher.id,
        shape=Shape("area", ((120, 140), (180, 140), (180, 185.5), (120, 185.5))),
        orientation=12,
        wording="upper left of the centre",
        seen="seen/through-front",
        tolerance_mm=1,
        by=ARTIST.document,
        instrument="steel rule",
        on=Day(2026, 3, 2),
    )
    incoming = ConditionCheck(
        number="K1", occasion="occasion/incoming", on=Day(2026, 3, 2), by=ARTIST.document,
        at="Studio, north light", lights=("light/normal", "light/raking"), instruments="10x loupe",
        limits="Not unframed.", framed=True, glazed=False, condition="condition/moderate",
        urgency="urgency/short-term", handling="handling/may-travel", temperature_c=20.1,
        humidity_percent=54, notes=(Note(kind="note/condition", text="Smells of smoke."),),
    )  # fmt: skip
    outgoing = ConditionCheck(
        number="K2", occasion="occasion/outgoing", on=Day(2026, 11, 20), by=ARTIST.document
    )
    tear = Finding(
        number="F1", layer="layer/support", kind="damage/tear", cause="cause/impact",
        cause_certainty="certainty/probable",
        observations=(
            Observation(
                check=incoming.id, location=beneath, length_mm=62, gap_mm=3, depth_mm=0.5,
                area_mm2=120, count=1, extent="extent/localised", severity="severity/affecting",
                stability="stability/active", change="change/new",
                notes=(Note(kind="note/condition", text="Lips curled."),),
            ),
            Observation(check=outgoing.id, gap_mm=0, change="change/treated"),
        ),
        notes=(Note(text="Seen from the front as a bulge."),),
    )  # fmt: skip
    water = MaterialUse(material="material/deionised-water", role="use/cleaning-agent")
    film = MaterialUse(
        material="material/eva-adhesive", role="use/adhesive", product="heat-seal film",
        maker="a maker", lot="A-1107", formulation_year=2024, concentration_percent=12.5,
        basis="concentration/w-v", amount="one sheet", opened=Day(2026, 1, 9),
        expires=Day(2028, 1, 1), data_sheet=Day(2025, 5, 5), signal="Warning",
        hazards=("H315", "EUH066"), precautions=("P280", "P301+P330+P331"),
    )  # fmt: skip
    tape = PriorRepair(
        number="R1", kind="repair/tape", materials=("material/paper",),
        adhesive="material/animal-glue", adhesive_basis="basis/tested",
        location=Location(face="face/back", shape=Shape("line", ((1, 1), (60, 2.5)))),
        writing_beneath=True, covers=(label.id,), effects=("effect/stain",),
        made=read_date("before 1963"), by=CLIENT.document, decision="decision/remove",
        reason="It pulls.", reversibility="swells in water", kept_as="2026-041/B1",
        sightings=(Sighting(state="state/present", on=Day(2026, 3, 2)),),
        notes=(Note(text="Three strips."),),
    )  # fmt: skip
    test = Test(
        number="X1", kind="test/water-sensitivity", on=Day(2026, 3, 3), by=ARTIST.document,
        location=Location(face="face/back", shape=Shape("point", ((61, 18),))),
        inscription=label.id, materials=(water,), ph=6.5, conductivity_ms_cm=0.2,
        temperature_c=20, dwell_s=10, applicator="cotton swab", rolls=1, area_mm2=25,
        responses=(Response(layer="layer/paint", seen=("response/none",)),),
        result="result/safe", notes=(Note(text="No bleeding."),),
    )  # fmt: skip
    treatment = Treatment(
        number="T1", title="Tear mending", aim="aim/remedial",
        steps=(
            Step(
                order=1, kind="step/patch-heat-set", aim="aim/remedial", began=Day(2026, 4, 2),
                began_at="09:30", ended=Day(2026, 4, 3), ended_at="08:00", by=(ARTIST.document,),
                location=beneath, materials=(film,), set_temperature_c=72,
                surface_temperature_c=66.5, humidity_percent=55, dwell_s=20, pressure_mbar=40,
                weight_kg=1.5, ph=7, conductivity_ms_cm=1, layers=2, overlap_mm=15,
                edge="edge/feathered", addresses=(tear.id, tape.id), covers=(label.id,),
                removes=(tape.id,), outcome="Good.", departures="Warmer than proposed.",
                overrides=(
                    Override(
                        rule="O12", reason="Bridged, not mended.", by=ARTIST.document, on=Day(2026, 4, 2)
                    ),
                ),
                emergency="The flap hung by two threads.",
                notes=(Note(text="Spatula through film."),),
            ),
            Step(order=2, kind="step/varnish", began=Day(2026, 5, 1)),
        ),
        notes=(Note(text="Approved by telephone."),),
    )  # fmt: skip
    book = Citation(
        kind="citation/book", text="Harbour painters, 1990", pages="12-13", illustrated=True,
        source="reference/5a0f1f5c-7a51-4ec1-9a3b-0d0b6d1f2a77", notes=(Note(text="Reversed."),),
        evidence=(
            Evidence(kind="evidence/inscription", source=label.id, strength="strength/inferred"),
            Evidence(kind="evidence/oral", text="the author's daughter"),
        ),
    )  # fmt: skip
    letter = Paper(
        number="D1", kind="paper/letter", title="Letter of sale", sha256="ef" * 32,
        file_name="letter.pdf", media_type="application/pdf", on=Day(1963, 5, 1),
        sender=CLIENT.document, proves="the sale of 1963", about=(tape.id,),
        notes=(Note(text="Typed."),), visibility="visibility/open",
    )  # fmt: skip
    sale = ProvenanceEvent(
        number="E1", order=1, kind="provenance/sale",
        parties=(
            PartyRole(party=ARTIST.document, role="capacity/owner"),
            PartyRole(
                written="Hollis & Trewin", role="capacity/agent", life="active 1880-1911",
                place="Porthmellow Quay", relation="the agent of her cousin",
            ),
            PartyRole(party=CLIENT.document, written="Mrs Q.", role="capacity/seller"),
        ),
        at="Porthmellow", place="reference/5a0f1f5c-7a51-4ec1-9a3b-0d0b6d1f2a78",
        when=read_date("1911"), until=read_date("1936"), phrase="sold by her nephew to",
        lot="84", stock_number="2217",
        price=Price(written="12 gns.", amount=12, currency="currency/guinea"),
        passage="passage/gap", certainty="certainty/probable",
        evidence=(
            Evidence(kind="evidence/inscription", source=label.id, strength="strength/secondary"),
            Evidence(kind="evidence/oral", text="the client's aunt"),
        ),
        notes=(Note(kind="note/provenance", text="Lot read from chalk."),),
    )  # fmt: skip
    return {
        "layers": (
            Layer(
                kind="layer/ground", position=2, materials=("material/chalk",), colour="white",
                original=True, basis="basis/seen", applied=read_date("before 1888"),
                notes=(Note(text="Thin."),),
            ),
        ),
        "checks": (incoming, outgoing),
        "findings": (tear,),
        "repairs": (tape,),
        "tests": (test,),
        "treatments": (treatment,),
        "provenance": (sale,),
        "exhibitions": (
            Exhibition(
                title="Winter Exhibition", organiser=CLIENT.document, at="Norbury Hall",
                place="reference/5a0f1f5c-7a51-4ec1-9a3b-0d0b6d1f2a78", when=read_date("1908"),
                catalogue_number="12", shown_as="Ebbe", lender=ARTIST.document,
                evidence=(Evidence(kind="evidence/inscription", source=label.id),),
                notes=(Note(text="Sold there."),),
            ),
        ),
        "citations": (book,),
        "papers": (letter,),
        "inquiries": (
            Inquiry(
                number="S1", kind="inquiry/archive", subject="Stock book of the framers",
                asked="2217, Ebbe, Low Water", on=Day(2026, 3, 9), by=ARTIST.document,
                result="inquiry-result/seen-and-copied", reference="fol. 44", papers=(letter.id,),
                notes=(Note(kind="note/research", text="The page is loose."),),
                visibility="visibility/restricted",
            ),
            Inquiry(
                number="S2", kind="inquiry/seller-identity", subject="Passport of the seller",
                on=Day(2026, 3, 9), result="inquiry-result/seen",
            ),
        ),
        "relations": (
            Relation(
                kind="relation/pendant-of", to="work/5a0f1f5c-7a51-4ec1-9a3b-0d0b6d1f2a79",
                by=ARTIST.document, on=Day(2026, 3, 2), notes=(Note(text="Same size."),),
            ),
        ),
        "movements": (
            Movement(
                to="rack 3", place="reference/5a0f1f5c-7a51-4ec1-9a3b-0d0b6d1f2a78",
                keeper=CLIENT.document, when=read_date("2 March 2026"),
                reason="movement/bench", by=ARTIST.document, notes=(Note(text="Carried."),),
            ),
            Movement(piece=label.id, to="envelope 2026-041/B1"),
            Movement(piece=tape.id, to="envelope 2026-041/B2"),
            Movement(piece=stretcher.id, keeper=CLIENT.document),
        ),
    }  # fmt: skip


def full_job(work: Work) -> Job:
    """A commission with something in every field."""
    proposal = full_proposal(work)
    label = next(iter(work.inscriptions), None)
    step = next((step.id for each in work.treatments for step in each.steps), None)
    return Job(
        number="J2026-007",
        client=CLIENT.document,
        client_kind="client-kind/private",
        owner=CLIENT.document,
        depositor=ARTIST.document,
        authority="Letter of the owner, 27 February",
        reason="reason/treatment",
        basis="Order of 9 March",
        requirements="The dealer's label stays.",
        insurance="The owner's own, until fetched",
        terms_version="2025-2",
        disclosure="We also offered to sell it.",
        disclosed=Day(2026, 3, 8),
        items=(
            Item(
                work=work.document,
                came=Day(2026, 3, 1),
                arrived_by="by hand",
                packing="blanket, two cords",
                due=Day(2026, 12, 1),
                left=Day(2026, 11, 30),
                kept_at="rack 3",
                contents=(
                    Content(kind="content/frame"),
                    Content(kind="content/bag", count=2, what="loose labels"),
                ),
                risks=(
                    Risk(
                        kind="risk/live-insects", answer="answer/yes", settled=Day(2026, 3, 20),
                        settled_how="Frozen by a firm; no frass since.",
                    ),
                    Risk(kind="risk/mould", answer="answer/no"),
                ),
                condition="torn",
                next_step="ring the client",
            ),
        ),
        proposals=(proposal,),
        approvals=(
            Approval(
                proposal=proposal.id, option=proposal.options[1].id, digest="cd" * 32,
                by=CLIENT.document, on=Day(2026, 3, 9), cap=4000, photos=True, publication=False,
                samples=False, removed="Comes back in its bag.",
            ),
        ),
        approved=Day(2026, 3, 9),
        hours=(
            Hours(
                on=Day(2026, 4, 2), by=ARTIST.document, hours=3.5, work=work.document,
                step=step, note="Slower than thought.",
            ),
            Hours(on=Day(2026, 4, 1), hours=1),
        ),
        outlays=(
            Outlay(on=Day(2026, 4, 1), what="heat-seal film", amount=62.5, by=ARTIST.document),
        ),
        departures=(
            Departure(
                on=Day(2026, 4, 2), what="A larger patch.", why="The canvas gave way.",
                by=ARTIST.document, told="by telephone", told_on=Day(2026, 4, 2), cost=110,
                approved=True,
            ),
        ),
        offers=(
            Offer(
                work=work.document, status="offer-status/for-sale", asked=2400,
                currency="currency/euro", terms="With its frame; carriage extra.",
                since=Day(2026, 3, 10), until=Day(2026, 9, 10), net=1900.5, reserve=1800,
                visibility="visibility/restricted",
            ),
        ),
        loans=(
            Loan(
                work=work.document, lender=ARTIST.document, borrower=ARTIST.document,
                title="Harbours in Fog", venue="Town museum, Ghent", began=Day(2026, 5, 1),
                ended=Day(2026, 8, 30),
                facilities=(
                    Facility(kind="facility/intruder-alarm", answer="answer/yes"),
                    Facility(
                        kind="facility/climate-recorded", answer="answer/no", note="From June on."
                    ),
                ),
                climate="As the green protocol has it.", humidity_least_percent=40,
                humidity_most_percent=60, humidity_swing_percent=10, temperature_least_c=16,
                temperature_most_c=25, lux_most=150, light="No daylight.",
                packing=("packing/crate", "packing/rest-before-opening"),
                packing_says="The crate of 2019.", transport="By road, two stops.",
                courier=ARTIST.document, handling="By the frame.", fixing="Two mirror plates.",
                covered_from=Day(2026, 4, 25), covered_until=Day(2026, 9, 6),
                insured_value=85200, currency="currency/euro", value_basis="value-basis/agreed",
                notes=(Note(kind="note/private", text="They asked twice."),),
            ),
        ),
        valuations=(
            Valuation(
                work=work.document, basis="value-basis/market", low=9000, high=11000.5,
                currency="currency/euro", on=Day(2026, 3, 5), until=Day(2027, 3, 5),
                by=ARTIST.document, grounds="Two of the kind since 2024.",
                notes=(Note(kind="note/private", text="He will ask again."),),
            ),
        ),
        covers=(
            Cover(
                work=work.document, holder="risk-holder/studio-policy", since=Day(2026, 3, 1),
                until=Day(2026, 4, 24), policy="No. 77-4, nail to nail.", insured_for=11000,
                currency="currency/euro", report_hours=48,
                notes=(Note(kind="note/private", text="They want photographs."),),
            ),
            Cover(holder="risk-holder/nobody"),
        ),
        pieces=(
            Piece(
                number="B1", work=work.document, of=label.id if label else None,
                kind="piece/label", what="Dealer's label", taken=Day(2026, 4, 1),
                state="piece-state/returned", kept_at="envelope B1", gone=Day(2026, 11, 30),
            ),
            Piece(work=work.document, kind="piece/tape", what="Three strips"),
        ),
        papers=(Paper(kind="paper/receipt", title="Receipt", file_name="receipt.pdf"),),
        notes=(Note(kind="note/private", text="Half in advance."),),
    )  # fmt: skip


def full_proposal(work: Work) -> Proposal:
    """What a client may be asked about that work, with something in every field."""
    labels, tapes, tears = (
        tuple(each.id for each in held[:1])
        for held in (work.inscriptions, work.repairs, work.findings)
    )
    patch = PlannedStep(
        order=1, kind="step/patch-heat-set", work=work.document, text="A patch behind the tear.",
        location=Location(face="face/back", shape=Shape("point", ((61, 18),))),
        materials=(MaterialUse(material="material/eva-adhesive", role="use/adhesive"),),
        hours_low=5, hours_likely=6.5, hours_high=9, addresses=tears,
        covers=labels, removes=tapes,
    )  # fmt: skip
    return Proposal(
        number="Q1", on=Day(2026, 3, 4), by=ARTIST.document, valid_until=Day(2026, 6, 4),
        options=(
            Option(
                order=1, title="Leave it, with a backing board", nothing=True, aim="aim/preventive",
                steps=(PlannedStep(order=1, kind="step/backing-board", hours_likely=1),),
            ),
            Option(
                order=2, title="Mend and patch", aim="aim/remedial", steps=(patch,),
                risk="The ink may run.", retreatability="The patch comes off with warmth.",
                on_inscriptions="Half the label is covered.", rate=55, currency="currency/euro",
                materials_cost=138, outside_cost=40.5, contingency_percent=10, tax_percent=21,
            ),
        ),
        notes=(Note(kind="note/treatment", text="Sent by post."),),
    )  # fmt: skip


# --- strategies ----------------------------------------------------------------------------------

words = st.text(
    st.characters(exclude_categories=("Cs",), exclude_characters="\0"), min_size=1, max_size=30
).filter(str.strip)
days = st.builds(Day, st.integers(1400, 2100), st.integers(1, 12), st.integers(1, 28))
spans = st.sampled_from(
    ["1887", "c. 1900", "before 1907", "1880s", "12 April 1903", "between 1880 and 1885"]
).map(read_date)
ids = st.uuids(version=4).map(str)
party_ids = ids.map(lambda uuid: f"party/{uuid}")
millimetres = st.integers(1, 9999) | st.decimals(1, 999, places=2).map(float)


def terms(name: str) -> st.SearchStrategy[str]:
    return st.sampled_from([each.key for each in group(name)])


def few(strategy: st.SearchStrategy, most: int = 3) -> st.SearchStrategy[tuple]:
    return st.lists(strategy, max_size=most).map(tuple)


def maybe(strategy: st.SearchStrategy) -> st.SearchStrategy:
    return st.none() | strategy


notes = st.builds(
    Note, id=ids, kind=terms("note").filter(lambda key: key != "note/transcription"), text=words,
    language=maybe(st.sampled_from(["en", "de-AT", "nl"])), by=maybe(party_ids), on=maybe(days),
    released=maybe(
        st.builds(Release, by=words, at=st.just("2026-03-02T11:20:00Z"), digest=st.just("0a" * 32))
    ),
    visibility=terms("visibility"),
)  # fmt: skip
titles = st.builds(
    Title, id=ids, text=words, kind=terms("title"), language=maybe(st.just("fr")),
    preferred=st.booleans(), visibility=terms("visibility"),
)  # fmt: skip
numbers = st.builds(
    Number, id=ids, text=words,
    kind=st.sampled_from(["number/lot", "number/stock", "number/inventory", "number/authority"]),
)  # fmt: skip
attributions = st.builds(
    Attribution, id=ids, qualifier=terms("qualifier"), artist=party_ids, written=maybe(words),
    said_by=maybe(party_ids), on=maybe(days), preferred=st.booleans(), visibility=terms("visibility"),
)  # fmt: skip
sizes = st.builds(
    Size, id=ids, what=terms("size"), height_mm=millimetres, width_mm=maybe(millimetres),
    depth_mm=maybe(millimetres), diameter_mm=maybe(millimetres), by=maybe(party_ids), on=maybe(days),
    visibility=terms("visibility"),
)  # fmt: skip
parts = st.builds(
    Part, id=ids, kind=terms("part"), materials=few(terms("material")), original=maybe(st.booleans()),
    fitted=maybe(spans), notes=few(notes, 1), visibility=terms("visibility"),
)  # fmt: skip
outlines = st.sampled_from(
    [(), ((0, 0), (9, 0), (9, 5), (0, 5)), ((9.5, 6), (9, 1.25), (-1, 0), (0, 7))]
)
photos = st.builds(
    Photo, id=ids, number=maybe(st.integers(1, 99).map("P{}".format)), sha256=maybe(st.just("cd" * 32)),
    file_name=words, media_type=maybe(st.just("image/png")), width=maybe(st.integers(20, 9000)),
    height=maybe(st.integers(20, 9000)), view=terms("view"), face=maybe(terms("face")),
    light=terms("light"), stage=maybe(terms("stage")), taken=maybe(days), by=maybe(party_ids),
    light_from=maybe(st.integers(0, 359)), mm_per_pixel=maybe(st.just(0.25)), outline=outlines, mirrored=st.booleans(), about=few(ids, 2), notes=few(notes, 1),
    visibility=terms("visibility"),
)  # fmt: skip
transcripts = st.builds(
    Transcript, id=ids, markup=words | st.just(""), by=maybe(party_ids), on=maybe(days),
    light=maybe(terms("light")), certainty=maybe(terms("certainty")), notes=few(notes, 1),
    visibility=terms("visibility"),
)  # fmt: skip
sightings = st.builds(
    Sighting, id=ids, state=terms("state"), on=maybe(days), by=maybe(party_ids),
    covered_by=maybe(words), visibility=terms("visibility"),
)  # fmt: skip


def statements(transcript_ids: list[str]) -> st.SearchStrategy:
    spans_of_letters = st.tuples(st.integers(0, 30), st.integers(1, 30))
    return spans_of_letters.flatmap(
        lambda span: st.sampled_from(["accepted", "corrected", "rejected"]).flatmap(
            lambda standing: some(
                Statement, kind=terms("statement"), written=words,
                transcript=st.sampled_from(transcript_ids), start=st.just(span[0]),
                end=st.just(sum(span)), standing=st.just(f"standing/{standing}"),
                value=words if standing == "corrected" else maybe(words), by=maybe(party_ids),
                on=maybe(days),
            )
        )
    )  # fmt: skip


boxes = st.builds(Box, *(st.integers(0, 900),) * 2, *(st.integers(1, 400),) * 2)


@st.composite
def inscriptions(draw, part_ids: list[str], photo_ids: list[str]) -> Inscription:
    regions = st.builds(
        Region, id=ids, photo=st.sampled_from(photo_ids or [""]),
        corners=st.sampled_from([
            ((0, 0), (9, 0), (9, 5), (0, 5)), ((1.5, 0), (9, 2), (7, 8), (0, 6.25)),
            ((0, 0), (9, 0), (4, 5)),
        ]),
    )  # fmt: skip
    read = draw(few(transcripts))
    return draw(
        st.builds(
            Inscription, id=ids, number=maybe(st.integers(1, 99).map("I{}".format)),
            kind=terms("inscription"), face=terms("face"), part=st.sampled_from([None, *part_ids]),
            techniques=few(terms("technique")), languages=few(st.sampled_from(["en", "de", "fr-BE"])),
            hand=maybe(words), written_by=maybe(party_ids),
            written_by_certainty=maybe(terms("certainty")), orientation=st.integers(0, 359), place=maybe(boxes),
            regions=few(regions, 2) if photo_ids else st.just(()), transcripts=st.just(read),
            statements=few(statements([each.id for each in read])) if read else st.just(()),
            sightings=few(sightings), lies_over=few(ids, 2), across=few(ids, 2), notes=few(notes, 1),
            visibility=terms("visibility"),
        )
    )  # fmt: skip


shapes = st.sampled_from(
    [
        Shape("point", ((12, 40.5),)),
        Shape("line", ((0, 0), (62, 3.25), (70, -1))),
        Shape("area", ((0, 0), (60, 0), (60, 45.5), (0, 45.5))),
        Shape("area", ((0, 0), (9, 0), (4, 5))),
    ]
)


def some(kind: type, /, **given: st.SearchStrategy) -> st.SearchStrategy:
    """Values of a kind with notes and a mark; `given` are its other fields."""
    names = {each.name for each in fields(kind)}
    extra = {"id": ids, "notes": few(notes, 1), "visibility": terms("visibility")}
    return st.builds(
        kind, **{key: held for key, held in extra.items() if key in names}, **given
    )


def numbered(letter: str) -> st.SearchStrategy:
    return maybe(st.integers(1, 99).map(f"{letter}{{}}".format))


def locations(part_ids: list[str]) -> st.SearchStrategy:
    return st.builds(
        Location, face=terms("face"), part=st.sampled_from([None, *part_ids]), shape=maybe(shapes),
        orientation=st.integers(0, 359), wording=maybe(words), seen=terms("seen"),
        tolerance_mm=maybe(st.sampled_from([0.5, 1, 2])), by=maybe(party_ids),
        instrument=maybe(words), on=maybe(days),
    )  # fmt: skip


layers = some(
    Layer, kind=terms("layer"), position=maybe(st.integers(1, 20)), materials=few(terms("material")),
    colour=maybe(words), original=maybe(st.booleans()), applied=maybe(spans),
)  # fmt: skip
checks = some(
    ConditionCheck, number=numbered("K"), occasion=terms("occasion"), on=days, by=party_ids,
    at=maybe(words), lights=few(terms("light")), instruments=maybe(words), limits=maybe(words),
    framed=maybe(st.booleans()), glazed=maybe(st.booleans()), condition=maybe(terms("condition")),
    urgency=maybe(terms("urgency")), handling=maybe(terms("handling")),
    temperature_c=maybe(st.just(20.5)), humidity_percent=maybe(st.integers(0, 100)),
)  # fmt: skip


def findings(check_ids: list[str], places: st.SearchStrategy) -> st.SearchStrategy:
    def of(checks: list[str]) -> st.SearchStrategy:
        each = [
            some(
                Observation, check=st.just(check), location=maybe(places), length_mm=maybe(millimetres),
                gap_mm=maybe(st.just(0) | millimetres), depth_mm=maybe(millimetres),
                area_mm2=maybe(millimetres), count=maybe(st.integers(1, 50)),
                extent=maybe(terms("extent")), severity=maybe(terms("severity")),
                stability=maybe(terms("stability")), change=maybe(terms("change")),
            )
            for check in checks
        ]  # fmt: skip
        return st.tuples(*each)

    seen = st.lists(st.sampled_from(check_ids), min_size=1, max_size=2, unique=True).flatmap(of)
    return some(
        Finding, number=numbered("F"), layer=terms("layer"), kind=terms("damage"),
        cause=maybe(terms("cause")), cause_certainty=maybe(terms("certainty")), observations=seen,
    )  # fmt: skip


strengths = st.none() | st.tuples(st.sampled_from([0, 2.5, 100]), terms("concentration"))
uses = strengths.flatmap(
    lambda strength: some(
        MaterialUse, material=terms("material"), role=maybe(terms("use")), product=maybe(words),
        maker=maybe(words), lot=maybe(words), formulation_year=maybe(st.just(2024)),
        concentration_percent=st.just(strength and strength[0]), basis=st.just(strength and strength[1]),
        amount=maybe(words), opened=maybe(days), expires=maybe(days), data_sheet=maybe(days),
    )
) | some(
    MaterialUse, material=terms("material"), data_sheet=days, signal=maybe(words),
    hazards=few(st.sampled_from(["H225", "H360Df", "EUH066"])),
    precautions=few(st.sampled_from(["P210", "P301+P330+P331"])),
)  # fmt: skip


def repairs(places: st.SearchStrategy) -> st.SearchStrategy:
    glue = st.none() | terms("material")
    return glue.flatmap(
        lambda adhesive: some(
            PriorRepair, number=numbered("R"), kind=terms("repair"), materials=few(terms("material")),
            adhesive=st.just(adhesive), adhesive_basis=maybe(terms("basis")) if adhesive else st.none(),
            location=maybe(places), writing_beneath=maybe(st.booleans()), covers=few(ids, 2),
            effects=few(terms("effect")), made=maybe(spans), by=maybe(party_ids),
            decision=maybe(terms("decision")), reason=maybe(words), reversibility=maybe(words),
            kept_as=maybe(words), sightings=few(sightings),
        )
    )  # fmt: skip


def tests(places: st.SearchStrategy) -> st.SearchStrategy:
    responses = st.builds(
        Response, id=ids, layer=terms("layer"),
        seen=st.lists(terms("response"), min_size=1, max_size=3).map(tuple),
    )  # fmt: skip
    return some(
        Test, number=numbered("X"), kind=terms("test"), on=maybe(days), by=maybe(party_ids),
        location=maybe(places), inscription=maybe(ids), materials=few(uses, 2),
        ph=maybe(st.sampled_from([0, 6.5, 14])), conductivity_ms_cm=maybe(st.just(0.2)),
        temperature_c=maybe(st.just(21)), dwell_s=maybe(st.just(10)), applicator=maybe(words),
        rolls=maybe(st.integers(1, 20)), area_mm2=maybe(st.just(25)), responses=few(responses),
        result=maybe(terms("result")),
    )  # fmt: skip


def treatments(places: st.SearchStrategy) -> st.SearchStrategy:
    def step(order: int) -> st.SearchStrategy:
        return maybe(days).flatmap(
            lambda began: some(
                Step, order=st.just(order), kind=terms("step"), aim=maybe(terms("aim")),
                began=st.just(began), began_at=st.sampled_from([None, "00:00", "09:30"]) if began else st.none(),
                ended=st.sampled_from([None, began]), by=few(party_ids), location=maybe(places),
                materials=few(uses, 2), set_temperature_c=maybe(st.just(72)),
                surface_temperature_c=maybe(st.just(65.5)), humidity_percent=maybe(st.just(75)),
                dwell_s=maybe(st.just(20)), pressure_mbar=maybe(st.just(40)), weight_kg=maybe(st.just(1.5)),
                ph=maybe(st.just(7)), conductivity_ms_cm=maybe(st.just(1)), layers=maybe(st.just(2)),
                overlap_mm=maybe(st.just(15)), edge=maybe(terms("edge")), addresses=few(ids, 2),
                covers=few(ids, 2), removes=few(ids, 2), outcome=maybe(words), departures=maybe(words),
                overrides=few(
                    some(Override, rule=st.sampled_from(["O4", "O12"]), reason=words,
                         by=maybe(party_ids), on=maybe(days)), 2
                ),
                emergency=maybe(words),
            )
        )  # fmt: skip

    steps = st.lists(st.integers(1, 9), unique=True, max_size=2).flatmap(
        lambda orders: st.tuples(*(step(order) for order in orders))
    )
    return some(
        Treatment,
        number=numbered("T"),
        title=maybe(words),
        aim=maybe(terms("aim")),
        steps=steps,
    )


reference_ids = ids.map(lambda uuid: f"reference/{uuid}")
evidence = st.sampled_from(["inscription", "paper", "citation", "oral"]).flatmap(
    lambda kind: some(
        Evidence, kind=st.just(f"evidence/{kind}"), source=maybe(ids), text=words,
        strength=maybe(terms("strength")),
    )
) | some(Evidence, kind=st.just("evidence/none-cited"))  # fmt: skip
prices = some(Price, written=words) | some(
    Price, written=words, amount=st.sampled_from([0, 12, 1.225]), currency=terms("currency")
)
events = some(
    ProvenanceEvent, number=numbered("E"), order=maybe(st.integers(1, 99)), kind=terms("provenance"),
    parties=few(
        some(
            PartyRole, party=maybe(party_ids), written=words, role=terms("capacity"),
            life=maybe(words), place=maybe(words), relation=maybe(words),
        )
        | some(PartyRole, party=party_ids, role=terms("capacity"))
    ),
    at=maybe(words), place=maybe(reference_ids), when=maybe(spans), until=maybe(spans),
    phrase=maybe(words), lot=maybe(words), stock_number=maybe(words), price=maybe(prices), passage=maybe(terms("passage")),
    certainty=maybe(terms("certainty")),
    evidence=st.lists(evidence, min_size=1, max_size=2).map(tuple),
)  # fmt: skip
exhibitions = some(
    Exhibition, title=words, organiser=maybe(party_ids), at=maybe(words), place=maybe(reference_ids),
    when=maybe(spans), catalogue_number=maybe(words), shown_as=maybe(words), lender=maybe(party_ids),
    evidence=few(evidence, 1),
)  # fmt: skip
citations = some(
    Citation, kind=terms("citation"), text=words, pages=maybe(words), illustrated=maybe(st.booleans()),
    source=maybe(reference_ids), evidence=few(evidence, 1),
)  # fmt: skip
inquiries = some(
    Inquiry, number=numbered("S"), kind=terms("inquiry"), subject=words, asked=maybe(words),
    on=maybe(days), by=maybe(party_ids), result=maybe(terms("inquiry-result")),
    reference=maybe(words), papers=few(ids, 2),
)  # fmt: skip
relations = some(
    Relation, kind=terms("relation"),
    to=ids.map("work/{}".format) | reference_ids | st.just("https://museum.example/object/7"),
    by=maybe(party_ids), on=maybe(days),
)  # fmt: skip
papers = some(
    Paper, number=numbered("D"), kind=terms("paper"), title=words, sha256=maybe(st.just("ef" * 32)),
    file_name=words, media_type=maybe(st.just("application/pdf")), on=maybe(days),
    sender=maybe(party_ids), proves=maybe(words), about=few(ids, 2),
)  # fmt: skip


def movements(piece_ids: list[str]) -> st.SearchStrategy:
    return some(
        Movement, piece=st.sampled_from([None, *piece_ids]), to=words, place=maybe(reference_ids),
        keeper=maybe(party_ids), when=maybe(spans), reason=maybe(terms("movement")),
        by=maybe(party_ids),
    )  # fmt: skip


@st.composite
def works(draw) -> Work:
    """Any work at all, with parts and photos that its inscriptions may point at."""
    some_parts, some_photos = draw(few(parts)), draw(few(photos, 2))
    some_layers, some_checks = draw(few(layers, 2)), draw(few(checks, 2))
    bearers = [each.id for each in (*some_parts, *some_layers)]
    marks = draw(few(inscriptions(bearers, [photo.id for photo in some_photos])))
    places = locations(bearers)
    some_repairs = draw(few(repairs(places), 2))
    pieces = [*bearers, *(each.id for each in (*marks, *some_repairs))]
    found = (
        findings([check.id for check in some_checks], places) if some_checks else st.nothing()
    )
    return draw(
        st.builds(
            Work, id=ids, number=maybe(st.just("2026-041")), numbers=few(numbers), titles=few(titles),
            attributions=few(attributions), made=maybe(spans), materials=few(terms("material")),
            medium=maybe(words), sizes=few(sizes), parts=st.just(some_parts),
            layers=st.just(some_layers), inscriptions=st.just(marks), checks=st.just(some_checks),
            findings=few(found, 2) if some_checks else st.just(()), repairs=st.just(some_repairs),
            tests=few(tests(places), 1), treatments=few(treatments(places), 1),
            provenance=few(events, 2), exhibitions=few(exhibitions, 1), citations=few(citations, 1),
            inquiries=few(inquiries, 2), relations=few(relations, 1), movements=few(movements(pieces), 2),
            photos=st.just(some_photos), papers=few(papers, 1), notes=few(notes, 2),
        )
    )  # fmt: skip


parties = st.builds(
    Party, id=ids, kind=st.sampled_from(["person", "group"]),
    names=st.lists(
        st.builds(PartyName, id=ids, text=words, sort=maybe(words), preferred=st.booleans()),
        min_size=1, max_size=3,
    ).map(tuple),
    roles=few(terms("role")), began=maybe(spans), ended=maybe(spans),
    addresses=few(
        st.builds(Address, id=ids, text=words, when=maybe(spans), notes=few(notes, 1),
                  visibility=terms("visibility"))
    ),
    numbers=few(numbers),
    consents=few(
        some(Consent, to=terms("consent"), on=st.just(Day(2020, 2, 29)), by=maybe(party_ids),
             withdrawn=st.sampled_from([None, Day(2021, 1, 1)])), 2
    ),
    contact=maybe(
        st.builds(
            Contact, id=ids, notes=few(notes, 1),
            reaches=few(st.builds(Reach, id=ids, medium=terms("reach"), text=words)),
        )
    ),
    notes=few(notes), visibility=terms("visibility"),
)  # fmt: skip
work_ids = ids.map("work/{}".format)
money = st.sampled_from([0, 55, 138.25])
risks = terms("risk").flatmap(
    lambda kind: some(Risk, kind=st.just(kind), answer=terms("answer"))
    | some(Risk, kind=st.just(kind), answer=st.just("answer/yes"), settled=days, settled_how=words)
)  # fmt: skip
items = some(
    Item, work=work_ids, came=maybe(days), due=maybe(days), kept_at=maybe(words),
    arrived_by=maybe(words), packing=maybe(words), condition=maybe(words), next_step=maybe(words),
    contents=few(
        some(Content, kind=terms("content"), count=st.integers(1, 10_000), what=maybe(words))
    ),
    risks=st.lists(risks, max_size=2, unique_by=lambda risk: risk.kind).map(tuple),
)  # fmt: skip


def planned_steps(order: int) -> st.SearchStrategy:
    hours = st.sampled_from([(None, None, None), (None, 2, None), (1, 2, 4.5), (2, 2, 2)])
    return hours.flatmap(
        lambda said: some(
            PlannedStep, order=st.just(order), kind=terms("step"), work=maybe(work_ids),
            text=maybe(words), location=maybe(locations([])), materials=few(uses, 1),
            hours_low=st.just(said[0]), hours_likely=st.just(said[1]), hours_high=st.just(said[2]),
            addresses=few(ids, 2), covers=few(ids, 2), removes=few(ids, 2),
        )
    )  # fmt: skip


def in_order(strategy, most: int = 2) -> st.SearchStrategy[tuple]:
    orders = st.lists(st.integers(1, 9), unique=True, max_size=most)
    return orders.flatmap(lambda found: st.tuples(*(strategy(order) for order in found)))


def options(order: int) -> st.SearchStrategy:
    return some(
        Option, order=st.just(order), title=words, nothing=st.booleans(), aim=maybe(terms("aim")),
        steps=in_order(planned_steps), risk=maybe(words), retreatability=maybe(words),
        on_inscriptions=maybe(words), rate=maybe(money), currency=terms("currency"),
        materials_cost=maybe(money), outside_cost=maybe(money),
        contingency_percent=maybe(st.just(10)), tax_percent=maybe(st.just(21)),
    )  # fmt: skip


proposals = some(
    Proposal, number=numbered("Q"), on=maybe(days), by=maybe(party_ids), options=in_order(options),
) | some(Proposal, valid_until=maybe(days), options=in_order(options))  # fmt: skip


def approvals(made: tuple[Proposal, ...]) -> st.SearchStrategy[tuple]:
    """Any approvals of what was proposed."""
    choices = [
        (proposal.id, option.id)
        for proposal in made
        if proposal.leaves_a_choice
        for option in proposal.options
    ]
    if not choices:
        return st.just(())
    given = st.sampled_from(choices).flatmap(
        lambda choice: some(
            Approval, proposal=st.just(choice[0]), option=st.just(choice[1]),
            digest=maybe(st.just("0a" * 32)), by=maybe(party_ids), on=days, cap=maybe(money),
            photos=maybe(st.booleans()), publication=maybe(st.booleans()),
            samples=maybe(st.booleans()), removed=maybe(words),
        )
    )  # fmt: skip
    return few(given, 2)


offers = some(
    Offer, work=work_ids, status=terms("offer-status"), asked=maybe(money), currency=terms("currency"),
    terms=maybe(words), since=maybe(days), net=maybe(money), reserve=maybe(money),
) | some(Offer, work=work_ids, status=terms("offer-status"), until=maybe(days))  # fmt: skip

loans = some(
    Loan, work=work_ids, lender=maybe(party_ids), borrower=maybe(party_ids), title=maybe(words),
    venue=maybe(words), began=maybe(days), climate=maybe(words), lux_most=maybe(st.sampled_from([50, 0.5])),
    humidity_least_percent=maybe(st.just(40)), humidity_most_percent=maybe(st.just(60.5)),
    humidity_swing_percent=maybe(st.just(10)), temperature_most_c=maybe(st.just(25)),
    facilities=st.lists(terms("facility"), unique=True, max_size=2).flatmap(
        lambda kinds: st.tuples(*(
            some(Facility, kind=st.just(kind), answer=terms("answer"), note=maybe(words))
            for kind in kinds
        ))
    ),
    light=maybe(words), packing=few(terms("packing"), 2).map(lambda it: tuple(dict.fromkeys(it))),
    packing_says=maybe(words), transport=maybe(words), courier=maybe(party_ids),
    handling=maybe(words), fixing=maybe(words), covered_from=maybe(days),
    insured_value=maybe(money), currency=terms("currency"), value_basis=maybe(terms("value-basis")),
) | some(Loan, work=work_ids, ended=maybe(days), covered_until=maybe(days))  # fmt: skip

valuations = some(
    Valuation, work=work_ids, basis=terms("value-basis"), low=money, currency=terms("currency"),
    on=maybe(days), by=maybe(party_ids), grounds=maybe(words),
) | some(
    Valuation, work=work_ids, basis=terms("value-basis"), low=st.just(0), high=maybe(money),
    currency=terms("currency"), until=maybe(days),
)  # fmt: skip

covers = some(
    Cover, work=maybe(work_ids), holder=terms("risk-holder"), since=maybe(days), policy=maybe(words),
    insured_for=maybe(money), currency=terms("currency"), report_hours=maybe(st.sampled_from([1, 48])),
) | some(Cover, holder=terms("risk-holder"), until=maybe(days))  # fmt: skip

pieces = st.sampled_from(["kept", "returned", "discarded"]).flatmap(
    lambda state: some(
        Piece, number=numbered("B"), work=work_ids, of=maybe(ids), kind=terms("piece"), what=words,
        state=st.just(f"piece-state/{state}"), kept_at=maybe(words),
        gone=st.none() if state == "kept" else maybe(days),
    )
) | some(Piece, work=work_ids, kind=terms("piece"), what=words, taken=maybe(days))  # fmt: skip


@st.composite
def made_jobs(draw) -> Job:
    """Any commission at all, its approvals those of what it proposes."""
    proposed = draw(few(proposals, 2))
    told = draw(maybe(words))
    return draw(
        st.builds(
            Job, id=ids, number=maybe(st.just("J2026-007")), client=maybe(party_ids),
            client_kind=maybe(terms("client-kind")), owner=maybe(party_ids),
            depositor=maybe(party_ids), authority=maybe(words), reason=terms("reason"),
            basis=maybe(words), requirements=maybe(words), insurance=maybe(words),
            terms_version=maybe(words), disclosure=st.just(told),
            disclosed=maybe(days) if told else st.none(), approved=maybe(days), items=few(items),
            proposals=st.just(proposed), approvals=approvals(proposed),
            hours=few(
                some(Hours, on=days, by=maybe(party_ids), hours=st.sampled_from([0, 0.25, 8]),
                     work=maybe(work_ids), step=maybe(ids), note=maybe(words)), 2
            ),
            outlays=few(some(Outlay, on=days, what=words, amount=money, by=maybe(party_ids)), 2),
            departures=few(
                some(Departure, on=days, what=words, why=maybe(words), by=maybe(party_ids),
                     told=maybe(words), told_on=maybe(days), cost=maybe(money),
                     approved=st.booleans()), 2
            ),
            offers=few(offers, 2), loans=few(loans, 2), valuations=few(valuations, 2), covers=few(covers, 2), pieces=few(pieces, 2), papers=few(papers, 1), notes=few(notes),
        )
    )  # fmt: skip


jobs = made_jobs()
records = works() | parties | jobs


def changed_title(work: Work, text: str) -> Work:
    """The same work with another preferred title."""
    first = work.titles[0]
    return replace(work, titles=(replace(first, text=text), *work.titles[1:]))
