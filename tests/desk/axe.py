"""What axe-core, an outside judge of whether everybody can use a page, finds wrong with one.

Source of the rules: axe-core 4 (Deque), its rules for WCAG 2.0 to 2.2, levels A and AA, and for good practice;
the script comes with the package axe-playwright-python.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import axe_playwright_python

SOURCE = (Path(axe_playwright_python.__file__).parent / "axe.min.js").read_text("utf-8")

TAGS = ("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice")
OF_COLOUR = ("color-contrast", "link-in-text-block")
"""All that a dark screen can change about what the rules find."""

ASK = """([kind, values]) => axe.run(document, {
  runOnly: {type: kind, values},
  ...(kind === "tag" ? {rules: {"target-size": {enabled: true}}} : {}),
  resultTypes: ["violations"],
  elementRef: false,
}).then(found => found.violations.map(each => [
  each.id, each.help,
  each.nodes.map(node => `${node.target.join(" ")} ${node.html.slice(0, 160)} ${(node.any[0] ?? node.all[0] ?? node.none[0])?.message ?? ""}`),
]))"""


def complaints(page: Any) -> list[str]:
    """What axe-core finds wrong with the page as it stands, light and dark, a line for each place.

    The page is left light. The script is put in by the driver, not by the page, whose policy would refuse it.
    """
    page.emulate_media(color_scheme="light")
    if not page.evaluate("() => 'axe' in window"):
        page.evaluate(f"() => {{ {SOURCE} }}")
    said = _told("light", page.evaluate(ASK, ["tag", list(TAGS)]))
    page.emulate_media(color_scheme="dark")
    said += _told("dark", page.evaluate(ASK, ["rule", list(OF_COLOUR)]))
    page.emulate_media(color_scheme="light")
    return said


def _told(light: str, violations: list[Any]) -> list[str]:
    return [
        f"{light}: {rule}: {what}: {place}"
        for rule, what, places in violations
        for place in places
    ]
