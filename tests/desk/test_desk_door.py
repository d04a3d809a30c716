"""The door for other machines: everything closed until the password is given, and slow to be guessed at.

The strangers come from 192.168.7.0/24 (a private network, RFC 1918).
"""

from __future__ import annotations

import json
import re
import socket
import stat
import subprocess
import sys
import urllib.parse
import urllib.request
from contextlib import contextmanager
from http.cookiejar import CookieJar

import pytest
from click.testing import CliRunner
from desk_studio import Desk, filled

from catalogue.command import main
from catalogue.desk import create_app, door, own_addresses, password
from catalogue.desk.knocking import (
    FREE_TRIES,
    LONGEST_WAIT,
    REMEMBERED,
    STRANGERS_TRIES,
    Knocking,
)
from catalogue.errors import BadData, BadSetting
from catalogue.studio import Studio

HOST, TABLET, OTHER = "192.168.7.2", "192.168.7.31", "192.168.7.32"
WORDS = "low water at dusk"
PAGE = {"Host": f"{HOST}:8710", "Accept": "text/html,*/*;q=0.8"}


@pytest.fixture(scope="module")
def house():
    """A studio with a password; what is kept of it, to be put back for each test."""
    with Studio.open("memory:") as studio:
        ids = filled(studio)
        password.choose(studio.folder, WORDS)
        yield studio, ids, (studio.folder / password.FILE).read_text()


@pytest.fixture
def lan(house):
    studio, ids, kept = house
    path = studio.folder / password.FILE
    path.write_text(kept)
    path.chmod(0o600)
    app = create_app(studio, hosts=("127.0.0.1", HOST))
    door.reached_at(app, [f"http://{HOST}:8710/"])
    return Desk(studio=studio, app=app, client=app.test_client(), **ids)


def ask(client, path, method="GET", address=TABLET, headers=None, **more):
    return client.open(
        path, method=method, headers={**PAGE, **(headers or {})},
        environ_base={"REMOTE_ADDR": address}, **more,
    )  # fmt: skip


def token_of(answer) -> str:
    return re.search(r'name="csrf_token" value="([^"]+)"', answer.text)[1]


def enter(client, typed=WORDS, address=TABLET, onward="/"):
    token = token_of(ask(client, "/enter", address=address))
    data = {"csrf_token": token, "password": typed, "next": onward}
    return ask(client, "/enter", "POST", address, data=data)


def cookie_of(client):
    return client.session_transaction(base_url=f"http://{HOST}:8710")


def every_address(desk):
    """An address for every rule of the desk and every way of asking it."""
    filled_in = {
        "uuid": desk.low_water, "kind": "work", "sha256": "a" * 64, "recipe": "screen", "token": "b" * 32,
        "box": "1-1-9-9", "filename": "desk.css", "number": "1",
    }  # fmt: skip
    for rule in desk.app.url_map.iter_rules():
        path = re.sub(
            r"<(?:(\w+)(?:\([^)]*\))?:)?(\w+)>",
            lambda found: filled_in.get(
                found[2],
                desk.low_water if found[1] == "uuid" else "1" if found[1] == "int" else "x",
            ),
            rule.rule,
        )
        for method in sorted(rule.methods):
            yield rule.endpoint, path, method


def test_nothing_but_the_door_is_answered_to_a_stranger(lan):
    """Every address of the desk, from another machine, without the password."""
    seen = 0
    inside = [
        b"Low Water",
        b"Nell Quince",
        b"Quillan",
        b"Hollis",
        str(lan.studio.folder).encode(),
    ]
    for endpoint, path, method in every_address(lan):
        if endpoint in ("door.ask", "door.enter", "static"):
            continue
        answer = ask(lan.app.test_client(), path, method)
        seen += 1
        if method == "GET":
            assert answer.status_code == 302, (endpoint, path)
            assert answer.headers["Location"].startswith("/enter?next="), path
        else:
            assert answer.status_code == 401, (method, path)
        assert not any(word in answer.data for word in inside), path
        fetched = ask(lan.app.test_client(), path, method, headers={"Accept": "*/*"})
        assert fetched.status_code == 401, (method, path)
    assert seen > 150


