"""The client's picture with real light, by the extra `render`: the wall in its room, its windows, lamps and LED lines with their
own luminances, and light that goes from wall to wall.

The program behind the extra is run as separate processes; what it is given and gives back goes through pipes and one scratch folder.
"""

from __future__ import annotations

import os
import subprocess
import tempfile
import time
import zlib
from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import partial
from importlib.util import find_spec
from math import pi
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np

from wallwright.export import gathered
from wallwright.export.picture_scene import Face, Paint, Shine, Stage, kelvin_rgb
from wallwright.export.taken import Progress, taken
from wallwright.export.tone import halved

if TYPE_CHECKING:
    from wallwright.derive import Wall
    from wallwright.export.picture_scene import When

MEAN = 0.14  # reflectance weighed by area, low since shelves and corners see little of the room
LUMENS = 179.0  # lumens a watt, as the program counts white light
CLEAR = 0.1  # a surface clearer than this is glass
PAUSE = 0.02  # seconds between looks at how far the tracers are
MISSING = "a picture with real light needs the extra `render`: pip install 'wallwright[render]'; without it, use the fast one"

# How light straight from what shines is found, and mirrored: how finely long lights are cut, shadows are asked for.
_CARE = {
    "dj": "0.8", "ds": "0.2", "dt": "0.02", "dc": "0.8", "lw": "0.004", "lr": "4", "st": "0.01", "ss": "1",
}  # fmt: skip
# The same for light that comes by way of other walls, where one ray of many may be rougher; one more wall is followed from where it lands.
_ROUGH = {
    "ab": "1", "ad": "1", "as": "0", "aa": "0", "dj": "0", "ds": "0.4", "dt": "0", "dc": "1", "lw": "0.002", "lr": "3",
    "st": "0.1", "ss": "1",
}  # fmt: skip
FINE = 2  # rays a pixel each way
BLOCK = 4  # rays each way that share a point that asks for light by way of other walls
ASKED = (8, 5)  # directions it asks: round the horizon, and from straight ahead to it
BANDS = 12  # bands of rows, each traced by itself: as many at once as there are processors, the same whatever their number

# The figure of wood, planks and stone, as brightness: noise drawn out along the grain. Metres.
_FIGURE = """\
band(a, b, c) : .5*noise3(a*28, b*28, c*1.4) + .3*noise3(a*120, b*120, c*3) + .2*noise3(a*420, b*420, c*9);
ring(a, b, c) : sin(40*(a + .35*noise3(a*4, b*4, c*.5)) + 6*noise3(a*9, b*9, c*.7));
wood(a, b, c) : 1 + .13*band(a, b, c) + .05*ring(a, b, c);
wood_z = wood(Px + A1, Py, Pz + 3*A1);
wood_x = wood(Pz + A1, Py, Px + 3*A1);
wide = .165;
long = 1.35;
row = floor(Px/wide);
shift = rand(row*3.7)*long;
plank = floor((Py + shift)/long);
edge_x = Px/wide - row;
edge_y = (Py + shift)/long - plank;
seam = if(min(edge_x, 1 - edge_x) - .012, if(min(edge_y, 1 - edge_y) - .0016, 1, .55), .55);
planks = seam*(.86 + .28*rand(row*17.3 + plank*5.1))*wood(Px + rand(row + 31*plank)*9, Pz, Py + row);
vein(s) : 1/(1 + 60*s*s);
stone = 1.02 + .06*noise3(Px*3, Py*3, Pz*3) - .16*vein(noise3(Px*1.3 + .5*noise3(Px*4,Py*4,Pz*4), Py*2, Pz*1.7 + .8))
  + .04*noise3(Px*40, Py*40, Pz*40);
"""


class RenderMissingError(ValueError):
    """The extra `render` is not installed."""

    exit_code = 2


def available() -> bool:
    """Whether the extra `render` is installed, with its programs."""
    found = find_spec("pyradiance")
    return (
        found is not None
        and found.origin is not None
        and (Path(found.origin).parent / "bin" / _exe("rtrace")).is_file()
    )


def render_png(
    wall: Wall,
    when: When,
    *,
    seat: str = "",
    size: tuple[int, int] = (960, 640),
    progress: Progress | None = None,
) -> bytes:
    """The wall from a seat by day or by night, the screen black, as PNG bytes.

    Args:
        wall: The derived wall.
        when: "day" or "night".
        seat: Whose eye; "" the one used most.
        size: Width and height in pixels.
        progress: Called with the share done (0..1) and what is being done.

    Raises:
        RenderMissingError: without the extra; says what to install.
        ValueError: no such seat.
    """
    if not available():
        raise RenderMissingError(MISSING)
    return taken(wall, when, seat, size, progress, traced)


