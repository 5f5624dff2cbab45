"""Details of panels at 1:2: each build-up at its edge, layer by layer from the wall, and how the edge of an arch is bent."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from wallwright.carcass import stock
from wallwright.carcass.arch import kerfs
from wallwright.carcass.niche import arch_of
from wallwright.core.drawing import Drawing, Hatch, Line, Mark, Pattern, rectangle
from wallwright.core.shape import Box, Point2
from wallwright.core.units import show_mm
from wallwright.library import load
from wallwright.sheets.chains import chain, chains
from wallwright.sheets.details_made import Named, composed

if TYPE_CHECKING:
    from wallwright.carcass.arch import Arch
    from wallwright.carcass.record import PanelZone
    from wallwright.derive import Wall
    from wallwright.light.record import LightRun

SCALE = 2.0
SHOWN = 110.0  # how much of the panel is drawn from its edge inwards [mm]
WALL = 24.0  # how much of the wall is drawn [mm]
THIN = 0.5  # what is thinner is a line [mm]


def edge_drawings(wall: Wall) -> Iterator[Drawing]:
    """The build-up of each zone in plan at its right edge; zones built up alike share one."""
    alike: dict[tuple[object, ...], list[PanelZone]] = {}
    for zone in wall.setout.zones:
        alike.setdefault(
            (zone.kind, zone.layers, zone.strip, zone.joint, round(zone.flute_pitch, 3)), []
        ).append(zone)
    for zones in alike.values():
        yield edge_drawing(wall, zones)


def edge_drawing(wall: Wall, zones: list[PanelZone]) -> Drawing:
    """In plan: the wall above, the room below; the panel's edge at the right."""
    zone = zones[0]
    still: list[Mark] = [
        Hatch(Box(-SHOWN, 0.0, SHOWN + 25.0, WALL).corners, "masonry", layer="hatch", ref="wall"),
        Line(((-SHOWN, 0.0), (25.0, 0.0)), "extra", layer="wall", ref="wall"),
    ]
    named: list[Named] = []
    stops, y = [0.0], 0.0
    for i, (what, mm) in enumerate(zone.layers or (("panel", zone.thickness),)):
        near, y = y, y - mm
        across = _across(zone, what)
        outline = _outline(wall, zone, Box(across[0], y, across[1] - across[0], mm), i, what)
        at = (across[0] + (across[1] - across[0]) * (0.35 + 0.09 * i), (near + y) / 2)
        if mm >= THIN:
            still += [
                Line(outline, "medium", closed=True, fill="#fff", layer="panels", ref=zone.ref),
                Hatch(outline, _pattern(zone, what, i), layer="hatch", ref=zone.ref),
            ]
            stops.append(y)
        else:
            still.append(Line(((across[0], y), (across[1], y)), "wide", layer="panels", ref=zone.ref))
        named.append(Named(at, f"{_words(what)} {mm:g}"))
        still += _joint(zone, what, Box(across[0], y, across[1] - across[0], mm))
    if zone.joint and zone.kind in ("tile", "slab", "mirror", "glass"):
        named.append(Named((-SHOWN * 0.45, y + 1.0), f"joint {zone.joint:g}"))
    if zone.flutes:
        rib = zone.flute_pitch * wall.limits.value("carcass.flute_rib")
        named.append(
            Named(
                (-rib / 2, y + 0.5),
                f"pitch {zone.flute_pitch:.2f}, rib {rib:.1f}, deep {wall.limits.value('carcass.flute_depth'):g}",
            )
        )
    dims: list[Mark] = [*chains(stops, "z", -SHOWN, -8.0, ref="build-up from the wall")]
    if zone.strip and zone.kind == "framed":
        dims += chain([-zone.strip, 0.0], "x", y, -8.0, "strip")
    title = f"{', '.join(one.ref for one in zones)}: {zone.kind.replace('_', ' ')}, edge in plan"
    return composed(title, SCALE, still, named, dims)


def _words(what: str) -> str:
    """A layer's name without the thickness that stands behind it."""
    return ", ".join(bit for bit in what.split("(")[0].strip().split(", ") if not bit.strip().endswith("mm"))


def _across(zone: PanelZone, what: str) -> tuple[float, float]:
    """From where to where a layer is drawn, the panel's edge at nought."""
    if what == "strips":
        return -zone.strip, 0.0
    if what == "moulding":
        return -zone.strip - 30.0, -30.0
    return -SHOWN, 0.0


def _outline(wall: Wall, zone: PanelZone, box: Box, i: int, what: str) -> tuple[Point2, ...]:
    """A layer's outline; of a fluted board, with its grooves."""
    del what
    if not zone.flutes or i != (1 if zone.void else 0):
        return box.corners
    rib = zone.flute_pitch * wall.limits.value("carcass.flute_rib")
    deep = min(wall.limits.value("carcass.flute_depth"), box.height / 2)
    edge: list[Point2] = [(0.0, box.z)]
    right = -rib
    while right - (zone.flute_pitch - rib) > box.x:
        left = right - (zone.flute_pitch - rib)
        edge += [(right, box.z), (right, box.z + deep), (left, box.z + deep), (left, box.z)]
        right = left - rib
    return (*edge, (box.x, box.z), (box.x, box.top), (0.0, box.top))


def _pattern(zone: PanelZone, what: str, i: int) -> Pattern:
    if what == "adhesive bed":
        return "no_drill"
    last = i == len(zone.layers) - 1
    return (
        "stone"
        if last and zone.kind in ("tile", "slab", "stone_veneer")
        else "cut"
        if what == "battens"
        else "board"
    )


