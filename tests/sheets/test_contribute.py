"""The page that tells how to add a rule, a board, a sheet and a file says what works: its blocks are run here."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from wallwright.core.limit import Limit, Limits
from wallwright.derive import Wall, derive
from wallwright.job.demos import demo_jobs
from wallwright.job.edits import apply
from wallwright.job.read import read_job
from wallwright.library import load
from wallwright.rules import RULES

PAGE = Path(__file__).parents[2] / "docs" / "contribute.md"


def block(kind: str) -> str:
    found = re.search(rf"^```\w+ {kind}\n(.*?)^```$", PAGE.read_text("utf-8"), re.MULTILINE | re.DOTALL)
    assert found, f"docs/contribute.md has no block {kind}"
    return found[1]


def ran(kind: str) -> dict[str, Any]:
    names: dict[str, Any] = {"__name__": f"contribute_{kind}"}
    exec(compile(block(kind), str(PAGE), "exec", dont_inherit=True), names)
    return names


@pytest.fixture(scope="module")
def wall() -> Wall:
    return derive(read_job(demo_jobs()["living"]))


def with_limit(wall: Wall) -> Wall:
    """The wall, its rule set holding the page's limit too."""
    from dataclasses import replace

    ((name, row),) = tomllib.loads(block("limit")).items()
    assert name not in wall.limits, "the page's example has become a limit of the library: write another"
    return replace(
        wall, limits=Limits({**{limit.name: limit for limit in wall.limits}, name: Limit(name, **row)})
    )


@pytest.fixture
def rule() -> Iterator[Callable[[Wall], list[Any]]]:
    ran("rule")
    yield lambda wall: list(RULES["screen.curtain"].find(with_limit(wall)))
    del RULES["screen.curtain"]


def test_the_rule_is_silent_speaks_and_is_cured(wall: Wall, rule: Callable[[Wall], list[Any]]) -> None:
    assert rule(wall) == []
    spoilt = wall.job
    steps: list[tuple[str, dict[str, Any]]] = []
    made = {"step": lambda name, **values: steps.append((name, values)), "Case": lambda *_: None}
    exec(block("case"), made)
    for name, values in steps:
        spoilt = apply(spoilt, name, values)
    (found,) = rule(derive(spoilt))
    # a frame of 1448 about 2100 ends at 2824: by hand, 2840 less 2824
    assert (found.measured, found.limit) == (16, 60)
    cured = spoilt
    for call in found.edits:
        cured = apply(cured, call.edit, dict(call.values))
    assert rule(derive(cured)) == []


def test_the_board_is_a_whole_row() -> None:
    ((key, row),) = tomllib.loads(block("board")).items()
    boards = load.boards()
    assert key not in boards, "the page's example has become a board of the library: write another"
    board = load.Board(key, **{**row, "sheets": tuple(map(tuple, row["sheets"]))})
    assert board.kind in load.board_kinds()
    usual = next(one for one in boards.values() if one.kind == board.kind)
    assert 0.8 < board.density / usual.density < 1.25 and 0.5 < board.modulus / usual.modulus < 2


def test_the_sheet_is_clean(wall: Wall, sheet_faults: Callable[[Any], list[str]]) -> None:
    from wallwright.sheets.paper import numbered

    sheets = numbered(ran("sheet")["sheets"](wall), wall)
    assert [sheet.scale for sheet in sheets] == ["1:20"]
    assert [fault for sheet in sheets for fault in sheet_faults(sheet)] == []


def test_the_file_is_read_back(wall: Wall) -> None:
    import csv

    data = ran("exporter")["seats_csv"](wall)
    assert data == ran("exporter")["seats_csv"](wall)
    rows = list(csv.reader(data.decode("utf-8-sig").splitlines()))
    assert [row[0] for row in rows[1:]] == [seat.ref for seat in wall.sight.seats]
    assert [float(row[2]) for row in rows[1:]] == [round(seat.distance) for seat in wall.sight.seats]
