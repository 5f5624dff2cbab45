"""What a picture of the wall is made of: painted faces, shining faces, and an eye. Wall axes (x right, y into the wall, z up), mm.

The wall itself is the model file's own (`gltf.wall_scene`); the room round it, its windows, lamps and LED lines come from the job.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from math import atan, degrees, pi
from typing import TYPE_CHECKING, Any, Literal

import numpy as np

from wallwright.core.shape import Box
from wallwright.export.gltf import unit_cube, wall_scene
from wallwright.library import load
from wallwright.light.blocked import in_void, stretches
from wallwright.sight.mirrored import glass_of, lamps, window_corners

if TYPE_CHECKING:
    from wallwright.derive import Wall
    from wallwright.light.record import LightRun
    from wallwright.sight.record import SeatView

When = Literal["day", "night"]
Point3 = tuple[float, float, float]
Colour = tuple[float, float, float]
Grain = Literal["", "wood_x", "wood_z", "planks", "stone"]
STRIP = 10.0  # width over which a strip shines through its diffuser [mm]
LAMP = 3000.0  # kelvin of a lamp whose colour was not surveyed: common practice in living rooms
BEHIND = 900.0  # room behind the farthest seat where its depth was not surveyed [mm]
CEILING, OTHER_WALLS = (
    (0.80, 0.79, 0.77),
    (0.72, 0.70, 0.66),
)  # white paint; emulsion, warm white (reflectances)
AROUND = 0.06  # of the wall's width and height, seen round it
JOINT = 7.0  # boards no farther apart than this are backed at their joint [mm]
LAP = 8.0  # so far to either side of it [mm]
OVERCAST = 6500.0  # kelvin, CIE D65's


@dataclass(frozen=True, slots=True)
class Paint:
    """A surface: reflectance of red, green, blue (0..1, linear), roughness 0..1, metal or not, how clear it is, its figure."""

    name: str
    colour: Colour
    rough: float = 0.9
    metal: bool = False
    clear: float = 0.0
    grain: Grain = ""


@dataclass(frozen=True, slots=True)
class Face:
    """A flat convex face, its corners counter-clockwise seen from outside."""

    corners: tuple[Point3, ...]
    paint: Paint
    part: int = 0


@dataclass(frozen=True, slots=True)
class Shine:
    """A flat face that shines evenly to the side from which its corners run counter-clockwise: luminance [cd/m²] and colour."""

    ref: str
    corners: tuple[Point3, ...]
    luminance: float
    kelvin: float


@dataclass(frozen=True, slots=True)
class View:
    """From where, and the upright rectangle of the plane y = 0 that fills the picture."""

    eye: Point3
    window: Box

    @property
    def across(self) -> float:
        """Full angle of the picture's width, as an unshifted view of that size would have it [deg]."""
        return 2 * degrees(atan(self.window.width / 2 / -self.eye[1]))

    @property
    def up(self) -> float:
        """The same of its height [deg]."""
        return 2 * degrees(atan(self.window.height / 2 / -self.eye[1]))


@dataclass(frozen=True, slots=True)
class Stage:
    """Everything to be pictured. told : what was assumed, for who looks at it."""

    faces: tuple[Face, ...]
    shines: tuple[Shine, ...]
    view: View
    when: When
    told: tuple[str, ...]
    lamps: bool = False
    """Whether a lamp burns in the room, beside the LED lines."""


def stage(wall: Wall, when: When, seat: str = "", aspect: float = 1.5) -> Stage:
    """The wall in its room by day (windows under an overcast sky) or by night (LED lines and lamps), the screen black.

    seat : its ref; "" takes the one that is used most · aspect : the picture's width over its height

    Raises ValueError where there is no such seat.
    """
    depth, told = _depth(wall), list[str]()
    faces = [*model_faces(wall), *joint_backs(wall), *_shell(wall, depth)]
    shines: list[Shine] = []
    burning: list[Shine] = []
    if when == "day":
        shines = list(_windows(wall, depth))
        if not shines:
            told.append(
                "no window is surveyed that can be placed: lit by one of 1.5 x 1.2 m taken to be in the wall behind"
            )
            shines = [_assumed_window(wall, depth)]
    else:
        burning = _lamps(wall)
        shines = [shine for run in wall.light.runs for shine in _strip(wall, run)] + burning
        if not shines:
            told.append(
                "no LED line and no lamp: lit by one ceiling lamp of 1500 lm taken to hang in the middle"
            )
            shines = [_assumed_lamp(wall, depth)]
    return Stage(tuple(faces), tuple(shines), view(wall, seat, aspect), when, tuple(told), bool(burning))


