"""A studio with something of every kind in it, the forms that its pages hold, and texts that forms break on.

Whoever fuzzes the desk sends these forms, bent; whoever looks for what was typed finds it on the page.
"""

from __future__ import annotations

import html
import random
from dataclasses import dataclass, field
from typing import Any

import lxml.html
from desk_studio import Desk, filled
from made_records import ARTIST, CLIENT, WHO, full_job, full_work

from catalogue.desk import create_app
from catalogue.record.rules import values_within
from catalogue.studio import Studio

NASTY = (
    "", " ", "\x00", "a\x00b", "\x1b[31m\x07", "\u202e\u2066 siht daer", "\u2028\u2029", "\ufeff\u200b", "\U0001f5bc\u0301" * 9,
    "-1", "0", "1e308", "NaN", "inf", "9" * 400, "-0.0", "1,5,5", "0x1F", "٣", "½", "31 February 1900", "9999-99-99", "0000-00-00",
    "2026-03-01T00:00:00Z", "../../etc/passwd", "..\\..\\x", "/etc/passwd\x00.jpg", "{{7*7}}", "${7*7}", "%s%n", "<script>alert(1)</script>",
    "'; DROP TABLE drafts; --", '{"a":', "[" * 9000, '{"start": 1e999, "end": [], "written": {}, "markup": null}', "null", "true",
    "party/", "work/new", "inscription/", "inscription/nothing", "material/" + "x" * 300, "https://elsewhere.example/%00", "urn:x:\n",
    "\r\nSet-Cookie: x=1", "@p @h( [[[ ]]] <= => ((( {{{ ///*", "a" * 70_000, "ä̈" * 3000,
)  # fmt: skip
"""What a hand, a pasted text or somebody's program may put into a blank."""

RAW = (b"\xed\xa0\x80", b"\xff\xfe\x00", b"%E0%80%80", b"\xc3(")
"""Bytes that are no text in UTF-8: half of a pair, a mark of another encoding, an overlong NUL."""


@dataclass
class Form:
    """One form of a page: where it goes, what stands in it, which blanks are typed in."""

    page: str
    action: str
    fields: list[tuple[str, str]]
    typed: list[str]
    endpoint: str = ""


@dataclass
class Ground:
    """A desk to send forms to: ids of everything in it, and its forms by endpoint."""

    desk: Desk
    ids: dict[str, list[str]]
    forms: dict[str, list[Form]] = field(default_factory=dict)

    @property
    def app(self) -> Any:
        return self.desk.app

    def any_id(self, chance: random.Random) -> str:
        return chance.choice([each for held in self.ids.values() for each in held])


def furnished(studio: Studio) -> tuple[Desk, dict[str, list[str]]]:
    """The desk of a studio with a full work, a full job, their people, and the small studio of the desk's tests."""
    ids = filled(studio)
    work = full_work()
    job = full_job(work)
    for record in (ARTIST, CLIENT, work, job):
        studio.save(record, who=WHO)
    app = create_app(studio)
    app.config["PROPAGATE_EXCEPTIONS"] = False
    desk = Desk(studio=studio, app=app, client=app.test_client(), **ids)
    desk.begin()
    every = {
        "work": [work.id, ids["low_water"], ids["ferry"]],
        "job": [job.id, ids["job"]],
        "party": [ARTIST.id, CLIENT.id, ids["artist"]],
        "reference": [ids["reference"]],
        "inscription": [each.id for each in work.inscriptions] + [ids["label"]],
        "photo": [each.id for each in work.photos],
        "value": sorted({each.id for each in values_within(work) if hasattr(each, "id")}),
    }
    return desk, every


def pages_to_read(desk: Desk, ids: dict[str, list[str]]) -> list[str]:
    """Pages whose forms are looked at."""
    found = ["/", "/who", "/work/new", "/jobs/new", "/people/new", "/kept", "/find?q=hollis", "/find/saved", "/send", "/take-in", "/enter",
             f"/reference/{desk.reference}"]  # fmt: skip
    for uuid in (ids["work"][0], ids["work"][1]):
        work = desk.studio.read(f"work/{uuid}").record
        own = f"/work/{uuid}"
        found += [
            own,
            f"{own}/photos",
            f"{own}/papers",
            f"{own}/send",
            f"{own}/history",
            f"{own}/aside",
            f"{own}/read",
        ]
        found += [f"{own}/photos/{each.id}/scale" for each in work.photos[:1]]
        for mark in work.inscriptions[:1]:
            found += [
                f"{own}/read/{mark.id}{end}" for end in ("", "/beside", "/alike", "/without")
            ]
        for name in ("findings", "repairs", "treatments", "tests", "provenance", "checks", "notes", "movements", "inquiries", "relations"):  # fmt: skip
            found.append(f"{own}/enter/{name}")
            found += [f"{own}/enter/{name}/{each.id}" for each in getattr(work, name)[:1]]
        for each in work.treatments[:1]:
            found += [
                f"{own}/enter/treatments/{each.id}/steps",
                f"{own}/enter/treatments/{each.id}/steps/{each.steps[0].id}",
            ]
    for uuid in ids["job"]:
        own = f"/jobs/{uuid}"
        job = desk.studio.read(f"job/{uuid}").record
        found += [
            f"{own}/edit",
            f"{own}/papers",
            f"{own}/enter/notes",
            f"{own}/enter/proposals",
        ]
        for each in job.proposals[:1]:
            found += [f"{own}/enter/proposals/{each.id}", f"{own}/enter/proposals/{each.id}/options",
                      f"{own}/enter/proposals/{each.id}/options/{each.options[0].id}"]  # fmt: skip
    for uuid in ids["party"][:2]:
        found += [
            f"/people/{uuid}",
            f"/people/{uuid}/edit",
            f"/people/{uuid}/history",
            f"/people/{uuid}/aside",
        ]
    return found


def forms_of(page: str, text: str) -> list[Form]:
    """The forms of a page that change something, as a browser would send them."""
    found = []
    for form in lxml.html.fromstring(text).forms:
        if form.method != "POST":
            continue
        fields = [(name, value or "") for name, value in form.form_values()]
        typed = [
            each.get("name")
            for each in form.xpath(
                ".//textarea[@name and not(@readonly)] | .//input[@name and (not(@type) or @type='text' or @type='search')]"
            )
        ]
        fields += [
            (each.get("name"), each.get("value", ""))
            for each in form.xpath(".//button[@name]")[:1]
        ]
        found.append(Form(page, form.get("action") or page, fields, typed))
    return found


def gathered(desk: Desk, ids: dict[str, list[str]]) -> Ground:
    """Every form of every page looked at, by the endpoint that it is sent to."""
    ground = Ground(desk, ids)
    adapter = desk.app.url_map.bind("localhost")
    for page in pages_to_read(desk, ids):
        answer = desk.client.get(page)
        assert answer.status_code in (200, 302), (page, answer.status_code)
        if answer.status_code != 200:
            continue
        for form in forms_of(page, answer.text):
            form.endpoint, _ = adapter.match(
                form.action.partition("#")[0].partition("?")[0], method="POST"
            )
            known = ground.forms.setdefault(form.endpoint, [])
            if len(known) < 12:
                known.append(form)
    return ground


def on_the_page(text: str, words: str) -> bool:
    """Whether these words can be read on a page, as a person reads it."""
    return words in html.unescape(text)