@pytest.mark.parametrize("path", ["/nowhere", "/photo/x/y.jpg", "/static/slip.js", "/static/../desk.key", "/%2e%2e/x"])  # fmt: skip
def test_unknown_addresses_and_other_files_are_closed_too(lan, path):
    assert ask(lan.client, path, headers={"Accept": "*/*"}).status_code == 401


@pytest.mark.parametrize("file", sorted(door.OPEN_FILES))
def test_the_files_of_the_entering_page_are_open(lan, file):
    with ask(lan.client, f"/static/{file}") as answer:
        assert answer.status_code == 200


def test_the_entering_page_tells_nothing_of_the_studio(lan):
    answer = ask(lan.client, "/enter?next=/people")
    assert answer.status_code == 200
    assert answer.text.count("<input") == 3  # the password, and two that nobody sees
    assert "script" not in answer.text
    assert "Low Water" not in answer.text


def test_this_machine_needs_no_password_and_others_do(lan):
    assert lan.client.get("/").status_code == 200
    assert enter(lan.client).headers["Location"] == "/"
    assert ask(lan.client, "/").status_code == 200
    assert ask(lan.app.test_client(), "/").status_code == 302


@pytest.mark.parametrize("header", ["X-Forwarded-For", "Forwarded", "X-Real-Ip", "Via"])
def test_what_a_proxy_says_never_opens_the_door(lan, header):
    said = {"Forwarded": "for=127.0.0.1"}.get(header, "127.0.0.1")
    assert ask(lan.client, "/", headers={header: said}).status_code == 302
    # what was passed on by a proxy on this very machine came from elsewhere
    passed_on = lan.client.get("/", headers={header: said, **PAGE})
    assert passed_on.status_code == 302


@pytest.mark.parametrize(
    "host", ["localhost", "127.0.0.1:8710", "backs.example", "192.168.7.3"]
)
def test_other_machines_know_this_one_by_the_printed_addresses_alone(lan, host):
    enter(lan.client)
    assert ask(lan.client, "/", headers={"Host": host}).status_code == 400


def test_a_wrong_password_is_refused_and_never_shown_again(lan):
    answer = enter(lan.client, "high water at dawn")
    assert answer.status_code == 403
    assert "not the studio" in answer.text
    assert "high water at dawn" not in answer.text
    assert ask(lan.client, "/").status_code == 302


def test_the_way_on_after_entering_stays_on_this_desk(lan):
    assert enter(lan.client, onward="/people").headers["Location"] == "/people"
    assert enter(lan.app.test_client(), onward="//else.example").headers["Location"] == "/"


def test_many_wrong_tries_are_turned_away_at_once_even_with_the_right_password(lan):
    for _ in range(FREE_TRIES):
        assert enter(lan.client, "wrong every time").status_code == 403
    answer = enter(lan.client)
    assert answer.status_code == 429
    assert int(answer.headers["Retry-After"]) >= 1
    assert enter(lan.app.test_client(), address=OTHER).status_code == 303


def test_the_wait_grows_to_a_minute_and_an_hour_makes_good():
    now = [1000.0]
    knocking = Knocking(lambda: now[0])
    assert [knocking.begin(TABLET) for _ in range(FREE_TRIES)] == [0] * FREE_TRIES
    waits = []
    for _ in range(9):
        wait = knocking.begin(TABLET)
        waits.append(wait)
        now[0] += wait
        assert knocking.begin(TABLET) == 0
    assert waits == [1, 2, 4, 8, 16, 32, 60, 60, 60]
    assert max(waits) == LONGEST_WAIT
    now[0] += 3601
    assert knocking.begin(TABLET) == 0
    assert len(knocking) == 1


