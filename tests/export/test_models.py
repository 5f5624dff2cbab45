"""GLB by the glTF validator and trimesh, IFC by ifcopenshell: sizes, names, places, and the same bytes twice."""

from __future__ import annotations

import io
import json
import struct
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from wallwright.export.gltf import wall_glb
from wallwright.export.ifc import global_id, quoted, wall_ifc


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
    from dataclasses import replace

    return replace(wall, sight=replace(wall.sight, screen=replace(wall.sight.screen, tilt=10.0)))


def test_glb_same_bytes(living: Any) -> None:
    assert wall_glb(living) == wall_glb(living)


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


def test_ifc_holds_the_wall(model: Any, living: Any) -> None:
    assert model.schema == "IFC4"
    assert {f.Name for f in model.by_type("IfcFurniture")} == {u.ref for u in living.setout.units}
    furniture = next(f for f in model.by_type("IfcFurniture") if f.Name == "C1")
    parts = {part.Name for relation in furniture.IsDecomposedBy for part in relation.RelatedObjects}
    assert parts == {p.id for p in living.carcass.parts if p.unit == "C1"}
    outlets = {
        o.Name for kind in ("IfcOutlet", "IfcJunctionBox", "IfcSwitchingDevice") for o in model.by_type(kind)
    }
    assert outlets == {p.ref for p in living.services.points}
    assert len(model.by_type("IfcLightFixture")) == len(living.light.runs)
    ids = [root.GlobalId for root in model.by_type("IfcRoot")]
    assert len(ids) == len(set(ids))


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
