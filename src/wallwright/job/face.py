"""The wall's face as it can be used: the smallest width and height, and what stands in the way."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from wallwright.core.shape import Box
from wallwright.job.reconcile import likely, measures, outline
from wallwright.job.survey import Obstacle, Survey
from wallwright.library import load


@dataclass(frozen=True, slots=True)
class Face:
    """The usable wall.

    width, height : the smallest of the readings, or of the most likely outline [mm], heights from FFL with the floor still to come taken off ·
    spread_x, spread_z : largest less smallest reading [mm] · obstacles : those that stay or come, as surveyed ·
    assumed : names of readings that nobody taped
    """

    width: float
    height: float
    spread_x: float
    spread_z: float
    obstacles: tuple[Obstacle, ...]
    assumed: tuple[str, ...]

    @property
    def box(self) -> Box:
        """The face as a box from the lower left corner."""
        return Box(0.0, 0.0, self.width, self.height)


def obstacle_box(thing: Obstacle) -> Box:
    """An obstacle as seen on the elevation."""
    return Box(thing.x.mm, thing.z.mm, thing.width.mm, thing.height.mm)


def wall_face(survey: Survey, rules: Mapping[str, float] | None = None) -> Face:
    """The usable face. One designs to the smallest width and height: a box made to the largest does not go in. Where the survey says
    so, these are the smallest of the most likely outline, else of the readings. rules : the job's own limits

    Source: common practice. Raises ValueError where the survey has no width or no height.
    """
    widths = [reading.value for reading in survey.wall.widths]
    heights = [reading.value for reading in survey.wall.heights]
    if not widths or not heights:
        raise ValueError("survey.wall needs at least one width and one height")
    to_come = survey.room.floor_to_come.mm
    found = _outline(survey, rules or {}) if survey.wall.adjusted else None
    width, high = found or (min(length.mm for length in widths), min(length.mm for length in heights))
    height = high - to_come
    if height <= 0:
        raise ValueError(f"survey.room.floor_to_come of {to_come:g} mm leaves no wall height")
    assumed = tuple(
        f"survey.wall.{name}.{i}"
        for name, lengths in (("widths", widths), ("heights", heights))
        for i, length in enumerate(lengths)
        if not length.taped
    )
    return Face(
        width=width,
        height=height,
        spread_x=max(length.mm for length in widths) - min(length.mm for length in widths),
        spread_z=max(length.mm for length in heights) - min(length.mm for length in heights),
        obstacles=tuple(thing for thing in survey.obstacles if thing.state != "remove"),
        assumed=assumed,
    )


def _outline(survey: Survey, rules: Mapping[str, float]) -> tuple[float, float] | None:
    """The smallest width and height of the most likely outline [mm]; None where the measures do not determine one."""
    limits = load.limits_of(survey.place.rules).overridden(rules)
    found = outline(measures(survey.wall, limits), limits)
    return None if found is None else likely(found)
