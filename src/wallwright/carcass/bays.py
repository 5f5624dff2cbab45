"""Units divided: the boxes a unit is built of, and in each the bays with their clear inside.

A console's bays stand side by side, a tower's one above the other (a bay's `width` is its clear size along that direction).
A unit too long for one sheet is built of two or more boxes that meet at a bay boundary.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from functools import lru_cache

from wallwright.carcass import box_bays, stock
from wallwright.carcass.record import UnitBox
from wallwright.carcass.straight import BACK, inside_depth, longest
from wallwright.core.limit import Limits
from wallwright.core.once import Once, once
from wallwright.core.shape import Box
from wallwright.core.units import Length
from wallwright.job.brief import Brief
from wallwright.job.design import Bay, Design, FrontKind, SawSetting, Unit
from wallwright.job.document import Job
from wallwright.job.survey import Survey
from wallwright.library import load

FACED = frozenset({"particleboard18", "ply18_veneered"})
"""Boards that come faced."""
CARCASS_FINISH = "laminate_off_white"
ABOVE_CLIMB = 20.0
"""How far above the height a child climbs the first open shelf is put [mm]: clear of it, whatever the skirting and floor do."""
Passes = Callable[[float, float, float], bool]
"""Whether a box of this width, height and depth [mm] can be carried in by the surveyed way."""


@dataclass(frozen=True, slots=True)
class Cell:
    """One bay inside its box: its number in the unit (from 1), its clear inside, and what closes and divides it."""

    number: int
    clear: Box
    front: FrontKind
    drawers: int
    shelves: int
    hinged: str = ""


@dataclass(frozen=True, slots=True)
class Body:
    """One box of a unit: its outline without the plinth, and its bays from left to right or from bottom to top."""

    ref: str
    box: Box
    cells: tuple[Cell, ...]


def automatic_bays(  # noqa: PLR0913
    unit: UnitBox, job: Job, console_top: float, limits: Limits, carries: float, *, humid: bool
) -> tuple[Bay, ...]:
    """The usual bays: a console of drawers with one bay for the boxes, a tower with a shutter below and shelves above, a loft of
    shutters, a bookcase of open columns, a desk behind one flap, or two where one would be so wide that its boards sag.

    carries : what its boards are to carry [kg/m] · humid : the home stands in a hot and humid climate
    """
    t = stock.stock(unit.board, carcass_finish(unit.board)).thickness
    height = unit.box.height - plinth_height(unit, limits)
    if unit.kind == "console":
        return _console_bays(unit, job, t, _console_most(unit, carries, limits, humid=humid), limits)
    straight = longest(unit, inside_depth(unit), carries, limits, humid=humid)
    if unit.kind == "desk":
        flaps = _side_by_side(unit, job, t, straight)
        while flaps > 1 and (unit.box.width - (flaps + 1) * t) / flaps < limits.value("carcass.desk_flap"):
            flaps -= 1
        return (Bay("flap", shelves=1),) * flaps
    if unit.kind == "loft":
        most = min(limits.value("carcass.bay_clear"), straight)
        return (Bay("shutter"),) * _side_by_side(unit, job, t, most)
    if unit.kind == "open_shelves":
        levels = (height - 2 * t + t) / (limits.value("carcass.shelf_clear") + t)
        columns = _side_by_side(unit, job, t, min(limits.value("carcass.book_clear"), straight))
        return (Bay("open", shelves=max(0, math.floor(levels) - 1)),) * columns
    pitch = limits.value("carcass.shelf_clear") + t
    lower = shutter_clear(unit, console_top, t, limits)
    if small_child(job, limits):  # the first open shelf stands higher than a child steps
        lower = max(
            lower,
            _floor_of(limits.value("rule.climb_height")) - unit.box.z - (unit.box.height - height) - 2 * t,
        )
    if lower <= 0 or height < 2 * lower:
        return (Bay("open", shelves=max(0, math.floor((height - 2 * t) / pitch) - 1)),)
    upper = height - lower - 4 * t
    return Bay("shutter", Length(lower), shelves=1), Bay(
        "open", shelves=max(0, math.floor(upper / pitch) - 1)
    )


def small_child(job: Job, limits: Limits) -> bool:
    """Whether a child lives here that is small enough to climb shelves and drawers."""
    age = limits.value("rule.child_age")
    return any(person.age is not None and person.age < age for person in job.brief.people)


def _floor_of(climb: float) -> float:
    """The least height of an open bay's floor, clear of what a child climbs [mm]."""
    return climb + ABOVE_CLIMB


