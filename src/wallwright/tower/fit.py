"""Does a measured flat take the unit as drawn? Its joinery is held to the series' sizes, and every rule is asked on the wall as it is."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import ceil
from typing import TYPE_CHECKING, NamedTuple

from wallwright.core.units import Length
from wallwright.job.face import wall_face
from wallwright.tower.likeness import made_of

if TYPE_CHECKING:
    from wallwright.carcass.record import Part
    from wallwright.core.finding import Finding
    from wallwright.derive import Wall
    from wallwright.job.design import Panel, Unit
    from wallwright.job.document import Job

MUST = ("danger", "fix")
CORNER = 1.0
"""A panel that ends so near a corner of the wall runs into it [mm]."""


class Ends(NamedTuple):
    """The fillers that close the joinery to the wall's corners as drawn [mm]; None where that end stands free."""

    left: float | None
    right: float | None

    @property
    def move(self) -> float:
        """By which share of a wall's extra width the joinery moves from the left corner: fillers at both ends share it."""
        return 0.5 if (self.left is None) == (self.right is None) else 0.0 if self.right is None else 1.0

    @property
    def closed(self) -> int:
        """How many ends are closed."""
        return (self.left is not None) + (self.right is not None)


def ends_of(wall: Wall) -> Ends:
    """Which ends are closed by a filler, and how wide it is."""
    boxes = [unit.box for unit in wall.setout.units if unit.cabinet]
    if not boxes:
        return Ends(None, None)
    most = wall.limits.value("carcass.scribe_high")
    left, right = min(box.x for box in boxes), wall.face.width - max(box.right for box in boxes)
    return Ends(*(gap if gap <= most else None for gap in (left, right)))


def held(series: Wall, job: Job) -> Job:
    """The job of a measured flat with its joinery and screen held to the series' sizes; what the wall is wider or narrower goes
    into the fillers. What the designer placed from the left corner, outlets and openings for devices, goes with the joinery.
    """
    face = wall_face(job.survey, job.rules)
    wider, higher = face.width - series.face.width, face.height - series.face.height
    shift = ends_of(series).move * wider
    screen = series.sight.screen
    design = job.design
    devices = tuple(
        one if one.x is None else replace(one, x=Length(one.x.mm + shift)) for one in job.brief.devices
    )
    return replace(
        job,
        brief=replace(job.brief, devices=devices),
        design=replace(
            design,
            points=tuple(replace(one, x=Length(one.x.mm + shift)) for one in design.points),
            screen=replace(
                design.screen,
                centre_x=Length(screen.centre[0] + shift),
                centre_height=Length(screen.centre[1]),
            ),
            units=tuple(_unit(one, series, shift) for one in design.units),
            panels=tuple(_panel(one, series, shift, wider, higher) for one in design.panels),
        ),
    )


def _unit(unit: Unit, series: Wall, shift: float) -> Unit:
    made = series.setout.unit(unit.ref)
    box = made.box
    return replace(
        unit,
        x=Length(box.x + shift),
        z=Length(max(box.z, 0.0)),
        width=Length(box.width),
        height=Length(box.height),
        depth=Length(made.depth),
    )


def _panel(panel: Panel, series: Wall, shift: float, wider: float, higher: float) -> Panel:
    """A panel moves with the joinery; where it runs into a corner or the ceiling it is cut to them."""
    box = next(zone.box for zone in series.setout.zones if zone.ref == panel.ref)
    left = box.x if box.x < CORNER else box.x + shift
    right = box.right + (wider if box.right > series.face.width - CORNER else shift)
    top = box.top + (higher if box.top > series.face.height - CORNER else 0.0)
    return replace(
        panel,
        x=Length(left),
        z=Length(max(box.z, 0.0)),
        width=Length(right - left),
        height=Length(top - max(box.z, 0.0)),
    )


@dataclass(frozen=True, slots=True)
class Fit:
    """The answer for one measured flat.

    takes : whether it takes the unit as drawn · why : what stands against it · again : what of the measuring itself is doubtful ·
    fillers : its own, (end, width at its narrowest [mm])
    """

    takes: bool
    why: tuple[str, ...]
    again: tuple[str, ...]
    fillers: tuple[tuple[str, float], ...]


