"""Every route under fire: bent forms, strange addresses, no token. No fault of the program, and nothing typed is lost.

A short run by seed; `DORSE_FORMS=500` sends so many forms to each route (3 otherwise).
"""

from __future__ import annotations

import io
import os
import random
import re
from urllib.parse import quote

import pytest
from desk_forms import NASTY, RAW, Form, furnished, gathered, on_the_page
from werkzeug.datastructures import MultiDict

from catalogue.record import new_id
from catalogue.studio import Studio

# A file that is handed over in pieces is closed when it is collected.
pytestmark = pytest.mark.filterwarnings(
    "ignore::ResourceWarning", "ignore::pytest.PytestUnraisableExceptionWarning"
)

HOW_MANY = int(os.environ.get("DORSE_FORMS", "3"))
SEED = int(os.environ.get("DORSE_SEED", "1887"))
NEEDLE = 'Kelp & <i>"needle" 1887'
SLOW = frozenset({"machine_drafts.begin"})
"""What sets an engine to work is sent nothing that it could work at."""
DRAWN_AGAIN = frozenset(
    {"values.save", "records.save", "papers.take_in", "slip.write", "slip.write_again"}
)
"""Forms that are also drawn again without a refusal: for one more blank, for a look."""
BEGUN = re.compile(r"\.(by|on|kind|visibility|language)$")
"""Blanks within a further value that stand filled before anybody types: alone they make no value."""
FAULT = re.compile(
    r"Traceback \(most recent|A fault of the program|werkzeug\.|jinja2\.|sqlite3\."
)
STRANGE = ("0", "-1", "NaN", "%00", "%ff%fe", "..%2f..%2fetc", "%E2%80%AE", "%3Cscript%3E", "x" * 900, "new", "null", "99999999999999999999",
           "00000000-0000-0000-0000-000000000000", "%20", "1,2,3,4", "thumb", "a-b", "plain", "0-0")  # fmt: skip
ASKED = ("q", "page", "photo", "draft", "from", "window", "on", "one", "two", "into", "about", "next", "name", "check", "before", "after",
         "side", "face", "part", "way", "paper", "kind", "year", "outline", "work", "at", "x", "country", "to", "value")  # fmt: skip


@pytest.fixture(scope="module")
def ground():
    with Studio.open("memory:") as studio:
        yield gathered(*furnished(studio))


def rules(app, method):
    return sorted(
        (each for each in app.url_map.iter_rules() if method in each.methods),
        key=lambda each: (each.endpoint, each.rule),
    )


def address(rule, ground, chance, strange=0.15):
    """An address of a route: with ids that exist, that are of another kind, or that are none."""

    def piece(found):
        kind, name = (found[1] or "").rstrip(":"), found[2]
        if chance.random() < strange and kind != "uuid":
            return chance.choice(STRANGE)
        if kind == "uuid":
            if chance.random() < strange:
                return new_id() if chance.random() < 0.5 else ground.any_id(chance)
            names = {
                "uuid": {"/jobs": "job", "/peop": "party", "/refe": "reference"}.get(
                    rule.rule[:5], "work"
                )
            }
            return chance.choice(ground.ids.get(names.get(name, name)) or ground.ids["value"])
        known = {"field": ["findings", "treatments", "notes", "proposals", "titles"], "inner": ["steps", "observations", "options"],
                 "fact": ["title", "note", "size", "made", "medium"], "act": ["withdraw", "merge", "forget", "x"], "verb": ["read"],
                 "filename": ["desk.css"], "recipe": ["thumb", "screen"], "sha256": ["ab" * 32], "token": ["k3J"]}  # fmt: skip
        return chance.choice(known.get(name, ["0"]))

    return re.sub(r"<(?:(\w+(?:\([^)]*\))?):)?(\w+)>", piece, rule.rule)