def chosen_seat(wall: Wall, seat: str = "") -> SeatView | None:
    """The seat of that ref, else the one used most; None where nobody sits. ValueError names those there are."""
    if not seat:
        return max(wall.sight.seats, key=lambda s: s.hours, default=None)
    found = next((s for s in wall.sight.seats if s.ref == seat), None)
    if found is None:
        there = ", ".join(s.ref for s in wall.sight.seats) or "none surveyed"
        raise ValueError(f"there is no seat {seat!r}; there are: {there}")
    return found


def view(wall: Wall, seat: str, aspect: float) -> View:
    """From the seat's eye, level, so that uprights stay upright: the whole wall and a little of what is round it."""
    width, height = wall.face.width, wall.face.height
    sitting = chosen_seat(wall, seat)
    eye = sitting.eye if sitting else (width / 2, -3000.0, 1150.0)
    wide = max(width * (1 + 2 * AROUND), height * (1 + 2 * AROUND) * aspect)
    high = wide / aspect
    return View(eye, Box(width / 2 - wide / 2, height / 2 - high / 2, wide, high))


def kelvin_rgb(kelvin: float) -> Colour:
    """Linear sRGB of a black body's light, its luminance 1.

    Source: chromaticity by the cubic fit of Kim et al. (2002) to the Planckian locus, 1667..25000 K; primaries of IEC 61966-2-1.
    """
    t = 1000.0 / min(max(kelvin, 1667.0), 25000.0)
    if kelvin <= 4000:
        x = -0.2661239 * t**3 - 0.2343589 * t**2 + 0.8776956 * t + 0.179910
    else:
        x = -3.0258469 * t**3 + 2.1070379 * t**2 + 0.2226347 * t + 0.240390
    if kelvin <= 2222:
        y = -1.1063814 * x**3 - 1.34811020 * x**2 + 2.18555832 * x - 0.20219683
    elif kelvin <= 4000:
        y = -0.9549476 * x**3 - 1.37418593 * x**2 + 2.09137015 * x - 0.16748867
    else:
        y = 3.0817580 * x**3 - 5.87338670 * x**2 + 3.75112997 * x - 0.37001483
    big_x, big_z = x / y, (1 - x - y) / y
    rgb = (
        3.2406 * big_x - 1.5372 - 0.4986 * big_z,
        -0.9689 * big_x + 1.8758 + 0.0415 * big_z,
        0.0557 * big_x - 0.2040 + 1.0570 * big_z,
    )
    return max(rgb[0], 0.0), max(rgb[1], 0.0), max(rgb[2], 0.0)


def _depth(wall: Wall) -> float:
    """How deep the room is [mm]: as surveyed, else to a little behind the farthest seat."""
    given = wall.job.survey.room.depth
    far = max((-s.eye[1] for s in wall.sight.seats), default=3000.0) + BEHIND
    return max(given.mm, far - BEHIND + 200.0) if given else far


