"""Records as another institution would send them, made with somebody else's library, then disfigured.

Outside: the classes, properties and ranges of the package cromulent 1.0.1 (Apache-2.0), which knows
every one that the Linked Art context has; the model refuses a value of a class that has no place there.
"""

from __future__ import annotations

import json
import random
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from cromulent import model
from cromulent.model import CRMEntity, factory

from catalogue.linked.contexts import LINKED_ART, context

CLASSES = sorted(
    name
    for name, kind in vars(model).items()
    if isinstance(kind, type)
    and issubclass(kind, CRMEntity)
    and name in context(LINKED_ART)["@context"]
    and kind not in (model.CRMEntity, model.ExternalResource)
)
WORDS = (
    "Dusk on the Quay",
    "Hafen im Nebel",
    "Ō-ura, évening",
    "«Море»",
    "A & B <c>",
    "line\nbreak\t\"'\\",
)
HOME = "https://museum.example/"


def record(name: str, chance: random.Random, most: int = 12) -> dict[str, Any]:
    """A record of a class with some of its properties, each with one value or more."""
    with _every_class():
        made = _made(name, chance, f"{HOME}{name.lower()}/{chance.randrange(10**9)}")
        _fill(made, chance, most, depth=2)
        return {"@context": LINKED_ART, **_plain(factory.toJSON(made))}


@contextmanager
def _every_class() -> Iterator[None]:
    """Classes that the profile advises against are in the context all the same."""
    before = factory.validate_profile
    factory.validate_profile = False
    try:
        yield
    finally:
        factory.validate_profile = before


def disfigured(document: dict[str, Any], chance: random.Random) -> dict[str, Any]:
    """The record as other programs write it: the same rights, other habits."""
    habits = (
        _single_values,
        _https,
        _other_terms,
        _old_keywords,
        _languages,
        _relative,
        _shared,
        _numbers,
    )
    for habit in chance.sample(habits, k=chance.randint(1, 4)):
        document = habit(document, chance)
    return document


def _made(name: str, chance: random.Random, ident: str = "") -> Any:
    made = getattr(model, name)(ident=ident)
    if chance.random() < 0.8:
        made._label = chance.choice(WORDS)
    return made


def _fill(made: Any, chance: random.Random, most: int, depth: int) -> None:
    ranges: dict[str, Any] = {}
    for kind in made._classhier:
        for key, info in kind._all_properties.items():
            ranges.setdefault(key, info)
    keys = sorted(key for key in ranges if key not in ("_label", "type", "id"))
    for key in chance.sample(keys, k=min(most, len(keys))):
        info = ranges[key]
        for _ in range(1 + (info.multiple_okay and chance.random() < 0.3)):
            value = _value(key, info.range, chance, depth)
            if value is not None:
                try:
                    setattr(made, key, value)
                except Exception:  # noqa: BLE001 (a library's own rules about pairs; the rest stands)
                    continue


def _value(key: str, wanted: Any, chance: random.Random, depth: int) -> Any:
    if wanted is str:
        if "_of_the_" in key:
            return f"{chance.randint(1500, 1950)}-01-01T00:00:00Z"
        return chance.choice(WORDS)
    if wanted in (float, int):
        return chance.choice((45.7, 12, 610.25))
    if not isinstance(wanted, type) or not issubclass(wanted, CRMEntity):
        return None
    fitting = [name for name in CLASSES if issubclass(getattr(model, name), wanted)]
    if not fitting:
        return None
    name = chance.choice(fitting)
    named = chance.random() < 0.6
    inner = _made(name, chance, f"{HOME}{name.lower()}/{chance.randrange(40)}" if named else "")
    if depth and not (named and chance.random() < 0.5):
        _fill(inner, chance, 3, depth - 1)
    return inner


def _plain(value: Any) -> Any:
    plain = json.loads(json.dumps(value, default=str))
    plain.pop("@context", None)
    return plain


# --- habits ---------------------------------------------------------------------------------------


def _walk(value: Any, change: Any) -> Any:
    if isinstance(value, dict):
        return change(
            {
                key: held if key == "@context" else _walk(held, change)
                for key, held in value.items()
            }
        )
    return [_walk(each, change) for each in value] if isinstance(value, list) else value


