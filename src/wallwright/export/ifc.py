"""The wall as IFC4 for other trades' programs: wall, units with their parts, panels, outlets, screen, lights.

Written as plain STEP text (ISO 10303-21): the entities are few and their order is fixed, so identifiers and header come out the
same every time, and no 250 MB library has to load in the middle of an issue. The tests read it back with one and run its checks.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from wallwright.carcass.arch import Arch, outline
from wallwright.carcass.cladding import face_pieces
from wallwright.core.shape import Block, Box
from wallwright.export.ifc_services import services
from wallwright.export.ifc_sets import Value, properties, quantities
from wallwright.export.ifc_shell import aggregated, shell, space
from wallwright.export.ifc_solid import LEAST, Body, Place, before, corner, drawn_out, element, solid
from wallwright.export.solids import left_of, pieces
from wallwright.export.step import StepFile, listed, quoted

if TYPE_CHECKING:
    from wallwright.carcass.record import PanelZone, Part, UnitBox
    from wallwright.cooling.record import VentOpening
    from wallwright.derive import Wall


def wall_ifc(wall: Wall) -> bytes:
    """The whole wall as an IFC4 file's bytes. Lengths mm; x right, y into the wall, z up, origin at the left corner on FFL."""
    f = StepFile(wall.job.number)
    origin = f.add("IFCAXIS2PLACEMENT3D", f.point(0, 0, 0), "$", "$")
    context = f.add("IFCGEOMETRICREPRESENTATIONCONTEXT", "$", "'Model'", "3", "1.E-05", origin, "$")
    body = f.add(
        "IFCGEOMETRICREPRESENTATIONSUBCONTEXT",
        "'Body'",
        "'Model'",
        "*",
        "*",
        "*",
        "*",
        context,
        "$",
        ".MODEL_VIEW.",
        "$",
    )
    units = f.add(
        "IFCUNITASSIGNMENT",
        listed(
            f.add("IFCSIUNIT", "*", ".LENGTHUNIT.", ".MILLI.", ".METRE."),
            f.add("IFCSIUNIT", "*", ".AREAUNIT.", "$", ".SQUARE_METRE."),
            f.add("IFCSIUNIT", "*", ".VOLUMEUNIT.", "$", ".CUBIC_METRE."),
            f.add("IFCSIUNIT", "*", ".PLANEANGLEUNIT.", "$", ".RADIAN."),
            f.add("IFCSIUNIT", "*", ".MASSUNIT.", ".KILO.", ".GRAM."),
        ),
    )
    project = f.add(
        "IFCPROJECT",
        f.root("project"),
        "$",
        quoted(wall.job.title),
        "$",
        "$",
        "$",
        "$",
        listed(context),
        units,
    )
    place = f.add("IFCLOCALPLACEMENT", "$", origin)
    site = f.add(
        "IFCSITE",
        f.root("site"),
        "$",
        "'Site'",
        "$",
        "$",
        place,
        "$",
        "$",
        ".ELEMENT.",
        "$",
        "$",
        "$",
        "$",
        "$",
    )
    building = f.add(
        "IFCBUILDING",
        f.root("building"),
        "$",
        "'Building'",
        "$",
        "$",
        place,
        "$",
        "$",
        ".ELEMENT.",
        "$",
        "$",
        "$",
    )
    room = quoted(wall.job.survey.room.name)
    storey = f.add(
        "IFCBUILDINGSTOREY", f.root("storey"), "$", room, "$", "$", place, "$", "$", ".ELEMENT.", "0."
    )
    for name, whole, part in (
        ("in project", project, site),
        ("in site", site, building),
        ("in building", building, storey),
    ):
        f.add("IFCRELAGGREGATES", f.root(name), "$", "$", "$", whole, listed(part))
    here = Place(f, body, place)
    if room_space := space(here, wall):
        aggregated(here, "in storey", storey, [room_space])
    made = _elements(here, wall)
    f.add("IFCRELCONTAINEDINSPATIALSTRUCTURE", f.root("contained"), "$", "$", "$", listed(*made), storey)
    return _whole(f, wall).encode("ascii")


