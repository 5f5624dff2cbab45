"""GLB by the glTF validator and trimesh, IFC by ifcopenshell: sizes, names, places, and the same bytes twice."""

from __future__ import annotations

import io
import itertools
import json
import math
import struct
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from wallwright.carcass.niche import arch_of, clear_of
from wallwright.core.shape import Block
from wallwright.core.units import Length
from wallwright.derive import derive
from wallwright.export.gltf import wall_glb
from wallwright.export.ifc import wall_ifc
from wallwright.export.step import global_id, quoted
from wallwright.job.demos import demo_jobs
from wallwright.job.design import Panel
from wallwright.job.edits import apply
from wallwright.job.read import read_job
from wallwright.job.survey import Obstacle


def document(glb: bytes) -> dict[str, Any]:
    magic, version, whole = struct.unpack("<4sII", glb[:12])
    assert (magic, version, whole) == (b"glTF", 2, len(glb))
    length = struct.unpack("<I", glb[12:16])[0]
    return json.loads(glb[20 : 20 + length])


def test_glb_is_valid(any_wall: Any, gltf_report: Callable[[bytes], dict[str, Any]]) -> None:
    issues = gltf_report(wall_glb(any_wall))["issues"]
    assert issues["numErrors"] == 0
    assert issues["numWarnings"] == 0


def test_glb_names_every_part_under_its_unit(living: Any) -> None:
    nodes = document(wall_glb(living))["nodes"]
    names = [node["name"] for node in nodes]
    for part in living.carcass.parts:
        assert part.id in names
    group = next(node for node in nodes if node["name"] == "C1")
    assert {names[i] for i in group["children"]} == {p.id for p in living.carcass.parts if p.unit == "C1"}
    assert {"wall", "floor", "screen", "room"} <= set(names)


def test_glb_sizes_read_by_another_library(living: Any) -> None:
    """glTF 2.0: metres, y up, right-handed; wall axes (x, y, z) become (x, z, -y)."""
    trimesh = pytest.importorskip("trimesh")
    scene = trimesh.load(io.BytesIO(wall_glb(living)), file_type="glb")
    part = max(living.carcass.parts, key=lambda p: p.length)
    transform, mesh = scene.graph[part.id]
    box = scene.geometry[mesh].copy().apply_transform(transform).bounds
    b = part.block
    assert box[0] == pytest.approx([b.x / 1000, b.z / 1000, -(b.y + b.dy) / 1000], abs=2e-6)
    assert box[1] == pytest.approx([(b.x + b.dx) / 1000, (b.z + b.dz) / 1000, -b.y / 1000], abs=2e-6)
    solid = scene.geometry[mesh]
    assert solid.merge_vertices() is None and solid.volume == pytest.approx(1.0)  # faces turned outwards


def test_glb_screen_leans_into_the_room(living: Any) -> None:
    """A picture that faces down has its top farther into the room (+z in glTF) than its foot."""
    node = next(n for n in document(wall_glb(_tilted(living)))["nodes"] if n["name"] == "screen-body")
    x, y, z, w = node["rotation"]
    assert (y, z) == (0, 0)
    top_z = 2 * (y * z + w * x)  # where the rotation sends the up vector, its z
    assert top_z > 0.1


def _tilted(wall: Any) -> Any:
    return replace(wall, sight=replace(wall.sight, screen=replace(wall.sight.screen, tilt=10.0)))


def solids_of(wall: Any) -> Any:
    """The scene as another library reads it: node name to its mesh in metres, where it stands."""
    trimesh = pytest.importorskip("trimesh")
    scene = trimesh.load(io.BytesIO(wall_glb(wall)), file_type="glb")
    out = {}
    for name in scene.graph.nodes_geometry:
        transform, mesh = scene.graph[name]
        solid = scene.geometry[mesh].copy().apply_transform(transform)
        out[name] = trimesh.Trimesh(solid.vertices, solid.faces)  # corners joined, whatever their normals
    return out


