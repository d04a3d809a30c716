"""Where each value of a work is shown: the way from an event, a claim or a box to what it rests on."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from typing import Any

from flask import url_for

from catalogue.desk.asking import page_of
from catalogue.desk.values import where
from catalogue.record import Treatment, Work
from catalogue.record.rules import values_within

LeadsTo = Callable[[str], "str | None"]


def leading_in(work: Work) -> LeadsTo:
    """The address of any value of a work, of a document, and of an event that is of one of these.

    An event is named by the id of the value that tells of it, and what it is of that ("<id>/made").
    """
    pages: dict[str, str] = {work.id: url_for("folder.work", uuid=work.id)}
    for field in work.__dataclass_fields__:
        held: Any = getattr(work, field)
        for top in held if isinstance(held, tuple) else ():
            own = getattr(top, "id", None)
            if own is None:
                continue
            if field == "inscriptions":
                page = url_for("slip.again", uuid=work.id, inscription=own)
            elif field == "photos":
                page = url_for("slip.begin", uuid=work.id, photo=own)
            else:
                page = where(work, field, own)
            for inner in values_within(top):
                pages[getattr(inner, "id", own)] = page
            if isinstance(top, Treatment):
                pages |= {step.id: where(work, field, step.id) for step in top.steps}

    @cache
    def leads_to(named: str) -> str | None:
        parts = named.split("/")
        if parts[0] in pages:
            return pages[parts[0]]
        return page_of("/".join(parts[:2])) if len(parts) > 1 else None

    return leads_to
