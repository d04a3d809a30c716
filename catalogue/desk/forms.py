"""What was typed into a form, as values. A field that was left empty is None."""

from __future__ import annotations

import math

from flask import request

from catalogue.errors import BadData
from catalogue.measure import Day


def text(name: str) -> str | None:
    """A text without the blanks around it."""
    typed = request.form.get(name, "").strip()
    return typed or None


def flag(name: str) -> bool:
    """Whether a box was ticked."""
    return name in request.form


def page() -> int:
    """Which page of a list the address asks for; the first where it asks for none."""
    typed = request.args.get("page", "")
    return int(typed) if typed.isascii() and typed.isdigit() and len(typed) < 7 else 1


def iso_day(written: str) -> Day | None:
    """A day written 2026-03-01, None where nothing or something else is written."""
    try:
        return Day.from_iso(written)
    except ValueError:
        return None


def number(name: str) -> float | None:
    """A number, with a point or a comma. Raises `BadData`."""
    typed = text(name)
    return None if typed is None else as_number(typed, name)


def as_number(typed: str, name: str) -> float:
    """What was typed as a number, whole where it is whole. Raises `BadData`.

    >>> as_number("61,5", "width"), as_number("610", "width")
    (61.5, 610)
    """
    try:
        value = float(typed.strip().replace(",", "."))
    except ValueError:
        value = math.nan
    if not math.isfinite(value):
        raise BadData(
            f"{name.replace('_', ' ')}: {typed!r} is not a number", remedy="such as 61.5"
        )
    return int(value) if value == int(value) else value


def revision() -> int:
    """Which revision the page that was filled in had been made from. Raises `BadData`."""
    typed = request.form.get("revision", "")
    if not (typed.isascii() and typed.isdigit() and len(typed) < 10) or int(typed) < 1:
        raise BadData(
            "the form does not say which state of the record it shows",
            remedy="load the page again",
        )
    return int(typed)
