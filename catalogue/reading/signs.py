"""The signs of the markup, one row each: the grammar's contents and the typist's card."""

from __future__ import annotations

import textwrap
from dataclasses import dataclass
from typing import Final

from catalogue.reading import nodes
from catalogue.reading.nodes import Node
from catalogue.reading.reading import read
from catalogue.reading.sentences import meaning

_COLUMNS: Final = 80


@dataclass(frozen=True, slots=True)
class Sign:
    """One sign: how it is typed, a label that has it, and the node it becomes.

    What it means is in vocab/markup_signs.toml, under its key.
    """

    key: str
    sign: str
    example: str
    becomes: type[Node]

    @property
    def meaning(self) -> str:
        """What it means, in a few words."""
        return meaning(self.key)

    @property
    def rendering(self) -> str:
        """What the eye sees of the example."""
        return read(self.example).diplomatic()


SIGNS: Final[tuple[Sign, ...]] = (
    Sign("line", "|", "Spring Show|Room 4", nodes.Break),
    Sign("block", "||", "No. 12||Price", nodes.Break),
    Sign("runs_on", "=|", "Exhi=|bition", nodes.Break),
    Sign("hand", "@p @t @h @s @l @b", "@p Title: @h2(pencil) Low Tide", nodes.Hand),
    Sign("turned", "@r90", "@r90 Top |@r0 Low Tide", nodes.Turned),
    Sign("lost_counted", "[...]", "Wat[...]lour", nodes.Gap),
    Sign("lost_number", "[.12]", "Room [.12]", nodes.Gap),
    Sign("lost_range", "[.5-7]", "[.5-7]ley", nodes.Gap),
    Sign("lost_about", "[c.6]", "[c.6]ley", nodes.Gap),
    Sign("lost_unknown", "[---]", "[--- :torn]ley", nodes.Gap),
    Sign("lost_unsure", "[...?]", "Oil[...?]", nodes.Gap),
    Sign("lost_lines", "[2 lines]", "Low Tide|[2 lines]", nodes.Gap),
    Sign("illegible", "+++", "CUS+++S", nodes.Gap),
    Sign("illegible_number", "+(2-3) +(?)", "CUS+(2-3)S", nodes.Gap),
    Sign("doubtful", "a_", "Lot 3_8", nodes.Doubtful),
    Sign("restored", "[abc]", "Wat[erco]lour", nodes.Restored),
    Sign("restored_unsure", "[abc?]", "H[arbour?]", nodes.Restored),
    Sign("restored_degree", "[abc ?medium]", "H[arbour ?medium]", nodes.Restored),
    Sign("expanded", "a(bc)", "Coll.(ection)", nodes.Abbreviation),
    Sign("replaced", "a((bcd))", "bt((bought))", nodes.Replaced),
    Sign("symbol", "&((and))", "Hollis &((and)) Sons", nodes.Replaced),
    Sign("ditto", '"((abc))', '2 Oils|2 "((Oils))', nodes.Replaced),
    Sign("unresolved", "a(---)", "W.(---)", nodes.Unresolved),
    Sign("struck", "[[abc]]", "No. [[412]] 431", nodes.Struck),
    Sign("over", "[[abc]]<<def>>", "No. [[412]]<<421>>", nodes.Over),
    Sign("added", "\\abc/", "Low Tide \\margin:sold/", nodes.Added),
    Sign("omitted", "<abc>", "Wat<er>colour", nodes.Omitted),
    Sign("correction", "<meant=seen>", "<Gallery=Galery> of Art", nodes.Correction),
    Sign("surplus", "{abc}", "17 {17}", nodes.Surplus),
    Sign("space", "(vac.3)", "Lot (vac.3) A", nodes.Space),
    Sign("blank", "(blank)", "Price: (blank)", nodes.Space),
    Sign("doubtful_word", "word(?)", "Tide(?)", nodes.DoubtfulWord),
    Sign("sic", "word[!]", "Galery[!]", nodes.Sic),
    Sign("drawn", "{{words}}", "{{crown over shield}}", nodes.Drawn),
    Sign("note", "/* words */", "Lot 12 /* read under raking light */", nodes.Note),
    Sign("foreign", "~fr:abc~", "~fr:huile~ on panel", nodes.Foreign),
    Sign("underlined", "*abc*", "*Low Tide*", nodes.Underlined),
    Sign("raised", "^abc^", "M^rs^", nodes.Raised),
    Sign("escape", "\\[", "\\[12\\]", nodes.Escaped),
)


def help_card() -> str:
    """The typist's card as plain text, no line wider than a terminal's 80 columns."""
    width = max(len(sign.sign) for sign in SIGNS) + 2
    return "\n".join(
        textwrap.fill(
            sign.meaning,
            width=_COLUMNS,
            initial_indent=f"{sign.sign:<{width}}",
            subsequent_indent=" " * width,
        )
        for sign in SIGNS
    )
