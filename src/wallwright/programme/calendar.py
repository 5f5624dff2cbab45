"""Working days as dates."""

from __future__ import annotations

from datetime import date, timedelta


def working_day(start: date, number: int) -> date:
    """The day that is `number` working days after the first working day from `start` on (Monday to Friday)."""
    day = start
    while day.weekday() > 4:
        day += timedelta(days=1)
    weeks, rest = divmod(day.weekday() + number, 5)
    return day + timedelta(days=7 * weeks + rest - day.weekday())
