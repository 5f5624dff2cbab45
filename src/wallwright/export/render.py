"""The client's picture with real light, by the extra `render`: the wall in its room, its windows, lamps and LED lines with their
own luminances, and light that goes from wall to wall.

The program behind the extra is run as separate processes; what it is given and gives back goes through pipes and one scratch folder.
"""

from __future__ import annotations

import os
import subprocess
import tempfile
import zlib
from collections.abc import Callable, Iterator
from importlib.util import find_spec
from math import pi
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np

from wallwright.export.picture_scene import Face, Paint, Shine, Stage, kelvin_rgb
from wallwright.export.taken import Progress, taken
from wallwright.export.tone import halved

if TYPE_CHECKING:
    from wallwright.derive import Wall
    from wallwright.export.picture_scene import When

MEAN = 0.14  # reflectance weighed by area, low since shelves and corners see little of the room
LUMENS = 179.0  # lumens a watt, as the program counts white light
MISSING = "a picture with real light needs the extra `render`: pip install 'wallwright[render]'; without it, use the fast one"

# How it looks into light that comes by way of other walls: bounces, directions a point asks, how far answers are shared.
_CARE = {
    "ab": "2", "ad": "1500", "as": "400", "aa": "0.23", "ar": "28", "dj": "0.8", "ds": "0.2", "dt": "0.05", "dc": "0.6",
    "lw": "0.004", "lr": "4", "st": "0.01", "ss": "1",
}  # fmt: skip

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
    """Linear light (rows, columns, 3) [cd/m² of white], two rays a pixel each way averaged."""
    tell(0.0, "the room")
    with tempfile.TemporaryDirectory(prefix="wallwright-") as name:
        folder = Path(name)
        (folder / "figure.cal").write_text(_FIGURE, encoding="ascii")
        (folder / "room.rad").write_text("\n".join(described(scene)), encoding="ascii")
        tree = _run("oconv", "-f", "room.rad", folder=folder)
        (folder / "room.oct").write_bytes(tree)
        return _pixels(scene, size, folder, tell)


def _pixels(scene: Stage, size: tuple[int, int], folder: Path, tell: Progress) -> Any:
    """All rays of the picture through the tracer, told as they come. A small picture goes before: what it finds out about light
    by way of other walls is shared, so that the large one only fills in, and shows no seams between early and late answers.
    """
    wide, high = size[0] * 2, size[1] * 2
    _traced(
        scene,
        (max(size[0] // 5, 1), max(size[1] // 5, 1)),
        folder,
        lambda share: tell(0.02 + 0.3 * share, "light by way of the walls"),
    )
    got = _traced(scene, (wide, high), folder, lambda share: tell(0.32 + 0.66 * share, "light"))
    light = np.frombuffer(got, np.float32).reshape(high, wide, 3).astype(np.float64) * LUMENS
    # a single ray into a bare strip must not burn a whole pixel white
    calm = np.minimum(light, 8 * np.percentile(light, 97, axis=(0, 1)) + 1e-9)
    return halved(halved(calm).swapaxes(0, 1)).swapaxes(0, 1)


def _traced(scene: Stage, size: tuple[int, int], folder: Path, tell: Callable[[float], object]) -> bytes:
    """The light along each ray of the view, three floats a ray, row by row from the top."""
    rays = folder / "rays"
    words = ("-ff", "-x", str(size[0]), "-y", str(size[1]), "-pa", "0", *_seen(scene))
    rays.write_bytes(_run("vwrays", *words, folder=folder))
    care = [word for key, value in _CARE.items() for word in (f"-{key}", value)]
    care += ["-av", *(f"{c:.5g}" for c in even_light(scene))]
    call = [
        _program("rtrace"),
        "-n",
        str(max(1, os.cpu_count() or 1)),
        "-h",
        "-w",
        "-fff",
        *care,
        "-af",
        "shared.amb",
        "room.oct",
    ]
    total, got = size[0] * size[1] * 12, bytearray()
    with rays.open("rb") as source, (folder / "said").open("wb") as said:
        process = subprocess.Popen(
            call, stdin=source, stdout=subprocess.PIPE, stderr=said, cwd=folder, env=_environment()
        )
        try:
            assert process.stdout is not None
            while block := process.stdout.read(1 << 16):
                got += block
                tell(min(1.0, len(got) / total))
        except BaseException:
            process.kill()  # whoever asked has gone: nobody waits for this light
            raise
        finally:
            process.wait()
            assert process.stdout is not None
            process.stdout.close()
    if len(got) != total:
        raise RuntimeError(
            f"the light could not be traced: {(folder / 'said').read_text(errors='replace')[:300]}"
        )
    return bytes(got)


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
    if paint.clear > 0.1:
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