def test_no_photograph_stays_with_a_tablet_that_left(lan):
    """`no-store` of RFC 9111, 5.2.2.5: nothing of the answer may be kept, on a disk least of all."""
    enter(lan.client)
    work = lan.studio.read(f"work/{lan.low_water}").record
    own = work.photos[0].sha256
    with lan.client.session_transaction(base_url=f"http://{HOST}:8710") as held:
        held["who"] = lan.member
    for path in (f"/photo/{own}/screen.jpg", f"/photo/{own}/part/1-1-90-90.jpg", f"/photo/{own}/plain/0/0-0.jpg", f"/photo/{own}/red/0/0-0.jpg",
                 f"/work/{lan.low_water}/map.svg"):  # fmt: skip
        with ask(lan.client, path) as answer:
            assert answer.status_code == 200, path
            assert answer.headers["Cache-Control"] == "private, no-store", path
    with ask(lan.client, "/static/mark.svg") as drawn:
        assert "no-store" not in drawn.headers["Cache-Control"]
    with lan.client.get(f"/photo/{own}/screen.jpg") as here:
        assert "immutable" in here.headers["Cache-Control"]


def test_many_addresses_cannot_try_together_but_who_entered_before_still_may():
    now = [1000.0]
    knocking = Knocking(lambda: now[0])
    assert knocking.begin(TABLET) == 0
    knocking.right(TABLET)
    for number in range(STRANGERS_TRIES):
        assert knocking.begin(f"192.168.9.{number}") == 0
    assert knocking.begin("192.168.9.200") > 0
    assert knocking.begin(TABLET) == 0
    now[0] += 6
    assert knocking.begin("192.168.9.200") == 0
    assert knocking.begin("192.168.9.201") > 0


def test_what_is_remembered_of_strangers_is_bounded():
    now = [1000.0]
    knocking = Knocking(lambda: now[0])
    for number in range(3 * REMEMBERED):
        now[0] += 10
        knocking.begin(f"10.0.{number // 250}.{number % 250}")
        knocking.begin(f"fd00:0:0:{number:x}::1")
    assert len(knocking) <= REMEMBERED


def test_a_cookie_from_before_entering_is_worth_nothing_and_its_token_is_gone(lan):
    ask(lan.client, "/enter")
    with cookie_of(lan.client) as before:
        before["who"] = "somebody else"
        planted = before["csrf_token"]
    enter(lan.client)
    with cookie_of(lan.client) as after:
        assert "who" not in after
        assert after.get("csrf_token") != planted


def test_a_new_password_and_a_new_round_send_everybody_out(lan):
    for send_out in (
        lambda: password.send_everybody_out(lan.studio.folder),
        lambda: password.choose(lan.studio.folder, "the ferry at dawn"),
    ):
        known = WORDS
        assert enter(lan.client, known).status_code == 303
        assert ask(lan.client, "/").status_code == 200
        send_out()
        assert ask(lan.client, "/").status_code == 302
    assert enter(lan.client, WORDS).status_code == 403
    assert enter(lan.client, "the ferry at dawn").status_code == 303


def test_the_hours_end_and_who_comes_back_saves_what_was_typed(lan, monkeypatch):
    enter(lan.client)
    token = token_of(ask(lan.client, "/who"))
    ask(lan.client, "/who", "POST", data={"csrf_token": token, "who": lan.member})
    with cookie_of(lan.client) as kept:
        kept["stay"] = {**kept["stay"], "until": 1.0}
    revision = lan.revision(lan.low_water)
    form = {"csrf_token": token, "revision": revision, "made": "1899"}
    refused = ask(lan.client, f"/work/{lan.low_water}/made", "POST", data=form)
    assert refused.status_code == 401
    assert "what you typed is still there" in refused.text
    assert lan.revision(lan.low_water) == revision
    enter(lan.client)
    saved = ask(lan.client, f"/work/{lan.low_water}/made", "POST", data=form)
    assert saved.status_code in (302, 303)
    assert lan.work(lan.low_water).made.written == "1899"


def test_who_leaves_is_out_wherever_a_copy_of_the_cookie_lies(lan):
    enter(lan.client)
    copied = lan.app.test_client()
    with cookie_of(lan.client) as own, cookie_of(copied) as copy:
        copy.update(own)
    assert ask(copied, "/").status_code == 200
    token = token_of(ask(lan.client, "/who"))
    assert ask(lan.client, "/leave", "POST", data={"csrf_token": token}).status_code == 303
    assert ask(lan.client, "/").status_code == 302
    assert ask(copied, "/").status_code == 302


