"""Documents of full records, damaged as no record could be: by a stray hand, or a program of somebody else's."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import cache
from typing import Any

from made_records import ARTIST, CLIENT, full_job, full_work

from catalogue.linked.concepts import describe
from catalogue.linked.documents import to_jsonld
from catalogue.linked.text import parse, write
from catalogue.measure import read_date
from catalogue.record import Party, PartyName
from catalogue.terms import group, groups, of_iri

Node = dict[str, Any]

MARKS = ("object", "activity")
"""The groups whose words say what sort of node it is."""

ONE_OF = {
    "not_the_same_as",
    "timespan", "produced_by", "created_by", "born", "died", "formed_by", "dissolved_by", "contact",
    "defined_by", "edtf", "date_rule", "content", "format", "value", "unit", "currency",
    "paid_amount", "target", "selector", "visibility", "moved", "moved_to", "released_by",
    "released_at", "released_text", "begin_of_the_begin", "end_of_the_end", "carried_out_by",
    "participant", "located_on_or_within", "client", "owner", "adhesive", "part_of",
    "condition_identified_by", "occupies", "made_of", "took_place_at", "used_specific_object",
    "motivated_by", "attributed_by", "part", "depositor", "proposed_by", "for_work", "for_step",
    "planned_at", "considered", "approves", "taken_from", "formerly", "continued_by", "added_by",
    "begin_of_the_end", "lender", "borrower", "courier",
}  # fmt: skip
"""Keys under which there is one thing at most, in some place at least."""

OWN_NUMBERS = {
    "mm_per_pixel", "light_from", "orientation", "tolerance_mm", "temperature_c", "humidity_percent", "position",
    "order", "set_temperature_c", "surface_temperature_c", "dwell_s", "pressure_mbar", "weight_kg",
    "ph", "conductivity_ms_cm", "coats", "overlap_mm", "area_mm2", "rolls", "formulation_year",
    "how_many", "hours_low", "hours_likely", "hours_high", "hourly_rate", "materials_cost", "outside_cost", "contingency_percent", "tax_percent", "spending_cap", "hours_worked", "sum_spent", "added_cost",
    "insured_for", "valued_at", "valued_up_to", "report_within_hours", "humidity_least", "humidity_most", "humidity_swing", "temperature_least", "temperature_most", "lux_most",
}  # fmt: skip
OWN_TRUTHS = {
    "preferred", "original", "mirrored", "framed", "glazed", "writing_beneath", "illustrated",
    "does_nothing", "may_photograph", "may_publish", "may_sample", "agreed",
}  # fmt: skip
OWN_DAYS = {
    "came_on", "due_on", "left_on", "approved_on", "opened_on", "expires_on", "data_sheet_of",
    "disclosed_on", "settled_on", "proposed_on", "valid_until", "told_on", "taken_on", "gone_on",
    "covered_from", "covered_until", "withdrawn_on", "offered_on",
}  # fmt: skip
OWN_TEXTS = {
    "hand", "sort_name", "colour", "kept_at", "condition_on_entry", "next_step", "began_at", "ended_at",
    "approved_text", "outline",
}  # fmt: skip

FIRM = Party(
    kind="group",
    names=(PartyName(text="Hollis & Trewin"),),
    began=read_date("1880"),
    ended=read_date("after 1911"),
)


@cache
def _texts() -> tuple[bytes, ...]:
    work = full_work()
    records = (work, full_job(work), ARTIST, CLIENT, FIRM)
    return tuple(write(to_jsonld(record)) for record in records)


def documents() -> list[Node]:
    """The documents of a work, its commission and two people, no node of which stands in two places."""
    return [parse(text) for text in _texts()]


def nodes(here: Any) -> Iterator[Node]:
    if isinstance(here, dict):
        yield here
        for key, held in list(here.items()):
            if key != "@context":
                yield from nodes(held)
    elif isinstance(here, list):
        for each in here:
            yield from nodes(each)


def term_of(node: Node) -> str | None:
    """The word that a node of a concept stands for, in the first group that has it."""
    for name in groups():
        if name not in MARKS and (found := of_iri(str(node.get("id", "")), name)):
            return found.key
    return None


def without_words(document: Node) -> None:
    """Take every word out that says of what kind something is."""
    for node in nodes(document):
        for key in ("classified_as", "technique", "assigned", "unit", "currency"):
            held = node.get(key)
            if isinstance(held, list):
                node[key] = [each for each in held if term_of(each) is None]
            elif isinstance(held, dict) and term_of(held):
                del node[key]


def all_twice(document: Node) -> None:
    """Say everything a second time and otherwise: a second word of the group, a second text, a second day."""
    for node in list(nodes(document)):
        if "_label" in node:
            continue
        for key, held in list(node.items()):
            if key in ("classified_as", "technique", "assigned", "made_of", "adhesive"):
                node[key] = [*held, *(other for each in held if (other := _sibling(each)))]
            elif key == "visibility":
                node[key] = [held, describe("visibility/open")["id"]]
            elif key in ("unit", "currency"):
                node[key] = [held, _sibling(held)]
            elif key in OWN_NUMBERS | OWN_TRUTHS | OWN_DAYS | OWN_TEXTS or (
                key in ONE_OF and isinstance(held, str | int | float)
            ):
                node[key] = [held, _otherwise(held)]
            elif key in ONE_OF:
                listed = held if isinstance(held, list) else [held]
                node[key] = [
                    *listed,
                    *({**each, "id": _another(each["id"])} for each in listed),
                ]
            elif key == "identified_by":
                node[key] = [
                    *held,
                    *(
                        {**each, "id": each["id"].replace("#", "#" + OTHER[:8], 1)}
                        for each in held
                    ),
                ]


OTHER = "5a0f1f5c-7a51-4ec1-9a3b-0d0b6d1f2abc"


def _another(address: str) -> str:
    if address.startswith("#"):
        return f"#{OTHER}/{address[1:].partition('/')[2] or 'other'}"
    return f"party/{OTHER}"


def _sibling(node: Node) -> Node | None:
    key = term_of(node)
    if key is None:
        return None
    held = [each.key for each in group(key.partition("/")[0]) if each.key != key]
    return {**node, **describe(held[0])}


def _otherwise(held: Any) -> Any:
    if isinstance(held, bool):
        return not held
    if isinstance(held, int | float):
        return held + 1
    return held.replace("1", "2").replace("0", "1") + ("" if held[:1].isdigit() else " again")


def other_sorts(document: Node) -> None:
    """Put a text where a number, a day or a yes is wanted, and nothing where a text is."""
    for node in nodes(document):
        for key in node:
            if key in OWN_NUMBERS | OWN_TRUTHS | OWN_DAYS | {"value"} and node.get("type") not in (
                "FragmentSelector", "SvgSelector",
            ):  # fmt: skip
                node[key] = "much"
            elif key in OWN_TEXTS:
                node[key] = "  "
            elif key == "defined_by":
                node[key] = "somewhere below"
            elif key in ("edtf", "date_rule", "format"):
                node[key] = 1887


def other_classes(document: Node) -> None:
    """Make of everything that a work has something else."""
    for key, held in document.items():
        if isinstance(held, list) and key not in ("@context", "identified_by", "classified_as"):
            here = {each["id"] for each in held}
            for each in nodes(document):
                if each.get("id") in here:
                    each["type"] = "Set"
        elif key == "produced_by":
            held["type"] = "Set"
    for node in nodes(document):
        for each in node.get("carries", []):
            each["type"] = "Set"
        if str(node.get("id")).endswith("/production"):
            for each in node.get("attributed_by", []):
                each["assigned"][0]["type"] = "Set"


def first(document: Node, test: Callable[[Node], bool]) -> Node:
    return next(each for each in nodes(document) if test(each))


def typed(document: Node, kind: str, key: str) -> Node:
    return first(document, lambda each: each.get("type") == kind and key in each)
