"""The whole tower worked out: distinct walls once, measured flats against their series, and every flat with its answer."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Literal

from wallwright.job.problem import JobError
from wallwright.tower.batch import Failed, Send, answers, here
from wallwright.tower.flat import Hands, drawn_job, key_of, measured_job
from wallwright.tower.made import Answer, Ask, BothHands, Checked, Made, Range, work
from wallwright.tower.record import Flat

if TYPE_CHECKING:
    from wallwright.carcass.record import Part
    from wallwright.core.finding import Finding
    from wallwright.tower.record import Tower

Tell = Callable[[str, int, int], object]
"""Called with what is being done, how many are done, and of how many."""


@dataclass(frozen=True, slots=True)
class Done:
    """One flat with its answer.

    made : the wall it is made by; None where it failed · series : whether that is its type's as drawn · checked : what the
    measured wall says; None where nobody measured · failed : why nothing could be made of it, "" where all is well
    """

    flat: Flat
    made: Made | None
    series: bool
    checked: Checked | None
    failed: str = ""

    @property
    def takes(self) -> bool | None:
        """Whether it takes the unit as drawn; None where nobody measured, or not enough to say that it does."""
        if self.checked is None or (self.checked.fit.takes and not self.flat.measured.whole):
            return None
        return self.checked.fit.takes

    @property
    def undecided(self) -> bool:
        """Whether it does not take the unit, though its boards are ordered or further, and nobody said by what they were made."""
        return self.takes is False and self.flat.state != "drawn" and self.flat.to_measure is None

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What the rules say of this flat as it is made."""
        if self.made is None:
            return ()
        return self.checked.findings if self.checked and self.series else self.made.findings

    @property
    def parts(self) -> tuple[Part, ...]:
        """Its boards: the series', with its own fillers where it was measured."""
        if self.made is None:
            return ()
        if not self.checked or not self.series:
            return self.made.parts
        if self.checked.parts is not None:
            return self.checked.parts
        own = {part.id: part for part in self.checked.fillers}
        kept = tuple(
            own.pop(part.id, part) for part in self.made.parts if part.role != "filler" or part.id in own
        )
        return (*kept, *own.values())


@dataclass(frozen=True, slots=True)
class Worked:
    """The tower worked out. flats : in the file's order · types : each type's wall as drawn, in its own hand, by ref · ranges : of
    the fillers that each type bears, where flats of it were measured · hands : what of a type's other hand is not its mirror, where
    both hands are built · walls, checks : how many distinct walls were derived, and
    measured walls checked
    """

    tower: Tower
    flats: tuple[Done, ...]
    types: dict[str, Made]
    ranges: dict[str, Range]
    hands: dict[str, BothHands]
    walls: int
    checks: int

    @property
    def failed(self) -> tuple[Done, ...]:
        """The flats of which nothing could be made."""
        return tuple(done for done in self.flats if done.failed)


