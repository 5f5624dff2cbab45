"""A wall made by hand: 4200 x 2750, a 65-inch screen, a hung console, two towers, a shelf, a panelled zone, points, runs, lights.

Every number here is invented. It stands beside the derived demo walls so that a sheet can be tested without deriving.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable
from typing import Any

import pytest

from wallwright.carcass.record import (
    BayBox,
    Carcass,
    Drawn,
    Hardware,
    PanelZone,
    Part,
    SetOut,
    Shelf,
    UnitBox,
)
from wallwright.cooling.record import Cooling
from wallwright.core.drawing import Text
from wallwright.core.shape import Block, Box, box_around
from wallwright.core.units import Length
from wallwright.cutting.plan import plan as cutting_plan
from wallwright.derive import Wall, derive
from wallwright.job.brief import Brief
from wallwright.job.demos import DEMOS, demo_jobs
from wallwright.job.design import Bay, Design, Finishes, Unit
from wallwright.job.document import Job
from wallwright.job.face import wall_face
from wallwright.job.read import read_job
from wallwright.job.survey import Obstacle, Place, Reading, Room, Seat, Survey, SurveyedWall
from wallwright.library import load
from wallwright.light.record import Light, LightRun
from wallwright.look.record import Look
from wallwright.money.record import Money
from wallwright.money.show import Notation
from wallwright.programme.record import Programme, Task
from wallwright.services.record import Circuit, PlacedDevice, Run, ServicePoint, Services
from wallwright.sheets.crossed import pinched
from wallwright.sheets.drawing_set import drawing_set
from wallwright.sheets.ink import inked, text_box
from wallwright.sheets.paper import A3, BLOCK, EDGE, LEFT, Sheet
from wallwright.sight.record import Heights, Screen, SeatView, Sight
from wallwright.storage.record import Storage
from wallwright.structure.record import FixingCheck, ShelfCheck, Structure, TipCheck


def mm(value: float) -> Length:
    return Length(value)


def job(**changes: Any) -> Job:
    survey = Survey(
        room=Room(name="Living room", depth=mm(3900), floor_finished=True),
        wall=SurveyedWall(
            widths=(Reading(mm(100), mm(4200)), Reading(mm(1000), mm(4204)), Reading(mm(2200), mm(4210))),
            heights=(Reading(mm(200), mm(2755)), Reading(mm(2100), mm(2750)), Reading(mm(4000), mm(2752))),
            substrate="brick",
            leaf=mm(115),
        ),
        place=Place(city="Demo city", rules="IN"),
        obstacles=(
            Obstacle("B1", "beam", mm(0), mm(2600), mm(4200), mm(150), mm(230)),
            Obstacle("SK", "skirting", mm(0), mm(0), mm(4200), mm(75), mm(12)),
            Obstacle("X1", "socket", mm(760), mm(300), mm(86), mm(86), mm(8), "remove"),
            Obstacle("X2", "switch", mm(4060), mm(1250), mm(90), mm(150), mm(10)),
        ),
        seats=(
            Seat("A", "sofa", mm(2100), mm(3000)),
            Seat("B", "armchair", mm(900), mm(2700), posture="lounging"),
        ),
    )
    values: dict[str, Any] = {
        "title": "Demo wall: invented living room",
        "survey": survey,
        "brief": Brief(),
        "design": Design(
            units=(
                Unit("C1", "console", bays=(Bay("drawers"), Bay("cloth"), Bay("drawers"))),
                Unit("T1", "tower", "left", bays=(Bay("open", shelves=4),)),
                Unit("T2", "tower", "right", bays=(Bay("shutter", shelves=4),)),
                Unit("S1", "shelf"),
            ),
            finishes=Finishes("paint_warm_white", "laminate_oak", "ply18", "laminate_warm_grey"),
        ),
        "client": "Invented client",
        "designer": "Demo studio",
        "approver": "Invented approver",
        "date": "2026-03-02",
    }
    return Job(**{**values, **changes})


def _part(
    out: list[Part],
    unit: str,
    tag: str,
    role: Any,
    name: str,
    block: Block,
    board: str = "ply18",
    finish: str = "laminate_off_white",
) -> None:
    sizes = sorted((block.dx, block.dy, block.dz), reverse=True)
    length, width, thick = sizes[0], sizes[1], sizes[2]
    edges = ("band2", "", "", "") if role != "front" else ("band2",) * 4
    less_l, less_w = (4.0, 4.0) if role == "front" else (0.0, 2.0)
    out.append(
        Part(
            f"{unit}-{tag}",
            unit,
            role,
            name,
            board,
            finish,
            length,
            width,
            thick,
            length - less_l,
            width - less_w,
            "length",
            edges,  # type: ignore[arg-type]
            length * width * thick * 6e-7,
            block,
        )
    )


def _carcass_parts(
    out: list[Part], ref: str, box: Box, depth: float, bays: tuple[float, ...], shelves: int, front: str
) -> tuple[list[BayBox], list[Shelf]]:
    t = 18.0
    y = -depth
    x, z, w, h = box.x, box.z, box.width, box.height
    body = depth - t
    _part(out, ref, "L", "side", "left side", Block(x, y + t, z, t, body, h))
    _part(out, ref, "R", "side", "right side", Block(box.right - t, y + t, z, t, body, h))
    _part(out, ref, "T", "top", "top", Block(x + t, y + t, box.top - t, w - 2 * t, body, t))
    _part(out, ref, "B", "bottom", "bottom", Block(x + t, y + t, z, w - 2 * t, body, t))
    _part(out, ref, "K", "back", "back", Block(x + t, -9, z + t, w - 2 * t, 9, h - 2 * t), "ply9")
    at = x + t
    found: list[BayBox] = []
    kept: list[Shelf] = []
    for i, clear in enumerate(bays, 1):
        if i > 1:
            _part(
                out,
                ref,
                f"D{i - 1}",
                "division",
                f"division {i - 1}",
                Block(at - t, y + t, z + t, t, body - 9, h - 2 * t),
            )
        bay = Box(at, z + t, clear, h - 2 * t)
        kind = front if i != 2 or len(bays) < 3 else "cloth"
        found.append(
            BayBox(
                f"{ref}.{i}",
                ref,
                bay,
                body - 9,
                kind,
                1 if kind == "drawers" else 0,
                shelves,
                kind in ("cloth", "open"),
            )
        )
        if kind != "open":
            _part(
                out,
                ref,
                f"F{i}",
                "front",
                f"front {i}",
                Block(at - t + 1.5, y, z + 1.5, clear + 2 * t - 3, t, h - 3),
                "mdf18",
                "laminate_oak",
            )
        for s in range(shelves):
            low = z + t + (s + 1) * (h - 2 * t) / (shelves + 1)
            _part(
                out, ref, f"S{s + 1}", "shelf", f"shelf {s + 1}", Block(at, y + t, low, clear, body - 20, t)
            )
            kept.append(
                Shelf(f"{ref}-S{s + 1}", ref, clear, body - 20, t, "ply18", 30.0, Box(at, low, clear, t))
            )
        at += clear + t
    return found, kept


def wall(**changes: Any) -> Wall:
    """The wall; `changes` replace whole records."""
    document = changes.pop("job", None) or job()
    face = wall_face(document.survey)
    frame = box_around((2100, 1230), 1449, 832)
    screen = Screen(
        65,
        "va_wide",
        2160,
        frame,
        box_around((2100, 1230), 1429, 804),
        box_around((2100, 1230), 460, 440),
        box_around((2100, 1230), 400, 300),
        55,
        110,
        4,
        "tilt",
        22,
        150,
        0.5,
        "typical",
        frozenset({"diagonal"}),
    )
    units = (
        UnitBox(
            "C1",
            "console",
            "centre",
            Box(1000, 250, 2200, 380),
            400,
            True,
            True,
            "ply18",
            "laminate_oak",
            frozenset({"width"}),
        ),
        UnitBox(
            "T1",
            "tower",
            "left",
            Box(60, 0, 520, 2400),
            400,
            False,
            True,
            "ply18",
            "laminate_oak",
            frozenset(),
        ),
        UnitBox(
            "T2",
            "tower",
            "right",
            Box(3500, 0, 520, 2400),
            400,
            False,
            True,
            "ply18",
            "laminate_oak",
            frozenset(),
        ),
        UnitBox(
            "S1",
            "shelf",
            "centre",
            Box(1300, 1850, 1600, 40),
            250,
            True,
            True,
            "ply18",
            "laminate_oak",
            frozenset(),
        ),
    )
    zones = (
        PanelZone(
            "W1",
            "flat",
            Box(640, 0, 1460, 2600),
            "mdf18",
            "laminate_warm_grey",
            18,
            30,
            (1370.0,),
            0,
            0,
            14.0,
            frozenset(),
        ),
        PanelZone(
            "W2",
            "fluted",
            Box(2100, 0, 1340, 2600),
            "mdf18",
            "laminate_oak",
            18,
            30,
            (),
            40,
            33,
            16.0,
            frozenset(),
        ),
    )
    parts: list[Part] = []
    bays: list[BayBox] = []
    shelves: list[Shelf] = []
    for unit, widths, count, front in (
        (units[0], (709.33, 709.33, 709.33), 0, "drawers"),
        (units[1], (484.0,), 4, "open"),
        (units[2], (484.0,), 4, "shutter"),
    ):
        more, kept = _carcass_parts(parts, unit.ref, unit.box, unit.depth, widths, count, front)
        bays += more
        shelves += kept
    _part(parts, "S1", "1", "wall_shelf", "wall shelf", Block(1300, -250, 1850, 1600, 250, 40), "ply18")
    for zone in zones:
        edges = [zone.box.x, *zone.joints, zone.box.right]
        for i, (a, b) in enumerate(itertools.pairwise(edges), 1):
            _part(
                parts,
                zone.ref,
                str(i),
                "panel",
                f"panel {i}",
                Block(a, -48, 160, b - a, 18, 2440),
                zone.board,
                zone.finish,
            )
        for i in range(5):
            _part(
                parts,
                zone.ref,
                f"B{i + 1}",
                "batten",
                f"batten {i + 1}",
                Block(zone.box.x, -30, 200 + 550 * i, zone.box.width, 30, 50),
                "ply12",
                "",
            )
    points = tuple(
        ServicePoint(ref, kind, x, z, box_around((x, z), w, 86), 47, zone, circuit, serves, reason, False)
        for ref, kind, x, z, w, zone, circuit, serves, reason in (
            (
                "P1",
                "twin_socket",
                1740,
                1230,
                146,
                "behind_screen",
                "1",
                ("screen",),
                "screen and one spare, hidden, clear of the mount's plate",
            ),
            ("D1", "data", 2440, 1230, 86, "behind_screen", "", ("screen",), "network at the screen"),
            ("R1", "rf", 2540, 1230, 86, "behind_screen", "", ("screen",), "aerial at the screen"),
            (
                "K1",
                "conduit",
                2440,
                1330,
                86,
                "behind_screen",
                "",
                ("screen",),
                "conduit for signal cables to the console",
            ),
            ("P2", "twin_socket", 1200, 400, 146, "cabinet", "1", ("N1", "N2"), "boxes in bay C1.1"),
            ("P3", "twin_socket", 1400, 400, 146, "cabinet", "1", ("N3",), "boxes in bay C1.1 and one spare"),
            ("D2", "data", 1540, 400, 86, "cabinet", "", ("N2",), "router"),
            ("K2", "conduit", 2440, 400, 86, "cabinet", "", ("screen",), "lower end of the conduit K1"),
            ("P4", "switched_spur", 2900, 400, 86, "lighting", "1", ("L1",), "feed of the LED drivers"),
            ("L1", "led_feed", 2900, 560, 60, "lighting", "", ("L1",), "feed of the strip under the console"),
        )
    )
    runs = (
        Run(
            "K1-K2",
            "conduit",
            "K1",
            "K2",
            ((2440, 1330), (2440, 400)),
            930,
            0,
            "signal cables",
            15.6,
            35.4,
            0.32,
            5000,
            True,
        ),
        Run(
            "P1-P2",
            "mains",
            "P1",
            "P2",
            ((1740, 1230), (1740, 400), (1400, 400)),
            1170,
            1,
            "3 x 2.5 mm²",
            9.6,
            16.9,
            0.3,
            0,
            False,
        ),
        Run(
            "P2-X",
            "mains",
            "P2",
            "supply",
            ((1200, 400), (700, 400), (700, 2600)),
            2700,
            1,
            "3 x 2.5 mm²",
            9.6,
            16.9,
            0.3,
            0,
            False,
        ),
    )
    light = LightRun(
        "L1",
        "under_console",
        "C1",
        ((1050, 250), (3150, 250)),
        -360,
        2100,
        9.6,
        20.2,
        24,
        0.84,
        30,
        0.67,
        "cabinet",
        "one_end",
        1.8,
        8.3,
        16,
        3000,
        900,
        120,
        0.3,
        True,
        30,
        (),
    )
    back = LightRun(
        "L2",
        "behind_screen",
        "screen",
        ((1500, 900), (1500, 1560), (2700, 1560), (2700, 900)),
        -20,
        2520,
        9.6,
        24.2,
        24,
        1.0,
        30,
        0.8,
        "cabinet",
        "one_end",
        2.2,
        8.3,
        16,
        6500,
        900,
        90,
        0.1,
        True,
        60,
        (),
    )
    seats = (
        SeatView(
            "A",
            "sofa",
            "upright",
            (2100, -3000, 1120),
            False,
            10,
            14,
            0.7,
            2890,
            27.8,
            2.2,
            10.4,
            -6.2,
            0,
            2.2,
            0,
            13.9,
            110,
            1264,
            1180,
        ),
        SeatView(
            "B",
            "armchair",
            "lounging",
            (900, -2700, 1020),
            False,
            25,
            6,
            0.3,
            2830,
            25.1,
            4.3,
            12.8,
            -4.1,
            5,
            -0.7,
            24.9,
            37,
            108,
            1264,
            1245,
        ),
    )
    fixing = FixingCheck(
        "screen",
        "screen on its mount",
        22,
        90,
        4.2e5,
        220,
        700,
        230,
        4,
        3,
        ((1900, 1080), (2300, 1080), (1900, 1380), (2300, 1380)),
        10,
        60,
        "nylon plug 10 x 60",
        400,
        500,
        0.58,
    )
    hung = FixingCheck(
        "C1",
        "console on its rail",
        68,
        190,
        1.3e6,
        300,
        2200,
        670,
        6,
        5,
        tuple((1150 + 380 * i, 590.0) for i in range(6)),
        10,
        70,
        "sleeve anchor M8",
        900,
        1200,
        0.7,
    )
    tasks = (
        Task("S", "Survey and set-out", "designer", 1, (), 0, 1, 0, 1, ""),
        Task("B", "Board order; comes", "joiner", 7, ("S",), 1, 8, 4, 11, ""),
        Task(
            "E",
            "Chasing, boxes, conduits",
            "electrician",
            2,
            ("S",),
            1,
            3,
            1,
            3,
            "photo with tape before closing",
        ),
        Task("M", "Make good and dry", "plasterer", 8, ("E",), 3, 11, 3, 11, "moisture check"),
        Task("I", "Install units and panels", "joiner", 3, ("B", "M"), 11, 14, 11, 14, ""),
    )
    parts_of: dict[str, Any] = {
        "job": document,
        "limits": None,
        "face": face,
        "sight": Sight(screen, seats, Heights(1230, 1240, 1150, 1300, 1067, 1219, 1230, False), (), (), ()),
        "setout": SetOut(units, zones, ()),
        "services": Services(
            points,
            (PlacedDevice("N1", "set_top_box", "Set-top box", "cabinet", "C1", 20, 2, "ir", 260, 200, 60),),
            (Box(1426, 860, 420, 740), Box(2354, 860, 420, 740)),
            (Box(1667, 0, 146, 2600), Box(0, 1187, 4200, 86), Box(1127, 0, 146, 2600)),
            runs,
            (Circuit("1", "Screen wall sockets", 900, 500, 2.4, 16, 2.5, 18000, 0.9, 4),),
            (),
        ),
        "carcass": Carcass(
            tuple(bays),
            tuple(parts),
            tuple(shelves),
            (
                Hardware("runner", "drawer runner 350, pair", "C1", 2, ""),
                Hardware("hinge", "hinge 110°", "T2", 5, ""),
            ),
            (Drawn("C1.1", "C1", "drawer", Box(1000, 250, 745, 380), Block(1000, -800, 250, 745, 400, 380)),),
            (("C1", 48.0),),
            (),
        ),
        "storage": Storage((), (), (), 8000, 6000, "moderate", ()),
        "cooling": Cooling((), ()),
        "structure": Structure(
            (ShelfCheck("T1-S1", "T1", 484, 0.3, 5000, 0.2, 0.4, 1.1, 900, strength=9.0, strength_long=5.0),),
            (fixing, hung),
            (TipCheck("T1", 60, 80, True, 2433),),
            (),
            (),
        ),
        "light": Light((light, back), ()),
        "look": Look((), 0, 0, 1.52, 0.9, 20, None, 4.0, (), ()),
        "money": Money((), 0, (), 0, 0, "¤", (), (), Notation()),
        "programme": Programme(tasks, 14, ("S", "E", "M", "I"), ()),
    }
    parts_of["limits"] = load.limits()
    parts_of["cuts"] = cutting_plan(document, parts, parts_of["limits"])
    parts_of.update(changes)
    return Wall(**parts_of)


def demo(name: str) -> Wall:
    return derive(read_job(demo_jobs()[name].encode(), name))


@pytest.fixture(scope="session")
def handmade() -> Wall:
    return wall()


@pytest.fixture(scope="session")
def make_wall() -> Callable[..., Wall]:
    """`make_wall(job=...)`, `make_wall(services=...)`: the handmade wall with whole records replaced."""
    return wall


@pytest.fixture(scope="session")
def make_job() -> Callable[..., Job]:
    return job


@pytest.fixture(scope="session", params=["handmade", *DEMOS])
def any_wall(request: pytest.FixtureRequest) -> Wall:
    """Each of the walls in turn: the handmade one and the invented demo jobs."""
    return wall() if request.param == "handmade" else demo(request.param)


@pytest.fixture(scope="session")
def drawings(any_wall: Wall) -> tuple[Sheet, ...]:
    """All sheets of that wall."""
    return drawing_set(any_wall)


def written(sheet: Sheet) -> list[tuple[str, Box, str]]:
    """Every text of a sheet: its words, its box in paper mm, and the drawing it belongs to."""
    out: list[tuple[str, Box, str]] = []
    for view in sheet.layers:
        s = view.drawing.scale
        for mark in view.drawing.marks:
            for part in inked(mark, s):
                if isinstance(part, Text) and part.text:
                    box = text_box(part, s)
                    out.append(
                        (
                            part.text,
                            Box(view.x + box.x / s, view.y + box.z / s, box.width / s, box.height / s),
                            view.drawing.name,
                        )
                    )
    return out


def overlapping(texts: list[tuple[str, Box, str]]) -> list[str]:
    found: list[str] = []
    boxes = sorted(((box.grown(-0.05), words) for words, box, _ in texts), key=lambda one: one[0].x)
    for i, (box, words) in enumerate(boxes):
        for more, other in boxes[i + 1 :]:
            if more.x >= box.right:  # nor does any of those that begin still farther to the right
                break
            if box.meets(more):
                found.append(f"{words!r} over {other!r}")
    return found


def outside(sheet: Sheet) -> list[str]:
    width, height = sheet.size
    inner = (
        Box(LEFT, EDGE, width - LEFT - EDGE, height - 2 * EDGE)
        if sheet.size == A3
        else Box(10, 4, width - 20, height - 8)
    )
    texts = written(sheet)
    out = [words for words, box, _ in texts if not inner.holds(box)]
    if sheet.size == A3:
        paper = sheet.paper.name
        out += [f"{words} in the title block" for words, box, of in texts if of != paper and box.meets(BLOCK)]
    return out


def run_together(sheet: Sheet) -> list[str]:
    """Readings of a wall's relief beside a packing in its row, so near that both are read as one figure: less than a millimetre."""
    found: list[str] = []
    for view in sheet.views:
        s = view.drawing.scale
        texts = [mark for mark in view.drawing.marks if isinstance(mark, Text)]
        packs = [text_box(mark, s).grown(s) for mark in texts if mark.ref == "pack"]
        for mark in texts:
            if mark.ref == "reading" and any(text_box(mark, s).meets(box) for box in packs):
                found.append(f"reading {mark.text} at a packing")
    return found


@pytest.fixture(scope="session")
def sheet_faults() -> Callable[[Sheet], list[str]]:
    """`sheet_faults(sheet)`: texts that lie over others, leave the frame, or run into the title block; figures
    of dimensions on ticks and lines, or at another part's; readings that touch a packing.
    """
    return lambda sheet: [
        *overlapping(written(sheet)),
        *outside(sheet),
        *(f"{one.text} on {one.by}" for one in pinched(sheet)),
        *run_together(sheet),
    ]


@pytest.fixture(scope="session")
def sheet_texts() -> Callable[[Sheet], list[tuple[str, Box, str]]]:
    """`sheet_texts(sheet)`: every text with its box in paper mm and the drawing it belongs to."""
    return written


@pytest.fixture(scope="session")
def text_overlaps() -> Callable[[list[tuple[str, Box, str]]], list[str]]:
    return overlapping
