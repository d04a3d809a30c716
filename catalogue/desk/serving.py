"""The server of the desk: on this machine alone, or on the studio's own network behind its password.

It is served at the next free port if the one asked for is taken.
"""

from __future__ import annotations

import errno
import gc
import ipaddress
import os
import socket
import threading
from collections.abc import Callable, Sequence
from functools import partial
from typing import Any, Final

from waitress import create_server
from waitress.server import MultiSocketServer

from catalogue.desk import create_app, door, lines, password, under_way
from catalogue.desk.asking import OPEN_STUDIO
from catalogue.desk.guard import LARGEST_REQUEST
from catalogue.errors import BadSetting
from catalogue.studio import Studio

THREADS = 8
PORTS_TRIED = 50
THIS_MACHINE: Final = "127.0.0.1"


def serve(studio: Studio, host: str, port: int, say: Callable[[str], None]) -> None:
    """Serve the desk to this machine until it is interrupted; `say` gets its address once it is open.

    Raises `BadSetting` for an address that other machines can reach: those come in by `serve_around`.
    """
    refuse_others(host)
    bare = host.strip("[]")
    app = create_app(studio, hosts=(bare.lower(),))
    server, own_port = _bound(app, (bare,), port)
    address = f"http://{_in_address(host)}:{own_port}/"
    say(f"{address} (port {port} was taken)" if own_port != port and port else address)
    _run(server, app)


def serve_around(
    studio: Studio,
    addresses: Sequence[str],
    port: int,
    say: Callable[[str, tuple[str, ...]], None],
) -> None:
    """Serve the desk to this machine, and to others at these addresses of it behind the password.

    `say` gets the address for this machine and those for others. Raises `BadSetting` without a password.
    """
    if password.kept(studio.folder) is None:
        raise BadSetting(
            "this studio has no password, and other machines would need it",
            remedy="set one: dorse password",
        )
    app = create_app(studio, hosts=addresses)
    server, own_port = _bound(app, (THIS_MACHINE, *addresses), port)
    others = tuple(f"http://{_in_address(each)}:{own_port}/" for each in addresses)
    door.reached_at(app, others)
    lines.watch(_each(server), partial(door.has_entered, app))
    say(f"http://{THIS_MACHINE}:{own_port}/", others)
    _run(server, app)


def _each(server: Any) -> list[Any]:
    """The server of each address, where several are served together."""
    return list(server.map.values()) if isinstance(server, MultiSocketServer) else [server]


def _run(server: Any, app: Any) -> None:
    # The first page of the day is asked for at once: what it wants is gathered meanwhile.
    studio: Studio = app.extensions[OPEN_STUDIO]
    leaving = threading.Event()
    readying = threading.Thread(
        target=get_ready, args=(studio, leaving), name="warm-up", daemon=True
    )
    readying.start()
    try:
        server.run()
    finally:
        leaving.set()
        server.close()
        under_way.close_in(app)


def get_ready(studio: Studio, leaving: threading.Event) -> None:
    """Gather what the first pages want, and see to it that later ones are not held up by how much it is.

    Python looks through all that it holds now and then for what can be thrown away. In a large studio
    that held a page up for 0.1 to 0.2 s; what is gathered here is held for good, and is looked at no more.
    """
    try:
        studio.warm_up(leaving.is_set)
    except Exception:
        if not leaving.is_set():  # else the studio was closed under it
            raise
    gc.collect()
    gc.freeze()


def refuse_others(host: str) -> None:
    """Raise `BadSetting` unless this address can be reached from this machine alone.

    >>> refuse_others("127.0.0.1")
    >>> refuse_others("0.0.0.0")
    Traceback (most recent call last):
    catalogue.errors.BadSetting: other machines could open the desk at '0.0.0.0' without a password
      serve it on 127.0.0.1; with --lan it opens to the studio's network, behind a password
    """
    try:
        inside = host == "localhost" or ipaddress.ip_address(host.strip("[]")).is_loopback
    except ValueError:
        inside = False
    if not inside:
        raise BadSetting(
            f"other machines could open the desk at {host!r} without a password",
            remedy="serve it on 127.0.0.1; with --lan it opens to the studio's network, behind a password",
        )


def _bound(app: Any, hosts: Sequence[str], port: int) -> tuple[Any, int]:
    """A server at this port of all these addresses, or at the next port that is free at all; which."""
    last = port + PORTS_TRIED if port else PORTS_TRIED
    for tried in range(port, min(last, 65535) + 1):
        sockets = _sockets(hosts, tried if port else 0)
        if sockets:
            server = create_server(
                app,
                sockets=sockets,
                threads=THREADS,
                ident="dorse",
                max_request_body_size=LARGEST_REQUEST + 1024 * 1024,
                # What proxies say is not believed, and not hidden from the door either.
                clear_untrusted_proxy_headers=False,
            )
            return server, sockets[0].getsockname()[1]
    raise BadSetting(
        f"no port from {port} to {last} is free", remedy="name another with --port"
    )


def _sockets(hosts: Sequence[str], port: int) -> list[socket.socket]:
    """A socket at this port of each address (0: at any, the same for all); [] where it is taken."""
    bound: list[socket.socket] = []
    for host in hosts:
        try:
            found = socket.getaddrinfo(host, port, type=socket.SOCK_STREAM)
            bound.append(_socket(found[0]))
        except OSError as refused:
            for each in bound:
                each.close()
            if refused.errno == errno.EADDRINUSE:
                return []
            raise BadSetting(
                f"the desk cannot be served at {host}: {refused.strerror}",
                remedy="name an address that this machine has now",
            ) from refused
        port = port or bound[0].getsockname()[1]
    return bound


def _socket(told: tuple[Any, ...]) -> socket.socket:
    """A socket at an address as `getaddrinfo` tells it."""
    made = socket.socket(*told[:3])
    try:
        if os.name == "posix":
            # On Windows this would let two programs share a port.
            made.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        made.bind(told[4])
    except OSError:
        made.close()
        raise
    return made


def _in_address(host: str) -> str:
    bare = host.strip("[]")
    return f"[{bare}]" if ":" in bare else bare
