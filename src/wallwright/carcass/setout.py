"""Setting-out: where every unit and panel stands. Pinned values stay as they are; the rest is derived and says why.

Towers first, at the wall's ends; then the console between them, the shelf, and last the panel behind the screen.
Nothing pinned is ever moved: where pinned values clash the wall is set out as asked and the rules report it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from wallwright.carcass import panel_zone, room, stock
from wallwright.carcass.bays import carcass_finish
from wallwright.carcass.panels import free_rear
from wallwright.carcass.record import SetOut, UnitBox
from wallwright.core.limit import Limits
from wallwright.core.shape import Box
from wallwright.core.units import Length
from wallwright.core.why import Given, Why
from wallwright.job.design import Unit
from wallwright.job.document import Job
from wallwright.job.face import Face

MEASURES = ("x", "z", "width", "height", "depth")
USES = {
    "tower": {
        "x": ("scribe", "scribe_taper", "scribe_high"),
        "z": ("underside",),
        "width": ("tower_width", "tower_width_low", "tower_to_screen", "obstacle_gap"),
        "height": ("top_filler", "tilt_margin"),
        "depth": ("tower_depth",),
    },
    "console": {
        "x": ("unit_gap", "obstacle_gap"),
        "z": ("underside", "underside_low", "body", "plinth"),
        "width": ("console_ratio", "unit_gap", "obstacle_gap"),
        "height": ("body", "body_low", "underside_low", "plinth"),
        "depth": ("console_depth",),
    },
    "shelf": {
        "x": ("panel_margin", "tower_to_screen", "obstacle_gap"),
        "z": ("shelf_over_screen", "shelf_pitch"),
        "width": ("shelf_width", "shelf_width_low"),
        "height": (),
        "depth": ("shelf_depth",),
    },
}
"""The limits that each derived measure rests on."""
LEAST = 100.0
"""Where there is no room at all a thing is still this wide [mm], and the rules say that it stands in something."""


@dataclass(frozen=True, slots=True)
class Ground:
    """What setting-out looks at: the face, the screen, what hangs and stands in the way, the scribe, the limits."""

    job: Job
    face: Face
    frame: Box
    hangs: list[Box]
    stands: list[Box]
    scribe: float
    limits: Limits

    def limit(self, name: str) -> float:
        """A limit of this trade by its short name."""
        return self.limits.value(f"carcass.{name}")


@dataclass(frozen=True, slots=True)
class Sized:
    """A unit set out, with a sentence for each measure that was derived."""

    box: Box
    depth: float
    says: dict[str, str]


def plan(job: Job, face: Face, screen_frame: Box, limits: Limits) -> SetOut:
    """The wall set out.

    Raises:
        ValueError: a board or finish that the library lacks, naming the field.
    """
    ground = Ground(
        job,
        face,
        screen_frame,
        room.hanging(face, limits),
        room.standing(face, limits),
        scribe_width(face.spread_x, limits),
        limits,
    )
    made: dict[str, UnitBox] = {}
    whys: list[Why] = []
    consoles = [unit for unit in job.design.units if unit.kind == "console"]
    heights = {unit.ref: console_heights(unit, ground) for unit in consoles}
    ends = {"left": 0.0, "right": 0.0}
    for unit, side in _sides([unit for unit in job.design.units if unit.kind == "tower"]):
        _add(unit, side, _tower(unit, side, ends, ground), ground, made, whys)
    towers = [unit.box for unit in made.values()]
    for unit in consoles:
        _add(unit, "centre", _console(unit, heights[unit.ref], towers, ground), ground, made, whys)
    for k, unit in enumerate(unit for unit in job.design.units if unit.kind == "shelf"):
        _add(unit, unit.side, _shelf(unit, k, list(made.values()), ground), ground, made, whys)
    units = tuple(made[unit.ref] for unit in job.design.units)
    zones = tuple(
        panel_zone.set_out(panel, i, job, face, screen_frame, units, ground.hangs, limits, whys)
        for i, panel in enumerate(job.design.panels)
    )
    return SetOut(units, zones, tuple(whys))


def scribe_width(spread: float, limits: Limits) -> float:
    """Width of the filler at a wall: the usual one, or the wall's taper and a little, never a mistake to look at [mm]."""
    wanted = max(limits.value("carcass.scribe"), spread + limits.value("carcass.scribe_taper"))
    return min(wanted, limits.value("carcass.scribe_high"))


