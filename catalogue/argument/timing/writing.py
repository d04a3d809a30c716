"""What is written on a painting: its printing, its filling in, its fixing or writing, what it speaks of.

A label is printed, filled in and stuck on; anything else is written in one go. What stands on a mark
dates the mark and never the painting, but for a date with the signature on the front.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from catalogue.argument.evidence import Dating, Reason
from catalogue.argument.timing.claims import Event, Instant
from catalogue.argument.timing.lives import in_life, life_id
from catalogue.argument.timing.making import artist_of, made, part_event, part_made
from catalogue.argument.timing.proofs import NONE, Subject, of_part, used_up
from catalogue.argument.timing.saying import (
    YEAR_DAYS,
    Said,
    after,
    between,
    called,
    claim,
    event,
    is_one,
    named,
    not_after,
    not_before,
    settings,
)
from catalogue.measure import DateSpan, read_date, read_edtf
from catalogue.record import Inscription, Layer, Part, Party, Statement, Work

_DATED = ("standing/accepted", "standing/corrected")
_ON_IT: Mapping[str, str] = {"printing": "printed", "use": "filled", "presence": "there"}
_ON_THE_BACK = (
    "face/back",
    "face/tacking-edge-top",
    "face/tacking-edge-right",
    "face/tacking-edge-bottom",
    "face/tacking-edge-left",
)


def written_event(mark: Inscription) -> Event:
    """The writing of a mark, or the fixing of a label."""
    return event("writing", mark.id, called(mark), named(mark), moment=True)


def writing(
    work: Work,
    datings: Mapping[str, Dating],
    parties: Mapping[str, Party],
    elsewhere: frozenset[Reason] = NONE,
) -> Iterator[Said]:
    """Every mark, with what its reading proves, what was accepted of it, and where it stands.

    `elsewhere` are reasons that are argued from in another place: the years of firms on file.
    """
    for mark in work.inscriptions:
        dating = datings.get(mark.id)
        own = {each.id: each for each in _events(mark, dating)}
        yield from own.values()
        yield from _steps_of_a_label(mark, own)
        if dating:
            yield from _proved(mark, dating, own, elsewhere)
        yield from _accepted(work, mark)
        yield from _seen(work, mark)
        yield from _where_it_stands(work, mark, own)
        yield from _by_whom(work, mark, parties)


# --- a label is printed, filled in, stuck on --------------------------------------------------------


def is_label(mark: Inscription) -> bool:
    """Whether it was printed, filled in and stuck on, one after the other."""
    return is_one(mark.kind, "label")


def event_of(mark: Inscription, which: str) -> str:
    """The id of the event that a reason about `which` (printing, use, presence ...) is about."""
    stage = _ON_IT.get(which)
    if stage is None or (stage != "there" and not is_label(mark)):
        return mark.id
    return f"{mark.id}/{stage}"


def _events(mark: Inscription, dating: Dating | None) -> Iterator[Event]:
    yield written_event(mark)
    about = {part.what for part in dating.parts} if dating else set()
    if is_label(mark):
        about.add("printing")
        if _accepted_dates(mark):
            about.add("use")
    for which, stage in _ON_IT.items():
        own = event_of(mark, which)
        if which in about and own != mark.id:
            yield event(stage, own, called(mark), named(mark), moment=True)


def _steps_of_a_label(mark: Inscription, own: Mapping[str, Event]) -> Iterator[Said]:
    fixed = own[mark.id].began
    printed, filled = own.get(f"{mark.id}/printed"), own.get(f"{mark.id}/filled")
    near = settings("near_years") * YEAR_DAYS
    about = {"what": named(mark), "called": called(mark)}
    found = []
    if printed:
        found.append(("printed-first", after(printed.began, fixed)))
    if printed and filled:
        found.append(("printed-before-filled", after(printed.began, filled.began)))
    if filled:
        found.append(("filled-first", after(filled.began, fixed)))
        found.append(("stuck-soon", after(fixed, filled.began, near)))
    there = own.get(f"{mark.id}/there")
    if there:
        near_it = (*after(there.began, fixed, near), *after(fixed, there.began, near))
        found.append(("there-near", near_it))
    for kind, bounds in found:
        yield claim(kind, mark.id, bounds, (mark.id,), **about)


# --- what it says ---------------------------------------------------------------------------------


def _proved(
    mark: Inscription, dating: Dating, own: Mapping[str, Event], elsewhere: frozenset[Reason]
) -> Iterator[Said]:
    subject = Subject(mark.id, named(mark), called(mark))
    for part in dating.parts:
        at = own[event_of(mark, part.what)].began
        yield from of_part(part, at, subject, elsewhere)
        if part.what == "printing" and is_label(mark):
            yield from used_up(part, own[mark.id].began, subject)


def _accepted_dates(mark: Inscription) -> list[tuple[Statement, DateSpan]]:
    found = []
    for each in mark.statements:
        if each.kind == "statement/date" and each.standing in _DATED:
            span = (read_edtf(each.value) or read_date(each.value)) if each.value else None
            span = span or read_date(each.written)
            if span:
                found.append((each, span))
    return found


def _accepted(work: Work, mark: Inscription) -> Iterator[Said]:
    """What people accepted as dates: nothing is dated ahead; a date that stands alone is of its time."""
    dates = _accepted_dates(mark)
    at = Instant(event_of(mark, "use"), "began")
    for each, span in dates:
        about = {"what": named(mark), "called": called(mark), "written": each.written}
        rests_on = (mark.id, each.id)
        if span.earliest:
            bounds = not_before(at, span.earliest)
            yield claim("accepted", each.id, bounds, rests_on, **about)
        if span.latest and len(dates) == 1:
            bounds = not_after(at, span.latest, settings("near_years") * YEAR_DAYS)
            yield claim("accepted-near", each.id, bounds, rests_on, **about)
        if mark.face == "face/front" and is_one(mark.kind, "dates_it") and len(dates) == 1:
            end = made(work).ended
            bounds = between(end, span.earliest, end, span.latest)
            if bounds and artist_of(work):
                yield claim("signed-date", each.id, bounds, rests_on, **about)


# --- when it was seen -----------------------------------------------------------------------------


def _seen(work: Work, mark: Inscription) -> Iterator[Said]:
    """It was there on the first day on which somebody saw, read or photographed it."""
    photos = {photo.id: photo for photo in work.photos}
    days = [(each.on, each.id) for each in mark.sightings if not is_one(each.state, "unseen")]
    days += [(each.on, each.id) for each in mark.transcripts]
    days += [
        (photo.taken, photo.id)
        for region in mark.regions
        if (photo := photos.get(region.photo))
    ]
    known = [(day, where) for day, where in days if day]
    if known:
        day, where = min(known)
        yield claim(
            "seen", mark.id, not_after(written_event(mark).began, day),
            (mark.id, where), what=named(mark), called=called(mark), written=day.iso,
        )  # fmt: skip


# --- where it stands ------------------------------------------------------------------------------


def _where_it_stands(
    work: Work, mark: Inscription, events: Mapping[str, Event]
) -> Iterator[Said]:
    at, own = written_event(mark).began, made(work)
    carrier = carrier_of(work, mark)
    about = {"what": named(mark), "called": called(mark)}
    if is_one(mark.kind, "maker"):
        if on_the_painting(mark, carrier):
            lined = carrier is None and _is_lined(work)
            kind = "stamped-lined" if lined else "stamped-first"
            yield claim(kind, mark.id, after(at, own.began), (mark.id,), **about)
    elif on_the_painting(mark, carrier):
        kind = "on-front" if mark.face == "face/front" else "on-back"
        yield claim(kind, mark.id, after(own.began, at), (mark.id,), **about)
    if is_one(mark.kind, "finished"):
        bounds = after(own.ended, at)
        yield claim("finished-first", mark.id, bounds, (mark.id,), **about)
    there = events.get(f"{mark.id}/there")
    if there:
        bounds = after(own.ended, there.began)
        yield claim("there-finished", mark.id, bounds, (mark.id,), **about)
    if isinstance(carrier, Part):
        yield from _on_a_part(work, mark, carrier, at, about)
    elif isinstance(carrier, Layer) and not (
        is_one(mark.kind, "maker") or is_one(carrier.kind, "itself")
    ):
        kind = "on-lining" if is_one(carrier.kind, "lining") else "on-layer"
        laid = Instant(carrier.id, "began")
        rests = (mark.id, carrier.id)
        yield claim(kind, mark.id, after(laid, at), rests, below=named(carrier), **about)


def _on_a_part(
    work: Work, mark: Inscription, part: Part, at: Instant, about: dict[str, str]
) -> Iterator[Said]:
    """Not older than the part itself. A part may be old when it is fitted, and so may what stands on it.

    Only what is cited for this painting's history must have been put on while the part belonged to it.
    """
    below = named(part)
    rests = (mark.id, part.id)
    bounds = after(part_made(part).began, at)
    yield claim("on-part", mark.id, bounds, rests, below=below, **about)
    if is_one(mark.kind, "maker"):
        return
    citing = [
        each
        for each in work.provenance
        if any(evidence.source == mark.id for evidence in each.evidence)
    ]
    bounds = after(part_event(part).began, at)
    if citing:
        yield claim(
            "cited-after-fitting", mark.id, bounds, (*rests, *(e.id for e in citing)),
            below=below, cited=", ".join(map(called, citing)), **about,
        )  # fmt: skip
    else:
        yield claim("after-fitting", mark.id, bounds, rests, below=below, **about)


def carrier_of(work: Work, mark: Inscription) -> Part | Layer | None:
    """The part or layer that bears a mark."""
    held: tuple[Part | Layer, ...] = (*work.parts, *work.layers)
    return next((each for each in held if each.id == mark.part), None)


def on_the_painting(mark: Inscription, carrier: Part | Layer | None) -> bool:
    """Whether a mark stands on the painting itself, as far as the record says."""
    if carrier is not None:
        return is_one(carrier.kind, "itself")
    return mark.face in ("face/front", *_ON_THE_BACK)


def _is_lined(work: Work) -> bool:
    kinds = [each.kind for each in work.layers] + [each.kind for each in work.parts]
    return any(is_one(kind, "lining") for kind in kinds) or any(
        is_one(each.kind, "lined") for each in work.repairs
    )


# --- whose hand it is -----------------------------------------------------------------------------


def _by_whom(work: Work, mark: Inscription, parties: Mapping[str, Party]) -> Iterator[Said]:
    shown = artist_of(work)
    artist = parties.get(shown.artist or "") if shown else None
    if artist is None or artist.kind != "person" or shown is None:
        return
    at, life = written_event(mark).began, life_id(artist)
    about = {"what": named(mark), "called": called(mark), "name": artist.name()}
    rests_on = (mark.id, shown.id, artist.document)
    if is_one(mark.kind, "by_artist"):
        yield claim("written-in-life", mark.id, in_life(life, at, at), rests_on, **about)
    elif is_one(mark.kind, "after_death"):
        bounds = after(Instant(life, "ended"), at)
        yield claim("after-death", mark.id, bounds, rests_on, **about)
