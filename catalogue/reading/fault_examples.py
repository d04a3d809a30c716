"""Malformed labels and what is said about each: the help page of the faults, and their test."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Final

from catalogue import places
from catalogue.reading.faults import Fault
from catalogue.reading.reading import read

_FILE: Final = "fault_examples.toml"


@dataclass(frozen=True, slots=True)
class FaultExample:
    """A label that was typed wrongly, and what its typist is told.

    `key` is the fault's in vocab/markup_signs.toml. `says` holds the message, the line of the
    label and a caret under the sign; `better` are ways of typing what was meant.
    """

    key: str
    typed: str
    says: str
    better: tuple[str, ...]

    @property
    def fault(self) -> Fault:
        """The fault that reading it finds; the first, where one mistake makes two."""
        return read(self.typed).faults[0]

    @property
    def remedy(self) -> str:
        """What to do."""
        return self.fault.remedy


@cache
def fault_examples() -> tuple[FaultExample, ...]:
    """The table in vocab/fault_examples.toml, in its order.

    >>> print(fault_examples()[0].says)
    this '[' has no partner: kept as a letter
      Sm[ith
        ^
    """
    rows = places.table(_FILE)["example"]
    return tuple(
        FaultExample(row["key"], row["typed"], row["says"].rstrip(), tuple(row["better"]))
        for row in rows
    )
