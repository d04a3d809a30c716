"""How much may be sent to the desk: by strangers on the network little, by whoever entered a whole card.

A request is received before any page of the desk sees it. Without this a stranger could fill the disk.
"""

from __future__ import annotations

import copy
import ipaddress
from collections.abc import Callable, Iterable
from functools import partial
from typing import Any

from waitress.channel import HTTPChannel
from waitress.parser import HTTPRequestParser
from waitress.server import TcpWSGIServer

from catalogue.desk.guard import FORWARDED, LARGEST_FORM

HasEntered = Callable[[str], bool]
"""Whether the cookies of a request are of somebody who entered."""


class _Head(HTTPRequestParser):  # type: ignore[misc]
    """The head of a request; it says how much may follow."""

    def __init__(self, adj: Any, *, near: bool, has_entered: HasEntered) -> None:
        super().__init__(adj)
        self._adj = adj
        self._near = near
        self._has_entered = has_entered

    def parse_header(self, header_plus: bytes) -> None:
        """Read the head; of a stranger no more than the largest form is received after it."""
        super().parse_header(header_plus)
        passed_on = any(name.upper().replace("-", "_") in self.headers for name in FORWARDED)
        if self._near and not passed_on:
            return
        if not self._has_entered(self.headers.get("COOKIE", "")):
            strict: Any = copy.copy(self._adj)
            strict.max_request_body_size = LARGEST_FORM
            self.adj = strict


def watch(servers: Iterable[object], has_entered: HasEntered) -> None:
    """Have these servers look at the head of each request before they receive what follows."""

    class Line(HTTPChannel):  # type: ignore[misc]
        """One line to the desk, from near or far."""

        def __init__(self, server: Any, sock: Any, addr: Any, *more: Any, **named: Any) -> None:
            super().__init__(server, sock, addr, *more, **named)
            near = ipaddress.ip_address(addr[0].partition("%")[0]).is_loopback
            self.parser_class = partial(_Head, near=near, has_entered=has_entered)

    for server in servers:
        if isinstance(server, TcpWSGIServer):
            server.channel_class = Line
