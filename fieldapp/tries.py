"""How often a pairing may be tried: kept in memory, by address and in all."""

from __future__ import annotations

import ipaddress
import math
import threading
import time
from collections import deque
from collections.abc import Callable

from fieldapp.refusals import Refused

# A code has 31^6 = 887 503 681 values: 30 wrong tries in its ten minutes hit one of them with a chance of
# one in thirty million.
EACH, ALL, WINDOW = 5, 30, 600.0


class Tries:
    """Counts wrong tries over the last ten minutes.

    Parameters
    ----------
    each, overall : int
        Wrong tries one address, or all together, may make within `window`.
    window : float
        Seconds.
    clock : callable
        Returns seconds that never go back.
    """

    def __init__(
        self, each: int = EACH, overall: int = ALL, window: float = WINDOW, clock: Callable[[], float] = time.monotonic
    ) -> None:
        self.each, self.overall, self.window, self.clock = each, overall, window, clock
        self._tries: deque[tuple[float, str]] = deque()
        self._lock = threading.Lock()

    def take(self, address: str) -> Callable[[], None]:
        """Count a try before it is made; call what is returned if it was right, and it does not count.

        Raises
        ------
        Refused
            ``too-many-tries`` (429) with ``retry_after`` in seconds.
        """
        now, who = self.clock(), network_of(address)
        with self._lock:
            while self._tries and now - self._tries[0][0] >= self.window:
                self._tries.popleft()
            own = [one for one in self._tries if one[1] == who]
            waits = [tries[-limit][0] for tries, limit in ((own, self.each), (self._tries, self.overall)) if len(tries) >= limit]
            if waits:
                raise self._too_many(max(1, math.ceil(max(waits) + self.window - now)))
            one = (now, who)
            self._tries.append(one)

        def right() -> None:
            with self._lock:
                if one in self._tries:
                    self._tries.remove(one)

        return right

    def _too_many(self, seconds: int) -> Refused:
        return Refused(
            "too-many-tries", "Too many wrong pairings were tried.", given="one more",
            allowed=f"{self.each} wrong tries from one phone, {self.overall} from all, in {self.window / 60:.0f} minutes.",
            next_step=f"Wait {math.ceil(seconds / 60)} min, then scan a new code.", status=429, extra={"retry_after": seconds},
        )  # fmt: skip


def network_of(address: str) -> str:
    """Return whom to count a try against: an IPv4 address, or the /64 network a phone draws its IPv6 addresses from."""
    try:
        found = ipaddress.ip_address(address.partition("%")[0])
    except ValueError:
        return "unknown"
    if found.version == 6:
        mapped = found.ipv4_mapped
        return str(mapped or ipaddress.ip_network((found, 64), strict=False))
    return str(found)
