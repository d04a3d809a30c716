"""A chronology in words: each link of a reason, each contradiction, and what would settle it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from catalogue.argument.timing.claims import Claim, Event, Instant
from catalogue.argument.timing.solving import Chronology, Contradiction, Link, Which
from catalogue.places import table


@dataclass(frozen=True, slots=True, kw_only=True)
class Clash:
    """One contradiction in words.

    `cannot` are the statements that cannot all hold, `given_up` those of them from which nothing is
    argued; `resolve` is what would settle it, a way a statement; `firm` when none of them is softer
    than the others. `rests_on` are the ids of the values that say it, those of
    what was given up first.
    """

    cannot: tuple[str, ...]
    given_up: tuple[str, ...]
    resolve: tuple[str, ...]
    firm: bool
    rests_on: tuple[str, ...] = ()

    @property
    def says(self) -> str:
        """What cannot hold together and what was given up, in one go."""
        said = [_sentence("cannot", claims=_listed(self.cannot))]
        said.append(
            _sentence("all_set_aside")
            if self.firm
            else _sentence("given_up", claims=_listed(self.given_up))
        )
        return " ".join(said)

    @property
    def remedy(self) -> str:
        """What would settle it, in one sentence."""
        return _sentence("resolve", ways="; or ".join(self.resolve))


def explained(link: Link, bound: Which, event: Event) -> str:
    """One link of a reason: what is claimed, and from or until when `event` can have been by it.

    >>> from catalogue.argument.timing.from_work import chronology
    >>> from catalogue.measure import read_date
    >>> from catalogue.record import PriorRepair, Work
    >>> tape = PriorRepair(number="R1", kind="repair/tape", made=read_date("1934"))
    >>> solved = chronology(Work(repairs=(tape,)))
    >>> repair = next(each for each in solved.events if each.called == "R1")
    >>> explained(solved.why(repair.began, "earliest")[0], "earliest", repair)
    'R1 (tape) is dated “1934”: R1 was made on 1934-01-01 or later'
    """
    which = "not_before" if bound == "earliest" else "not_after"
    claim = claim_in_words(link.claim)
    instant = instant_in_words(event, link.at)
    return _sentence(which, claim=claim, instant=instant, day=link.day.iso)


def reasons(
    chronology: Chronology, instant: Instant, bound: Which
) -> tuple[tuple[str, Link], ...]:
    """Why an instant is not earlier, or not later: each link of the shortest chain, in words."""
    links = chronology.why(instant, bound)
    passed = {link.at.event for link in links}
    events = {each.id: each for each in chronology.events if each.id in passed}
    return tuple((explained(link, bound, events[link.at.event]), link) for link in links)


def instant_in_words(event: Event, instant: Instant) -> str:
    """That an event began or ended, as one says it.

    >>> made = Event(id="1/made", kind="made", called="the painting", words="its making")
    >>> instant_in_words(made, made.ended)
    'the painting was finished'
    """
    row = table("chronology.toml")["events"][event.kind]
    said: str = row[instant.end].format(called=event.called)
    return said


def group_of(event: Event) -> str:
    """The group in which an event stands: painting, parts, writing, hands, shows, studio, people."""
    return str(table("chronology.toml")["events"][event.kind]["group"])


def claim_in_words(claim: Claim) -> str:
    """What is claimed; what cannot be otherwise brings no words of its own."""
    return claim.words or _sentence("nature")


def firmness_in_words(claim: Claim) -> str:
    """How hard a claim is to give up, in a word or two."""
    return _sentence(claim.firmness.name.lower())


def contradiction_in_words(contradiction: Contradiction) -> Clash:
    """What cannot hold together, what was given up, and what would settle it."""
    claims = contradiction.claims
    return Clash(
        cannot=tuple(dict.fromkeys(each.words for each in claims)),
        given_up=tuple(dict.fromkeys(each.words for each in contradiction.aside)),
        # what is softest is most likely to be what is wrong
        resolve=tuple(dict.fromkeys(each.resolve for each in reversed(claims) if each.resolve)),
        firm=contradiction.firm,
        rests_on=tuple(
            dict.fromkeys(
                id_ for each in (*contradiction.aside, *claims) for id_ in each.rests_on
            )
        ),
    )


def _listed(claims: Iterable[str]) -> str:
    return "; ".join(f"({number}) {each}" for number, each in enumerate(claims, 1))


def _sentence(which: str, **values: str) -> str:
    said: str = table("chronology.toml")["sentences"][which]
    return said.format(**values)
