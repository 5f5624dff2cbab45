"""What stands beside the section: how each seat sees the screen, the legend, the notes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wallwright.core.units import show_mm
from wallwright.sheets.beside import Block, Legend, Notes
from wallwright.sheets.section_cut import LEAF, beams_over, turned, turned_reach

if TYPE_CHECKING:
    from wallwright.derive import Wall
    from wallwright.sight.record import SeatView


def words_beside(wall: Wall) -> list[Block]:
    """The seats, the legend, and what a drawing alone does not say."""
    screen = wall.sight.screen
    at = screen.centre[0]
    legend = Legend(
        (
            ("hatch:masonry", f"wall: {wall.job.survey.wall.substrate.replace('_', ' ')}"),
            ("hatch:cut", "floor, ceiling, beam: cut"),
            ("hatch:board", "board: cut"),
            ("pen:phantom", "screen folded back" if turned(wall) else "screen (fitted later)"),
            *(
                [("pen:medium", "screen (fitted later) as it is watched, its turned edges thin")]
                if turned(wall)
                else []
            ),
            ("pen:chain", "datum line; eye to screen centre"),
            ("pen:thin", "eye to top and bottom of the screen"),
            ("sign:eye", "eye of a person in that seat"),
        )
    )
    facts = [
        f"Section at x = {show_mm(at)} from the left corner, looking left.",
        f"Screen: depth {show_mm(screen.depth)}, back {show_mm(screen.stand_off)} off the wall's face{' when folded' if turned(wall) else ''}, "
        f"tilt {screen.tilt:g}° forward, {screen.mass:g} kg.",
    ]
    if turned(wall):
        facts.append(
            f"Watched turned {abs(screen.swivel):g}° to the {'right' if screen.swivel > 0 else 'left'}: middle of the picture "
            f"{show_mm(screen.middle[1])} off the wall, near edge {show_mm(turned_reach(wall))}."
        )
    facts += [
        f"{thing.ref} stands {show_mm(thing.projection.mm)} out of the wall, its soffit {show_mm(thing.z.mm)} above FFL."
        for thing in beams_over(wall, at)
    ]
    if wall.job.survey.wall.leaf is None:
        facts.append(f"Wall thickness not surveyed: drawn {LEAF:g}.")
    if wall.job.survey.wall.substrate == "unknown":
        facts.append(
            "WALL TYPE UNKNOWN: do not fix anything; knock, drill a trial hole and tell the designer."
        )
    return [
        Notes(
            "Seen from the seats",
            tuple(_angles(seat) for seat in wall.sight.seats) or ("No seats surveyed.",),
        ),
        legend,
        Notes("Notes", tuple(facts)),
    ]


def _angles(seat: SeatView) -> str:
    up = "up" if seat.centre_up >= 0 else "down"
    return (
        f"Seat {seat.ref} ({seat.kind.replace('_', ' ')}, {seat.posture}): eye {show_mm(seat.eye[2])} above FFL, "
        f"{show_mm(-seat.eye[1])} from the wall; "
        f"screen centre {abs(seat.centre_up):.1f}° {up}, top {seat.top_up:.1f}°, picture {seat.picture_angle:.0f}° wide"
    )
