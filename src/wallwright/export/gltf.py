"""The wall as a GLB (glTF 2.0 binary): every part a node under its unit, named by its id, in real colours.

glTF is right-handed, y up, in metres: (x, z, -y) / 1000. One cube is shared by all boxes, moved and stretched by its node, so
that a wall of 300 parts is some 60 kB. Written plainly: a general mesh library costs a second to load and gives a larger file.
"""

from __future__ import annotations

import json
import struct
from dataclasses import dataclass, field
from math import cos, radians, sin
from typing import TYPE_CHECKING, Any

from wallwright.core.shape import Block
from wallwright.job.face import obstacle_box
from wallwright.library import load

if TYPE_CHECKING:
    from wallwright.carcass.record import Part
    from wallwright.derive import Wall

_ROUGH = {"matt": 0.9, "satin": 0.55, "gloss": 0.15, "mirror": 0.04}
BARE = "#C8AE84"  # board without a finish
WALL_DEPTH = 100.0
ROOM = 3200.0  # how much floor is shown in front [mm]


@dataclass(slots=True)
class _Scene:
    """The lists of a glTF file as they grow."""

    nodes: list[dict[str, Any]] = field(default_factory=list[dict[str, Any]])
    materials: list[dict[str, Any]] = field(default_factory=list[dict[str, Any]])
    meshes: list[dict[str, Any]] = field(default_factory=list[dict[str, Any]])
    of: dict[tuple[Any, ...], int] = field(default_factory=dict[tuple[Any, ...], int])

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
    scene = _Scene()
    roots = [scene.group("room", _room(scene, wall)), _screen(scene, wall)]
    by: dict[str, list[int]] = {}
    for part in wall.carcass.parts:
        by.setdefault(part.unit, []).append(scene.box(part.id, part.block, _part_mesh(scene, part, wall)))
    roots += [scene.group(unit, children) for unit, children in by.items()]
    points = _points(scene, wall)
    lights = _lights(scene, wall)
    roots += [scene.group(name, found) for name, found in (("points", points), ("lights", lights)) if found]
    return _glb(scene, roots)


def _room(scene: _Scene, wall: Wall) -> list[int]:
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


def _screen(scene: _Scene, wall: Wall) -> int:
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


def _part_mesh(scene: _Scene, part: Part, wall: Wall) -> int:
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


def _points(scene: _Scene, wall: Wall) -> list[int]:
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


def _lights(scene: _Scene, wall: Wall) -> list[int]:
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


def _cube() -> tuple[bytes, bytes, bytes]:
    """Positions, normals and indices of a cube of edge 1 about the origin, outward faces counter-clockwise."""
    positions: list[float] = []
    normals: list[float] = []
    indices: list[int] = []
    for axis in range(3):
        for sign in (1, -1):
            u, v = (axis + 1) % 3, (axis + 2) % 3
            base = len(positions) // 3
            for a, b in ((-1, -1), (1, -1), (1, 1), (-1, 1)):
                corner = [0.0, 0.0, 0.0]
                corner[axis], corner[u], corner[v] = sign / 2, a * sign / 2, b / 2
                positions += corner
                normal = [0.0, 0.0, 0.0]
                normal[axis] = float(sign)
                normals += normal
            indices += [base, base + 1, base + 2, base, base + 2, base + 3]
    return (
        struct.pack(f"<{len(positions)}f", *positions),
        struct.pack(f"<{len(normals)}f", *normals),
        struct.pack(f"<{len(indices)}H", *indices),
    )


def _glb(scene: _Scene, roots: list[int]) -> bytes:
    """The file: a JSON chunk and a binary chunk, each padded to 4 bytes (glTF 2.0, GLB layout)."""
    positions, normals, indices = _cube()
    binary = positions + normals + indices
    ends = (0, len(positions), len(positions) + len(normals))
    document = {
        "asset": {"version": "2.0", "generator": "wallwright"},
        "scene": 0,
        "scenes": [{"name": "television wall", "nodes": roots}],
        "nodes": scene.nodes,
        "meshes": scene.meshes,
        "materials": scene.materials,
        "accessors": [
            {
                "bufferView": 0,
                "componentType": 5126,
                "count": 24,
                "type": "VEC3",
                "min": [-0.5] * 3,
                "max": [0.5] * 3,
            },
            {"bufferView": 1, "componentType": 5126, "count": 24, "type": "VEC3"},
            {"bufferView": 2, "componentType": 5123, "count": 36, "type": "SCALAR"},
        ],
        "bufferViews": [
            {"buffer": 0, "byteOffset": ends[0], "byteLength": len(positions), "target": 34962},
            {"buffer": 0, "byteOffset": ends[1], "byteLength": len(normals), "target": 34962},
            {"buffer": 0, "byteOffset": ends[2], "byteLength": len(indices), "target": 34963},
        ],
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
