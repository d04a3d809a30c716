"""A shelf of labels: which of thousands are worth laying beside one, found by their rare words.

Each word of the print is kept under itself and under its pieces of three letters, so that a damaged or
misread word still finds its like. What many labels share says little and is passed over.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from math import log

from catalogue.argument.look_alikes.comparing import Likeness, Seen, compare, fits
from catalogue.argument.look_alikes.print_words import TABLE, PrintWord
from catalogue.places import table
from catalogue.reading import GAP

_AT_MOST = 24  # so many are compared in full
_SHARE = 0.3  # what shares so much less than the nearest is not looked at
_RAREST = 24  # so many of its rarest pieces are looked up


class Shelf:
    """Labels kept by their pieces; adding one again takes the place of what was there."""

    def __init__(self, labels: Iterable[Seen] = ()) -> None:
        self._labels: dict[tuple[str, str], Seen] = {}
        self._under: dict[str, set[tuple[str, str]]] = defaultdict(set)
        for each in labels:
            self.add(each)

    def __len__(self) -> int:
        return len(self._labels)

    def __iter__(self) -> Iterator[Seen]:
        return iter(self._labels.values())

    def get(self, inscription: tuple[str, str]) -> Seen | None:
        """The label of this work and inscription, None if it is not on the shelf."""
        return self._labels.get(inscription)

    def add(self, label: Seen) -> None:
        """Put one label on the shelf."""
        self.remove(label.id)
        self._labels[label.id] = label
        for piece in _pieces(label):
            self._under[piece].add(label.id)

    def remove(self, inscription: tuple[str, str]) -> None:
        """Take one label off the shelf."""
        old = self._labels.pop(inscription, None)
        if old is not None:
            for piece in _pieces(old):
                self._under[piece].discard(inscription)

    def remove_work(self, work: str) -> None:
        """Take all labels of a work off the shelf."""
        for each in [each for each in self._labels if each[0] == work]:
            self.remove(each)

    def near(self, label: Seen, at_most: int = _AT_MOST) -> list[Seen]:
        """The labels that share the most rare pieces with one, most first."""
        whole = len(self._labels) + 1
        held = [
            (len(self._under[piece]), piece) for piece in _pieces(label) if piece in self._under
        ]
        points: Counter[tuple[str, str]] = Counter()
        for many, piece in sorted(held)[:_RAREST]:
            weight = log(whole / many) if many else 0.0
            for each in self._under[piece]:
                points[each] += weight  # type: ignore[assignment]
        points.pop(label.id, None)
        best = sorted(points.items(), key=lambda it: (-it[1], it[0]))[:at_most]
        return [self._labels[each] for each, shared in best if shared > _SHARE * best[0][1]]

    def like(
        self, label: Seen, look: Callable[[Seen], Seen] = lambda it: it, at_most: int = _AT_MOST
    ) -> list[Likeness]:
        """The look-alikes of a label with reasons, best first; what is "no" is left out.

        `look` completes a label that is near by its words, by the hashes of its photograph.
        """
        found = [compare(label, look(each)) for each in self.near(label, at_most)]
        kept = (each for each in _settled(label, found) if each.band != "no")
        return sorted(kept, key=lambda it: (-it.score, it.other.id))


def _settled(label: Seen, found: list[Likeness]) -> list[Likeness]:
    """Where what is left of one of two labels fits another form as well, a person has to look at both.

    The other forms are on the shelf: they differ tellingly from the label, or from each other.
    """
    others = [each.other for each in found if each.telling and (each.parts["text"] or 0) > 0.7]
    likely = [each.other for each in found if each.band == "likely"]
    unsettled = _damaged(label) and (
        any(fits(label, each) for each in others)
        or any(
            not fits(one, other)
            for number, one in enumerate(likely)
            for other in likely[number + 1 :]
            if not _damaged(one) and not _damaged(other)
        )
    )
    said = table(TABLE)["why"]["few"]["two"]
    return [
        replace(each, band="review", why=(*each.why, said))
        if each.band == "likely"
        and (
            unsettled
            or (_damaged(each.other) and any(fits(each.other, other) for other in others))
        )
        else each
        for each in found
    ]


def _damaged(label: Seen) -> bool:
    return label.cut or any(word.lost or word.doubt for word in label.print)


def _pieces(label: Seen) -> set[str]:
    return {piece for word in label.print for piece in _of_word(word)}


def _of_word(word: PrintWord) -> Iterator[str]:
    for stretch in word.text.split(GAP):
        if len(stretch) > 1:
            yield stretch
        for at in range(len(stretch) - 2):
            yield f"~{stretch[at : at + 3]}"
