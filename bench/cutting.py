"""How fast and how good the cutting plans are: `python bench/cutting.py [seconds a search, default 5]`.

A wall of 60 parts must have its first plan in less than 4 ms, since every change of the drawing makes one anew. The
public instances stand beside the best published value and the best of a general packing library, where installed.
"""

from __future__ import annotations

import random
import runpy
import statistics
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

from wallwright.cutting.model import Piece, Plan, Problem, Saw, Sheet
from wallwright.cutting.solve import quick, solve
from wallwright.cutting.verify import verify

PUBLIC = Path(__file__).parents[1] / "tests" / "published" / "cutting_public.py"


def wall(seed: int, parts: int = 60) -> Problem:
    """An invented wall: carcass, fronts and backs of three boards, two thirds with grain, kerf 3.2, trim 10."""
    rng = random.Random(seed)
    boards = ("carcass", "front", "back")
    pieces = tuple(
        Piece(
            f"part {i}",
            rng.choice(boards),
            rng.randint(2000, 23000),
            rng.randint(800, 6000),
            2,
            rng.choice(["none", "length", "length"]),
        )
        for i in range(parts // 2)
    )
    sheets = [Sheet("2440 x 1220", board, 24400, 12200, 100.0) for board in boards]
    sheets += [Sheet("2800 x 2070", board, 28000, 20700, 210.0) for board in boards]
    return Problem(pieces, tuple(sheets), Saw(32, 100, 3))


def public() -> dict[str, tuple[Problem, int]]:
    instances: dict[str, Any] = runpy.run_path(str(PUBLIC))["INSTANCES"]
    found: dict[str, tuple[Problem, int]] = {}
    for name, (length, width, best, parts) in instances.items():
        for variant, value in best.items():
            grain = "none" if variant == "turning" else "length"
            pieces = tuple(Piece(f"p{i}", "board", a, b, n, grain) for i, (a, b, n) in enumerate(parts))
            sheet = Sheet("sheet", "board", length, width, 1.0)
            found[f"{name} {variant}"] = (Problem(pieces, (sheet,), Saw(0, 0, 3, 1)), value)
    return found


def packed(problem: Problem) -> int | None:
    """Sheets the packing library needs at best over its guillotine packers and three sorts; None: not installed."""
    try:
        import rectpack
    except ImportError:
        return None
    sheet = problem.sheets[0]
    packers = [value for name, value in vars(rectpack).items() if name.startswith("Guillotine")]
    counts: list[int] = []
    for algorithm in packers:
        for sort in (rectpack.SORT_AREA, rectpack.SORT_LSIDE, rectpack.SORT_SSIDE):
            packer = rectpack.newPacker(
                rotation=problem.pieces[0].grain == "none", pack_algo=algorithm, sort_algo=sort
            )
            packer.add_bin(sheet.length, sheet.width, float("inf"))
            for piece in problem.pieces:
                for _ in range(piece.quantity):
                    packer.add_rect(piece.length, piece.width)
            packer.pack()
            counts.append(len(packer))
    return min(counts)


def timed(make: Callable[[], Plan], rounds: int) -> tuple[Plan, float]:
    """The plan and the median time in ms."""
    times: list[float] = []
    plan = make()
    for _ in range(rounds):
        begun = time.perf_counter()
        plan = make()
        times.append((time.perf_counter() - begun) * 1000)
    return plan, statistics.median(times)


def main() -> None:
    seconds = float(sys.argv[1]) if len(sys.argv) > 1 else 5.0
    print(
        f"{'':24}{'first plan':>20}{'searched':>22}{'bound':>8}{'published':>11}{'library':>9}{'steps/s':>9}"
    )
    for name, (problem, best) in public().items():
        row(name, problem, seconds, str(best), packed(problem))
    for seed in range(3):
        row(f"wall of 60 parts, {seed}", wall(seed), seconds, "", None)


def row(name: str, problem: Problem, seconds: float, best: str, library: int | None) -> None:
    first, ms = timed(lambda: quick(problem), 11)
    plan = solve(problem, seconds=seconds)
    faults = verify(problem, first) + verify(problem, plan)
    speed = plan.iterations / plan.seconds if plan.seconds else 0
    cells = f"{first.price:>11g} {ms:>5.2f} ms{plan.price:>13g} {plan.seconds:>6.2f} s{plan.price_bound:>8g}"
    print(f"{name:24}{cells}{best:>11}{library if library is not None else '-':>9}{speed:>9.0f}", flush=True)
    for fault in faults:
        print("   FAULT", fault)


if __name__ == "__main__":
    main()