def test_glb_of_every_kind_of_zone_is_valid(
    faced: Any, gltf_report: Callable[[bytes], dict[str, Any]]
) -> None:
    data = wall_glb(faced)
    issues = gltf_report(data)["issues"]
    assert (issues["numErrors"], issues["numWarnings"]) == (0, 0), issues["messages"][:3]
    assert len(data) < 400_000
    assert len({node["name"] for node in document(data)["nodes"]}) == len(document(data)["nodes"])


def test_glb_same_bytes(living: Any) -> None:
    assert wall_glb(living) == wall_glb(living)


def test_a_fluted_board_has_every_groove() -> None:
    """Its volume is the block's less n grooves of (pitch - rib) x depth all the way up: told by another library."""
    wall = derive(read_job(demo_jobs()["bedroom"]))
    zone = wall.setout.zones[0]
    rib = zone.flute_pitch * wall.limits.value("carcass.flute_rib")
    deep = wall.limits.value("carcass.flute_depth")
    boards = [part for part in wall.carcass.parts if part.unit == zone.ref and part.role == "panel"]
    solids = solids_of(wall)
    made = sum(solids[part.id].volume for part in boards) * 1e9
    blocks = sum(part.block.volume for part in boards)
    grooves = zone.flutes * (zone.flute_pitch - rib) * deep * zone.box.height
    joints = (len(boards) - 1) * wall.limits.value("carcass.panel_joint") * deep * zone.box.height
    assert all(solids[part.id].is_watertight for part in boards)
    assert blocks - made == pytest.approx(grooves - joints, rel=1e-4)  # each joint lies in a groove


def test_an_arched_head_is_round(faced: Any) -> None:
    """The face of the niche lacks its rectangle and its arch; a board under the zone's arch stays within the curve."""
    niche = faced.setout.unit("N1")
    hole = arch_of(niche)
    face = next(part for part in faced.carcass.parts if part.id == "N1-A")
    foot = clear_of(niche).z
    solids = solids_of(faced)
    area = hole.area + hole.span * (hole.springing - foot)
    left = face.block.volume - solids["N1-A"].volume * 1e9
    assert left == pytest.approx(area * face.block.dy, rel=0.004)  # 24 chords of the curve
    zone = faced.setout.zones[0]
    for name, solid in solids.items():
        if zone.arch and name.startswith("W1-") and name.split("-")[1][0] in "123456789FAj":
            cx, cz = zone.arch.centre
            for x, z, _ in solid.vertices * 1000:
                if z > zone.arch.springing + 0.01:
                    assert math.hypot(x - cx, z - cz) < zone.arch.radius + 0.6, name


def test_tiles_stand_between_their_joints(faced: Any) -> None:
    zone = faced.setout.zones[0]
    names = {name for name in solids_of(faced) if name.startswith("W1-F")}
    if zone.kind not in ("tile", "slab"):
        assert not names
        return
    assert len(names) == (len(zone.joints) + 1) * (len(zone.levels) + 1)
    solids = solids_of(faced)
    xs = sorted(
        {(round(b[0][0] * 1000, 2), round(b[1][0] * 1000, 2)) for b in (solids[n].bounds for n in names)}
    )
    assert all(b[0] - a[1] == pytest.approx(zone.joint, abs=0.02) for a, b in itertools.pairwise(xs))
    front = min(-solids[name].bounds[1][2] for name in names) * 1000
    assert front == pytest.approx(-zone.build_up, abs=0.01)
    assert -solids["W1-joints"].bounds[1][2] * 1000 > front + 1  # the joint lies behind the face


def test_a_notched_side_is_notched(living: Any) -> None:
    """A side cut out for a skirting: both models hold the block less the cut, not the block."""
    ifcopenshell = pytest.importorskip("ifcopenshell")
    geom = pytest.importorskip("ifcopenshell.geom")
    trimesh = pytest.importorskip("trimesh")
    side = next(part for part in living.carcass.parts if part.id == "C1-L")
    b = side.block
    notch = Block(b.x - 5, b.y + b.dy - 20, b.z - 5, b.dx + 10, 30, 95)
    parts = tuple(replace(p, cuts=(notch,)) if p is side else p for p in living.carcass.parts)
    wall = replace(living, carcass=replace(living.carcass, parts=parts))
    left = b.volume - b.dx * 20 * 90
    made = [solid for name, solid in solids_of(wall).items() if name.startswith("C1-L ")]
    assert len(made) > 1
    assert sum(solid.volume for solid in made) * 1e9 == pytest.approx(left, rel=1e-4)
    file = ifcopenshell.file.from_string(wall_ifc(wall).decode())
    element = next(e for e in file.by_type("IfcBuildingElementPart") if e.Name == "C1-L")
    flat = geom.create_shape(geom.settings(), element).geometry
    verts = [flat.verts[i : i + 3] for i in range(0, len(flat.verts), 3)]
    faces = [flat.faces[i : i + 3] for i in range(0, len(flat.faces), 3)]
    assert trimesh.Trimesh(verts, faces).volume * 1e9 == pytest.approx(left, rel=1e-4)


