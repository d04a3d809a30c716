"""What a reading would bring while it is still being typed: statements, years, labels like it.

Nothing of it is kept: it is what the pages of a saved inscription will show, told beforehand.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace

from catalogue.alike import Alike, LabelsOnFile, Span
from catalogue.arguing import Argued, argued
from catalogue.argument import Dating, KnownAddress, Reason
from catalogue.argument.look_alikes.comparing import is_form
from catalogue.argument.statements import FoundStatement, find_statements, open_statements
from catalogue.record import Inscription, Transcript, Work

AT_MOST = 5
"""So many labels are told while one types; the page of the saved label has all of them."""


@dataclass(frozen=True, slots=True)
class LikeIt:
    """A label on file that is like the one being typed, and its own years where it is dated."""

    alike: Alike
    years: Span | None


@dataclass(frozen=True, slots=True)
class Foretold:
    """What a reading would bring, were it saved as it stands.

    `decided` are the statements that were decided in another reading of the same inscription.
    `argued` is None where nothing stands there. `alike` is None while the labels on file are still
    being laid out; `is_form` says whether labels are compared at all for this kind.
    """

    statements: tuple[FoundStatement, ...]
    decided: frozenset[FoundStatement]
    argued: Argued | None
    alike: tuple[LikeIt, ...] | None
    is_form: bool

    @property
    def dating(self) -> Dating | None:
        """What it would prove of its own years; None where nothing stands there."""
        return self.argued.dating if self.argued else None


def foretold(
    work: Work,
    inscription: Inscription,
    markup: str,
    *,
    firms: Iterable[KnownAddress],
    labels: LabelsOnFile,
    dated: Callable[[Work], Mapping[str, Span]],
) -> Foretold:
    """What would be found in a text, typed as the reading of an inscription of a work.

    Raises `MarkupError` for what cannot be a label.
    """
    form = is_form(inscription)
    if not markup.strip():
        return Foretold((), frozenset(), None, (), form)
    transcript = Transcript(markup=markup, preferred=True)
    alone = _alone(
        work, replace(inscription, transcripts=(transcript,), statements=(), compared=())
    )
    found = find_statements(transcript.reading())
    decided_on = inscription.statements
    open_still = open_statements(transcript, decided_on) if decided_on else found
    at_hand = form and labels.at_hand()
    families: Mapping[str, Reason] = labels.reasons(alone, dated) if at_hand else {}
    alike = labels.like_typed(work, alone.inscriptions[0], AT_MOST) if at_hand else ()
    return Foretold(
        statements=found,
        decided=frozenset(found) - frozenset(open_still),
        argued=next(argued(alone, firms, families)),
        alike=tuple(LikeIt(each, _years(each, dated)) for each in alike)
        if at_hand or not form
        else None,
        is_form=form,
    )


def _alone(work: Work, inscription: Inscription) -> Work:
    """A work that holds nothing but one inscription, which points at nothing else of it."""
    bare = replace(inscription, part=None, regions=(), lies_over=(), across=())
    return Work(id=work.id, number=work.number, inscriptions=(bare,))


def _years(alike: Alike, dated: Callable[[Work], Mapping[str, Span]]) -> Span | None:
    """The years of one label, without arguing about all the others of its work."""
    one = alike.on_file.inscription
    return dated(_alone(alike.on_file.work, one)).get(one.id)
