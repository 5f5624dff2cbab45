"""The wall as IFC4 for other trades' programs: wall, units with their parts, panels, outlets, screen, lights.

Written as plain STEP text (ISO 10303-21): the entities are few and their order is fixed, so identifiers and header come out the
same every time, and no 250 MB library has to load in the middle of an issue. The tests read it back with one and run its checks.
"""

from __future__ import annotations

import itertools
from typing import TYPE_CHECKING
from uuid import NAMESPACE_URL, uuid5

from wallwright.core.shape import Block, Box
from wallwright.job.face import obstacle_box

if TYPE_CHECKING:
    from wallwright.carcass.record import Part, UnitBox
    from wallwright.derive import Wall
    from wallwright.services.record import ServicePoint

_SIGNS = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz_$"
LEAF = 115.0
LEAST = 0.1  # mm: no solid of IFC may be flat
OUTLETS = {
    "twin_socket": ("IFCOUTLET", "POWEROUTLET"),
    "socket": ("IFCOUTLET", "POWEROUTLET"),
    "switched_spur": ("IFCJUNCTIONBOX", "POWER"),
    "data": ("IFCOUTLET", "DATAOUTLET"),
    "rf": ("IFCOUTLET", "AUDIOVISUALOUTLET"),
    "conduit": ("IFCJUNCTIONBOX", "DATA"),
    "switch": ("IFCSWITCHINGDEVICE", "TOGGLESWITCH"),
    "led_feed": ("IFCJUNCTIONBOX", "POWER"),
}


def global_id(name: str) -> str:
    """IFC's 22-letter form of the UUID that a name always gives (buildingSMART's base 64)."""
    number = uuid5(NAMESPACE_URL, name).int
    letters: list[str] = []
    for _ in range(22):
        number, rest = divmod(number, 64)
        letters.append(_SIGNS[rest])
    return "".join(reversed(letters))


def quoted(text: str) -> str:
    r"""A text as STEP writes it: quotes and backslashes doubled, letters outside ASCII as \\X2\\ or \\X4\\ codes."""
    out: list[str] = []
    for c in text:
        if c in "'\\":
            out.append(c * 2)
        elif 32 <= ord(c) < 127:
            out.append(c)
        else:
            out.append(f"\\X2\\{ord(c):04X}\\X0\\" if ord(c) < 0x10000 else f"\\X4\\{ord(c):08X}\\X0\\")
    return f"'{''.join(out)}'"


class _File:
    """STEP lines as they are written; `add` answers the number of the new one."""

    def __init__(self, job: str) -> None:
        self.job = job
        self.lines: list[str] = []

    def add(self, entity: str, *values: str) -> str:
        self.lines.append(f"#{len(self.lines) + 1}={entity}({','.join(values)});")
        return f"#{len(self.lines)}"

    def root(self, name: str) -> str:
        return quoted(global_id(f"wallwright/{self.job}/{name}"))

    def point(self, *xyz: float) -> str:
        return self.add("IFCCARTESIANPOINT", _list(*(_real(v) for v in xyz)))

    def direction(self, *xyz: float) -> str:
        return self.add("IFCDIRECTION", _list(*(_real(v) for v in xyz)))


def _real(value: float) -> str:
    text = f"{value:.6f}".rstrip("0")
    return "0." if text in ("-0.", "") else text


def _list(*values: str) -> str:
    return f"({','.join(values)})"


