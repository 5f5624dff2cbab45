"""A room that another library models, read back into a survey: in mm and in m, turned, with several walls and rooms."""

from __future__ import annotations

import json
import math
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from wallwright.derive import derive
from wallwright.export.ifc_read import list_walls, read_room
from wallwright.export.ifc_shapes import opened
from wallwright.export.package import issue
from wallwright.job.document import Job
from wallwright.job.read import JobError, read_job
from wallwright.job.write import write_job

ifcopenshell = pytest.importorskip("ifcopenshell")
api = pytest.importorskip("ifcopenshell.api.root")

UNITS: dict[str | bool, float] = {True: 1.0, False: 0.001, "inch": 1 / 25.4, "foot": 1 / 304.8}
"""How many of the file's units a millimetre is: mm, m, and the inch and foot of 1959."""
ROOM_W, ROOM_D, ROOM_H, THICK = 4200.0, 3600.0, 2750.0, 230.0


class Model:
    """An architect's file as ifcopenshell writes it: lengths given in mm, written in the file's own unit, all turned by an angle."""

    def __init__(
        self,
        milli: bool = False,
        angle: float = 0.0,
        at: tuple[float, float] = (0.0, 0.0),
        level: float = 0.0,
        foreign: str = "",
    ) -> None:
        import ifcopenshell.api.aggregate
        import ifcopenshell.api.context
        import ifcopenshell.api.project
        import ifcopenshell.api.root
        import ifcopenshell.api.unit

        self.angle, self.at, self.unit, self.level = math.radians(angle), at, UNITS[foreign or milli], level
        f = self.f = ifcopenshell.api.project.create_file(version="IFC4")
        make = ifcopenshell.api.root.create_entity
        project = make(f, ifc_class="IfcProject", name="Invented flat")
        length = (
            ifcopenshell.api.unit.add_conversion_based_unit(f, name=foreign)
            if foreign
            else ifcopenshell.api.unit.add_si_unit(
                f, unit_type="LENGTHUNIT", prefix="MILLI" if milli else None
            )
        )
        ifcopenshell.api.unit.assign_unit(f, units=[length])
        context = ifcopenshell.api.context.add_context(f, context_type="Model")
        self.body = ifcopenshell.api.context.add_context(
            f, context_type="Model", context_identifier="Body", target_view="MODEL_VIEW", parent=context
        )
        self.storey = make(f, ifc_class="IfcBuildingStorey", name="First floor")
        building = make(f, ifc_class="IfcBuilding", name="House")
        ifcopenshell.api.aggregate.assign_object(f, products=[building], relating_object=project)
        ifcopenshell.api.aggregate.assign_object(f, products=[self.storey], relating_object=building)

    def box(
        self, kind: str, name: str, x: float, y: float, z: float, dx: float, dy: float, dz: float, **own: Any
    ) -> Any:  # noqa: PLR0913
        """An element: a box with its corner at (x, y, z) of the plan, before the plan is turned."""
        import ifcopenshell.api.aggregate
        import ifcopenshell.api.geometry
        import ifcopenshell.api.root
        import ifcopenshell.api.spatial
        import numpy as np

        f, u = self.f, self.unit
        element = ifcopenshell.api.root.create_entity(f, ifc_class=kind, name=name, **own)
        profile = f.createIfcRectangleProfileDef(
            "AREA",
            None,
            f.createIfcAxis2Placement2D(f.createIfcCartesianPoint((dx * u / 2, dy * u / 2))),
            dx * u,
            dy * u,
        )
        solid = f.createIfcExtrudedAreaSolid(
            profile,
            f.createIfcAxis2Placement3D(f.createIfcCartesianPoint((0.0, 0.0, 0.0))),
            f.createIfcDirection((0.0, 0.0, 1.0)),
            dz * u,
        )
        shape = f.createIfcShapeRepresentation(self.body, "Body", "SweptSolid", [solid])
        element.Representation = f.createIfcProductDefinitionShape(None, None, [shape])
        c, s = math.cos(self.angle), math.sin(self.angle)
        px, py = self.at[0] + c * x - s * y, self.at[1] + s * x + c * y
        matrix = np.array(
            [[c, -s, 0, px / 1000], [s, c, 0, py / 1000], [0, 0, 1, (z + self.level) / 1000], [0, 0, 0, 1]]
        )
        ifcopenshell.api.geometry.edit_object_placement(f, product=element, matrix=matrix, is_si=True)
        if kind == "IfcSpace":
            ifcopenshell.api.aggregate.assign_object(f, products=[element], relating_object=self.storey)
        elif kind != "IfcOpeningElement":
            ifcopenshell.api.spatial.assign_container(f, products=[element], relating_structure=self.storey)
        return element

    def hole(self, wall: Any, name: str, at: tuple[float, ...], filled: str = "") -> None:
        import ifcopenshell.api.feature

        hole = self.box("IfcOpeningElement", f"hole {name}", *at)
        ifcopenshell.api.feature.add_feature(self.f, feature=hole, element=wall)
        if filled:
            x, y, z, dx, dy, dz = at
            leaf = self.box(filled, name, x, y + dy / 3, z, dx, dy / 3, dz)
            leaf.OverallWidth, leaf.OverallHeight = dx * self.unit, dz * self.unit
            ifcopenshell.api.feature.add_filling(self.f, opening=hole, element=leaf)

    def written(self, path: Path) -> Path:
        self.f.write(str(path))
        return path


