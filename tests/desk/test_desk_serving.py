"""The server: on this machine alone, at the next free port, saying where."""

from __future__ import annotations

import gc
import re
import socket
import urllib.request
from threading import Event

import pytest
from desk_studio import served

from catalogue.desk.serving import get_ready, serve
from catalogue.errors import BadSetting
from catalogue.record import Work
from catalogue.studio import Studio


def test_a_port_that_is_taken_makes_way_for_the_next(tmp_path):
    Studio.init(tmp_path / "studio").close()
    with socket.create_server(("127.0.0.1", 0)) as holder:
        port = holder.getsockname()[1]
        with served(tmp_path / "studio", port) as said:
            found = re.search(r"(http://127\.0\.0\.1:(\d+)/) \(port (\d+) was taken\)", said)
            assert found, said
            assert int(found[2]) > port
            assert int(found[3]) == port
            with urllib.request.urlopen(found[1], timeout=10) as answer:
                assert answer.status == 200
                assert "default-src 'none'" in answer.headers["Content-Security-Policy"]


@pytest.mark.parametrize("host", ["0.0.0.0", "::", "192.168.1.20", "backs.example"])
def test_the_desk_is_never_opened_to_other_machines(host):
    with (
        Studio.open("memory:") as studio,
        pytest.raises(BadSetting, match="without a password"),
    ):
        serve(studio, host, 0, print)


@pytest.fixture
def unfrozen():
    """What was gathered for good is let go of again: the next test is another desk."""
    yield
    gc.unfreeze()


def test_what_was_gathered_for_the_first_pages_is_looked_through_no_more(unfrozen):
    with Studio.open("memory:") as studio:
        studio.save(Work(), who="Nell")
        held = gc.get_freeze_count()
        get_ready(studio, Event())
        assert gc.get_freeze_count() > held
        found = studio.search(studio.query("label"))
        assert found.total == 0


def test_whoever_leaves_while_things_are_got_ready_does_not_wait_for_the_rest():
    with Studio.open("memory:") as studio:
        asked = []

        def leaving():
            asked.append(1)
            return len(asked) > 2

        studio.warm_up(leaving)
        assert len(asked) == 3


def test_a_studio_closed_under_it_is_no_failure_but_one_that_cannot_be_read_is(
    tmp_path, unfrozen, monkeypatch
):
    with Studio.init(tmp_path / "studio") as studio:
        leaving = Event()

        def bench():
            raise RuntimeError("the ledger is closed")

        monkeypatch.setattr(studio, "bench", bench)
        with pytest.raises(RuntimeError, match="closed"):
            get_ready(studio, leaving)
        # It was left in the midst of the first thing.
        answers = iter([False, True])
        monkeypatch.setattr(leaving, "is_set", lambda: next(answers))
        get_ready(studio, leaving)
