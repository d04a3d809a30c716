"""What rests on an inscription: shown beside it, and before it is read anew or taken out.

Nothing falls without having been told: a reading under which something loses its ground is saved when
whoever saves it has seen what.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any
from uuid import UUID

from flask import Blueprint, flash, redirect, render_template, request, url_for

from catalogue.argument.chain.falling import without
from catalogue.argument.chain.resting import Supported
from catalogue.argument.timing.changes import Changes
from catalogue.argument.timing.in_words import contradiction_in_words
from catalogue.desk import asking, forms
from catalogue.desk.asking import at_work, studio
from catalogue.desk.calling import called
from catalogue.desk.leading import leading_in
from catalogue.desk.person import ask_first
from catalogue.desk.refusals import status
from catalogue.errors import BadData, CatalogueError
from catalogue.keeping import Kept
from catalogue.record import Inscription, Work

pages = Blueprint("resting", __name__)


@dataclass(frozen=True, slots=True)
class Falling:
    """What would be otherwise: `says` what loses its ground, `moved` the days that would be known otherwise.

    `arisen` and `resolved` are contradictions. It is `heavy` where somebody should know it before
    anything is saved.
    """

    says: tuple[str, ...]
    moved: tuple[str, ...] = ()
    arisen: tuple[str, ...] = ()
    resolved: tuple[str, ...] = ()

    @property
    def heavy(self) -> bool:
        """Whether something loses its ground, or contradicts what did not contradict it before."""
        return bool(self.says or self.arisen)

    @property
    def anything(self) -> bool:
        """Whether anything would be otherwise."""
        return bool(self.says or self.moved or self.arisen or self.resolved)


def under_a_new_reading(work: Work, before: Inscription, after: Inscription) -> Falling | None:
    """What falls when an inscription is read as it now stands; None where the reading shown is the same."""
    shown, now = before.preferred(), after.preferred()
    if shown is None or now is None or shown.markup == now.markup:
        return None
    told = studio().re_read(work, before.id, now.markup).says()
    return _falling(told, studio().would_move(work, before.id, now.markup))


def _falling(says: tuple[str, ...], changes: Changes) -> Falling:
    def told(which: Any) -> tuple[str, ...]:
        return tuple(contradiction_in_words(each).says for each in which)

    moved = tuple(each.says() for each in changes.elsewhere)
    return Falling(says, moved, told(changes.arisen), told(changes.resolved))


def supported_by(
    work: Work, inscription: Inscription
) -> tuple[tuple[Supported, str | None], ...]:
    """What rests on an inscription or names it, each with its page."""
    leads_to = leading_in(work)
    return tuple(
        (each, leads_to(each.value)) for each in studio().supports(work, inscription.id)
    )


@pages.get("/work/<uuid:uuid>/read/<uuid:inscription>/without")
def ask(uuid: UUID, inscription: UUID) -> Any:
    """Show what would fall if an inscription were not there, and the form to take it out."""
    if not at_work():
        return ask_first(request.full_path.rstrip("?"))
    kept = asking.work(uuid)
    return _page(kept, kept.record.inscription(str(inscription)))


@pages.post("/work/<uuid:uuid>/read/<uuid:inscription>/without")
def take_out(uuid: UUID, inscription: UUID) -> Any:
    """Take out an inscription that was entered by mistake; what rested on it no longer cites it."""
    kept = asking.work(uuid, forms.revision())
    mark = kept.record.inscription(str(inscription))
    reason = forms.text("why")
    if not reason:
        refused = BadData(
            "say why it is taken out",
            remedy="the history keeps the inscription, and the reason",
        )
        return _page(kept, mark, refused), status(refused)
    why = f"{mark.number} of {kept.record.number} taken out: {reason}"
    try:
        studio().save(without(kept.record, mark.id), who=at_work(), why=why, read=kept)
    except BadData as refused:
        return _page(kept, mark, refused), status(refused)
    flash(called(mark), "taken out")
    return redirect(url_for("folder.work", uuid=uuid, _anchor="inscriptions"))


def _page(kept: Kept[Work], mark: Inscription, refused: CatalogueError | None = None) -> str:
    work = kept.record
    falls = studio().would_fall(work, mark.id)
    return render_template(
        "without.html",
        work=work,
        place="slip.again",
        revision=kept.revision,
        inscription=mark,
        called=called(mark),
        falls=_falling(falls.says(), studio().would_move(work, mark.id)),
        refused=refused,
    )
