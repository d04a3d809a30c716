"""What takes long with a card of photographs: looking at every file, and taking in what was chosen.

Both go on under way, one after the other; the card's own page leads there while they do.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from contextlib import suppress
from dataclasses import asdict, replace
from datetime import date, time
from typing import Any, Final

from flask import url_for

from catalogue.desk import under_way
from catalogue.desk.asking import at_work, reader, studio
from catalogue.desk.card_tray import Card
from catalogue.desk.sorted_onto import Group, take_in
from catalogue.errors import BadData, Busy
from catalogue.places import table
from catalogue.sittings import FILE, Doing, Frame, shifted
from catalogue.studio import Studio
from catalogue.under_way import Errand, Landing, Progress, Task

SOON_SECONDS: Final = 1.0
"""So long an errand is waited for before its page is shown instead."""


def is_over_soon(begun: Errand) -> bool:
    """Whether it went well before anybody would look at its page; one that failed tells why there."""
    return under_way.waited_for(begun, SOON_SECONDS).state == "done"


def _frames(own: Card) -> tuple[Frame, ...]:
    fit = [each.frame for each in own.looked() if each.fits]
    return shifted(fit, own.sorting()["ahead"])


def going_on(own: Card) -> Errand | None:
    """What is under way with a card, None for nothing."""
    every = under_way.errands().all()
    return next(
        (each for each in every if not each.is_over and each.held.get("card") == own.token),
        None,
    )


def _begin(own: Card, says: str, task: Callable[[Progress], Landing]) -> Errand:
    again = url_for("sorting.sort", token=own.token)
    return under_way.begin(
        str(table(FILE)["words"][says]), at_work(), task, again=again, held={"card": own.token}
    )


def begin_to_look(own: Card) -> Errand:
    """Look at every file that nobody looked at yet, and ask what was done on their days."""
    asked, words = studio(), table(FILE)["words"]
    where = url_for("sorting.sort", token=own.token)

    def task(progress: Progress) -> Landing:
        keys = own.not_looked_at()
        for done, key in enumerate(keys):
            progress(done, len(keys))
            look(asked, own, key)
        frames = _frames(own)
        own.keep_doings([as_data(each) for each in asked.doings(frames)])
        says = (
            words["sorted_out"].format(count=len(frames)) if frames else words["nothing_fits"]
        )
        return Landing(says=str(says), where=where)

    return _begin(own, "looking", task)


def look(asked: Studio, own: Card, key: str) -> dict[str, Any]:
    """Look at one file, and draw it small while one is at it."""
    note = own.note(key)
    if not note.get("looked"):
        looked = asked.look_at(
            own.path(key),
            name=note["name"],
            key=key,
            folder=note["folder"],
            written=note["written"],
        )
        if looked.fits:
            try:
                asked.picture_to_come(own.path(key), looked.sha256)
            except BadData as refused:
                looked = replace(looked, refused=str(refused.args[0]), remedy=refused.remedy)
        own.keep_looked(looked)
        note = own.note(key)
    found: dict[str, Any] = note["looked"]
    return found


def begin_to_take(own: Card, groups: Sequence[Group]) -> Errand:
    """Take in what was chosen, and make it ready for reading."""
    asked, who, by = studio(), at_work(), reader()
    row, words = under_way.errands(), table(FILE)["words"]
    where = url_for("sorting.told", token=own.token)

    def task(progress: Progress) -> Landing:
        kept = take_in(asked, own, groups, who=who, by=by, progress=progress)
        if kept:
            # Nobody has to wait for this: what is not ready yet is made when it is asked for.
            with suppress(Busy):
                row.begin(str(words["ready"]), who, made_ready(asked, kept))
        return Landing(says=str(words["taken"].format(count=len(kept))), where=where)

    return _begin(own, "taking", task)


def made_ready(asked: Studio, sha256s: Sequence[str]) -> Task:
    """The work of making the sizes and tiles of photographs, so that they can be read at once."""

    def task(progress: Progress) -> Landing:
        asked.prepare_pictures(sha256s, progress)
        return Landing(says=str(table(FILE)["words"]["ready"]))

    return task


def as_data(doing: Doing) -> dict[str, Any]:
    """A doing, so that it can be written down."""
    return {
        **asdict(doing),
        "day": doing.day.isoformat(),
        "begins": doing.begins.isoformat() if doing.begins else None,
        "ends": doing.ends.isoformat() if doing.ends else None,
    }


def doing(data: dict[str, Any]) -> Doing:
    """A doing that was written down."""
    clock = {
        name: time.fromisoformat(data[name]) if data[name] else None
        for name in ("begins", "ends")
    }
    return Doing(**{**data, "day": date.fromisoformat(data["day"]), **clock})
