"""Each shape set out on its site: what makes it a composition is pinned (widths that align, tops that are level, what mirrors about
the screen), the rest stays automatic.

A shape is told as families of variants: a family has one outline, its variants differ in how the bays are shared out.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from wallwright.derive import built
from wallwright.job.design import Bay, Design, Light, Panel, PanelKind, Unit
from wallwright.options.modules import bay_patterns
from wallwright.options.site import Site, mm

if TYPE_CHECKING:
    from wallwright.carcass.record import UnitBox
    from wallwright.job.brief import Device

OPEN = Bay("open")
WING_GAP, LEAST_WING = 40.0, 200.0
"""Clear between the screen and a wing beside it, and the narrowest wing worth building [mm]: common practice."""
RATIOS = (1.5, 1.3)
"""A console's width in widths of the screen: common practice, 1.2 to 1.6."""


@dataclass(frozen=True, slots=True)
class Parts:
    """What a shape puts on the wall. towers : boxes that were bound to a tower have one · centre_x :
    where the screen's middle goes, where that is not on the seats' axis [mm].
    """

    units: tuple[Unit, ...]
    panels: tuple[Panel, ...] = ()
    lights: tuple[Light, ...] = ()
    towers: bool = False
    centre_x: float | None = None


def _wide(site: Site, ratio: float) -> float:
    """A width about the screen's middle: so many times the frame's, as far as there is room alike on both sides [mm]."""
    room = 2 * min(site.axis - site.low, site.high - site.axis)
    return math.floor(min(ratio * site.frame.width, max(room, 0.0)) / 10) * 10.0


def console_of(width: float, bays: tuple[Bay, ...], **values: Any) -> Unit:
    """A console of this width, its middle under the screen's."""
    return replace(Unit("C1", "console", hung=True, width=mm(width), bays=bays), **values)


def _colour(site: Site) -> float:
    return 2700.0 if site.job.survey.room.kind == "bedroom" else 3000.0


def light_behind(site: Site) -> Light:
    """A line of light behind the panel."""
    return Light("G1", "behind_panel", of="W1", colour=_colour(site))


def light_under(site: Site) -> Light:
    """A line of light under the console."""
    return Light("G2", "under_console", of="C1", colour=_colour(site))


def stood(site: Site, units: tuple[Unit, ...]) -> dict[str, UnitBox]:
    """Where these units stand by themselves. ValueError where they cannot be built."""
    job = site.bare.job
    screen = job.design.screen
    if abs(site.axis - site.bare.sight.screen.centre[0]) > 1:
        screen = replace(screen, centre_x=mm(site.axis))
    design = replace(job.design, screen=screen, units=merged(site.job.design.units, units))
    made = built(replace(job, design=design))
    return {unit.ref: unit for unit in made.setout.units}


def field_of(
    site: Site, units: tuple[Unit, ...], width: float, kind: PanelKind, top: float | None = None
) -> Panel:
    """A panel about the screen's middle, from the console up to `top`, or to the ceiling; as wide as a console that is given."""
    consoles = [unit.box for unit in stood(site, units).values() if unit.kind == "console"]
    if any(unit.kind == "console" for unit in site.job.design.units):
        same = [2 * min(site.axis - box.x, box.right - site.axis) for box in consoles]
        width = max(site.frame.width, *same)
    x = site.axis - width / 2
    foot = max((box.top for box in consoles), default=None)
    panel = Panel("W1", kind=kind, width=mm(width))
    if kind != "fluted":
        panel = replace(panel, x=mm(x))
    if top is not None and foot is not None:
        panel = replace(panel, height=mm(top - foot))
    return panel


def in_turn(families: Iterator[Iterator[Parts]]) -> Iterator[Parts]:
    """The first variant of each family, then the second of each: what stops one outline seldom stops the next."""
    running = list(families)
    while running:
        still: list[Iterator[Parts]] = []
        for family in running:
            parts = next(family, None)
            if parts is not None:
                still.append(family)
                yield parts
        running = still


def low_shelf(site: Site) -> Iterator[Iterator[Parts]]:
    """A low shelf, in two widths."""
    for ratio in (1.3, 1.1):
        yield _shelf_on(site, _wide(site, ratio))


