"""What is typed → what is wished for. Every text is a question: nothing is refused, and what does not
fit is looked for as words, with a hint.

    question := any                      any  := all {"or" all}          all := {part}
    part     := "-" part | "not" part | "(" any ")" | "also (" any ")" | "without (" any ")"
              | field ":" value | figure sign number | ["certainly"] span-word date | kind-word date
              | word ["near/5" word] | "words in a row"
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, field, replace

from catalogue.indexes.language.fields import (
    FactField,
    Field,
    Figure,
    Span,
    TextField,
    facts,
    field_called,
    field_words,
    figures,
    known_as,
    order_words,
    orders,
    sentence,
    signs,
    units,
)
from catalogue.indexes.language.joining import NOTHING, all_of, any_of, not_of
from catalogue.indexes.language.numbers import compared, measured
from catalogue.indexes.language.patterns import run, word
from catalogue.indexes.language.pieces import (
    MOST_LETTERS,
    Piece,
    cleaned,
    pieces,
    without_quotes,
)
from catalogue.indexes.language.saying import explained
from catalogue.indexes.language.times import MOST_WORDS, When, read_when, reads_as_range
from catalogue.indexes.language.understood import Understood
from catalogue.indexes.language.values import (
    NEAR,
    exact_values,
    field_near,
    values_of,
)
from catalogue.indexes.wish import (
    AllOf,
    Elsewhere,
    Fact,
    InTime,
    Name,
    Run,
    Wish,
    Word,
)
from catalogue.measure import Day

MOST_SOUGHT = 40
"""So many words and conditions are looked for at once."""

DEEPEST = 12
"""Brackets within so many others are read; deeper ones are left out."""

MOST_APART = 50

_NEAR = re.compile(r"(\w+)/(\d{1,4})")
_PARTY = re.compile(r"party/[0-9a-f-]{36}")
_LONGEST_LABEL = 4


def understand(
    typed: str, today: Day, called: Callable[[str], str] = lambda key: key
) -> Understood:
    """A question as it is understood on a day, which "in the last 12 months" is counted from.

    `called` gives the name of a party on file by its id, for the explanation.

    >>> found = understand("cubitt kind:dealer-label painted 1880..1890", Day(2026, 3, 1))
    >>> for said in found.said:
    ...     print(said)
    the word “cubitt”
    of the kind “dealer's label”
    painted between 1880 and 1890 (possibly)
    """
    text = cleaned(typed)
    reader = _Reader(pieces(text), today)
    if len(typed) > MOST_LETTERS:
        reader.leave_out("too_long", number=MOST_LETTERS)
    wish = reader.whole()
    if wish == NOTHING and typed.strip() and not reader.ignored and reader.order is None:
        reader.leave_out("nothing")
    said = explained(wish, called)
    if reader.order:
        said = (*said, sentence("said", "order", order=orders()[reader.order]))
    return Understood(
        typed=typed,
        wish=wish,
        said=said,
        ignored=tuple(dict.fromkeys(reader.ignored)),
        hints=tuple(dict.fromkeys(reader.hints)),
        order=reader.order or "best",
    )


@dataclass(slots=True)
class _Reader:
    """Reads the pieces from the first to the last, and keeps what is to be said about them."""

    pieces: tuple[Piece, ...]
    today: Day
    at: int = 0
    sought: int = 0
    depth: int = 0
    order: str | None = None
    ignored: list[str] = field(default_factory=list)
    hints: list[str] = field(default_factory=list)

    def leave_out(self, key: str, **filled: object) -> None:
        self.ignored.append(sentence("ignored", key, **filled))

    def hint(self, key: str, **filled: object) -> None:
        self.hints.append(sentence("hints", key, **filled))

    # --- looking ahead ----------------------------------------------------------------------------

    def ahead(self, step: int = 0) -> Piece | None:
        at = self.at + step
        return self.pieces[at] if at < len(self.pieces) else None

    def words_ahead(self, step: int = 0, most: int = MOST_WORDS + 4) -> list[str]:
        """The plain words from here on, up to the first other piece."""
        found: list[str] = []
        for each in self.pieces[self.at + step : self.at + step + most]:
            if each.what != "word":
                break
            found.append(each.text)
        return found

    def is_sign(self, name: str, step: int = 0) -> bool:
        piece = self.ahead(step)
        if piece is None or piece.what != "word":
            return False
        return piece.text in signs(name) or piece.text.lower() in signs(name)

    def begins_a_part(self, step: int) -> bool:
        """Whether something that can be wished for begins there."""
        piece = self.ahead(step)
        return piece is not None and piece.what != "close"

    # --- the grammar ------------------------------------------------------------------------------

    def whole(self) -> Wish:
        found: list[Wish] = []
        while self.at < len(self.pieces):
            found.append(self.any_of(None))
            if self.at < len(self.pieces):
                self.hint("unopened_bracket")
                self.at += 1
        return all_of(found)

    def any_of(self, within: Field | None) -> Wish:
        """Parts with "or" between them, up to a closing bracket or the end."""
        choices: list[Wish] = []
        parts: list[Wish] = []
        while (piece := self.ahead()) is not None and piece.what != "close":
            if self.is_sign("or"):
                if parts and self.begins_a_part(1) and not self.is_sign("or", 1):
                    choices.append(all_of(parts))
                    parts = []
                    self.at += 1
                    continue
                self.hint("or_word")
            parts.append(self.part(within))
        return any_of([*choices, all_of(parts)]) if choices else all_of(parts)

    def part(self, within: Field | None) -> Wish:
        """One thing that is wished for."""
        piece = self.pieces[self.at]
        if self.sought >= MOST_SOUGHT:
            self.at += 1
            self.leave_out("too_many", number=MOST_SOUGHT)
            return NOTHING
        if piece.what == "minus" or (self.is_sign("not") and self.begins_a_part(1)):
            return self.left_out(within)
        if piece.what == "open":
            return self.bracket(within)
        if piece.what == "field":
            return self.of_field()
        if piece.what in ("quoted", "unclosed"):
            return self.near_to(self.quoted(within), within)
        if within is not None and not isinstance(within, TextField):
            self.at += 1
            return self.value(within, piece.text)
        if within is None and (found := self.condition()) is not None:
            self.sought += 1
            return found
        return self.near_to(self.word(within), within)

    def left_out(self, within: Field | None) -> Wish:
        """`-word`, `not word`: many in a row are counted, not nested."""
        odd = False
        while (piece := self.ahead()) is not None and self.begins_a_part(1):
            if piece.what == "minus":
                odd = not odd
            elif self.is_sign("not"):
                odd = not odd
                self.hint("not_word", word=piece.text)
            else:
                break
            self.at += 1
        if self.ahead() is None or self.pieces[self.at].what == "close":
            return NOTHING
        found = self.word(within) if self.is_sign("not") else self.part(within)
        return not_of(found) if odd else found

    def bracket(self, within: Field | None) -> Wish:
        self.at += 1
        if self.depth >= DEEPEST:
            self.leave_out("too_deep", number=DEEPEST)
            return NOTHING
        self.depth += 1
        found = self.any_of(within)
        self.depth -= 1
        if self.ahead() is None:
            self.hint("unclosed_bracket")
        else:
            self.at += 1
        return found

    # --- words ------------------------------------------------------------------------------------

    def quoted(self, within: Field | None) -> Wish:
        piece = self.pieces[self.at]
        self.at += 1
        if piece.what == "unclosed":
            self.hint("unclosed_quote")
        if within is not None and not isinstance(within, TextField):
            return self.value(within, piece.text)
        return self.counted(run(piece.text, _fields(within)), piece.text)

    def word(self, within: Field | None) -> Wish:
        piece = self.pieces[self.at]
        self.at += 1
        return self.counted(word(piece.text, _fields(within)), piece.text)

    def counted(self, found: Wish, typed: str) -> Wish:
        if found == NOTHING:
            if "*" in typed:
                self.leave_out("star", word=typed)
            return found
        self.sought += len(found.words) if isinstance(found, Run) else 1
        return found

    def near_to(self, first: Wish, within: Field | None) -> Wish:
        """`word near/5 word`; several with the same distance are one."""
        found = first
        while (apart := self.distance()) is not None and _words(found):
            self.at += 1
            piece = self.pieces[self.at]
            other = self.quoted(within) if piece.what == "quoted" else self.word(within)
            if not _words(other):
                return all_of((found, other))
            if isinstance(found, Run) and found.apart == apart:
                found = Run((*found.words, *_apart(other)), apart)
            else:
                found = _together(found, other, apart)
        return found

    def distance(self) -> int | None:
        """The distance that `near/5` asks for, where a word stands behind it."""
        piece, behind = self.ahead(), self.ahead(1)
        if piece is None or piece.what != "word" or behind is None:
            return None
        found = _NEAR.fullmatch(piece.text)
        if found is None or found[1].lower() not in signs("near"):
            return None
        if behind.what not in ("word", "quoted"):
            return None
        return min(max(int(found[2]), 1), MOST_APART)

    # --- fields -----------------------------------------------------------------------------------

    def of_field(self) -> Wish:
        """`field:value`, `field:"two words"`, `field:(one or two)`."""
        piece = self.pieces[self.at]
        self.at += 1
        if known_as(piece.text) in signs("sort"):
            return self.sorted_by(piece)
        meant = field_called(piece.text)
        if meant is None:
            meant = self.near_field(piece)
            if meant is None:
                return self.unknown_field(piece)
        behind = self.ahead()
        if behind is None or behind.what in ("close", "field"):
            self.hint("no_value", field=piece.text)
            return self.counted(run(piece.text), piece.text)
        if isinstance(meant, Span):
            return self.span(meant, certainly=False) or self.no_date(meant)
        if behind.what == "open":
            return self.bracket(meant)
        if behind.what == "minus":
            # a negative figure, or a field that something is left out of
            return self.negative(meant)
        if behind.what in ("quoted", "unclosed"):
            return self.near_to(self.quoted(meant), meant)
        if isinstance(meant, TextField):
            return self.near_to(self.word(meant), meant)
        return self.value(meant, self.value_ahead(meant))

    def negative(self, meant: Field) -> Wish:
        behind = self.ahead(1)
        if isinstance(meant, Figure) and behind is not None and behind.what == "word":
            self.at += 2
            return self.value(meant, f"-{behind.text}")
        return self.left_out(meant)

    def value_ahead(self, meant: Field) -> str:
        """The value behind a colon: one word, or as many as a label of the field or a figure has."""
        words = self.words_ahead(most=_LONGEST_LABEL)
        size = 1
        if isinstance(meant, FactField) and (meant.terms or meant.flags):
            size = next(
                (
                    size
                    for size in range(len(words), 1, -1)
                    if exact_values(meant, " ".join(words[:size]))
                ),
                1,
            )
        elif isinstance(meant, Figure) and len(words) > 1:
            if words[0] in (">", "<", ">=", "<=", "="):
                size = 2
            if size < len(words) and words[size].casefold() in units(meant.unit):
                size += 1
        self.at += size
        return " ".join(words[:size])

    def value(self, meant: Field, typed: str) -> Wish:
        """What a value of a field asks for; as a word where it stands for nothing."""
        self.sought += 1
        if isinstance(meant, FactField):
            return self.fact(meant, typed)
        if isinstance(meant, Figure):
            found = measured(meant, typed)
            if found is None:
                self.hint("no_figure", field=meant.name, value=typed)
            return self.counted(run(typed), typed) if found is None else found
        if isinstance(meant, Span):
            when = read_when(typed.split(), self.today)
            return run(typed) if when is None else _in_time(meant, when, certainly=False)
        return run(typed, _fields(meant))

    def fact(self, meant: FactField, typed: str) -> Wish:
        if meant.names:
            if _PARTY.fullmatch(typed.strip()):
                return Fact(meant.key, (typed.strip(),))
            plain = run(typed)
            return NOTHING if plain == NOTHING else Name(without_quotes(typed), meant.key)
        chosen = values_of(meant, typed)
        if chosen.keys:
            if chosen.taken_for:
                self.hint("value_near", field=meant.name, value=typed, near=chosen.taken_for)
            return Fact(meant.key, chosen.keys)
        if chosen.perhaps:
            near = " / ".join(f"“{each}”" for each in chosen.perhaps)
            self.hint("value_perhaps", field=meant.name, value=typed, near=near)
        else:
            self.hint("value_unknown", field=meant.name, value=typed)
        return self.counted(run(typed), typed)

    def near_field(self, piece: Piece) -> Field | None:
        """The field that a misspelt name is meant for, when it is near enough."""
        near = field_near(piece.text) if not piece.alone else ()
        if near and near[0][1] >= NEAR:
            self.hint("field_taken", field=piece.text, near=near[0][0])
            return field_words()[known_as(near[0][0])]
        if near:
            self.hint("field_near", field=piece.text, near=near[0][0])
        return None

    def unknown_field(self, piece: Piece) -> Wish:
        """`Ref:12` is text of a label: both are words, next to each other."""
        behind = self.ahead()
        if not piece.alone and behind is not None and behind.what == "word":
            self.at += 1
            typed = f"{piece.text} {behind.text}"
            return self.counted(run(typed), typed)
        return self.counted(run(piece.text), piece.text)

    def sorted_by(self, piece: Piece) -> Wish:
        behind = self.ahead()
        if behind is None or behind.what not in ("word", "quoted"):
            self.hint("no_value", field=piece.text)
            return NOTHING
        self.at += 1
        found = order_called(behind.text)
        if found is None:
            self.hint("sort_unknown", value=behind.text, orders=", ".join(orders()))
        else:
            self.order = found
        return NOTHING

    # --- conditions in words ----------------------------------------------------------------------

    def condition(self) -> Wish | None:
        """Time, a figure without a colon, `also (…)`; None when what stands here is a word."""
        for name in ("also", "without"):
            if self.is_sign(name):
                behind = self.ahead(1)
                if behind is not None and behind.what == "open":
                    self.at += 1
                    inner = self.bracket(None)
                    return inner if inner == NOTHING else Elsewhere(inner, name == "also")
                if name == "without" and behind is not None:
                    self.hint("brackets_wanted", word=self.pieces[self.at].text)
        if self.is_sign("certainly"):
            return self.certain()
        return self.in_time(certainly=False) or self.figure() or self.plain_time()

    def certain(self) -> Wish | None:
        self.at += 1
        if self.ahead() is not None:
            piece = self.pieces[self.at]
            if piece.what == "field" and isinstance(meant := field_called(piece.text), Span):
                self.at += 1
                if found := self.span(meant, certainly=True):
                    return found
                self.at -= 1
            elif piece.what == "word" and (found := self.in_time(certainly=True)):
                return found
        self.at -= 1
        self.hint("certainly_word")
        return None

    def in_time(self, *, certainly: bool) -> Wish | None:
        """`painted 1880..1890`, `label 1917..`: a word that says what, and a time."""
        words = self.words_ahead()
        for size in range(min(3, len(words) - 1), 0, -1):
            said = known_as(" ".join(words[:size]))
            meant = field_words().get(said)
            if isinstance(meant, Span):
                when = read_when(words[size:], self.today)
                if when is not None:
                    self.at += size + when.words
                    return _in_time(meant, when, certainly=certainly)
            kinds = exact_values(facts()["kind"], said)
            if kinds and not self.is_of_the_picture(words[size]):
                when = read_when(words[size:], self.today, after_a_kind=True)
                if when is not None:
                    self.at += size + when.words
                    asked = InTime("own", when.earliest, when.latest, certainly)
                    return AllOf((Fact("kind", kinds), asked))
        return None

    def is_of_the_picture(self, word: str) -> bool:
        """Whether a time behind this word is the picture's: `label painted 1880`."""
        meant = field_words().get(known_as(word))
        return isinstance(meant, Span) and meant.of == "made"

    def span(self, meant: Span, *, certainly: bool) -> Wish | None:
        """The time behind `painted:`."""
        piece = self.ahead()
        quoted = piece is not None and piece.what in ("quoted", "unclosed")
        words = piece.text.split() if piece is not None and quoted else self.words_ahead()
        when = read_when(words, self.today)
        if when is None:
            return None
        self.at += 1 if quoted else when.words
        self.sought += 1
        return _in_time(meant, when, certainly=certainly)

    def no_date(self, meant: Span) -> Wish:
        piece = self.pieces[self.at]
        self.hint("no_date", value=piece.text)
        return self.counted(run(meant.name), meant.name)

    def plain_time(self) -> Wish | None:
        """`1880..1890`, `older than 30 days`: a time that needs no word before it."""
        words = self.words_ahead()
        when = reads_as_range(words, self.today) if words else None
        if when is None:
            return None
        counted_back = not any("." in each or "…" in each for each in words[: when.words])
        self.at += when.words
        return InTime("own" if counted_back else "any", when.earliest, when.latest)

    def figure(self) -> Wish | None:
        """`length>50`, `length > 5 cm`, without a colon."""
        words = self.words_ahead(most=4)
        found = re.match(r"([^\W\d_][\w-]*)([<>=≥≤]+.*)?", words[0]) if words else None
        if found is None:
            return None
        meant = figures().get(known_as(found[1])) or field_words().get(known_as(found[1]))
        if not isinstance(meant, Figure):
            return None
        rest = [found[2]] if found[2] and found.end() == len(words[0]) else []
        if not rest and found.end() != len(words[0]):
            return None
        for size in (4, 3, 2, 1):
            typed = " ".join([*rest, *words[1:size]])
            if size <= len(words) and (compared(typed) or (not rest and _is_range(typed))):
                asked = measured(meant, typed)
                if asked is not None:
                    self.at += size
                    return asked
        return None


