"""Hostile texts in every field of every record, on every page and paper: nothing of them becomes markup or runs.

Judges from outside: lxml's HTML parser for what a page is made of, and Chromium for what runs.
"""

from __future__ import annotations

import io
import re
import zipfile
from contextlib import contextmanager
from threading import Thread
from urllib.parse import urlsplit

import lxml.html
import pytest
from desk_studio import filled, picture
from hostile_records import TEXTS, hostile_records
from test_desk_browser import PATIENCE_MS, browser  # noqa: F401
from werkzeug.exceptions import HTTPException
from werkzeug.http import parse_options_header
from werkzeug.serving import make_server

from catalogue.desk import create_app
from catalogue.errors import CatalogueError
from catalogue.record import Number
from catalogue.studio import Studio

OF_EACH_KIND = 3
TURNED = "5332114"  # 1234 * 4321: what a template engine would make of {{1234*4321}}
LEADS = (
    "href",
    "src",
    "action",
    "formaction",
    "data",
    "poster",
    "xlink:href",
    "{http://www.w3.org/1999/xlink}href",
)
RUNS = re.compile(r"[\s\x00-\x1f]*(javascript|data|vbscript):(?!image/)", re.IGNORECASE)

RAN = re.compile(r"a text ran|Content Security Policy|Refused to")


def laid_open(studio):
    """The hostile records on file, with photographs and papers that exist, beside the small studio."""
    ids = filled(studio)
    made, told = hostile_records()
    for name in ("artist", "client", "reference", "work", "job"):
        studio.save(made[name], who="Nell Quince")
    kept = studio.read(made["work"].document)
    studio.add_photos(
        kept,
        [(studio.taken_in(picture(), name="back.jpg", face="face/back"), picture())],
        who="Nell Quince",
    )
    studio.welcome(TEXTS[1].format(n=0))
    studio.save_search("hollis " + TEXTS[3].format(n=0)[:60], "title:x")
    studio.catch_up()
    return ids, made, told


@pytest.fixture(scope="module")
def house(tmp_path_factory):
    with Studio.init(tmp_path_factory.mktemp("hostile") / "studio") as studio:
        _, made, told = laid_open(studio)
        app = create_app(studio)
        client = app.test_client()
        token = (
            client.get("/who")
            .text.partition('name="csrf-token" content="')[2]
            .partition('"')[0]
        )
        client.post("/who", data={"csrf_token": token, "name": TEXTS[0].format(n=0)})
        yield studio, app, client, made, told


def parsed(text: str):
    """A page as a browser's parser sees it."""
    parser = lxml.html.HTMLParser(encoding="utf-8")
    return lxml.html.document_fromstring(
        text.replace("\x00", "").encode("utf-8"), parser=parser
    )


def loose(text: str, page=None) -> list[str]:
    """What of a hostile text became part of a page: an element, an attribute, an address that runs."""
    page = parsed(text) if page is None else page
    found = [f"the sum was done: {TURNED}"] if TURNED in text else []
    for each in page.iter():
        if not isinstance(each.tag, str):
            continue
        said = f"<{each.tag} {dict(each.attrib)}>"[:300]
        if each.tag.startswith("loose-") or each.get("src") == "x" or each.tag == "iframe":
            found.append(f"an element: {said}")
        if any(name.startswith("on") or name == "srcdoc" for name in each.attrib):
            found.append(f"an event: {said}")
        if any("ran()" in name or "loose" in name for name in each.attrib):
            found.append(f"an attribute: {said}")
        if each.tag == "script" and "ran()" in (each.text or ""):
            found.append(f"a script: {said}")
        led = (each.get(name) or "" for name in LEADS)
        found += [f"an address that runs: {said}" for to in led if RUNS.match(to)]
    return found


def walked(client, app, starts):
    """Every page within reach of some, a few of each kind: (address, text, the same parsed, how many of each kind)."""
    adapter = app.url_map.bind("localhost")
    seen: set[str] = set()
    counts: dict[str, int] = {}
    waiting = list(starts)
    while waiting:
        address = waiting.pop(0).partition("#")[0]
        if address in seen:
            continue
        seen.add(address)
        try:
            endpoint, _ = adapter.match(urlsplit(address).path, method="GET")
        except HTTPException:  # an address of nothing here
            continue
        if endpoint == "static" or counts.get(endpoint, 0) >= (
            OF_EACH_KIND if not endpoint.startswith("values.") else 60
        ):
            continue
        counts[endpoint] = counts.get(endpoint, 0) + 1
        answer = client.get(address)
        assert answer.status_code < 500, address
        if answer.status_code in (301, 302, 303):
            waiting.append(answer.headers["Location"])
        elif answer.mimetype in ("text/html", "image/svg+xml"):
            text = answer.text
            page = parsed(text)
            yield address, text, page, counts
            waiting += [link for link in page.xpath("//a/@href | //img/@src | //*[local-name()='a']/@href") if link.startswith(("/", "?"))
                        and not link.startswith("//")]  # fmt: skip
        answer.close()


