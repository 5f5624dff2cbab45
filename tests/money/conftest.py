"""A small wall made by hand: one hung console, one fluted panel, two points, one LED run."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Any

import pytest

from wallwright.carcass.record import Carcass, Drawn, Hardware, PanelZone, Part, SetOut, UnitBox
from wallwright.core.shape import Block, Box
from wallwright.core.units import Length
from wallwright.job.brief import Brief, Budget
from wallwright.job.document import Job
from wallwright.job.survey import Reading, Room, Survey, SurveyedWall
from wallwright.library import load
from wallwright.light.record import Light, LightRun
from wallwright.money.plan import plan
from wallwright.money.record import Money
from wallwright.services.plugs import Plug
from wallwright.services.record import Circuit, Run, ServicePoint, Services
from wallwright.sight.record import Screen
from wallwright.structure.record import FixingCheck, Structure

BOX = Box(0, 0, 0, 0)


def part(
    ident: str, role: str, board: str, finish: str, length: float, width: float, edges: tuple[str, ...]
) -> Part:
    block = Block(0, 0, 0, length, 18, width)
    return Part(
        ident,
        "C1",
        role,
        role,
        board,
        finish,
        length,
        width,
        18,
        length - 1,
        width - 1,
        "length",
        edges,
        1.0,
        block,
    )


PARTS = (
    part("C1-T", "top", "ply18", "laminate_oak", 1800, 350, ("1.0", "", "1.0", "1.0")),
    part("C1-B", "bottom", "ply18", "laminate_oak", 1800, 350, ("1.0", "", "", "")),
    part("C1-F1", "front", "mdf18", "sprayed_neutral", 900, 300, ("1.0", "1.0", "1.0", "1.0")),
    part("W1-P1", "panel", "mdf18", "sprayed_neutral", 2000, 1000, ("", "", "", "")),
)


@dataclass(frozen=True)
class Handmade:
    """What money is handed, each piece replaceable."""

    job: Job
    screen: Screen
    setout: SetOut
    services: Services
    carcass: Carcass
    structure: Structure
    light: Light
    limits: Any
    sheets: tuple[tuple[str, int, float], ...] = (("ply18", 1, 0.42), ("mdf18", 2, 0.38))
    areas: tuple[tuple[str, float], ...] = ()
    rules: dict[str, float] = field(default_factory=dict)

    def but(self, **changes: Any) -> Handmade:
        return replace(self, **changes)

    def money(self) -> Money:
        limits = self.limits.overridden(self.rules)
        return plan(
            self.job, self.screen, self.setout, self.services, self.carcass, self.structure, self.light, limits,
            sheets=self.sheets, areas=self.areas,
        )  # fmt: skip


@pytest.fixture
def made() -> Handmade:
    wall = SurveyedWall(
        (Reading(Length(0), Length(4000)),), (Reading(Length(0), Length(2700)),), substrate="brick"
    )
    job = Job("Hand-made wall", Survey(Room(), wall), Brief(budget=Budget(600)), currency="¤")
    screen = Screen(
        65, "va", 2160, BOX, BOX, BOX, BOX, 60, 60, 0, "tilt", 22, 150, 0.5, "typical", frozenset()
    )
    unit = UnitBox(
        "C1", "console", "centre", Box(1000, 300, 1800, 300), 350, True, True, "ply18", "", frozenset()
    )
    zone = PanelZone(
        "W1",
        "fluted",
        Box(1000, 700, 2000, 1000),
        "mdf18",
        "sprayed_neutral",
        18,
        30,
        (),
        25,
        80,
        13,
        frozenset(),
    )
    points = tuple(
        ServicePoint(f"P{i}", "twin_socket", 0, 0, BOX, 47, "cabinet", "E1", (), "", False) for i in (1, 2)
    )
    runs = (
        Run(
            "M1", "mains", "supply", "P1", ((0, 0), (0, 4000)), 4000, 1, "", 20, 16.9, 0.2, 0, False, True, (("twin_2_5", 1),),
            outside_void=3000, cut=(((0, 1000), (0, 4000)),),
        ),
        Run("N1", "data", "D1", "D2", ((0, 0), (1000, 0)), 2000, 1, "", 20, 16.9, 0.2, 0, True, True, (("data_6a", 2),)),
        Run(
            "H1", "conduit", "K1", "K2", ((0, 0), (1000, 0)), 1000, 1, "", 40, 35.4, 0.2, 0, True,
            contents=(("hdmi", 2),),
        ),
    )  # fmt: skip
    plugs = (
        Plug("CA1", "picture", "stb", "HDMI out", "screen", "HDMI 1", 1700, 2000, ("H1",)),
        Plug("CA2", "picture", "amp", "HDMI out", "screen", "HDMI 2", 1200, 1500, ("H1",)),
        Plug("CA3", "mains", "stb", "mains", "P1", "outlet 1", 700, 1000, (), True),
    )
    circuit = Circuit("E1", "Sockets", 300, 250, 1.1, 16, 2.5, 12, 0.3, 1)
    swept = Block(0, 0, 0, 1, 1, 1)
    movers = tuple(Drawn(f"C1-D{i}", "C1", "drawer", BOX, swept) for i in (1, 2))
    led = LightRun(
        "L1", "behind_screen", "", ((0, 0), (3000, 0)), 0, 3000, 9.6, 28.8, 24, 1.2, 36, 0.8, "cabinet", "one_end",
        1.0, 8, 15, 3000, 900, 20, 0, True, 50, (),
    )  # fmt: skip
    fixing = FixingCheck("C1", "console", 60, 150, 1, 200, 1, 1, 6, 4, (), 10, 70, "plug", 300, 500, 0.5)
    hardware = (
        Hardware("runner", "Drawer runners 350", "C1", 2, ""),
        Hardware("runner", "Drawer runners 350", "C1", 1, ""),
    )
    return Handmade(
        job, screen, SetOut((unit,), (zone,), ()), Services(points, (), (), (), runs, (circuit,), (), plugs=plugs),
        Carcass((), PARTS, (), hardware, movers, (), ()), Structure((), (fixing,), (), (), ()), Light((led,), ()), load.limits(),
    )  # fmt: skip
