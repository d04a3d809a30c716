"""US-11, what will be covered: a planned patch against all that stands under it, and what to record first.

The story, its acceptance facts and the figures (C2) are those of the trade sheet, sections 0.1, 1.3 and 3.
"""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from painting_0_1 import TEAR, TITLE, WHO, page, painting, photo

from catalogue.argument.covering import before_covering
from catalogue.errors import Stopped
from catalogue.record import Inscription, Location, Override, Step, Treatment
from catalogue.surface import Box, Shape, Sheet, grown, mirror

SHEET = Sheet(610, 500)
PATCH = grown(mirror(TEAR, SHEET), 15)


def test_the_patch_over_the_mirrored_tear_covers_half_of_the_title():
    assert Box(415, 125, 90, 75) == PATCH
    (hit,) = before_covering(painting(), PATCH, "face/back")
    assert hit.inscription.place == TITLE
    assert round(hit.cover.fraction, 4) == 0.525
    assert round(hit.cover.with_margin, 4) == 0.6667


def test_without_the_mirror_it_would_seem_safe():
    assert before_covering(painting(), grown(TEAR, 15), "face/back") == ()


def test_the_desk_draws_the_patch_and_lists_what_to_do_first(empty_studio):
    work = empty_studio.save(painting(), who=WHO).record
    told = page(
        empty_studio, work, "map", cover="yes", over=work.findings[0].id, overlap_mm="15",
        face="face/back",
    )  # fmt: skip
    assert "52.5 %" in told
    assert "66.7 % with 5 mm margin" in told
    todo = told.partition('<ul class="todo">')[2].partition("</ul>")[0]
    assert re.findall(r">([^<>]+)</a>", todo) == ["photograph it, with a scale"]


def test_a_lining_covers_all_that_is_behind_it():
    stamp = Inscription(kind="inscription/stamp", face="face/back", place=Box(10, 450, 40, 20))
    work = painting()
    work = replace(work, inscriptions=(*work.inscriptions, stamp))
    assert len(before_covering(work, None, "face/back")) == 2


def covered_step(studio, *overrides, covers=()):
    location = Location(face="face/back", shape=Shape.of_box(PATCH))
    return Step(
        order=1, kind="step/patch", began=studio.today(), location=location, covers=covers,
        overrides=overrides,
    )  # fmt: skip


def test_the_step_itself_is_stopped_until_the_title_is_recorded_and_decided_about(empty_studio):
    kept = empty_studio.save(painting(photos=(photo(1, "front"), photo(2, "back"))), who=WHO)
    step = covered_step(empty_studio)
    with pytest.raises(Stopped) as refused:
        empty_studio.save(
            replace(kept.record, treatments=(Treatment(steps=(step,)),)), who=WHO, read=kept
        )
    rules = {each.rule for each in refused.value.refusals}
    assert {"O3", "O13"} <= rules

    recorded = replace(
        kept.record,
        photos=(
            *kept.record.photos,
            photo(3, "back", view="view/detail", about=(kept.record.inscriptions[0].id,)),
        ),
    )
    kept = empty_studio.save(recorded, who=WHO, read=kept)
    decided = covered_step(empty_studio, covers=(kept.record.inscriptions[0].id,))
    saved = empty_studio.save(
        replace(kept.record, treatments=(Treatment(steps=(decided,)),)), who=WHO, read=kept
    )
    assert saved.record.treatments[0].steps == (decided,)


def test_the_decision_to_cover_all_the_same_stays_with_its_reason(empty_studio):
    kept = empty_studio.save(painting(), who=WHO)
    step = covered_step(empty_studio)
    with pytest.raises(Stopped) as refused:
        empty_studio.save(
            replace(kept.record, treatments=(Treatment(steps=(step,)),)), who=WHO, read=kept
        )
    words = tuple(
        Override(rule=rule, reason="the owner agreed: cover it, a copy on the board")
        for rule in sorted({each.rule for each in refused.value.refusals})
    )
    step = covered_step(empty_studio, *words)
    saved = empty_studio.save(
        replace(kept.record, treatments=(Treatment(steps=(step,)),)), who=WHO, read=kept
    ).record
    assert "a copy on the board" in page(empty_studio, saved, "treat")
