"""Cures for a window mirrored in the picture, found and ranked: tilt, blind, shift, swivel, another wall.

Each says what it brings (share of the picture, veiling ratio), what it costs elsewhere, and the edits that make it. Each is judged
on the screen as it would then hang, and by all windows: the one that is to be cured, and those that trouble a seat besides.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace

from wallwright.core.finding import EditCall, edit_call
from wallwright.core.limit import Limits
from wallwright.core.shape import Box
from wallwright.sight.angles import edge_of_tilted
from wallwright.sight.cure_setting import Setting, worst_share
from wallwright.sight.mirrored import Source
from wallwright.sight.reflect import Glass, into

TILT_STEP = 0.5
SHIFT_STEP = 50.0
SWIVEL_STEP = 1.0
CLOTHS = (0.10, 0.05, 0.03, 0.01)
"""Light let through by usual screen cloths and lined curtains: common practice."""


@dataclass(frozen=True, slots=True)
class Cure:
    """One way out. kind : tilt, blind, shift, swivel, wall · value and unit : how far · share, ratio : worst seat, after it ·
    solves : brings the share to 5 % or the ratio to a tenth, and makes no other window worse · says : in one sentence ·
    effects : what else it does · troubled : other windows that trouble a seat after it
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
    troubled: int = 0


@dataclass(frozen=True, slots=True)
class Trouble:
    """One window to be cured among all. allowed, good : the share and the ratio that may stay · rest : the other windows, each
    with the share in which it troubles a seat now
    """

    window: Source
    setting: Setting
    allowed: float
    good: float
    rest: tuple[tuple[Source, float], ...]

    def left(self, glass: Glass) -> float:
        """The share in which the worst seat still sees the window."""
        return worst_share(glass, self.setting.eyes, self.window.corners)

    def ratio(self, glass: Glass) -> float:
        """The window's luminance over the picture's own, for the worst of the seats that see it; 0 where none does."""
        return max((ratio for _, ratio in self.setting.seen(glass, self.window)), default=0.0)

    def others(self, glass: Glass) -> list[tuple[str, float, float]]:
        """The other windows that trouble a seat then: (ref, share now, share then)."""
        found: list[tuple[str, float, float]] = []
        for window, now in self.rest:
            then = _troubles(window, glass, self.setting, self.allowed, self.good)
            if then > 0:
                found.append((window.ref, now, then))
        return found

    def rank(self, glass: Glass) -> int:
        """0 : no other window troubles a seat · 1 : none more than now · 2 : another does."""
        others = self.others(glass)
        return 2 if any(then > now + 1e-6 for _, now, then in others) else int(bool(others))


def _troubles(window: Source, glass: Glass, setting: Setting, allowed: float, good: float) -> float:
    """The largest share in which a seat sees a window too large and too bright; 0 where none does."""
    hits = setting.seen(glass, window)
    return max((share for share, ratio in hits if share > allowed and ratio > good), default=0.0)


def cures(window: Source, through: float, setting: Setting, limits: Limits) -> tuple[Cure, ...]:
    """All cures of one window (its luminance already behind its blind, which lets `through`), the best first.

    Those that solve it come first; among them those that leave no other window in trouble, then the least trouble: tilt, blind,
    shift, swivel, another wall.
    """
    if not setting.eyes:
        return ()
    allowed, good = limits.value("rule.reflection_consider"), limits.value("rule.veil_good")
    rest = tuple(
        (other, _troubles(other, setting.glass, setting, allowed, good))
        for other in setting.others
        if other.kind == "window" and other.ref != window.ref
    )
    case = Trouble(window, setting, allowed, good, rest)
    found = [
        *_tilts(case, limits.value("sight.tilt_most")),
        *_blind(case, through),
        *_shift(case),
        *_swivel(case, limits.value("sight.swivel_furthest")),
        *_other_walls(case),
    ]
    # sorted() keeps the order of equals
    return tuple(sorted(found, key=lambda cure: (not cure.solves, cure.troubled > 0)))


def _first(
    values: Iterable[float], at: Callable[[float], Glass], case: Trouble, target: float
) -> tuple[float, Glass] | None:
    """The first value that leaves at most `target` and no other window in trouble; else the first that makes none worse; else
    the first that does; else the one that leaves least. None for no values.
    """
    best: dict[int, tuple[float, Glass]] = {}
    least = math.inf
    for value in values:
        glass = at(value)
        left = case.left(glass)
        if left <= target:
            rank = case.rank(glass)
            best.setdefault(rank, (value, glass))
            if rank == 0:
                break
        elif left < least - 1e-9:
            least = left
            best[3] = value, glass
    return best[min(best)] if best else None