def flat(**where: Any) -> Model:
    """A living room, y upwards on the plan: the wall to be designed is at its top ("North"), the room below it.

    Seen from the room, x runs as on the plan. A bedroom lies behind the west wall.
    """
    m = Model(**where)
    north = m.box("IfcWall", "North", -THICK, ROOM_D, 0, ROOM_W + 2 * THICK, THICK, ROOM_H + 100)
    south = m.box("IfcWall", "South", -THICK, -THICK, 0, ROOM_W + 2 * THICK, THICK, ROOM_H)
    m.box("IfcWall", "West", -THICK, 0, 0, THICK, ROOM_D, ROOM_H)
    m.box("IfcWall", "East", ROOM_W, 0, 0, THICK, ROOM_D, ROOM_H)
    m.box(
        "IfcSpace",
        "R1",
        0,
        0,
        0,
        ROOM_W,
        ROOM_D,
        ROOM_H,
    ).LongName = "Family room"
    m.box("IfcSpace", "R2", -THICK - 3000, 0, 0, 3000, ROOM_D, ROOM_H).LongName = "Guest bedroom"
    m.hole(north, "W-1", (3200.0, ROOM_D, 900.0, 800.0, THICK, 1200.0), "IfcWindow")
    m.hole(north, "niche", (500.0, ROOM_D, 1000.0, 400.0, 120.0, 600.0))
    m.hole(south, "W-2", (1000.0, -THICK, 850.0, 1500.0, THICK, 1250.0), "IfcWindow")
    m.hole(south, "D-1", (3000.0, -THICK, 0.0, 900.0, THICK, 2100.0), "IfcDoor")
    m.box("IfcColumn", "C-1", 0, ROOM_D - 150, 0, 300, 150, ROOM_H)
    m.box("IfcFurniture", "Table", 1000, 1000, 0, 900, 900, 750)
    return m


PLACES = [
    {"milli": True}, {"milli": False}, {"milli": True, "angle": 37.0, "at": (52_000.0, -8_000.0), "level": 3150.0},
    {"milli": False, "angle": 205.0, "at": (-900.0, 12_345.0), "level": -2900.0}, {"foreign": "inch"},
    {"foreign": "foot", "angle": 91.3, "at": (3000.0, 700.0)},
]  # fmt: skip


