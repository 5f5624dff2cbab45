"""What each face of the wall is finished in: the finish and the colour of the wall, of a panel and of a unit's fronts.

A colour mixed to order belongs to the general finish; a unit or panel with a finish of its own keeps its own colour.
"""

from __future__ import annotations

from typing import NamedTuple

from wallwright.job.document import Job
from wallwright.library import load
from wallwright.library.load import Finish

USUAL_WALL = "paint_warm_white"
USUAL_FRONT = "laminate_off_white"


class Dress(NamedTuple):
    """A finish, and its colour as sRGB #RRGGBB."""

    finish: Finish
    colour: str


def finish_of(key: str | None, usual: str) -> Finish:
    """The library's finish of that key; the usual one where there is none."""
    library = load.finishes()
    return library.get(key or usual) or library[usual]


def wall_dress(job: Job) -> Dress:
    """The wall's own."""
    finish = finish_of(job.design.finishes.wall, USUAL_WALL)
    return Dress(finish, job.design.finishes.wall_colour or finish.colour)


def panel_dress(job: Job, ref: str, key: str) -> Dress:
    """Of a panel that is set out in the finish `key`."""
    finish = finish_of(key, USUAL_WALL)
    own = next((panel.finish for panel in job.design.panels if panel.ref == ref), None)
    return Dress(finish, (job.design.finishes.panel_colour if own is None else None) or finish.colour)


def front_dress(job: Job, ref: str, key: str) -> Dress:
    """Of the fronts of a unit that is set out in the finish `key`."""
    finish = finish_of(key, USUAL_FRONT)
    general = all(unit.front_finish is None for unit in job.design.units if unit.ref == ref)
    return Dress(finish, (job.design.finishes.front_colour if general else None) or finish.colour)