def _cure(
    case: Trouble,
    glass: Glass,
    kind: str,
    value: float | str,
    unit: str,
    says: str,
    effects: Iterable[str],
    edits: tuple[EditCall, ...],
) -> Cure:
    """A cure that puts the picture there: what it leaves of this window and of the others."""
    left = case.left(glass)
    return Cure(
        kind, value, unit, left, case.ratio(glass), left <= case.allowed and case.rank(glass) < 2, says,
        (*effects, *_other_windows(case, glass)), edits, len(case.others(glass)),
    )  # fmt: skip


def _other_windows(case: Trouble, glass: Glass) -> Iterator[str]:
    """What becomes of the other windows, where one troubles a seat then; and what else is mirrored that is not now."""
    others = case.others(glass)
    for ref, now, then in others:
        if now <= 0:
            yield f"then mirrors {ref} in {then:.0%} of the picture"
        elif abs(then - now) < 0.005:
            yield f"{ref} stays mirrored in {now:.0%} of the picture"
        else:
            yield f"{ref} is then mirrored in {then:.0%} of the picture instead of {now:.0%}"
    setting, told = case.setting, {ref for ref, _, _ in others}
    new = [
        other.ref
        for other in setting.others
        if other.ref not in told
        and worst_share(glass, setting.eyes, other.corners) > 0
        and worst_share(setting.glass, setting.eyes, other.corners) <= 0
    ]
    if new:
        yield f"then mirrors {', '.join(new)}"


def _tilts(case: Trouble, most: float) -> list[Cure]:
    """The smallest tilt that leaves at most 5 %, and the smallest that clears, where they differ."""
    start = math.ceil(case.setting.glass.tilt / TILT_STEP)
    known: dict[float, Glass] = {}

    def at(tilt: float) -> Glass:
        if tilt not in known:
            known[tilt] = case.setting.tilted(tilt)[1]
        return known[tilt]

    found: dict[float, None] = {}
    for target in (case.allowed, 0.0):
        tilts = (step * TILT_STEP for step in range(start, round(most / TILT_STEP) + 1))
        first = _first(tilts, at, case, target)
        if first is not None and case.left(first[1]) <= target:
            found[first[0]] = None
    return [_tilt(case, tilt) for tilt in found]


def _tilt(case: Trouble, tilt: float) -> Cure:
    setting = case.setting
    _, forward = edge_of_tilted(setting.frame.height / 2, tilt)
    needs = setting.needs(tilt)
    own, glass = setting.tilted(tilt)
    effects = [
        f"the top edge comes {forward:.0f} mm forward and stands {2 * forward:.0f} mm further out than the bottom"
    ]
    edits = [edit_call("set_tilt", tilt=tilt)]
    if needs > own:
        effects.append(f"the mount must hold it {needs:.0f} mm off the wall instead of {own:.0f}")
        edits.insert(0, edit_call("set_mount", stand_off=needs))
    effects.append(_then_mirrors(glass, setting))
    if not setting.tilts:
        edits.insert(0, edit_call("set_mount", kind="tilt"))
        effects.append("it needs a mount that tilts")
    says = f"tilt the screen {tilt:g}° forward: {_what_is_left(case.left(glass))}"
    return _cure(case, glass, "tilt", tilt, "deg", says, effects, tuple(edits))


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


def _blind(case: Trouble, through: float) -> list[Cure]:
    """The most that a blind may let through for the mirrored window to be no brighter than a tenth of the picture.

    Judged by the seats that see it in more than may stay; by all that see it where none does.
    """
    hits = case.setting.seen(case.setting.glass, case.window)
    wide = [ratio for share, ratio in hits if share > case.allowed] or [ratio for _, ratio in hits]
    ratio = max(wide, default=0.0)
    if ratio <= case.good or through <= 0:
        return []
    needed = through * case.good / ratio
    cloth = next((cloth for cloth in CLOTHS if cloth <= needed), math.floor(needed * 1e4) / 1e4)
    after = ratio * cloth / through
    others = case.others(case.setting.glass)
    return [
        Cure(
            "blind", cloth, "of the light let through", max(share for share, _ in hits), after, True,
            f"give {case.window.ref} a blind that lets through at most {_percent(needed)}; with {_percent(cloth)} the mirrored "
            f"window has {after:.2f} of the picture's luminance",
            ("the room is darker while it is drawn", *_other_windows(case, case.setting.glass)),
            (edit_call("set_window_blind", ref=case.window.ref, blind=cloth),), len(others),
        )
    ]  # fmt: skip


def _percent(part: float) -> str:
    return f"{part:.0%}" if part >= 0.0095 else f"{part:.2%}"