def _shelf_on(site: Site, width: float) -> Iterator[Parts]:
    """A wall shelf where no box needs a bay, else a low open shelf with as many bays as they need; the wall stays painted,
    or a plain panel stands as wide.
    """
    if site.boxes == 0 and not any(device.place == "on_console" for device in site.bare.services.devices):
        yield Parts((Unit("S1", "shelf", width=mm(width), x=mm(site.axis - width / 2), z=mm(max(site.frame.z - 250, 200))),),
                    (), (Light("G1", "behind_screen", colour=_colour(site)),))  # fmt: skip
    for count in (3, 4):
        console = console_of(width, (OPEN,) * max(count, site.boxes), height=mm(220))
        units = (console,)
        yield Parts(units, (), (Light("G1", "behind_screen", colour=_colour(site)),))
        yield Parts(units, (field_of(site, units, width, "flat"),), (light_behind(site),))


def floating(site: Site) -> Iterator[Iterator[Parts]]:
    """A small hung console with a painted wall: no panel."""
    for ratio in (1.2, 1.3, 1.0):
        yield _plain_on(site, _wide(site, ratio))


def _plain_on(site: Site, width: float, *more: Unit) -> Iterator[Parts]:
    """A console on the painted wall, lit round the screen."""
    lights = (Light("G1", "behind_screen", colour=_colour(site)), *((light_under(site),) if more else ()))
    for bays in bay_patterns(width, site.boxes):
        yield Parts((console_of(width, bays), *more), (), lights)


def drawers(site: Site) -> Iterator[Iterator[Parts]]:
    """A console of drawers under a plain field."""
    yield from _with_field(site, "flat")


def _with_field(site: Site, kind: PanelKind, ratios: tuple[float, ...] = RATIOS) -> Iterator[Iterator[Parts]]:
    """A console of drawers, and behind the screen a field as wide as it."""
    for width in dict.fromkeys(_wide(site, each) for each in ratios):
        yield _field_on(site, width, kind)


def _field_on(site: Site, width: float, kind: PanelKind) -> Iterator[Parts]:
    for bays in bay_patterns(width, site.boxes):
        units = (console_of(width, bays),)
        panel = field_of(site, units, width, kind)
        yield Parts(units, (panel,), (light_behind(site), light_under(site)))


def framed(site: Site) -> Iterator[Iterator[Parts]]:
    """The console, and a field of wallpaper between strips as wide as it."""
    lights = (Light("G1", "behind_screen", colour=_colour(site)), light_under(site))
    for family in _with_field(site, "framed"):
        yield (replace(parts, lights=lights) for parts in family)


def fluted(site: Site) -> Iterator[Iterator[Parts]]:
    """A console of drawers under a fluted field; else fluted wings beside the screen."""
    yield from _with_field(site, "fluted")
    yield _wings(site, "fluted")


def stone(site: Site) -> Iterator[Iterator[Parts]]:
    """A console of drawers under a field of thin stone; else wings of it beside the screen."""
    yield from _with_field(site, "stone_veneer")
    yield _wings(site, "stone_veneer")


def _wings(site: Site, kind: PanelKind) -> Iterator[Parts]:
    """A field on each side of the screen, which then bears on the wall itself: where a wall is too weak for a screen before a panel."""
    width = _wide(site, 1.5)
    wing = (width - site.frame.width) / 2 - WING_GAP
    if wing < LEAST_WING:
        return
    for bays in bay_patterns(width, site.boxes):
        units = (console_of(width, bays),)
        whole = field_of(site, units, width, kind)
        left = replace(whole, x=mm(site.axis - width / 2), width=mm(wing))
        right = replace(whole, ref="W2", x=mm(site.axis + width / 2 - wing), width=mm(wing))
        yield Parts(
            units, (left, right), (Light("G1", "behind_screen", colour=_colour(site)), light_under(site))
        )


def recessed(site: Site) -> Iterator[Iterator[Parts]]:
    """The console, and the screen in a niche of boards as deep as it stands off."""
    for width in dict.fromkeys(_wide(site, ratio) for ratio in RATIOS):
        yield _plain_on(site, width, Unit("N1", "niche"))


