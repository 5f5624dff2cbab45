"""The levels and the closed chains of dimensions that set a wall out: every drawing of its elevation carries them."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from wallwright.core.drawing import Dim, Level, Line, Mark, rectangle
from wallwright.job.face import obstacle_box
from wallwright.services.existing import ACCESSORIES
from wallwright.sheets.chains import chain, joined

if TYPE_CHECKING:
    from wallwright.carcass.record import PanelZone, UnitBox
    from wallwright.derive import Wall

DATUM = 1000.0  # the setting-out level line above FFL (common practice)
ROW = 8.0  # paper mm between dimension lines


def bare_wall(wall: Wall, scale: float) -> list[Mark]:
    """The wall's outline, the floor line drawn extra wide, and the datum line."""
    box = wall.face.box
    beyond = 6.0 * scale
    return [
        rectangle(box, "wide", layer="wall", ref="wall"),
        Line(((-beyond, 0.0), (box.right + beyond, 0.0)), "extra", layer="wall", ref="ffl"),
        Line(((-beyond, DATUM), (box.right + beyond, DATUM)), "chain", layer="levels", ref="datum"),
    ]


def levels(wall: Wall) -> list[Mark]:
    """Level marks up the right side: floor, datum, units, screen centre, soffits, ceiling."""
    named: list[tuple[float, str]] = [(0.0, "FFL"), (DATUM, "datum"), (wall.face.height, "ceiling")]
    named.append((wall.sight.screen.centre[1], "screen mid"))
    for unit in wall.setout.units:
        if unit.kind == "console":
            named += [(unit.box.z, f"{unit.ref} under"), (unit.box.top, f"{unit.ref} top")]
        elif unit.tall:
            named.append((unit.box.top, f"{unit.ref} top"))
    named += [
        (thing.z.mm, f"{thing.ref} {'soffit' if thing.kind == 'beam' else 'under'}")
        for thing in wall.face.obstacles
        if thing.kind in ("beam", "ac")
    ]
    merged: dict[float, str] = {}
    for mm, name in sorted(named):
        near = next((z for z in merged if abs(z - mm) < 0.5), None)
        if near is None:
            merged[mm] = name
        else:
            merged[near] = _both(merged[near], name)
    return [
        Level((wall.face.width, mm), mm, name, layer="levels", ref=f"level {name}", reach=2.5)
        for mm, name in merged.items()
    ]


def _both(a: str, b: str) -> str:
    """Two names of one level: `T1 top` and `T2 top` are `T1, T2 top`."""
    first, _, rest = a.rpartition(" ")
    other, _, rest_b = b.rpartition(" ")
    return f"{first}, {other} {rest}" if rest == rest_b and first and other else f"{a}, {b}"


def dimensions(wall: Wall, units: tuple[UnitBox, ...], zones: tuple[PanelZone, ...]) -> list[Mark]:
    """Chains that close: along the floor and up the left side from FFL, with the overall beyond; the screen and panels above.

    Bays of a console stand in the chain along the floor; above the panels stand shelves and what is on the wall already.
    """
    face, frame = wall.face.box, wall.sight.screen.frame
    low = [u for u in units if not u.board_only]
    across = [0.0, *(e for u in low for e in (u.box.x, u.box.right, *_between(wall, u))), face.width]
    above = [0.0, *_along_the_wall(wall, units), face.width]
    top = [0.0, *(e for zone in zones for e in (zone.box.x, *zone.joints, zone.box.right)), face.width]
    centre = [0.0, frame.x, frame.centre[0], frame.right, face.width]
    console = [e for u in units if u.kind == "console" for e in (u.box.z, u.box.top)]
    shelf = [e for u in units if u.board_only for e in (u.box.z, u.box.top)]
    up = [0.0, *console, frame.z, frame.centre[1], frame.top, *shelf, face.height]
    marks: list[Dim] = [*chain(across, "x", 0.0, -ROW), *chain(centre, "x", 0.0, -2 * ROW, "screen chain")]
    marks += _overall([0.0, face.width], "x", 0.0, -3 * ROW)
    marks += [*chain(up, "z", 0.0, -ROW), *_overall([0.0, face.height], "z", 0.0, -3 * ROW)]
    tall = [
        0.0,
        *(e for u in units if u.tall for e in (u.box.z, u.box.top)),
        *(e for z in zones for e in (z.box.z, z.box.top)),
        face.height,
    ]
    if len(joined(tall)) > 2:
        marks += chain(tall, "z", 0.0, -2 * ROW, "tower chain")
    if len(joined(top)) > 2:
        marks += chain(top, "x", face.height, ROW, "panel chain")
    if len(joined(above)) > 2:
        marks += chain(above, "x", face.height, 2 * ROW, "shelf chain")
    return list(marks)


STANDING = ("window", "door", "beam", "column", "skirting", "niche")
"""Obstacles that the chain of shelves and things on the wall leaves out: as wide as the wall, or seen by everyone."""


def _along_the_wall(wall: Wall, units: tuple[UnitBox, ...]) -> list[float]:
    """Ends of shelves, of air conditioners and the like, and the middles of outlets that are there already."""
    ends = [e for u in units if u.board_only for e in (u.box.x, u.box.right)]
    for thing in wall.face.obstacles:
        box = obstacle_box(thing)
        if thing.kind in ACCESSORIES:
            ends.append(box.centre[0])
        elif thing.kind not in STANDING and box.width < wall.face.width / 2:
            ends += [box.x, box.right]
    return [e for e in ends if 0.0 < e < wall.face.width]


def _between(wall: Wall, unit: UnitBox) -> list[float]:
    """Where the fields of a console's bays meet: the middle of each division."""
    if unit.kind != "console":
        return []
    bays = sorted((b.box for b in wall.carcass.bays if b.unit == unit.ref), key=lambda box: box.x)
    return [(a.right + b.x) / 2 for a, b in pairwise(bays) if b.x > a.right - 1e-6]


def _overall(ends: list[float], along: str, at: float, offset: float) -> list[Dim]:
    return chain(ends, "z" if along == "z" else "x", at, offset, "overall")
