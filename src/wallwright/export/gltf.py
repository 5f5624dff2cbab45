"""The wall as a GLB (glTF 2.0 binary): every part a node under its unit, named by its id, in real colours.

glTF is right-handed, y up, in metres: (x, z, -y) / 1000. One cube is shared by all boxes, moved and stretched by its node, so
that a wall of 300 parts is some 60 kB; only what is no box (fluted boards, arches) has triangles of its own. Written plainly: a
general mesh library costs a second to load and gives a larger file.
"""

from __future__ import annotations

import json
import struct
from dataclasses import dataclass, field
from math import cos, radians, sin
from typing import TYPE_CHECKING, Any

from wallwright.carcass.arch import Arch
from wallwright.carcass.cladding import face_pieces
from wallwright.carcass.niche import arch_of, arched_clear
from wallwright.core.shape import Block
from wallwright.export.solids import Flutes, Mesh, Point3, board, left_of, ring, under_arch
from wallwright.job.face import obstacle_box
from wallwright.library import load

if TYPE_CHECKING:
    from wallwright.carcass.record import PanelZone, Part
    from wallwright.derive import Wall

_ROUGH = {"matt": 0.9, "satin": 0.55, "gloss": 0.15, "mirror": 0.04}
BARE = "#C8AE84"  # board without a finish
WALL_DEPTH = 100.0
GROUT = "#8F8C86"
_TYPES = {"f": 5126, "H": 5123, "I": 5125}
_VERTICES, _INDICES = 34962, 34963
ROOM = 3200.0  # how much floor is shown in front [mm]


@dataclass(slots=True)
class Scene:
    """The lists of a glTF file as they grow."""

    nodes: list[dict[str, Any]] = field(default_factory=list[dict[str, Any]])
    materials: list[dict[str, Any]] = field(default_factory=list[dict[str, Any]])
    meshes: list[dict[str, Any]] = field(default_factory=list[dict[str, Any]])
    of: dict[tuple[Any, ...], int] = field(default_factory=dict[tuple[Any, ...], int])
    solids: list[Mesh] = field(default_factory=list[Mesh])

    def mesh(self, name: str, colour: str, gloss: str, glow: float = 0.0, clear: float = 1.0) -> int:
        """The cube in this material, made once."""
        key = (name, colour, gloss, glow, clear)
        if key not in self.of:
            rgb = [_linear(colour[i : i + 2]) for i in (1, 3, 5)]
            material: dict[str, Any] = {
                "name": name,
                "pbrMetallicRoughness": {
                    "baseColorFactor": [*rgb, clear],
                    "metallicFactor": 1.0 if gloss == "mirror" else 0.0,
                    "roughnessFactor": _ROUGH.get(gloss, 0.7),
                },
            }
            if glow:
                material["emissiveFactor"] = [round(c * glow, 5) for c in rgb]
            if clear < 1:
                material |= {"alphaMode": "BLEND"}
            self.materials.append(material)
            cube = {
                "attributes": {"POSITION": 0, "NORMAL": 1},
                "indices": 2,
                "material": len(self.materials) - 1,
            }
            self.meshes.append({"name": name, "primitives": [cube]})
            self.of[key] = len(self.meshes) - 1
        return self.of[key]

    def box(self, name: str, block: Block, mesh: int, tilt: float = 0.0) -> int:
        """A node: the cube moved to the block's middle and stretched to its size; tilt [deg] leans its top into the room."""
        node: dict[str, Any] = {
            "name": name,
            "mesh": mesh,
            "translation": [
                _m(block.x + block.dx / 2),
                _m(block.z + block.dz / 2),
                _m(-(block.y + block.dy / 2)),
            ],
            "scale": [max(_m(block.dx), 1e-4), max(_m(block.dz), 1e-4), max(_m(block.dy), 1e-4)],
        }
        if tilt:
            half = radians(tilt) / 2
            node["rotation"] = [round(sin(half), 9), 0.0, 0.0, round(cos(half), 9)]
        self.nodes.append(node)
        return len(self.nodes) - 1

    def solid(self, name: str, mesh: Mesh, like: int) -> int:
        """A node with triangles of its own, in the material of the mesh `like`."""
        at = 3 + 3 * len(self.solids)
        self.solids.append(mesh)
        own = {
            "attributes": {"POSITION": at, "NORMAL": at + 1},
            "indices": at + 2,
            "material": self.meshes[like]["primitives"][0]["material"],
        }
        self.meshes.append({"name": name, "primitives": [own]})
        self.nodes.append({"name": name, "mesh": len(self.meshes) - 1})
        return len(self.nodes) - 1

    def group(self, name: str, children: list[int]) -> int:
        """A node that holds others."""
        self.nodes.append({"name": name, "children": children})
        return len(self.nodes) - 1