def bent(form, ground, chance):
    """The blanks of a form as a person, a program or a fault would send them."""
    fields = list(form.fields)
    for _ in range(chance.randint(0, 4)):
        name = chance.choice(fields)[0] if fields else "text"
        if name in ("csrf_token",) and chance.random() < 0.9:
            continue
        at = next((number for number, each in enumerate(fields) if each[0] == name), None)
        match chance.randrange(7):
            case 0 if at is not None:
                del fields[at]
            case 1:
                fields.append((name, chance.choice(NASTY)))
            case 2 if at is not None:
                fields[at] = (name, ground.any_id(chance))
            case 3:
                fields.append(
                    (
                        f"{name}.0.{chance.choice(['id', 'text', 'party', 'x'])}",
                        chance.choice(NASTY),
                    )
                )
            case 4:
                fields.append((chance.choice(NASTY)[:300], chance.choice(NASTY)))
            case _ if at is not None:
                fields[at] = (name, chance.choice(NASTY))
    if chance.random() < 0.15:
        fields = [(name, chance.choice(["0", "-3", "1", "9" * 30, "x", ""])) if name == "revision" else (name, text) for name, text in fields]  # fmt: skip
    return fields


def sent(client, path, fields, token, chance):
    """A form sent in one of the ways that the web knows, and whether it went out whole."""
    told = MultiDict(
        [
            *((name, text) for name, text in fields if name != "csrf_token"),
            ("csrf_token", token),
        ]
    )
    way = chance.random()
    if way < 0.8:
        return client.post(path, data=told), True
    if way < 0.9:
        told.add("files", (io.BytesIO(chance.choice([*RAW, b"", b"\x89PNG\r\n", b"PK\x03\x04"])), chance.choice(["../x.jpg", "a\x00.png", "", "\u202egnp.x"])))  # fmt: skip
        return client.post(path, data=told, content_type="multipart/form-data"), True
    if way < 0.95:
        raw = (
            b"csrf_token="
            + quote(token).encode()
            + b"&revision=1&text="
            + chance.choice(RAW)
            + b"&%ff=1&;&=&"
        )
        kind = "application/x-www-form-urlencoded"
        return client.post(path, data=raw, content_type=kind), False
    raw = chance.choice(NASTY).encode("utf-8", "surrogatepass")
    kind = chance.choice(
        ["application/json", "text/plain", "multipart/form-data; boundary=x", "x"]
    )
    return client.post(path, data=raw, headers={"X-CSRFToken": token}, content_type=kind), False


def words(answer) -> str:
    """What a page says; nothing for a file."""
    return answer.text if answer.mimetype == "text/html" else ""


def is_lost(ground, endpoint, answer) -> bool:
    """Whether a form was not saved, and what was typed is neither on the page nor in a draft."""
    again = answer.status_code == 200 and endpoint in DRAWN_AGAIN
    if not (again or 400 <= answer.status_code < 500) or answer.status_code == 413:
        return False
    drafts = ground.desk.studio.ledger.drafts()
    return not on_the_page(words(answer), NEEDLE) and not any(
        "needle" in each.text for each in drafts
    )


def test_no_form_however_bent_makes_a_fault_or_loses_what_was_typed(ground, caplog):
    client, studio = ground.desk.client, ground.desk.studio
    faults = []
    for rule in rules(ground.app, "POST"):
        for number in range(HOW_MANY):
            chance = random.Random(f"{SEED} {rule.rule} {number}")
            forms = ground.forms.get(rule.endpoint, []) if rule.endpoint not in SLOW else []
            form = (
                chance.choice(forms)
                if forms
                else Form("", "", [("text", "x"), ("why", "y"), ("revision", "1")], [])
            )
            path = (
                form.action.partition("#")[0]
                if forms and chance.random() < 0.8
                else address(rule, ground, chance)
            )
            fields = bent(form, ground, chance)
            blanks = [name for name in form.typed if not BEGUN.search(name)]
            needle = chance.choice(blanks) if blanks else None
            if needle:
                fields = [each for each in fields if each[0] != needle] + [(needle, NEEDLE)]
            for draft in studio.ledger.drafts():
                studio.ledger.drop_draft(draft.id)
            answer, whole = sent(client, path, fields, ground.desk.token("/who"), chance)
            said = f"{rule.endpoint} {number} POST {path} {answer.status_code}"
            if answer.status_code >= 500 or FAULT.search(words(answer)):
                faults.append(
                    f"{said}: a fault of the program: {fields!r:.600} {caplog.text[-900:]}"
                )
            elif needle and whole and is_lost(ground, rule.endpoint, answer):
                faults.append(f"{said}: what was typed into {needle!r} is lost")
            if answer.status_code in (301, 302, 303) and re.search(
                r"^(https?:)?//(?!localhost)", answer.headers["Location"]
            ):
                faults.append(f"{said}: leads away to {answer.headers['Location']}")
            if not client.get("/who").text.count("Working"):
                ground.desk.begin()
    assert not faults, "\n".join(faults)


