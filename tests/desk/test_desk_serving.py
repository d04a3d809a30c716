"""The server: on this machine alone, at the next free port, saying where."""

from __future__ import annotations

import re
import socket
import urllib.request

import pytest
from desk_studio import served

from catalogue.desk.serving import serve
from catalogue.errors import BadSetting
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