@pytest.mark.parametrize(
    "where",
    PLACES,
    ids=["mm", "m", "mm turned 37 and moved", "m turned 205, below ground", "inches", "feet turned"],
)
def test_the_wall_comes_back_to_the_millimetre(where: dict[str, Any], tmp_path: Path) -> None:
    read = read_room(flat(**where).written(tmp_path / "flat.ifc"), "North")
    survey = read.survey
    assert survey.room.name == "Family room"
    assert survey.wall.widths[0].value.mm == pytest.approx(ROOM_W, abs=0.1)
    assert survey.wall.heights[0].value.mm == pytest.approx(ROOM_H, abs=0.1)
    assert survey.room.depth and survey.room.depth.mm == pytest.approx(ROOM_D, abs=0.1)
    assert survey.wall.leaf and survey.wall.leaf.mm == pytest.approx(THICK, abs=0.1)
    things = {thing.kind: thing for thing in survey.obstacles}
    assert sorted(things) == ["column", "niche", "window"]
    places = {
        kind: tuple(round(length.mm, 1) for length in (t.x, t.z, t.width, t.height, t.projection))
        for kind, t in things.items()
    }
    assert places["window"] == (3200.0, 900.0, 800.0, 1200.0, 0.0)
    assert places["niche"] == (500.0, 1000.0, 400.0, 600.0, 0.0)
    assert places["column"] == (0.0, 0.0, 300.0, ROOM_H, 150.0)
    window = survey.windows[0]
    assert (window.wall, window.along.mm, window.sill.mm, window.width.mm) == (
        "opposite", pytest.approx(1000, abs=0.1), pytest.approx(850, abs=0.1), pytest.approx(1500, abs=0.1)
    )  # fmt: skip
    assert len(survey.windows) == 1


def storey(m: Model, name: str, level: float) -> None:
    """Begin another storey: what is made from now on stands on it."""
    import ifcopenshell.api.aggregate
    import ifcopenshell.api.root

    building = m.f.by_type("IfcBuilding")[0]
    m.storey = ifcopenshell.api.root.create_entity(m.f, ifc_class="IfcBuildingStorey", name=name)
    ifcopenshell.api.aggregate.assign_object(m.f, products=[m.storey], relating_object=building)
    m.level = level


@pytest.mark.parametrize("turn", [0.0, 63.0])
def test_other_storeys_stay_out_of_the_room(turn: float, tmp_path: Path) -> None:
    """The same room with other windows, a socket and a column right above and right below: the storey asked for is read alone."""
    m = flat(milli=True, angle=turn, level=3000.0)
    for name, level in (("Second floor", 6100.0), ("Ground floor", -100.0)):
        storey(m, name, level)
        m.box("IfcWall", f"North {name}", -THICK, ROOM_D, 0, ROOM_W + 2 * THICK, THICK, ROOM_H)
        south = m.box("IfcWall", f"South {name}", -THICK, -THICK, 0, ROOM_W + 2 * THICK, THICK, ROOM_H)
        m.box("IfcSpace", f"R {name}", 0, 0, 0, ROOM_W, ROOM_D, ROOM_H).LongName = f"Room {name}"
        m.hole(south, f"W {name}", (500.0, -THICK, 300.0, 2400.0, THICK, 2000.0), "IfcWindow")
        m.box("IfcOutlet", f"P {name}", 2000, ROOM_D - 12, 300, 146, 12, 86, predefined_type="POWEROUTLET")
        m.box("IfcColumn", f"C {name}", 3900, ROOM_D - 200, 0, 300, 200, ROOM_H)
    path = m.written(tmp_path / "house.ifc")
    assert {wall.storey for wall in list_walls(path)} == {"First floor", "Second floor", "Ground floor"}
    first = read_room(path, "North").survey
    assert [round(w.width.mm, 1) for w in first.windows] == [1500.0]
    assert sorted(thing.kind for thing in first.obstacles) == ["column", "niche", "window"]
    second = read_room(path, "North Second floor").survey
    assert second.room.name == "Room Second floor"
    assert [(round(w.sill.mm, 1), round(w.width.mm, 1)) for w in second.windows] == [(300.0, 2400.0)]
    things = {thing.kind: thing for thing in second.obstacles}
    assert sorted(things) == ["column", "socket"]
    assert (things["socket"].x.mm, things["socket"].z.mm) == (
        pytest.approx(2000.0, abs=0.1), pytest.approx(300.0, abs=0.1)
    )  # fmt: skip
    assert things["column"].x.mm == pytest.approx(3900.0, abs=0.1)


