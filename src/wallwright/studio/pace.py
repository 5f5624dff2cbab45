"""How often something may be done: so many at once, then so many a second. Kept in memory, by who asks."""

from __future__ import annotations

import threading
import time
from collections import OrderedDict

MOST_KEPT = 20_000


class Pace:
    """A measure that empties with each call and fills with time. at_once : calls in a row · each_second : how fast it fills."""

    def __init__(self, at_once: float, each_second: float) -> None:
        self.at_once, self.each_second = at_once, each_second
        self._lock = threading.Lock()
        self._left: OrderedDict[str, tuple[float, float]] = OrderedDict()

    def wait(self, who: str) -> float:
        """0 where `who` may go on, which is counted; else the seconds to wait."""
        with self._lock:
            now = time.monotonic()
            left, since = self._left.pop(who, (self.at_once, now))
            left = min(self.at_once, left + (now - since) * self.each_second)
            may = left >= 1
            self._left[who] = (left - 1 if may else left, now)
            if len(self._left) > MOST_KEPT:
                self._left.popitem(last=False)
            return 0.0 if may else (1 - left) / self.each_second

    def forget(self, who: str) -> None:
        """Count anew from now on."""
        with self._lock:
            self._left.pop(who, None)