def shutter_clear(unit: UnitBox, console_top: float, t: float, limits: Limits) -> float:
    """Clear height of a tower's lower bay [mm]: its top level with the console's where that makes a usable door."""
    base = unit.box.z + plinth_height(unit, limits)
    usual = limits.value("carcass.shutter_height")
    level = console_top - base - 2 * t
    return level if usual / 2 <= level <= 1.5 * usual else usual - base + unit.box.z - 2 * t


def _side_by_side(unit: UnitBox, job: Job, t: float, most: float) -> int:
    """Bays side by side, none wider than `most` clear, alike in each box that a sheet gives."""
    bodies = max(1, math.ceil((unit.box.width - 1e-9) / _longest(unit, job)))
    count = max(1, math.ceil((unit.box.width - bodies * t) / (most + t)))
    return bodies * math.ceil(count / bodies)


def _console_most(unit: UnitBox, carries: float, limits: Limits, *, humid: bool) -> float:
    """The widest bay of a console whose bottom and top stay straight [mm]."""
    straight = longest(unit, inside_depth(unit), carries, limits, humid=humid)
    on_top = limits.value("carcass.load_top") * unit.depth / 1000
    straight = min(straight, longest(unit, unit.depth - BACK, on_top, limits, humid=humid))
    return min(limits.value("carcass.bay_clear"), straight)


def _console_bays(unit: UnitBox, job: Job, t: float, most: float, limits: Limits) -> tuple[Bay, ...]:
    """Drawers, and in the middle as many bays for the boxes as take them all, if need be wider than the drawers."""
    count = _side_by_side(unit, job, t, most)
    inside = unit.box.height - plinth_height(unit, limits) - 2 * t
    two = inside >= limits.value("carcass.drawer_two_from") and not small_child(job, limits)
    drawers = Bay("drawers", drawers=2 if two else 1)
    front = _device_front(job)
    if not front:
        return (drawers,) * count
    boxed = Bay(front, drawers=0)
    boxes = box_bays.in_cabinet(job.brief, limits.value("services.device_side_clear"))
    rows = [
        tuple(boxed if i in _middle(count, n) else drawers for i in range(count)) for n in range(1, count + 1)
    ]
    shared = _shared(unit, job, count, t)
    least = limits.value("carcass.console_least")
    fit = (box_bays.widened(row, boxes, shared, most, least) for row in rows)
    return next((row for row in fit if row is not None), rows[0])


def _wide_enough(what: _Asked, job: Job, bays: tuple[Bay, ...], carries: float, t: float) -> tuple[Bay, ...]:
    """A console's bays as asked for; of those whose width is left open, the ones for boxes as wide as these, where there is room."""
    unit, limits = what.unit, what.limits
    boxes = box_bays.in_cabinet(job.brief, limits.value("services.device_side_clear"))
    if unit.kind != "console" or not what.asked.bays or not boxes:
        return bays
    most = _console_most(unit, carries, limits, humid=what.survey.place.hot_humid)
    shared, least = _shared(unit, job, len(bays), t), limits.value("carcass.console_least")
    return box_bays.widened(bays, boxes, shared, most, least) or bays


