"""How good and how fast the cutting plans are: `python bench/cutting.py [seconds] [public|scale|sizes|wall|NAME ...]`.

Public instances (turning allowed, three stages, kerf 0) stand beside a general packing library in the same run, where it is
installed: the best over its guillotine packers and sorts within the same seconds. It knows no kerf, stages or grain of single parts.
Invented fit-outs of 50 sizes at 0.1 mm, kerf 3.2, trim 10, a third with grain, show how the work grows with the number of parts.
A wall of 60 parts must have its first plan in less than 4 ms, since every change of the drawing makes one anew.
"""

from __future__ import annotations

import json
import random
import statistics
import sys
import time
from pathlib import Path
from typing import Any

from wallwright.cutting import warm
from wallwright.cutting.improve import Progress
from wallwright.cutting.model import Piece, Plan, Problem, Saw, Sheet
from wallwright.cutting.solve import quick, solve
from wallwright.cutting.verify import verify

PUBLIC = Path(__file__).parents[1] / "tests" / "published" / "cutting_set.json"
SECONDS = 20.0
SCALE_SECONDS = 15.0


def public() -> dict[str, dict[str, Any]]:
    return {i["id"]: i for i in json.loads(PUBLIC.read_text(encoding="utf-8"))["instances"]}


def problem_of(instance: dict[str, Any]) -> Problem:
    pieces = tuple(Piece(f"p{i}", "board", a, b, n) for i, (a, b, n) in enumerate(instance["parts"]))
    sheets = tuple(
        Sheet(f"s{i}", "board", a, b, float(cost), stock)
        for i, (a, b, cost, stock) in enumerate(instance["sheets"])
    )
    return Problem(pieces, sheets, Saw(0, 0, 3, 1))


def fit_out(parts: int, *, sizes: int = 50, seed: int = 42, two: bool = False) -> Problem:
    """An invented tower fit-out: many parts of few sizes."""
    rng = random.Random(seed)
    kinds = [
        (rng.randint(800, 24000), rng.randint(800, 12000), rng.choice(("length", "none", "none")))
        for _ in range(sizes)
    ]
    weight = [rng.random() + 0.1 for _ in kinds]
    count = [max(1, round(parts * w / sum(weight))) for w in weight]
    while sum(count) != parts:
        i = max(range(sizes), key=lambda k: count[k]) if sum(count) > parts else rng.randrange(sizes)
        count[i] += 1 if sum(count) < parts else -1
    pieces = tuple(
        Piece(f"p{i}", "board", a, b, n, g) for i, ((a, b, g), n) in enumerate(zip(kinds, count, strict=True))
    )
    sheets = (Sheet("2800 x 2070", "board", 28000, 20700, 580.0),)
    if two:
        sheets += (Sheet("2440 x 1220", "board", 24400, 12200, 310.0),)
    return Problem(pieces, sheets, Saw(32, 100, 3))


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


def library(problem: Problem, seconds: float) -> tuple[int, int] | None:
    """Price of the packing library's best plan, and how many of its settings the time sufficed for."""
    try:
        import rectpack
    except ImportError:
        return None
    begun = time.perf_counter()
    sorts = [
        rectpack.SORT_AREA,
        rectpack.SORT_LSIDE,
        rectpack.SORT_SSIDE,
        rectpack.SORT_PERI,
        rectpack.SORT_DIFF,
    ]
    packers = [value for name, value in vars(rectpack).items() if name.startswith("Guillotine")]
    best, tried = None, 0
    for packing in sorted(packers, key=lambda p: "Bssf" not in p.__name__):
        for sort in sorts:
            if tried and time.perf_counter() - begun > seconds:
                break
            packer = rectpack.newPacker(
                rotation=True, pack_algo=packing, sort_algo=sort, bin_algo=rectpack.PackingBin.BFF
            )
            for i, sheet in enumerate(problem.sheets):
                packer.add_bin(sheet.length, sheet.width, sheet.quantity or float("inf"), bid=i)
            for piece in problem.pieces:
                for _ in range(piece.quantity):
                    packer.add_rect(piece.length, piece.width)
            packer.pack()
            tried += 1
            if len(packer.rect_list()) == sum(p.quantity for p in problem.pieces):
                price = sum(int(problem.sheets[bin_.bid].price) for bin_ in packer)
                best = price if best is None else min(best, price)
    return None if best is None else (best, tried)


def searched(problem: Problem, seconds: float) -> tuple[Plan, float, float]:
    """The plan, when the first one was there, and when the last gain came."""
    gains: list[tuple[float, int]] = []

    def hear(now: Progress) -> None:
        if not gains or now.used != gains[-1][1]:
            gains.append((now.seconds, now.used))

    plan = solve(problem, seconds=seconds, progress=hear)
    for fault in verify(problem, plan):
        print("   FAULT", fault)
    return plan, gains[0][0], gains[-1][0]


