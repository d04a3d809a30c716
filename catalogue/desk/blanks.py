"""A form to be drawn: its sections and blanks, with what is offered, what was typed, what was refused.

templates/_blanks.html draws one blank for each way of typing.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from itertools import islice
from typing import Any

from catalogue.desk.calling import attachable, called, names_within, of_kinds
from catalogue.desk.filling import Choice, Filling, prefilled
from catalogue.desk.layout import APART, How, alternatives, how, offered, sections, typed_fields
from catalogue.desk.typed import BOX, OUTLINE, Typed, field_out, new_member
from catalogue.record import Paper, Party, Photo, Reference, Work
from catalogue.record.rules import Documents, FieldRule, Inside, InWork, Terms
from catalogue.studio import Studio
from catalogue.terms import Concept, concept
from catalogue.wording import field_word, kind_word

Options = tuple[tuple[str, tuple["Option", ...]], ...]
"""What may be chosen, under headings; "" is the heading of what stands under none."""

MOST_PEOPLE, MOST_WORKS, MOST_REFERENCES = 300, 60, 200
"""Up to so many are offered while one types; whoever is on file beyond them is found by name all the same."""


SHUT_FROM = 5
"""From so many values within a value on, those on file are shut until somebody opens them."""

BEGIN_WITH_A_FILE = frozenset({Paper, Photo})
"""Values that no form begins: they come with a file."""


@dataclass(frozen=True, slots=True)
class Option:
    """One thing that may be chosen: what the form sends, what it says, what that means."""

    sends: str
    says: str
    means: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Blank:
    """One field of a form. `asks` are choices about names that are not on file, by their path."""

    path: str
    label: str
    hint: str
    unit: str
    way: How
    needed: bool
    typed: tuple[str, ...]
    options: Options = ()
    listed: str = ""
    error: str = ""
    asks: tuple[tuple[str, str, tuple[Choice, ...]], ...] = ()
    inner: tuple[Sheet, ...] = ()
    kind: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A section of a form; `open` says whether it is unfolded."""

    title: str
    folded: bool
    open: bool
    blanks: tuple[Blank, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """The form of one value, or of one value within another. `kept`: it is on file already.

    A `spare` one is empty, for whoever has a further value to say; it is shut until `open`.
    """

    prefix: str
    own: str
    heading: str
    parts: tuple[Part, ...]
    kept: bool = False
    spare: bool = False
    open: bool = True
    gone: bool = False


@dataclass(slots=True)
class Drawing:
    """A form being drawn from what was typed. `more` is the field for which another blank was asked.

    `lists` gathers what is offered while one types, once for a page; `labels` what blanks are called;
    `in_works` what the works of a job offer, for it is offered in every row of a proposal.
    """

    filling: Filling
    more: str = ""
    lists: dict[str, tuple[Option, ...]] = field(default_factory=dict)
    labels: dict[str, str] = field(default_factory=dict)
    names: dict[str, str] = field(default_factory=dict)
    in_works: dict[tuple[str, ...], Options] = field(default_factory=dict)

    @property
    def studio(self) -> Studio:
        """The studio whose form it is."""
        return self.filling.studio

    def sheet(self, kind: type, prefix: str, before: Any, typed: Typed) -> tuple[Part, ...]:
        """The sections of the form of one value; `before` is the value on file, None for a new one."""
        apart = (
            APART.get(kind.__name__, ())
            if before is not None or kind.__name__ != "Finding"
            else ()
        )
        found = []
        for section in sections(kind):
            blanks = tuple(
                self._blank(kind, rule, prefix, before, typed)
                for rule in section.fields
                if rule.name not in apart
            )
            if blanks:
                open_now = not section.folded or any(map(_says_something, blanks))
                found.append(
                    Part(
                        title=section.title,
                        folded=section.folded,
                        open=open_now,
                        blanks=blanks,
                    )
                )
        return tuple(found)

    def _blank(
        self, kind: type, rule: FieldRule, prefix: str, before: Any, typed: Typed
    ) -> Blank:
        path = f"{prefix}{rule.name}"
        way = how(rule, kind.__name__)
        word = field_word(kind.__name__, rule.name)
        self.labels[path] = word.label
        old = getattr(before, rule.name, None)
        inner: tuple[Sheet, ...] = ()
        if way == "many":
            inner = self._members(rule, path, old or (), typed)
        elif way == "one":
            inner = self._one(rule, path, old, typed)
        texts = [text for text in typed.held.get(path, ()) if text.strip()]
        if way == "shape":
            texts = [typed.one(f"{path}.{name}") for name in (*BOX, OUTLINE)]
        return Blank(
            path=path,
            label=word.label,
            hint=word.hint,
            unit=word.unit,
            way=way,
            needed=rule.needed,
            typed=tuple(texts),
            options=self._options(rule, way, texts),
            listed=self._listed(rule, way),
            error=self.filling.errors.get(path, ""),
            asks=self._asks(path, texts, typed),
            inner=inner,
            kind=kind_word(rule.kind.__name__).label if inner else "",
        )

    def _asks(
        self, path: str, texts: list[str], typed: Typed
    ) -> tuple[tuple[str, str, tuple[Choice, ...]], ...]:
        """The choices about names: of one blank at "path.is", of several at "path.0.is"."""
        return tuple(
            (at, name, tuple(self.filling.choices[at]))
            for place, name in enumerate(texts)
            for at in (f"{path}.is", f"{path}.{place}.is")
            if at in self.filling.choices
        )

    # --- values within ------------------------------------------------------------------------------

    def _members(
        self, rule: FieldRule, path: str, old: tuple[Any, ...], typed: Typed
    ) -> tuple[Sheet, ...]:
        kept = {each.id: each for each in old}
        found = []
        places = typed.places(path)
        for place in places:
            prefix = f"{path}.{place}."
            before = kept.get(typed.one(f"{prefix}id"))
            if (
                before is None
                and self.filling.is_blank(rule.kind, prefix)
                and not self._refused(prefix)
            ):
                continue
            gone = bool(typed.all(f"{prefix}gone"))
            few = before is None or len(places) < SHUT_FROM
            open_ = few or gone or self._refused(prefix)
            found.append(self._sheet(rule.kind, prefix, before, typed, open_=open_, gone=gone))
        if rule.kind in BEGIN_WITH_A_FILE:
            return tuple(found)
        spare = f"{path}.{max(places, default=-1) + 1}."
        fresh = Typed(fresh_out(rule.kind, spare, self.filling))
        needed_now = rule.needed and not found
        found.append(
            self._sheet(
                rule.kind,
                spare,
                None,
                fresh,
                spare=not needed_now,
                open_=needed_now or self.more == path,
            )
        )
        return tuple(found)

    def _one(self, rule: FieldRule, path: str, old: Any, typed: Typed) -> tuple[Sheet, ...]:
        prefix = f"{path}."
        blank = self.filling.is_blank(rule.kind, prefix) and not self._refused(prefix)
        held = Typed(fresh_out(rule.kind, prefix, self.filling)) if blank else typed
        return (self._sheet(rule.kind, prefix, old, held, spare=blank, open_=not blank),)

    def _sheet(
        self,
        kind: type,
        prefix: str,
        before: Any,
        typed: Typed,
        *,
        spare: bool = False,
        open_: bool = True,
        gone: bool = False,
    ) -> Sheet:
        word = kind_word(kind.__name__).label
        return Sheet(
            prefix=prefix,
            own=typed.one(f"{prefix}id"),
            heading=self._called(before) if before is not None else word,
            parts=self.sheet(kind, prefix, before, typed),
            kept=before is not None,
            spare=spare,
            open=open_,
            gone=gone,
        )

    def _called(self, value: Any) -> str:
        known = self._names().get(getattr(value, "id", ""))
        return known or called(value, None, self.studio.name_of)

    def _names(self) -> dict[str, str]:
        """What the values of the record are called: asked for once for a page."""
        if not self.names:
            self.names.update(names_within(self.filling.record, self.studio.name_of))
        return self.names

    def _refused(self, prefix: str) -> bool:
        return any(path.startswith(prefix) for path in self.filling.errors)

    # --- what is offered ----------------------------------------------------------------------------

    def _options(self, rule: FieldRule, way: How, typed: Iterable[str]) -> Options:
        match way:
            case "choose" | "chips":
                found = grouped(offered(rule))
            case "pick":
                found = (
                    ("", tuple(Option(each, _plainly(each)) for each in alternatives(rule))),
                )
            case "inside" | "several":
                found = self._inside(rule)
            case _:
                return ()
        there = {each.sends for _, options in found for each in options}
        # What came from elsewhere is in no list of ours; it is offered as it stands, so that it stays.
        others = tuple(Option(each, each) for each in typed if each not in there)
        return (*found, ("", others)) if others else found

    def _inside(self, rule: FieldRule) -> Options:
        elsewhere = rule.rule(InWork)
        if elsewhere:
            if elsewhere.kinds not in self.in_works:
                self.in_works[elsewhere.kinds] = self._in_works(elsewhere.kinds)
            return self.in_works[elsewhere.kinds]
        kinds = (rule.rule(Inside) or Inside((), must=False)).kinds
        record = self.filling.record
        names = self._names()
        held = of_kinds(record, kinds, names) if kinds else attachable(record, names)
        return tuple(
            (heading, tuple(Option(own, name) for own, name in listed))
            for heading, listed in held
        )

    def _in_works(self, kinds: tuple[str, ...]) -> Options:
        """The values of these kinds in the works of a job, under the number of each work."""
        found = []
        for item in self.filling.record.items:
            own = self.studio.at(item.work)
            if own is not None:
                work = self.studio.read(own).record
                held = of_kinds(work, kinds, names_within(work, self.studio.name_of))
                found += [
                    (f"{work.number}: {heading}", tuple(Option(*each) for each in listed))
                    for heading, listed in held
                ]
        return tuple(found)

    def _listed(self, rule: FieldRule, way: How) -> str:
        """The list from which a typed blank is completed, made when it is first asked for."""
        offers: Callable[[], Iterable[Option]]
        match way:
            case "word" | "words":
                groups = (rule.rule(Terms) or Terms(())).groups
                name, offers = "-".join(groups), lambda: map(_as_typed, offered(rule))
            case "party" | "parties":
                name, offers = "people", self._people
            case "document":
                kinds = (rule.rule(Documents) or Documents(())).kinds
                name, offers = "-".join(kinds), lambda: self._documents(kinds)
            case _:
                return ""
        if name not in self.lists:
            self.lists[name] = tuple(offers())
        return name

    def _people(self) -> Iterable[Option]:
        few = sum(1 for _ in islice(self.studio.ledger.heads("party"), MOST_PEOPLE + 1))
        parties: Iterable[Party] = self.studio.members()
        if few <= MOST_PEOPLE:
            parties = (kept.record for kept in self.studio.all(Party))
        found = [
            Option(
                party.name(),
                ", ".join(concept(role).label for role in party.roles if ":" not in role),
            )
            for party in parties
        ]
        return sorted(found, key=lambda each: each.sends.casefold())

    def _documents(self, kinds: tuple[str, ...]) -> Iterable[Option]:
        if "work" in kinds:
            for head in self.studio.ledger.latest("work", MOST_WORKS):
                work = self.studio.read(head.document).record
                if isinstance(work, Work) and work.number and work.id != self.filling.record.id:
                    yield Option(work.number, work.title())
        if "reference" in kinds:
            for kept in islice(self.studio.all(Reference), MOST_REFERENCES):
                record = kept.record
                known_as = (*record.labels, record.address, kept.document_id)
                yield Option(next(filter(None, known_as)), ", ".join(record.types))


def fresh_out(kind: type, prefix: str, filling: Filling) -> dict[str, list[str]]:
    """What a form for a new value begins with, as it stands in its blanks."""
    fresh = prefilled(kind, filling.studio, filling.reader, filling.record)
    found = new_member(kind, prefix)
    for rule in typed_fields(kind):
        if rule.name in fresh:
            found.update(field_out(kind, rule, fresh[rule.name], prefix, filling.wording))
    return found


def grouped(concepts: Iterable[Concept]) -> Options:
    """Terms as options, the narrower ones under the broadest that they belong to.

    >>> from catalogue.terms import group
    >>> [heading for heading, _ in grouped(group("certainty"))]
    ['']
    """
    plain: list[Option] = []
    under: dict[str, list[Option]] = {}
    held = tuple(concepts)
    above = {each.broader for each in held}
    for each in held:
        top = _top(each)
        option = Option(each.key, each.label, each.note)
        if top.key != each.key or each.key in above:
            under.setdefault(top.label, []).append(option)
        else:
            plain.append(option)
    groups = tuple((heading, tuple(options)) for heading, options in sorted(under.items()))
    return (("", tuple(plain)), *groups) if plain else groups


def _top(term: Concept) -> Concept:
    while term.broader:
        term = concept(term.broader)
    return term


def _as_typed(term: Concept) -> Option:
    return Option(term.label, ", ".join(term.alternatives), term.note)


def _plainly(word: str) -> str:
    return {"group": "firm or institution"}.get(word, word)


def _says_something(blank: Blank) -> bool:
    """Whether a blank holds more than it began with, or was refused."""
    if blank.error or blank.asks:
        return True
    if blank.inner:
        return any(not each.spare for each in blank.inner)
    return blank.way not in ("choose", "pick", "tick") and any(blank.typed)
