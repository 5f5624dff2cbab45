"""What a proposal starts from: the survey and the brief, read once, and what of the design is given and stays as it is."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from wallwright.carcass import room
from wallwright.core.units import Length
from wallwright.derive import Wall, derive
from wallwright.job.design import Design, Finishes

if TYPE_CHECKING:
    from wallwright.core.shape import Box
    from wallwright.job.document import Job
    from wallwright.sight.record import Candidate

CABINET, TOWER = "cabinet", "tower"


@dataclass(frozen=True, slots=True)
class Site:
    """The wall before anything stands on it.

    job : as it came · bare : with the given values alone, one screen · frame : outline of that screen · axis : its middle ·
    low, high : the stretch of wall that joinery may take · ceiling : the least height · under : the lowest soffit over that stretch ·
    boxes : how many boxes want a bay · child : whether a small child lives there
    """

    job: Job
    bare: Wall
    frame: Box
    axis: float
    low: float
    high: float
    ceiling: float
    under: float
    boxes: int
    child: bool

    def limit(self, name: str) -> float:
        """A value of the setting-out limits."""
        return self.bare.limits.value(f"carcass.{name}")


def site_of(job: Job, diagonal: float | None = None) -> Site:
    """The site with a screen of this size, or with the given or recommended one.

    Raises ValueError, as `derive` does, where nothing can be hung at all.
    """
    bare = derive(emptied(job, diagonal))
    frame, face = bare.sight.screen.frame, bare.face
    scribe = bare.limits.value("carcass.scribe")
    stands = room.standing(face, bare.limits)
    low, high = room.free_span(
        scribe, face.width - scribe, 0.0, frame.z, frame.centre[0], stands, bare.limits.value("carcass.obstacle_gap")
    )  # fmt: skip
    places = [device.place for device in bare.services.devices]
    return Site(
        job, bare, frame, frame.centre[0], low, high, face.height,
        room.underside(face.height, low, high, room.hanging(face, bare.limits)),
        sum(place not in ("screen", "on_console") for place in places), bare.storage.reach.out > 0,
    )  # fmt: skip


def emptied(job: Job, diagonal: float | None = None) -> Job:
    """The job without units, panels and lights; with a screen of this size where none is given."""
    screen = job.design.screen
    if diagonal is not None and screen.diagonal is None:
        screen = replace(screen, diagonal=diagonal)
    return replace(job, design=replace(job.design, screen=screen, units=(), panels=(), lights=()))


def set_aside(job: Job) -> Job:
    """The job with its composition set aside: screen, mount, wiring, saw, rack and rates stay; units, panels, points, lights and
    finishes are open again.
    """
    design = job.design
    return replace(
        job,
        design=Design(
            screen=design.screen, mount=design.mount, wiring=design.wiring, backing=design.backing, saw=design.saw,
            finishes=Finishes(emission=design.finishes.emission), stock=design.stock, rates=design.rates,
        ),
    )  # fmt: skip


def sizes_of(site: Site) -> tuple[Candidate, ...]:
    """The screens worth building a wall round, the recommended one first: those that fit wall and way in and are not too small or too
    wide from the seats; where the design gives one, that one alone.
    """
    here = site.bare.sight.screen.diagonal
    rows = {row.diagonal: row for row in site.bare.sight.candidates}
    if site.job.design.screen.diagonal is not None or here not in rows:
        return ()
    good = [row for row in rows.values() if row.possible and row.verdict.startswith("good")]
    others = sorted((row for row in good if row.diagonal < here), key=lambda row: -row.diagonal)
    return (rows[here], *others)


def mm(value: float) -> Length:
    """A length to the whole millimetre."""
    return Length(float(round(value)))
