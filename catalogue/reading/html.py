"""A label for the desk: what the eye sees, with every sign in words for who listens instead.

Classes only, the style sheet decides how they look. Words that are heard and not seen have the
class `said`; brackets and boxes that are seen and not heard are hidden from the screen reader.
"""

from __future__ import annotations

from typing import Final

from catalogue.reading.nodes import (
    Abbreviation,
    Added,
    Branch,
    Break,
    Correction,
    Doubtful,
    DoubtfulWord,
    Drawn,
    Escaped,
    Expanded,
    Foreign,
    Full,
    Gap,
    Hand,
    Leaf,
    Meant,
    Note,
    Omitted,
    Over,
    Raised,
    Replaced,
    Restored,
    Sic,
    Space,
    Stands,
    Struck,
    Surplus,
    Tree,
    Underlined,
    Unresolved,
)
from catalogue.reading.sentences import spoken
from catalogue.reading.tei import for_xml
from catalogue.reading.voices import GAP

# element, class, and the sentence before it and after it
_FRAMES: Final[dict[type[Branch], tuple[str, str, str, str]]] = {
    Omitted: ("span", "omitted", "omitted", "end"),
    Surplus: ("span", "surplus", "surplus", "end"),
    Over: ("span", "over", "over", "end"),
    Underlined: ("u", "underlined", "underlined", "end"),
    Raised: ("sup", "raised", "raised", "end"),
    Correction: ("span", "correction", "", ""),
    Meant: ("span", "meant", "meant", "close"),
    Stands: ("span", "stands", "stands", ""),
    Sic: ("span", "sic", "", "sic"),
    DoubtfulWord: ("span", "doubtful-word", "", "doubtful_word"),
    Unresolved: ("span", "abbreviation", "", "unresolved"),
    Abbreviation: ("span", "abbreviation", "", ""),
    Replaced: ("span", "abbreviation", "", ""),
    Full: ("span", "full", "full", "close"),
}
# brackets that the eye sees around what the editor supplied or took away
_BRACKETS: Final[dict[type[Branch], tuple[str, str]]] = {
    Restored: ("[", "]"), Expanded: ("(", ")"), Omitted: ("<", ">"), Surplus: ("{", "}"),
    Meant: (" (", ")"), Full: (" (", ")"),
}  # fmt: skip


def html(tree: Tree) -> str:
    """The label as one `<span class="reading">`, well-formed and escaped."""
    out = ['<span class="reading" dir="auto">']
    _write(tree, out)
    out.append("</span>")
    return "".join(out)


def _write(tree: Tree, out: list[str]) -> None:
    for node in tree:
        if isinstance(node, Leaf):
            out.append(_leaf(node))
        else:
            _branch(node, out)


def _branch(node: Branch, out: list[str]) -> None:
    element, attributes, before, after = _frame(node)
    opening, closing = _BRACKETS.get(type(node), ("", ""))
    if isinstance(node, (Restored, Expanded)) and node.unsure:
        closing = "?" + closing
    out.append(f"<{element} {attributes}>{_said(before)}{_shown(opening)}")
    # the label's half of a correction is heard first, as it is seen first
    children = reversed(node.children) if isinstance(node, Correction) else node.children
    _write(tuple(children), out)
    out.append(f"{_shown(closing)}{_said(after)}</{element}>")


def _frame(node: Branch) -> tuple[str, str, str, str]:
    """Element, attributes, and what is said before and after."""
    if isinstance(node, (Restored, Expanded)):
        kind = "restored" if isinstance(node, Restored) else "expanded"
        doubt = f" {kind}-unsure" if node.unsure else ""
        said = spoken(f"{kind}_unsure" if node.unsure else kind)
        return "span", f'class="{kind}{doubt}"', said, spoken("end")
    if isinstance(node, Struck):
        key = "struck" if node.how == "strikethrough" else node.how
        return "del", f'class="struck struck-{node.how}"', spoken(key), spoken("end")
    if isinstance(node, Added):
        said = spoken("added").format(words=node.place)
        return "ins", f'class="added added-{node.place}"', said, spoken("end")
    if isinstance(node, Foreign):
        attributes = f'class="foreign" lang="{node.language}"'
        return "span", attributes, spoken("foreign"), spoken("end")
    element, name, before, after = _FRAMES[type(node)]
    said, ended = (spoken(key) if key else "" for key in (before, after))
    return element, f'class="{name}"', said, ended


def _leaf(node: Leaf) -> str:
    if isinstance(node, Doubtful):
        letter = for_xml(node.letter)
        return f'<span class="doubtful">{letter}{_said(spoken("doubtful"))}</span>'
    if isinstance(node, Escaped):
        return for_xml(node.letter)
    if isinstance(node, Gap):
        count = node.extent.exact if node.extent.unit == "character" else None
        boxes = "□" * count if count and count <= 30 else GAP
        kind = f"gap gap-{node.reason}" + (" gap-unsure" if node.unsure else "")
        return f'<span class="{kind}">{_shown(boxes)}{_said(gap_in_words(node))}</span>'
    if isinstance(node, Break):
        block = node.unit == "block"
        return f'<br class="block"/>{_said(spoken("block"))}' if block else "<br/>"
    if isinstance(node, Space):
        wide = node.letters
        said = spoken("space") if wide is None else spoken("space_letters").format(n=wide)
        return f'<span class="vacant">{_shown(" ")}{_said(said)}</span>'
    if isinstance(node, Hand):
        told = " ".join(filter(None, [node.technique, str(node.number or ""), node.medium]))
        said = _said(spoken("hand").format(words=told))
        return f'<span class="hand hand-{node.technique}">{said}</span>'
    if isinstance(node, (Drawn, Note)):
        kind = "drawn" if isinstance(node, Drawn) else "note"
        return f'<span class="{kind}">{_said(spoken(kind))}{for_xml(node.words)}</span>'
    return for_xml(node.typed)


def _said(words: str) -> str:
    return f'<span class="said">{for_xml(words)}</span>' if words else ""


def _shown(signs: str) -> str:
    return f'<span aria-hidden="true">{for_xml(signs)}</span>' if signs else ""


def gap_in_words(gap: Gap) -> str:
    """What is missing, in words: "about 6 letters lost, torn"."""
    extent = gap.extent
    unit = "letter" if extent.unit == "character" else "line"
    if extent.about is not None:
        words = spoken(f"{unit}s_about").format(n=extent.about)
    elif extent.most is None:
        words = spoken(f"{unit}s_unknown")
    elif extent.least != extent.most:
        words = spoken(f"{unit}s_range").format(n=extent.least, m=extent.most)
    else:
        words = spoken(unit if extent.least == 1 else f"{unit}s").format(n=extent.least)
    words = spoken(gap.reason).format(words=words)
    if gap.cause:
        words = spoken("gap_cause").format(words=words, cause=gap.cause)
    return spoken("gap_unsure").format(words=words) if gap.unsure else words