def traced(scene: Stage, size: tuple[int, int], tell: Progress) -> Any:
    """Linear light (rows, columns, 3) [cd/m² of white], two rays a pixel each way averaged. Same scene, same light."""
    tell(0.0, "the room")
    with tempfile.TemporaryDirectory(prefix="wallwright-") as name:
        folder = Path(name)
        (folder / "figure.cal").write_text(_FIGURE, encoding="ascii")
        dark = replace(scene, shines=())
        clear = any(face.paint.clear > CLEAR for face in scene.faces)
        seen_through = replace(dark, faces=tuple(face for face in scene.faces if face.paint.clear <= CLEAR))
        for called, what in (("room", scene), ("dark", dark), *((("open", seen_through),) if clear else ())):
            (folder / f"{called}.rad").write_text("\n".join(described(what)) + "\n", encoding="ascii")
            (folder / f"{called}.oct").write_bytes(_run("oconv", "-f", f"{called}.rad", folder=folder))
        light = _pixels(scene, (size[0] * FINE, size[1] * FINE), folder, clear, tell)
    light *= LUMENS
    # a single ray into a bare strip must not burn a whole pixel white
    calm = np.minimum(light, 8 * np.percentile(light, 97, axis=(0, 1)) + 1e-9)
    return halved(halved(calm).swapaxes(0, 1)).swapaxes(0, 1)


def _pixels(scene: Stage, size: tuple[int, int], folder: Path, clear: bool, tell: Progress) -> Any:
    """The light of every ray: what comes straight from lights and by mirrors, and what comes by way of other walls, which is the
    surface's own colour times what lands there.
    """
    wide, high = size
    words = ("-ff", "-x", str(wide), "-y", str(high), "-pa", "0", *_seen(scene))
    rays = np.frombuffer(_run("vwrays", *words, folder=folder), np.float32).reshape(high, wide, 6)
    bands = np.array_split(np.arange(high), min(BANDS, high))
    cut = [partial(rays.__getitem__, band) for band in bands]
    counts = [len(band) * wide for band in bands]
    own = ("-ab", "0", "-av", "1", "1", "1", "-ovpN", *_words(_CARE), "dark.oct")
    seen = [
        a.reshape(-1, wide, 9)
        for a in _traced(cut, counts, own, 9, folder, _part(tell, 0.01, 0.06, "what is seen"))
    ]
    colour = np.concatenate([a[..., :3] for a in seen])
    if clear:  # light is asked for at what lies behind the glass
        own = ("-ab", "0", "-ovpN", *_words(_CARE), "open.oct")
        behind = _traced(cut, counts, own, 9, folder, _part(tell, 0.06, 0.1, "what is seen"))
        seen = [a.reshape(-1, wide, 9) for a in behind]
    at, facing = (np.concatenate([a[..., k : k + 3] for a in seen]) for k in (3, 6))
    facing *= np.where(np.sum(facing * rays[..., 3:], axis=2) > 0, -1, 1)[..., None].astype(np.float32)
    straight = ("-ab", "0", "-av", "0", "0", "0", *_words(_CARE), "room.oct")
    part = _part(tell, 0.1, 0.25, "light straight from the lamps")
    light = np.concatenate([a.reshape(-1, wide, 3) for a in _traced(cut, counts, straight, 3, folder, part)])
    light = gathered.without_sparks(light)
    row, column = gathered.chosen(high, wide, BLOCK)
    grid = at[row, column], facing[row, column]
    lands = _landing(scene, *grid, folder, _part(tell, 0.25, 0.92, "light by way of the walls"))
    for k, band in enumerate(bands):
        light[band] += colour[band] * gathered.spread(lands, *grid, at[band], facing[band], band, BLOCK)
        tell(0.92 + 0.06 * (k + 1) / len(bands), "putting it together")
    return light.astype(np.float64)