def _m(mm: float) -> float:
    return round(mm / 1000, 6)


def _linear(two: str) -> float:
    """A channel of an sRGB colour as linear light (IEC 61966-2-1)."""
    c = int(two, 16) / 255
    return round(c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4, 5)


def wall_glb(wall: Wall) -> bytes:
    """The whole wall as GLB bytes. Nodes: room, screen, one group a unit with its parts, points, lights."""
    return _glb(*wall_scene(wall))


def wall_scene(wall: Wall) -> tuple[Scene, list[int]]:
    """The wall as nodes, meshes and materials, and the numbers of the nodes at the root."""
    scene = Scene()
    roots = [scene.group("room", _room(scene, wall)), _screen(scene, wall)]
    by: dict[str, list[int]] = {}
    for part in wall.carcass.parts:
        by.setdefault(part.unit, []).append(_part(scene, part, wall))
    for zone in wall.setout.zones:
        by.setdefault(zone.ref, []).extend(_facing(scene, zone))
    roots += [scene.group(unit, children) for unit, children in by.items()]
    points = _points(scene, wall)
    lights = _lights(scene, wall)
    roots += [scene.group(name, found) for name, found in (("points", points), ("lights", lights)) if found]
    return scene, roots


def _room(scene: Scene, wall: Wall) -> list[int]:
    """The wall, the floor, and what is on the wall already."""
    face = wall.face
    finish = load.finishes().get(wall.job.design.finishes.wall or "paint_warm_white")
    colour = wall.job.design.finishes.wall_colour or (finish.colour if finish else "#F1ECE2")
    paint = scene.mesh("wall", colour, finish.gloss if finish else "matt")
    floor = scene.mesh("floor", "#9B8466", "satin")
    out = [
        scene.box("wall", Block(0, 0, 0, face.width, WALL_DEPTH, face.height), paint),
        scene.box("floor", Block(0, -ROOM, -20, face.width, ROOM + WALL_DEPTH, 20), floor),
    ]
    other = scene.mesh("obstacle", "#D8D4CC", "matt")
    for thing in face.obstacles:
        box = obstacle_box(thing)
        depth = max(thing.projection.mm, 4.0)
        out.append(scene.box(thing.ref, Block(box.x, -depth, box.z, box.width, depth, box.height), other))
    return out


def _screen(scene: Scene, wall: Wall) -> int:
    screen = wall.sight.screen
    frame = screen.frame
    body = scene.mesh("screen", "#101114", "satin")
    glass = scene.mesh("picture", "#05060A", "gloss")
    back = -screen.stand_off - screen.depth
    picture = screen.picture
    return scene.group(
        "screen",
        [
            scene.box(
                "screen-body",
                Block(frame.x, back, frame.z, frame.width, screen.depth, frame.height),
                body,
                screen.tilt,
            ),
            scene.box(
                "screen-picture",
                Block(picture.x, back - 1.0, picture.z, picture.width, 1.0, picture.height),
                glass,
                screen.tilt,
            ),
        ],
    )


def _part(scene: Scene, part: Part, wall: Wall) -> int:
    """A part in its true form: a fluted board fluted, a head under an arch cut to it, a lining bent, a notched board notched."""
    look = _part_mesh(scene, part, wall)
    left = left_of(part, wall.cooling.openings)
    if len(left) > 1 or part.cuts:
        return scene.group(part.id, [scene.box(f"{part.id} {i}", b, look) for i, b in enumerate(left, 1)])
    mesh = _formed(part, wall)
    return scene.solid(part.id, mesh, look) if mesh else scene.box(part.id, part.block, look)