def _joint(zone: PanelZone, what: str, box: Box) -> list[Mark]:
    """A joint through the face of tiles, slabs or panes."""
    if not zone.joint or what != zone.layers[-1][0] or zone.kind not in ("tile", "slab", "mirror", "glass"):
        return []
    gap = Box(-SHOWN * 0.45 - zone.joint / 2, box.z, zone.joint, box.height)
    return [rectangle(gap, "medium", fill="#fff", layer="panels", ref=f"{zone.ref} joint")]


def light_drawing(wall: Wall, run: LightRun) -> Drawing | None:
    """A strip behind a panel, in plan at the panel's right edge: how far in from the edge it lies, and how far off the wall."""
    zone = next((zone for zone in wall.setout.zones if zone.ref == run.of), None)
    if zone is None or not run.path or not zone.void:
        return None
    at = max(x for x, _ in run.path) - zone.box.right
    left = min(at - 60.0, -SHOWN)
    strip = Box(at - 5.0, run.y, 10.0, 3.0)
    still: list[Mark] = [
        Hatch(Box(left, 0.0, 25.0 - left, WALL).corners, "masonry", layer="hatch", ref="wall"),
        Line(((left, 0.0), (25.0, 0.0)), "extra", layer="wall", ref="wall"),
    ]
    face = Box(left, -zone.build_up, -left, zone.thickness)
    still += [
        rectangle(face, "medium", fill="#fff", layer="panels", ref=zone.ref),
        Hatch(face.corners, "board", layer="hatch", ref=zone.ref),
        rectangle(strip, "medium", fill="#000", layer="lights", ref=run.ref),
    ]
    named = [
        Named(
            strip.centre,
            f"{run.ref}: strip {'in a profile' if run.profile else 'without a profile'}, {run.watts_per_m:g} W/m",
        ),
        Named((left * 0.4, face.centre[1]), f"{zone.ref} panel {show_mm(zone.thickness)}"),
    ]
    if run.lip:
        lip = Box(-12.0, -zone.void, 12.0, run.lip)
        still += [
            rectangle(lip, "medium", fill="#fff", layer="units", ref="lip"),
            Hatch(lip.corners, "board", layer="hatch", ref="lip"),
        ]
        named.append(Named(lip.centre, f"lip {show_mm(run.lip)}"))
    dims: list[Mark] = [
        *chain([at, 0.0], "x", -zone.build_up, -8.0, "setback"),
        *chains([0.0, run.y, -zone.void, -zone.build_up], "z", left, -8.0, ref="depths"),
    ]
    return composed(f"{run.ref} behind {zone.ref}: light, in plan", SCALE, still, named, dims)


def arch_drawings(wall: Wall) -> Iterator[Drawing]:
    """How the edge of each arched head is bent: kerfs to scale, or layers."""
    for zone in wall.setout.zones:
        if zone.arch is not None:
            yield _bent(wall, zone.ref, zone.arch, zone.bend, zone.build_up)
    for unit in wall.setout.units:
        if unit.rise:
            yield _bent(wall, unit.ref, arch_of(unit), unit.bend, unit.depth)


def _bent(wall: Wall, ref: str, arch: Arch, bend: str, deep: float) -> Drawing:
    """A length of the lining laid flat, its face below: five kerfs, or the layers it is glued of."""
    key = stock.KERFED if bend == "kerf" else stock.BENDING
    t = load.boards()[key].thickness
    named: list[Named]
    dims: list[Mark]
    if bend == "kerf":
        value, kerf = wall.limits.value, wall.job.design.saw.kerf.mm
        left = value("carcass.arch_kerf_left")
        cuts = kerfs(arch, t, left, kerf, value("carcass.kerf_flat"))
        step = cuts.spacing
        shown = 3
        long = step * shown
        outline: list[Point2] = [(0.0, 0.0), (long, 0.0), (long, t)]
        for k in reversed(range(shown)):
            at = (k + 0.5) * step
            outline += [(at + kerf / 2, t), (at + kerf / 2, left), (at - kerf / 2, left), (at - kerf / 2, t)]
        outline.append((0.0, t))
        still: list[Mark] = [
            Line(tuple(outline), "medium", closed=True, fill="#fff", layer="units", ref=ref),
            Hatch(tuple(outline), "board", layer="hatch", ref=ref),
        ]
        named = [
            Named((step * 0.5, t * 0.7), f"{cuts.count} saw cuts of {kerf:g}, every {step:.1f}"),
            Named((step * 1.2, left / 2), f"{left:g} left at the face"),
        ]
        dims = [
            *chain([step * 0.5, step * 1.5], "x", 0.0, -8.0, "kerfs"),
            *chain([0.0, left, t], "z", 0.0, -8.0, "kerf depth"),
        ]
    else:
        long = 120.0
        box = Box(0.0, 0.0, long, t)
        still = [
            rectangle(box, "medium", fill="#fff", layer="units", ref=ref),
            Hatch(box.corners, "board", layer="hatch", ref=ref),
        ]
        named = [Named((long * 0.6, t * 0.6), f"flexible ply {t:g}, glued over a form")]
        dims = list(chain([0.0, t], "z", 0.0, -8.0, "thickness"))
    named.append(
        Named(
            (long * 0.85, 0.5),
            f"radius {show_mm(arch.radius)}, rise {show_mm(arch.rise)}, {show_mm(arch.length)} round, {show_mm(deep)} deep",
        )
    )
    return composed(f"{ref}: edge of the arch, laid flat", SCALE, still, named, dims)
