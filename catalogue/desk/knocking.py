"""How often one may try the password: a growing wait for an address, and a brake for all together.

Nobody is made to wait inside the server: a try that comes too early is turned away at once, unread.
What is remembered is bounded, and forgotten after an hour.
"""

from __future__ import annotations

import ipaddress
import math
import threading
import time
from collections import OrderedDict, deque
from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

FREE_TRIES: Final = 5
LONGEST_WAIT: Final = 60.0
FORGOTTEN_AFTER: Final = 3600.0
REMEMBERED: Final = 1000
"""So many addresses are remembered; the one that tried longest ago is forgotten first."""
STRANGERS_TRIES: Final = 30
STRANGERS_WITHIN: Final = 600.0
STRANGERS_WAIT: Final = 5.0
"""After so many wrong tries by all addresses within so many seconds, one that never entered may try
only that long after the last wrong try of anybody."""


@dataclass(slots=True)
class _Tries:
    wrong: int = 0
    last: float = 0.0
    has_entered: bool = False


class Knocking:
    """Who tried the password how often. Any thread may call it."""

    def __init__(self, now: Callable[[], float] = time.monotonic) -> None:
        self._now = now
        self._lock = threading.Lock()
        self._tries: OrderedDict[str, _Tries] = OrderedDict()
        self._wrong: deque[float] = deque(maxlen=STRANGERS_TRIES)

    def __len__(self) -> int:
        return len(self._tries)

    def begin(self, address: str) -> int:
        """Count a try; 0 where it may go on, else how many seconds are still to be waited.

        It counts as wrong until `right` says otherwise, so that many at once gain nothing.
        """
        with self._lock:
            now = self._now()
            self._forget(now)
            own = _counted_as(address)
            tries = self._tries.get(own) or _Tries()
            wait = max(self._own_wait(tries, now), self._wait_for_all(tries, now))
            if wait > 0:
                return math.ceil(wait)
            tries.wrong, tries.last = tries.wrong + 1, now
            self._wrong.append(now)
            self._tries[own] = tries
            self._tries.move_to_end(own)
            while len(self._tries) > REMEMBERED:
                self._tries.popitem(last=False)
            return 0

    def right(self, address: str) -> None:
        """The password was right: this address begins anew, and the brake for all leaves it alone."""
        with self._lock:
            own = _counted_as(address)
            self._tries[own] = _Tries(last=self._now(), has_entered=True)
            self._tries.move_to_end(own)
            if self._wrong:
                self._wrong.pop()

    @staticmethod
    def _own_wait(tries: _Tries, now: float) -> float:
        if tries.wrong < FREE_TRIES:
            return 0.0
        # 1, 2, 4 ... 60 seconds; the exponent is bounded before it is raised
        wait = min(2.0 ** min(tries.wrong - FREE_TRIES, 10), LONGEST_WAIT)
        return tries.last + wait - now

    def _wait_for_all(self, tries: _Tries, now: float) -> float:
        many = len(self._wrong) == STRANGERS_TRIES and now - self._wrong[0] < STRANGERS_WITHIN
        if not many or tries.has_entered:
            return 0.0
        return self._wrong[-1] + STRANGERS_WAIT - now

    def _forget(self, now: float) -> None:
        while self._tries:
            address, oldest = next(iter(self._tries.items()))
            if now - oldest.last < FORGOTTEN_AFTER:
                return
            del self._tries[address]


def _counted_as(address: str) -> str:
    """What counts as one address: of IPv6 the whole network, of which one machine has as many as it likes.

    >>> _counted_as("192.168.1.20"), _counted_as("::ffff:192.168.1.20"), _counted_as("fd00:1:2:3::99")
    ('192.168.1.20', '192.168.1.20', 'fd00:1:2:3::/64')
    """
    try:
        found = ipaddress.ip_address(address.partition("%")[0])
    except ValueError:
        return "unknown"
    if isinstance(found, ipaddress.IPv6Address):
        if found.ipv4_mapped:
            return str(found.ipv4_mapped)
        return str(ipaddress.ip_network((found, 64), strict=False))
    return str(found)