def _formed(part: Part, wall: Wall) -> Mesh | None:
    """The triangles of a part that is no box; None for one that is."""
    block = part.block
    zone = next((zone for zone in wall.setout.zones if zone.ref == part.unit), None)
    if zone is not None and part.role == "panel":
        arch = _within_lining(zone, wall)
        arch = arch if arch and block.z + block.dz > arch.springing + 0.5 else None
        rib = zone.flute_pitch * wall.limits.value("carcass.flute_rib")
        deep = wall.limits.value("carcass.flute_depth")
        flutes = Flutes(zone.box.x, zone.flute_pitch, rib, deep) if zone.flutes else None
        return board(block, arch, flutes) if arch or flutes else None
    unit = next((unit for unit in wall.setout.units if unit.ref == part.unit), None)
    arch = zone.arch if zone else arch_of(unit) if unit and unit.kind == "arched_niche" else None
    if arch is None or part.role not in ("lining", "face"):
        return None
    if part.role == "face" and unit:
        return under_arch(block, arch, arched_clear(unit.box, unit.board, unit.front_finish, unit.bend).z)
    if abs(block.z + block.dz - arch.springing - arch.rise) > 20.0:
        return None  # a straight lining of a cheek
    return ring(arch, part.thickness, block.y, block.y + block.dy, outwards=zone is None)


def _within_lining(zone: PanelZone, wall: Wall) -> Arch | None:
    """The arch that a zone's boards are cut to: inside the strip that lines their edge, where there is one."""
    if zone.arch is None:
        return None
    edges = (p.thickness for p in wall.carcass.parts if p.unit == zone.ref and p.role == "lining")
    t, arch = next(edges, 0.0), zone.arch
    return Arch(arch.x + t, arch.span - 2 * t, arch.springing, arch.rise - t) if arch.rise > t else None


def _facing(scene: Scene, zone: PanelZone) -> list[int]:
    """What lies on a zone's board and is bought by area, not cut from board: tiles and slabs with their joints, paper, paint."""
    finish = load.finishes().get(zone.finish)
    if finish is None or zone.kind not in ("tile", "slab", "framed"):
        return []
    look = scene.mesh(finish.key, finish.colour, finish.gloss)
    if zone.kind == "framed":
        if zone.boarded:
            return []
        deep = next((mm for what, mm in zone.layers if what == finish.name), 0.4)
        block = Block(zone.box.x, -deep, zone.box.z, zone.box.width, deep, zone.box.height)
        return [scene.box(f"{zone.ref}-face", block, look)]
    thick = zone.layers[-1][1]
    bed = zone.layers[-2][1] if len(zone.layers) > 1 else 0.0
    grout = scene.mesh("joint", GROUT, "matt")
    y = -zone.build_up
    box = zone.box
    ground = Block(box.x, y + thick / 4, box.z, box.width, bed + thick * 3 / 4, box.height)
    out = [_cut(scene, f"{zone.ref}-joints", ground, zone.arch, grout)]
    for i, tile in enumerate(face_pieces(zone), 1):
        block = Block(tile.x, y, tile.z, tile.width, thick, tile.height)
        out.append(_cut(scene, f"{zone.ref}-F{i}", block, zone.arch, look))
    return out


def _cut(scene: Scene, name: str, block: Block, arch: Arch | None, look: int) -> int:
    """A box, its head cut to the zone's arch where it reaches that."""
    if arch is None or block.z + block.dz <= arch.springing:
        return scene.box(name, block, look)
    return scene.solid(name, board(block, arch), look)


def _part_mesh(scene: Scene, part: Part, wall: Wall) -> int:
    """The material of a part: its finish, in the job's own colour where one is chosen."""
    chosen = wall.job.design.finishes
    finish = load.finishes().get(part.finish)
    own = (
        chosen.front_colour if part.role == "front" else chosen.panel_colour if part.role == "panel" else None
    )
    if finish is None:
        return scene.mesh(part.finish or "bare board", own or BARE, "matt")
    return scene.mesh(
        finish.key if own is None else f"{finish.key} {own}",
        own or finish.colour,
        finish.gloss,
        0.0,
        0.35 if finish.kind == "glass" else 1.0,
    )


def _points(scene: Scene, wall: Wall) -> list[int]:
    plate = scene.mesh("plate", "#F4F4F2", "satin")
    return [
        scene.box(
            p.ref, Block(p.box.x, -_face_at(wall, p.x, p.z) - 8, p.box.z, p.box.width, 8, p.box.height), plate
        )
        for p in wall.services.points
        if p.kind != "led_feed"
    ]


