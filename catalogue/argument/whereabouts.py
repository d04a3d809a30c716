"""Where a mark comes from, as far as the label or the person says: a postal code is one country's own."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal, TypeAlias

from catalogue.argument.dating_rules import Rule
from catalogue.argument.dating_words import named_in

Whereabouts: TypeAlias = Literal["agrees", "unsaid", "elsewhere"]


class Origins:
    """The countries that a label names, or is said to come from.

    >>> here = Origins("14 King Street, SW1Y 6QU\\nView of Venice")
    >>> from catalogue.argument.dating_rules import rule
    >>> here.of(rule("gb.post.postcode_any"), 16), here.of(rule("it.post.cap"), 33)
    ('unsaid', 'agrees')
    """

    def __init__(
        self, text: str, *, told: frozenset[str] = frozenset(), languages: Iterable[str] = ()
    ) -> None:
        self._text = text
        self._told = told
        self.named = told | named_in(text, languages)
        self._by_line: dict[int, frozenset[str]] = {}

    def agree(self, rule: Rule) -> bool:
        """Whether one of the rule's countries is named, or the rule asks for none."""
        return not rule.only_in or bool(rule.only_in & self.named)

    def of(self, rule: Rule, place: int) -> Whereabouts:
        """What is said of a mark of this rule that stands here.

        It is elsewhere when the label is told to come from other countries, or when the mark's own
        line names only others; a place in the title of a picture is no such word.
        """
        if self.agree(rule):
            return "agrees"
        return "elsewhere" if self._told or self._line(place) else "unsaid"

    def _line(self, place: int) -> frozenset[str]:
        start = self._text.rfind("\n", 0, place) + 1
        if start not in self._by_line:
            end = self._text.find("\n", place)
            self._by_line[start] = named_in(self._text[start : end if end >= 0 else None])
        return self._by_line[start]