def test_global_id_is_the_published_compression() -> None:
    """buildingSMART base 64 of a UUID; checked against ifcopenshell's own."""
    assert len(global_id("a")) == 22
    guid = pytest.importorskip("ifcopenshell.guid")
    from uuid import NAMESPACE_URL, uuid5

    for name in ("tvwall/P1", "a", "wallwright/TVW-101/part C1-L"):
        assert global_id(name) == guid.compress(uuid5(NAMESPACE_URL, name).hex)


def test_step_text_escapes() -> None:
    """ISO 10303-21: quotes doubled, other letters by \\X2\\."""
    assert quoted("it's a \\ पै") == "'it''s a \\\\ \\X2\\092A\\X0\\\\X2\\0948\\X0\\'"


@pytest.fixture(scope="module")
def model(issued: tuple[Path, Any]) -> Any:
    ifcopenshell = pytest.importorskip("ifcopenshell")
    return ifcopenshell.open(issued[0] / "wall.ifc")


def test_ifc_is_valid(any_wall: Any) -> None:
    ifcopenshell = pytest.importorskip("ifcopenshell")
    pytest.importorskip("ifcopenshell.validate")
    file = ifcopenshell.file.from_string(wall_ifc(any_wall).decode())
    log = ifcopenshell.validate.json_logger()
    ifcopenshell.validate.validate(file, log, express_rules=True)
    assert log.statements == []


MADE = Path(__file__).parent.parent / "sheets" / "made"


@pytest.mark.parametrize("name", ["every_unit", "every_panel"])
def test_both_models_of_walls_with_every_kind_are_valid(
    name: str, gltf_report: Callable[[bytes], dict[str, Any]]
) -> None:
    """Every kind of unit, and every kind of panel at once: the schema's own rules for the one, the format's validator for the other."""
    ifcopenshell = pytest.importorskip("ifcopenshell")
    pytest.importorskip("ifcopenshell.validate")
    wall = derive(read_job((MADE / f"{name}.toml").read_bytes(), name))
    log = ifcopenshell.validate.json_logger()
    file = ifcopenshell.file.from_string(wall_ifc(wall).decode())
    ifcopenshell.validate.validate(file, log, express_rules=True)
    assert log.statements == []
    assert {u.ref for u in wall.setout.units} <= {f.Name for f in file.by_type("IfcFurniture")}
    issues = gltf_report(wall_glb(wall))["issues"]
    assert (issues["numErrors"], issues["numWarnings"]) == (0, 0)


def test_ifc_holds_the_wall(model: Any, living: Any) -> None:
    assert model.schema == "IFC4"
    assert {f.Name for f in model.by_type("IfcFurniture")} == {u.ref for u in living.setout.units}
    furniture = next(f for f in model.by_type("IfcFurniture") if f.Name == "C1")
    parts = {part.Name for relation in furniture.IsDecomposedBy for part in relation.RelatedObjects}
    assert parts == {p.id for p in living.carcass.parts if p.unit == "C1"}
    outlets = {
        o.Name for kind in ("IfcOutlet", "IfcJunctionBox", "IfcSwitchingDevice") for o in model.by_type(kind)
    }
    there = {o.ref for o in living.face.obstacles if o.kind in ("socket", "switch", "data_point")}
    assert outlets == {p.ref for p in living.services.points} | there
    assert len(model.by_type("IfcLightFixture")) == len(living.light.runs)
    ids = [root.GlobalId for root in model.by_type("IfcRoot")]
    assert len(ids) == len(set(ids))


