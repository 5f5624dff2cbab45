"""A family with very many toys and books: what goes where, and what plainly does not fit. Invented; worked by hand beforehand.

By hand: book run 7.5 m and a fifth = 9.0 m, 270 kg at 30 kg a metre; 4 columns of 464 clear × 6 shelves = 11.1 m; children's
books 4.8 m on the 3 shelves at or below 1200 (5.6 m); 8 bins in the four base cells (470 high), two high; 4 console cells of
377 × 370 hold one pile of 5 games each, 4 of 24 are left over and go on top of a tower; the vacuum cleaner does not fit.

Where the reckoning differs: with 30 mm over the tallest picture books (300) the third shelf over a base cell of 470 has its
floor at 1202: 2 mm too high for the children. A base cell of 466 puts it at 1198, and two bins still go in. the hand put 60
large books among the children's (4.0 m, 4.8 with the fifth); the program keeps low what the brief says is for children. Weighed
by the things themselves the books are 0.3 kg (picture, paperback) and 1.0 kg (large): 168 kg, not the 270 kg of the rule of 30
kg a metre, which the boards are still checked for. The highest of the six shelves (2242) is beyond the reach of the mother
(1640 tall: 1968, and 2198 from a step): 1.9 m of the 11.1 m are for nothing here, so of the 200 books that need not be low a
few are left over once games, bins, craft boxes and tablets have their places.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from wallwright.core.shape import Box
from wallwright.core.units import Length
from wallwright.job.brief import Brief, Person, Thing
from wallwright.job.document import Job
from wallwright.job.survey import Reading, Survey, SurveyedWall
from wallwright.job.survey import Room as SurveyRoom
from wallwright.library import load
from wallwright.storage.best import allot_best
from wallwright.storage.fit import terms_of
from wallwright.storage.plan import plan
from wallwright.storage.record import Bay, Room, Storage

LIMITS = load.limits()
BOARD = 18
BASE = 466
COLUMNS = (82, 582, 2554, 3054)
"""Left side of each column's clear 464: two of 500 on each side of a middle bay of 1600 in 3600."""


def room() -> Room:
    """Four columns (a base cell of 470, three levels for picture books, three for paperbacks) and a console of four cells."""
    bays: list[Bay] = []
    for n, x in enumerate(COLUMNS, 1):
        low, high = BASE + 2 * BOARD, BASE + 2 * BOARD + 3 * 330 + 3 * BOARD
        bays += [
            Bay(f"T{n}.1", f"T{n}", Box(x, BOARD, 464, BASE), 340, "shutter", 0, 0),
            Bay(f"T{n}.2", f"T{n}", Box(x, low, 464, 3 * 330 + 2 * BOARD), 340, "open", 0, 2),
            Bay(f"T{n}.3", f"T{n}", Box(x, high, 464, 3 * 330 + 2 * BOARD), 340, "open", 0, 2),
        ]
    bays += [
        Bay(f"C1.{n}", "C1", Box(1000 + 395 * n, 250, 377, 370), 340, "shutter", 0, 0) for n in range(1, 5)
    ]
    return Room(tuple(bays))


def mm(value: float) -> Length:
    return Length(float(value))


BINS = Thing("toy_bin", 8, width=mm(400), depth=mm(300), height=mm(220), mass=4.0)
BOOKS = (Thing("picture_book", 220, low=True), Thing("paperback", 140), Thing("large_book", 60, low=True))
GAMES = Thing("board_game", 24, width=mm(70), depth=mm(300), height=mm(300))
PEOPLE = (Person("A", mm(1700), 38), Person("B", mm(1640), 36), Person("C", None, 3), Person("D", None, 7))


def kept(things: tuple[Thing, ...], there: Room) -> Storage:
    wall = SurveyedWall((Reading(mm(0), mm(3600)),), (Reading(mm(0), mm(2700)),))
    return plan(
        Job("Family, invented", Survey(SurveyRoom(), wall), Brief(people=PEOPLE, things=things)),
        there,
        LIMITS,
    )


def columns_only(*numbers: int) -> Room:
    return replace(
        room(), bays=tuple(bay for bay in room().bays if bay.unit != "C1" and int(bay.ref[-1]) in numbers)
    )