def test_no_address_however_strange_makes_a_fault(ground, caplog):
    faults = []
    for rule in rules(ground.app, "GET"):
        for number in range(HOW_MANY):
            chance = random.Random(f"{SEED} {rule.rule} {number}")
            path = address(rule, ground, chance, strange=0.5)
            query = "&".join(
                f"{chance.choice(ASKED)}={quote(chance.choice(NASTY)[:1500]) if chance.random() < 0.7 else chance.choice(STRANGE)}"
                for _ in range(chance.randint(0, 4))
            )
            answer = ground.desk.client.get(f"{path}?{query}" if query else path)
            if answer.status_code >= 500 or FAULT.search(words(answer)):
                faults.append(
                    f"{rule.endpoint} {number} GET {path}?{query:.300} {answer.status_code} {caplog.text[-900:]}"
                )
            answer.close()
    assert not faults, "\n".join(faults)


def test_a_post_without_its_token_saves_nothing_anywhere(ground):
    """Source: the fact sheet on the front end, section 7: no token 400."""
    client, ledger = ground.desk.client, ground.desk.studio.ledger
    before = (ledger.last(), len(ledger.drafts()), ledger.setting("searches"))
    chance = random.Random(SEED)
    for rule in rules(ground.app, "POST"):
        forms = ground.forms.get(rule.endpoint)
        form = (
            forms[0]
            if forms
            else Form(
                "",
                address(rule, ground, chance, strange=0),
                [("text", "x"), ("revision", "1")],
                [],
            )
        )
        path = form.action.partition("#")[0]
        told = MultiDict(
            (name, text or "x") for name, text in form.fields if name != "csrf_token"
        )
        for more in ({}, {"csrf_token": "x"}, {"csrf_token": ""}):
            answer = client.post(path, data=MultiDict([*told.items(multi=True), *more.items()]))
            assert answer.status_code == 400, (rule.endpoint, path, more, answer.status_code)
        for kind in ("application/json", "text/plain", "multipart/form-data; boundary=y"):
            answer = client.post(path, data=b'{"text": "x"}', content_type=kind)
            assert answer.status_code == 400, (rule.endpoint, path, kind, answer.status_code)
        assert client.post(path, data=told, headers={"X-CSRFToken": "x"}).status_code == 400
    assert (ledger.last(), len(ledger.drafts()), ledger.setting("searches")) == before


@pytest.mark.parametrize("method", ["PUT", "DELETE", "PATCH", "TRACE", "PROPFIND"])
def test_other_methods_do_nothing(ground, method):
    before = ground.desk.studio.ledger.last()
    token = ground.desk.token("/who")
    for path in ("/", f"/work/{ground.ids['work'][0]}", "/who", "/drafts", "/render", "/send"):
        answer = ground.desk.client.open(
            path,
            method=method,
            headers={"X-CSRFToken": token, "X-HTTP-Method-Override": "POST"},
        )
        assert answer.status_code in (400, 405), (path, method, answer.status_code)
    assert ground.desk.studio.ledger.last() == before


def test_a_post_in_disguise_is_none(ground):
    """A GET that says it were a POST, by header or by field, changes nothing."""
    before = ground.desk.studio.ledger.last()
    path = f"/work/{ground.ids['work'][0]}/note"
    for query in ("?_method=POST&text=x", "?text=x&revision=1&kind=note/description"):
        answer = ground.desk.client.get(
            path + query, headers={"X-HTTP-Method-Override": "POST"}
        )
        assert answer.status_code in (404, 405)
    assert ground.desk.studio.ledger.last() == before


def test_a_megabyte_of_label_comes_back_whole(ground):
    """A label has at most 1 MB: it is rendered, kept as a draft and refused by no limit of the web's."""
    text = ("Lot 12 Ebb\n" * 100_000)[: 1024 * 1024 - 40] + "\n" + NEEDLE
    path = f"/work/{ground.ids['work'][2]}/note"
    answer = ground.desk.post(
        path, revision="1", text=text, kind="no such kind", visibility="visibility/open"
    )
    assert answer.status_code == 422
    assert on_the_page(answer.text, NEEDLE)
