"""Cures for a window mirrored in the picture, found and ranked: tilt, blind, shift, swivel, another wall.

Each says what it brings (share of the picture, veiling ratio), what it costs elsewhere, and the edits that make it.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace

from wallwright.core.finding import EditCall, edit_call
from wallwright.core.limit import Limits
from wallwright.core.shape import Box
from wallwright.job.document import Job
from wallwright.job.face import Face
from wallwright.sight.angles import edge_of_tilted
from wallwright.sight.mirrored import Source, glass_of, lamps, windows
from wallwright.sight.place import keep_clear, room_for_centre
from wallwright.sight.record import Screen, SeatView
from wallwright.sight.reflect import Glass, Point3, area, into, seen_at
from wallwright.sight.veil import Front, Picture, front, picture, veiling

TILT_STEP = 0.5
SHIFT_STEP = 50.0
SWIVEL_STEP = 1.0
CLOTHS = (0.10, 0.05, 0.03, 0.01)
"""Light let through by usual screen cloths and lined curtains: common practice."""


@dataclass(frozen=True, slots=True)
class Setting:
    """What a cure may move, and what it must mind.

    glass : the picture as it hangs · eyes : of the seats, the most used first · others : everything else that may be mirrored ·
    frame : the screen's outline · stand_off [mm] · x_low, x_high : where its middle may stand · clear_of : what the frame must
    not meet · tilts, swivels : whether the mount does · wall_width, depth : of the room; depth None = unknown
    """

    glass: Glass
    eyes: tuple[Point3, ...]
    others: tuple[Source, ...]
    front: Front
    day: Picture
    frame: Box
    stand_off: float
    x_low: float
    x_high: float
    tilts: bool
    swivels: bool
    wall_width: float
    depth: float | None = None
    clear_of: tuple[Box, ...] = ()


@dataclass(frozen=True, slots=True)
class Cure:
    """One way out. kind : tilt, blind, shift, swivel, wall · value and unit : how far · share, ratio : worst seat, after it ·
    solves : brings the share to 5 % or the ratio to a tenth · says : in one sentence · effects : what else it does
    """

    kind: str
    value: float | str
    unit: str
    share: float
    ratio: float
    solves: bool
    says: str
    effects: tuple[str, ...]
    edits: tuple[EditCall, ...]


def worst_share(glass: Glass, eyes: Iterable[Point3], corners: Sequence[Point3]) -> float:
    """The largest share of the picture in which any of the eyes sees it mirrored."""
    axes = glass.axes()
    local = [into(axes, glass.middle, corner) for corner in corners]
    whole, half_width, half_height = glass.width * glass.height, glass.width / 2, glass.height / 2
    return max(
        (
            area(seen_at(into(axes, glass.middle, eye), local, half_width, half_height)) / whole
            for eye in eyes
        ),
        default=0.0,
    )


def setting_of(job: Job, face: Face, screen: Screen, seats: Sequence[SeatView], limits: Limits) -> Setting:
    """The screen as it hangs in this room. The eyes of a room without seats are none: then nothing is mirrored."""
    glass = glass_of(screen)
    room = room_for_centre(face, screen.frame.width, screen.frame.height, limits)
    depth = job.survey.room.depth
    return Setting(
        glass, tuple(seat.eye for seat in sorted(seats, key=lambda seat: -seat.share)),
        (*windows(job.survey, face, limits), *lamps(job.survey, glass, limits)),
        front(job.design.screen.surface, limits), picture(False, limits), screen.frame, screen.stand_off,
        room.x if room else glass.middle[0], room.right if room else glass.middle[0], screen.mount != "fixed",
        screen.mount == "arm", face.width, depth.mm if depth is not None else None,
        keep_clear(job.design, job.brief, face, limits),
    )  # fmt: skip


def cures(window: Source, through: float, setting: Setting, limits: Limits) -> tuple[Cure, ...]:
    """All cures of one window (its luminance already behind its blind, which lets `through`), the best first.

    Those that solve it come first, the least trouble first among them: tilt, blind, shift, swivel, another wall.
    """
    if not setting.eyes:
        return ()
    allowed = limits.value("rule.reflection_consider")
    ratio = veiling(window.luminance, setting.front.mirrors, setting.day.mean)
    found = [
        *_tilts(window, ratio, allowed, setting, limits.value("sight.tilt_most")),
        *_blind(window, through, ratio, setting, limits.value("rule.veil_good")),
        *_shift(window, ratio, allowed, setting),
        *_swivel(window, ratio, allowed, setting, limits.value("sight.swivel_furthest")),
        *_other_walls(window, ratio, allowed, setting),
    ]
    return tuple(sorted(found, key=lambda cure: not cure.solves))  # sorted() keeps the order of equals


def _tilts(window: Source, ratio: float, allowed: float, setting: Setting, most: float) -> list[Cure]:
    """The smallest tilt that leaves at most 5 %, and the smallest that clears, where they differ."""
    best: dict[float, tuple[float, float]] = {}
    for step in range(math.ceil(setting.glass.tilt / TILT_STEP), round(most / TILT_STEP) + 1):
        tilt = step * TILT_STEP
        left = worst_share(replace(setting.glass, tilt=tilt), setting.eyes, window.corners)
        for target in (allowed, 0.0):
            if left <= target and target not in best:
                best[target] = tilt, left
        if len(best) == 2:
            break
    return [_tilt(window, tilt, left, ratio, allowed, setting) for tilt, left in dict.fromkeys(best.values())]


def _tilt(window: Source, tilt: float, left: float, ratio: float, allowed: float, setting: Setting) -> Cure:
    _, forward = edge_of_tilted(setting.frame.height / 2, tilt)
    turned = replace(setting.glass, tilt=tilt)
    effects = [
        f"the top edge comes {forward:.0f} mm forward and stands {2 * forward:.0f} mm further out than the bottom"
    ]
    if forward > setting.stand_off:
        effects.append(
            f"the mount must stand off {forward - setting.stand_off:.0f} mm more, or turn about the bottom edge"
        )
    effects += [_then_mirrors(turned, setting), *_newly_mirrored(turned, setting)]
    edits = [edit_call("set_tilt", tilt=tilt)]
    if not setting.tilts:
        edits.insert(0, edit_call("set_mount", kind="tilt"))
        effects.append("it needs a mount that tilts")
    return Cure(
        "tilt", tilt, "deg", left, ratio if left else 0.0, left <= allowed,
        f"tilt the screen {tilt:g}° forward: {_what_is_left(left)}", tuple(effects), tuple(edits),
    )  # fmt: skip


def _then_mirrors(glass: Glass, setting: Setting) -> str:
    """What the first eye sees in the picture's middle: the floor, or the wall opposite, and where."""
    eye = into(glass.axes(), glass.middle, setting.eyes[0])
    far = glass.in_room((-eye[0], -eye[1], eye[2]))  # a point on the ray thrown back by the picture's middle
    dy, dz = far[1] - glass.middle[1], far[2] - glass.middle[2]
    to_floor = -glass.middle[2] / dz if dz < 0 else math.inf
    to_wall = (-setting.depth - glass.middle[1]) / dy if setting.depth is not None and dy < 0 else math.inf
    if to_floor <= to_wall and to_floor < math.inf:
        away = -(glass.middle[1] + to_floor * dy)
        return f"its middle then mirrors the floor {away / 1000:.1f} m from the wall: keep floor and rug matt and not white"
    if to_wall < math.inf:
        return f"its middle then mirrors the wall opposite at {glass.middle[2] + to_wall * dz:.0f} mm"
    return "its middle then mirrors the room behind the seats"


