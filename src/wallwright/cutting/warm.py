"""The first search on a machine compiles its kernels: ten seconds or so, once, kept on disk beside the package.

A caller with a deadline should not wait for that. So it is done in a process of its own, and until it is done the slow
search goes on. Fetching what is compiled into this process is done by a thread, which a caller out of time leaves
behind. `python -m wallwright.cutting.warm` compiles beforehand.
"""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable, Iterator
from importlib import import_module
from pathlib import Path
from threading import Thread

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


class Loading:
    """The kernels being fetched into this process by a thread of its own: a second or less of work, far more on a busy machine.

    Whoever is out of time leaves it; told to ``stop`` it ends after the piece it is at, so that it never outlives its process by much.
    """

    def __init__(self) -> None:
        self.stopped = False
        self.thread = Thread(target=self._run)
        self.thread.start()

    def wait(self, seconds: float) -> bool:
        """Whether it is done, or was stopped, within these seconds."""
        self.thread.join(seconds)
        return not self.thread.is_alive()

    def stop(self) -> None:
        """No more pieces."""
        self.stopped = True

    def _run(self) -> None:
        for piece in _pieces():
            if self.stopped:
                return
            piece()
        _here.append(True)


_here: list[bool] = []


class Fetching:
    """All that has to happen before the kernels run here: compiled by another process where they are not, then loaded by a thread."""

    def __init__(self) -> None:
        self.compiling = None if ready() else prepare()
        self.loading: Loading | None = None

    def done(self, wait: float = 0.0) -> bool:
        """Are they here, at the latest after so many seconds?"""
        if loaded():
            return True
        if self.compiling is not None:
            try:
                self.compiling.wait(wait)
            except subprocess.TimeoutExpired:
                return False
            self.compiling = None
        self.loading = self.loading or Loading()
        return self.loading.wait(wait) and loaded()

    def leave(self) -> None:
        """Nobody waits any longer. Compiling goes on by itself, for the next time."""
        if self.loading is not None:
            self.loading.stop()


def loaded() -> bool:
    """Are the kernels in this process?"""
    return bool(_here)


def load() -> None:
    """Fetch the kernels into this process now, compiling them first where need be."""
    if not loaded():
        Loading().thread.join()


def _pieces() -> Iterator[Callable[[], object]]:
    """What has to be fetched, piece by piece: each takes a few tenths of a second."""
    yield lambda: import_module("numba")
    yield lambda: import_module("wallwright.cutting.ruin_kernel")
    yield lambda: import_module("wallwright.cutting.price_kernel")
    from wallwright.cutting.columns import Columns
    from wallwright.cutting.construct import first_plan
    from wallwright.cutting.ruin import MOST_COST, Ruin
    from wallwright.cutting.tree import tasks

    pieces = (Piece("p", "ply", 610, 410, 7, "length"), Piece("q", "ply", 330, 350, 5))
    (task,) = tasks(Problem(pieces, (Sheet("s", "ply", 1000, 1010, 1.0),), Saw(4, 10, 3)))
    boards, waiting = first_plan(task)
    made: list[Ruin] = []
    yield lambda: made.append(Ruin(task, boards, waiting, len(boards) + 2, 1))
    (ruin,) = made
    ruin.give_up(1)
    yield lambda: ruin.search(MOST_COST, 10)
    yield lambda: ruin.gather(MOST_COST, 10, 0.0)
    columns: list[Columns] = []
    yield lambda: columns.append(Columns(task))
    columns[0].seed(boards)
    yield lambda: columns[0].round()


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
