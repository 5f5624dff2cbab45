"""What is ordered to spare and what rounding leaves over, at the limit and just past it."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from wallwright.core.finding import Finding
from wallwright.core.shape import Box
from wallwright.derive import Wall, derive
from wallwright.job.demos import demo_jobs
from wallwright.job.read import read_job
from wallwright.money.faces import faces_of
from wallwright.rules.making import batch_spare, rounding


@cache
def living() -> Wall:
    return derive(read_job(demo_jobs()["living"]))


def ordered(quantity: float) -> list[Finding]:
    """What is said where so much of the laminate is ordered."""
    wall = living()
    lines = tuple(
        replace(line, quantity=quantity) if line.ref == "finish_laminate_oak" else line
        for line in wall.money.lines
    )
    return list(batch_spare(replace(wall, money=replace(wall.money, lines=lines))))


def faced() -> float:
    """The area that has the laminate, both faces where both have it [m²]: of fronts and open parts, by their places in the drawing."""
    parts = [part for part in living().carcass.parts if part.finish == "laminate_oak"]
    assert {faces_of(part) for part in parts} != {1}, "the demo has parts faced on both sides"
    return sum(part.length * part.width * faces_of(part) for part in parts) / 1e6


def test_a_twentieth_to_spare_is_enough_and_less_is_said() -> None:
    """Common practice: some of one lot to spare; the limit is in percent of what is faced, on both sides where both are."""
    need = faced() * (1 + living().limits.value("rule.batch_spare") / 100)
    assert ordered(need) == []
    assert ordered(need - 0.005) == []  # quantities are written to 0.01 m²
    (found,) = ordered(need - 0.02)
    assert found.where == "finish_laminate_oak"
    (short,) = ordered(0.9 * faced())
    assert "0.0 % to spare" in short.says
    assert ordered(need * 2) == []


def run_of(*sizes: float, units: str = "mm") -> list[Finding]:
    """What is said of a panel of boards of these widths."""
    wall = living()
    edges = [0.0]
    for size in sizes:
        edges.append(edges[-1] + size)
    zone = replace(wall.setout.zones[0], box=Box(0.0, 500.0, edges[-1], 900.0), joints=tuple(edges[1:-1]))
    job = replace(wall.job, units=units)  # type: ignore[arg-type]
    return list(rounding(replace(wall, job=job, setout=replace(wall.setout, zones=(zone,), units=()))))


@pytest.mark.parametrize("size", [300.6, 300.4])
def test_sizes_that_miss_their_whole_are_said_whichever_way(size: float) -> None:
    """By hand: five boards of 300.6 show 5 x 301 = 1505 and the whole 1503; of 300.4, 1500 against 1502."""
    (found,) = run_of(*[size] * 5)
    assert "2.0 mm" in found.says
    assert not found.edits  # in millimetres only running sizes help


def test_what_the_limit_allows_is_silent() -> None:
    assert living().limits.value("rule.rounding") == 1
    assert run_of(300.6, 300.6, 300.6) == []  # 903 against 902: 1 mm
    assert run_of(300.0, 300.0) == []
    # eighths of an inch are 3.175 mm: a board of 301 shows 94.8 as 95 of them, three 285 against 284
    (found,) = run_of(301.0, 301.0, 301.0, units="ft-in")
    assert "3.2 mm" in found.says and [call.edit for call in found.edits] == ["set_units"]