def _pin(length: Length | None, automatic: float) -> float:
    return automatic if length is None else length.mm


def _floor(mm: float) -> float:
    """Down to the whole millimetre: what is made a little smaller still goes in."""
    return float(math.floor(mm + 1e-6))


def _sides(towers: list[Unit]) -> list[tuple[Unit, str]]:
    """Each tower with the end it stands at: as said, else the end with fewer towers, left first."""
    counts = {"left": 0, "right": 0}
    for unit in towers:
        if unit.side != "centre":
            counts[unit.side] += 1
    out: list[tuple[Unit, str]] = []
    for unit in towers:
        side = unit.side
        if side == "centre":
            side = "left" if counts["left"] <= counts["right"] else "right"
            counts[side] += 1
        out.append((unit, side))
    return out


def _tower(unit: Unit, side: str, ends: dict[str, float], ground: Ground) -> Sized:
    """A tower at one end. The right end is reckoned in a mirror, so both ends come out alike."""
    wall, face = ground.face.width, ground.face

    def view(box: Box) -> Box:
        return box if side == "left" else room.mirrored(box, wall)

    frame = view(ground.frame)
    stands = [view(box) for box in ground.stands]
    hangs = [view(box) for box in ground.hangs]
    start, width = _tower_span(unit, side, ends[side] or ground.scribe, frame, stands, ground)
    over = room.underside(face.height, start, start + width, hangs)
    depth = _pin(unit.depth, ground.limit("tower_depth"))
    z = _pin(unit.z, ground.limit("underside") if unit.hung else 0.0)
    height = _pin(unit.height, tower_height(over, z, depth, face.height, ground.limits))
    ends[side] = max(ends[side], start + width)
    says = {
        "x": f"Beside a scribe filler of {ground.scribe:g} mm at the {side} end of the wall, clear of what stands there.",
        "width": f"The usual width, if need be less, so that {ground.limit('tower_to_screen'):g} mm stay free beside the screen.",
        "height": f"Under the ceiling or beam at {over:.0f} mm with a filler above, low enough to be stood up in the room.",
        "depth": "The usual depth of a side tower.",
        "z": "It hangs." if unit.hung else "It stands on the floor, on its plinth.",
    }
    return Sized(view(Box(start, z, width, height)), depth, says)


def _tower_span(
    unit: Unit, side: str, start: float, frame: Box, stands: list[Box], ground: Ground
) -> tuple[float, float]:
    """Where a tower begins, counted from its own end of the wall, and its width."""
    least, usual = ground.limit("tower_width_low"), ground.limit("tower_width")
    if unit.x is not None and side == "right":
        there = ground.face.width - ground.scribe - unit.x.mm
        width = _pin(unit.width, _floor(max(least, min(usual, there))))
        return ground.face.width - unit.x.mm - width, width
    start = unit.x.mm if unit.x else _past(start, _pin(unit.width, least), stands, frame, ground.scribe)
    gap = ground.limit("obstacle_gap")
    next_thing = min((box.x - gap for box in stands if box.x >= start), default=frame.right)
    there = min(frame.x - ground.limit("tower_to_screen"), next_thing) - start
    return start, _pin(unit.width, _floor(max(least, min(usual, there))))


def _past(start: float, width: float, stands: list[Box], frame: Box, scribe: float) -> float:
    """The first x from `start` where a tower clears what stands at its end of the wall (nothing beyond the screen counts)."""
    for box in sorted(stands, key=lambda box: box.x):
        if box.x < start + width and box.right > start and box.right + scribe + width <= frame.right:
            start = box.right + scribe
    return start


def tower_height(over: float, z: float, depth: float, ceiling: float, limits: Limits) -> float:
    """Height of a tower [mm]: to the filler beneath what is above it, and no higher than it can be tilted up.

    √(h² + d²) ≤ ceiling less 10 mm. Source: common practice.
    """
    tilt = ceiling - limits.value("carcass.tilt_margin")
    stands_up = math.sqrt(max(tilt * tilt - depth * depth, 0.0))
    return _floor(max(min(over - limits.value("carcass.top_filler") - z, stands_up), 300.0))