def starts(made) -> list[str]:
    work, job = made["work"], made["job"]
    own, his = f"/work/{work.id}", f"/jobs/{job.id}"
    mark = work.inscriptions[0].id
    found = [
        own, f"{own}/read/{mark}", f"{own}/read/{mark}/beside", f"{own}/read/{mark}/alike", f"{own}/read/{mark}/without",
        f"{own}/check", f"{own}/treat", f"{own}/argue", f"{own}/argue/chain?on=1938", f"{own}/argue/chronology", f"{own}/argue/layers",
        f"{own}/compare", f"{own}/before-and-after", f"{own}/open", f"{own}/map", f"{own}/map.svg", f"{own}/print", f"{own}/history", f"{own}/aside",
        f"{own}/send", f"{own}/send/borders", f"{own}/photos", f"{own}/papers", his, f"{his}/edit", f"{his}/print", f"{his}/papers",
        f"/people/{made['artist'].id}", f"/people/{made['artist'].id}/edit", f"/people/{made['client'].id}/everything",
        f"/people/{made['artist'].id}/history", f"/people/{made['artist'].id}/aside?into=x", f"/reference/{made['reference'].id}",
        "/", "/people", "/jobs", "/families", "/kept", "/sent", "/send", "/find/saved", "/who",
    ]  # fmt: skip
    for record, at in ((work, own), (job, his)):
        for name in (each.name for each in record.__dataclass_fields__.values()):
            held = getattr(record, name)
            if isinstance(held, tuple) and held and hasattr(held[0], "id"):
                found += [f"{at}/enter/{name}", f"{at}/enter/{name}/{held[0].id}"]
    for text in TEXTS:
        asked = __import__("urllib.parse").parse.quote(text.format(n=0))
        found += [f"/find?q={asked}", f"/find/part?q={asked}", f"/people?q={asked}"]
    return found


def test_enough_fields_are_hostile(house):
    """The records are made hostile by their own rules: a field that takes any text has one."""
    told = house[4]
    assert len(told) > 150
    assert {"Title.text", "Note.text", "Transcript.markup", "PartyName.text", "Job.requirements", "PlannedStep.text", "Photo.file_name",
            "Evidence.text", "Price.written", "DateSpan.written"} <= set(told.values())  # fmt: skip


def test_nothing_gets_loose_on_any_page(house):
    _, app, client, made, _ = house
    faults, last = [], {}
    for address, text, page, counts in walked(client, app, starts(made)):
        faults += [f"{address}: {each}" for each in loose(text, page)]
        last = counts
    assert not faults, "\n".join(faults[:60])
    assert len(last) > 40, sorted(last)


def test_nothing_gets_loose_from_what_is_typed(house):
    """Pieces of pages, refusals, and forms drawn again."""
    _, _, client, made, _ = house
    token = (
        client.get("/who").text.partition('name="csrf-token" content="')[2].partition('"')[0]
    )
    own = f"/work/{made['work'].id}"
    faults = []
    for number, text in enumerate(TEXTS):
        text = text.format(n=number)
        for path in ("/render", f"{own}/foretell", f"{own}/note", f"{own}/read", f"{own}/enter/findings", "/people/new", "/jobs/new", "/work/new",
                     f"{own}/size", f"{own}/aside/{number}", "/find/saved", "/together", f"/people/{made['artist'].id}/apart"):  # fmt: skip
            told = dict.fromkeys(("markup", "text", "kind", "name", "title", "artist", "why", "what", "other", "names.0.text", "observations.0.length_mm",
                                  "reason", "made", "hand", "record", "height_mm", "draft_called"), text)  # fmt: skip
            for more in ({}, {"more": "notes"}):
                answer = client.post(
                    path,
                    data={
                        "csrf_token": token,
                        "revision": "1",
                        **told,
                        **more,
                        "draft": text,
                        "draft_place": "/work/new",
                    },
                )
                assert answer.status_code < 500, (path, text)
                if answer.mimetype == "text/html" and answer.text.strip():
                    faults += [f"{path} {text}: {each}" for each in loose(answer.text)]
    assert not faults, "\n".join(faults[:40])


def test_nothing_gets_loose_on_any_paper_or_parcel(house, parcel):
    studio, _, client, made, _ = house
    faults, papers = [], 0
    for kind, record in (("work", made["work"]), ("jobs", made["job"])):
        for each in studio.printable():
            answer = client.get(
                f"/{kind}/{record.id}/print/paper?paper={each}&as=html&page=a4&work={made['work'].id}"
            )
            assert answer.status_code < 500, each
            if answer.status_code == 200:
                papers += 1
                faults += [f"{each}: {one}" for one in loose(answer.get_data(as_text=True))]
                assert_safe_name(answer)
    assert papers > 8
    assert parcel
    for page in parcel:
        faults += [f"{page.name}: {each}" for each in loose(page.read_text("utf-8"))]
    assert not faults, "\n".join(faults[:40])