def _landing(scene: Stage, points: Any, normals: Any, folder: Path, tell: Callable[[float], object]) -> Any:
    """What lands on each point of a grid by way of other walls, over pi."""
    wide, each = points.shape[1], ASKED[0] * ASKED[1]
    bands = np.array_split(np.arange(len(points)), min(BANDS, len(points)))
    cut = [
        partial(gathered.asked, points[rows].reshape(-1, 3), normals[rows].reshape(-1, 3), *ASKED, seed)
        for seed, rows in enumerate(bands)
    ]
    even = ("-av", *(f"{c:.5g}" for c in even_light(scene)))
    counts = [len(rows) * wide * each for rows in bands]
    parts = _traced(cut, counts, ("-dv-", *_words(_ROUGH), *even, "room.oct"), 3, folder, tell)
    shaped = [a.reshape(-1, wide, each, 3) for a in parts]
    for a, rows in zip(shaped, bands, strict=True):
        a *= np.any(normals[rows] != 0, axis=2)[..., None, None]
    mean = float(sum(a.sum(dtype=np.float64) for a in shaped) / sum(a.size for a in shaped))
    pairs = [gathered.parted(a, mean) for a in shaped]
    usual, spots = (np.concatenate([pair[k] for pair in pairs]) for k in (0, 1))
    return gathered.evened(usual, spots, points, normals)


def _part(tell: Progress, begun: float, done: float, words: str) -> Callable[[float], object]:
    return lambda share: tell(begun + (done - begun) * share, words)


def _words(care: dict[str, str]) -> tuple[str, ...]:
    return tuple(word for key, value in care.items() for word in (f"-{key}", value))


def _traced(  # noqa: PLR0913
    rays: list[Callable[[], Any]], counts: list[int], words: tuple[str, ...], floats: int, folder: Path, tell: Callable[[float], object]
) -> list[Any]:  # fmt: skip
    """What each ray of each band meets, `floats` numbers a ray; as many bands at once as there are processors.

    rays : make each band's, when its turn comes · counts : how many it has
    """
    waiting, running = list(range(len(rays))), dict[int, subprocess.Popen[bytes]]()
    total, out = sum(counts) * floats * 4, [folder / f"light{k}" for k in range(len(rays))]
    for path in out:
        path.unlink(missing_ok=True)
    try:
        while waiting or running:
            while waiting and len(running) < max(1, os.cpu_count() or 1):
                k = waiting.pop(0)
                running[k] = _started(rays[k](), words, out[k], folder)
            time.sleep(PAUSE)
            for k, process in list(running.items()):
                if process.poll() is not None:
                    del running[k]
                    out[k].with_suffix(".rays").unlink()
                    _whole(out[k], counts[k] * floats * 4)
            tell(sum(path.stat().st_size for path in out if path.exists()) / max(total, 1))
    except BaseException:
        for process in running.values():  # whoever asked has gone: nobody waits for this light
            process.kill()
            process.wait()
        raise
    return [np.fromfile(path, np.float32) for path in out]


def _started(rays: Any, words: tuple[str, ...], out: Path, folder: Path) -> subprocess.Popen[bytes]:
    """A tracer at work on a band of rays."""
    source = out.with_suffix(".rays")
    source.write_bytes(np.ascontiguousarray(rays, np.float32).tobytes())
    call = [_program("rtrace"), "-n", "1", "-u-", "-h", "-w", "-fff", *words]
    with source.open("rb") as rays_in, out.open("wb") as got, out.with_suffix(".said").open("wb") as said:
        return subprocess.Popen(call, stdin=rays_in, stdout=got, stderr=said, cwd=folder, env=_environment())


def _whole(out: Path, size: int) -> None:
    """RuntimeError with the tracer's own words where it stopped before its end."""
    if out.stat().st_size != size:
        said = out.with_suffix(".said").read_text(errors="replace")
        raise RuntimeError(f"the light could not be traced: {said[:300]}")


def even_light(scene: Stage) -> tuple[float, float, float]:
    """The mean light that has been thrown back at least once, for where the tracer stops following [W/m²sr of red, green, blue].

    As in a hollow sphere (flux Φ, area A, mean reflectance ρ): Φ·ρ / (π·A·(1 - ρ)).
    """
    flux, area = np.zeros(3), 0.0
    for shine in scene.shines:
        flux += np.array(kelvin_rgb(shine.kelvin)) * shine.luminance * pi * _area(shine.corners) / LUMENS
    for face in scene.faces:
        area += _area(face.corners) if face.part == 0 else 0.0
    r, g, b = flux * MEAN / (pi * max(area, 1.0) * (1 - MEAN))
    return float(r), float(g), float(b)


def _area(corners: tuple[tuple[float, float, float], ...]) -> float:
    """Of a flat convex face [m²]."""
    points = np.array(corners) / 1000
    fan = [np.cross(points[i] - points[0], points[i + 1] - points[0]) for i in range(1, len(points) - 1)]
    return float(np.linalg.norm(np.sum(fan, axis=0))) / 2