def fit(series: Wall, before: tuple[Finding, ...], wall: Wall, found: tuple[Finding, ...]) -> Fit:
    """Whether the flat takes it.

    series, before : the wall as drawn and its findings · wall, found : the measured wall with the joinery held to those sizes,
    and its findings
    """
    known = {(item.rule, item.where) for item in before}
    new = [item for item in found if item.severity in MUST and (item.rule, item.where) not in known]
    again = tuple(
        item.says for item in new if item.rule.startswith("survey.") and item.rule != "survey.impossible"
    )
    why = [item.says for item in new if item.says not in again]
    fillers = _fillers(series, wall)
    why = [*_narrow(fillers, wall), *_low(series, wall), *why]
    return Fit(not why, tuple(dict.fromkeys(why)), again, fillers)


def _fillers(series: Wall, wall: Wall) -> tuple[tuple[str, float], ...]:
    ends, wider = ends_of(series), wall.face.width - series.face.width
    return tuple(
        (name, gap + part * wider)
        for name, gap, part in (("left", ends.left, ends.move), ("right", ends.right, 1.0 - ends.move))
        if gap is not None
    )


def _narrow(fillers: tuple[tuple[str, float], ...], wall: Wall) -> list[str]:
    """Fillers that have become too narrow to be scribed, or wider than a filler may be at the widest height."""
    least, most = wall.limits.value("tower.scribe_least"), wall.limits.value("carcass.scribe_high")
    out = [
        f"the filler at the {name} end would be {gap:.0f} mm: at least {least:g} mm is wanted to scribe"
        for name, gap in fillers
        if gap < least
    ]
    out += [
        f"the filler at the {name} end would be up to {gap + wall.face.spread_x:.0f} mm: over {most:g} mm reads as a mistake"
        for name, gap in fillers
        if gap + wall.face.spread_x > most
    ]
    return out


def _low(series: Wall, wall: Wall) -> list[str]:
    """Tall units that no longer have their gap to a lower ceiling, where the series has it."""
    least = wall.limits.value("tower.top_least")
    return [
        f"{unit.ref} is left {wall.face.height - unit.box.top:.0f} mm under the ceiling: at least {least:g} mm is wanted"
        for unit in series.setout.units
        if unit.tall and wall.face.height - unit.box.top < least <= series.face.height - unit.box.top
    ]


def own_parts(series: Wall, wall: Wall) -> tuple[Part, ...] | None:
    """The measured flat's boards where they differ from the series' in more than their fillers; None where they do not."""
    mine, theirs = (
        sorted(repr(made_of(part)) for part in one.carcass.parts if part.role != "filler")
        for one in (series, wall)
    )
    return None if mine == theirs else wall.carcass.parts


class Room(NamedTuple):
    """What one measured flat leaves of choice: the least and most an end filler may be drawn for it [mm]."""

    flat: str
    least: float
    most: float


def room_for(
    flat: str, width: float, spread: float, series_width: float, ends: Ends, bears: tuple[float, float]
) -> Room:
    """The fillers that may be drawn so that this flat takes the unit, were the body made that much narrower or wider.

    width, spread : narrowest reading of the flat, and by how much it is wider elsewhere · bears : the narrowest and the widest
    filler that the series bears · of two closed ends each takes half of what the flat is wider, one closed end takes nothing: the
    other stands free
    """
    takes = 0.5 * (width - series_width) if ends.closed == 2 else 0.0
    return Room(flat, bears[0] - takes, bears[1] - spread - takes)


def narrowest(rooms: tuple[Room, ...], share: float) -> float | None:
    """The smallest drawn filler with which at least that share of the flats takes the unit [mm]; None where none does.

    The answer is among the flats' own least fillers: between two of them nothing changes but that fewer may be too wide.
    """
    wanted = ceil(len(rooms) * share - 1e-9)
    for drawn in sorted({max(room.least, 0.0) for room in rooms}):
        if sum(room.least <= drawn + 1e-9 and drawn <= room.most + 1e-9 for room in rooms) >= wanted:
            return drawn
    return None


def without(rooms: tuple[Room, ...], drawn: float) -> tuple[str, ...]:
    """The flats that do not take a unit drawn with that filler."""
    return tuple(room.flat for room in rooms if not room.least <= drawn + 1e-9 <= room.most + 2e-9)