def _newly_mirrored(glass: Glass, setting: Setting) -> list[str]:
    """Other windows and lamps that the picture would mirror then and does not now."""
    new = [
        other.ref
        for other in setting.others
        if worst_share(glass, setting.eyes, other.corners) > 0
        and worst_share(setting.glass, setting.eyes, other.corners) <= 0
    ]
    return [f"then mirrors {', '.join(new)}"] if new else []


def _blind(window: Source, through: float, ratio: float, setting: Setting, good: float) -> list[Cure]:
    """The most that a blind may let through for the mirrored window to be no brighter than a tenth of the picture."""
    if ratio <= good or through <= 0:
        return []
    needed = through * good / ratio
    cloth = next((cloth for cloth in CLOTHS if cloth <= needed), needed)
    share = worst_share(setting.glass, setting.eyes, window.corners)
    after = ratio * cloth / through
    return [
        Cure(
            "blind", cloth, "of the light let through", share, after, True,
            f"give {window.ref} a blind that lets through at most {needed:.0%}; with {cloth:.0%} the mirrored window has "
            f"{after:.2f} of the picture's luminance",
            ("the room is darker while it is drawn",), (edit_call("set_window_blind", ref=window.ref, blind=cloth),),
        )
    ]  # fmt: skip


def _shift(window: Source, ratio: float, allowed: float, setting: Setting) -> list[Cure]:
    """The smallest move along the wall that leaves at most 5 %; the best place there is where none does."""
    x, y, z = setting.glass.middle

    def left_at(place: float) -> float:
        return worst_share(replace(setting.glass, middle=(place, y, z)), setting.eyes, window.corners)

    reach = max(x - setting.x_low, setting.x_high - x, 0.0)
    places = [
        place
        for step in range(1, int(reach / SHIFT_STEP) + 1)
        for place in (x - step * SHIFT_STEP, x + step * SHIFT_STEP)
        if setting.x_low <= place <= setting.x_high and _free(setting, place - x)
    ]
    found = _first(places, left_at, allowed)
    if found is None:
        return []
    place, left = found
    turned = max(abs(math.degrees(math.atan2(eye[0] - place, y - eye[1]))) for eye in setting.eyes)
    side = "right" if place > x else "left"
    solves = left <= allowed
    says = f"move the screen {abs(place - x):.0f} mm to the {side}: {_what_is_left(left)}"
    if not solves:
        says = f"moving the screen helps little: at best, {abs(place - x):.0f} mm to the {side}, {_what_is_left(left)}"
    return [
        Cure(
            "shift", round(place - x), "mm", left, ratio if left else 0.0, solves, says,
            (f"the farthest seat aside then looks {turned:.0f}° from the side",),
            (edit_call("set_screen_x", centre_x=round(place)),),
        )
    ]  # fmt: skip