def assert_safe_name(answer) -> None:
    """The head of a download holds one file name and nothing else (RFC 6266)."""
    head = answer.headers.get("Content-Disposition", "")
    assert not re.search(r"[\r\n\x00-\x1f]", head)
    kind, told = parse_options_header(head)
    assert kind == "attachment"
    assert set(told) <= {"filename"}, head
    assert "/" not in told["filename"].replace("\\", "/"), head


@pytest.mark.parametrize(
    "name",
    [
        'a"; filename="b.exe',
        "a\r\nSet-Cookie: x=1\r\n.pdf",
        "../../x.pdf",
        "\u202efdp.exe",
        '<img src=x onerror="ran()">.pdf',
        "é;'.pdf",
        "x" * 400,
    ],
)
def test_the_name_of_a_download_is_one_name(house, name):
    studio, _, client, made, _ = house
    token = (
        client.get("/who").text.partition('name="csrf-token" content="')[2].partition('"')[0]
    )
    own = f"/work/{made['work'].id}"
    told = {
        "csrf_token": token,
        "revision": str(studio.read(made["work"].document).revision),
        "kind": "paper/report",
        "title": "A report",
    }
    answer = client.post(
        f"{own}/papers",
        data={**told, "file": (io.BytesIO(b"%PDF-1.4"), name)},
        content_type="multipart/form-data",
    )
    assert answer.status_code < 500
    if answer.status_code == 302:
        paper = studio.read(made["work"].document).record.papers[-1]
        for kept in studio.read(made["work"].document).record.papers:
            if kept.title == "A report":
                got = client.get(f"{own}/papers/{kept.id}/file")
                assert got.status_code == 200
                assert_safe_name(got)
                assert got.mimetype == "application/octet-stream"
                got.close()
        assert paper
    else:
        page = answer.get_data(as_text=True)
        assert not loose(page)


def test_hostile_numbers_are_refused_by_the_record_itself():
    """What stands in addresses and file names cannot be a text of any kind."""
    with pytest.raises(CatalogueError):
        Number(text="", kind="number/lot")


@contextmanager
def answering(app):
    """The desk of the very same studio at an address of this machine."""
    server = make_server("127.0.0.1", 0, app, threaded=True)
    thread = Thread(target=server.serve_forever)
    thread.start()
    try:
        yield f"http://127.0.0.1:{server.port}"
    finally:
        server.shutdown()
        thread.join()


@pytest.fixture(scope="module")
def parcel(house, tmp_path_factory):
    """A parcel of all of it, opened."""
    studio = house[0]
    folder = tmp_path_factory.mktemp("parcel")
    studio.export("parcel", "full", folder / "sent", who="Nell Quince", reason="a test")
    (sent,) = folder.rglob("*.zip")
    with zipfile.ZipFile(sent) as opened:
        opened.extractall(folder / "opened")
    return sorted((folder / "opened").rglob("*.html"))


@pytest.mark.browser
def test_nothing_runs_in_a_real_browser(house, parcel, browser):  # noqa: F811
    """Chromium itself is asked: no script of a text ran, and the policy had nothing to refuse."""
    _, app, _, made, _ = house
    context = browser.new_context()
    context.set_default_timeout(PATIENCE_MS)
    context.clock.install()
    context.add_init_script("window.ran = () => { console.error('a text ran'); }")
    page = context.new_page()
    complaints = []
    page.on(
        "console",
        lambda said: (
            complaints.append((page.url, said.text)) if RAN.search(said.text) else None
        ),
    )
    page.on("pageerror", lambda fault: complaints.append((page.url, str(fault))))
    page.on("dialog", lambda dialog: complaints.append((page.url, dialog.message)))
    with answering(app) as base:
        page.goto(f"{base}/who")
        page.locator("button[name=who]").filter(has_text="onload").first.click()
        own, his = f"/work/{made['work'].id}", f"/jobs/{made['job'].id}"
        mark = made["work"].inscriptions[0].id
        for path in (own, f"{own}/read/{mark}", f"{own}/argue", f"{own}/argue/chain", f"{own}/map", f"{own}/enter/findings", his, f"{his}/edit",
                     f"/people/{made['artist'].id}/edit", f"{own}/history", "/"):  # fmt: skip
            page.goto(base + path)
            page.wait_for_load_state()
        # while one types: the rendering, the draft, the other's name on the same record
        page.goto(f"{base}{own}/read/{mark}")
        page.locator("#markup").fill("".join(text.format(n=1) for text in TEXTS))
        page.clock.fast_forward(1300)
        page.locator("#kept").get_by_text("kept as a draft").wait_for()
        page.goto(f"{base}/")
    for file in parcel[:6]:
        page.goto(file.as_uri())
    context.close()
    assert complaints == []
