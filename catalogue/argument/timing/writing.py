"""What is written on a painting: what it says of its own days, when it was seen, whose hand it is.

What stands on a mark dates the mark and never the painting, but for a date with the signature on the
front.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from catalogue.argument.evidence import Dating, Reason
from catalogue.argument.timing.bearing import bearing
from catalogue.argument.timing.claims import Event, Instant
from catalogue.argument.timing.lives import in_life, life_id
from catalogue.argument.timing.making import artist_of, made
from catalogue.argument.timing.proofs import NONE, Subject, of_part, used_up
from catalogue.argument.timing.saying import (
    YEAR_DAYS,
    Said,
    after,
    between,
    called,
    claim,
    event,
    facts_of,
    is_one,
    named,
    not_after,
    not_before,
    settings,
)
from catalogue.argument.timing.stages import STAGES, event_of, is_label, written_event
from catalogue.measure import DateSpan, read_date, read_edtf
from catalogue.record import Inscription, Party, Statement, Work


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
        yield from bearing(work, mark, own)
        yield from _by_whom(work, mark, parties)


# --- a label is printed, filled in, stuck on --------------------------------------------------------


def _events(mark: Inscription, dating: Dating | None) -> Iterator[Event]:
    yield written_event(mark)
    about = {part.what for part in dating.parts} if dating else set()
    if is_label(mark):
        about.add("printing")
        if _accepted_dates(mark):
            about.add("use")
    for which, stage in STAGES.items():
        own = event_of(mark, which)
        if which in about and own != mark.id:
            yield event(stage, own, called(mark), named(mark), moment=True)


def _steps_of_a_label(mark: Inscription, own: Mapping[str, Event]) -> Iterator[Said]:
    fixed = own[mark.id].began
    printed, filled = own.get(f"{mark.id}/printed"), own.get(f"{mark.id}/filled")
    near = settings("near_years") * YEAR_DAYS
    about = facts_of(mark)
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
        if each.kind == "statement/date" and each.stands:
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
        about = {**facts_of(mark), "written": each.written}
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
            (mark.id, where), **facts_of(mark), written=day.iso,
        )  # fmt: skip


# --- whose hand it is -----------------------------------------------------------------------------


def _by_whom(work: Work, mark: Inscription, parties: Mapping[str, Party]) -> Iterator[Said]:
    shown = artist_of(work)
    artist = parties.get(shown.artist or "") if shown else None
    if artist is None or artist.kind != "person" or shown is None:
        return
    at, life = written_event(mark).began, life_id(artist)
    about = {**facts_of(mark), "name": artist.name()}
    rests_on = (mark.id, shown.id, artist.document)
    if is_one(mark.kind, "by_artist"):
        yield claim("written-in-life", mark.id, in_life(life, at, at), rests_on, **about)
    elif is_one(mark.kind, "after_death"):
        bounds = after(Instant(life, "ended"), at)
        yield claim("after-death", mark.id, bounds, rests_on, **about)
