"""What an IFC file says of a building's elements, as plain boxes in wall axes: the only place that asks the reading library.

ifcopenshell (the extra `ifc`) does the geometry; it answers in metres, whatever the file's units are.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from importlib import import_module
from math import hypot
from pathlib import Path
from typing import Any

from wallwright.core.shape import Box, Point2, hull
from wallwright.export.files import read_bytes
from wallwright.job.problem import fail

LARGEST = 300_000_000  # bytes of a building's file that is still read
Point3 = tuple[float, float, float]
Span = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Shape:
    """An element of the file: its class, name, identifier, and the corners of its body in the building's axes [mm]."""

    kind: str
    name: str
    ident: str
    points: tuple[Point3, ...]

    @property
    def low(self) -> float:
        """Its foot."""
        return min(z for _, _, z in self.points)

    @property
    def high(self) -> float:
        """Its top."""
        return max(z for _, _, z in self.points)


@dataclass(frozen=True, slots=True)
class Frame:
    """Wall axes in the building: where the left corner of the face stands on the floor, which way x goes, which way is out."""

    origin: Point3
    right: Point2
    out: Point2

    def spans(self, points: Iterable[Point3]) -> tuple[Span, Span, Span]:
        """From where to where the points lie along the wall, out into the room, and up [mm]."""
        moved = [(x - self.origin[0], y - self.origin[1], z - self.origin[2]) for x, y, z in points]
        along = [x * self.right[0] + y * self.right[1] for x, y, _ in moved]
        out = [x * self.out[0] + y * self.out[1] for x, y, _ in moved]
        up = [z for _, _, z in moved]
        return (min(along), max(along)), (min(out), max(out)), (min(up), max(up))


@dataclass(frozen=True, slots=True)
class Slab:
    """A straight wall as it stands: the middle of its foot, which way it runs, its sizes [mm], and how far it is from straight."""

    shape: Shape
    middle: Point2
    run: Point2
    length: float
    thickness: float
    fill: float

    @property
    def height(self) -> float:
        """From foot to top."""
        return self.shape.high - self.shape.low


@dataclass(frozen=True, slots=True)
class Building:
    """The file, what gives the shape of an element, its walls and spaces as shapes, and what could not be read."""

    file: Any
    shape: Callable[[Any], Shape | None]
    walls: tuple[tuple[Any, Slab], ...]
    spaces: tuple[tuple[Any, Shape], ...]
    dumb: tuple[str, ...]


def opened(path: str | Path) -> Any:
    """The file, read. JobError, saying what to do, where it is missing, no IFC, broken, or the extra is not installed."""
    name = str(path)
    data = read_bytes(path, LARGEST, "IFC file")
    if not data.lstrip().startswith(b"ISO-10303-21"):
        raise fail(
            "file",
            None,
            "is no IFC file in STEP form (.ifc); export it as IFC2x3 or IFC4 and try again",
            name,
        )
    try:
        library = import_module("ifcopenshell")
    except ImportError:
        says = 'needs the extra `ifc` to be read: pip install "wallwright[ifc]"'
        raise fail("file", None, says, name) from None
    try:
        model = library.file.from_string(data.decode("utf-8", "replace"))
        model.by_type("IfcProject")  # fails where nothing was understood
        return model
    except Exception as problem:  # the library raises its own and plain RuntimeError alike
        says = f"is broken or of a schema that is not known ({str(problem)[:80] or type(problem).__name__}); export it again"
        raise fail("file", None, says, name) from None


def shaper() -> Callable[[Any], Shape | None]:
    """A function from an element to its shape, without what openings take out of it; None where it has no body."""
    geom = import_module("ifcopenshell.geom")
    settings = geom.settings()
    settings.set("use-world-coords", True)
    settings.set("disable-opening-subtractions", True)

    def corners(element: Any) -> tuple[Point3, ...]:
        try:
            flat: Sequence[float] = geom.create_shape(settings, element).geometry.verts
        except Exception:  # no body, or one that the library cannot make: said to the reader as not read
            return ()
        return tuple((flat[i] * 1000, flat[i + 1] * 1000, flat[i + 2] * 1000) for i in range(0, len(flat), 3))

    def shape(element: Any) -> Shape | None:
        points = corners(element) or tuple(p for part in parts_of(element) for p in corners(part))
        kind = str(element.is_a())
        return Shape(kind, named(element), str(element.GlobalId), points) if len(points) > 3 else None

    return shape


def parts_of(element: Any) -> tuple[Any, ...]:
    """What an element is put together of: the layers of a wall, say, where the wall itself has no body."""
    made = getattr(element, "IsDecomposedBy", None) or ()
    return tuple(part for relation in made for part in relation.RelatedObjects or ())


def named(element: Any) -> str:
    """What the file calls it: its long name, its name, else its class."""
    for key in ("LongName", "Name"):
        said = getattr(element, key, None)
        if said:
            return str(said)
    return str(element.is_a()) if element is not None else ""  # a broken file refers to nothing


def slab(shape: Shape) -> Slab:
    """A wall as the smallest upright box round it, in whatever direction it runs."""
    outline = hull((x, y) for x, y, _ in shape.points)
    area = (
        abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(outline, (*outline[1:], outline[0]), strict=True)))
        / 2
    )
    best: tuple[float, Point2, Box] | None = None
    for a, b in zip(outline, (*outline[1:], outline[0]), strict=True):
        long = hypot(b[0] - a[0], b[1] - a[1])
        if long < 1e-6:
            continue
        u = ((b[0] - a[0]) / long, (b[1] - a[1]) / long)
        across = [(x * u[0] + y * u[1], -x * u[1] + y * u[0]) for x, y in outline]
        low_a, low_c = min(p[0] for p in across), min(p[1] for p in across)
        box = Box(low_a, low_c, max(p[0] for p in across) - low_a, max(p[1] for p in across) - low_c)
        if best is None or box.area < best[0] - 1e-6:
            best = box.area, u, box
    assert best is not None
    _, u, box = best
    a, c = box.centre
    middle = (a * u[0] - c * u[1], a * u[1] + c * u[0])
    run = u if box.width >= box.height else (-u[1], u[0])
    long, thick = max(box.width, box.height), min(box.width, box.height)
    return Slab(shape, middle, run, long, thick, area / max(box.area, 1e-9))
