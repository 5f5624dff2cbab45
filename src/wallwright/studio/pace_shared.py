"""How often something may be done where several servers answer for one studio: counted in the database, for all of them together.

For what must not be had more often by asking another server: tries at a password. All else is counted by each server for
itself (`pace`), where the worst is that so many servers let through so many times as much.
"""

from __future__ import annotations

from typing import Any

from sqlalchemy import delete, select
from sqlalchemy.dialects import postgresql, sqlite

from wallwright.studio.schema import PACE
from wallwright.studio.store import Store, clock, sha256


class SharedPace:
    """As `Pace`, and as exact over all servers. at_once : calls in a row · each_second : how fast it fills"""

    def __init__(self, store: Store, at_once: float, each_second: float) -> None:
        self.store, self.at_once, self.each_second = store, at_once, each_second

    def wait(self, who: str) -> float:
        """0 where `who` may go on, which is counted; else the seconds to wait. JobError where it cannot be counted."""
        key = sha256(who)  # names of people, and what was typed for one, are not kept here
        make: Any = postgresql.insert if self.store.postgres else sqlite.insert
        with self.store.write() as db:
            at = clock(db)
            full = self.at_once / self.each_second
            db.execute(delete(PACE).where((PACE.c.since < at - full) | (PACE.c.since > at + full)))
            row = db.execute(
                select(PACE.c.left, PACE.c.since).where(PACE.c.who == key).with_for_update()
            ).first()
            left = self.at_once if row is None else row.left + max(0.0, at - row.since) * self.each_second
            left = min(self.at_once, left)
            may = left >= 1
            set_ = {"left": left - 1 if may else left, "since": at}
            entered = make(PACE).values(who=key, **set_)
            db.execute(entered.on_conflict_do_update(index_elements=["who"], set_=set_))
        return 0.0 if may else (1 - left) / self.each_second

    def forget(self, who: str) -> None:
        """Count anew from now on."""
        with self.store.write() as db:
            db.execute(delete(PACE).where(PACE.c.who == sha256(who)))
