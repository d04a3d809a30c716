"""The addresses under which other machines of the studio's network reach this one."""

from __future__ import annotations

import ipaddress
import socket
from collections.abc import Iterable
from contextlib import suppress
from typing import Final

from catalogue.errors import BadSetting

_NOBODY: Final = ("192.0.2.1", "10.255.255.255", "192.168.255.255", "172.31.255.255")
"""Addresses that are asked the way to; nothing is sent (RFC 5737 keeps the first for examples)."""


def found() -> tuple[str, ...]:
    """The addresses of this machine on private networks (IPv4), the one it usually sends from first."""
    candidates: list[str] = []
    for target in _NOBODY:
        with suppress(OSError), socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asked:
            # A datagram socket that is connected sends nothing; it only learns its own address.
            asked.connect((target, 9))
            candidates.append(asked.getsockname()[0])
    with suppress(OSError):
        told = socket.getaddrinfo(socket.gethostname(), None, socket.AF_INET)
        candidates += [str(each[4][0]) for each in told]
    return tuple(dict.fromkeys(each for each in candidates if is_of_a_private_network(each)))


def is_of_a_private_network(address: str) -> bool:
    """Whether an address is one of a house's own network, and not this machine's own loopback.

    >>> [is_of_a_private_network(each) for each in ("192.168.1.20", "127.0.0.1", "8.8.8.8", "0.0.0.0")]
    [True, False, False, False]
    """
    try:
        read = ipaddress.ip_address(address)
    except ValueError:
        return False
    return read.is_private and not (
        read.is_loopback or read.is_unspecified or read.is_link_local or read.is_multicast
    )


def chosen(wanted: Iterable[str]) -> tuple[str, ...]:
    """The addresses that were named, or those that are found. Raises `BadSetting`."""
    named = tuple(dict.fromkeys(each.strip().strip("[]") for each in wanted))
    for each in named:
        if not is_of_a_private_network(each):
            raise BadSetting(
                f"{each!r} is no address of a studio's own network, and the line is not encrypted",
                remedy="name one such as 192.168.1.20, 10.0.0.5 or fd12:3456::5",
            )
    addresses = named or found()
    if not addresses:
        raise BadSetting(
            "this machine is on no network of the studio",
            remedy="join the network, or name this machine's address: "
            "dorse serve --lan --address 192.168.1.20",
        )
    return addresses