def _seen(scene: Stage) -> list[str]:
    """The view as the tracer's options: level, shifted so that the wall fills the picture."""
    eye, window = scene.view.eye, scene.view.window
    aside = (window.centre[0] - eye[0]) / window.width
    lift = (window.centre[1] - eye[2]) / window.height
    words = ["-vtv", "-vp", *(f"{v / 1000:.6f}" for v in eye), "-vd", "0", "1", "0", "-vu", "0", "0", "1"]
    return [
        *words,
        "-vh",
        f"{scene.view.across:.6f}",
        "-vv",
        f"{scene.view.up:.6f}",
        "-vs",
        f"{aside:.6f}",
        "-vl",
        f"{lift:.6f}",
    ]


def described(scene: Stage) -> Iterator[str]:
    """The scene in the tracer's words, metres."""
    made: dict[tuple[Paint, int], str] = {}
    mirrors = scene.when == "day" or scene.lamps
    for i, face in enumerate(scene.faces):
        turn = zlib.crc32(str(face.part).encode()) % 23 if face.paint.grain in ("wood_x", "wood_z") else 0
        key = (face.paint, turn)
        if key not in made:
            made[key] = f"m{len(made)}"
            yield _material(face.paint, made[key], turn, mirrors)
        yield _polygon(made[key], f"f{i}", face)
    for i, shine in enumerate(scene.shines):
        yield _light(shine, i)


def _material(paint: Paint, name: str, turn: int, mirrors: bool) -> str:
    """A surface: matt without any gloss, satin and gloss with some, a dark screen with its coat's, metal, or clear.

    mirrors : whether there is something bright for the dark screen to mirror
    """
    r, g, b = (min(max(c, 0.004), 0.88) for c in paint.colour)
    under, lines = "void", ""
    if paint.grain:
        lines = f"void brightfunc {name}g\n2 {paint.grain} figure.cal\n0\n1 {turn * 1.37:g}\n"
        under = f"{name}g"
    if paint.clear > CLEAR:
        return f"{under} glass {name}\n0\n0\n3 {0.80 + 0.1 * r:g} {0.82 + 0.1 * g:g} {0.81 + 0.1 * b:g}\n"
    if paint.metal:
        return f"{under} metal {name}\n0\n0\n5 {r:g} {g:g} {b:g} 0.9 0\n"
    shine, rough = (0.0, 0.0) if paint.rough > 0.8 else (0.02, 0.12) if paint.rough > 0.3 else (0.035, 0.02)
    if (
        paint.name == "picture"
    ):  # a coated pane: what it shows of the room is a mirror's, and next to nothing is thrown about
        coat = "0.001 0.001 0.0011 0.016 0" if mirrors else "0.006 0.006 0.0066 0 0"
        return f"void plastic {name}\n0\n0\n5 {coat}\n"
    return f"{lines}{under} plastic {name}\n0\n0\n5 {r:g} {g:g} {b:g} {shine:g} {rough:g}\n"


def _polygon(material: str, name: str, face: Face) -> str:
    numbers = " ".join(f"{v / 1000:.5f}" for corner in face.corners for v in corner)
    return f"{material} polygon {name}\n0\n0\n{3 * len(face.corners)} {numbers}\n"


def _light(shine: Shine, number: int) -> str:
    r, g, b = (c * shine.luminance / LUMENS for c in kelvin_rgb(shine.kelvin))
    numbers = " ".join(f"{v / 1000:.5f}" for corner in shine.corners for v in corner)
    return (
        f"void light s{number}\n0\n0\n3 {r:g} {g:g} {b:g}\n"
        f"s{number} polygon p{number}\n0\n0\n{3 * len(shine.corners)} {numbers}\n"
    )


def _exe(name: str) -> str:
    return f"{name}.exe" if os.name == "nt" else name


def _home() -> Path:
    found = find_spec("pyradiance")
    assert found is not None and found.origin is not None
    return Path(found.origin).parent


def _program(name: str) -> str:
    return str(_home() / "bin" / _exe(name))


def _environment() -> dict[str, str]:
    return {**os.environ, "RAYPATH": os.pathsep.join((".", str(_home() / "lib")))}


def _run(name: str, *words: str, folder: Path) -> bytes:
    done = subprocess.run(
        [_program(name), *words], cwd=folder, env=_environment(), capture_output=True, check=False
    )
    if done.returncode:
        raise RuntimeError(f"the room could not be read: {done.stderr.decode(errors='replace')[:300]}")
    return done.stdout
