"""From what was typed into a form to the value that it means; every refusal beside its blank.

What a form does not mention is left as it is, and so is what was not touched, to the last digit.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from catalogue.desk.forms import as_number
from catalogue.desk.layout import how, typed_fields
from catalogue.desk.outlines import typed_shape
from catalogue.desk.typed import BOX, OUTLINE, Typed, field_out, has_id, same
from catalogue.errors import BadData, CatalogueError, NotOnFile
from catalogue.measure import DateSpan, Day
from catalogue.record import Party, PartyName, Reference, Work, is_address, is_id
from catalogue.record.rules import Documents, FieldRule, Terms, values_within
from catalogue.studio import Studio
from catalogue.surface import Shape
from catalogue.terms import group, known, labelled
from catalogue.wording import kind_word

PERSON, FIRM, WORDS_ONLY = "person", "group", "written"
NOT_SAID = "this must be said"


@dataclass(frozen=True, slots=True)
class Choice:
    """One way to settle who is meant by a name: what the form sends, what it says."""

    sends: str
    says: str


@dataclass(slots=True)
class Filling:
    """One form being read. `errors` and `choices` are by path; `strangers` are to be put on file."""

    studio: Studio
    record: Any
    typed: Typed
    reader: str | None
    errors: dict[str, str] = field(default_factory=dict)
    choices: dict[str, list[Choice]] = field(default_factory=dict)
    strangers: dict[str, Party] = field(default_factory=dict)
    taken_away: list[str] = field(default_factory=list)

    def value(
        self, kind: type, prefix: str, before: Any, given: Mapping[str, Any] | None = None
    ) -> Any:
        """The value of a form or of a part of it; None when something in it was refused.

        `given` are fields that no form has, such as the name of a file.
        """
        faults = len(self.errors)
        held: dict[str, Any] = dict(given or {})
        for rule in typed_fields(kind):
            path = f"{prefix}{rule.name}"
            if self.typed.mentions(path):
                old = getattr(before, rule.name) if before is not None else rule.default
                try:
                    held[rule.name] = self._field(kind, rule, prefix, old, before is not None)
                except BadData as refused:
                    self.errors[path] = _words(refused, rule.label)
            if rule.needed and path not in self.errors:
                said = (
                    held[rule.name] if rule.name in held else getattr(before, rule.name, None)
                )
                if said in (None, ()) and not self._faulty(path):
                    self.errors[path] = NOT_SAID
        self._in_words_only(kind, prefix, held)
        if len(self.errors) > faults:
            return None
        return self._made(kind, prefix, before, held)

    def _made(self, kind: type, prefix: str, before: Any, held: dict[str, Any]) -> Any:
        try:
            if before is not None:
                return replace(before, **held)
            own = self.typed.one(f"{prefix}id")
            if is_id(own) and has_id(kind) and own not in self._ids():
                held["id"] = own
            return kind(**held)
        except BadData as refused:
            self.blame(refused, kind, prefix)
            return None

    def blame(self, refused: CatalogueError, kind: type, prefix: str = "") -> None:
        """Put a refusal of the record beside the blank that it names."""
        found = re.match(r"(\w+)\.(\w+): ", refused.args[0])
        names = {rule.name for rule in typed_fields(kind)}
        path = prefix.removesuffix(".")
        if found and found[1] == kind.__name__ and found[2] in names:
            path = f"{prefix}{found[2]}"
        elif found:
            ends = (each for each in self.typed.held if each.rpartition(".")[2] == found[2])
            path = next(ends, path)
        self.errors[path] = _words(refused, f"{found[1]}.{found[2]}" if found else "")

    def _ids(self) -> set[str]:
        return {each.id for each in values_within(self.record) if hasattr(each, "id")}

    def _faulty(self, path: str) -> bool:
        return any(name.startswith(f"{path}.") for name in self.errors)

    def _in_words_only(self, kind: type, prefix: str, held: dict[str, Any]) -> None:
        """Keep a name in words where whoever typed it chose so."""
        if self.typed.one(f"{prefix}party.is") != WORDS_ONLY or held.get("party"):
            return
        if "written" in {rule.name for rule in typed_fields(kind)} and not held.get("written"):
            held["written"] = self.typed.one(f"{prefix}party") or None

    # --- one field ----------------------------------------------------------------------------------

    def _field(self, kind: type, rule: FieldRule, prefix: str, old: Any, kept: bool) -> Any:
        path = f"{prefix}{rule.name}"
        way = how(rule, kind.__name__)
        if way == "many":
            return self._members(rule, path, old or ())
        if way == "one":
            return self._member(rule, path, old)
        if kept and self._untouched(kind, rule, prefix, old):
            return old
        if way == "shape":
            return self._shape(path)
        if way == "tick":
            return bool(self.typed.all(path))
        if way == "yes-no":
            return {"yes": True, "no": False}.get(self.typed.one(path))
        if way in ("party", "parties"):
            return self._parties(kind, rule, path, old)
        texts = self.typed.all(path)
        if rule.many:
            return tuple(dict.fromkeys(self._text(way, rule, each) for each in texts))
        return self._text(way, rule, texts[0]) if texts else rule.default

    def _untouched(self, kind: type, rule: FieldRule, prefix: str, old: Any) -> bool:
        stood = field_out(kind, rule, old, prefix, self.wording)
        path = f"{prefix}{rule.name}"
        now = {name for name in self.typed.held if name.startswith(f"{path}.")} | {path}
        return all(
            same(stood.get(name, ()), self.typed.all(name))
            for name in now | set(stood)
            if not name.endswith(".is")
        )

    def _text(self, way: str, rule: FieldRule, typed: str) -> Any:
        """What one text means; held to the field's rules by themselves. Raises `BadData`."""
        meant: Any = typed
        match way:
            case "day":
                meant = self.day(typed)
            case "span":
                return self.studio.date(typed)
            case "number" | "whole":
                meant = as_number(typed, "it")
                if way == "whole" and not isinstance(meant, int):
                    raise BadData(f"{typed!r} is not a whole number", remedy="such as 3")
            case "word" | "words" | "choose" | "chips":
                meant = _term(typed, rule)
            case "document":
                meant = self._document(typed, rule)
        rule.hold(meant)
        return meant

    def day(self, typed: str) -> Day:
        """A day as one would write it: 2026-03-01, 1 March 2026. Raises `BadData`."""
        try:
            return self.studio.day(typed)
        except BadData:
            try:
                span = self.studio.date(typed)
            except BadData as refused:
                raise BadData(
                    refused.args[0], remedy="such as 2026-03-01 or 1 March 2026"
                ) from None
            if span.earliest is None or span.earliest != span.latest:
                raise BadData(
                    f"{typed!r} is not one day", remedy="such as 2026-03-01"
                ) from None
            return span.earliest

    def _shape(self, path: str) -> Shape | None:
        numbers = {name: self.typed.one(f"{path}.{name}") for name in BOX}
        return typed_shape(numbers, self.typed.one(f"{path}.{OUTLINE}"))

    # --- people and other documents -----------------------------------------------------------------

    def wording(self, named: str) -> str:
        """How a form writes a document: a party by name, a work by its number."""
        own = self.studio.at(named)
        if own is None:
            return named
        record = self.studio.read(own).record
        return (
            record.number
            if isinstance(record, Work) and record.number
            else self.studio.name_of(own)
        )

    def _parties(self, kind: type, rule: FieldRule, path: str, old: Any) -> Any:
        stood = {self.wording(each): each for each in (old if rule.many else (old,)) if each}
        texts = [text.strip() for text in self.typed.held.get(path, ())]
        words_too = any(each.name == "written" for each in typed_fields(kind))
        found = []
        for place, name in enumerate(texts):
            if name:
                at = f"{path}.{place}.is" if rule.many else f"{path}.is"
                meant = stood.get(name) or self._party(name, at, words_too=words_too)
                if meant:
                    found.append(meant)
        return tuple(dict.fromkeys(found)) if rule.many else next(iter(found), None)

    def _party(self, name: str, at: str, *, words_too: bool) -> str | None:
        """The party of a name; None where it is to stay in words. Raises `BadData` to ask which."""
        chosen = self.typed.one(at)
        found = self.studio.parties_called(name)
        if len(found) == 1:
            return found[0].document
        if found:
            if chosen in {each.document for each in found}:
                return chosen
            self.choices[at] = [Choice(each.document, _told_apart(each)) for each in found]
            raise BadData(f"{len(found)} on file are called {name!r}: say who is meant")
        if chosen in (PERSON, FIRM):
            return self._stranger(name, chosen).document
        if chosen == WORDS_ONLY and words_too:
            return None
        self.choices[at] = [
            Choice(PERSON, "put on file as a person"),
            Choice(FIRM, "put on file as a firm or institution"),
            *([Choice(WORDS_ONLY, "keep the name in words only")] if words_too else []),
        ]
        raise BadData(f"nobody on file is called {name!r}: correct the name, or choose below")

    def _stranger(self, name: str, kind: str) -> Party:
        key = name.casefold()
        if key not in self.strangers:
            self.strangers[key] = Party(
                kind=kind, names=(PartyName(text=name, preferred=True),)
            )
        return self.strangers[key]

    def _document(self, typed: str, rule: FieldRule) -> str:
        """A work by its number, another record by its label or address. Raises `BadData`."""
        kinds = (rule.rule(Documents) or Documents(())).kinds
        found = self._reference(typed) if "reference" in kinds else None
        if found is None:
            try:
                found = self.studio.meant(typed)
            except NotOnFile:
                found = typed if is_address(typed) else None
        if found is None or not (is_address(found) or found.partition("/")[0] in kinds):
            what = " or ".join(kind_word(kind.title()).label for kind in kinds)
            raise BadData(
                f"no {what} on file is called {typed!r}",
                remedy="a work by its number, a record from elsewhere by its label or full address",
            )
        return found

    def _reference(self, typed: str) -> str | None:
        for kept in self.studio.all(Reference):
            if typed in kept.record.labels:
                return kept.document_id
        return None

    # --- values within ------------------------------------------------------------------------------

    def _members(self, rule: FieldRule, path: str, old: tuple[Any, ...]) -> tuple[Any, ...]:
        """The values within a field: those that were there, changed or not, and those that came."""
        kept = {each.id: each for each in old}
        places = self.typed.places(path)
        mentioned = {self.typed.one(f"{path}.{place}.id") for place in places}
        found = [each for each in old if each.id not in mentioned]
        for place in places:
            prefix = f"{path}.{place}."
            before = kept.get(self.typed.one(f"{prefix}id"))
            if self.typed.all(f"{prefix}gone"):
                if before is not None:
                    self.taken_away.append(f"{prefix}gone")
                continue
            first_needed = rule.needed and place == places[0] and not old
            if before is None and self.is_blank(rule.kind, prefix) and not first_needed:
                continue
            made = self.value(rule.kind, prefix, before)
            if made is not None:
                found.append(made)
        return tuple(found)

    def _member(self, rule: FieldRule, path: str, old: Any) -> Any:
        prefix = f"{path}."
        if self.is_blank(rule.kind, prefix):
            return None
        return self.value(rule.kind, prefix, old)

    def is_blank(self, kind: type, prefix: str) -> bool:
        """Whether nothing was typed but what stands there before anybody types."""
        fresh = prefilled(kind, self.studio, self.reader, self.record)
        for rule in typed_fields(kind):
            path = f"{prefix}{rule.name}"
            way = how(rule, kind.__name__)
            if way == "many":
                places = (f"{path}.{place}." for place in self.typed.places(path))
                if not all(self.is_blank(rule.kind, each) for each in places):
                    return False
            elif way == "one":
                if not self.is_blank(rule.kind, f"{path}."):
                    return False
            elif way == "shape":
                if any(self.typed.one(f"{path}.{name}") for name in (*BOX, OUTLINE)):
                    return False
            elif rule.name not in fresh and self.typed.all(path):
                return False
        return True


