"""What a label or a repair proves of its own years: the picture, the reasons, what contradicts."""

from __future__ import annotations

from typing import Any, NamedTuple
from uuid import UUID

from flask import Blueprint, render_template, url_for
from markupsafe import Markup

from catalogue.arguing import Argued
from catalogue.argument import Reason
from catalogue.desk import asking
from catalogue.desk.asking import studio
from catalogue.errors import NotOnFile
from catalogue.pictures.dating import dating_picture, in_years
from catalogue.record import Inscription
from catalogue.terms import label

pages = Blueprint("arguing", __name__)


class Letters(NamedTuple):
    """The letters that a reason rests on, and what stands on their line before and after them."""

    before: str
    letters: str
    after: str


@pages.get("/work/<uuid:uuid>/argue/<uuid:value>")
def years(uuid: UUID, value: UUID) -> Any:
    """Show why an inscription or a repair is dated as it is."""
    kept = asking.work(uuid)
    found = next(
        (each for each in studio().argue(kept.record) if each.value.id == str(value)), None
    )
    if found is None:
        raise NotOnFile(
            "nothing to argue from stands there",
            remedy="read the label first: what is not read proves nothing",
        )
    drawn = dating_picture(
        found.dating,
        of=called(found),
        key="why",
        leads_to=lambda number: f"#reason-{number + 1}",
    )
    return render_template(
        "years.html",
        work=kept.record,
        place="leaves.argue",
        found=found,
        called=called(found),
        page=page_again(kept.record.id, found),
        page_of=asking.page_of,
        picture=Markup(drawn),
        letters=[letters_of(found, each) for each in found.dating.reasons],
        in_years=in_years,
    )


def called(found: Argued) -> str:
    """What it is, in words: "dealer's label I3"."""
    return f"{label(found.value.kind)} {found.value.number or ''}".strip()


def page_again(work: str, found: Argued) -> str:
    """Where it can be read again, or changed."""
    if isinstance(found.value, Inscription):
        return url_for("slip.again", uuid=work, inscription=found.value.id)
    return url_for("values.again", uuid=work, field="repairs", value=found.value.id)


def letters_of(found: Argued, reason: Reason) -> Letters | None:
    """Where a reason stands on its line, as typed; None when it rests on no letters."""
    if found.reading is None or reason.start == reason.end:
        return None
    markup = found.reading.markup
    begin = max(markup.rfind(end, 0, reason.start) for end in "\r\n|") + 1
    ends = [at for end in "\r\n|" if (at := markup.find(end, reason.end)) >= 0]
    return Letters(
        markup[begin : reason.start],
        markup[reason.start : reason.end],
        markup[reason.end : min(ends, default=len(markup))],
    )