def console_heights(unit: Unit, ground: Ground) -> tuple[float, float]:
    """Underside and height of a console [mm]: the usual ones, lowered within their bands until the screen has its gap.

    First the underside comes down, then the body gets lower; pinned values stay.
    """
    room_under = ground.frame.z - screen_gap(ground.job, ground.limits)
    low = ground.limit("underside_low")
    body_low = ground.limit("body_low")
    if unit.hung is False:
        plinth = ground.limit("plinth")
        z = _pin(unit.z, 0.0)
        return z, _pin(
            unit.height,
            _floor(min(plinth + ground.limit("body"), max(room_under - z, plinth + body_low))),
        )
    body = _pin(unit.height, ground.limit("body"))
    z = _pin(unit.z, _floor(min(ground.limit("underside"), max(low, room_under - body))))
    if unit.height is None:
        body = _floor(min(body, max(body_low, room_under - z)))
    return z, body


def screen_gap(job: Job, limits: Limits) -> float:
    """Clear height wanted between the console's top and the screen [mm]: more where a soundbar stands there."""
    bar = any(
        device.kind == "soundbar" and device.place in ("auto", "on_console") for device in job.brief.devices
    )
    return limits.value("carcass.soundbar_gap" if bar else "carcass.screen_gap")


def _console(unit: Unit, heights: tuple[float, float], towers: list[Box], ground: Ground) -> Sized:
    z, height = heights
    frame, gap = ground.frame, ground.limit("unit_gap")
    middle = frame.centre[0]
    things = ground.stands + [Box(box.x, 0.0, box.width, box.height) for box in towers]
    low, high = room.free_span(
        ground.scribe,
        ground.face.width - ground.scribe,
        z,
        z + height,
        middle,
        things,
        ground.limit("obstacle_gap"),
    )
    low, high = _beside(low, high, middle, towers, gap)
    ratio = ground.limit("console_ratio")
    if unit.x is None:
        same = 2 * min(middle - low, high - middle)
        width = _pin(unit.width, _floor(max(min(ratio * frame.width, same), min(frame.width, high - low))))
        x = (
            min(max(middle - width / 2, low), high - width)
            if width <= high - low
            else (low + high - width) / 2
        )
    else:
        x = unit.x.mm
        width = _pin(unit.width, _floor(max(min(ratio * frame.width, high - x), ground.limit("body_low"))))
    says = {
        "x": "Its middle under the middle of the screen, as far as there is room.",
        "width": f"{ratio:g} times the screen's width, never narrower than the screen, between what stands at each side.",
        "z": "The usual underside, lowered if need be so that the screen has its clear height above the console.",
        "height": "The usual body, lower only where the underside cannot come down further.",
        "depth": "Deep enough for a receiver and its cables.",
    }
    return Sized(Box(x, z, width, height), _pin(unit.depth, ground.limit("console_depth")), says)


def _beside(low: float, high: float, middle: float, towers: list[Box], gap: float) -> tuple[float, float]:
    """The stretch between the towers, a shadow gap from each (they stand closer than other obstacles)."""
    left = [box.right for box in towers if box.centre[0] < middle]
    right = [box.x for box in towers if box.centre[0] >= middle]
    return max([low, *left]) + (gap if left else 0.0), min([high, *right]) - (gap if right else 0.0)


def _shelf(unit: Unit, k: int, made: list[UnitBox], ground: Ground) -> Sized:
    """A wall shelf beside the screen where there is room, else above it; the next one stands above the last."""
    frame, face = ground.frame, ground.face
    board = stock.known_board(unit.board or stock.WALL_SHELF, f"design.units.{unit.ref}.board")
    height = _pin(unit.height, stock.stock(board, _finish(unit, ground)).thickness)
    wanted = _pin(unit.width, ground.limit("shelf_width"))
    margin = ground.limit("panel_margin") if ground.job.design.panels else ground.limit("tower_to_screen")
    beside = [item.box for item in made if item.box.top > frame.z and item.kind == "tower"]
    low, high = room.free_span(
        ground.scribe, face.width - ground.scribe, frame.z, frame.top, frame.centre[0], ground.stands + beside,
        ground.limit("obstacle_gap"),
    )  # fmt: skip
    right = unit.side != "left"
    span = (frame.right + margin, high) if right else (low, frame.x - margin)
    least = unit.width.mm if unit.width else ground.limit("shelf_width_low")
    if span[1] - span[0] >= least:
        width = min(wanted, _floor(span[1] - span[0]))
        x, z = (span[0] + span[1] - width) / 2, frame.centre[1] - height / 2
        where = f"To the {'right' if right else 'left'} of the screen, level with its middle."
    else:
        width = max(min(wanted, _floor(high - low)), min(wanted, LEAST))
        x, z = frame.centre[0] - width / 2, frame.top + ground.limit("shelf_over_screen")
        where = f"{ground.limit('shelf_over_screen'):g} mm above the screen: beside it there is no room."
    z += k * ground.limit("shelf_pitch")
    box = Box(_pin(unit.x, x), _pin(unit.z, z), width, height)
    says = {"x": where, "z": where, "width": "The usual width, or what there is room for.", "height": "The board's thickness.",
            "depth": "The usual depth of a wall shelf."}  # fmt: skip
    return Sized(box, _pin(unit.depth, ground.limit("shelf_depth")), says)


