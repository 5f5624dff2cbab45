"""The works programme as calendar entries (RFC 5545): one all-day entry a task, on working days from the job's date."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from wallwright.derive import Wall


def programme_ics(wall: Wall) -> bytes:
    """All tasks. UID and DTSTAMP come from the job, not from the clock. Day 0 is the first working day from the job's date on."""
    from icalendar import Calendar, Event

    start = date.fromisoformat(wall.job.date)
    stamp = datetime(start.year, start.month, start.day, tzinfo=UTC)
    calendar = Calendar()
    calendar.add("prodid", "-//wallwright//programme//EN")
    calendar.add("version", "2.0")
    for task in wall.programme.tasks:
        event = Event()
        event.add("uid", f"{wall.job.number}-{task.ref}@wallwright")
        event.add("dtstamp", stamp)
        first = working_day(start, task.early_start)
        last = working_day(start, max(task.early_start, task.early_finish - 1))
        event.add("dtstart", first)
        event.add("dtend", last + timedelta(days=1))  # exclusive
        event.add("summary", f"{task.ref} {task.name} ({task.trade})")
        event.add("description", _words(task.hold, task.slack))
        event.add("categories", [task.trade])
        calendar.add_component(event)
    return calendar.to_ical()


def _words(hold: str, slack: int) -> str:
    lines = [f"Before the next may start: {hold}."] if hold else []
    lines.append(
        f"{slack} working days in hand." if slack else "Critical: a day lost here is a day lost at the end."
    )
    return "\n".join(lines)


def working_day(start: date, number: int) -> date:
    """The day that is `number` working days after the first working day from `start` on (Monday to Friday)."""
    day = start
    while day.weekday() > 4:
        day += timedelta(days=1)
    for _ in range(number):
        day += timedelta(days=3 if day.weekday() == 4 else 1)
    return day