def _whole(f: StepFile, wall: Wall) -> str:
    """The file with its header: the job's number, date and designer, never the machine's."""
    job = wall.job
    header = (
        "ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION(('ViewDefinition [CoordinationView]'),'2;1');\n"
        f"FILE_NAME({quoted(f'{job.number}.ifc')},{quoted(f'{job.date}T00:00:00')},({quoted(job.designer)}),({quoted(job.designer)}),"
        "'wallwright','wallwright','');\nFILE_SCHEMA(('IFC4'));\nENDSEC;\nDATA;\n"
    )
    return header + "\n".join(f.lines) + "\nENDSEC;\nEND-ISO-10303-21;\n"


def _elements(p: Place, wall: Wall) -> list[str]:
    """Everything that stands in the storey."""
    made = [*shell(p, wall), _screen(p, wall)]
    made += [_unit(p, wall, unit) for unit in wall.setout.units]
    made += [_zone(p, wall, zone) for zone in wall.setout.zones]
    known = {unit.ref for unit in wall.setout.units} | {zone.ref for zone in wall.setout.zones}
    made += [_piece(p, part, None) for part in wall.carcass.parts if part.unit not in known]
    return made + services(p, wall)


def _screen(p: Place, wall: Wall) -> str:
    screen = wall.sight.screen
    frame = screen.frame
    y = -screen.stand_off - screen.depth
    body = solid(p, Block(frame.x, y, frame.z, frame.width, screen.depth, frame.height))
    words = f"{screen.diagonal:g} in, {screen.mass:g} kg, tilt {screen.tilt:g} deg (drawn upright)"
    return element(p, "IFCAUDIOVISUALAPPLIANCE", "screen", "Screen", words, body, ".DISPLAY.")


def _unit(p: Place, wall: Wall, unit: UnitBox) -> str:
    """A unit as furniture, made up of its parts."""
    parts = [part for part in wall.carcass.parts if part.unit == unit.ref]
    box = unit.box
    words = f"{unit.kind} {box.width:g} x {box.height:g} x {unit.depth:g}"
    at = (box.x, -unit.depth, box.z)
    body = (corner(p, at), "$") if parts else solid(p, before(box, unit.depth))  # its parts are its body
    kind = ".SHELF." if unit.board_only else ".USERDEFINED."
    made = element(p, "IFCFURNITURE", f"unit {unit.ref}", unit.ref, words, body, kind, kind=unit.kind.upper())
    rows: dict[str, tuple[str, Value]] = {
        "Style": ("IFCLABEL", unit.kind),
        "NominalLength": ("IFCPOSITIVELENGTHMEASURE", max(box.width, LEAST)),
        "NominalHeight": ("IFCPOSITIVELENGTHMEASURE", max(box.height, LEAST)),
        "NominalDepth": ("IFCPOSITIVELENGTHMEASURE", max(unit.depth, LEAST)),
        "IsBuiltIn": ("IFCBOOLEAN", True),
    }
    properties(p.f, made, unit.ref, "Pset_FurnitureTypeCommon", rows)
    if parts:
        openings = wall.cooling.openings
        aggregated(p, f"parts of {unit.ref}", made, [_part(p, part, openings) for part in parts])
    return made


def _part(p: Place, part: Part, openings: Sequence[VentOpening]) -> str:
    body = solid(p, *left_of(part, openings))
    made = element(
        p, "IFCBUILDINGELEMENTPART", f"part {part.id}", part.id, part.name, body, ".USERDEFINED.", kind=part.role.upper()
    )  # fmt: skip
    _board(p, part, made)
    return made


