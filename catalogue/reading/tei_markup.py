"""From the elements of an edition to our markup, and what became of those that have no sign here.

One method for each element, in the table at the end; an element that is not in it is kept
transparent: its text stays, and the element is told of. Definitions: TEI Guidelines, chapters
PH (transcription), CO (core), MS and FT; usage: EpiDoc Guidelines, pages trans-*.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Final

from catalogue.reading.nodes import (
    Abbreviation,
    Added,
    Correction,
    DoubtfulWord,
    Expanded,
    Foreign,
    Node,
    Omitted,
    Over,
    Raised,
    Replaced,
    Restored,
    Sic,
    Struck,
    Surplus,
    Underlined,
    Unresolved,
)
from catalogue.reading.tei_gaps import gap, space
from catalogue.reading.tei_pen import DEEPEST, Pen, fitting, is_one
from catalogue.reading.tei_source import Element
from catalogue.reading.tei_words import became, table

MOST_LISTED: Final = 1_000
_LANGUAGE: Final = re.compile(r"[a-z]{2,3}(?:-[A-Za-z0-9]{2,8}){0,3}")
_DEGREES: Final = re.compile(r"[0-9]|[1-9][0-9]|[12][0-9]{2}|3[0-5][0-9]")
_CERTAINTIES: Final[dict[str | None, str]] = {
    None: "", "low": "?", "medium": " ?medium", "high": " ?high",
}  # fmt: skip
# where white space only parts the elements
_ONLY_ELEMENTS: Final = frozenset({"choice", "subst", "app", "figure", "TEI", "text", "body"})
# blocks of text: each begins on a line of its own
_BLOCKS: Final = frozenset({"ab", "p", "div", "lg", "list", "table", "sp"})
# what the Guidelines keep empty, but for remarks on it
_EMPTY: Final = frozenset(
    {"gap", "space", "lb", "cb", "pb", "gb", "milestone", "handShift", "certainty"}
)
# what can be said to be uncertain, each by its own sign
_DOUBTED: Final = frozenset({"supplied", "ex", "seg", "w"})
_LINES: Final = frozenset({"l", "item", "row"})


@dataclass(frozen=True, slots=True)
class TeiRemark:
    """Something in a TEI file that our markup could not keep as it was: which element, in which line
    of the file, and what became of it.
    """

    element: str
    line: int
    became: str


class Remarks:
    """The remarks on one file; nobody reads more than `MOST_LISTED`."""

    def __init__(self) -> None:
        self.listed: list[TeiRemark] = []
        self.unlisted = 0
        self.quiet = False

    def add(self, element: Element, key: str, words: str = "") -> None:
        """Say what became of an element, by the key of vocab/tei.toml."""
        if self.quiet:
            return
        if len(self.listed) < MOST_LISTED:
            said = TeiRemark(element.name, element.line, became(key, words))
            if said not in self.listed[-3:]:
                self.listed.append(said)
        else:
            self.unlisted += 1

    def left(self, element: Element, *understood: str) -> None:
        """Say which attributes were not kept."""
        lost = [name for name in element.attributes if name not in understood]
        if lost:
            self.add(element, "attribute", ", ".join(lost))

    def in_order(self) -> tuple[TeiRemark, ...]:
        """By line; the last one says how many more there are."""
        found = sorted(self.listed, key=lambda remark: remark.line)
        if self.unlisted:
            found.append(TeiRemark("", 0, became("more", f"{self.unlisted:,}")))
        return tuple(found)


class Transcriber:
    """Writes one text. `hands` are our hand signs by the `xml:id` of their `handNote`."""

    def __init__(self, hands: Mapping[str, str], remarks: Remarks) -> None:
        self.remarks = remarks
        self.breaks: list[tuple[Element, bool]] = []  # each line end, and whether inside a word
        self._hands = hands
        self._fresh = True  # at the beginning of a block: a line that begins here is its first
        self._in_short = False
        self._odd_mark = False
        self._grows: Pen | None = None  # where an abbreviation has just ended

    def text(self, edition: Element) -> str:
        """The markup of an edition."""
        pen = Pen()
        self._into(edition, pen)
        return pen.markup.rstrip(" ")

    # -- going through

    def _into(self, parent: Element, pen: Pen) -> None:
        parting = parent.name in _ONLY_ELEMENTS
        for child in parent.children:
            if isinstance(child, Element):
                if child.name == "certainty" and parent.name not in _DOUBTED:
                    self.remarks.add(parent, "certainty")
                self._element(child, pen)
            elif child.strip(" \t\r\n") or not (parting or self._between_blocks(parent)):
                self._letters(parent, child, pen)

    def _between_blocks(self, parent: Element) -> bool:
        inside = _BLOCKS | _LINES
        return parent.name in inside and any(parent.elements(*inside))

    def _letters(self, parent: Element, text: str, pen: Pen) -> None:
        if self._grows is pen and text[0].isalnum():
            self.remarks.add(parent, "grown")
        self._grows = None
        plain, dotted = pen.letters(text)
        if plain:
            self.remarks.add(parent, "not_a_letter")
        if dotted:
            self.remarks.add(parent, "dotted")
        if text.strip(" \t\r\n"):
            self._fresh = False

    def _element(self, element: Element, pen: Pen) -> None:
        if element.name in _BLOCKS or element.name in _LINES:
            self._block(element, pen)
        elif element.name.startswith("#"):
            self.remarks.add(element, "comment")
        else:
            if element.name in _EMPTY and (words := element.text()):
                self.remarks.add(element, "inside", words)
            _ELEMENTS.get(element.name, Transcriber._transparent)(self, element, pen)

    def _transparent(self, element: Element, pen: Pen) -> None:
        self.remarks.add(element, "transparent")
        self._into(element, pen)

    def _block(self, element: Element, pen: Pen) -> None:
        if element.name in ("ab", "p", "div"):
            self.remarks.left(
                element, "n", "type", "subtype", "xml:id", "xml:space", "xml:lang", "facs"
            )
        else:
            self.remarks.add(element, "transparent")
        if not pen.empty and not self._fresh:
            pen.line(block=element.name in _BLOCKS, runs_on=False)
            self._grows = None
            self.breaks.append((element, False))
        self._fresh = True
        self._into(element, pen)

    def _sign(self, pen: Pen, markup: str) -> None:
        self._grows = None
        pen.sign(markup)
        self._fresh = False

    # -- signs around text

    def _inner(self, element: Element, pen: Pen, sign: str, *, doubtful: bool = False) -> str:
        inside = pen.inside(sign, doubtful=doubtful)
        self._into(element, inside)
        return inside.markup

    def _around(
        self,
        element: Element,
        pen: Pen,
        opening: str,
        closing: str,
        fits: Callable[[Node], bool],
    ) -> None:
        """A sign around all that an element holds."""
        inner = self._inner(element, pen, opening)
        self._put(element, pen, opening, inner, closing, fits)

    def _put(
        self,
        element: Element,
        pen: Pen,
        opening: str,
        inner: str,
        closing: str,
        fits: Callable[[Node], bool],
    ) -> None:
        if not inner.strip():
            self.remarks.add(element, "empty")
            self._sign(pen, inner)
            return
        if len(pen.around) >= DEEPEST:
            self.remarks.add(element, "too_deep")
            self._sign(pen, inner)
            return
        found = fitting(opening, inner, closing, fits)
        if found is None:
            self.remarks.add(element, "letters")
            self._sign(pen, inner)
            return
        typed, spaced = found
        if spaced:
            self.remarks.add(element, "spaced")
        self._sign(pen, typed)

    def _supplied(self, element: Element, pen: Pen) -> None:
        reason = element.attributes.get("reason", "lost")
        becomes = table("supplied").get(reason, "restored")
        if reason not in ("lost", "omitted"):
            self.remarks.add(element, "reason", reason)
        if becomes == "omitted":
            self.remarks.left(element, "reason")
            self._around(element, pen, "<", ">", _is(Omitted))
            return
        degree = self._degree(element, "reason")
        self._around(
            element, pen, "[", f"{degree[0]}]",
            lambda node: isinstance(node, Restored) and node.certainty == degree[1],
        )  # fmt: skip

    def _degree(self, element: Element, *understood: str) -> tuple[str, str | None]:
        """How certain an element is, as we type it and as the node has it."""
        said = element.attributes.get("cert")
        for certainty in element.elements("certainty"):
            if said is None and certainty.attributes.get("locus", "value") == "value":
                said = certainty.attributes.get("cert", "low")
        known = said if said in _CERTAINTIES else None
        self.remarks.left(element, *understood, *(["cert"] if known or said is None else []))
        return _CERTAINTIES[known], known

    def _struck(self, element: Element, pen: Pen) -> None:
        rend = element.attributes.get("rend", "strikethrough")
        how = table("struck").get(rend)
        if how is None:
            self.remarks.add(element, "rend", rend)
            how = "strikethrough"
        self.remarks.left(element, "rend")
        opening = "[[" if how == "strikethrough" else f"[[{how}: "
        inner = self._inner(element, pen, "[[")
        if not inner.strip():
            self.remarks.add(element, "empty")
            inner = "+(?)"  # something was struck out, and nobody says what
        self._put(
            element, pen, opening, inner, "]]",
            lambda node: isinstance(node, Struck) and node.how == how,
        )  # fmt: skip

    def _added(self, element: Element, pen: Pen) -> None:
        said = element.attributes.get("place", "")
        self.remarks.left(element, "place")
        if said == "overstrike":
            self._around(element, pen, "<<", ">>", _is(Over))
            return
        place = table("place").get(said)
        if place is None or place != said:
            self.remarks.add(element, "place", said or "no place")
        place = place or "above"
        opening = "\\" if place == "above" else f"\\{place}:"
        self._around(
            element, pen, opening, "/",
            lambda node: isinstance(node, Added) and node.place == place,
        )  # fmt: skip

    def _surplus(self, element: Element, pen: Pen) -> None:
        self.remarks.left(element)
        self._around(element, pen, "{", "}", _is(Surplus))

    def _foreign(self, element: Element, pen: Pen) -> None:
        language = element.attributes.get("xml:lang", "")
        self.remarks.left(element, "xml:lang")
        if not _LANGUAGE.fullmatch(language) or pen.around[-1:] == ("~",):
            self.remarks.add(element, "language", language or "it names none")
            self._into(element, pen)
            return
        inner = self._inner(element, pen, "~")
        self._put(element, pen, f"~{language}:", inner, "~", _is(Foreign))

    def _highlighted(self, element: Element, pen: Pen) -> None:
        self.remarks.left(element, "rend")
        looks = element.attributes.get("rend", "").split()
        signs = [table("highlighted")[each] for each in looks if each in table("highlighted")]
        strange = [each for each in looks if each not in table("highlighted")]
        signs = [sign for sign in dict.fromkeys(signs) if sign not in pen.around]
        if strange or not signs:
            self.remarks.add(element, "highlighted", " ".join(strange or looks) or "none told")
        if not signs:
            self._into(element, pen)
            return
        inside = pen
        for sign in signs:
            inside = inside.inside(sign)
        self._into(element, inside)
        typed = inside.markup
        for sign in reversed(signs):
            typed = self._marked(element, typed, sign)
        self._sign(pen, typed)

    def _marked(self, element: Element, inner: str, sign: str) -> str:
        """Underlined or raised, the spaces at its ends left outside."""
        kind = Underlined if sign == "*" else Raised
        bare = inner.strip(" ")
        lead = inner[: len(inner) - len(inner.lstrip(" "))]
        tail = inner[len(inner.rstrip(" ")) :] if bare else ""

        def fits(node: Node) -> bool:
            return isinstance(node, kind)

        if bare and is_one(f"{sign}{bare}{sign}", fits):
            return f"{lead}{sign}{bare}{sign}{tail}"
        words = bare.split(" ")
        if bare and all(is_one(f"{sign}{word}{sign}", fits) for word in words):
            self.remarks.add(element, "one_word")
            return lead + " ".join(f"{sign}{word}{sign}" for word in words) + tail
        self.remarks.add(element, "letters" if bare else "empty")
        return inner

    def _unclear(self, element: Element, pen: Pen) -> None:
        self.remarks.left(element)
        doubtful, pen.doubtful = pen.doubtful, True
        self._into(element, pen)
        pen.doubtful = doubtful

    # -- abbreviations and words

    def _expan(self, element: Element, pen: Pen) -> None:
        self.remarks.left(element)
        around, self._in_short, self._odd_mark = self._in_short, True, False
        inner = self._inner(element, pen, "(")
        self._in_short = around
        if self._odd_mark or not is_one(inner, _is(Abbreviation)):
            stands, meant = (self._without(element, name, pen) for name in ("ex", "am"))
            self._in_full(element, stands, meant, pen)
            return
        if not pen.apart(inner, _is(Abbreviation)):
            self.remarks.add(element, "grown")
        self._sign(pen, inner)
        self._grows = pen

    def _in_full(self, whole: Element, stands: str, meant: str, pen: Pen) -> None:
        """A short form and its whole word, told as well as our signs can."""
        stands, meant = stands.strip(), meant.strip()
        replaced = f"{stands}(({meant}))"
        if not meant or meant == stands:
            self._sign(pen, stands)
            self.remarks.add(whole, "letters")
        elif stands and is_one(replaced, _is(Replaced)) and pen.apart(replaced, _is(Replaced)):
            if whole.name != "choice":
                self.remarks.add(whole, "replaced")
            self._sign(pen, replaced)
        elif stands:
            self.remarks.add(whole, "corrected")
            self._correction(whole, meant, stands, pen)
        else:
            self.remarks.add(whole, "supplied")
            self._put(whole, pen, "<", meant, ">", _is(Omitted))

    def _without(self, element: Element, left_out: str, pen: Pen) -> str:
        """What an abbreviation holds without its `ex` or its `am`, letters supplied as they are."""
        quiet, self.remarks.quiet = self.remarks.quiet, True
        short, self._in_short = self._in_short, False
        ends = len(self.breaks)
        found = self._inner(_pruned(element, left_out), pen, "<")
        del self.breaks[ends:]
        self._in_short, self.remarks.quiet = short, quiet
        return found

    def _ex(self, element: Element, pen: Pen) -> None:
        inner = self._inner(element, pen, "(")
        degree = self._degree(element)
        typed = f"({inner}{degree[0]})"
        fits = is_one(f"x{typed}", lambda node: _expands(node, degree[1]))
        if fits and (self._in_short or pen.behind_a_word):
            self._sign(pen, typed)
            return
        if not self._in_short:
            self.remarks.add(element, "supplied")
        self._put(element, pen, "<", inner, ">", _is(Omitted))

    def _mark(self, element: Element, pen: Pen) -> None:
        self.remarks.left(element)
        self._odd_mark = self._odd_mark or element.text() != "."
        if not self._in_short:
            self.remarks.add(element, "transparent")
        self._into(element, pen)

    def _abbr(self, element: Element, pen: Pen) -> None:
        self.remarks.left(element)
        if self._in_short:
            self._into(element, pen)
            return
        around, self._in_short = self._in_short, True
        inner = self._inner(element, pen, "(")
        self._in_short = around
        self._behind(element, pen, inner, "(---)", Unresolved)

    def _sic(self, element: Element, pen: Pen) -> None:
        self.remarks.left(element)
        self._behind(element, pen, self._inner(element, pen, "("), "[!]", Sic)

    def _segment(self, element: Element, pen: Pen) -> None:
        doubted = element.attributes.get("cert") == "low" or any(
            each.attributes.get("locus") == "value" for each in element.elements("certainty")
        )
        if not doubted:
            self._transparent(element, pen)
            return
        self.remarks.left(element, "cert", *(["xml:id"] if element.name == "w" else []))
        inner = self._inner(element, pen, "(")
        self._behind(element, pen, inner, "(?)", DoubtfulWord)

    def _behind(
        self, element: Element, pen: Pen, inner: str, mark: str, kind: type[Node]
    ) -> None:
        """A mark behind a word, or behind each of several."""
        words = inner.strip(" ").split(" ")
        if is_one(inner + mark, _is(kind)):
            typed = inner + mark
        elif len(words) > 1 and all(is_one(word + mark, _is(kind)) for word in words):
            self.remarks.add(element, "one_word")
            typed = " ".join(word + mark for word in words)
        else:
            self.remarks.add(element, "letters" if inner.strip() else "empty")
            self._sign(pen, inner)
            return
        if not pen.apart(typed.partition(" ")[0], _is(kind)):
            self.remarks.add(element, "grown")
        self._sign(pen, typed)

    # -- one of several

    def _choice(self, element: Element, pen: Pen) -> None:
        self.remarks.left(element)
        kinds = {each.name: each for each in reversed(list(element.elements()))}
        if {"abbr", "expan"} <= set(kinds):
            told = (kinds["abbr"], kinds["expan"])
            around, self._in_short = self._in_short, True
            stands = self._inner(kinds["abbr"], pen, "<")
            self._in_short = around
            self._in_full(element, stands, self._without(kinds["expan"], "am", pen), pen)
        elif {"sic", "corr"} <= set(kinds):
            told = (kinds["sic"], kinds["corr"])
            self._corrected(element, *told, pen)
        elif {"orig", "reg"} <= set(kinds):
            told = (kinds["orig"], kinds["reg"])
            self.remarks.add(element, "regularised")
            self._corrected(element, *told, pen)
        else:
            first = next((e for e in element.elements() if e.name[0] != "#"), None)
            told = (first, first) if first else (element, element)
            if first:
                self._element(first, pen)
            else:
                self.remarks.add(element, "empty")
        for each in element.elements():
            if not any(each is kept for kept in told):
                self._also(element, each, pen)

    def _also(self, element: Element, other: Element, pen: Pen) -> None:
        """Another possibility, as a note."""
        if other.name[0] == "#":
            self.remarks.add(other, "comment")
        elif words := _for_note(other.text()):
            self.remarks.add(element, "first", words)
            self._sign(pen, f"/* or: {words} */")
        else:
            self.remarks.add(other, "empty")

    def _corrected(self, whole: Element, stands: Element, meant: Element, pen: Pen) -> None:
        self.remarks.left(stands)
        self.remarks.left(meant)
        seen = self._inner(stands, pen, "<")
        right = self._inner(meant, pen, "<")
        if seen.strip() and right.strip():
            self._correction(whole, right, seen, pen)
        elif right.strip():
            self._put(whole, pen, "<", right, ">", _is(Omitted))
        else:
            self._put(whole, pen, "{", seen, "}", _is(Surplus))

    def _correction(self, whole: Element, meant: str, stands: str, pen: Pen) -> None:
        space = " " if stands[0] == "|" else ""  # "=|" would be a word that runs on
        typed = f"{meant}={space}{stands}"
        if len(pen.around) < DEEPEST and (found := fitting("<", typed, ">", _is(Correction))):
            self._sign(pen, found[0])
        else:
            self.remarks.add(whole, "letters")
            self._sign(pen, stands)

    def _by_editor(self, element: Element, pen: Pen) -> None:
        """`corr` or `reg` alone: nobody says what stands there."""
        self.remarks.add(element, "supplied")
        self._around(element, pen, "<", ">", _is(Omitted))

    def _apparatus(self, element: Element, pen: Pen) -> None:
        lemma = next(element.elements("lem"), None)
        self.remarks.add(element, "transparent")
        if lemma is not None:
            self._into(lemma, pen)
        for each in element.elements():
            if each is not lemma:
                self._also(element, each, pen)

    def _pair(self, element: Element, pen: Pen) -> None:
        """`subst`: what was struck out and what was written over it stand side by side."""
        self.remarks.left(element)
        self._into(element, pen)

    # -- signs that stand alone

    def _gap(self, element: Element, pen: Pen) -> None:
        if self._grows is pen:
            self.remarks.add(element, "grown")
        self._sign(pen, gap(element, self.remarks.add, self.remarks.left))

    def _space(self, element: Element, pen: Pen) -> None:
        self._sign(pen, space(element, self.remarks.add, self.remarks.left))

    def _line(self, element: Element, pen: Pen) -> None:
        self.remarks.left(element, "n", "break", "xml:id")
        if self._fresh:
            self._fresh = False
            return
        self._break(element, pen, block=False)

    def _column(self, element: Element, pen: Pen) -> None:
        self.remarks.left(element, "n", "break", "xml:id")
        if element.name == "pb":
            self.remarks.add(element, "page")
        if not (self._fresh and pen.empty):
            self._break(element, pen, block=True)
        self._fresh = True

    def _break(self, element: Element, pen: Pen, *, block: bool) -> None:
        inside = element.attributes.get("break") == "no"
        pen.line(block=block, runs_on=inside)
        self._grows = None
        self.breaks.append((element, inside))

    def _hand(self, element: Element, pen: Pen) -> None:
        self.remarks.left(element, "new", "medium")
        sign = self._hands.get(element.attributes.get("new", "").removeprefix("#"))
        if sign is None:
            self.remarks.add(element, "hand_unknown")
            sign = "@h"
        if medium := element.attributes.get("medium"):
            sign = f"{sign.partition('(')[0]}({hand_medium(medium)})"
        self._spaced(element, pen, f"{sign} ")

    def _milestone(self, element: Element, pen: Pen) -> None:
        degrees = element.attributes.get("n", "")
        if element.attributes.get("unit") == "rotation" and _DEGREES.fullmatch(degrees):
            self.remarks.left(element, "unit", "n")
            self._spaced(element, pen, f"@r{degrees} ")
        else:
            self.remarks.add(element, "milestone")

    def _spaced(self, element: Element, pen: Pen, sign: str) -> None:
        self._grows = None
        if not pen.spaced_sign(sign):
            self.remarks.add(element, "spaced")

    def _figure(self, element: Element, pen: Pen) -> None:
        self.remarks.left(element)
        described = next(element.elements("figDesc"), None)
        words = described.text() if described else element.text()
        told = _for_mark(words or "figure")
        if any(each is not described for each in element.elements()) or not described:
            self.remarks.add(element, "described", told)
        self._sign(pen, f"{{{{{told}}}}}")

    def _glyph(self, element: Element, pen: Pen) -> None:
        if element.text():
            self._transparent(element, pen)
            return
        said = element.attributes.get("type") or element.attributes.get("ref") or "glyph"
        words = _for_mark(said.removeprefix("#"))
        self.remarks.add(element, "glyph", words)
        self._sign(pen, f"{{{{{words}}}}}")

    def _note(self, element: Element, pen: Pen) -> None:
        self.remarks.left(element)
        words = _for_note(element.text())
        if any(element.elements()):
            self.remarks.add(element, "note")
        if not words:
            self.remarks.add(element, "empty")
        elif self._in_short:  # a space would end the word
            self._sign(pen, f"/*{words}*/")
        else:
            self._sign(pen, f"/* {words} */")

    def _heading(self, element: Element, pen: Pen) -> None:
        if words := _for_note(element.text()):
            self.remarks.add(element, "heading")
            self._sign(pen, f"/* {words} */")

    def _certainty(self, element: Element, pen: Pen) -> None:
        """Read where it stands: what it says belongs to the element around it."""
        kept = {"match": "..", "locus": "value"}
        if any(element.attributes.get(name, value) != value for name, value in kept.items()):
            self.remarks.add(element, "attribute", "certainty")


def _is(kind: type[Node]) -> Callable[[Node], bool]:
    return lambda node: isinstance(node, kind)


def _pruned(element: Element, left_out: str) -> Element:
    """A copy in which one kind of element is left out, and letters supplied are plain."""
    children: list[Element | str] = []
    for child in element.children:
        if isinstance(child, str):
            children.append(child)
        elif child.name in ("ex", "am", "abbr", "expan"):
            if child.name != left_out:
                children.extend(_pruned(child, left_out).children)
        else:
            children.append(_pruned(child, left_out))
    return Element(element.name, element.line, element.attributes, children)


def _expands(node: Node, certainty: str | None) -> bool:
    last = node.children[-1] if isinstance(node, Abbreviation) else None
    return isinstance(last, Expanded) and last.certainty == certainty


def _for_note(words: str) -> str:
    return words.replace("*/", "* /").strip()


def _for_mark(words: str) -> str:
    words = words.replace("}}", "))").strip()
    return (f"{words[:-1]})" if words.endswith("}") else words) or "figure"


def hand_medium(words: str) -> str:
    """A medium as it can stand in a hand sign."""
    return re.sub(r"[()|\s]+", " ", words).strip()[:80].strip() or "unknown"


_ELEMENTS: Final[dict[str, Callable[[Transcriber, Element, Pen], None]]] = {
    "supplied": Transcriber._supplied, "del": Transcriber._struck, "add": Transcriber._added,
    "surplus": Transcriber._surplus, "foreign": Transcriber._foreign,
    "hi": Transcriber._highlighted, "unclear": Transcriber._unclear,
    "expan": Transcriber._expan, "ex": Transcriber._ex, "am": Transcriber._mark,
    "abbr": Transcriber._abbr, "sic": Transcriber._sic, "seg": Transcriber._segment,
    "w": Transcriber._segment, "choice": Transcriber._choice,
    "corr": Transcriber._by_editor, "reg": Transcriber._by_editor,
    "app": Transcriber._apparatus, "subst": Transcriber._pair, "gap": Transcriber._gap,
    "space": Transcriber._space, "lb": Transcriber._line, "cb": Transcriber._column,
    "pb": Transcriber._column, "gb": Transcriber._column, "handShift": Transcriber._hand,
    "milestone": Transcriber._milestone, "figure": Transcriber._figure,
    "g": Transcriber._glyph, "note": Transcriber._note, "head": Transcriber._heading,
    "certainty": Transcriber._certainty,
}  # fmt: skip
