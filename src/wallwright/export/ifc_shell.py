"""The room as IFC: the wall with its openings and quantities, the space before it, and what stands on the wall already."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wallwright.core.shape import Block, Box
from wallwright.export.ifc_sets import properties, quantities
from wallwright.export.ifc_solid import Body, Place, before, element, solid
from wallwright.export.step import listed, quoted, real
from wallwright.job.face import obstacle_box

if TYPE_CHECKING:
    from wallwright.derive import Wall
    from wallwright.job.survey import Obstacle

LEAF = 115.0
"""Thickness of a wall that nobody measured [mm]: half a brick with its plaster. Common practice."""
OPENINGS = ("window", "door", "niche")
# What is on a wall -> its entity and its own attributes after the common ones.
THINGS = {
    "skirting": ("IFCCOVERING", (".SKIRTINGBOARD.",)),
    "cornice": ("IFCCOVERING", (".MOLDING.",)),
    "column": ("IFCCOLUMN", (".COLUMN.",)),
    "beam": ("IFCBEAM", (".BEAM.",)),
    "radiator": ("IFCSPACEHEATER", (".RADIATOR.",)),
    "ac": ("IFCUNITARYEQUIPMENT", (".SPLITSYSTEM.",)),
    "socket": ("IFCOUTLET", (".POWEROUTLET.",)),
    "data_point": ("IFCOUTLET", (".DATAOUTLET.",)),
    "switch": ("IFCSWITCHINGDEVICE", (".TOGGLESWITCH.",)),
    "pipe": ("IFCPIPESEGMENT", (".RIGIDSEGMENT.",)),
    "cable": ("IFCCABLESEGMENT", (".CABLESEGMENT.",)),
}
IN_WALL = ("socket", "data_point", "switch", "pipe", "cable")
DEEP = 40.0  # how far what is let into the wall is drawn into it [mm]


def shell(p: Place, wall: Wall) -> list[str]:
    """The wall, its openings' fillings and the things on it; what is contained in the storey."""
    face, surveyed = wall.face, wall.job.survey.wall
    leaf = surveyed.leaf.mm if surveyed.leaf else LEAF
    kind = ".PARTITIONING." if "stud" in surveyed.substrate else ".SOLIDWALL."
    body = solid(p, Block(0, 0, 0, face.width, leaf, face.height))
    made = element(p, "IFCWALL", "wall", "Wall", surveyed.substrate, body, kind)
    holes = [thing for thing in face.obstacles if thing.kind in OPENINGS]
    area = face.width * face.height
    cut = sum(shared.area for t in holes if (shared := obstacle_box(t).shared(face.box)))
    properties(p.f, made, "wall", "Pset_WallCommon", {"Reference": ("IFCIDENTIFIER", surveyed.substrate)})
    sizes = {"Length": face.width, "Width": leaf, "Height": face.height}
    sides = {"GrossSideArea": area, "NetSideArea": area - cut}
    quantities(p.f, made, "wall", "Qto_WallBaseQuantities", sizes, sides)
    out = [made]
    for thing in holes:
        out += _opening(p, made, thing, leaf)
    return out + [_thing(p, thing) for thing in face.obstacles if thing.kind not in OPENINGS]


def space(p: Place, wall: Wall) -> str:
    """The room's space, as deep as it was surveyed; "" where nobody measured its depth."""
    room, face = wall.job.survey.room, wall.face
    if room.depth is None:
        return ""
    deep = room.depth.mm
    body = solid(p, Block(0, -deep, 0, face.width, deep, face.height))
    made = p.f.add(
        "IFCSPACE", p.f.root("space"), "$", quoted(room.name), "$", "$", *body, quoted(room.name), ".ELEMENT.", ".INTERNAL.", "0."
    )  # fmt: skip
    sizes = {"Height": face.height, "FinishCeilingHeight": face.height}
    areas = {"GrossFloorArea": face.width * deep, "NetFloorArea": face.width * deep}
    quantities(p.f, made, "space", "Qto_SpaceBaseQuantities", sizes, areas)
    return made


def _opening(p: Place, of: str, thing: Obstacle, leaf: float) -> list[str]:
    """A hole in the wall, with the door or window that fills it."""
    f, box = p.f, obstacle_box(thing)
    through = leaf if thing.kind != "niche" else leaf / 2
    hole = Block(box.x, 0, box.z, box.width, through, box.height)
    kind = ".RECESS." if thing.kind == "niche" else ".OPENING."
    made = element(
        p, "IFCOPENINGELEMENT", f"hole {thing.ref}", f"{thing.ref} opening", "", solid(p, hole), kind
    )
    f.add("IFCRELVOIDSELEMENT", f.root(f"voids {thing.ref}"), "$", "$", "$", of, made)
    if thing.kind == "niche":
        return []
    size = (real(box.height), real(box.width))
    leaf_body = solid(p, Block(box.x, through / 4, box.z, box.width, through / 2, box.height))
    if thing.kind == "door":
        more = (*size, ".DOOR.", ".NOTDEFINED.", "$")
        filled = element(p, "IFCDOOR", f"obstacle {thing.ref}", thing.ref, thing.note, leaf_body, *more)
    else:
        more = (*size, ".WINDOW.", ".NOTDEFINED.", "$")
        filled = element(p, "IFCWINDOW", f"obstacle {thing.ref}", thing.ref, thing.note, leaf_body, *more)
    f.add("IFCRELFILLSELEMENT", f.root(f"fills {thing.ref}"), "$", "$", "$", made, filled)
    return [filled]


def _thing(p: Place, thing: Obstacle) -> str:
    entity, more = THINGS.get(thing.kind, ("IFCBUILDINGELEMENTPROXY", ("$",)))
    return element(
        p, entity, f"obstacle {thing.ref}", thing.ref, thing.note or thing.kind, _body(p, thing), *more
    )


def _body(p: Place, thing: Obstacle) -> Body:
    box: Box = obstacle_box(thing)
    if thing.kind in IN_WALL and thing.projection.mm < 1:
        return solid(p, Block(box.x, 0, box.z, box.width, DEEP, box.height))
    return solid(p, before(box, max(thing.projection.mm, 1.0)))


def aggregated(p: Place, name: str, whole: str, parts: list[str]) -> None:
    """One thing is made up of others."""
    p.f.add("IFCRELAGGREGATES", p.f.root(name), "$", "$", "$", whole, listed(*parts))
