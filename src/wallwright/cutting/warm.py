"""The first search on a machine compiles its kernels: ten seconds or so, once, kept on disk beside the package.

A caller with a deadline should not wait for that. So it is done in a process of its own, and until it is done the slow
search goes on. `python -m wallwright.cutting.warm` does it beforehand.
"""

from __future__ import annotations

import os
import subprocess
import sys
from functools import cache
from pathlib import Path

from wallwright.cutting.model import Piece, Problem, Saw, Sheet


def ready() -> bool:
    """Are the kernels compiled, in this version, on this machine? True also where nothing can be kept on disk."""
    from wallwright.cutting import price_kernel, reprice_kernel, ruin_kernel

    kept = (
        (ruin_kernel, "run"),
        (ruin_kernel, "survey_all"),
        (price_kernel, "read_strip"),
        (reprice_kernel, "strips"),
    )
    for module, name in kept:
        folder = getattr(module, name).stats.cache_path
        if folder is None:
            continue
        source = Path(str(module.__file__)).stat().st_mtime
        stem = f"{module.__name__.rsplit('.', 1)[-1]}.{name}-"
        if not any(f.stat().st_mtime >= source for f in Path(folder).glob(f"{stem}*.nbi")):
            return False
    return True


def prepare() -> subprocess.Popen[bytes]:
    """Begin to compile in a process of its own; it ends by itself."""
    return subprocess.Popen(
        [sys.executable, "-m", "wallwright.cutting.warm"],
        stdin=subprocess.DEVNULL,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
        env={**os.environ, "PYTHONPATH": os.pathsep.join(p for p in sys.path if p)},
    )


@cache
def load() -> None:
    """Fetch the kernels and what goes with them into this process (a second or less, once), where they are compiled."""
    if not ready():
        return
    from wallwright.cutting.columns import Columns
    from wallwright.cutting.construct import first_plan
    from wallwright.cutting.ruin import MOST_COST, Ruin
    from wallwright.cutting.tree import tasks

    pieces = (Piece("p", "ply", 610, 410, 7, "length"), Piece("q", "ply", 330, 350, 5))
    (task,) = tasks(Problem(pieces, (Sheet("s", "ply", 1000, 1010, 1.0),), Saw(4, 10, 3)))
    boards, waiting = first_plan(task)
    ruin = Ruin(task, boards, waiting, len(boards) + 2, 1)
    ruin.give_up(1)
    ruin.search(MOST_COST, 10)
    ruin.gather(MOST_COST, 10, 0.0)
    columns = Columns(task)
    columns.seed(boards)
    columns.round()


def _search(problem: Problem, steps: int) -> None:
    from wallwright.cutting.solve import solve
    from wallwright.cutting.verify import verify

    verify(problem, solve(problem, iterations=steps))


def main() -> None:
    """Search a small problem for a few steps: that compiles everything."""
    sizes = ((500, 300, 9), (410, 270, 9), (330, 350, 9))
    pieces = tuple(Piece(f"p{i}", "ply", a, b, n) for i, (a, b, n) in enumerate(sizes))
    for stages in (2, 3):
        _search(Problem(pieces, (Sheet("s", "ply", 1000, 1010, 1.0),), Saw(4, 10, stages)), 60_000)


if __name__ == "__main__":
    main()