def _middle(count: int, n: int) -> set[int]:
    """The n bays of the middle; two of three stand at the ends, so that both sides are alike."""
    if n == count - 1 and count % 2 and n > 1:
        return set(range(count)) - {count // 2}
    first = (count - n + 1) // 2
    return set(range(first, first + n))


def _shared(unit: UnitBox, job: Job, count: int, t: float) -> float:
    """The clear width of all bays side by side, in as many boxes as a sheet asks for [mm]."""
    bodies = max(1, math.ceil((unit.box.width - 1e-9) / _longest(unit, job)))
    return unit.box.width - (count + bodies) * t


def _device_front(job: Job) -> FrontKind | None:
    """The front of the bay where boxes stand: cloth where a remote must be seen through it, else a flap; None without boxes."""
    if not job.brief.devices:
        return None
    kinds = load.devices()
    controls: list[str] = []
    for device in job.brief.devices:
        usual = kinds.get(device.kind)
        place = device.place if device.place != "auto" or usual is None else usual.place
        if place == "cabinet":
            controls.append(device.control or (usual.control if usual else ""))
    return None if not controls else "cloth" if "ir" in controls else "flap"


def carcass_finish(board: str) -> str:
    """The facing of a carcass board: a board that comes faced needs none."""
    return "" if board in FACED else CARCASS_FINISH


def plinth_height(unit: UnitBox, limits: Limits) -> float:
    """Height of the plinth or legs under a standing unit [mm]; 0 under a hung one."""
    if unit.hung or unit.box.z > 0:
        return 0.0
    return limits.value("carcass.legs" if unit.base == "legs" else "carcass.plinth")


def _longest(unit: UnitBox, job: Job) -> float:
    """The longest part a sheet gives, with the board's larger sheet where it comes in two [mm]."""
    trim = job.design.saw.trim.mm
    return max(sheet[0] for sheet in load.boards()[unit.board].sheets) - 2 * trim


def bodies(  # noqa: PLR0913
    unit: UnitBox, asked: Unit, job: Job, console_top: float, limits: Limits, passes: Passes | None = None
) -> tuple[Body, ...]:
    """The boxes of a unit with their bays. passes : what can be carried in; a box that cannot is divided further, at its bays.

    Raises:
        ValueError: bays that cannot be built in the unit, naming the field.
    """
    of = once((job.survey, job.brief, job.design.saw))
    return _bodies(_Asked(unit, asked, of, console_top, limits, passes))


@dataclass(frozen=True, slots=True)
class _Asked:
    """All that the boxes of a unit are divided by. of : survey, brief and saw"""

    unit: UnitBox
    asked: Unit
    of: Once[tuple[Survey, Brief, SawSetting]]
    console_top: float
    limits: Limits
    passes: Passes | None

    @property
    def survey(self) -> Survey:
        """The survey that the unit is made by."""
        return self.of.values[0]


@lru_cache(maxsize=1024)
def _bodies(what: _Asked) -> tuple[Body, ...]:
    """Divided once for each question: the outlets are set out behind the same bays, and most units stay as they are at a change."""
    unit, limits, passes = what.unit, what.limits, what.passes
    # of the job what is asked by and nothing else: nothing else can be kept by mistake
    survey, brief, saw = what.of.values
    job = Job("", survey, brief, Design(units=(what.asked,), saw=saw))
    carries = what.asked.load if what.asked.load is not None else limits.value(unit.usual_load)
    bays = what.asked.bays or automatic_bays(
        unit, job, what.console_top, limits, carries, humid=what.survey.place.hot_humid
    )
    t = stock.stock(unit.board, carcass_finish(unit.board)).thickness
    bays = _wide_enough(what, job, bays, carries, t)
    stacked = unit.kind == "tower"
    plinth = plinth_height(unit, limits)
    outline = Box(unit.box.x, unit.box.z + plinth, unit.box.width, unit.box.height - plinth)
    run = outline.height if stacked else outline.width
    if min(outline.width, outline.height) <= 2 * t + 20:
        raise ValueError(
            f"design.units.{unit.ref}: {outline.width:g} × {outline.height:g} mm leaves no inside between boards of {t:g} mm; "
            "make it larger"
        )
    wanted = [bay.width.mm if bay.width else None for bay in bays]
    spare = limits.value("carcass.carry_spare")

    def goes(length: float) -> bool:
        wide, high = (outline.width, length) if stacked else (length, outline.height)
        return passes is None or passes(wide + spare, high + spare, unit.depth + spare)

    groups = _groups(wanted, run, t, _longest(unit, job), unit.ref, goes)
    clears = _clears(wanted, run, t, len(groups), unit.ref)
    out: list[Body] = []
    start = outline.z if stacked else outline.x
    for k, group in enumerate(groups):
        length = sum(clears[i] for i in group) + (len(group) + 1) * t
        box = replace(outline, z=start, height=length) if stacked else replace(outline, x=start, width=length)
        ref = unit.ref if len(groups) == 1 else f"{unit.ref}{'abcdefgh'[k]}"
        out.append(Body(ref, box, _cells(box, bays, clears, group, t, stacked)))
        start += length
    return tuple(out)


def cells_of(
    units: Iterable[UnitBox], job: Job, limits: Limits, passes: Passes | None = None
) -> dict[str, tuple[Cell, ...]]:
    """The bays of each cabinet by its ref, before anything is made of board: what outlets are set out behind."""
    units = tuple(units)
    asked = {unit.ref: unit for unit in job.design.units}
    top = max((unit.box.top for unit in units if unit.kind == "console"), default=0.0)
    return {
        unit.ref: tuple(
            cell for body in bodies(unit, asked[unit.ref], job, top, limits, passes) for cell in body.cells
        )
        for unit in units
        if unit.cabinet
    }


def _groups(  # noqa: PLR0913
    wanted: list[float | None], run: float, t: float, longest: float, ref: str, goes: Callable[[float], bool]
) -> list[list[int]]:
    """The bays of each box, none longer than a sheet nor than can be carried in: the fewest boxes of about as many bays each.

    Where more boxes do not help, those that a sheet asks for: the rules say that they do not come in.
    """
    count = len(wanted)
    made: list[list[int]] | None = None
    for boxes in range(max(1, math.ceil((run - 1e-9) / longest)), count + 1):
        groups = [list(range(count * k // boxes, count * (k + 1) // boxes)) for k in range(boxes)]
        clears = _clears(wanted, run, t, boxes, ref)
        lengths = [sum(clears[i] for i in group) + (len(group) + 1) * t for group in groups]
        if max(lengths) <= longest:
            made = made or groups
            if all(goes(length) for length in lengths):
                return groups
    if made:
        return made
    boxes = min(count, max(1, math.ceil(run / longest)), 8)
    return [list(range(count * k // boxes, count * (k + 1) // boxes)) for k in range(boxes)]


def _clears(wanted: list[float | None], run: float, t: float, boxes: int, ref: str) -> list[float]:
    """The clear size of each bay [mm]: as asked; those not asked for share the rest alike."""
    left = run - (len(wanted) + boxes) * t - sum(size for size in wanted if size is not None)
    free = sum(size is None for size in wanted)
    if left < -0.5 or (free and left / free < 20):
        raise ValueError(
            f"design.units.{ref}.bays: the bays need {-left + 20 * free:.0f} mm more than the {run:.0f} mm there are; "
            "make a bay smaller, leave its width out, or take a bay away"
        )
    if not free and left > 0.5:
        raise ValueError(
            f"design.units.{ref}.bays: the widths leave {left:.0f} mm over; leave the width of one bay out and it takes the rest"
        )
    return [left / free if size is None else size for size in wanted]


def _cells(
    box: Box, bays: tuple[Bay, ...], clears: list[float], group: list[int], t: float, stacked: bool
) -> tuple[Cell, ...]:
    cells: list[Cell] = []
    at = (box.z if stacked else box.x) + t
    for i in group:
        clear = (
            Box(box.x + t, at, box.width - 2 * t, clears[i])
            if stacked
            else Box(at, box.z + t, clears[i], box.height - 2 * t)
        )
        bay = bays[i]
        drawers = max(1, bay.drawers) if bay.front == "drawers" else 0
        cells.append(Cell(i + 1, clear, bay.front, drawers, 0 if drawers else bay.shelves, bay.hinged or ""))
        at += clears[i] + t
    return tuple(cells)
