"""Setting-out: where every unit and panel stands. Pinned values stay as they are; the rest is derived and says why.

Towers and bookcases first, at the wall's ends; then the console between them, the loft over it, niches, desks, shelves and
ledges where there is room beside the screen, and last the panel behind the screen.
Nothing pinned is ever moved: where pinned values clash the wall is set out as asked and the rules report it.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import replace
from functools import partial
from itertools import chain

from wallwright.carcass import box_bays, niche, panel_zone, room, setout_apart, setout_beside, stock
from wallwright.carcass.bays import carcass_finish
from wallwright.carcass.ground import LEAST, Ground, Sized, floor, front_finish, own_board, pin
from wallwright.carcass.panels import free_rear
from wallwright.carcass.record import PanelZone, SetOut, UnitBox
from wallwright.core.limit import Limits
from wallwright.core.shape import Box
from wallwright.core.why import Given, Later, Why
from wallwright.job.design import Panel, Unit
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
    "open_shelves": {
        "x": ("scribe", "scribe_taper", "scribe_high"),
        "z": ("underside",),
        "width": ("bookcase_width", "tower_width_low", "tower_to_screen", "obstacle_gap"),
        "height": ("top_filler", "tilt_margin"),
        "depth": ("bookcase_depth",),
    },
    **setout_beside.USES,
}
"""The limits that each derived measure rests on."""


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
    whys: list[Iterable[Why]] = []
    consoles = [unit for unit in job.design.units if unit.kind == "console"]
    heights = {unit.ref: console_heights(unit, ground) for unit in consoles}
    ends = {"left": 0.0, "right": 0.0}
    for unit, side in _sides([unit for unit in job.design.units if unit.kind in ("tower", "open_shelves")]):
        sized = setout_apart.apart(unit, _tower(unit, side, ends, ground), list(made.values()), ground)
        _add(unit, side, sized, ground, made, whys)
    towers = [unit.box for unit in made.values()]
    for unit in _pinned_first(consoles):
        sized = _console(unit, heights[unit.ref], towers, ground)
        _add(unit, "centre", setout_apart.apart(unit, sized, list(made.values()), ground), ground, made, whys)
    for kind in ("loft", "niche", "arched_niche", "desk", "shelf", "ledge"):
        those = [unit for unit in job.design.units if unit.kind == kind]
        for unit in _pinned_first(those):
            sized = setout_beside.PLACED[kind](unit, those.index(unit), list(made.values()), ground)
            _add(
                unit,
                unit.side,
                setout_apart.apart(unit, sized, list(made.values()), ground),
                ground,
                made,
                whys,
            )
    units = tuple(made[unit.ref] for unit in job.design.units)
    return SetOut(units, _zones(ground, units, whys), Later(lambda: chain.from_iterable(whys)))


def _pinned_first(units: list[Unit]) -> list[Unit]:
    """Those whose place is pinned before those that are to keep clear of them."""
    return sorted(units, key=lambda unit: unit.x is None)


def _zones(ground: Ground, units: tuple[UnitBox, ...], whys: list[Iterable[Why]]) -> tuple[PanelZone, ...]:
    """The panels: those whose place is pinned, then the others where the first leave room."""
    job, made = ground.job, dict[str, PanelZone]()
    towers = [unit.box for unit in units if unit.kind == "tower"]

    def set_out(index: int, panel: Panel, into: list[Why]) -> PanelZone:
        return panel_zone.set_out(
            panel, index, job, ground.face, ground.frame, units, ground.hangs, ground.limits, into
        )

    for i, panel in sorted(enumerate(job.design.panels), key=lambda item: not (item[1].x and item[1].width)):
        own: list[Why] = []
        zone, placed = set_out(i, panel, own), list(made.values())
        aside = setout_apart.panel_aside(panel, zone, placed, towers, ground)
        if aside:
            met = " or ".join(other.ref for other in placed)
            again: list[Why] = []
            zone = replace(set_out(i, aside, again), pinned=zone.pinned)
            own = setout_apart.aside_whys(again, panel, met)
        made[panel.ref] = zone
        whys.append(own)
    return tuple(made[panel.ref] for panel in job.design.panels)


def scribe_width(spread: float, limits: Limits) -> float:
    """Width of the filler at a wall: the usual one, or the wall's taper and a little, never a mistake to look at [mm]."""
    wanted = max(limits.value("carcass.scribe"), spread + limits.value("carcass.scribe_taper"))
    return min(wanted, limits.value("carcass.scribe_high"))


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
    books = unit.kind == "open_shelves"
    depth = pin(unit.depth, ground.limit("bookcase_depth" if books else "tower_depth"))
    z = pin(unit.z, ground.limit("underside") if unit.hung else 0.0)
    height = tower_height(over, z, depth, face.height, ground.limits)
    if books:  # its sides are in one piece: no longer than a sheet
        sheet = stock.sheet_size(own_board(unit, ground), ground.job.design.saw.trim.mm)[0]
        foot = 0.0 if unit.hung or z > 0 else ground.limit("legs" if unit.base == "legs" else "plinth")
        height = min(height, floor(sheet + foot))
    height = pin(unit.height, height)
    ends[side] = max(ends[side], start + width)
    says = {
        "x": f"Beside a scribe filler of {ground.scribe:g} mm at the {side} end of the wall, clear of what stands there.",
        "width": "The usual width, or what its widest box takes with air beside it; if need be less, "
        f"so that {ground.limit('tower_to_screen'):g} mm stay free beside the screen.",
        "height": f"Under the ceiling or beam at {over:.0f} mm with a filler above, low enough to be stood up in the room.",
        "depth": "The usual depth of a bookcase." if books else "The usual depth of a side tower.",
        "z": "It hangs." if unit.hung else "It stands on the floor, on its plinth.",
    }
    return Sized(view(Box(start, z, width, height)), depth, says)