def test_ifc_of_every_kind_of_zone_is_valid(faced: Any) -> None:
    """Tiles, slabs, panes, strips, mouldings and arches: checked with the schema's own rules; areas under the standard's name."""
    ifcopenshell = pytest.importorskip("ifcopenshell")
    pytest.importorskip("ifcopenshell.validate")
    from ifcopenshell.util.element import get_psets

    file = ifcopenshell.file.from_string(wall_ifc(faced).decode())
    log = ifcopenshell.validate.json_logger()
    zone = faced.setout.zones[0]
    every_rule = zone.kind in ("tile", "moulding")  # one of each form: the rules take some seconds a file
    ifcopenshell.validate.validate(file, log, express_rules=every_rule)
    assert log.statements == []
    covering = next(c for c in file.by_type("IfcCovering") if c.Name == zone.ref)
    areas = get_psets(covering)["Qto_CoveringBaseQuantities"]
    assert areas["GrossArea"] == pytest.approx(zone.box.area / 1e6, abs=1e-5)
    assert areas["NetArea"] < areas["GrossArea"] if zone.arch else areas["NetArea"] == areas["GrossArea"]
    kinds = {e.PredefinedType for e in file.by_type("IfcCovering")}
    assert ("MOLDING" in kinds) == (zone.kind == "moulding")
    laid = [e for e in file.by_type("IfcCovering") if e.Name.startswith("W1-F")]
    assert len(laid) == (
        (len(zone.joints) + 1) * (len(zone.levels) + 1) if zone.kind in ("tile", "slab") else 0
    )


def test_ifc_arch_is_cut_by_another_library() -> None:
    """A board under a half round, measured as a solid: its volume is that of its outline times its thickness."""
    geom = pytest.importorskip("ifcopenshell.geom")
    ifcopenshell = pytest.importorskip("ifcopenshell")
    trimesh = pytest.importorskip("trimesh")
    job = read_job(demo_jobs()["bedroom"])
    wall = derive(replace(job, design=replace(job.design, panels=(Panel("W1", "flat", head="round"),))))
    zone = wall.setout.zones[0]
    assert zone.arch
    file = ifcopenshell.file.from_string(wall_ifc(wall).decode())
    total = 0.0
    for part in wall.carcass.parts:
        if part.unit == "W1" and part.role == "panel":
            made = geom.create_shape(
                geom.settings(), next(e for e in file.by_type("IfcElement") if e.Name == part.id)
            )
            verts = [made.geometry.verts[i : i + 3] for i in range(0, len(made.geometry.verts), 3)]
            faces = [made.geometry.faces[i : i + 3] for i in range(0, len(made.geometry.faces), 3)]
            total += trimesh.Trimesh(verts, faces).volume / part.block.dy * 1000
    gaps = (len(zone.joints)) * wall.limits.value("carcass.panel_joint") * zone.box.height / 1e6
    net = (zone.box.area - zone.arch.span * zone.arch.rise + zone.arch.area) / 1e6
    assert total == pytest.approx(net - gaps, rel=0.003)


def test_ifc_quantities_circuits_and_routes(model: Any, living: Any) -> None:
    from ifcopenshell.util.element import get_psets

    wall = model.by_type("IfcWall")[0]
    sizes = get_psets(wall)["Qto_WallBaseQuantities"]
    assert (sizes["Length"], sizes["Height"]) == (
        pytest.approx(living.face.width), pytest.approx(living.face.height)
    )  # fmt: skip
    assert sizes["GrossSideArea"] == pytest.approx(living.face.width * living.face.height / 1e6, abs=1e-5)
    routes = {e.Name: e for e in model.by_type("IfcFlowSegment")}
    assert set(routes) == {run.ref for run in living.services.runs if len(run.path) > 1}
    for run in living.services.runs:
        if len(run.path) > 1:
            sets = get_psets(routes[run.ref])
            name = next(key for key in sets if key.endswith("SegmentBaseQuantities"))
            assert sets[name]["Length"] == pytest.approx(run.length, abs=0.01)
    circuits = {c.Name: c for c in model.by_type("IfcDistributionCircuit")}
    for ref, circuit in circuits.items():
        hung = {e.Name for group in circuit.IsGroupedBy for e in group.RelatedObjects}
        assert hung == {p.ref for p in living.services.points if p.circuit == ref}
    assert circuits
    assert len(model.by_type("IfcSpace")) == (living.job.survey.room.depth is not None)