def arched(site: Site) -> Iterator[Iterator[Parts]]:
    """The console and a panel, with an arched niche on each side of it, the same distance from the screen; else an arched panel."""
    width, wide, gap = _wide(site, 1.3), 420.0, 80.0
    half = min(site.axis - site.low, site.high - site.axis)
    near = site.frame.width / 2 + 120
    for inner in dict.fromkeys((max(width / 2, near) + gap, near, half - wide - 60)):
        if near <= inner <= half - wide:
            yield _niches_at(site, width, inner, wide, gap)
    for family in _with_field(site, "flat", (1.3,)):
        yield (_under_arch(site, parts) for parts in family)


def _niches_at(site: Site, width: float, inner: float, wide: float, gap: float) -> Iterator[Parts]:
    """Arched niches whose feet are level with the console's top, about the screen."""
    for bays in bay_patterns(width, site.boxes):
        console = console_of(width, bays)
        field = field_of(site, (console,), min(width, 2 * (inner - gap)), "flat")
        foot = max(unit.box.top for unit in stood(site, (console,)).values() if unit.kind == "console")
        high = min(1500.0, site.under - foot - 350)
        niches = tuple(
            Unit(ref, "arched_niche", side=side, x=mm(x), z=mm(foot), width=mm(wide), height=mm(high))  # type: ignore[arg-type]
            for ref, side, x in (("A1", "left", site.axis - inner - wide), ("A2", "right", site.axis + inner))
        )
        yield Parts((console, *niches), (field,), (light_behind(site), light_under(site)))


def _under_arch(site: Site, parts: Parts) -> Parts:
    """The panel behind the screen under a flat arch, where niches have no room."""
    top = min(site.under - 150, site.frame.top + 650)
    foot = max(unit.box.top for unit in stood(site, parts.units).values() if unit.kind == "console")
    head = replace(parts.panels[0], height=mm(top - foot), head="segment", head_rise=mm(250))
    return replace(
        parts, panels=(head,), lights=(Light("G1", "behind_screen", colour=_colour(site)), light_under(site))
    )


def as_given(site: Site) -> Iterator[Iterator[Parts]]:
    """What the design gives, with the lights that it lacks."""
    lights = () if site.job.design.lights else (Light("G1", "behind_screen", colour=_colour(site)),)
    towers = any(unit.kind == "tower" for unit in site.job.design.units)
    yield iter((Parts((), (), (), towers=towers), Parts((), (), lights, towers=towers)))


def merged(given: tuple[Unit, ...], made: tuple[Unit, ...]) -> tuple[Unit, ...]:
    """The units that the design gives, as they are, and those of a shape for which it gives none of their kind and side."""
    there = {(unit.kind, unit.side) for unit in given}
    refs = {unit.ref for unit in given}
    loose = {unit.kind for unit in given if unit.side == "centre"}
    free = [unit for unit in made if unit.kind not in loose and (unit.kind, unit.side) not in there]
    return (*given, *(replace(unit, ref=f"{unit.ref}b") if unit.ref in refs else unit for unit in free))


def composed(design: Design, parts: Parts) -> Design:
    """The design with the parts of a shape where it gives none: what it gives stays as it is."""
    units = merged(design.units, parts.units)
    console = next((unit.ref for unit in units if unit.kind == "console"), "")
    panels = design.panels or parts.panels
    there = {thing.ref for thing in (*units, *panels)}
    lights = [
        replace(
            light,
            of=console
            if light.along == "under_console"
            else panels[0].ref
            if panels and light.of
            else light.of,
        )
        for light in parts.lights
    ]
    own = tuple(light for light in lights if not light.of or light.of in there)
    screen = design.screen
    if parts.centre_x is not None and screen.centre_x is None:
        screen = replace(screen, centre_x=mm(parts.centre_x))
    return replace(design, screen=screen, units=units, panels=panels, lights=design.lights or own)


def placed(devices: tuple[Device, ...], *, towers: bool) -> tuple[Device, ...]:
    """The boxes where the shape has a place for them: without a tower, what was bound to one stands in the console."""
    if towers:
        return devices
    return tuple(replace(one, place="auto") if one.place == "tower" else one for one in devices)
