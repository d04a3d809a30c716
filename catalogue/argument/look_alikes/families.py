"""Families: the labels that people found to be of one printed form.

A family is made of verdicts alone. "Another form" is remembered too: where it cuts through a family
that other verdicts join, both stand and the family says so.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from catalogue.record import Comparison, Inscription, Work

Where = tuple[str, str]
"""A work's document id and an inscription's id."""


@dataclass(frozen=True, slots=True)
class Verdict:
    """What a person said of two labels, wherever it is written down."""

    one: Where
    other: Where
    said: Comparison

    @property
    def pair(self) -> frozenset[Where]:
        """Both, in no order."""
        return frozenset((self.one, self.other))


@dataclass(frozen=True, slots=True)
class Family:
    """The labels of one form, and the verdicts that join them; `against` are those that part them."""

    members: tuple[Where, ...]
    joined: tuple[Verdict, ...]
    against: tuple[Verdict, ...] = ()


def verdicts_of(work: Work) -> Iterator[Verdict]:
    """The verdicts that stand in one work's record."""
    for inscription in work.inscriptions:
        yield from _of(work.document, inscription)


def _of(work: str, inscription: Inscription) -> Iterator[Verdict]:
    for each in inscription.compared:
        yield Verdict((work, inscription.id), (each.work, each.other), each)


def families(verdicts: Iterable[Verdict]) -> tuple[Family, ...]:
    """The families that verdicts make; of several on one pair the last by its day holds.

    >>> from catalogue.record import new_id
    >>> a, b, c = (("work/" + new_id(), new_id()) for _ in range(3))
    >>> said = lambda one, other, what: Verdict(one, other, Comparison(
    ...     other=other[1], work=other[0], verdict=f"verdict/{what}"))
    >>> [len(each.members) for each in families([said(a, b, "same-form"), said(b, c, "same-form")])]
    [3]
    >>> families([said(a, b, "another-form")])
    ()
    """
    last: dict[frozenset[Where], Verdict] = {}
    for each in sorted(verdicts, key=lambda it: it.said.rank):
        last[each.pair] = each
    leads: dict[Where, Where] = {}

    def head(of: Where) -> Where:
        while leads.setdefault(of, of) != of:
            leads[of] = leads[leads[of]]
            of = leads[of]
        return of

    joining = [each for each in last.values() if each.said.verdict == "verdict/same-form"]
    for each in joining:
        first, second = sorted((head(each.one), head(each.other)))
        leads[second] = first
    members: dict[Where, list[Where]] = {}
    for where in list(leads):
        members.setdefault(head(where), []).append(where)
    parted = [each for each in last.values() if each.said.verdict == "verdict/another-form"]
    return tuple(
        Family(
            tuple(sorted(held)),
            tuple(each for each in joining if head(each.one) == of),
            tuple(each for each in parted if each.one in held and each.other in held),
        )
        for of, held in sorted(members.items())
    )