def test_ifc_door_and_window_are_holes_with_what_fills_them() -> None:
    ifcopenshell = pytest.importorskip("ifcopenshell")
    from ifcopenshell.util.element import get_psets

    job = read_job(demo_jobs()["bedroom"])
    door = Obstacle("D9", "door", Length(20.0), Length(0.0), Length(300.0), Length(2000.0))
    wall = derive(replace(job, survey=replace(job.survey, obstacles=(*job.survey.obstacles, door))))
    file = ifcopenshell.file.from_string(wall_ifc(wall).decode())
    log = ifcopenshell.validate.json_logger()
    ifcopenshell.validate.validate(file, log, express_rules=True)
    assert log.statements == []
    hole = file.by_type("IfcWall")[0].HasOpenings[0].RelatedOpeningElement
    filled = hole.HasFillings[0].RelatedBuildingElement
    assert (filled.is_a(), filled.OverallWidth, filled.OverallHeight) == ("IfcDoor", 300.0, 2000.0)
    sides = get_psets(file.by_type("IfcWall")[0])["Qto_WallBaseQuantities"]
    assert sides["GrossSideArea"] - sides["NetSideArea"] == pytest.approx(0.6, abs=1e-5)


def test_ifc_sizes_read_by_another_library(model: Any, living: Any) -> None:
    import ifcopenshell.geom
    import numpy as np

    settings = ifcopenshell.geom.settings()
    settings.set("use-world-coords", True)
    part = max(living.carcass.parts, key=lambda p: p.length)
    element = next(e for e in model.by_type("IfcElement") if e.Name == part.id)
    verts = np.array(ifcopenshell.geom.create_shape(settings, element).geometry.verts).reshape(-1, 3) * 1000
    b = part.block
    assert verts.min(axis=0) == pytest.approx([b.x, b.y, b.z], abs=0.01)
    assert verts.max(axis=0) == pytest.approx([b.x + b.dx, b.y + b.dy, b.z + b.dz], abs=0.01)


def test_ifc_same_bytes(living: Any) -> None:
    assert wall_ifc(living) == wall_ifc(living)


def test_air_openings_are_cut_in_both_models() -> None:
    """A flap over a warm box: its board's solid is less by the openings, in GLB and in IFC."""
    ifcopenshell = pytest.importorskip("ifcopenshell")
    geom = pytest.importorskip("ifcopenshell.geom")
    trimesh = pytest.importorskip("trimesh")
    bays = [{"front": "drawers"}, {"front": "flap"}, {"front": "drawers"}]
    wall = derive(apply(read_job(demo_jobs()["living"]), "set_unit_bays", {"ref": "C1", "bays": bays}))
    cut = {vent.part for vent in wall.cooling.openings}
    assert len(cut) >= 2
    file = ifcopenshell.file.from_string(wall_ifc(wall).decode())
    for part in (p for p in wall.carcass.parts if p.id in cut):
        out = sum(v.width * v.height for v in wall.cooling.openings if v.part == part.id)
        thick = part.block.dz if part.block.dz < part.block.dy else part.block.dy
        left = part.block.volume - out * thick
        assert out > 0
        made = [solid for name, solid in solids_of(wall).items() if name.startswith(f"{part.id} ")]
        assert sum(solid.volume for solid in made) * 1e9 == pytest.approx(left, rel=1e-4)
        element = next(e for e in file.by_type("IfcBuildingElementPart") if e.Name == part.id)
        shape = geom.create_shape(geom.settings(), element).geometry
        points = [shape.verts[i : i + 3] for i in range(0, len(shape.verts), 3)]
        faces = [shape.faces[i : i + 3] for i in range(0, len(shape.faces), 3)]
        assert trimesh.Trimesh(points, faces).volume * 1e9 == pytest.approx(left, rel=1e-4)