OURS = frozenset(
    {
        "ConditionCheck", "Note", "Sighting", "Test", "Step", "Proposal", "Hours", "Outlay",
        "Departure",
    }
)  # fmt: skip
"""What is mostly written down by whoever did it: the form begins with who is at work."""

TODAYS = OURS - {"Step"}
"""Of these, what is mostly written down on the day."""


def prefilled(kind: type, studio: Studio, reader: str | None, record: Any) -> dict[str, Any]:
    """What a form for a new value of a kind begins with, field by field."""
    name = kind.__name__
    found: dict[str, Any] = {
        rule.name: rule.default
        for rule in typed_fields(kind)
        if rule.default is not None and rule.default is not False and rule.default != ()
    }
    if name in OURS and reader:
        found["by"] = (reader,) if name == "Step" else reader
    if name in TODAYS:
        found["on"] = studio.today()
    if name == "Observation" and isinstance(record, Work) and record.checks:
        found["check"] = record.checks[-1].id
    return found


def _term(typed: str, rule: FieldRule) -> str:
    """The key of the term that was typed or chosen: by key, label or another word for it."""
    groups = (rule.rule(Terms) or Terms(())).groups
    if is_address(typed) or (typed.partition("/")[0] in groups and known(typed)):
        return typed
    for name in groups:
        found = labelled(typed, name)
        if found:
            return found.key
    wanted = typed.casefold()
    near = [
        each.label for name in groups for each in group(name) if wanted in each.label.casefold()
    ][:4]
    raise BadData(
        f"{typed!r} is no word of this list",
        remedy=f"did you mean {', '.join(near)}?" if near else "choose one from the list",
    )


def _told_apart(party: Party) -> str:
    """A party in a few words that tell it from another of the same name."""
    years = [span.written for span in (party.began, party.ended) if isinstance(span, DateSpan)]
    where = [each.text for each in party.addresses[:1]]
    more = ", ".join((*years, *where))
    return f"{party.name()}, {more}" if more else f"{party.name()} (id {party.id[:8]})"


def _words(refused: CatalogueError, named: str) -> str:
    """A refusal for beside its blank, where its name need not be said again."""
    said = refused.args[0].removeprefix(f"{named}: ")
    return f"{said}; {refused.remedy}" if refused.remedy else str(said)
