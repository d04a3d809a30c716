"""The house plan as data: which room may look where, and which packages it may bring in from outside."""

from __future__ import annotations

import ast
import sys
from pathlib import Path

import pytest

import catalogue

HOUSE = Path(catalogue.__file__).parent

BELOW = {
    "errors": set(),
    "places": set(),
    "terms": set(),
    "reading": set(),
    "measure": {"terms"},
    "surface": set(),
    "record": {"reading", "measure", "surface", "terms"},
    "argument": {"record", "reading", "measure", "surface", "terms"},
    "pictures": {"argument", "record", "reading", "measure", "surface", "terms"},
    "placing": {"arguing", "argument", "record"},
    "labels_kept": {"argument", "keeping", "ledger"},
    "shapes_kept": {"checking", "ledger", "linked"},
    "alike": {"argument", "keeping", "labels_kept", "ledger", "measure", "record"},
    "drafting": {"photos", "reading"},
    "foretelling": {"alike", "arguing", "argument", "record"},
    "arguing": {"argument", "keeping", "ledger", "reading", "record"},
    "hands": {"argument", "measure", "record"},
    "linked": {"record", "reading", "measure", "surface", "terms"},
    "photos": set(),
    "ledger": set(),
    "indexes": {"ledger", "linked", "record", "reading", "measure", "surface", "terms"},
    "exchange": {"argument", "photos", "linked", "record", "reading", "measure", "surface", "terms"},
    "documents": {"pictures", "photos", "linked", "argument", "record", "reading", "measure", "surface", "terms"},
    "naming_parties": {"exchange", "keeping", "ledger", "measure", "record"},
    "telling": {"argument", "exchange", "ledger", "measure", "naming_parties", "record"},
    "printing": {"argument", "naming_parties", "documents", "exchange", "keeping", "ledger", "linked", "measure", "photos", "record", "setting_aside"},
    "coming_along": {"copies_kept", "keeping", "ledger", "record"},
    "copies_kept": {"exchange", "ledger", "photos", "record"},
    "keeping": {"ledger", "linked", "record", "measure"},
    "job_books": {"argument", "arriving", "exchange", "linked", "measure", "record", "terms"},
    "arriving": {"coming_along", "copies_kept", "keeping", "exchange", "ledger", "linked", "record", "measure", "wording"},
    "facts_of_labels": {"argument", "arguing", "indexes", "measure", "reading", "record", "terms"},
    "facts_of_works": {"argument", "facts_of_labels", "indexes", "measure", "record", "terms"},
    "on_file": {"arguing", "facts_of_labels", "facts_of_works", "indexes", "keeping", "ledger", "record"},
    "projecting": {"keeping", "on_file", "indexes", "ledger", "record"},
    "sharing": {"ledger", "projecting"},
    "sittings": set(),
    "card": {"keeping", "ledger", "measure", "photos", "record", "sittings"},
    "doings": {"keeping", "ledger", "measure", "record", "sittings", "terms"},
    "finding": {"indexes", "ledger", "linked", "projecting", "record", "sharing"},
    "asking": {"indexes", "ledger", "linked"},
    "wording": {"record", "measure", "surface", "terms"},
    "checking": {"argument", "house", "wording", "linked", "record", "measure", "terms"},
    "data_sheets": {"keeping", "ledger", "measure", "record"},
    "house": {"argument", "record", "measure", "terms"},
    "undoing": {"record"},
    "joining": {"record"},
    "doubles": {"following", "indexes", "keeping", "ledger", "measure", "record"},
    "history": {"keeping", "undoing", "wording", "ledger", "record", "terms"},
    "bringing_back": {"keeping", "undoing", "wording", "ledger", "linked", "measure"},
    "named_by": {"following", "ledger", "linked", "record", "terms"},
    "setting_aside": {
        "named_by", "history", "joining", "undoing", "keeping", "ledger", "linked", "measure", "record",
    },
    "sent": {"ledger"},
    "exporting": {"secrets_kept", "exchange", "keeping", "ledger", "measure", "photos", "record", "sent", "setting_aside"},
    "price_keys": {"ledger", "measure"},
    "saved_searches": {"ledger"},
    "half_typed": {"record"},
    "narrowing": {"indexes", "terms"},
    "stopping": {"argument", "measure", "record"},
    "scaling": {"argument", "record", "surface"},
    "under_way": {"indexes"},
    "secrets_kept": {"exchange", "following", "ledger", "setting_aside"},
    "lists": {"following", "keeping", "ledger", "linked", "measure", "record", "terms"},
    "samples": {"ledger", "record", "setting_aside"},
    "following": {"ledger"},
    "jobs_on_file": {"following", "keeping", "ledger", "record"},
    "at_the_bench": {"argument", "house", "measure", "record", "terms"},
    "bench_kept": {"at_the_bench", "jobs_on_file", "keeping", "ledger", "record"},
    "deciding": {"record", "terms"},
    "adopting": {"keeping", "ledger", "linked", "measure", "record"},
    "studio": {
        "card", "doings", "sittings",
        "half_typed", "exporting", "sent", "at_the_bench", "bench_kept", "jobs_on_file", "secrets_kept", "following", "lists", "samples",
        "foretelling", "drafting", "named_by", "retention_kept",
        "job_books", "copies_kept", "about_person", "retention", "previewing",
        "alike", "placing", "shapes_kept", "printing", "telling", "price_keys", "saved_searches", "doubles", "narrowing", "stopping", "adopting", "arguing", "argument", "bringing_back", "checking", "data_sheets", "deciding", "history", "setting_aside", "arriving", "asking", "finding", "keeping", "exchange", "hands", "house", "indexes", "ledger", "photos", "linked", "record", "reading", "measure",
        "surface", "terms",
    },
    "demo": {"studio", "under_way"},
    "parsing": {"argument", "reading", "measure"},
    "desk": {"card", "drafting", "sittings", "half_typed", "house", "under_way", "demo", "lists", "narrowing", "retention", "arguing", "scaling", "argument", "pictures", "studio", "history", "keeping", "record", "reading", "measure", "surface", "terms", "wording"},
    "terminal": {"studio", "open_studio"},
    "commands_alike": {"alike", "terminal", "studio", "terms"},
    "commands_doubles": {"terminal", "studio"},
    "commands_kept": {"terminal", "studio", "history"},
    "commands_asking": {"terminal"},
    "commands_arguing": {"terminal", "arguing", "pictures", "terms"},
    "previewing": {"exchange", "keeping", "ledger", "measure", "naming_parties", "record", "terms", "wording"},
    "retention": {"ledger", "measure"},
    "retention_kept": {"following", "history", "keeping", "ledger", "measure", "record", "retention"},
    "about_person": {"history", "keeping", "ledger", "named_by", "record", "wording"},
    "commands_retention": {"terminal", "retention", "studio"},
    "commands_borders": {"terminal", "argument"},
    "commands_drafting": {"terminal", "drafting", "record"},
    "commands_chain": {"terminal", "argument", "hands", "studio"},
    "commands_chronology": {"terminal", "argument"},
    "commands_codes": {"terminal"},
    "commands_finding": {"terminal", "indexes", "narrowing", "studio"},
    "commands_checking": {"terminal", "record", "checking", "terms"},
    "commands_printing": {"terminal", "studio"},
    "commands_photos": {"card", "sittings", "studio", "terminal"},
    "commands_provenance": {"terminal", "studio", "telling", "terms"},
    "commands_parsing": {"parsing", "reading"},
    "commands_taking": {"arriving", "job_books", "studio", "terminal"},
    "commands_sending": {"terminal", "exchange", "studio"},
    "commands_serving": {"desk", "terminal"},
    "commands_statements": {"terminal", "keeping", "studio", "terms"},
    "command": {"terminal", "commands_alike", "commands_arguing", "commands_asking", "commands_borders", "commands_chain", "commands_chronology", "commands_checking", "commands_codes", "commands_doubles", "commands_drafting", "commands_finding", "commands_kept", "commands_parsing", "commands_photos", "commands_printing", "commands_provenance", "commands_retention", "commands_sending", "commands_serving", "commands_statements", "commands_taking", "studio", "record", "desk", "demo", "open_studio", "__version__"},
}  # fmt: skip
"""Every room, and the rooms it may look into; `errors` and `places` are open to all."""