def test_a_form_to_the_door_wants_its_token(lan):
    answer = ask(lan.client, "/enter", "POST", data={"password": WORDS})
    assert answer.status_code == 400
    assert not any(word in answer.text for word in ("Low Water", "Nell Quince", WORDS))
    assert ask(lan.client, "/").status_code == 302


def test_the_code_for_tablets_is_shown_on_this_machine_alone(lan):
    own = lan.client.get("/enter-from-elsewhere")
    assert f"http://{HOST}:8710/" in own.text
    assert "<svg" in own.text
    assert "style=" not in own.text
    assert WORDS not in own.text
    enter(lan.client)
    assert ask(lan.client, "/enter-from-elsewhere").status_code == 404
    token = token_of(ask(lan.client, "/who"))
    out = ask(lan.client, "/enter-from-elsewhere", "POST", data={"csrf_token": token})
    assert out.status_code == 404
    lan.post("/enter-from-elsewhere")
    assert ask(lan.client, "/").status_code == 302


def test_without_a_password_nobody_enters_and_a_broken_file_opens_nothing(lan):
    (lan.studio.folder / password.FILE).write_text("{}")
    answer = enter(lan.client)
    assert answer.status_code == 403
    assert str(lan.studio.folder) not in answer.text
    (lan.studio.folder / password.FILE).unlink()
    assert enter(lan.client, "").status_code == 403
    assert ask(lan.client, "/").status_code == 302


# --- what is kept -----------------------------------------------------------------------------------


def test_the_password_lies_hashed_in_a_file_that_only_its_owner_reads(lan, tmp_path):
    password.choose(lan.studio.folder, WORDS)
    path = lan.studio.folder / password.FILE
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    assert json.loads(path.read_text())["hashed"].startswith("scrypt:")
    assert WORDS not in path.read_text()
    lan.studio.backup(tmp_path / "copy")
    copied = [each.name for each in (tmp_path / "copy").rglob("*")]
    assert "ledger.sqlite" in copied
    assert password.FILE not in copied
    hashed = json.loads(path.read_text())["hashed"].encode()
    assert not any(
        hashed in each.read_bytes() for each in (tmp_path / "copy").rglob("*") if each.is_file()
    )


@pytest.mark.parametrize("typed", ["short", "", "aaaaaaaaaaaaaaaa", "x y" * 100])
def test_a_weak_or_endless_password_is_refused(tmp_path, typed):
    with pytest.raises(BadData):
        password.choose(tmp_path, typed)
    assert password.kept(tmp_path) is None


def run(studio, *words, typed=None):
    return CliRunner().invoke(main, ["--studio", str(studio), *words], input=typed)


def test_the_command_takes_a_password_from_a_script_and_sets_the_hours(tmp_path):
    Studio.init(tmp_path / "s").close()
    told = run(tmp_path / "s", "password", typed=f"{WORDS}\n")
    assert told.exit_code == 0, told.output
    assert WORDS not in told.output
    first = password.kept(tmp_path / "s")
    assert password.fits(first, WORDS)
    assert run(tmp_path / "s", "password", "--hours", "4").exit_code == 0
    assert password.kept(tmp_path / "s").hours == 4
    assert password.kept(tmp_path / "s").round == first.round
    assert run(tmp_path / "s", "password", "--send-everybody-out").exit_code == 0
    assert password.kept(tmp_path / "s").round != first.round
    assert run(tmp_path / "s", "password", typed="tiny\n").exit_code == 1