def _tower_span(
    unit: Unit, side: str, start: float, frame: Box, stands: list[Box], ground: Ground
) -> tuple[float, float]:
    """Where a tower begins, counted from its own end of the wall, and its width."""
    least = ground.limit("tower_width_low")
    usual = ground.limit("bookcase_width") if unit.kind == "open_shelves" else _tower_usual(unit, ground)
    if unit.x is not None and side == "right":
        there = ground.face.width - ground.scribe - unit.x.mm
        width = pin(unit.width, floor(max(least, min(usual, there))))
        return ground.face.width - unit.x.mm - width, width
    start = unit.x.mm if unit.x else _past(start, pin(unit.width, least), stands, frame, ground.scribe)
    gap = ground.limit("obstacle_gap")
    next_thing = min((box.x - gap for box in stands if box.x >= start), default=frame.right)
    there = min(frame.x - ground.limit("tower_to_screen"), next_thing) - start
    return start, pin(unit.width, floor(max(least, min(usual, there))))


def _tower_usual(unit: Unit, ground: Ground) -> float:
    """The width of a tower that has the room: the usual one, or what its widest box takes with the air beside it.

    Towers come out alike, whichever of them the box stands in, as long as its boards stay straight over such a width.
    """
    usual, board = ground.limit("tower_width"), own_board(unit, ground)
    side = ground.limits.value("services.device_side_clear")
    boxes = box_bays.in_cabinet(ground.job.brief, side, "tower")
    clear = min(max((width for _, width in boxes), default=0.0), ground.limit("bay_clear"))
    return max(usual, math.ceil(clear + 2 * stock.stock(board, carcass_finish(board)).thickness - 1e-6))


def _past(start: float, width: float, stands: list[Box], frame: Box, scribe: float) -> float:
    """The first x from `start` where a tower clears what stands at its end of the wall (nothing beyond the screen counts)."""
    for box in sorted(stands, key=lambda box: box.x):
        if box.x < start + width and box.right > start and box.right + scribe + width <= frame.right:
            start = box.right + scribe
    return start


def tower_height(over: float, z: float, depth: float, ceiling: float, limits: Limits) -> float:
    """Height of a tower [mm]: to the filler beneath what is above it, and no higher than it can be tilted up.

    √(h² + d²) ≤ ceiling less 10 mm. Source: common practice. A depth that takes half the height or more is itself at fault: the
    height stays, and the rules say so.
    """
    tilt = ceiling - limits.value("carcass.tilt_margin")
    stands_up = math.sqrt(max(tilt * tilt - depth * depth, 0.0))
    there = over - limits.value("carcass.top_filler") - z
    return floor(max(there if stands_up < there / 2 else min(there, stands_up), 300.0))


