"""Shapes with towers set out: beside the screen at the same distance, over a column in a corner, or in modules from end to end."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from itertools import product
from typing import Literal

from wallwright.job.design import Bay, Unit
from wallwright.job.face import obstacle_box
from wallwright.options.modules import Modules, bay_patterns, modules
from wallwright.options.outlines import Parts, console_of, field_of, light_behind, light_under, stood
from wallwright.options.site import Site, mm

BESIDE = (0.85, 0.75, 0.95, 0.65)
"""Where a tower's inner side stands from the screen's middle, in widths of the screen, to be tried in turn: common practice."""
DEEP = 380.0
"""A tower's depth [mm]: board games are 295 deep, a drawer unit with its plugs 350."""
BESIDE_FRAME = 75.0
"""Room on each side of the screen in a full wall [mm]: common practice."""
SHIFT = 120.0
"""How far beside the seats' axis a screen may hang so as to stand in the middle between towers [mm]: common practice."""
CORNER = 300.0
"""What begins so near to the wall's end stands in its corner [mm]."""
WRAPPED = frozenset({"column", "pipe"})
"""What a tower at the wall's end may be built over."""


def _tower_top(site: Site, depth: float) -> float:
    """A tower's height: door-high within a sheet, under ceiling and beam, low enough to be stood up [mm]."""
    ceiling = site.ceiling - site.limit("tilt_margin")
    stands_up = math.sqrt(max(ceiling * ceiling - depth * depth, 0.0))
    return math.floor(min(2300.0, site.under - site.limit("top_filler"), stands_up) / 10) * 10.0


def _tower_bays(site: Site, top: float, *, boxed: bool) -> tuple[tuple[Bay, ...], ...]:
    """How a tower may be shared out: what is open begins over a door, as high as a child does not step; else all behind doors."""
    low = mm(500.8 if site.child else 580.8)
    shelves = max(1, round((top - 800) / 380) - 1)
    mixed = (Bay("shutter", low, shelves=1), Bay("open", shelves=2 if boxed else shelves))
    shut = (Bay("shutter", low, shelves=1), Bay("shutter", shelves=shelves))
    return mixed, shut


def _towers_at(site: Site, count: int) -> Iterator[tuple[tuple[Unit, ...], float, float, float]]:
    """Towers beside the screen, the same distance from it on both sides: at the wall's ends where that is near, else nearer.
    Yields the towers, the stretch between them as left and width, and their top.
    """
    top = _tower_top(site, DEEP)
    half = min(site.axis - site.low, site.high - site.axis)
    need = site.frame.width / 2 + site.limit("tower_to_screen")
    wide = min(600.0, max(450.0, half - 0.75 * site.frame.width))
    width = math.floor(min(wide, half - need))
    if width < site.limit("tower_width_low"):
        return
    named = any(device.place == "tower" for device in site.job.brief.devices)
    far = half - width
    inners = dict.fromkeys(min(far, max(need, share * site.frame.width)) for share in BESIDE)
    for mixed, inner in product((0, 1), inners):
        towers: list[Unit] = []
        sides: tuple[tuple[str, Literal["left", "right"]], ...] = (("T1", "left"), ("T2", "right"))
        for ref, side in sides[:count]:
            bays = _tower_bays(site, top, boxed=named)[mixed]
            x = site.axis - inner - width if side == "left" else site.axis + inner
            towers.append(
                Unit(
                    ref,
                    "tower",
                    side=side,
                    x=mm(x),
                    width=mm(width),
                    height=mm(top),
                    depth=mm(DEEP),
                    bays=bays,
                )  # type: ignore[arg-type]
            )
        yield tuple(towers), site.axis - inner, 2 * inner, top


def one_tower(site: Site) -> Iterator[Iterator[Parts]]:
    """The console with one tower, at the end that has more room from the screen."""
    right = site.high - site.axis > site.axis - site.low + 50
    for towers, left, width, top in _towers_at(site, 1):
        tower = replace(towers[0], side="right", x=mm(left + width)) if right else towers[0]
        yield _between(site, (tower,), width, top)


def two_towers(site: Site) -> Iterator[Iterator[Parts]]:
    """The console between two towers, the panel filling the stretch between them up to their tops."""
    for towers, _, width, top in _towers_at(site, 2):
        yield _between(site, towers, width, top)
    yield from _wrapped(site)