def _face_at(wall: Wall, x: float, z: float) -> float:
    """How far the panel's face stands before the wall there [mm]."""
    over = [
        zone.build_up
        for zone in wall.setout.zones
        if zone.box.x <= x <= zone.box.right and zone.box.z <= z <= zone.box.top
    ]
    return max(over, default=0.0)


def _lights(scene: Scene, wall: Wall) -> list[int]:
    """Each leg of each LED run as a thin glowing bar."""
    glow = scene.mesh("led", "#FFE8C4", "matt", glow=1.0)
    out: list[int] = []
    for run in wall.light.runs:
        for i, ((x0, z0), (x1, z1)) in enumerate(zip(run.path, run.path[1:], strict=False), 1):
            low_x, low_z = min(x0, x1), min(z0, z1)
            out.append(
                scene.box(
                    f"{run.ref}-{i}",
                    Block(low_x, run.y - 3, low_z, max(abs(x1 - x0), 10), 6, max(abs(z1 - z0), 10)),
                    glow,
                )
            )
    return out


def unit_cube() -> Mesh:
    """A cube of edge 1 about the origin, already in the file's axes."""
    mesh = Mesh()
    for axis in range(3):
        for sign in (1, -1):
            u, v = (axis + 1) % 3, (axis + 2) % 3
            corners: list[Point3] = []
            for a, b in ((-1, -1), (1, -1), (1, 1), (-1, 1)):
                corner = [0.0, 0.0, 0.0]
                corner[axis], corner[u], corner[v] = sign / 2, a * sign / 2, b / 2
                corners.append((corner[0], corner[1], corner[2]))
            mesh.quad(*corners)
    return mesh


def _in_metres(mesh: Mesh) -> Mesh:
    """A mesh in wall axes and mm as the file wants it; single precision, so that the bounds are those of what is written."""
    points = [(_single(x), _single(z), _single(-y)) for x, y, z in mesh.points]
    return Mesh(points, [(nx, nz, -ny) for nx, ny, nz in mesh.normals], mesh.triangles)


def _single(mm: float) -> float:
    return struct.unpack("<f", struct.pack("<f", _m(mm)))[0]


def _glb(scene: Scene, roots: list[int]) -> bytes:
    """The file: a JSON chunk and a binary chunk, each padded to 4 bytes (glTF 2.0, GLB layout)."""
    binary = b""
    views: list[dict[str, Any]] = []
    accessors: list[dict[str, Any]] = []
    for mesh in (unit_cube(), *(_in_metres(solid) for solid in scene.solids)):
        lows = [min(point[i] for point in mesh.points) for i in range(3)]
        highs = [max(point[i] for point in mesh.points) for i in range(3)]
        for kind, values, target, more in (
            ("f", [v for p in mesh.points for v in p], _VERTICES, {"min": lows, "max": highs}),
            ("f", [v for n in mesh.normals for v in n], _VERTICES, {}),
            ("H" if len(mesh.points) < 65535 else "I", mesh.triangles, _INDICES, {}),
        ):
            data = struct.pack(f"<{len(values)}{kind}", *values)
            views.append({"buffer": 0, "byteOffset": len(binary), "byteLength": len(data), "target": target})
            one = target == _INDICES
            count = len(values) if one else len(values) // 3
            accessors.append(
                {"bufferView": len(views) - 1, "componentType": _TYPES[kind], "count": count,
                 "type": "SCALAR" if one else "VEC3", **more}
            )  # fmt: skip
            binary += data + b"\0" * (-len(data) % 4)
    document = {
        "asset": {"version": "2.0", "generator": "wallwright"},
        "scene": 0,
        "scenes": [{"name": "television wall", "nodes": roots}],
        "nodes": scene.nodes,
        "meshes": scene.meshes,
        "materials": scene.materials,
        "accessors": accessors,
        "bufferViews": views,
        "buffers": [{"byteLength": len(binary)}],
    }
    text = json.dumps(document, separators=(",", ":"), ensure_ascii=False).encode()
    text += b" " * (-len(text) % 4)
    binary += b"\0" * (-len(binary) % 4)
    whole = 12 + 8 + len(text) + 8 + len(binary)
    return b"".join(
        (
            struct.pack("<4sII", b"glTF", 2, whole),
            struct.pack("<I4s", len(text), b"JSON"),
            text,
            struct.pack("<I4s", len(binary), b"BIN\0"),
            binary,
        )
    )