def order_called(text: str) -> str | None:
    """The order that is called so; None when none is.

    >>> order_called("Newest"), order_called("oldest"), order_called("blue")
    ('newest', 'made', None)
    """
    return order_words().get(known_as(text))


def _is_range(text: str) -> bool:
    return bool(re.match(r"\d[\d.,]*\D{0,6}\.\.|\.\.\d", text))


def _fields(within: Field | None) -> tuple[str, ...]:
    return (within.name,) if isinstance(within, TextField) else ()


def _words(found: Wish) -> tuple[Word, ...]:
    if isinstance(found, Word):
        return (found,)
    return found.words if isinstance(found, Run) else ()


def _apart(found: Wish) -> tuple[Word, ...]:
    return tuple(replace(each, joined=False) for each in _words(found))


def _together(found: Wish, other: Wish, apart: int) -> Wish:
    """Two things near each other; words in a row stay in a row as well."""
    words = (*_apart(found), *_apart(other))
    rows = [each for each in (found, other) if isinstance(each, Run)]
    near = Run(words, min(apart + len(words) - 2, MOST_APART))
    return all_of((*rows, near))


def _in_time(meant: Span, when: When, *, certainly: bool) -> Wish:
    asked = InTime(meant.of, when.earliest, when.latest, certainly)
    return AllOf((Fact("kind", meant.kinds), asked)) if meant.kinds else asked
