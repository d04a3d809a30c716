"""A back for the pages of Argue: labels with years, a patch over one of them, hands with a gap, inquiries."""

from __future__ import annotations

from dataclasses import dataclass, replace

from catalogue.measure import Day, read_date
from catalogue.record import (
    Citation,
    Evidence,
    Exhibition,
    Inquiry,
    Inscription,
    PartyRole,
    PriorRepair,
    ProvenanceEvent,
    Region,
    Statement,
    Transcript,
)

LABEL = "The Lantern Room|14 Sorrel Place, London, S.W.7|No. 212"


@dataclass(frozen=True)
class Back:
    """The ids of what stands on it."""

    label: str
    over: str
    patch: str
    first: str
    second: str
    third: str
    show: str
    inquiry: str


def argued_back(desk, *, patch_made="1952", marks_round=False) -> Back:
    """The low water with a back to argue about; `patch_made` may contradict the label that lies over it."""
    kept = desk.studio.read(f"work/{desk.low_water}")
    photo = next(each for each in kept.record.photos if each.face == "face/back")
    transcript = Transcript(markup=LABEL, preferred=True)
    label = Inscription(
        number="I2", kind="inscription/dealer-label", face="face/back", transcripts=(transcript,),
        regions=(Region(photo=photo.id, corners=((10, 10), (90, 10), (90, 60), (10, 60))),),
        statements=(Statement(
            transcript=transcript.id, kind="statement/number", written="212", start=51, end=54,
            standing="standing/accepted",
        ),),
    )  # fmt: skip
    patch = PriorRepair(
        kind="repair/patch",
        covers=(label.id,),
        made=read_date(patch_made) if patch_made else None,
    )
    over = Inscription(
        number="I3", kind="inscription/chalk-mark", face="face/back", lies_over=(patch.id,),
        transcripts=(Transcript(markup="7"),),
    )  # fmt: skip
    if marks_round:
        label = replace(label, lies_over=(over.id,))
    record = replace(
        kept.record,
        inscriptions=(*kept.record.inscriptions, label, over),
        repairs=(patch,),
        provenance=(
            held(1, "Mr Abel Quince", "1931", "by 1936", Evidence(kind="evidence/none-cited")),
            held(2, "The Lantern Room", "1937", "1938", cited(label.id, "inscription"), role="dealer"),
            held(3, "a private collection", "1948", "1962", Evidence(kind="evidence/none-cited")),
        ),
        exhibitions=(
            Exhibition(title="Shores", when=read_date("1937"), evidence=(cited(label.id, "inscription"),)),
        ),
        citations=(Citation(kind="citation/book", text="A book of shores", pages="14"),),
        inquiries=(
            Inquiry(
                kind="inquiry/register-of-losses", subject="A register of losses", asked="Low Water",
                on=Day(2026, 2, 11), result="inquiry-result/nothing-found",
            ),
        ),
    )  # fmt: skip
    saved = desk.studio.save(record, who="Nell Quince", read=kept).record
    events = sorted(saved.provenance, key=lambda each: each.order)
    return Back(
        label=label.id, over=over.id, patch=patch.id, first=events[0].id, second=events[1].id,
        third=events[2].id, show=saved.exhibitions[0].id, inquiry=saved.inquiries[0].id,
    )  # fmt: skip


def cited(source, kind):
    return Evidence(kind=f"evidence/{kind}", source=source, strength="strength/secondary")


def held(order, name, when, until, *evidence, role="owner"):
    return ProvenanceEvent(
        order=order, kind="provenance/sale" if role == "owner" else "provenance/presence",
        parties=(PartyRole(written=name, role=f"capacity/{role}"),), when=read_date(when),
        until=read_date(until), evidence=evidence,
    )  # fmt: skip
