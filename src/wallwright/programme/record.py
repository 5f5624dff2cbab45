"""What the programme stage hands on: the works network with early and late days."""

from __future__ import annotations

from dataclasses import dataclass

from wallwright.core.why import Whys


@dataclass(frozen=True, slots=True)
class Task:
    """One task in working days. hold : what must be signed before the next may start."""

    ref: str
    name: str
    trade: str
    days: int
    after: tuple[str, ...]
    early_start: int
    early_finish: int
    late_start: int
    late_finish: int
    hold: str

    @property
    def slack(self) -> int:
        """Days it can slip without moving the end."""
        return self.late_start - self.early_start


@dataclass(frozen=True, slots=True)
class Gate:
    """A signature without which nothing goes on. task : after whose end it stands ("" before all) · day : working days from the start."""

    ref: str
    name: str
    task: str
    day: int


@dataclass(frozen=True, slots=True)
class Programme:
    """All tasks and the whole length in working days; the gates in their order."""

    tasks: tuple[Task, ...]
    days: int
    critical: tuple[str, ...]
    whys: Whys
    gates: tuple[Gate, ...] = ()
