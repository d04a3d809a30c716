"""A question as it was understood: the wish, and what a person should know about how it was read."""

from __future__ import annotations

from dataclasses import dataclass

from catalogue.indexes.wish import AllOf, Wish


@dataclass(frozen=True, slots=True, kw_only=True)
class Understood:
    """What came of a typed question.

    `wish` is `AllOf(())` when nothing was asked for. `said` tells part by part how it was understood,
    `ignored` what was left out, `hints` what may have been meant otherwise, all in plain sentences.
    `order` is the order of the works found ("best" ...).
    """

    typed: str
    wish: Wish
    said: tuple[str, ...] = ()
    ignored: tuple[str, ...] = ()
    hints: tuple[str, ...] = ()
    order: str = "best"

    @property
    def empty(self) -> bool:
        """Whether nothing was asked for: then nothing should be found, and not everything."""
        return self.wish == AllOf(())