def run(tower: Tower, send: Send[Any, Any] = here, tell: Tell | None = None) -> Worked:
    """Work out the tower. send : who does the work (`batch.here`, `batch.pool`, `cluster.cluster`)"""
    hands = Hands(tower)
    jobs: dict[str, Ask | Failed] = {}
    built = {flat.type for flat in tower.file.flats}
    kinds = tuple(kind for kind in tower.file.types if kind.ref in built)
    types = {kind.ref: key_of(Flat("type", "", kind.ref, kind.hand), measured=False) for kind in kinds}
    for kind in kinds:
        _asked(jobs, types[kind.ref], lambda kind=kind: hands.of(kind, kind.hand))
    for flat in tower.file.flats:
        _asked(jobs, key_of(flat, measured=False), lambda flat=flat: drawn_job(flat, hands))
    walls = _answered(jobs, send, tell, "walls as drawn")

    held: dict[str, Ask | Failed] = {}
    measured = {flat.type for flat in tower.file.flats if flat.measured.widths}
    for ref, key in types.items():
        ask = jobs[key]
        if ref in measured and isinstance(ask, Ask) and isinstance(walls[key], Made):
            held[f"range {ref}"] = Ask(f"range {ref}", "range", ask.job)
    for kind in kinds:
        ask, both = jobs[types[kind.ref]], {flat.hand for flat in tower.file.flats if flat.type == kind.ref}
        if len(both) > 1 and isinstance(ask, Ask) and isinstance(walls[ask.key], Made):
            other = "right" if kind.hand == "left" else "left"
            _asked(
                held,
                f"hands {kind.ref}",
                lambda kind=kind, other=other: hands.of(kind, other),
                (ask.key, ask.job),
                "hands",
            )
    for flat in tower.file.flats:
        key = key_of(flat, measured=False)
        if flat.measured.anything and isinstance(walls[key], Made):
            ask = jobs[key]
            series = (key, ask.job) if isinstance(ask, Ask) else None
            _asked(held, key_of(flat, measured=True), lambda flat=flat: measured_job(flat, hands), series)
    checks = _answered(held, send, tell, "measured flats")

    own: dict[str, Ask | Failed] = {}
    for flat in tower.file.flats:
        if _made_to_measure(flat, checks):
            key = key_of(flat, measured=True)
            _asked(own, f"own {key}", lambda flat=flat: measured_job(flat, hands))
    walls |= _answered(own, send, tell, "made to measure")
    return Worked(
        tower,
        tuple(_done(flat, walls, checks) for flat in tower.file.flats),
        {ref: wall for ref, key in types.items() if isinstance(wall := walls[key], Made)},
        {ref: found for ref in types if isinstance(found := checks.get(f"range {ref}"), Range)},
        {ref: found for ref in types if isinstance(found := checks.get(f"hands {ref}"), BothHands)},
        sum(isinstance(wall, Made) for wall in walls.values()),
        sum(isinstance(one, Checked) for one in checks.values()),
    )


def _made_to_measure(flat: Flat, checks: dict[str, Any]) -> bool:
    """A measured flat that does not take the series' unit gets its own, unless somebody decided otherwise."""
    found = checks.get(key_of(flat, measured=True)) if flat.measured.anything else None
    if not isinstance(found, Checked):
        return False
    return not found.fit.takes if flat.to_measure is None else flat.to_measure


def _asked(
    jobs: dict[str, Ask | Failed],
    key: str,
    job: Callable[[], Any],
    series: tuple[str, Any] | None = None,
    what: Literal["check", "hands"] = "check",
) -> None:
    """Enter a question once; where the job itself cannot be made, why."""
    if key in jobs:
        return
    try:
        jobs[key] = Ask(key, what if series else "wall", job(), series)
    except JobError as problem:
        jobs[key] = Failed(key, "; ".join(f"{problem.name}: {one}" for one in problem.problems[:3]))
    except (ValueError, KeyError) as problem:
        jobs[key] = Failed(key, str(problem.args[0]) if problem.args else str(problem))


def _answered(
    jobs: dict[str, Ask | Failed], send: Send[Any, Any], tell: Tell | None, what: str
) -> dict[str, Answer | Failed]:
    asks = [ask for ask in jobs.values() if isinstance(ask, Ask)]
    asks.sort(
        key=lambda ask: ask.series[0] if ask.series else ""
    )  # of one series one after another: it is derived once
    found = answers(asks, work, send, (lambda done, of: tell(what, done, of)) if tell else None)
    return {key: found[key] if isinstance(ask, Ask) else ask for key, ask in jobs.items()}


def _done(flat: Flat, walls: dict[str, Any], checks: dict[str, Any]) -> Done:
    wall = walls[key_of(flat, measured=False)]
    if not isinstance(wall, Made):
        return Done(flat, None, True, None, wall.says)
    if not flat.measured.anything:
        return Done(flat, wall, True, None)
    key = key_of(flat, measured=True)
    checked = checks[key]
    if not isinstance(checked, Checked):
        return Done(flat, None, True, None, checked.says)
    own = walls.get(f"own {key}")
    if own is None or not _made_to_measure(flat, checks):
        return Done(flat, wall, True, checked)
    if not isinstance(own, Made):
        return Done(flat, None, False, checked, own.says)
    return Done(flat, own, False, checked)