def test_serving_around_demands_a_password_and_a_private_address(tmp_path):
    Studio.init(tmp_path / "s").close()
    told = run(tmp_path / "s", "serve", "--lan", "--address", "192.168.7.2")
    assert told.exit_code == 1
    assert "dorse password" in told.output
    assert run(tmp_path / "s", "serve", "--lan", "--address", "8.8.8.8").exit_code == 1
    assert run(tmp_path / "s", "serve", "--lan", "--host", "0.0.0.0").exit_code == 2
    assert run(tmp_path / "s", "serve", "--address", "192.168.7.2").exit_code == 2
    with pytest.raises(BadSetting, match="not encrypted"):
        own_addresses.chosen(["0.0.0.0"])


@contextmanager
def opened_around(folder, address):
    command = [sys.executable, "-u", "-m", "catalogue.command", "--studio", str(folder)]
    with subprocess.Popen(
        [*command, "serve", "--lan", "--port", "0", "--address", address],
        stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True,
    ) as server:  # fmt: skip
        try:
            yield [server.stdout.readline() for _ in range(3)]
        finally:
            server.terminate()


@pytest.mark.skipif(
    not own_addresses.found(), reason="this machine is on no network of its own"
)
def test_the_served_desk_is_open_here_and_closed_from_its_other_address(tmp_path):
    """In truth over the line: the machine asked by its own address is a stranger to itself."""
    address = own_addresses.found()[0]
    with Studio.init(tmp_path / "s") as studio:
        filled(studio)
        password.choose(studio.folder, WORDS)
    with opened_around(tmp_path / "s", address) as told:
        here, there = (re.search(r"http://[^/]+/", line)[0] for line in told[:2])
        assert "not encrypted" in told[2]
        with urllib.request.urlopen(here, timeout=10) as answer:
            assert answer.status == 200
        with urllib.request.urlopen(
            urllib.request.Request(there, headers={"Accept": "text/html"}), timeout=10
        ) as answer:
            assert answer.url.startswith(there + "enter")
        port = int(there.rstrip("/").rpartition(":")[2])

        def status(at, length, cookie=""):
            """What is answered to a head that says that so much will follow; 0: that is awaited."""
            with socket.create_connection((at, port), timeout=10) as line:
                line.sendall(
                    f"POST /work/new HTTP/1.1\r\nHost: {at}:{port}\r\n{cookie}"
                    f"Content-Length: {length}\r\n\r\n".encode()
                )
                line.settimeout(1 if length < 100_000_000 else 10)
                try:
                    return int(line.recv(60).split(b" ")[1])
                except TimeoutError:
                    return 0

        # of a stranger's upload nothing is received; of the studio's own all but what is too large
        assert status(address, 9_000_000) == 413
        assert status(address, 9_000_000, "Cookie: dorse-00000000=made.up\r\n") == 413
        assert status("127.0.0.1", 9_000_000, "X-Forwarded-For: 127.0.0.1\r\n") == 413
        assert status("127.0.0.1", 9_000_000) == 0
        assert status("127.0.0.1", 400_000_000) == 413
        cookie = f"Cookie: {entered_over_the_line(there)}\r\n"
        assert status(address, 9_000_000, cookie) == 0
        password.send_everybody_out(tmp_path / "s")
        assert status(address, 9_000_000, cookie) == 413


def entered_over_the_line(base) -> str:
    """Enter as a browser does; the cookie."""
    jar = CookieJar()
    browser = urllib.request.build_opener(urllib.request.HTTPCookieProcessor(jar))
    page = browser.open(f"{base}enter", timeout=10).read().decode()
    token = re.search(r'name="csrf_token" value="([^"]+)"', page)[1]
    form = urllib.parse.urlencode({"csrf_token": token, "password": WORDS, "next": "/"})
    with browser.open(f"{base}enter", form.encode(), timeout=10) as answer:
        assert answer.url == base
    return "; ".join(f"{each.name}={each.value}" for each in jar)


def test_a_photo_is_closed_to_strangers_and_open_to_who_entered(lan):
    photo = lan.work(lan.low_water).photos[0]
    path = f"/photo/{photo.sha256}/thumb.jpg"
    assert ask(lan.client, path, headers={"Accept": "image/*"}).status_code == 401
    enter(lan.client)
    with ask(lan.client, path, headers={"Accept": "image/*"}) as answer:
        assert answer.status_code == 200