def show_public(names: list[str], seconds: float) -> None:
    print(
        f"{'instance':15}{'parts':>6}{'bound':>11}{'ours':>11}{'over %':>8} {'proved':7}{'at s':>6}{'library':>11}{'over %':>8}{'tried':>6}"
    )
    sums = [0.0, 0.0, 0.0]
    proved = at_stored = single = proved_single = at_stored_single = 0
    instances = public()
    for name in names:
        problem = problem_of(instances[name])
        plan, _, at = searched(problem, seconds)
        stored = float(instances[name]["bound"]["turning"])  # of longer runs: no proof of this one
        best = max(plan.price_bound, stored)
        theirs = library(problem, seconds)
        least = not plan.proved and plan.price <= stored + 1e-9
        proved += plan.proved
        at_stored += least
        if len(problem.sheets) == 1:
            single += 1
            proved_single += plan.proved
            at_stored_single += least
            for i, value in enumerate((best, plan.price, float(theirs[0]) if theirs else 0.0)):
                sums[i] += value
        over = (
            f"{theirs[0]:>11}{100 * (theirs[0] / best - 1):>8.2f}{theirs[1]:>6}" if theirs else f"{'-':>11}"
        )
        parts = sum(p.quantity for p in problem.pieces)
        print(
            f"{name:15}{parts:>6}{best:>11g}{plan.price:>11g}{100 * (plan.price / best - 1):>8.3f} "
            f"{'yes' if plan.proved else 'stored' if least else 'no':7}{at:>6.1f}{over}"
            f"{'' if plan.price_bound >= best - 1e-6 else '  own bound ' + format(plan.price_bound, 'g')}",
            flush=True,
        )
    if single:
        print(
            f"one sheet size: {single} instances, bounds {sums[0]:g}, ours {sums[1]:g} "
            f"({100 * (sums[1] / sums[0] - 1):.3f} % over), "
            f"{proved_single} proved by this run ({100 * proved_single / single:.1f} %), {at_stored_single} more at the stored bound; "
            f"library {sums[2]:g} ({100 * (sums[2] / sums[0] - 1):.2f} % over)"
        )
    print(
        f"all: {proved} of {len(names)} proved by this run ({100 * proved / max(1, len(names)):.1f} %), "
        f"{at_stored} more at the bound stored from longer runs"
    )


def show_scale(seconds: float, *, two: bool) -> None:
    print(
        f"{'parts':>7}{'bound':>11}{'price':>11}{'sheets':>8}{'over %':>9} {'first s':>8}{'at s':>7}{'layouts':>9}"
    )
    for parts in (50, 500, 5_000, 50_000):
        plan, first, at = searched(fit_out(parts, two=two), seconds)
        print(
            f"{parts:>7}{plan.price_bound:>11g}{plan.price:>11g}{plan.used:>8}{100 * (plan.price / plan.price_bound - 1):>9.3f} "
            f"{first:>8.3f}{at:>7.1f}{len(plan.sheets):>9}",
            flush=True,
        )


def show_walls(seconds: float) -> None:
    for seed in range(3):
        problem = wall(seed)
        times: list[float] = []
        for _ in range(11):
            begun = time.perf_counter()
            first = quick(problem)
            times.append((time.perf_counter() - begun) * 1000)
        plan, _, at = searched(problem, seconds)
        print(
            f"wall of 60 parts, {seed}: first plan {first.price:g} in {statistics.median(times):.2f} ms, "
            f"searched {plan.price:g} at {at:.1f} s, bound {plan.price_bound:g}",
            flush=True,
        )


def main() -> None:
    words = sys.argv[1:]
    seconds = float(words.pop(0)) if words and words[0].replace(".", "").isdigit() else None
    words = words or ["public", "scale", "sizes", "wall"]
    if not warm.ready():
        begun = time.perf_counter()
        warm.main()
        print(f"kernels compiled in {time.perf_counter() - begun:.1f} s")
    warm.load()  # once a process; else the first instance's time would pay for it
    names = [name for name in words if name in public()] or (list(public()) if "public" in words else [])
    if names:
        show_public(names, seconds or SECONDS)
    if "scale" in words:
        print("\n50 sizes at 0.1 mm, kerf 3.2, trim 10, a third with grain")
        show_scale(seconds or SCALE_SECONDS, two=False)
    if "sizes" in words:
        print("\nthe same from two sheet sizes at 580 and 310")
        show_scale(seconds or SCALE_SECONDS, two=True)
    if "wall" in words:
        print()
        show_walls(min(seconds or SECONDS, 5.0))


if __name__ == "__main__":
    main()