def _zone(p: Place, wall: Wall, zone: PanelZone) -> str:
    """A panelled zone as a covering, made up of its face, its boards and what carries them; with its areas."""
    parts = [_piece(p, part, zone) for part in wall.carcass.parts if part.unit == zone.ref]
    if zone.kind in ("tile", "slab"):
        parts += [_laid(p, zone, i, box) for i, box in enumerate(face_pieces(zone), 1)]
    at = (zone.box.x, -zone.build_up, zone.box.z)
    whole = outline(zone.box, zone.arch)
    body = (corner(p, at), "$") if parts else drawn_out(p, whole, -zone.build_up, zone.build_up)
    words = f"{zone.kind}, finish {zone.finish}"
    made = element(
        p, "IFCCOVERING", f"zone {zone.ref}", zone.ref, words, body, ".CLADDING.", kind=zone.kind.upper()
    )
    properties(p.f, made, zone.ref, "Pset_CoveringCommon", {"Finish": ("IFCTEXT", zone.finish)})
    areas = {"GrossArea": zone.box.area, "NetArea": _area(zone)}
    quantities(p.f, made, zone.ref, "Qto_CoveringBaseQuantities", {"Width": zone.build_up}, areas)
    if parts:
        aggregated(p, f"parts of {zone.ref}", made, parts)
    return made


def _area(zone: PanelZone) -> float:
    """The zone's face, what an arch cuts off left out [mm²]."""
    if zone.arch is None:
        return zone.box.area
    return zone.box.area - zone.arch.span * zone.arch.rise + zone.arch.area


def _laid(p: Place, zone: PanelZone, i: int, box: Box) -> str:
    """A tile or slab."""
    block = Block(box.x, -zone.build_up, box.z, box.width, zone.layers[-1][1], box.height)
    name = f"{zone.ref}-F{i}"
    body = _under(p, block, zone.arch)
    return element(
        p, "IFCCOVERING", f"tile {name}", name, zone.finish, body, ".CLADDING.", kind=zone.kind.upper()
    )


def _piece(p: Place, part: Part, zone: PanelZone | None) -> str:
    """A piece of a zone, or of no unit: boards and panes clad, battens carry, mouldings are mouldings."""
    arch = zone.arch if zone and part.role == "panel" else None
    body = (
        _under(p, part.block, arch) if arch else solid(p, *(pieces(part.block, part.cuts) or (part.block,)))
    )
    name, role = f"part {part.id}", part.role.upper()
    if part.role == "batten":
        made = element(p, "IFCMEMBER", name, part.id, part.name, body, ".STUD.", kind=role)
    else:
        kind = {"panel": ".CLADDING.", "front": ".CLADDING.", "strip": ".CLADDING.", "moulding": ".MOLDING."}
        made = element(
            p, "IFCCOVERING", name, part.id, part.name, body, kind.get(part.role, ".USERDEFINED."), kind=role
        )
    _board(p, part, made)
    return made


def _under(p: Place, block: Block, arch: Arch | None) -> Body:
    """A block, its head cut to an arch where it reaches that."""
    if arch is None or block.z + block.dz <= arch.springing + 0.5:
        return solid(p, block)
    right, top = block.x + block.dx, block.z + block.dz
    xs = sorted({block.x, right, *(x for x, _ in arch.points() if block.x < x < right)})
    head = [(x, max(block.z + LEAST, min(top, arch.height_at(x)))) for x in xs]
    return drawn_out(p, ((block.x, block.z), *head, (right, block.z)), block.y, block.dy)


def _board(p: Place, part: Part, of: str) -> None:
    """Board, finish, finished size and edges as a property set of our own."""
    rows: dict[str, tuple[str, Value]] = {
        "Board": ("IFCLABEL", part.board),
        "Finish": ("IFCLABEL", part.finish),
        "Length": ("IFCLENGTHMEASURE", float(part.length)),
        "Width": ("IFCLENGTHMEASURE", float(part.width)),
        "Thickness": ("IFCLENGTHMEASURE", float(part.thickness)),
        "Edges": ("IFCLABEL", ",".join(part.edges)),
        "Mass": ("IFCMASSMEASURE", float(part.mass)),
    }
    properties(p.f, of, part.id, "Wallwright_Part", rows)
