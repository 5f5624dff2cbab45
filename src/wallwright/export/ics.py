"""The works programme as calendar entries (RFC 5545): one all-day entry a task, on working days from the job's date."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from typing import TYPE_CHECKING

from wallwright.programme.calendar import working_day

if TYPE_CHECKING:
    from icalendar import Event

    from wallwright.derive import Wall
    from wallwright.programme.record import Gate


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
    for gate in wall.programme.gates:
        calendar.add_component(_gate(wall, gate, stamp, start))
    return calendar.to_ical()


def _gate(wall: Wall, gate: Gate, stamp: datetime, start: date) -> Event:
    """A gate as an entry of its own, on the last day of the task that it follows."""
    from icalendar import Event

    event = Event()
    event.add("uid", f"{wall.job.number}-{gate.ref}@wallwright")
    event.add("dtstamp", stamp)
    on = working_day(start, max(0, gate.day - 1))
    event.add("dtstart", on)
    event.add("dtend", on + timedelta(days=1))
    event.add("summary", f"{gate.ref} {gate.name}: sign")
    event.add("categories", ["gate"])
    return event


def _words(hold: str, slack: int) -> str:
    lines = [f"Before the next may start: {hold}."] if hold else []
    lines.append(
        f"{slack} working days in hand." if slack else "Critical: a day lost here is a day lost at the end."
    )
    return "\n".join(lines)
