"""The survey's measures against the most likely outline of the wall: what was read, what all of them say, and what to take again."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wallwright.core.counted import counted
from wallwright.core.table import Cell, Column, Table
from wallwright.job.reconcile import Checked, Outline, likely, measures, outline

if TYPE_CHECKING:
    from wallwright.core.limit import Limits
    from wallwright.derive import Wall
    from wallwright.job.survey import SurveyedWall


def outline_of(wall: SurveyedWall, limits: Limits) -> Outline | None:
    """The most likely outline of a surveyed wall; None where its measures do not determine one."""
    return outline(measures(wall, limits), limits)


def survey_measures(wall: SurveyedWall, limits: Limits) -> Table:
    """A row a measure: read, most likely, residual (most likely less read), how much of its own error would show, and what it says.

    Empty where the measures do not determine an outline.
    """
    found = outline_of(wall, limits)
    cols = (
        Column("Measure"), Column("Read", "mm", 0, "right"), Column("Most likely", "mm", 1, "right"),
        Column("Residual", "mm", 1, "right"), Column("±", "mm", 1, "right"), Column("Checked", "%", 0, "right"), Column("Says"),
    )  # fmt: skip
    if found is None:
        return Table("survey_measures", "Survey: measures and most likely outline", cols, ())
    least = limits.value("survey.checked_least")
    rows = tuple(_row(one, found, least) for one in found.checked if one.measure.kind != "lean")
    return Table(
        "survey_measures", "Survey: measures and most likely outline", cols, rows, tuple(_notes(wall, found))
    )


def measured(wall: Wall) -> Table:
    """The same of a wall, for its set of lists."""
    return survey_measures(wall.job.survey.wall, wall.limits)


def _row(one: Checked, found: Outline, least: float) -> tuple[Cell, ...]:
    says = (
        "MEASURE AGAIN" if one in found.suspects
        else "nothing checks it" if one.redundancy < least
        else ""
    )  # fmt: skip
    return (
        one.measure.says.removeprefix("the "), float(one.measure.value), one.computed, round(one.residual, 1) + 0.0,
        2 * one.measure.sigma, 100 * one.redundancy, says,
    )  # fmt: skip


def _wrong_by(one: Checked) -> str:
    return f"{one.measure.says}, about {abs(one.off):.0f} mm too {'large' if one.off > 0 else 'small'}"


def _notes(wall: SurveyedWall, found: Outline) -> list[str]:
    width, height = likely(found)
    least = min(one.value.mm for one in wall.widths), min(one.value.mm for one in wall.heights)
    drawn = "most likely outline" if wall.adjusted else "smallest readings"
    out = [
        f"Smallest of the outline: {width:.1f} wide, {height:.1f} high; smallest read: {least[0]:.1f} and {least[1]:.1f}. Drawn by the {drawn}.",
    ]
    if found.spare:
        out.append(
            f"{counted(found.spare, 'measure')} more than needed; largest disagreement {found.misclosure:.1f} mm, "
            f"{found.variance:.2f} of what was expected (1 is as good as said)."
        )
    else:
        out.append(
            "No measure more than needed: nothing checks anything. Both diagonals and a third width and height do."
        )
    if found.suspects:
        out.append(f"Does not close: {' or '.join(map(_wrong_by, found.suspects))}. G1 is not signed before.")
    return out
