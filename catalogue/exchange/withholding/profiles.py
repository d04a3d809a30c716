"""Profiles: lists of what may leave the studio, as vocab/profiles.toml has them."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass, fields
from functools import cache
from typing import Any

from catalogue.errors import BadSetting
from catalogue.places import folder
from catalogue.record import VALUES
from catalogue.record.rules import KINDS
from catalogue.terms import group


@dataclass(frozen=True, slots=True, kw_only=True)
class Profile:
    """One list of what may leave; `fields` are written `Value.field`.

    `note` is what the sender is told before it leaves, `needs_reason` that nothing leaves without a
    written one, `rules` that names, addresses and prices are held to vocab/withholding.toml as well.
    `everything` says that nothing at all stays home, `papers_only` that it is for papers alone: they
    take it of themselves, and it is not offered for exports.
    """

    name: str
    says: str
    note: str
    needs_reason: bool
    documents: frozenset[str]
    visibility: frozenset[str]
    unknown: bool
    free_text: bool
    rules: bool
    fields: frozenset[str]
    everything: bool
    papers_only: bool


@cache
def profiles() -> dict[str, Profile]:
    """Every profile of vocab/profiles.toml by name."""
    source = folder("vocab") / "profiles.toml"
    raw = tomllib.loads(source.read_text("utf-8"))
    return {name: _profile(name, raw) for name in raw if name != "lists"}


def offered() -> dict[str, str]:
    """The profiles that an export is offered, by name, and the sentence that says for whom each is.

    >>> "client" in offered(), "client" in profiles()
    (False, True)
    """
    return {name: each.says for name, each in profiles().items() if not each.papers_only}


def profile(name: str) -> Profile:
    """The profile of that name. Raises `BadSetting` naming those there are."""
    known = profiles()
    if name not in known:
        raise BadSetting(
            f"there is no profile {name!r}", remedy=f"choose one of: {', '.join(offered())}"
        )
    return known[name]


def _profile(name: str, raw: dict[str, Any]) -> Profile:
    table = raw[name]
    listed = _listed(name, raw)
    if table["free_text"] not in ("released", "all"):
        raise BadSetting(f"profile {name}: free_text is 'released' or 'all'")
    visibility = frozenset(table["visibility"])
    everything = (
        table["unknown"]
        and table["free_text"] == "all"
        and set(KINDS) <= set(table["documents"])
        and listed_fields() <= listed
        and {each.key for each in group("visibility")} <= visibility
    )
    return Profile(
        name=name,
        says=table["says"],
        note=table.get("note", ""),
        needs_reason=table.get("reason", False),
        documents=frozenset(table["documents"]),
        visibility=visibility,
        unknown=table["unknown"],
        free_text=table["free_text"] == "all",
        rules=table.get("rules", False),
        fields=frozenset(listed),
        everything=everything,
        papers_only=table.get("papers", False),
    )


def _listed(name: str, raw: dict[str, Any]) -> set[str]:
    """Every field that a profile or a list ("lists.condition") allows, with those that it includes."""
    table = raw
    for part in name.split("."):
        table = table[part]
    included = (_listed(each, raw) for each in table.get("include", ()))
    allowed: set[str] = set().union(*included)
    return (allowed - set(table.get("without", ()))) | set(table["fields"])


def listed_fields() -> frozenset[str]:
    """Every `Value.field` of every kind of value: what profiles choose from."""
    return frozenset(
        f"{kind.__name__}.{each.name}"
        for kind in VALUES
        for each in fields(kind)
        if each.name != "id"
    )
