"""Every statement of what leaves as Turtle: one file, document after document, made to be read.

Written from the same statements as N-Quads. What is said of one thing in one document stands
together, in the order in which it is said; addresses are shortened where that is safe.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from pathlib import Path

from catalogue.exchange import full_graph
from catalogue.exchange.outgoing import Files, Leaving, Sender
from catalogue.linked.contexts import prefixes
from catalogue.linked.quads import statements

SAYS = (
    "Turtle: every statement, grouped by what it is said of, for people who read linked data."
)
NAME = "records.ttl"

_RDF = "http://www.w3.org/1999/02/22-rdf-syntax-ns#"
_XSD = "http://www.w3.org/2001/XMLSchema#"
_SHORT = re.compile(r"[A-Za-z_][A-Za-z0-9_-]*|[0-9]+")
_STATEMENT = re.compile(r"(\S+) (\S+) (.*) \.", re.DOTALL)
_TYPED = re.compile(r'("(?:[^"\\]|\\.)*")\^\^(<[^>]*>)', re.DOTALL)


class Turtle:
    """One export as Turtle."""

    def __init__(self, sender: Sender, scratch: Path) -> None:
        self._sender = sender
        self._target = scratch / NAME
        self._names = _Names()
        self._write(self._names.opening())

    def add(self, leaving: Leaving) -> Files:
        """Write what one document says."""
        document = full_graph.named(leaving, self._sender)
        self._write(self._names.grouped(statements(document, self._sender.base)))
        return ()

    def close(self) -> Files:
        """The file."""
        yield NAME, self._target

    def _write(self, lines: Iterable[str]) -> None:
        with self._target.open("a", encoding="utf-8", newline="\n") as file:
            file.writelines(lines)


def begin(sender: Sender) -> Turtle:
    """An export as Turtle, growing in the sender's scratch folder."""
    return Turtle(sender, sender.needed_scratch())


class _Names:
    """Addresses and their short forms."""

    def __init__(self) -> None:
        named = {"rdf": _RDF, "xsd": _XSD, **prefixes()}
        self._prefixes = dict(sorted(named.items()))
        # The longest first: one may begin with another.
        self._by_length = sorted(
            ((address, name) for name, address in self._prefixes.items()),
            key=lambda pair: (-len(pair[0]), pair[1]),
        )
        self._known: dict[str, str] = {f"<{_RDF}type>": "a"}

    def opening(self) -> Iterator[str]:
        """The lines that say what the prefixes stand for."""
        for name, address in self._prefixes.items():
            yield f"@prefix {name}: <{address}> .\n"

    def grouped(self, said: Iterable[str]) -> Iterator[str]:
        """Statements in N-Triples as Turtle, those about one thing together."""
        subjects: dict[str, dict[str, list[str]]] = {}
        for line in said:
            found = _STATEMENT.fullmatch(line)
            assert found, line
            subject, verb, value = found.groups()
            subjects.setdefault(subject, {}).setdefault(verb, []).append(value)
        for subject, verbs in subjects.items():
            told = [
                f"{self._verb(verb)} {', '.join(map(self._value, values))}"
                for verb, values in verbs.items()
            ]
            together = " ;\n    ".join(told)
            yield f"\n{self._short(subject)} {together} .\n"

    def _verb(self, address: str) -> str:
        found = self._known.get(address)
        if found is None:
            found = self._known[address] = self._short(address)
        return found

    def _value(self, value: str) -> str:
        if value.startswith("<"):
            return self._short(value)
        if value.startswith('"'):
            typed = _TYPED.fullmatch(value)
            return f"{typed[1]}^^{self._verb(typed[2])}" if typed else value
        return value

    def _short(self, address: str) -> str:
        """An address after its prefix, where what is left is a plain word or a number."""
        if not address.startswith("<"):
            return address
        for beginning, name in self._by_length:
            if address.startswith(beginning, 1):
                rest = address[1 + len(beginning) : -1]
                if _SHORT.fullmatch(rest):
                    return f"{name}:{rest}"
        return address