def model_faces(wall: Wall, without: Collection[str] = ("floor",)) -> list[Face]:
    """The faces of the model: every node's cube, moved and stretched, or its own triangles; its LED bars are left out.

    without : names of nodes that are not wanted either
    """
    scene, roots = wall_scene(wall)
    cube, meshes = unit_cube(), [unit_cube(), *scene.solids]
    out: list[Face] = []
    part = 0

    def walk(number: int) -> None:
        nonlocal part
        node = scene.nodes[number]
        for child in node.get("children", ()):
            walk(child)
        if "mesh" not in node or node["name"] in without:
            return
        primitive = scene.meshes[node["mesh"]]["primitives"][0]
        material = scene.materials[primitive["material"]]
        if "emissiveFactor" in material:
            return
        part += 1
        which = primitive["attributes"]["POSITION"]
        if which == 0:
            points = _placed(cube.points, node)
            size = np.ptp(np.array(points), axis=0)
            paint = _paint(material, bool(size[2] >= size[0]))
            out.extend(Face(tuple(points[i : i + 4]), paint, part) for i in range(0, 24, 4))
            return
        mesh = meshes[which // 3]
        size = np.ptp(np.array(mesh.points), axis=0)
        paint = _paint(material, bool(size[2] >= size[0]))
        for i in range(0, len(mesh.triangles), 3):
            a, b, c = (mesh.points[k] for k in mesh.triangles[i : i + 3])
            out.append(Face((a, b, c), paint, part))

    for root in roots:
        walk(root)
    return out


def _placed(points: list[Point3], node: dict[str, Any]) -> list[Point3]:
    """The unit cube's corners where a node puts them, back in wall axes and mm."""
    local = np.array(points) * np.array(node["scale"])
    if "rotation" in node:
        x, y, z, w = node["rotation"]
        turn = np.array(
            (
                (1 - 2 * (y * y + z * z), 2 * (x * y - z * w), 2 * (x * z + y * w)),
                (2 * (x * y + z * w), 1 - 2 * (x * x + z * z), 2 * (y * z - x * w)),
                (2 * (x * z - y * w), 2 * (y * z + x * w), 1 - 2 * (x * x + y * y)),
            )
        )
        local = local @ turn.T
    placed = (local + np.array(node["translation"])) * 1000.0
    return [(float(x), float(-z), float(y)) for x, y, z in placed]


def _paint(material: dict[str, Any], upright: bool) -> Paint:
    pbr = material["pbrMetallicRoughness"]
    r, g, b, clear = pbr["baseColorFactor"]
    name = material["name"]
    finish = load.finishes().get(name.split(" ")[0])
    grain: Grain = ""
    if finish is not None and (finish.kind == "veneer" or finish.face in ("laminate_wood", "veneer")):
        grain = "wood_z" if upright else "wood_x"
    elif finish is not None and finish.kind in ("stone", "porcelain"):
        grain = "stone"
    elif finish is None and name == "bare board":
        grain = "wood_z" if upright else "wood_x"
    return Paint(name, (r, g, b), pbr["roughnessFactor"], pbr["metallicFactor"] > 0, 1 - clear, grain)


def _shell(wall: Wall, depth: float) -> list[Face]:
    """Floor of planks, white ceiling, the three other walls."""
    w, h, d = wall.face.width, wall.face.height, depth
    floor = Paint("floor", (0.34, 0.235, 0.145), 0.5, grain="planks")
    ceiling, other = Paint("ceiling", CEILING), Paint("other walls", OTHER_WALLS)
    return [
        Face(((0, 0, 0), (0, -d, 0), (w, -d, 0), (w, 0, 0)), floor),
        Face(((0, 0, h), (w, 0, h), (w, -d, h), (0, -d, h)), ceiling),
        Face(((0, 0, 0), (0, -d, 0), (0, -d, h), (0, 0, h))[::-1], other),
        Face(((w, 0, 0), (w, -d, 0), (w, -d, h), (w, 0, h)), other),
        Face(((0, -d, 0), (w, -d, 0), (w, -d, h), (0, -d, h))[::-1], other),
    ]


def joint_backs(wall: Wall) -> list[Face]:
    """A dark strip deep in each closed joint between the boards of a panel: a batten or tongue is there, and no light comes through."""
    boards = [part.block for part in wall.carcass.parts if part.role == "panel"]
    out: list[Face] = []
    for a in boards:
        for b in boards:
            if abs(a.y + a.dy - b.y - b.dy) > 1.0:
                continue
            x0, x1 = max(a.x, b.x), min(a.x + a.dx, b.x + b.dx)
            z0, z1 = max(a.z, b.z), min(a.z + a.dz, b.z + b.dz)
            if 0 < b.x - a.x - a.dx <= JOINT and z1 > z0:
                x0, x1 = a.x + a.dx - LAP, b.x + LAP
            elif 0 < b.z - a.z - a.dz <= JOINT and x1 > x0:
                z0, z1 = a.z + a.dz - LAP, b.z + LAP
            else:
                continue
            y = a.y + a.dy - 1.0  # in the joint, before the battens
            corners = ((x0, y, z0), (x1, y, z0), (x1, y, z1), (x0, y, z1))
            out.append(Face(corners, Paint("joint", (0.05, 0.05, 0.05)), 1))
    return out


def _inwards(corners: tuple[Point3, ...], to: Point3) -> tuple[Point3, ...]:
    """The corners in the order in which the face shines towards a point."""
    a, b, c = (np.array(p) for p in corners[:3])
    normal = np.cross(b - a, c - b)
    return corners if float(np.dot(normal, np.array(to) - a)) > 0 else corners[::-1]


def _windows(wall: Wall, depth: float) -> list[Shine]:
    """Each window's pane, a little before its wall, as bright as an overcast sky behind its glass; blinds open."""
    w, h = wall.face.width, wall.face.height
    middle = (w / 2, -depth / 2, h / 2)
    out: list[Shine] = []
    for window in wall.job.survey.windows:
        corners = window_corners(window, depth, w)
        if corners is None:
            continue
        dx, dy = {"left": (4.0, 0.0), "right": (-4.0, 0.0)}.get(window.wall, (0.0, 4.0))
        moved = tuple((x + dx, max(y, -depth) + dy, z) for x, y, z in corners)
        bright = wall.limits.value("sight.window_luminance")
        out.append(Shine(window.ref, _inwards(moved, middle), bright, OVERCAST))
    return out


def _assumed_window(wall: Wall, depth: float) -> Shine:
    x, y = wall.face.width / 2, -depth + 4.0
    corners = ((x - 750, y, 900.0), (x + 750, y, 900.0), (x + 750, y, 2100.0), (x - 750, y, 2100.0))
    return Shine(
        "window", _inwards(corners, (x, 0.0, 1500.0)), wall.limits.value("sight.window_luminance"), OVERCAST
    )


def _assumed_lamp(wall: Wall, depth: float) -> Shine:
    """1500 lm from a disc's square of 400 mm: luminance = flux / (pi · area) of an even diffuser."""
    x, y, z = wall.face.width / 2, -depth / 2, wall.face.height - 60.0
    corners = ((x - 200, y - 200, z), (x + 200, y - 200, z), (x + 200, y + 200, z), (x - 200, y + 200, z))
    return Shine("lamp", _inwards(corners, (x, y, 0.0)), 1500.0 / (pi * 0.16), LAMP)


def _lamps(wall: Wall) -> list[Shine]:
    """The lamps that burn while one watches; shades shine to both sides, a downlight only down."""
    out: list[Shine] = []
    for lamp in lamps(wall.job.survey, glass_of(wall.sight.screen), wall.limits):
        for corners in (lamp.corners, lamp.corners[::-1]):
            shine = Shine(lamp.ref, corners, lamp.luminance, LAMP)
            if lamp.kind != "downlight" or _inwards(corners, (corners[0][0], corners[0][1], 0.0)) == corners:
                out.append(shine)
    return out


def _strip(wall: Wall, run: LightRun) -> list[Shine]:
    """Each leg of an LED line: a band that shines where the strip faces, with the strip's own lumens.

    An even diffuser sends pi times its luminance from each square metre: luminance = lumens a metre / (pi · width). What a batten
    shuts in does not shine.
    """
    bright = run.lumens_per_m / (pi * STRIP / 1000)
    solids = [part.block.face for part in in_void(run, wall.carcass.parts)]
    lit = [s for s in stretches(run, solids, wall.limits.value("light.profile_width")) if s.clear]
    out: list[Shine] = []
    for (x0, z0), (x1, z1) in ((stretch.a, stretch.b) for stretch in lit):
        y, half = run.y, STRIP / 2
        if run.along in ("behind_panel", "behind_screen"):  # turned to the wall
            across = (0.0, half) if z0 == z1 else (half, 0.0)
            dx, dz = across
            corners = (
                (x0 - dx, y + 1, z0 - dz),
                (x1 - dx, y + 1, z1 - dz),
                (x1 + dx, y + 1, z1 + dz),
                (x0 + dx, y + 1, z0 + dz),
            )
            towards = (x0, y + 100.0, z0)
        elif z0 == z1:  # under a board: down
            corners = (
                (x0, y - half, z0 - 1),
                (x1, y - half, z0 - 1),
                (x1, y + half, z0 - 1),
                (x0, y + half, z0 - 1),
            )
            towards = (x0, y, z0 - 100.0)
        else:  # up a tower's side: away from it
            unit = next((u for u in wall.setout.units if u.ref == run.of), None)
            left = unit is not None and x0 < unit.box.centre[0]
            x = x0 - 1 if left else x0 + 1
            corners = ((x, y - half, z0), (x, y - half, z1), (x, y + half, z1), (x, y + half, z0))
            towards = (x - 100.0 if left else x + 100.0, y, z0)
        out.append(Shine(run.ref, _inwards(corners, towards), bright, run.colour))
    return out
