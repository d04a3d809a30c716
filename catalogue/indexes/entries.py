"""What the index of words holds of a record: an entry for the whole, and one for each statement.

A work's own facts (who made it, of what, where it is now) stand on each of its entries, so that they
can be asked together with what stands on its back; those of a statement on its own alone.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from catalogue.indexes.entries_of_care import of_finding, of_treatment
from catalogue.indexes.entries_of_jobs import entries_of_job
from catalogue.indexes.entry import Entry
from catalogue.indexes.facts_of import (
    NOTHING,
    Fact,
    Known,
    chain,
    facts_of,
    figures_of,
    key_of,
    kinds,
)
from catalogue.indexes.making import (
    days,
    entry,
    first,
    given,
    is_private,
    of_note,
    of_value,
    seen_on,
)
from catalogue.indexes.names_known import joined_names
from catalogue.indexes.told import Names
from catalogue.record import (
    Inscription,
    Job,
    Part,
    Party,
    Photo,
    Record,
    Reference,
    Work,
)
from catalogue.terms import label


def entries(record: Record, names: Names, known: Known | None = None) -> tuple[Entry, ...]:
    """The entries of a record, the one for the whole first; those of a commission are private."""
    return tuple(
        given(each, facts=(("private", "yes"),)) if each.private else each
        for each in _entries(record, names, known or {})
    )


def _entries(record: Record, names: Names, known: Known) -> Iterator[Entry]:
    match record:
        case Work():
            yield from _of_work(record, names, known)
        case Party():
            yield from _of_party(record)
        case Reference():
            whole = entry(record.document, "", first(record.labels), record.id, "reference")
            yield given(whole, text="; ".join(record.labels), facts=kinds("reference"))
        case Job():
            yield from entries_of_job(record, names)


def _of_work(work: Work, names: Names, known: Known) -> Iterator[Entry]:
    artists = [name for each in work.attributions if each.artist for name in names(each.artist)]
    earliest, latest = days(work.made)
    worked = known.get(work.id, NOTHING)
    shared = [*worked.facts, *_of_the_work(work, names)]
    base = replace(
        entry(work.document, work.number or "", work.title(), work.id, "work"),
        artist=" · ".join(artists),
        earliest=earliest,
        latest=latest,
        facts=tuple(dict.fromkeys(shared)),
    )
    materials = ", ".join(label(each) for each in work.materials)
    summary = [
        work.title(),
        first(artists),
        work.made.written if work.made else "",
        work.medium or materials,
    ]
    size = work.sheet
    yield given(
        base,
        text=". ".join(part for part in summary if part),
        words=" ".join(
            [*artists, materials, work.number or "", *(each.text for each in work.numbers)]
        ),
        facts=kinds("work"),
        figures=(
            *worked.figures,
            *((("width", size.width_mm), ("height", size.height_mm)) if size else ()),
        ),
    )
    for title in work.titles:
        yield given(base, value=title.id, kind="title", where=label(title.kind), text=title.text,
                    private=is_private(title.visibility), facts=kinds("title", title.kind))  # fmt: skip
    for each in work.attributions:
        said = each.written or " ".join(
            filter(None, (_qualifier(each.qualifier), first(names(each.artist or ""))))
        )
        yield given(base, value=each.id, kind="artist", where="artist", text=said,
                    words=" ".join(names(each.artist or "")), private=is_private(each.visibility),
                    facts=(*kinds("artist", each.qualifier), *facts_of((each,))),
                    own=days(each.on))  # fmt: skip
    for part in work.parts:
        yield of_value(part, "part", base, names)
    parts = {part.id: part for part in work.parts}
    for inscription in work.inscriptions:
        yield from _of_inscription(inscription, work, base, parts, known)
    for kind, values in _HISTORY.items():
        for value in getattr(work, values):
            yield _known(of_value(value, kind, base, names), known)
    for finding in work.findings:
        yield from of_finding(finding, work, base, names, known)
    for treatment in work.treatments:
        yield from of_treatment(treatment, work, base, names, known)
    for photo in work.photos:
        yield _of_photo(photo, work, base, names)
    for note in work.notes:
        yield of_note(note, base, "note")


_HISTORY = {
    "layer": "layers",
    "check": "checks",
    "repair": "repairs",
    "test": "tests",
    "provenance": "provenance",
    "exhibition": "exhibitions",
    "citation": "citations",
    "relation": "relations",
    "movement": "movements",
    "inquiry": "inquiries",
    "paper": "papers",
}
"""What an entry of each kind is made from; each is told whole, with the values within it."""


def _known(made: Entry, known: Known) -> Entry:
    """An entry with what was worked out about its value."""
    worked = known.get(made.value)
    if worked is None:
        return made
    return given(made, facts=worked.facts, figures=worked.figures, own=worked.own)


def _of_the_work(work: Work, names: Names) -> Iterator[Fact]:
    """The facts of the work as a whole, which stand on each of its entries."""
    yield from facts_of((work,))
    for each in work.attributions:
        if each.artist:
            yield "artist", each.artist
    moved = [move for move in work.movements if move.piece is None]
    if moved and (where := moved[-1].to or first(names(moved[-1].keeper or ""))):
        yield "place", key_of(where)
    for decade in _decades(work):
        yield "decade", decade


def _decades(work: Work) -> Iterator[str]:
    """The decades in which it may have been made, while they are few enough to say something.

    >>> from catalogue.measure import read_date
    >>> list(_decades(Work(made=read_date("1886-1891"))))
    ['1880s', '1890s']
    """
    made = work.made
    if made is None or made.earliest is None or made.latest is None:
        return
    first_one, last_one = made.earliest.year // 10, made.latest.year // 10
    if last_one - first_one < 3:
        yield from (f"{decade}0s" for decade in range(first_one, last_one + 1))


def _of_inscription(
    inscription: Inscription, work: Work, base: Entry, parts: dict[str, Part], known: Known
) -> Iterator[Entry]:
    bearer = parts.get(inscription.part or "")
    place = [label(inscription.face), label(bearer.kind) if bearer else ""]
    where = ", ".join(
        part
        for part in (f"{inscription.number or ''} {label(inscription.kind)}".strip(), *place)
        if part
    )
    worked = known.get(inscription.id, NOTHING)
    latest = inscription.latest()
    size = inscription.place
    photo, corners = seen_on(inscription, work)
    own = given(
        base,
        value=inscription.id,
        kind=inscription.kind,
        where=where,
        place=" ".join(place),
        private=is_private(inscription.visibility),
        facts=(
            *kinds("inscription", inscription.kind),
            *facts_of((inscription, bearer) if bearer else (inscription,)),
            *((("state", key) for key in chain(latest.state)) if latest else ()),
            *worked.facts,
        ),
        figures=(
            *figures_of((inscription,)),
            *((("width", size.width_mm), ("height", size.height_mm)) if size else ()),
            *worked.figures,
        ),
        own=worked.own or (None, None),
    )
    own = replace(own, photo=photo, corners=corners)
    for transcript in inscription.transcripts:
        reading = transcript.reading()
        found = reading.words()
        seen = reading.seen()
        yield replace(
            given(own, facts=facts_of((transcript,))),
            text=reading.plain(),
            seen=seen,
            words=" ".join([seen, *(word.text for word in found), *reading.drawn()]),
            patterns=tuple(word.pattern for word in found if word.pattern),
            private=own.private or is_private(transcript.visibility),
            light=transcript.light or "",
        )
    if not inscription.transcripts:
        yield replace(own, text=label(inscription.kind), words=inscription.hand or "")
    for note in inscription.notes:
        yield of_note(note, replace(own, figures=()), where)


def _of_photo(photo: Photo, work: Work, base: Entry, names: Names) -> Entry:
    """A photograph, with what it was taken for in words."""
    about = [
        label(value.kind)
        for values in (work.inscriptions, work.findings, work.repairs)
        for value in values
        if value.id in photo.about
    ]
    made = of_value(photo, "photo", base, names)
    return replace(
        made,
        where=" ".join(filter(None, (photo.number, "photo", label(photo.light)))),
        text="; ".join([*filter(None, (made.text,)), *about]),
        photo=photo.sha256 or "",
        light=photo.light,
    )


def _of_party(party: Party) -> Iterator[Entry]:
    base = entry(party.document, "", party.name(), party.id, "party")
    roles = ", ".join(label(role) for role in party.roles)
    names = joined_names(name.text for name in party.names)
    whole = replace(
        base, where=roles, text=names, words=roles, private=is_private(party.visibility)
    )
    apart = tuple(
        ("not-same", each.other or key_of(each.written or "")) for each in party.not_same
    )
    yield given(whole, facts=(*kinds("party"), *facts_of((party,)), *apart))
    for address in party.addresses:
        earliest, latest = days(address.when)
        made = replace(base, value=address.id, kind="address", where="address", text=address.text,
                       earliest=earliest, latest=latest, place=address.text,
                       private=is_private(party.visibility, address.visibility))  # fmt: skip
        yield given(
            made, facts=(("kind", "address"), *facts_of((party,))), own=days(address.when)
        )


def _qualifier(key: str) -> str:
    return "" if key == "qualifier/by" else label(key)