def _shift(case: Trouble) -> list[Cure]:
    """The smallest move along the wall that leaves at most 5 %; the best place there is where none does."""
    setting = case.setting
    x = setting.frame.centre[0]
    reach = max(x - setting.x_low, setting.x_high - x, 0.0)
    places = [
        place
        for step in range(1, int(reach / SHIFT_STEP) + 1)
        for place in (x - step * SHIFT_STEP, x + step * SHIFT_STEP)
        if setting.x_low <= place <= setting.x_high and _free(setting, place - x)
    ]
    found = _first(places, setting.shifted, case, case.allowed)
    if found is None:
        return []
    place, glass = found
    left = case.left(glass)
    beside, y, _ = glass.middle
    aside = max(abs(math.degrees(math.atan2(eye[0] - beside, y - eye[1]))) for eye in setting.eyes)
    side = "right" if place > x else "left"
    says = f"move the screen {abs(place - x):.0f} mm to the {side}: {_what_is_left(left)}"
    if left > case.allowed:
        says = f"moving the screen helps little: at best, {abs(place - x):.0f} mm to the {side}, {_what_is_left(left)}"
    return [
        _cure(
            case, glass, "shift", round(place - x), "mm", says,
            (f"the farthest seat aside then looks {aside:.0f}° from the side",),
            (edit_call("set_screen_x", centre_x=round(place)),),
        )
    ]  # fmt: skip


def _free(setting: Setting, by: float) -> bool:
    """Whether the frame, moved along the wall by that much, meets nothing that it must keep clear of."""
    frame = replace(setting.frame, x=setting.frame.x + by)
    return not any(frame.meets(box) for box in setting.clear_of)


def _swivel(case: Trouble, most: float) -> list[Cure]:
    """The smallest turn of the screen that leaves at most 5 %; nothing where no turn does."""
    setting, now = case.setting, case.setting.glass.swivel
    turns = [
        sign * step * SWIVEL_STEP for step in range(1, round(most / SWIVEL_STEP) + 1) for sign in (-1, 1)
    ]
    turns = [turn for turn in turns if abs(turn) > abs(now) or turn * now < 0]
    found = _first(turns, lambda turn: setting.turned(turn)[1], case, case.allowed)
    if found is None or case.left(found[1]) > case.allowed:
        return []
    turn, glass = found
    pull, _ = setting.turned(turn)
    axes = glass.axes()
    aside = max(
        math.degrees(math.atan2(abs(e[0]), e[2]))
        for e in (into(axes, glass.middle, eye) for eye in setting.eyes)
    )
    effects = [f"the seats then look up to {aside:.0f}° from the side"]
    if abs(glass.tilt - setting.glass.tilt) > 0.05:
        effects.append(f"its arm then tilts it {glass.tilt:g}° instead of {setting.glass.tilt:g}°")
    edits = [edit_call("set_arm", swivel=turn)]
    if not setting.swivels:
        reach = math.ceil(pull)
        edits = [edit_call("set_mount", kind="arm", reach=reach), *edits]
        effects.append(f"it needs an arm that swivels and reaches {reach} mm, and room for it to turn")
    says = f"turn the screen {abs(turn):g}° to the {'right' if turn > 0 else 'left'}: {_what_is_left(case.left(glass))}"
    return [_cure(case, glass, "swivel", turn, "deg", says, effects, tuple(edits))]


def _other_walls(case: Trouble) -> list[Cure]:
    """The screen at the middle of another wall, its picture towards the room, the eyes where they are; the best such wall.

    A wall that is too short for the frame, or one of whose windows the frame would meet there, is none.
    """
    setting = case.setting
    if setting.depth is None or setting.depth < setting.frame.width + 2 * setting.side_gap:
        return []
    z, out, half = setting.glass.middle[2], -setting.glass.middle[1], setting.depth / 2
    size = setting.glass.width, setting.glass.height
    walls = {
        "left": (0.0, Glass((out, -half, z), *size, 0.0, 90.0)),
        "right": (setting.wall_width, Glass((setting.wall_width - out, -half, z), *size, 0.0, -90.0)),
    }
    windows = [other for other in setting.others if other.kind == "window"]
    in_wall = {
        name: [window for window in windows if all(abs(corner[0] - at) < 1 for corner in window.corners)]
        for name, (at, _) in walls.items()
    }
    frame = replace(setting.frame, x=half - setting.frame.width / 2)
    free = [name for name in walls if not any(_outline(w).meets(frame) for w in in_wall[name])]
    if not free:
        return []
    name = min(free, key=lambda name: (case.left(walls[name][1]), case.rank(walls[name][1])))
    glass = walls[name][1]
    effects = ["the seats must turn, and the furniture with them"]
    if case.window in in_wall[name]:
        effects.append(f"{case.window.ref} is in that wall: the picture then stands against its light")
    says = f"hang the screen on the {name} wall: {_what_is_left(case.left(glass))}"
    return [_cure(case, glass, "wall", name, "", says, effects, ())]


def _outline(window: Source) -> Box:
    """A window of a side wall on that wall: its distance from the screen's wall, and its height."""
    aways, heights = [-corner[1] for corner in window.corners], [corner[2] for corner in window.corners]
    return Box(min(aways), min(heights), max(aways) - min(aways), max(heights) - min(heights))


def _what_is_left(share: float) -> str:
    return "it mirrors none of it" if share <= 0 else f"{share:.0%} of the picture still mirrors it"