def _wrapped(site: Site) -> Iterator[Iterator[Parts]]:
    """A tower over each corner where a column or a pipe stands in one: what is lost is depth, not the middle of the wall."""
    wall = site.bare.face.width
    there = [
        (thing.kind, obstacle_box(thing))
        for thing in site.job.survey.obstacles
        if thing.kind in WRAPPED and thing.state == "keep"
    ]
    left = [(kind, box) for kind, box in there if box.x < CORNER]
    right = [(kind, box) for kind, box in there if box.right > wall - CORNER]
    if not left and not right:
        return
    gap = site.limit("obstacle_gap")
    for over in (True, False):  # over a pipe too, or beside it; a column is always built over
        low = max((box.right + gap for kind, box in left if kind == "pipe" and not over), default=0.0)
        high = min((box.x - gap for kind, box in right if kind == "pipe" and not over), default=wall)
        one = max([400.0, *(box.right - low for kind, box in left if kind == "column" or over)])
        two = max([400.0, *(high - box.x for kind, box in right if kind == "column" or over)])
        wide = high - two - low - one
        if wide >= site.frame.width + 2 * site.limit("tower_to_screen"):
            yield from _over_corners(site, (low, one), (high - two, two), wide)


def _over_corners(
    site: Site, left: tuple[float, float], right: tuple[float, float], wide: float
) -> Iterator[Iterator[Parts]]:
    """Towers at (x, width) each; the screen in the middle between them, where that is near the seats' axis: else it looks shifted."""
    middle = left[0] + left[1] + wide / 2
    off = middle - site.axis
    if abs(off) > SHIFT or (abs(off) > 1 and site.job.design.screen.centre_x is not None):
        return
    frame = replace(site.frame, x=site.frame.x + off)
    there = replace(site, axis=middle, frame=frame)
    top = _tower_top(site, DEEP)
    named = any(device.place == "tower" for device in site.job.brief.devices)
    for bays in _tower_bays(site, top, boxed=named):
        towers = tuple(
            Unit(ref, "tower", side=side, x=mm(x), width=mm(width), height=mm(top), depth=mm(DEEP), bays=bays)  # type: ignore[arg-type]
            for ref, side, (x, width) in (("T1", "left", left), ("T2", "right", right))
        )
        moved = middle if abs(off) > 1 else None
        yield (replace(parts, centre_x=moved) for parts in _between(there, towers, wide, top))


def _between(site: Site, towers: tuple[Unit, ...], width: float, top: float) -> Iterator[Parts]:
    """Console and panel beside or between towers, a shadow gap from them."""
    clear = width - 2 * site.limit("unit_gap")
    for bays in bay_patterns(clear, site.boxes):
        units = (console_of(clear, bays, x=mm(site.axis - clear / 2)), *towers)
        yield Parts(
            units,
            (field_of(site, units, clear, "flat", top),),
            (light_behind(site), light_under(site)),
            towers=True,
        )


def full_wall(site: Site) -> Iterator[Iterator[Parts]]:
    """Towers in modules of one width from end to end, a console between them and a loft over the screen."""
    half = min(site.axis - site.low, site.high - site.axis)
    least = site.frame.width + 2 * max(BESIDE_FRAME, site.limit("tower_to_screen"))
    for mixed in (True, False):
        for found in modules(half, least):
            yield _in_modules(site, found, mixed=mixed)


def _in_modules(site: Site, found: Modules, *, mixed: bool) -> Iterator[Parts]:
    gap, top = site.limit("unit_gap"), _tower_top(site, DEEP)
    towers = _module_towers(site, found, top, mixed=mixed)
    lofts: tuple[Unit, ...] = ()
    if top - site.frame.top > site.limit("loft_over_screen") + site.limit("loft_height_low"):
        lofts = (Unit("F1", "loft"),)
    clear = found.middle - 2 * gap
    for bays in bay_patterns(clear, site.boxes):
        units = (console_of(clear, bays), *towers, *lofts)
        under = next((unit.box.z - gap for unit in stood(site, units).values() if unit.kind == "loft"), top)
        yield Parts(
            units,
            (field_of(site, units, clear, "flat", under),),
            (light_behind(site), light_under(site)),
            towers=True,
        )


def _module_towers(site: Site, found: Modules, top: float, *, mixed: bool) -> tuple[Unit, ...]:
    """From the screen outwards, in pairs: what is open stands beside it, the rest behind doors."""
    named = any(device.place == "tower" for device in site.job.brief.devices)
    out: list[Unit] = []
    for number in range(found.count):
        left = site.axis - found.middle / 2 - (number + 1) * found.width
        right = site.axis + found.middle / 2 + number * found.width
        for side, x in (("left", left), ("right", right)):
            some, shut = _tower_bays(site, top, boxed=named)
            out.append(
                Unit(f"T{len(out) + 1}", "tower", side=side, x=mm(x), width=mm(found.width), height=mm(top), depth=mm(DEEP),  # type: ignore[arg-type]
                     bays=some if mixed and number == 0 else shut)
            )  # fmt: skip
    return tuple(out)
