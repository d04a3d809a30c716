"""Records made at will: one full example of each kind, and hypothesis strategies over all of them."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import strategies as st

from catalogue.measure import Day, read_date
from catalogue.record import (
    Address,
    Attribution,
    Contact,
    Inscription,
    Item,
    Job,
    Note,
    Number,
    Part,
    Party,
    PartyName,
    Photo,
    Reach,
    Region,
    Release,
    Sighting,
    Size,
    Title,
    Transcript,
    Work,
    digest_of,
)
from catalogue.surface import Box
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
    stretcher = Part(kind="part/stretcher", materials=("material/pine",), original=True)
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
        mm_per_pixel=0.2033,
        notes=(Note(text="Slightly turned."),),
    )
    label = Inscription(
        number="I1",
        kind="inscription/dealer-label",
        face="face/stretcher-bar",
        part=stretcher.id,
        techniques=("technique/ink", "technique/printed"),
        languages=("de-AT", "en"),
        hand="A",
        place=Box(10, 5, 62, 38.5),
        regions=(
            Region(photo=photo.id, corners=((10, 10), (100, 10), (100, 50), (10, 50))),
            Region(photo=photo.id, corners=((10, 10.5), (100, 20), (95, 60), (5, 50))),
        ),
        transcripts=(
            Transcript(
                markup="Hollis & Tr_ewin\n[---]don S.W. /* see file */",
                by=ARTIST.document,
                on=Day(2026, 3, 2),
                light="light/normal",
                certainty="certainty/probable",
                preferred=True,
                notes=(Note(text="Read through the tape."),),
            ),
            Transcript(markup="Hollis & Trewin", on=Day(2019, 5, 1)),
        ),
        sightings=(
            Sighting(state="state/present", on=Day(2019, 5, 1)),
            Sighting(
                state="state/partly-covered", on=Day(2026, 3, 2), covered_by="paper tape R1"
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
        transcripts=(Transcript(markup="84"),),
        visibility="visibility/restricted",
    )
    released = "A shore at low water."
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


def full_job(work: Work) -> Job:
    """A commission with something in every field."""
    return Job(
        number="J2026-007",
        client=CLIENT.document,
        owner=CLIENT.document,
        reason="reason/treatment",
        items=(
            Item(
                work=work.document,
                came=Day(2026, 3, 1),
                due=Day(2026, 12, 1),
                left=Day(2026, 11, 30),
                kept_at="rack 3",
                condition="torn",
                next_step="ring the client",
            ),
        ),
        approved=Day(2026, 3, 9),
        notes=(Note(kind="note/private", text="Half in advance."),),
    )


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
    notes=few(notes, 1), visibility=terms("visibility"),
)  # fmt: skip
photos = st.builds(
    Photo, id=ids, number=maybe(st.integers(1, 99).map("P{}".format)), sha256=maybe(st.just("cd" * 32)),
    file_name=words, media_type=maybe(st.just("image/png")), width=maybe(st.integers(1, 9000)),
    height=maybe(st.integers(1, 9000)), view=terms("view"), face=maybe(terms("face")),
    light=terms("light"), stage=maybe(terms("stage")), taken=maybe(days), by=maybe(party_ids),
    mm_per_pixel=maybe(st.just(0.25)), mirrored=st.booleans(), notes=few(notes, 1),
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
    return draw(
        st.builds(
            Inscription, id=ids, number=maybe(st.integers(1, 99).map("I{}".format)),
            kind=terms("inscription"), face=terms("face"), part=st.sampled_from([None, *part_ids]),
            techniques=few(terms("technique")), languages=few(st.sampled_from(["en", "de", "fr-BE"])),
            hand=maybe(words), orientation=st.integers(0, 359), place=maybe(boxes),
            regions=few(regions, 2) if photo_ids else st.just(()), transcripts=few(transcripts),
            sightings=few(sightings), lies_over=few(ids, 2), notes=few(notes, 1),
            visibility=terms("visibility"),
        )
    )  # fmt: skip


@st.composite
def works(draw) -> Work:
    """Any work at all, with parts and photos that its inscriptions may point at."""
    some_parts, some_photos = draw(few(parts)), draw(few(photos, 2))
    some = draw(
        few(inscriptions([part.id for part in some_parts], [photo.id for photo in some_photos]))
    )
    return draw(
        st.builds(
            Work, id=ids, number=maybe(st.just("2026-041")), numbers=few(numbers), titles=few(titles),
            attributions=few(attributions), made=maybe(spans), materials=few(terms("material")),
            medium=maybe(words), sizes=few(sizes), parts=st.just(some_parts),
            inscriptions=st.just(some), photos=st.just(some_photos), notes=few(notes),
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
    contact=maybe(
        st.builds(
            Contact, id=ids, notes=few(notes, 1),
            reaches=few(st.builds(Reach, id=ids, medium=terms("reach"), text=words)),
        )
    ),
    notes=few(notes), visibility=terms("visibility"),
)  # fmt: skip
jobs = st.builds(
    Job, id=ids, number=maybe(st.just("J2026-007")), client=maybe(party_ids), owner=maybe(party_ids),
    reason=terms("reason"), approved=maybe(days), notes=few(notes),
    items=few(
        st.builds(
            Item, id=ids, work=ids.map("work/{}".format), came=maybe(days), due=maybe(days),
            kept_at=maybe(words), condition=maybe(words), next_step=maybe(words),
        )
    ),
)  # fmt: skip
records = works() | parties | jobs


def changed_title(work: Work, text: str) -> Work:
    """The same work with another preferred title."""
    first = work.titles[0]
    return replace(work, titles=(replace(first, text=text), *work.titles[1:]))