def wall_ifc(wall: Wall) -> bytes:
    """The whole wall as an IFC4 file's bytes. Lengths mm; x right, y into the wall, z up, origin at the left corner on FFL."""
    f = _File(wall.job.number)
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
        _list(
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
        _list(context),
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
        f.add("IFCRELAGGREGATES", f.root(name), "$", "$", "$", whole, _list(part))
    made = _elements(f, wall, body, place)
    f.add("IFCRELCONTAINEDINSPATIALSTRUCTURE", f.root("contained"), "$", "$", "$", _list(*made), storey)
    return _whole(f, wall).encode("ascii")


def _whole(f: _File, wall: Wall) -> str:
    """The file with its header: the job's number, date and designer, never the machine's."""
    job = wall.job
    header = (
        "ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION(('ViewDefinition [CoordinationView]'),'2;1');\n"
        f"FILE_NAME({quoted(f'{job.number}.ifc')},{quoted(f'{job.date}T00:00:00')},({quoted(job.designer)}),({quoted(job.designer)}),"
        "'wallwright','wallwright','');\nFILE_SCHEMA(('IFC4'));\nENDSEC;\nDATA;\n"
    )
    return header + "\n".join(f.lines) + "\nENDSEC;\nEND-ISO-10303-21;\n"


def _elements(f: _File, wall: Wall, body: str, place: str) -> list[str]:
    """Everything that stands in the storey."""
    face = wall.face
    leaf = wall.job.survey.wall.leaf.mm if wall.job.survey.wall.leaf else LEAF
    kind = ".PARTITIONING." if "stud" in wall.job.survey.wall.substrate else ".SOLIDWALL."
    solid = _solid(f, body, place, Block(0, 0, 0, face.width, leaf, face.height))
    made = [
        f.add(
            "IFCWALL",
            f.root("wall"),
            "$",
            "'Wall'",
            quoted(wall.job.survey.wall.substrate),
            "$",
            *solid,
            "$",
            kind,
        )
    ]
    screen = wall.sight.screen
    block = Block(
        screen.frame.x,
        -screen.stand_off - screen.depth,
        screen.frame.z,
        screen.frame.width,
        screen.depth,
        screen.frame.height,
    )
    words = quoted(f"{screen.diagonal:g} in, {screen.mass:g} kg, tilt {screen.tilt:g} deg (drawn upright)")
    made.append(
        f.add(
            "IFCAUDIOVISUALAPPLIANCE",
            f.root("screen"),
            "$",
            "'Screen'",
            words,
            "$",
            *_solid(f, body, place, block),
            "$",
            ".DISPLAY.",
        )
    )
    made += [_unit(f, wall, unit, body, place) for unit in wall.setout.units]
    units = {unit.ref for unit in wall.setout.units}
    for part in wall.carcass.parts:
        if part.unit not in units:
            made.append(_covering(f, part, body, place))
    made += [_outlet(f, point, body, place) for point in wall.services.points]
    for thing in face.obstacles:
        if thing.kind == "skirting":
            box, depth = obstacle_box(thing), max(thing.projection.mm, 1.0)
            solid = _solid(f, body, place, _before(box, depth))
            made.append(
                f.add(
                    "IFCCOVERING",
                    f.root(f"obstacle {thing.ref}"),
                    "$",
                    quoted(thing.ref),
                    "'Skirting'",
                    "$",
                    *solid,
                    "$",
                    ".SKIRTINGBOARD.",
                )
            )
    for run in wall.light.runs:
        made.append(_light(f, run.ref, run.along, run.path, run.y, body, place))
    return made


def _before(box: Box, depth: float) -> Block:
    return Block(box.x, -depth, box.z, box.width, depth, box.height)


def _solid(f: _File, body: str, place: str, *blocks: Block) -> tuple[str, str]:
    """A placement at the first block's corner and the blocks as extruded rectangles: what every element carries."""
    first = blocks[0]
    at = f.add(
        "IFCLOCALPLACEMENT", place, f.add("IFCAXIS2PLACEMENT3D", f.point(first.x, first.y, first.z), "$", "$")
    )
    items: list[str] = []
    for b in blocks:
        middle = f.point(b.x - first.x + b.dx / 2, b.y - first.y + b.dy / 2, b.z - first.z)
        profile = f.add(
            "IFCRECTANGLEPROFILEDEF", ".AREA.", "$", "$", _real(max(b.dx, LEAST)), _real(max(b.dy, LEAST))
        )
        items.append(
            f.add(
                "IFCEXTRUDEDAREASOLID",
                profile,
                f.add("IFCAXIS2PLACEMENT3D", middle, "$", "$"),
                f.direction(0, 0, 1),
                _real(max(b.dz, LEAST)),
            )
        )
    shape = f.add("IFCSHAPEREPRESENTATION", body, "'Body'", "'SweptSolid'", _list(*items))
    return at, f.add("IFCPRODUCTDEFINITIONSHAPE", "$", "$", _list(shape))


def _unit(f: _File, wall: Wall, unit: UnitBox, body: str, place: str) -> str:
    """A unit as furniture, made up of its parts."""
    parts = [part for part in wall.carcass.parts if part.unit == unit.ref]
    words = quoted(f"{unit.kind} {unit.box.width:g} x {unit.box.height:g} x {unit.depth:g}")
    if not parts:
        at, shape = _solid(f, body, place, _before(unit.box, unit.depth))
    else:
        corner = f.point(unit.box.x, -unit.depth, unit.box.z)
        at, shape = f.add("IFCLOCALPLACEMENT", place, f.add("IFCAXIS2PLACEMENT3D", corner, "$", "$")), "$"
    made = f.add(
        "IFCFURNITURE",
        f.root(f"unit {unit.ref}"),
        "$",
        quoted(unit.ref),
        words,
        quoted(unit.kind.upper()),
        at,
        shape,
        "$",
        ".SHELF." if unit.kind == "shelf" else ".USERDEFINED.",
    )
    if parts:
        own = [_part(f, part, body, place) for part in parts]
        f.add("IFCRELAGGREGATES", f.root(f"parts of {unit.ref}"), "$", "$", "$", made, _list(*own))
    return made


def _part(f: _File, part: Part, body: str, place: str) -> str:
    solid = _solid(f, body, place, part.block)
    made = f.add(
        "IFCBUILDINGELEMENTPART",
        f.root(f"part {part.id}"),
        "$",
        quoted(part.id),
        quoted(part.name),
        quoted(part.role.upper()),
        *solid,
        "$",
        ".USERDEFINED.",
    )
    _properties(f, part, made)
    return made


def _covering(f: _File, part: Part, body: str, place: str) -> str:
    """A panel or batten of the wall."""
    solid = _solid(f, body, place, part.block)
    kind = ".CLADDING." if part.role == "panel" else ".USERDEFINED."
    made = f.add(
        "IFCCOVERING",
        f.root(f"part {part.id}"),
        "$",
        quoted(part.id),
        quoted(part.name),
        quoted(part.role.upper()),
        *solid,
        "$",
        kind,
    )
    _properties(f, part, made)
    return made


def _properties(f: _File, part: Part, of: str) -> None:
    """Board, finish, finished size and edges as a property set of our own."""
    rows = [
        ("Board", f"IFCLABEL({quoted(part.board)})"),
        ("Finish", f"IFCLABEL({quoted(part.finish)})"),
        ("Length", f"IFCLENGTHMEASURE({_real(part.length)})"),
        ("Width", f"IFCLENGTHMEASURE({_real(part.width)})"),
        ("Thickness", f"IFCLENGTHMEASURE({_real(part.thickness)})"),
        ("Edges", f"IFCLABEL({quoted(','.join(part.edges))})"),
        ("Mass", f"IFCMASSMEASURE({_real(part.mass)})"),
    ]
    made = [f.add("IFCPROPERTYSINGLEVALUE", quoted(name), "$", value, "$") for name, value in rows]
    own = f.add(
        "IFCPROPERTYSET", f.root(f"properties {part.id}"), "$", "'Wallwright_Part'", "$", _list(*made)
    )
    f.add("IFCRELDEFINESBYPROPERTIES", f.root(f"defines {part.id}"), "$", "$", "$", _list(of), own)


def _outlet(f: _File, point: ServicePoint, body: str, place: str) -> str:
    """A box in the wall, from its face inwards."""
    entity, kind = OUTLETS.get(point.kind, ("IFCOUTLET", "POWEROUTLET"))
    box = point.box
    solid = _solid(f, body, place, Block(box.x, 0, box.z, box.width, max(point.box_depth, 10.0), box.height))
    words = quoted(f"{point.kind}: {point.reason}")
    return f.add(
        entity, f.root(f"point {point.ref}"), "$", quoted(point.ref), words, "$", *solid, "$", f".{kind}."
    )


def _light(
    f: _File, ref: str, along: str, path: tuple[tuple[float, float], ...], y: float, body: str, place: str
) -> str:
    """A run of strip, each leg a thin bar."""
    legs = [
        Block(min(x0, x1), y - 3, min(z0, z1), max(abs(x1 - x0), 10), 6, max(abs(z1 - z0), 10))
        for (x0, z0), (x1, z1) in itertools.pairwise(path)
    ] or [Block(0, y - 3, 0, 10, 6, 10)]
    solid = _solid(f, body, place, *legs)
    return f.add(
        "IFCLIGHTFIXTURE",
        f.root(f"light {ref}"),
        "$",
        quoted(ref),
        quoted(along),
        "'LED STRIP'",
        *solid,
        "$",
        ".USERDEFINED.",
    )