def _free(setting: Setting, by: float) -> bool:
    """Whether the frame, moved along the wall by that much, meets nothing that it must keep clear of."""
    frame = replace(setting.frame, x=setting.frame.x + by)
    return not any(frame.meets(box) for box in setting.clear_of)


def _swivel(window: Source, ratio: float, allowed: float, setting: Setting, most: float) -> list[Cure]:
    """The smallest turn of the screen that leaves at most 5 %; nothing where no turn does."""
    turns = [
        sign * step * SWIVEL_STEP for step in range(1, round(most / SWIVEL_STEP) + 1) for sign in (-1, 1)
    ]
    turns = [
        turn for turn in turns if abs(turn) > abs(setting.glass.swivel) or turn * setting.glass.swivel < 0
    ]

    def left_at(turn: float) -> float:
        return worst_share(replace(setting.glass, swivel=turn), setting.eyes, window.corners)

    found = _first(turns, left_at, allowed)
    if found is None or found[1] > allowed:
        return []
    turn, left = found
    turned = replace(setting.glass, swivel=turn)
    axes = turned.axes()
    aside = max(
        math.degrees(math.atan2(abs(e[0]), e[2]))
        for e in (into(axes, turned.middle, eye) for eye in setting.eyes)
    )
    effects = [f"the seats then look up to {aside:.0f}° from the side", *_newly_mirrored(turned, setting)]
    edits = [edit_call("set_arm", swivel=turn)]
    if not setting.swivels:
        edits.insert(0, edit_call("set_mount", kind="arm"))
        effects.append("it needs an arm that swivels, and room for it to turn")
    return [
        Cure(
            "swivel", turn, "deg", left, ratio if left else 0.0, True,
            f"turn the screen {abs(turn):g}° to the {'right' if turn > 0 else 'left'}: {_what_is_left(left)}",
            tuple(effects), tuple(edits),
        )
    ]  # fmt: skip


def _other_walls(window: Source, ratio: float, allowed: float, setting: Setting) -> list[Cure]:
    """The screen at the middle of another wall, its picture towards the room, the eyes where they are; the best such wall."""
    if setting.depth is None:
        return []
    z, out = setting.glass.middle[2], -setting.glass.middle[1]
    half = setting.depth / 2
    walls = {
        "left": Glass((out, -half, z), setting.glass.width, setting.glass.height, 0.0, 90.0),
        "right": Glass(
            (setting.wall_width - out, -half, z), setting.glass.width, setting.glass.height, 0.0, -90.0
        ),
    }
    best = min(((worst_share(glass, setting.eyes, window.corners), name) for name, glass in walls.items()))
    left, name = best
    behind = all(
        into(walls[name].axes(), walls[name].middle, corner)[2] <= out + 1 for corner in window.corners
    )
    effects = ["the seats must turn, and the furniture with them"]
    if behind:
        effects.append(f"{window.ref} is in that wall: the picture then stands against its light")
    return [
        Cure(
            "wall", name, "", left, ratio if left else 0.0, left <= allowed,
            f"hang the screen on the {name} wall: {_what_is_left(left)}", tuple(effects), (),
        )
    ]  # fmt: skip


def _first(
    values: Sequence[float], left_at: Callable[[float], float], allowed: float
) -> tuple[float, float] | None:
    """The first value that leaves at most `allowed`; else the one that leaves least; None for no values."""
    best: tuple[float, float] | None = None
    for value in values:
        left = left_at(value)
        if best is None or left < best[1] - 1e-9:
            best = value, left
        if left <= allowed:
            return value, left
    return best


def _what_is_left(share: float) -> str:
    return "it mirrors none of it" if share <= 0 else f"{share:.0%} of the picture still mirrors it"