def test_everything_counts_as_assumed_and_is_told(tmp_path: Path) -> None:
    read = read_room(flat(milli=True).written(tmp_path / "flat.ifc"), "North")
    job = Job(title="Read", survey=read.survey)
    again = read_job(write_job(job).encode(), "written")
    assert again == job
    lengths = [r.value for r in (*again.survey.wall.widths, *again.survey.wall.heights)]
    lengths += [length for t in again.survey.obstacles for length in (t.x, t.z, t.width, t.height)]
    assert {length.state for length in lengths} == {"assumed"}
    assert again.survey.wall.substrate == "unknown"
    assert any("Family room" in line for line in read.taken)
    assert any("W-1" in line for line in read.taken)
    assert any("structural floor" in line for line in read.guessed)
    assert any("probe" in line for line in read.guessed)
    assert any(line.startswith("1 × IfcFurniture") for line in read.left)


def test_walls_are_listed_the_longest_first_and_chosen(tmp_path: Path) -> None:
    path = flat(milli=True).written(tmp_path / "flat.ifc")
    walls = list_walls(path)
    assert [wall.name for wall in walls] == ["North", "South", "East", "West"]
    assert walls[0].length == pytest.approx(ROOM_W + 2 * THICK, abs=0.1)
    assert walls[0].storey == "First floor"
    assert set(walls[3].spaces) == {"Family room", "Guest bedroom"}
    assert read_room(path).wall.name == "North"
    assert read_room(path, "3").wall.name == "East"
    assert read_room(path, walls[1].ident).wall.name == "South"


def test_a_wall_between_two_rooms_is_read_from_either(tmp_path: Path) -> None:
    path = flat(milli=True).written(tmp_path / "flat.ifc")
    here, there = read_room(path, "West", "Family room"), read_room(path, "West", "Guest bedroom")
    assert (here.survey.room.name, there.survey.room.name) == ("Family room", "Guest bedroom")
    depths = [r.survey.room.depth.mm for r in (here, there) if r.survey.room.depth]
    assert depths == [pytest.approx(ROOM_W, abs=0.1), pytest.approx(3000.0, abs=0.1)]
    other = read_room(path, "West", "Family room", other_side=True)
    assert other.survey.room.name == "Guest bedroom"
    # Facing west from the room, the north is on the right: the column stands at the far right, and shows from this side only.
    column = next(t for t in here.survey.obstacles if t.kind == "column")
    assert column.x.mm == pytest.approx(ROOM_D - 150, abs=0.1)
    assert not any(t.kind == "column" for t in there.survey.obstacles)
    # The window of the north wall is then on the right, 3200 from this wall.
    window = next(w for w in here.survey.windows if w.wall == "right")
    assert window.along.mm == pytest.approx(3200, abs=0.1)


def test_a_wall_put_together_of_layers_is_read_as_one(tmp_path: Path) -> None:
    """The wall has no body of its own: bricks and plaster are parts of it, each with its own, and it has the openings."""
    import ifcopenshell.api.aggregate

    m = flat(milli=True, angle=33.0, at=(1000.0, 2000.0))
    wall = next(w for w in m.f.by_type("IfcWall") if w.Name == "North")
    wall.Representation = None
    layers = [
        m.box("IfcBuildingElementPart", name, -THICK, ROOM_D + y, 0, ROOM_W + 2 * THICK, thick, ROOM_H)
        for name, y, thick in (("plaster", 0.0, 15.0), ("bricks", 15.0, 215.0))
    ]
    ifcopenshell.api.aggregate.assign_object(m.f, products=layers, relating_object=wall)
    read = read_room(m.written(tmp_path / "flat.ifc"), "North")
    assert read.wall.thickness == pytest.approx(230.0, abs=0.1)
    assert read.survey.wall.widths[0].value.mm == pytest.approx(ROOM_W, abs=0.5)
    assert [o.kind for o in read.survey.obstacles] == ["column", "niche", "window"]
    assert not any("BuildingElementPart" in line for line in read.left)


