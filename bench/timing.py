"""The timer of the bench scripts."""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable


def median_ms(work: Callable[[], object], times: int) -> float:
    """Median wall time of a call in milliseconds."""
    took: list[float] = []
    for _ in range(times):
        begun = time.perf_counter()
        work()
        took.append((time.perf_counter() - begun) * 1000)
    return statistics.median(took)
