"""Numbers that are given out once, counted within a scope such as "work:2026"."""

from __future__ import annotations

from sqlalchemy import Connection, bindparam, func, select

from catalogue.errors import BadData
from catalogue.ledger.aside import text_of
from catalogue.ledger.tables import entries

_HIGHEST = select(func.max(entries.c.number)).where(entries.c.scope == bindparam("scope"))
_IS_TAKEN = select(entries.c.seq).where(
    entries.c.scope == bindparam("scope"), entries.c.number == bindparam("number")
)
_LARGEST = 2**53
"""Beyond this a number would not come back from every JSON reader as it was."""


class Numbers:
    """The numbers that one change gives out, after all that were given out before it."""

    def __init__(self, connection: Connection) -> None:
        self._connection = connection
        self._highest: dict[str, int] = {}
        self._given: set[tuple[str, int]] = set()

    def next(self, scope: str) -> int:
        """One more than the highest ever given out in this scope."""
        number = self._highest_of(scope) + 1
        self._give(scope, number)
        return number

    def claim(self, scope: str, number: int) -> None:
        """Give out this very number. Raises `BadData` when it was given out before."""
        text_of("the scope of the number", scope)
        if not 1 <= number <= _LARGEST:
            raise BadData(f"{scope}: {number} is not a number to be given out")
        taken = self._connection.execute(_IS_TAKEN, {"scope": scope, "number": number}).first()
        if taken is not None or (scope, number) in self._given:
            raise BadData(
                f"{scope}: the number {number} was given out before", remedy="choose another"
            )
        self._give(scope, number)

    def _highest_of(self, scope: str) -> int:
        if scope not in self._highest:
            text_of("the scope of the number", scope)
            highest = self._connection.execute(_HIGHEST, {"scope": scope}).scalar()
            self._highest[scope] = highest or 0
        return self._highest[scope]

    def _give(self, scope: str, number: int) -> None:
        self._highest[scope] = max(self._highest_of(scope), number)
        self._given.add((scope, number))
