"""How seldom a process that lives long looks for what it may throw away."""

from __future__ import annotations

import gc

MADE_BEFORE = 50_000
"""Things made, more than given back, before Python looks for rings among the young ones."""


def collect_seldom() -> None:
    """From here on, look seldom for what only points at itself, and never among what is there now: library, modules, what is kept.

    A wall is some twenty thousand small records that point one way, and is given back as soon as nobody holds it; with Python's own setting
    (700 things made) each derive would be looked through twenty times, a fifteenth of its time (bench/derive.py measures it so).
    """
    gc.collect()
    gc.freeze()
    gc.set_threshold(MADE_BEFORE, 20, 100)
