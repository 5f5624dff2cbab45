"""The client's fast picture, made in a few seconds with nothing but numpy: the same room, lights and eye as the one with real light.

Light comes straight from windows, lamps and LED lines with their own luminances (windows and lamps with shadows); what is thrown
back by walls is the same everywhere but for the depth of a recess. Good enough to choose by, and it says so.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import hypot, pi
from typing import TYPE_CHECKING, Any

import numpy as np

from wallwright.core.shape import kept_side
from wallwright.export.picture_scene import Face, Paint, Shine, Stage, View, kelvin_rgb
from wallwright.export.taken import Progress, taken
from wallwright.export.tone import halved

if TYPE_CHECKING:
    from wallwright.derive import Wall
    from wallwright.export.picture_scene import When

NEAR = 150.0  # what is nearer to an eye or lamp than this along y is cut away [mm]
PIECE = 130.0  # a shining face is taken in pieces of this size [mm]
BACK = 0.55  # mean reflectance of the room for light thrown back once or more
MAPPED = (540, 360)  # size of a shadow's picture


@dataclass(frozen=True, slots=True)
class Seen:
    """What each pixel sees: the number of its face (-1: none), how far along its ray (1: at the wall's face)."""

    face: Any
    along: Any


def picture_png(
    wall: Wall,
    when: When,
    *,
    seat: str = "",
    size: tuple[int, int] = (960, 640),
    progress: Progress | None = None,
) -> bytes:
    """The wall from a seat by day or by night, the screen black, as PNG bytes.

    Args and errors as for `render.render_png`; needs no extra. Same wall, same bytes.
    """
    return taken(wall, when, seat, size, progress, _light)


def _light(scene: Stage, size: tuple[int, int], tell: Progress) -> Any:
    """Light straight from what shines, four looks a pixel averaged."""
    wide, high = size[0] * 2, size[1] * 2
    tell(0.0, "what is seen")
    faces = (*scene.faces, *(Face(s.corners, _GLOW) for s in scene.shines))
    seen = looked(faces, scene.view, (wide, high))
    tell(0.3, "light")
    light = _lit(scene, faces, seen, (wide, high), tell)
    return halved(halved(light).swapaxes(0, 1)).swapaxes(0, 1)


_GLOW = Paint("light", (1.0, 1.0, 1.0))


def looked(faces: tuple[Face, ...], view: View, size: tuple[int, int]) -> Seen:
    """Every face painted from the eye, the nearest kept at each pixel."""
    wide, high = size
    number = np.full((high, wide), -1, np.int32)
    along = np.full((high, wide), np.inf, np.float32)
    window, eye = view.window, np.array(view.eye)
    step = window.width / wide
    for i, face in enumerate(faces):
        normal, start = _plane(face)
        if float(normal @ (eye - start)) <= 1e-6:
            continue  # its back
        kept = kept_side([tuple(c) for c in face.corners], 1, view.eye[1] + NEAR, 1.0)
        if len(kept) < 3:
            continue
        corners = np.array(kept)
        s = eye[1] / (eye[1] - corners[:, 1])
        u = (eye[0] + s * (corners[:, 0] - eye[0]) - window.x) / step
        v = (window.top - (eye[2] + s * (corners[:, 2] - eye[2]))) / step
        x0, x1 = max(int(np.ceil(u.min() - 0.5)), 0), min(int(np.floor(u.max() - 0.5)) + 1, wide)
        y0, y1 = max(int(np.ceil(v.min() - 0.5)), 0), min(int(np.floor(v.max() - 0.5)) + 1, high)
        if x0 >= x1 or y0 >= y1:
            continue
        px, py = np.arange(x0, x1)[None, :] + 0.5, np.arange(y0, y1)[:, None] + 0.5
        inside = _inside(u, v, px, py)
        ray_x, ray_z = window.x + px * step - eye[0], window.top - py * step - eye[2]
        facing = normal[0] * ray_x - normal[1] * eye[1] + normal[2] * ray_z
        with np.errstate(divide="ignore"):
            far = float(normal @ (start - eye)) / facing
        here = along[y0:y1, x0:x1]
        nearer = inside & (far > 0) & (far < here - 1e-6)
        here[nearer] = far[nearer]
        number[y0:y1, x0:x1][nearer] = i
    return Seen(number, along)


def _plane(face: Face) -> tuple[Any, Any]:
    """A face's outward normal and its first corner."""
    points = np.array(face.corners)
    normal = np.cross(points[1] - points[0], points[2] - points[0])
    return normal / max(float(np.linalg.norm(normal)), 1e-12), points[0]


def _inside(u: Any, v: Any, px: Any, py: Any) -> Any:
    """Whether pixels lie in a convex outline, whichever way its corners run."""
    ahead: Any = np.bool_(True)
    behind: Any = np.bool_(True)
    for k in range(len(u)):
        a = (u[k] - u[k - 1]) * (py - v[k - 1]) - (v[k] - v[k - 1]) * (px - u[k - 1])
        ahead, behind = ahead & (a >= 0), behind & (a <= 0)
    return ahead | behind


def _lit(scene: Stage, faces: tuple[Face, ...], seen: Seen, size: tuple[int, int], tell: Progress) -> Any:
    """Linear light of every pixel."""
    wide, high = size
    window, eye = scene.view.window, scene.view.eye
    step = window.width / wide
    ray_x = (window.x + (np.arange(wide) + 0.5) * step - eye[0])[None, :].astype(np.float32)
    ray_z = (window.top - (np.arange(high) + 0.5) * step - eye[2])[:, None].astype(np.float32)
    t = np.where(seen.face >= 0, seen.along, 1.0).astype(np.float32)
    at = (eye[0] + t * ray_x, eye[1] - t * eye[1], eye[2] + t * ray_z)
    normals = np.array([_plane(face)[0] for face in faces], np.float32)
    towards = tuple(normals[seen.face][..., i] for i in range(3))
    light = np.zeros((high, wide, 3), np.float32)
    for k, shine in enumerate(scene.shines):
        received = _received(shine, at, towards)
        if min(c[1] for c in shine.corners) < -600.0:
            received *= _unshadowed(scene, shine, at)
        light += received[..., None] * np.array(kelvin_rgb(shine.kelvin), np.float32)
        tell(0.3 + 0.6 * (k + 1) / len(scene.shines), "light")
    light += np.array(thrown_back(scene), np.float32) * _open(at[1], step)[..., None]
    light *= in_joints(at[1], step)[..., None]
    colours = np.array([face.paint.colour for face in faces], np.float32)
    out = light * colours[seen.face] / np.float32(pi) * _figure(faces, seen, at)[..., None]
    for k, shine in enumerate(scene.shines):
        shows = seen.face == len(scene.faces) + k
        out[shows] = np.array(kelvin_rgb(shine.kelvin)) * min(shine.luminance, 4000.0)
    return out.astype(np.float64)


def thrown_back(scene: Stage) -> tuple[float, float, float]:
    """Light on a surface by way of the walls [lx of red, green, blue], as in a hollow sphere: Φ·ρ / (A·(1 - ρ))."""
    flux, area = np.zeros(3), 0.0
    for shine in scene.shines:
        flux += np.array(kelvin_rgb(shine.kelvin)) * shine.luminance * pi * _area(shine.corners)
    for face in scene.faces:
        area += _area(face.corners) if face.part == 0 else 0.0
    r, g, b = flux * BACK / (max(area, 1.0) * (1 - BACK))
    return float(r), float(g), float(b)


def _area(corners: tuple[tuple[float, float, float], ...]) -> float:
    points = np.array(corners) / 1000
    fan = [np.cross(points[i] - points[0], points[i + 1] - points[0]) for i in range(1, len(points) - 1)]
    return float(np.linalg.norm(np.sum(fan, axis=0))) / 2


def _received(shine: Shine, at: tuple[Any, Any, Any], towards: tuple[Any, ...]) -> Any:
    """Light on every pixel's surface straight from a shining face [lx], taken in pieces: L·A·cos·cos / d²."""
    corners = np.array(shine.corners)
    a, b, d = corners[0], corners[1] - corners[0], corners[-1] - corners[0]
    out_normal = np.cross(b, d)
    size = float(np.linalg.norm(out_normal))
    out_normal = (out_normal / max(size, 1e-9)).astype(np.float32)
    m, n = (max(1, min(24, round(float(np.linalg.norm(e)) / PIECE))) for e in (b, d))
    if m * n > 48:
        m, n = min(m, 5), min(n, 5)
    strength = np.float32(shine.luminance * size / (m * n))
    least = np.float32((max(float(np.linalg.norm(b)) / m, float(np.linalg.norm(d)) / n) / 2) ** 2)
    total: Any = np.float32(0.0)
    for i in range(m):
        for j in range(n):
            p = (a + b * ((i + 0.5) / m) + d * ((j + 0.5) / n)).astype(np.float32)
            dx, dy, dz = (at[k] - p[k] for k in range(3))
            square = dx * dx + dy * dy + dz * dz + least
            leaves = np.maximum(dx * out_normal[0] + dy * out_normal[1] + dz * out_normal[2], 0)
            lands = np.maximum(-(dx * towards[0] + dy * towards[1] + dz * towards[2]), 0)
            total = total + strength * leaves * lands / (square * square)
    return total


def _unshadowed(scene: Stage, shine: Shine, at: tuple[Any, Any, Any]) -> Any:
    """The share of a window or lamp that a point of the wall sees, from nine pictures taken where it shines."""
    corners = np.array(shine.corners)
    start, along, up = corners[0], corners[1] - corners[0], corners[-1] - corners[0]
    solid = tuple(face for face in scene.faces if face.part)
    total: Any = np.float32(0.0)
    for k in range(9):
        eye = start + along * (k % 3 + 0.5) / 3 + up * (k // 3 + 0.5) / 3
        view = View((float(eye[0]), float(eye[1]), float(eye[2])), scene.view.window)
        seen = looked(solid, view, MAPPED)
        s = np.float32(eye[1]) / np.minimum(np.float32(eye[1]) - at[1], -NEAR)
        u = (eye[0] + s * (at[0] - eye[0]) - view.window.x) / view.window.width * MAPPED[0]
        v = (view.window.top - (eye[2] + s * (at[2] - eye[2]))) / view.window.height * MAPPED[1]
        known = (u >= 0) & (u < MAPPED[0]) & (v >= 0) & (v < MAPPED[1]) & (at[1] > eye[1] + NEAR)
        column = np.clip(u, 0, MAPPED[0] - 1).astype(np.int32)
        row = np.clip(v, 0, MAPPED[1] - 1).astype(np.int32)
        reach = 1.0 / np.maximum(s, 1e-6)  # how far along the same ray the point is
        total = total + np.where(known & (seen.along[row, column] < reach - 0.012), 0.0, 1 / 9).astype(
            np.float32
        )
    return total


def _open(deep: Any, step: float) -> Any:
    """How much of the room a pixel sees, 1 or less: what lies deeper than what is round it is darker."""
    out: Any = np.ones_like(deep)
    for reach, weight in ((90.0, 0.30), (320.0, 0.45)):
        k = max(1, int(reach / step))
        behind = np.clip((deep - _spread(deep, k)) / 260.0, 0.0, 1.0)
        out = out * (1 - weight * behind)
    return out


JOINT, DARK, BEHIND = 7.0, 0.12, 6.0
"""What is seen through a gap no wider than this [mm] keeps this share of its light, where it lies so much deeper [mm]."""


def in_joints(deep: Any, step: float) -> Any:
    """The share of its light that each pixel keeps: the bottom of a joint is dark, for its own edges stand in the way of the light.

    deep : how deep each pixel's surface lies [mm] · step : a pixel's size there [mm]
    """
    k = max(1, int(JOINT / step))
    out: Any = np.ones_like(deep)
    for axis in (0, 1):
        shut = _least(deep, k, axis, np.minimum)
        shut = _least(
            shut, k, axis, np.maximum
        )  # an opening: what is narrower than k + 1 pixels is filled to its edges
        out = np.where(deep - shut > BEHIND, np.float32(DARK), out)
    return out


def _least(values: Any, k: int, axis: int, of: Any) -> Any:
    """The least (or most) of each pixel and of k more, before it for the least and after it for the most."""
    out = values
    way = 1 if of is np.minimum else -1
    for n in range(1, k + 1):
        moved = np.roll(values, way * n, axis)
        edge: list[Any] = [slice(None)] * values.ndim
        edge[axis] = slice(0, n) if way > 0 else slice(-n, None)
        moved[tuple(edge)] = values[tuple(edge)]
        out = of(out, moved)
    return out


def _spread(values: Any, k: int) -> Any:
    """The mean over a square of 2k + 1 pixels, edges repeated."""
    for axis in (0, 1):
        pad = [(0, 0), (0, 0)]
        pad[axis] = (k + 1, k)
        sums = np.cumsum(np.pad(values, pad, mode="edge"), axis=axis, dtype=np.float64)
        n = 2 * k + 1
        take = (slice(n, None), slice(None)) if axis == 0 else (slice(None), slice(n, None))
        leave = (slice(None, -n), slice(None)) if axis == 0 else (slice(None), slice(None, -n))
        values = (sums[take] - sums[leave]) / n
    return values.astype(np.float32)


def _figure(faces: tuple[Face, ...], seen: Seen, at: tuple[Any, Any, Any]) -> Any:
    """The figure of wood and planks as brightness about 1."""
    out: Any = np.ones(seen.face.shape, np.float32)
    kinds = np.array([_KINDS.index(face.paint.grain) for face in faces])[seen.face]
    parts = np.array([face.part % 97 for face in faces], np.float32)[seen.face]
    for grain, across, along in (("wood_x", 2, 0), ("wood_z", 0, 2), ("planks", 0, 1)):
        here = kinds == _KINDS.index(grain)
        if not here.any():
            continue
        a, c, shift = at[across][here] / 1000, at[along][here] / 1000, parts[here] * 0.37
        if grain == "planks":
            out[here] = _planks(a, c)
        else:
            out[here] = 1 + _grain(a + shift, c + 3 * shift)
    return out


def _planks(a: Any, c: Any) -> Any:
    """A floor of planks 165 mm wide and 1350 mm long, each from another tree, with dark seams."""
    row = np.floor(a / 0.165)
    plank = np.floor((c + _chance(row * 12.99) * 1.35) / 1.35)
    own = _chance(row * 7.13 + plank * 3.7)
    seam = np.abs(a / 0.165 - row - 0.5) > 0.488
    return np.where(seam, 0.6, 0.88 + 0.24 * own) * (1 + _grain(a + 9 * own, c + 27 * own))


def _chance(seed: Any) -> Any:
    """A share of 1 that jumps from one number to the next, always the same for the same."""
    return np.modf(np.abs(np.sin(seed)) * 4375.85)[0]


_KINDS = ("", "wood_x", "wood_z", "planks", "stone")


def _grain(across: Any, along: Any) -> Any:
    """Lines drawn out along the grain that wander: sines whose phases drift slowly."""
    drift = 0.35 * np.sin(along * 2.1 + 1.7) + 0.2 * np.sin(along * 5.3 + across * 3.0)
    return (
        0.055 * np.sin(across * 38 + 3.5 * drift + 2.2 * np.sin(across * 9))
        + 0.035 * np.sin(across * 131 + 6 * drift)
        + 0.025 * np.sin(across * 470 + 9 * drift)
    )


def note(scene: Stage) -> str:
    """What to tell with the picture: that it is illustrative, and what was assumed."""
    far = hypot(scene.view.eye[0] - scene.view.window.centre[0], scene.view.eye[1])
    return "; ".join((f"illustrative, from {far / 1000:.1f} m, screen black", *scene.told))
