"""No true history contradicts itself, and no window leaves out the day on which something was.

A history is made first, day by day; then a record of it that says less: years instead of days, "by"
and "before" and "after", or nothing. Whatever is worked out from the record must hold of the history.
"""

from __future__ import annotations

import json
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from made_records import works

from catalogue.argument.timing.from_work import chronology, events_and_claims
from catalogue.argument.timing.in_words import contradiction_in_words, explained
from catalogue.linked.documents import from_jsonld
from catalogue.measure import Day, read_date
from catalogue.places import folder
from catalogue.record import (
    ConditionCheck,
    Evidence,
    Exhibition,
    Inscription,
    Part,
    Party,
    PartyRole,
    PriorRepair,
    ProvenanceEvent,
    Sighting,
    Work,
)

UNHURRIED = settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))
NOTHING_CITED = (Evidence(kind="evidence/none-cited"),)
LOOKER = "party/5a0f1f5c-7a51-4ec1-9a3b-0d0b6d1f2a01"


def some_date(draw, ordinal: int):
    """A date that is true of a day, or none."""
    year = Day.from_ordinal(ordinal).year
    ways = (
        Day.from_ordinal(ordinal).iso, f"{year}", f"c. {year + draw(st.integers(-4, 4))}", f"by {year}",
        f"before {year + 1}", f"after {year - 1}", f"{year // 10}0s", f"between {year - 3} and {year + 2}",
    )  # fmt: skip
    return read_date(draw(st.sampled_from(ways))) if draw(st.booleans()) else None


@st.composite
def histories(draw):
    """A work, and the day on which each of its events began and ended."""
    true: dict[str, tuple[int, int]] = {}
    began = draw(st.integers(Day(1800, 1, 1).ordinal, Day(1900, 1, 1).ordinal))
    finished = began + draw(st.integers(0, 900))
    at = finished
    stretcher = Part(kind="part/stretcher", original=draw(st.sampled_from([None, False])))
    on_it: list[Inscription | PriorRepair] = []
    events: list[ProvenanceEvent] = []
    shows: list[Exhibition] = []
    inscriptions, repairs = [], []
    at += draw(st.integers(0, 4000))
    stretcher = replace(stretcher, fitted=some_date(draw, at))
    true[stretcher.id] = (at, at)
    hold_began = at
    for number in range(1, draw(st.integers(2, 9))):
        at += draw(st.integers(0, 6000))
        what = draw(st.sampled_from(["label", "writing", "repair", "hand", "show"]))
        beneath = (
            tuple({draw(st.sampled_from(on_it)).id}) if on_it and draw(st.booleans()) else ()
        )
        seen = ()
        if draw(st.booleans()):
            later = Day.from_ordinal(at + draw(st.integers(0, 9000)))
            seen = (Sighting(state="state/present", on=later),)
        if what in ("label", "writing"):
            mark = Inscription(
                number=f"I{number}",
                kind="inscription/dealer-label" if what == "label" else "inscription/title",
                face="face/stretcher-bar", part=draw(st.sampled_from([None, stretcher.id])),
                lies_over=beneath, sightings=seen,
                across=(stretcher.id,) if draw(st.booleans()) else (),
            )  # fmt: skip
            inscriptions.append(mark)
            on_it.append(mark)
            true[mark.id] = (at, at)
        elif what == "repair":
            repair = PriorRepair(
                number=f"R{number}", kind="repair/tape", covers=beneath, sightings=seen,
                made=some_date(draw, at),
            )  # fmt: skip
            repairs.append(repair)
            on_it.append(repair)
            true[repair.id] = (at, at)
        elif what == "show":
            show = Exhibition(title=f"show {number}", when=some_date(draw, at))
            shows.append(show)
            true[show.id] = (at, at)
        else:
            direct = draw(st.booleans())
            gone = at if direct else hold_began + draw(st.integers(0, at - hold_began))
            when, until = some_date(draw, hold_began), some_date(draw, gone)
            # by that year they had it, so it is no date of theirs once they had it no longer
            if (
                when
                and when.written.startswith("by")
                and read_date(when.written[3:]).earliest.ordinal > gone
            ):
                when = None
            event = ProvenanceEvent(
                number=f"E{number}", order=number, kind="provenance/sale", evidence=NOTHING_CITED,
                parties=(PartyRole(written=f"owner {number}", role="capacity/owner"),),
                when=when, until=until, passage="passage/direct" if direct else None,
            )  # fmt: skip
            events.append(event)
            true[event.id] = (hold_began, gone)
            hold_began = at
    last = at + draw(st.integers(0, 9000))
    if events and events[-1].passage:
        events[-1] = replace(events[-1], passage=None)  # nobody follows
    check = ConditionCheck(
        number="K1", occasion="occasion/incoming", on=Day.from_ordinal(last), by=LOOKER
    )
    true[check.id] = (last, last)
    work = Work(
        made=read_date(f"{Day.from_ordinal(began).iso} to {Day.from_ordinal(finished).iso}")
        if draw(st.booleans()) else None,
        parts=(stretcher,), inscriptions=tuple(inscriptions), repairs=tuple(repairs),
        provenance=tuple(events), exhibitions=tuple(shows), checks=(check,),
    )  # fmt: skip
    true[f"{work.id}/made"] = (began, finished)
    return work, true