def test_a_lining_before_the_wall_is_told(tmp_path: Path) -> None:
    """Boards on studs that the file has as a wall of their own: whoever reads the wall behind hears of it."""
    m = flat(foreign="foot", angle=271.0)
    m.box("IfcWall", "Lining", 0, ROOM_D - 75.0, 0, ROOM_W, 75.0, ROOM_H)
    path = m.written(tmp_path / "flat.ifc")
    said = [line for line in read_room(path, "North").guessed if "Lining" in line]
    assert len(said) == 1 and "0 to 75 mm into the room" in said[0]
    assert not any("stands before" in line for line in read_room(path, "South").guessed)


def test_without_spaces_the_wall_itself_is_read_and_said(tmp_path: Path) -> None:
    m = Model(milli=True)
    m.box("IfcWall", "Alone", 0, 0, 0, 3000, 115, 2600)
    read = read_room(m.written(tmp_path / "one.ifc"))
    assert read.survey.wall.widths[0].value.mm == pytest.approx(3000, abs=0.1)
    assert read.survey.room.depth is None
    assert any("no space" in line for line in read.guessed)


def test_a_read_wall_can_be_designed_and_issued(tmp_path: Path) -> None:
    read = read_room(flat(milli=False, angle=12.0).written(tmp_path / "flat.ifc"), "North")
    wall = derive(Job(title="Read", survey=read.survey))
    assert wall.face.width == pytest.approx(ROOM_W, abs=0.1)
    assert issue(wall, tmp_path / "set").files
    back = read_room(tmp_path / "set" / "wall.ifc")  # and what we write can be read by it
    assert back.survey.wall.widths[0].value.mm == pytest.approx(ROOM_W, abs=0.1)


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"not a model", "no IFC file"),
        (b"ISO-10303-21;\nHEADER;\nbroken", "broken or of a schema|no straight wall"),
    ],
)
def test_what_is_no_model_is_refused_in_words(data: bytes, says: str, tmp_path: Path) -> None:
    path = tmp_path / "x.ifc"
    path.write_bytes(data)
    with pytest.raises(JobError, match=says):
        read_room(path)


def test_wrong_names_say_what_there_is(tmp_path: Path) -> None:
    path = flat(milli=True).written(tmp_path / "flat.ifc")
    with pytest.raises(JobError, match="1 'North'"):
        read_room(path, "Nowhere")
    with pytest.raises(JobError, match="'Family room'"):
        read_room(path, space="Cellar")
    with pytest.raises(JobError, match="not there"):
        read_room(tmp_path / "none.ifc")


def test_without_the_extra_it_says_what_to_install(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "x.ifc"
    path.write_bytes(b"ISO-10303-21;\n")
    monkeypatch.setitem(sys.modules, "ifcopenshell", None)
    with pytest.raises(JobError, match=r"wallwright\[ifc\]"):
        opened(path)


def test_the_command_writes_a_job_and_never_over_one(tmp_path: Path) -> None:
    path, out = flat(milli=True).written(tmp_path / "flat.ifc"), tmp_path / "job.toml"
    call = [sys.executable, "-m", "wallwright", "import-room", str(path), "--wall", "North"]
    listed = subprocess.run(call, capture_output=True, text=True, check=True).stdout
    assert "Nothing was written" in listed and "South" in listed
    done = subprocess.run([*call, "--out", str(out), "--json"], capture_output=True, text=True, check=True)
    told = json.loads(done.stdout)
    assert told["wall"] == 1 and [wall["name"] for wall in told["walls"]][:2] == ["North", "South"]
    assert read_job(out.read_bytes(), "job.toml").survey.room.name == "Family room"
    again = subprocess.run([*call, "--out", str(out)], capture_output=True, text=True, check=False)
    assert again.returncode == 2 and "nothing was overwritten" in again.stderr
