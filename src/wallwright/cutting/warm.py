"""The first search on a machine compiles its kernels: ten seconds or so, once, kept on disk beside the package.

A caller with a deadline should not wait for that. So it is done in a process of its own, and until it is done the slow
search goes on. `python -m wallwright.cutting.warm` does it beforehand.
"""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

from wallwright.cutting.model import Piece, Problem, Saw, Sheet


def ready() -> bool:
    """Are the kernels compiled, in this version, on this machine? True also where nothing can be kept on disk."""
    from wallwright.cutting import price_kernel, ruin_kernel

    for module, name in ((ruin_kernel, "run"), (ruin_kernel, "survey_all"), (price_kernel, "read_strip")):
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


def main() -> None:
    """Search a small problem for a few steps: that compiles everything."""
    from wallwright.cutting.solve import solve

    sizes = ((500, 300, 9), (410, 270, 9), (330, 350, 9))
    pieces = tuple(Piece(f"p{i}", "ply", a, b, n) for i, (a, b, n) in enumerate(sizes))
    for stages in (2, 3):
        solve(Problem(pieces, (Sheet("s", "ply", 1000, 1010, 1.0),), Saw(4, 10, stages)), iterations=60_000)


if __name__ == "__main__":
    main()