@given(histories())
@UNHURRIED
def test_every_window_holds_the_day_on_which_it_was(history):
    work, true = history
    found = chronology(work)
    assert not found.contradictions
    for each in found.events:
        if each.id not in true:
            continue
        for instant, day in zip((each.began, each.ended), true[each.id], strict=True):
            window = found.window(instant)
            assert window.earliest is None or window.earliest.ordinal <= day
            assert window.latest is None or window.latest.ordinal >= day


@given(histories(), st.randoms())
@UNHURRIED
def test_what_is_found_does_not_depend_on_the_order_of_a_record(history, random):
    work, _ = history
    marks = list(work.inscriptions)
    random.shuffle(marks)
    again = chronology(replace(work, inscriptions=tuple(marks)))
    first = chronology(work)
    for each in first.events:
        assert first.window(each.began) == again.window(each.began)
        assert first.window(each.ended) == again.window(each.ended)


@given(works())
@UNHURRIED
def test_any_record_at_all_is_solved_and_told(work):
    found = chronology(work)
    ids = {each.id for each in found.events}
    assert f"{work.id}/made" in ids
    for each in found.contradictions:
        clash = contradiction_in_words(each)
        assert clash.says
        assert clash.remedy
    for each in found.events:
        for instant in (each.began, each.ended):
            for bound in ("earliest", "latest"):
                links = found.why(instant, bound)
                if links:
                    assert links[-1].day == getattr(found.window(instant), bound)
                    assert explained(links[-1], bound, each)


@given(works())
@UNHURRIED
def test_nothing_is_claimed_of_what_no_event_tells_of(work):
    events, claims = events_and_claims(work)
    known = {each.id for each in events}
    assert len(known) == len(events)
    assert len({each.key for each in claims}) == len(claims)
    for claim in claims:
        assert claim.bounds
        for bound in claim.bounds:
            assert all(
                end is None or end.event in known for end in (bound.earlier, bound.later)
            )


# --- the samples ----------------------------------------------------------------------------------


def sample(path) -> object:
    return from_jsonld(json.loads(path.read_text("utf-8")))


SAMPLES = folder("sample_records")
PARTIES = {
    each.document: each for each in map(sample, sorted((SAMPLES / "parties").glob("*.json")))
}


@pytest.mark.parametrize(
    "path", sorted((SAMPLES / "works").glob("*.json")), ids=lambda path: path.stem
)
def test_every_sample_is_solved_and_none_contradicts_itself_firmly(path):
    work = sample(path)
    assert all(isinstance(each, Party) for each in PARTIES.values())
    found = chronology(work, parties=PARTIES)
    assert not [each for each in found.contradictions if each.firm]


def test_the_sample_with_a_label_older_than_its_stretcher_tells_it():
    # planted on purpose, so that there is something to see
    work = sample(SAMPLES / "works" / "evening-the-ropewalk.json")
    found = chronology(work, parties=PARTIES)
    given_up = [
        text for each in found.contradictions for text in contradiction_in_words(each).given_up
    ]
    assert any("which stands on the stretcher" in text for text in given_up)


def test_it_is_one_of_the_names_that_others_rely_on():
    from catalogue import argument

    assert argument.chronology is chronology
    with pytest.raises(AttributeError, match="almanac"):
        _ = argument.almanac