def _single_values(document: dict[str, Any], chance: random.Random) -> dict[str, Any]:
    """One value without brackets, or a node in brackets that needs none."""

    def change(node: dict[str, Any]) -> dict[str, Any]:
        for key, held in node.items():
            if isinstance(held, list) and len(held) == 1 and chance.random() < 0.7:
                node[key] = held[0]
            elif isinstance(held, dict) and key != "@context" and chance.random() < 0.3:
                node[key] = [held]
        return node

    return _walk(document, change)


def _https(document: dict[str, Any], _: random.Random) -> dict[str, Any]:
    """AAT ids with https, as some write them."""
    kind = {
        "id": "https://vocab.getty.edu/aat/300033618",
        "type": "Type",
        "_label": "paintings",
    }
    return {**document, "classified_as": [kind, *_many(document, "classified_as")]}


def _other_terms(document: dict[str, Any], _: random.Random) -> dict[str, Any]:
    """Terms of the institution's own, explained in a context beside the published one."""
    own = {"mus": f"{HOME}ns#", "shelf": "mus:shelf", "position": {"@id": "mus:position"}}
    more = {
        "shelf": "R 12",
        "position": 3,
        f"{HOME}ns#lent": True,
        "crm:P3_has_note": "with a note",
    }
    return {**document, **more, "@context": [*_many(document, "@context"), own]}


def _old_keywords(document: dict[str, Any], _: random.Random) -> dict[str, Any]:
    """`@id` and `@type` where the context offers `id` and `type`; below the root."""
    named = {"id": "@id", "type": "@type"}

    def change(node: dict[str, Any]) -> dict[str, Any]:
        return {named.get(key, key): held for key, held in node.items()}

    return {
        key: held if key in ("@context", "id", "type") else _walk(held, change)
        for key, held in document.items()
    }


def _languages(document: dict[str, Any], _: random.Random) -> dict[str, Any]:
    """A text that carries its language itself."""
    said = {"type": "Name", "content": {"@value": "Мельничный пруд", "@language": "ru"}}
    return {**document, "identified_by": [*_many(document, "identified_by"), said]}


def _relative(document: dict[str, Any], _: random.Random) -> dict[str, Any]:
    """Addresses relative to a base that the context names."""

    def change(node: dict[str, Any]) -> dict[str, Any]:
        for key in ("id", "@id"):
            if isinstance(node.get(key), str):
                node[key] = node[key].removeprefix(HOME)
        return node

    whole = _walk(document, change)
    return {**whole, "@context": [*_many(document, "@context"), {"@base": HOME}]}


def _shared(document: dict[str, Any], _: random.Random) -> dict[str, Any]:
    """One node spoken of in two places, saying more in one of them; and one without an address twice."""
    there = {"id": f"{HOME}person/7", "type": "Person", "_label": "A. Painter"}
    more = {**there, "identified_by": [{"id": "_:n", "type": "Name", "content": "A. Painter"}]}
    said = {"type": "AttributeAssignment", "carried_out_by": [more], "influenced_by": [there]}
    again = {"type": "AttributeAssignment", "assigned": [{"id": "_:n", "type": "Name"}]}
    return {**document, "attributed_by": [*_many(document, "attributed_by"), said, again]}


def _numbers(document: dict[str, Any], chance: random.Random) -> dict[str, Any]:
    """Sizes as every program writes them."""
    sizes = [
        {"type": "Dimension", "value": value}
        for value in (45.7, 45, 1e3, 0.1, 123456789012, -7)
    ]
    return {**document, "dimension": [*_many(document, "dimension"), *chance.sample(sizes, 3)]}


def _many(document: dict[str, Any], key: str) -> list[Any]:
    held = document.get(key, [])
    return held if isinstance(held, list) else [held]


def collections(seed: int, count: int) -> Iterator[dict[str, Any]]:
    """Records of every class in turn, each disfigured in its own way."""
    chance = random.Random(seed)
    for number in range(count):
        yield disfigured(record(CLASSES[number % len(CLASSES)], chance), chance)