OUTSIDE = {
    "terms": {"rdflib"},
    "measure": {"rapidfuzz"},
    "surface": {"numpy", "shapely"},
    "linked": {"pyld", "rdflib"},
    "photos": {"PIL", "cv2", "numpy", "pillow_heif"},
    "drafting": {"PIL", "numpy", "rapidocr"},
    "ledger": {"sqlalchemy"},
    "indexes": {"whoosh", "numpy", "rapidfuzz", "pyoxigraph", "tantivy"},
    "checking": {"pyshacl", "rdflib"},
    "exchange": {"jinja2", "markupsafe", "lxml", "openpyxl"},
    "documents": {"jinja2", "markupsafe", "segno", "typst"},
    "desk": {
        "flask",
        "flask_wtf",
        "waitress",
        "werkzeug",
        "jinja2",
        "markupsafe",
        "segno",
        "itsdangerous",
    },
    "terminal": {"click"},
    "commands_alike": {"click"},
    "commands_doubles": {"click"},
    "commands_kept": {"click"},
    "commands_arguing": {"click"},
    "commands_borders": {"click"},
    "commands_drafting": {"click"},
    "commands_retention": {"click"},
    "commands_chain": {"click"},
    "commands_chronology": {"click"},
    "commands_codes": {"click"},
    "commands_finding": {"click"},
    "commands_asking": {"click"},
    "commands_checking": {"click"},
    "commands_parsing": {"click"},
    "commands_photos": {"click"},
    "commands_printing": {"click"},
    "commands_provenance": {"click"},
    "commands_sending": {"click"},
    "commands_serving": {"click", "segno"},
    "commands_statements": {"click"},
    "commands_taking": {"click"},
    "command": {"click"},
}
"""The packages from outside that a room may use, beside the standard library."""