def _finish(unit: Unit, ground: Ground) -> str:
    chosen = unit.front_finish or ground.job.design.finishes.fronts or stock.FRONT_FINISH
    return stock.known_finish(chosen, f"design.units.{unit.ref}.front_finish")


def _add(
    unit: Unit, side: str, sized: Sized, ground: Ground, made: dict[str, UnitBox], whys: list[Why]
) -> None:
    usual = (
        stock.WALL_SHELF
        if unit.kind == "shelf"
        else ground.job.design.finishes.carcass_board or stock.CARCASS
    )
    board = stock.known_board(unit.board or usual, f"design.units.{unit.ref}.board")
    hung = unit.hung if unit.hung is not None else unit.kind != "tower"
    plinth = 0.0 if hung or sized.box.z > 0 else ground.limit("plinth")
    t = stock.stock(board, carcass_finish(board)).thickness
    made[unit.ref] = UnitBox(
        ref=unit.ref,
        kind=unit.kind,
        side=side,
        box=sized.box,
        depth=sized.depth,
        hung=hung,
        anchored=unit.anchored,
        board=board,
        front_finish=_finish(unit, ground),
        pinned=frozenset(
            name for name in (*MEASURES, "hung", "board", "front_finish") if getattr(unit, name) is not None
        ),
        rear=None if unit.kind == "shelf" else free_rear(sized.box, t, hung, plinth, ground.limits),
    )
    whys.extend(_whys(unit, sized, ground))


def _whys(unit: Unit, sized: Sized, ground: Ground) -> list[Why]:
    """The working behind each measure of a unit. Raises ValueError, naming the field, for a size that nobody builds."""
    box = sized.box
    values = {"x": box.x, "z": box.z, "width": box.width, "height": box.height, "depth": sized.depth}
    most = ground.limit("longest_unit")
    out: list[Why] = []
    for name, value in values.items():
        field = f"design.units.{unit.ref}.{name}"
        if name in ("width", "height", "depth") and value > most:
            raise ValueError(
                f"{field}: {value:.0f} mm is more than anybody builds; give at most {most:.0f} mm"
            )
        title = f"{unit.kind} {unit.ref}.{name}"
        if getattr(unit, name) is not None:
            out.append(
                Why(title, value, "mm", "Pinned by the designer.", "", (), field, "derived", pinned=True)
            )
            continue
        used = USES[unit.kind][name]
        limits = tuple(ground.limits[f"carcass.{short}"] for short in used)
        inputs = (
            *_seen(name, sized.depth, ground),
            *(Given(item.name, item.value, item.unit) for item in limits),
        )
        source = (
            "; ".join(dict.fromkeys(item.source for item in limits)) or "setting-out beside screen and wall"
        )
        out.append(Why(title, value, "mm", sized.says[name], "", inputs, source, "derived"))
    return out


def _seen(name: str, depth: float, ground: Ground) -> tuple[Given, ...]:
    """What of the wall and the screen a measure was taken from."""
    frame, face = ground.frame, ground.face
    if name in ("z", "height"):
        return (
            Given("screen frame lower edge", frame.z, "mm"),
            Given("clear height under the screen", screen_gap(ground.job, ground.limits), "mm"),
            Given("depth", depth, "mm"),
            Given("wall height", face.height, "mm"),
        )
    if name == "depth":
        return ()
    return (
        Given("screen frame x", frame.x, "mm"),
        Given("screen frame width", frame.width, "mm"),
        Given("scribe filler", ground.scribe, "mm"),
        Given("wall width", face.width, "mm"),
    )
