"""A label for the desk: what the eye sees, with every sign in words for who listens instead.

Classes only, the style sheet decides how they look; nothing is told by colour or slant alone. Three
kinds of things stand beside the label's own letters: `said` is heard and not seen, `sign` is seen
and not heard, `tag` is both.
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
    Turned,
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
# what the eye sees around them, much as it is typed
_BRACKETS: Final[dict[type[Branch], tuple[str, str]]] = {
    Restored: ("[", "]"), Expanded: ("(", ")"), Omitted: ("<", ">"), Surplus: ("{", "}"),
    Meant: (" (", ")"), Full: (" (", ")"), Over: ("<<", ">>"), Added: ("\\", "/"),
    Sic: ("", "[!]"), DoubtfulWord: ("", "(?)"), Unresolved: ("", "(---)"),
}  # fmt: skip
_MOST_BOXES: Final = 30


def html(tree: Tree) -> str:
    """The label as one `<span class="reading">`, well-formed and escaped.

    >>> from catalogue.reading.reading import read
    >>> html(read("Lot *3*").tree).partition("<u ")[0]
    '<span class="reading" dir="auto">Lot '
    """
    out = ['<span class="reading" dir="auto">']
    _write(tree, out)
    out.append("</span>")
    return "".join(out)


def _write(tree: Tree, out: list[str]) -> None:
    """The nodes in order; what one hand wrote stands in an element of its own."""
    begun = False
    for node in tree:
        if isinstance(node, Hand):
            out.append("</span>" if begun else "")
            out.append(f'<span class="hand hand-{node.technique}">{_tag(_hand(node))}')
            begun = True
        elif isinstance(node, Leaf):
            out.append(_leaf(node))
        else:
            _branch(node, out)
    out.append("</span>" if begun else "")


def _branch(node: Branch, out: list[str]) -> None:
    element, attributes, before, after = _frame(node)
    opening, closing = _brackets(node)
    out.append(f"<{element} {attributes}>{before}{opening}")
    # the label's half of a correction is heard first, as it is seen first
    children = reversed(node.children) if isinstance(node, Correction) else node.children
    _write(tuple(children), out)
    out.append(f"{closing}{after}</{element}>")


def _frame(node: Branch) -> tuple[str, str, str, str]:
    """Element, attributes, and what is said before and after."""
    ended = _said(spoken("end"))
    if isinstance(node, (Restored, Expanded)):
        kind = "restored" if isinstance(node, Restored) else "expanded"
        doubt = f" {kind}-unsure" if node.unsure else ""
        degree = {"high": "_high", "medium": "_medium", "low": "_unsure"}
        said = _said(spoken(kind + degree.get(node.certainty or "", "")))
        return "span", f'class="{kind}{doubt}"', said, ended
    if isinstance(node, Struck):
        pen = node.how == "strikethrough"
        said = _said(spoken("struck")) if pen else _tag(spoken(node.how))
        return "del", f'class="struck struck-{node.how}"', said, ended
    if isinstance(node, Added):
        said = _said(spoken("added").format(words=node.place))
        return "ins", f'class="added added-{node.place}"', said, ended
    if isinstance(node, Foreign):
        attributes = f'class="foreign" lang="{node.language}"'
        return "span", attributes, _said(spoken("foreign")), ended
    element, name, before, after = _FRAMES[type(node)]
    first, last = (_said(spoken(key)) if key else "" for key in (before, after))
    return element, f'class="{name}"', first, last


def _brackets(node: Branch) -> tuple[str, str]:
    opening, closing = _BRACKETS.get(type(node), ("", ""))
    if isinstance(node, (Restored, Expanded)) and node.certainty:
        closing = ("?" if node.certainty == "low" else f" ?{node.certainty}") + closing
    if isinstance(node, Foreign):
        return f'<bdi class="sign lang" aria-hidden="true">{node.language}</bdi>', ""
    if isinstance(node, Added) and node.place != "above":
        opening += f"{node.place}: "
    return _sign(opening), _sign(closing)


def _leaf(node: Leaf) -> str:
    if isinstance(node, Doubtful):
        letter = for_xml(node.letter)
        return f'<span class="doubtful">{letter}{_said(spoken("doubtful"))}</span>'
    if isinstance(node, Escaped):
        return for_xml(node.letter)
    if isinstance(node, Gap):
        count = node.extent.exact if node.extent.unit == "character" else None
        boxes = "□" * count if count and count <= _MOST_BOXES else GAP
        kind = f"gap gap-{node.reason}" + (" gap-unsure" if node.unsure else "")
        unsure = "?" if node.unsure else ""
        return f'<span class="{kind}">{_sign(boxes + unsure)}{_said(gap_in_words(node))}</span>'
    if isinstance(node, Break):
        return _break(node)
    if isinstance(node, Space):
        return _space(node)
    if isinstance(node, Turned):
        words = spoken("turned" if node.degrees else "upright").format(n=node.degrees)
        return _tag(words)
    if isinstance(node, (Drawn, Note)):
        kind = "drawn" if isinstance(node, Drawn) else "note"
        words = for_xml(node.words)
        return f'<bdi class="{kind}">{_said(spoken(kind))}{words}</bdi>'
    return for_xml(node.typed)


def _hand(hand: Hand) -> str:
    writer = f"{hand.technique} {hand.number or ''}".strip()
    words = f"{writer}, {hand.medium}" if hand.medium else writer
    return spoken("hand").format(words=words)


def _break(node: Break) -> str:
    runs_on = _sign("=") + _said(spoken("runs_on")) if node.runs_on else ""
    if node.unit == "block":
        return f'{runs_on}<br class="block"/>{_said(spoken("block"))}'
    return f"{runs_on}<br/>"


def _space(node: Space) -> str:
    if node.is_field:
        kind, said = "vacant field", spoken("field")
    elif node.letters is None:
        kind, said = "vacant", spoken("space")
    else:
        kind, said = "vacant", spoken("space_letters").format(n=node.letters)
    return f'<span class="{kind}">{_sign(" ")}{_said(said)}</span>'


# Words of ours stand in elements that keep their own direction, in a label of any script; brackets
# turn with the label's.
def _said(words: str) -> str:
    return f'<bdi class="said">{for_xml(words)}</bdi>'


def _tag(words: str) -> str:
    return f'<bdi class="tag">{for_xml(words)}</bdi>'


def _sign(signs: str) -> str:
    return f'<span class="sign" aria-hidden="true">{for_xml(signs)}</span>' if signs else ""


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