def test_the_books_run_and_the_columns_run() -> None:
    found = kept(BOOKS, columns_only(2, 3))
    assert found.needed == pytest.approx(9000)
    assert found.capacity == pytest.approx(4 * 464 * 6) and found.capacity == pytest.approx(11100, rel=0.005)
    assert found.leftovers == ()
    assert sum(demand.mass for demand in found.demands) == pytest.approx(220 * 0.3 + 140 * 0.3 + 60 * 1.0)


def test_children_s_books_are_within_their_reach_and_paperbacks_above() -> None:
    found = kept(BOOKS, columns_only(2, 3))
    low = [level for level in found.levels if level.z <= 1200]
    assert len(low) == 4 * 3 and sum(level.run for level in low) == pytest.approx(5568)  # 5.6 m
    floors = {level.ref: level.z for level in found.levels}
    children = sum(d.run for d in found.demands if d.low)
    assert children == pytest.approx(4800)
    assert all(
        floors[item.level] <= 1200 for item in found.placed if item.kind in ("picture_book", "large_book")
    )


def test_eight_bins_go_two_high_into_the_base_cells() -> None:
    library = load.things()["toy_bin"]
    found = kept((BINS,), columns_only(1))
    by_ones = sum(item.count for item in found.allotted)
    assert library.stacks == 2  # a bin with a lid carries one more
    assert by_ones == 8 and {item.count for item in found.allotted} == {2} and found.leftovers == ()
    assert pytest.approx(0.211, abs=0.001) == 8 * 0.4 * 0.3 * 0.22  # m³


def test_four_games_are_left_over_and_could_stand_on_a_tower() -> None:
    console = replace(room(), bays=tuple(bay for bay in room().bays if bay.unit == "C1"))
    found = kept((GAMES,), console)
    assert {item.count for item in found.allotted} == {5}  # (370 - 20) / 70: one pile of five a cell
    assert found.leftovers == (("board_game", 4),)
    assert found.missing[0].failing == "room"
    top = Bay("top", "T1", Box(64, 2430, 500, 270), 340, "open", 0, 0)
    more = kept((GAMES,), replace(console, bays=(*console.bays, top)))
    assert dict(more.leftovers).get("board_game", 0) == 4  # 2430 is above what even a step reaches
    lower = kept((GAMES,), replace(console, bays=(*console.bays, replace(top, box=Box(64, 1900, 500, 300)))))
    assert lower.leftovers == ()  # a pile of (300 - 20) / 70 = 4, where a step reaches it


def test_the_vacuum_cleaner_does_not_fit_and_it_is_said() -> None:
    found = kept((*BOOKS, GAMES, BINS, Thing("craft_box", 4), Thing("tablet", 3), Thing("vacuum", 1)), room())
    assert dict(found.leftovers).get("vacuum") == 1
    vacuum = next(one for one in found.missing if one.kind == "vacuum")
    assert vacuum.failing == "height" and vacuum.short == pytest.approx(1180 - BASE)
    assert dict(found.leftovers).get("toy_bin", 0) == 0


def test_the_best_allotment_leaves_the_vacuum_cleaner_four_games_and_a_few_books() -> None:
    found = kept((*BOOKS, GAMES, BINS, Thing("craft_box", 4), Thing("tablet", 3), Thing("vacuum", 1)), room())
    best = allot_best(found.demands, found.levels, terms_of(found.reach, LIMITS))
    count = {d.kind: sum(item.count for item in best.placed if item.kind == d.kind) for d in found.demands}
    assert best.score <= found.score + 1e-6
    assert (count["vacuum"], count["toy_bin"], count["board_game"], count["craft_box"], count["tablet"]) == (
        0,
        8,
        20,
        4,
        3,
    )
    assert (
        count["picture_book"] == 220 and count["paperback"] + count["large_book"] >= 185
    )  # of 200: see above
    in_console = sum(
        item.count for item in best.placed if item.kind == "board_game" and item.level.startswith("C1")
    )
    assert in_console == 20  # one pile of five in each of the four cells
