"""Which claims stand: the firmest first, and of those that cannot all hold the softest give way.

Claims of a firmness are heard together. One that the firmer ones refute is given up alone, before it
can speak against its equals. Where equals cannot all hold, none of them stands (as in
`argument.combining`): no bound may rest on a choice between them. Whoever was set aside is heard
again, so that nothing is left standing that one of them contradicts without its being told.
What is told does not depend on the order in which claims were given.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from operator import attrgetter
from typing import Final

from catalogue.argument.timing.claims import Claim, Firmness
from catalogue.argument.timing.network import Network, length_of
from catalogue.argument.timing.points import Points, arcs_of
from catalogue.errors import BadData


@dataclass(frozen=True, slots=True)
class Contradiction:
    """Claims that cannot all hold, and can without any one of them.

    The firmest come first. What can never be otherwise (`Firmness.NATURE`) is not among them.
    `aside` are those given up: the softest. It is `firm` when these are hard, and only a person
    can say which is wrong.
    """

    claims: tuple[Claim, ...]
    aside: tuple[Claim, ...]
    firm: bool


_KEY: Final = attrgetter("key")
_FIRMNESS: Final = attrgetter("firmness")


def in_order(claims: Iterable[Claim]) -> list[Claim]:
    """Firmest first, alike by key."""
    return sorted(sorted(claims, key=_KEY), key=_FIRMNESS, reverse=True)


class Hearing:
    """Claims heard one after the other: the network of those that stand, and what was told.

    `claims` come `in_order`; those of nature must be able to hold together.
    """

    def __init__(self, count: int, claims: Sequence[Claim], points: Points) -> None:
        self.contradictions: list[Contradiction] = []
        self.aside: dict[str, Claim] = {}
        self._claims = {claim.key: claim for claim in claims}
        self._arcs = {claim.key: arcs_of(claim, points) for claim in claims}
        self._natural = Network([0, *[_beyond(claims)] * (count - 1)])
        self._told: dict[str, list[set[str]]] = {}
        for claim in claims:
            if claim.firmness is Firmness.NATURE:
                self._found_nature(claim)
        self._firmer = self._natural
        self.network = self._natural.copy()
        for firmness in (Firmness.HARD, Firmness.LIKELY, Firmness.WEAK):
            self._hear_all([claim for claim in claims if claim.firmness is firmness])

    def _found_nature(self, claim: Claim) -> None:
        trouble = self._natural.admit(self._arcs[claim.key])
        if trouble:
            keys = ", ".join(sorted(set(trouble)))
            raise BadData(
                f"what cannot be otherwise contradicts itself: {keys}",
                remedy="Give one of these claims a firmness below NATURE.",
            )

    def _hear_all(self, alike: Sequence[Claim]) -> None:
        """Hear claims of one firmness; then again those set aside, that nothing be untold.

        Once is enough. Only equals go on being set aside by that: each was in keeping with what
        stands, and less stands than did; and what refutes a claim is firmer, so it stays.
        """
        if not alike:
            return
        for claim in alike:
            self._hear(claim)
        for claim in in_order(self.aside.values()):
            if not self._refuted(claim):
                self._hear(claim)
        self._firmer = self.network.copy()

    def _refuted(self, claim: Claim) -> bool:
        """Whether it is told that a claim contradicts what stands, and nothing else."""
        return any(
            self.aside.keys().isdisjoint(others) for others in self._told.get(claim.key, ())
        )

    def _hear(self, claim: Claim) -> None:
        """Let a claim stand, or tell whatever keeps it from standing."""
        arcs = self._arcs[claim.key]
        while trouble := self._trouble_with(claim):
            alone = self._firmer.trouble_with(arcs)
            members = self._least(claim, alone or trouble)
            if self._tell(claim, members) == (claim,):
                return

    def _trouble_with(self, claim: Claim) -> tuple[str, ...]:
        """Labels of what keeps a claim from standing; with none it stands, if it was not set aside."""
        arcs = self._arcs[claim.key]
        return (
            self.network.trouble_with(arcs)
            if claim.key in self.aside
            else self.network.admit(arcs)
        )

    def _tell(self, claim: Claim, members: tuple[Claim, ...]) -> tuple[Claim, ...]:
        """Note a contradiction of a claim with others that stand; give up the softest of them."""
        softest = members[-1].firmness
        given_up = tuple(each for each in members if each.firmness is softest)
        for each in given_up:
            if each is not claim:
                self.network.remove(self._arcs[each.key])
            self.aside[each.key] = each
        keys = {each.key for each in members}
        for each in members:
            self._told.setdefault(each.key, []).append(keys - {each.key})
        firm = softest is Firmness.HARD
        self.contradictions.append(Contradiction(members, given_up, firm))
        return given_up

    def _least(self, claim: Claim, trouble: Iterable[str]) -> tuple[Claim, ...]:
        """Of claims that cannot all hold, one of them heard last, as few as still cannot, in order.

        A claim of several bounds may contradict others in more ways than the one that was met, so
        each is left out for a try; the softest first, for firm ones are worth more to be told of.
        """
        met = (self._claims[key] for key in dict.fromkeys(trouble))
        members = [each for each in met if each.firmness is not Firmness.NATURE]
        for each in reversed(in_order(members)):
            # in the order in which they were met, one after the other on the way round: no
            # bound then pushes more than one point
            rest = [other for other in members if other is not each]
            if each is not claim and not self._can_hold(rest):
                members = rest
        return tuple(in_order(members))

    def _can_hold(self, claims: Iterable[Claim]) -> bool:
        """Whether some claims can all hold, with nothing else but nature."""
        arcs = [arc for claim in claims for arc in self._arcs[claim.key]]
        return not self._natural.trouble_with(arcs)


def _beyond(claims: Iterable[Claim]) -> int:
    """A place after every first day that claims can ask for together: few points must move from there."""
    bounds = [bound for claim in claims for bound in claim.bounds]
    first = max((bound.days for bound in bounds if bound.earlier is None), default=0)
    between = sum(bound.days for bound in bounds if bound.earlier and bound.days > 0)
    return length_of(max(first, 0) + between)
