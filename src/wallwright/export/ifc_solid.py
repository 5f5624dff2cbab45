"""Bodies of IFC elements: boxes, outlines drawn out of the wall, and round bars along a line. Lengths mm."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from wallwright.core.shape import Block, Box, Point2
from wallwright.export.solids import Point3
from wallwright.export.step import StepFile, listed, quoted, real

LEAST = 0.1  # mm: no solid of IFC may be flat


@dataclass(frozen=True, slots=True)
class Place:
    """Where elements are written: the file, its body context, and the placement they stand in."""

    f: StepFile
    body: str
    within: str


Body = tuple[str, str]
"""A placement and a shape: what every element carries."""


def before(box: Box, depth: float) -> Block:
    """A block that stands from the wall's face so far into the room."""
    return Block(box.x, -depth, box.z, box.width, depth, box.height)


def element(
    p: Place, entity: str, name: str, ref: str, says: str, body: Body, *more: str, kind: str = ""
) -> str:
    """An element with the attributes that all have; `more` are its own. kind : its object type in our words."""
    object_type = quoted(kind) if kind else "$"
    return p.f.add(
        entity,
        p.f.root(name),
        "$",
        quoted(ref),
        quoted(says) if says else "$",
        object_type,
        *body,
        "$",
        *more,
    )


def corner(p: Place, at: Point3) -> str:
    """A placement at a point."""
    f = p.f
    return f.add("IFCLOCALPLACEMENT", p.within, f.add("IFCAXIS2PLACEMENT3D", f.point(*at), "$", "$"))


def solid(p: Place, *blocks: Block) -> Body:
    """Blocks as extruded rectangles, placed at the first one's corner."""
    f, first = p.f, blocks[0]
    at = corner(p, (first.x, first.y, first.z))
    items: list[str] = []
    for b in blocks:
        middle = f.point(b.x - first.x + b.dx / 2, b.y - first.y + b.dy / 2, b.z - first.z)
        sizes = (real(max(b.dx, LEAST)), real(max(b.dy, LEAST)))
        profile = f.add("IFCRECTANGLEPROFILEDEF", ".AREA.", "$", "$", *sizes)
        here = f.add("IFCAXIS2PLACEMENT3D", middle, "$", "$")
        up = f.direction(0, 0, 1)
        items.append(f.add("IFCEXTRUDEDAREASOLID", profile, here, up, real(max(b.dz, LEAST))))
    return at, _shape(p, "SweptSolid", items)


def drawn_out(p: Place, outline: Sequence[Point2], y: float, deep: float) -> Body:
    """An outline on the elevation (x, z), drawn out from y into the wall by `deep`."""
    f = p.f
    x0, z0 = outline[0]
    at = corner(p, (x0, y, z0))
    points = [f.add("IFCCARTESIANPOINT", listed(real(x - x0), real(z - z0))) for x, z in outline]
    profile = f.add(
        "IFCARBITRARYCLOSEDPROFILEDEF", ".AREA.", "$", f.add("IFCPOLYLINE", listed(*points, points[0]))
    )
    # The profile's own x is the wall's x and its y the wall's z; so its z, along which it is drawn out, is -y.
    here = f.add(
        "IFCAXIS2PLACEMENT3D", f.point(0, max(deep, LEAST), 0), f.direction(0, -1, 0), f.direction(1, 0, 0)
    )
    item = f.add("IFCEXTRUDEDAREASOLID", profile, here, f.direction(0, 0, 1), real(max(deep, LEAST)))
    return at, _shape(p, "SweptSolid", [item])


def bar(p: Place, path: Sequence[Point2], y: float, diameter: float) -> Body:
    """A round bar along a line on the elevation."""
    f = p.f
    x0, z0 = path[0]
    at = corner(p, (x0, y, z0))
    line = f.add("IFCPOLYLINE", listed(*(f.point(x - x0, 0, z - z0) for x, z in path)))
    item = f.add("IFCSWEPTDISKSOLID", line, real(max(diameter, 1.0) / 2), "$", "$", "$")
    return at, _shape(p, "AdvancedSweptSolid", [item])


def _shape(p: Place, kind: str, items: Sequence[str]) -> str:
    made = p.f.add("IFCSHAPEREPRESENTATION", p.body, "'Body'", quoted(kind), listed(*items))
    return p.f.add("IFCPRODUCTDEFINITIONSHAPE", "$", "$", listed(made))
