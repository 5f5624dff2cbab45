"""A wall made by hand for the lists: every record filled with numbers that can be told apart."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import pytest

from wallwright.carcass.record import Carcass, Hardware, Part, SetOut, Shelf
from wallwright.cooling.record import Cooling
from wallwright.core.shape import Block, Box
from wallwright.core.units import Length
from wallwright.cutting.plan import plan as cut
from wallwright.job.brief import Brief, Budget
from wallwright.job.document import Job
from wallwright.job.face import wall_face
from wallwright.job.survey import Place, Reading, Room, Seat, Survey, SurveyedWall
from wallwright.library import load
from wallwright.light.record import Light, LightRun
from wallwright.look.record import Look
from wallwright.money.record import Line, Money, Step
from wallwright.money.show import Notation
from wallwright.programme.record import Programme, Task
from wallwright.services.plugs import Plug
from wallwright.services.record import Circuit, Run, ServicePoint, Services
from wallwright.sight.record import Candidate, Heights, Screen, SeatView, Sight
from wallwright.storage.record import Allotted, Demand, Storage
from wallwright.structure.record import FixingCheck, ShelfCheck, Structure, TipCheck

BOX = Box(0, 0, 86, 86)
READING = (Reading(Length(0), Length(3000)),)
SEATS = (Seat("A", "sofa", Length(1500), Length(3000)),)


def part(ident: str, name: str, board: str, length: float, width: float, edges: tuple[str, ...]) -> Part:
    block = Block(0, 0, 0, length, 18, width)
    return Part(
        ident,
        "C1",
        "side",
        name,
        board,
        "laminate_oak",
        length,
        width,
        18,
        length - 2,
        width - 1,
        "length",
        edges,
        1.5,
        block,
    )


PARTS = (
    part("C1-L", "side", "ply18", 400, 350, ("1.0", "", "1.0", "1.0")),
    part("C1-R", "side", "ply18", 400, 350, ("1.0", "", "1.0", "1.0")),
    part("C1-D", "side", "ply18", 400, 350, ("1.0", "", "", "")),
    part("C1-T", "top", "ply18", 1800, 350, ("1.0", "", "", "")),
    part("C1-X", "side", "ply18", 2600, 350, ("1.0", "", "", "")),
)
LINES = (
    Line("point_socket", "electrical", "Socket", 3, "nr", 1100, 3300, "P1, P2, P3"),
    Line("circuit", "electrical", "Circuit", 1, "nr", 1400, 1400, "E1"),
    Line("board_ply18", "joinery", "Plywood", 2.98, "m²", 840, 2503, "1 sheet bought"),
    Line("hardware_odd", "joinery", "Odd fitting", 4, "nr", 0, 0, "not priced"),
)


def money(total: int, budget: int) -> Money:
    steps = (Step("overhead", 0.1, 720), Step("margin", 0.15, total - 7203 - 720))
    lines = tuple(replace(line, invented=line.rate > 0) for line in LINES)
    return Money(lines, 7203, steps, total, budget, "¤", (), (), Notation("¤", 2, "lakh"))


@pytest.fixture
def wall() -> Any:
    place = Place(rules="IN")
    job = Job(
        "Hand-made",
        Survey(Room(), SurveyedWall(READING, READING), place, seats=SEATS),
        Brief(budget=Budget(200000)),
    )
    screen = Screen(
        65, "va", 2160, BOX, BOX, BOX, BOX, 60, 60, 0, "tilt", 22, 150, 0.5, "typical", frozenset()
    )
    seat = SeatView(
        "A",
        "sofa",
        "upright",
        (1500, -3000, 1100),
        False,
        10,
        14,
        1,
        2950,
        27.1,
        1.5,
        9.1,
        -6.0,
        0.0,
        1.5,
        3.2,
        9.9,
        70,
        2000,
        1110,
    )
    candidates = (
        Candidate(55, 1230, 710, 16, 110, True, 23, 25, 0.8, "good"),
        Candidate(65, 1450, 830, 22, 150, False, 27, 29, 0.9, "does not fit"),
    )
    sight = Sight(
        screen, (seat,), Heights(1105, 1110, 1050, 1150, 1067, 1219, 1100, True), candidates, (), ()
    )
    points = (
        ServicePoint(
            "P1", "twin_socket", 1250, 1380, BOX, 47, "behind_screen", "E1", ("tv", "bar"), "hidden", False
        ),
        ServicePoint("D1", "data", 1400, 450, BOX, 35, "cabinet", "", (), "beside the boxes", True),
    )
    runs = (
        Run("H1", "conduit", "P1", "D1", ((0, 0), (0, 930)), 2500, 2, "2 HDMI", 20, 40, 0.25, 10000, True),
        Run("M1", "mains", "entry", "P1", ((0, 0), (0, 930)), 4200, 1, "3 x 2.5", 10, 0, 0, 0, False),
    )
    plugs = (Plug("CA1", "mains", "tv", "mains", "P1", "outlet 1", 700, 1000, (), True),)
    circuit = Circuit("E1", "Television", 350, 280, 1.22, 16, 2.5, 12000, 0.35, 2.5)
    led = LightRun(
        "L1", "behind_screen", "W1", ((0, 0), (3000, 0)), 0, 3000, 9.6, 28.8, 24, 1.2, 36, 0.8, "cabinet", "one_end", 1.9, 8, 15,
        3000, 900, 20, 0, True, 50, (),
    )  # fmt: skip
    shelf = Shelf("T1-S1", "T1", 700, 300, 18, "ply18", 30, Box(0, 0, 700, 18))
    structure = Structure(
        (ShelfCheck("T1-S1", "T1", 700, 0.3, 1e9, 0.9, 1.35, 3, 760, strength=9.0, strength_long=5.0),),
        (
            FixingCheck(
                "C1",
                "console",
                60,
                150,
                1e6,
                200,
                1900,
                1500,
                6,
                5,
                ((100, 500), (300, 500)),
                10,
                70,
                "plug",
                400,
                600,
                0.8,
            ),
            FixingCheck("S1", "shelf", 6, 0, 1e5, 100, 90, 60, 2, 0, (), 0, 0, "", 0, 0, 0),
        ),
        (TipCheck("T1", 80, 65, False, 2400),),
        (),
        (),
    )
    storage = Storage(
        (Demand("book", "Paperbacks", 60, 1800, 18, 140, 220, True),), (Allotted("book", "T1.1", 50),), (("book", 10),),
        1500, 1800, "little", (),
    )  # fmt: skip
    tasks = (
        Task("late", "Second", "joinery", 2, ("early",), 3, 5, 4, 6, "H2: pulled"),
        Task("early", "First", "site", 3, (), 0, 3, 0, 3, ""),
        Task("instant", "Nothing", "site", 0, (), 6, 6, 6, 6, ""),
    )
    hardware = (
        Hardware("hinge", "Hinge", "C1", 4, ""),
        Hardware("hinge", "Hinge", "C1", 2, ""),
        Hardware("hinge", "Hinge", "T1", 3, ""),
    )
    return SimpleNamespace(
        job=job, face=wall_face(job.survey), limits=load.limits(), setout=SetOut((), (), ()), sight=sight,
        services=Services(points, (), (), (), runs, (circuit,), (), plugs=plugs),
        carcass=Carcass((), PARTS, (shelf,), hardware, (), (), ()), cuts=cut(job, PARTS, load.limits()), storage=storage, cooling=Cooling((), ()),
        structure=structure, light=Light((led,), ()), money=money(1_00_000_00, 2_00_000_00),
        programme=Programme(tasks, 6, ("early", "instant"), ()), look=Look((), 0, 0, 0, 1, 0, None, 0, (), ()),
    )  # fmt: skip
