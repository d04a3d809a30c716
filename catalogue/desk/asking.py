"""What every page asks: the open studio, who is at work, a work by the address of its page."""

from __future__ import annotations

from functools import cache
from typing import Any, cast
from uuid import UUID

from flask import current_app, session, url_for

from catalogue.history import moment
from catalogue.keeping import Kept
from catalogue.record import Work
from catalogue.studio import Studio
from catalogue.terms import hazard_says, precaution_says

OPEN_STUDIO = "dorse"

PAGE_OF = {
    "work": "folder.work",
    "party": "aside.party",
    "job": "aside.job",
    "reference": "aside.reference",
}
"""The page of each kind of document."""


def studio() -> Studio:
    """The studio whose desk this is."""
    return cast("Studio", current_app.extensions[OPEN_STUDIO])


def at_work() -> str:
    """Who is working, as the ledger writes it; "" when nobody said."""
    return str(session.get("who", ""))


def reader() -> str | None:
    """The party that is working, for values that say who made them; None without one."""
    return at_work() if at_work().startswith("party/") else None


def work(uuid: UUID, revision: int | None = None) -> Kept[Work]:
    """The work of a page's address, as it stands or as it stood. Raises `NotOnFile`."""
    return studio().read(f"work/{uuid}", revision)


def page_of(named: str | None) -> str | None:
    """The page of a document, by its id or by its address elsewhere; None where there is none."""
    own = studio().at(named) if named else None
    if own is None:
        return None
    kind, _, uuid = studio().read(own).document_id.partition("/")
    return url_for(PAGE_OF[kind], uuid=uuid)


def shown_everywhere() -> dict[str, Any]:
    """What any template may ask: names for ids, who is at work, which photo shows a side, what codes say."""
    name_of = cache(studio().name_of)  # a page names the same few people again and again
    return {
        "name_of": name_of,
        "page_of": cache(page_of),
        "clock": moment,
        "who_is_here": name_of(at_work()),
        "showing": studio().showing,
        "hazard_says": hazard_says,
        "precaution_says": precaution_says,
    }
