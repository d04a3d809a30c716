"""Footnotes numbered in the order in which they are first cited."""

from __future__ import annotations

from collections.abc import Iterable

from catalogue.argument.prose.entries import EntryNote


class Numbering:
    """The numbers given so far; notes that say the same are one.

    >>> numbering = Numbering([EntryNote("a", "crayon"), EntryNote("b", "a letter")])
    >>> numbering.cited("b"), numbering.own("label, verso"), numbering.cited("b")
    ('1', '2', '1')
    >>> [f"{each.mark} {each.text}" for each in numbering.notes()]
    ['1 a letter', '2 label, verso', '3 crayon']
    """

    def __init__(self, notes: Iterable[EntryNote]) -> None:
        self._texts = {each.mark: each.text for each in notes if each.text}
        self._numbers: dict[str, str] = {}
        self._bare: set[str] = set()

    def cited(self, mark: str) -> str:
        """The number of a note that came with the chain; one without a text keeps its figure."""
        if mark in self._texts:
            return self.own(self._texts[mark])
        self._bare.add(mark)
        return self.own(mark)

    def own(self, text: str) -> str:
        """The number of a note with this text."""
        return self._numbers.setdefault(text, str(len(self._numbers) + 1))

    def notes(self) -> tuple[EntryNote, ...]:
        """All of them in order; those that nothing cites come last."""
        for text in self._texts.values():
            self.own(text)
        return tuple(
            EntryNote(number, "" if text in self._bare else text)
            for text, number in self._numbers.items()
        )
