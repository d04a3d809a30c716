"""Then and now: two checks as table, on two maps and in sentences; photographs before and after."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from flask import Blueprint, redirect, render_template, request, url_for
from markupsafe import Markup

from catalogue.argument.course import MEASURES, Compared, Difference, compare_checks, trend_of
from catalogue.argument.photo_pairs import before_and_after
from catalogue.desk import asking
from catalogue.desk.mapping import address_in
from catalogue.errors import NotOnFile
from catalogue.pictures.map import compared_maps
from catalogue.pictures.words import table as course_words
from catalogue.places import table
from catalogue.record import Finding, Observation, Work
from catalogue.terms import label
from catalogue.wording import said

pages = Blueprint("comparing", __name__)

SCALES = ("severity", "extent", "stability")


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One finding at both checks, in words; `level` is "worse", "better" or "" for its colour."""

    finding: Finding
    then: tuple[str, ...]
    now: tuple[str, ...]
    verdict: str
    level: str
    changes: tuple[str, ...]

    @property
    def sentence(self) -> str:
        """All of it in one sentence."""
        told = "; ".join((self.verdict, *self.changes))
        return f"{self.finding.number or 'F'} {label(self.finding.kind)}: {told}."


@pages.get("/work/<uuid:uuid>/compare")
def compare(uuid: UUID) -> Any:
    """Compare two checks: those that are asked for, else the last two."""
    work: Work = asking.work(uuid).record
    if work.id != str(uuid):
        asked: dict[str, Any] = request.args.to_dict()
        return redirect(url_for("comparing.compare", uuid=work.id, **asked))
    if len(work.checks) < 2:
        raise NotOnFile(
            f"{work.number or 'this work'} has fewer than two condition checks on file",
            remedy="a comparison needs two",
        )
    last = [each.id for each in sorted(work.checks, key=lambda each: each.rank)][-2:]
    first, second = (
        request.args.get(name) or other
        for name, other in zip(("first", "second"), last, strict=True)
    )
    both = compare_checks(work, first, second)
    drawn = compared_maps(work, both.first, both.second, key="two", leads_to=address_in(work))
    return render_template(
        "compare.html",
        work=work,
        both=both,
        rows=[_row(each) for each in both.findings],
        method=[_words()["method"][each] for each in both.method_changed],
        picture=Markup(drawn or ""),
    )


@pages.get("/work/<uuid:uuid>/before-and-after")
def before_after(uuid: UUID) -> Any:
    """Show each side before and after treatment, with what speaks against comparing the two."""
    work: Work = asking.work(uuid).record
    if work.id != str(uuid):
        return redirect(url_for("comparing.before_after", uuid=work.id))
    pairs = [
        each for each in before_and_after(work) if each.before.sha256 and each.after.sha256
    ]
    return render_template("pairs.html", work=work, pairs=pairs)


def _words() -> Any:
    return table("documents.toml")["comparison"]


def _row(each: Compared) -> Row:
    return Row(
        finding=each.finding,
        then=tuple(_seen(each.then)),
        now=tuple(_seen(each.now)),
        verdict=_words()["verdict"][each.verdict],
        level=each.verdict if each.verdict in ("worse", "better") else "",
        changes=tuple(changes(each.differences)),
    )


def _seen(seen: Observation | None) -> Iterator[str]:
    if seen is None:
        yield _words()["not_noted"]
        return
    for name in MEASURES:
        value = getattr(seen, name)
        if value is not None:
            measure, unit = _words()["measure"][name]
            yield f"{measure} {said(value)} {unit}".strip()
    scales = table("documents.toml")["finding"]
    judged = [
        f"{scales[name]} {label(getattr(seen, name))}" for name in SCALES if getattr(seen, name)
    ]
    if judged:
        yield ", ".join(judged)


def changes(differences: dict[str, Difference]) -> Iterator[str]:
    """How far each measure went, and whether that is more than the measuring may be out."""
    for name, found in differences.items():
        measure, unit = _words()["measure"][name]
        beyond = _words()["beyond" if found.significant else "within"]
        yield f"{measure} {_signed(found.change)} {unit}".strip() + f", {beyond}"


def trends(work: Work, finding: Finding) -> Iterator[str]:
    """How each measure of a finding went over all checks, in words; a rate from three measures on."""
    for name in MEASURES:
        found = trend_of(work, finding, name)
        if found.whole is None:
            continue
        measure, unit = _words()["measure"][name]
        course = " → ".join(said(each.value) for each in found.points)
        beyond = _words()["beyond" if found.whole.significant else "within"]
        threshold = (
            f" ({said(round(found.whole.threshold, 2))})" if found.whole.threshold else ""
        )
        rate = ""
        if found.rate_to_tell is not None:
            change = f"{_signed(round(found.rate_to_tell, 2))} {unit}".rstrip()
            rate = f"; {course_words('trend')['rate'].format(change=change)}"
        yield (
            f"{measure} {course} {unit}".rstrip()
            + f": {_signed(found.whole.change)}, {beyond}{threshold}{rate}"
        )


def _signed(change: float) -> str:
    """A difference with its sign; a true minus, and nothing before a zero."""
    told = said(abs(round(change, 4)))
    return told if not round(change, 4) else f"{'+' if change > 0 else '−'}{told}"