SOURCES = sorted(HOUSE.rglob("*.py"))


def room_of(source: Path) -> str:
    first = source.relative_to(HOUSE).parts[0]
    return first.removesuffix(".py")


def imports(source: Path) -> set[str]:
    """Every module that a file imports, wherever in it the import stands."""
    found: set[str] = set()
    for node in ast.walk(ast.parse(source.read_text("utf-8"))):
        if isinstance(node, ast.Import):
            found.update(alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{source}: imports name their room"
            named = [f"catalogue.{alias.name}" for alias in node.names]
            found.update(named if node.module == "catalogue" else [node.module or ""])
    return found


@pytest.mark.parametrize("source", SOURCES, ids=lambda path: str(path.relative_to(HOUSE)))
def test_a_room_looks_only_downstairs(source):
    room = room_of(source)
    if room == "__init__":
        return
    assert room in BELOW, f"the room {room} is not on the plan"
    allowed = BELOW[room] | {room, "errors", "places", "__init__"}
    for module in imports(source):
        top, _, rest = module.partition(".")
        if top == "catalogue" and rest:
            assert rest.partition(".")[0] in allowed, f"{room} looks up into {module}"
        elif top not in sys.stdlib_module_names:
            assert top in OUTSIDE.get(room, set()), f"{room} brings in {top}"


def test_the_plan_has_no_circles():
    done: set[str] = set()
    while len(done) < len(BELOW):
        free = {
            room
            for room, below in BELOW.items()
            if room not in done and below & set(BELOW) <= done
        }
        assert free, f"these rooms look at each other: {set(BELOW) - done}"
        done |= free


def test_every_room_of_the_plan_is_there():
    assert {room_of(source) for source in SOURCES} - {"__init__"} == set(BELOW)
