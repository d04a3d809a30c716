"""What a question in SPARQL may ask here: it reads, it reads only this studio, it goes nowhere else."""

from __future__ import annotations

import re
from collections.abc import Iterator

from catalogue.errors import BadData

_TOKEN = re.compile(
    r"""
    (?P<comment> \#[^\n\r]* )
  | (?P<address> <(?:[^<>"{}|^`\\\x00-\x20]|\\u[0-9A-Fa-f]{4}|\\U[0-9A-Fa-f]{8})*> )
  | (?P<text> \"\"\"(?:[^"\\]|\\.|"(?!""))*\"\"\" | '''(?:[^'\\]|\\.|'(?!''))*'''
            | "(?:[^"\\\n\r]|\\.)*" | '(?:[^'\\\n\r]|\\.)*' )
  | (?P<variable> [?$][A-Za-z0-9_]+ )
  | (?P<word> [^\W\d](?:[\w.:%-]|\\[^\w\s])* )
  | (?P<other> . )
    """,
    re.VERBOSE | re.DOTALL,
)
_CHANGING = {
    "insert", "delete", "load", "clear", "drop", "create", "add", "move", "copy", "with",
}  # fmt: skip
_ASKING = {"select", "ask", "construct", "describe"}


def refuse(question: str) -> None:
    """Raise `BadData`, in words, for a question that would change something or ask elsewhere.

    >>> refuse("SELECT ?work { ?work a ?kind } # whose service was it?")
    >>> refuse("DELETE WHERE { ?work ?says ?what }")
    Traceback (most recent call last):
    catalogue.errors.BadData: DELETE would change something, and a question only reads
      begin it with SELECT, ASK, CONSTRUCT or DESCRIBE
    """
    words = [word.casefold() for word in _words(question)]
    opening = next((word for word in words if word in _CHANGING | _ASKING), "")
    if opening in _CHANGING:
        raise BadData(
            f"{opening.upper()} would change something, and a question only reads",
            remedy="begin it with SELECT, ASK, CONSTRUCT or DESCRIBE",
        )
    # The engine would go and fetch: it reads `trueSERVICE<...>` as well, so no word may hold it.
    if any("service" in word for word in words):
        raise BadData(
            "SERVICE would ask another machine, and nothing here leaves the studio",
            remedy="leave that part out; a name that holds the letters can be written as <address>",
        )
    if {"from", "fromnamed"} & set(words):
        raise BadData(
            "FROM would bring in other data, and a question is asked of this studio's records",
            remedy="leave it out: all records are asked together, GRAPH <address> { } asks one",
        )


def _words(question: str) -> Iterator[str]:
    """The words and short names of a question, in order; not its texts, addresses and comments."""
    for found in _TOKEN.finditer(question):
        if found.lastgroup == "word":
            yield found[0]


def misread(question: str, line: int, column: int) -> BadData:
    """The error for a question that cannot be read on from a place in it, which it points at.

    >>> print(misread("SELECT ?work {\\n ?work a }", 2, 10))
    line 2, column 10: the question cannot be read from here on
       ?work a }
               ^
    """
    lines = question.splitlines() or [""]
    shown = lines[line - 1] if line <= len(lines) else ""
    blank = re.sub(r"[^\t]", " ", shown[: column - 1])
    return BadData(
        f"line {line}, column {column}: the question cannot be read from here on",
        remedy=f"{shown}\n  {blank}^",
    )
