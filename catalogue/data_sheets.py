"""The studio's own safety data sheets: what was typed in from them wherever a material was used.

Kept by document and taken in as documents change, so that asking for a sheet at every step costs little.
"""

from __future__ import annotations

from collections.abc import Iterable
from threading import Lock

from catalogue.keeping import as_read
from catalogue.ledger import Ledger, Revision
from catalogue.measure import Day
from catalogue.record import MaterialUse
from catalogue.record.rules import values_within

_MARKS = (b'"hazard_codes"', b'"precaution_codes"')


class DataSheets:
    """What is on file from data sheets: the newest sheet of each product of a material."""

    def __init__(self, ledger: Ledger) -> None:
        self._ledger = ledger
        self._taken_in = 0
        self._typed: dict[str, tuple[MaterialUse, ...]] = {}
        self._lock = Lock()

    def newest(self, materials: Iterable[str]) -> tuple[MaterialUse, ...]:
        """The newest sheet of each product of these materials, as somebody typed it; by material."""
        wanted = set(materials)
        with self._lock:
            self._catch_up()
            uses = [use for held in self._typed.values() for use in held]
        found: dict[tuple[str, str, str], MaterialUse] = {}
        for use in sorted(uses, key=_dated):
            if use.material in wanted:
                found[use.material, use.product or "", use.maker or ""] = use
        return tuple(found[key] for key in sorted(found))

    def _catch_up(self) -> None:
        now = self._ledger.last()[0]
        if self._taken_in == 0:
            for revision in self._ledger.bodies("work"):
                self._take_in(revision)
        else:
            for document, head in self._ledger.since(self._taken_in):
                self._typed.pop(document, None)
                if document.startswith("work/") and not head.withdrawn:
                    self._take_in(self._ledger.read(document))
        self._taken_in = now

    def _take_in(self, revision: Revision) -> None:
        # A look at the text spares reading every work that names no code.
        if any(mark in revision.body for mark in _MARKS):
            self._typed[revision.document] = tuple(
                value
                for value in values_within(as_read(revision).record)
                if isinstance(value, MaterialUse) and (value.hazards or value.precautions)
            )


def _dated(use: MaterialUse) -> Day:
    assert use.data_sheet is not None, "codes without a day are refused by the record"
    return use.data_sheet