def console_heights(unit: Unit, ground: Ground) -> tuple[float, float]:
    """Underside and height of a console [mm]: the usual ones, lowered within their bands until the screen has its gap.

    First the underside comes down, then the body gets lower; pinned values stay.
    """
    room_under = ground.frame.z - screen_gap(ground.job, ground.limits)
    low = ground.limit("underside_low")
    body_low = ground.limit("body_low")
    if unit.hung is False:
        plinth = ground.limit("legs" if unit.base == "legs" else "plinth")
        z = pin(unit.z, 0.0)
        return z, pin(
            unit.height,
            floor(min(plinth + ground.limit("body"), max(room_under - z, plinth + body_low))),
        )
    body = pin(unit.height, ground.limit("body"))
    z = pin(unit.z, floor(min(ground.limit("underside"), max(low, room_under - body))))
    if unit.height is None:
        body = floor(min(body, max(body_low, room_under - z)))
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
    wide = ground.face.width
    middle = min(max(frame.centre[0], ground.scribe), wide - ground.scribe)  # a screen may hang off the wall
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
    least = max(ground.limit("body_low"), len(unit.bays) * ground.limit("console_least"))
    if unit.x is None:
        same = 2 * min(middle - low, high - middle)
        there = max(min(ratio * frame.width, same), min(frame.width, high - low))
        width = pin(unit.width, floor(there if there > LEAST else least))
        x = (
            min(max(middle - width / 2, low), high - width)
            if width <= high - low
            else (low + high - width) / 2
        )
    else:
        x = unit.x.mm
        width = pin(unit.width, floor(max(min(ratio * frame.width, high - x), ground.limit("body_low"))))
    says = {
        "x": "Its middle under the middle of the screen, as far as there is room.",
        "width": f"{ratio:g} times the screen's width, never narrower than the screen, between what stands at each side.",
        "z": "The usual underside, lowered if need be so that the screen has its clear height above the console.",
        "height": "The usual body, lower only where the underside cannot come down further.",
        "depth": "Deep enough for a receiver and its cables.",
    }
    return Sized(Box(x, z, width, height), pin(unit.depth, ground.limit("console_depth")), says)


def _beside(low: float, high: float, middle: float, towers: list[Box], gap: float) -> tuple[float, float]:
    """The stretch between the towers, a shadow gap from each (they stand closer than other obstacles)."""
    left = [box.right for box in towers if box.centre[0] < middle]
    right = [box.x for box in towers if box.centre[0] >= middle]
    return max([low, *left]) + (gap if left else 0.0), min([high, *right]) - (gap if right else 0.0)


def _add(
    unit: Unit, side: str, sized: Sized, ground: Ground, made: dict[str, UnitBox], whys: list[Iterable[Why]]
) -> None:
    board = own_board(unit, ground)
    hung = unit.hung if unit.hung is not None else unit.kind not in ("tower", "open_shelves")
    base = unit.base or "plinth"
    plinth = 0.0 if hung or sized.box.z > 0 else ground.limit("legs" if base == "legs" else "plinth")
    t = stock.stock(board, carcass_finish(board)).thickness
    cabinet = unit.kind not in ("shelf", "ledge", "niche", "arched_niche")
    made[unit.ref] = UnitBox(
        ref=unit.ref,
        kind=unit.kind,
        side=side,
        box=sized.box,
        depth=sized.depth,
        hung=hung,
        anchored=unit.anchored,
        board=board,
        front_finish=front_finish(unit, ground),
        pinned=frozenset(
            name for name in (*MEASURES, "hung", "board", "front_finish") if getattr(unit, name) is not None
        ),
        rear=free_rear(sized.box, t, hung, plinth, ground.limits) if cabinet else None,
        base=base,
        inset=unit.fronts == "inset",
        back=unit.back if unit.back is not None else not (unit.kind == "niche" and side == "centre"),
        build=unit.shelf_build or "plain",
        lip=pin(unit.lip, ground.limit("ledge_lip" if unit.kind == "ledge" else "shelf_lip")),
        rise=_rise(unit, sized, ground),
        bend=unit.bend or "flexible",
    )
    _buildable(unit, sized, ground)
    whys.append(Later(partial(_whys, unit, sized, ground)))


def _rise(unit: Unit, sized: Sized, ground: Ground) -> float:
    """Rise of an arched niche [mm]: as decided, else a half round as far as its height lets it; 0 of any other unit."""
    if unit.kind != "arched_niche":
        return 0.0
    clear = niche.arched_clear(
        sized.box, own_board(unit, ground), front_finish(unit, ground), unit.bend or "flexible"
    )
    return pin(unit.arch_rise, max(min(clear.width / 2, 0.6 * clear.height), 1.0))


def _buildable(unit: Unit, sized: Sized, ground: Ground) -> None:
    """Raises ValueError, naming the field, for a size that nobody builds."""
    most = ground.limit("longest_unit")
    for name, value in (("width", sized.box.width), ("height", sized.box.height), ("depth", sized.depth)):
        if value > most:
            raise ValueError(
                f"design.units.{unit.ref}.{name}: {value:.0f} mm is more than anybody builds; give at most {most:.0f} mm"
            )


def _whys(unit: Unit, sized: Sized, ground: Ground) -> list[Why]:
    """The working behind each measure of a unit."""
    box = sized.box
    values = {"x": box.x, "z": box.z, "width": box.width, "height": box.height, "depth": sized.depth}
    out: list[Why] = []
    for name, value in values.items():
        field = f"design.units.{unit.ref}.{name}"
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
