"""Gaps and spaces of other people's TEI in our markup: reason, size, cause."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Final

from catalogue.reading.sentences import is_withheld
from catalogue.reading.tei_source import Element
from catalogue.reading.tei_words import table

Say = Callable[..., None]
_NUMBER: Final = re.compile(r"[1-9][0-9]{0,3}")
_MOST_DOTS: Final = 6
_LONGEST_CAUSE: Final = 80
_SIZE: Final = ("quantity", "extent", "atLeast", "atMost", "precision", "unit")


def gap(element: Element, add: Say, left: Say) -> str:
    """A `gap` as we type it; `add` and `left` are told what could not be kept.

    Its size: what a counted gap says in `quantity`, an uncounted one in `extent`, a range in
    `atLeast` and `atMost` (TEI Guidelines, att.dimensions).
    """
    said = element.attributes
    reason = said.get("reason", "lost")
    causes = [" ".join(said["agent"].split("-"))] if said.get("agent") else []
    if reason == "omitted" and is_withheld(next(iter(causes), None)):
        reason = "lost"
    if reason in ("omitted", "ellipsis"):
        add(element, "omitted_gap", reason)
        causes.append(reason)
    elif reason not in ("lost", "illegible"):
        add(element, "reason", reason)
        causes.append(reason)
    count, unit, remark = _size(element, add)
    if remark:
        causes.append(remark)
    left(element, "reason", "agent", *_SIZE)
    unsure = said.get("cert") == "low" or any(element.elements("certainty"))
    if reason == "illegible" and unit == "line" and not _NUMBER.fullmatch(count):
        add(element, "illegible_lines")
        reason = "lost"
        causes.append("illegible")
    if reason == "illegible":
        if unsure:
            add(element, "gap_doubt")
        lines = " lines" if unit == "line" else ""
        return f"+({count}{lines}{_cause(element, causes, add)})"
    doubt = "?" if unsure else ""
    return f"[{_lost(count, unit)}{doubt}{_cause(element, causes, add)}]"


def _lost(count: str, unit: str) -> str:
    if unit == "line":
        return f"{count} line{'' if count == '1' else 's'}"
    if count == "?":
        return "---"
    if count.isdigit() and int(count) <= _MOST_DOTS:
        return "." * int(count)
    return count if count.startswith("c") else f".{count}"


def _cause(element: Element, causes: list[str], add: Say) -> str:
    if not causes:
        return ""
    cause = " ".join(re.sub(r"[\[\]()|\s]+", " ", ", ".join(causes)).split())
    if len(cause) > _LONGEST_CAUSE:
        cause = cause[:_LONGEST_CAUSE].strip()
        add(element, "cause", cause)
    return f" :{cause}" if cause else ""


def _size(element: Element, add: Say) -> tuple[str, str, str]:
    """How much is missing as we count it, in characters or lines, and what we cannot count."""
    said = element.attributes
    unit = table("unit").get(said.get("unit", "character"))
    quantity, low = _quantity(element), said.get("precision") == "low"
    least, most = said.get("atLeast", ""), said.get("atMost", "")
    remark = ""
    if unit is None:
        count = quantity or (f"{least}-{most}" if least or most else "?")
        remark = f"{'c.' if low else ''}{count} {said['unit']}"
        add(element, "unit", remark)
        return "?", "character", remark
    if _NUMBER.fullmatch(quantity):
        return f"c.{quantity}" if low else quantity, unit, ""
    in_order = _NUMBER.fullmatch(least) and _NUMBER.fullmatch(most) and int(least) <= int(most)
    if in_order:
        if low:
            add(element, "precision", f"{least}-{most}")
        return least if least == most else f"{least}-{most}", unit, ""
    counted = ", ".join(
        f"{name} {said[name]}"
        for name in _SIZE[:4]
        if said.get(name) and (name, said[name]) != ("extent", "unknown")
    )
    if counted or low:
        add(element, "extent", counted or "about")
    return "?", unit, counted


def _quantity(element: Element) -> str:
    """What was counted; many files have the number in `extent`, which is meant for words."""
    said = element.attributes
    extent = said.get("extent", "")
    return said.get("quantity") or (extent if _NUMBER.fullmatch(extent) else "")


def space(element: Element, add: Say, left: Say) -> str:
    """A `space` as we type it."""
    said = element.attributes
    left(element, *_SIZE)
    count = _quantity(element)
    if table("unit").get(said.get("unit", "character")) == "character":
        if _NUMBER.fullmatch(count):
            if said.get("precision"):
                add(element, "precision", count)
            return f"(vac.{count})"
        if not (count or said.get("atLeast") or said.get("extent", "unknown") != "unknown"):
            return "(vac.)"
    words = " ".join(said[name] for name in _SIZE if name in said)
    add(element, "space_unit", words)
    return "(vac.)"
