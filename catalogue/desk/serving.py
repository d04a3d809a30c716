"""The server of the desk: on this machine alone, at the next free port if the one asked for is taken."""

from __future__ import annotations

import errno
import ipaddress
from collections.abc import Callable
from typing import Any

from waitress import create_server

from catalogue.desk import create_app, under_way
from catalogue.desk.guard import LARGEST_REQUEST
from catalogue.errors import BadSetting
from catalogue.studio import Studio

THREADS = 8
PORTS_TRIED = 50


def serve(studio: Studio, host: str, port: int, say: Callable[[str], None]) -> None:
    """Serve the desk until it is interrupted; `say` gets its address once it can be opened.

    Raises `BadSetting` for an address that other machines can reach: the desk knows no passwords.
    """
    refuse_others(host)
    app = create_app(studio, hosts=(host.strip("[]").lower(),))
    server, taken = _bound(app, host, port)
    address = f"http://{_in_address(host)}:{server.effective_port}/"
    say(f"{address} (port {port} was taken)" if taken else address)
    try:
        server.run()
    finally:
        server.close()
        under_way.close_in(app)


def refuse_others(host: str) -> None:
    """Raise `BadSetting` unless this address can be reached from this machine alone.

    >>> refuse_others("127.0.0.1")
    >>> refuse_others("0.0.0.0")
    Traceback (most recent call last):
    catalogue.errors.BadSetting: other machines could open the desk at '0.0.0.0', and it knows no passwords
      serve it on 127.0.0.1
    """
    try:
        inside = host == "localhost" or ipaddress.ip_address(host.strip("[]")).is_loopback
    except ValueError:
        inside = False
    if not inside:
        raise BadSetting(
            f"other machines could open the desk at {host!r}, and it knows no passwords",
            remedy="serve it on 127.0.0.1",
        )


def _bound(app: Any, host: str, port: int) -> tuple[Any, bool]:
    """A server at the port, or at the next free one; and whether the port was taken."""
    last = port + PORTS_TRIED if port else port
    for tried in range(port, min(last, 65535) + 1):
        try:
            server = create_server(
                app,
                host=host.strip("[]"),
                port=tried,
                threads=THREADS,
                ident="dorse",
                max_request_body_size=LARGEST_REQUEST + 1024 * 1024,
            )
        except OSError as refused:
            if refused.errno != errno.EADDRINUSE:
                raise BadSetting(
                    f"the desk cannot be served at {host}: {refused.strerror}"
                ) from refused
        else:
            return server, tried != port
    raise BadSetting(
        f"no port from {port} to {last} is free", remedy="name another with --port"
    )


def _in_address(host: str) -> str:
    bare = host.strip("[]")
    return f"[{bare}]" if ":" in bare else bare
