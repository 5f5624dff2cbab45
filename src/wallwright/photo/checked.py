"""What can be wrong with marked points, said in words before any of it is reckoned with."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations
from typing import Any

import numpy as np

from wallwright.core.counted import counted
from wallwright.job.problem import JobError, Problem
from wallwright.photo.fit import Marked
from wallwright.photo.homography import homography, slope

LEAST, MOST = 4, 24
"""Points that a map needs, and as many as anybody marks."""
THIN = 0.02
"""A triangle of less than this share of all points' area tells nothing: they are as good as on one line."""


def checked(marked: Sequence[Marked], size: tuple[int, int], name: str) -> None:
    """Raise JobError, naming the photo file, with everything that keeps the points from being a picture of the wall."""
    problems = list(_each(marked, size))
    problems = problems or list(_together(marked))
    if problems:
        raise JobError(problems, name)


def _each(marked: Sequence[Marked], size: tuple[int, int]) -> Iterator[Problem]:
    if len(marked) < LEAST:
        says = f"holds {counted(len(marked), 'measured point')} on the wall; {LEAST} are needed, one near each corner, and 6 or more show a wrong one"
        yield Problem("points", "", says)
    if len(marked) > MOST:
        yield Problem("points", "", f"holds {len(marked)} points; {MOST} are more than enough")
    for i, one in enumerate(marked):
        if not (0 <= one.px[0] <= size[0] and 0 <= one.px[1] <= size[1]):
            says = (
                f"lies outside the picture of {size[0]} × {size[1]} pixels; count from its upper left corner"
            )
            yield Problem(f"points[{i}].px", f"[{one.px[0]:g}, {one.px[1]:g}]", says)
    for i, j in combinations(range(len(marked)), 2):
        a, b = marked[i], marked[j]
        if a.ref == b.ref:
            yield Problem(f"points[{j}].ref", a.ref, "is there twice; give each point a name of its own")
        if (
            np.hypot(a.px[0] - b.px[0], a.px[1] - b.px[1]) < 2
            or np.hypot(a.at[0] - b.at[0], a.at[1] - b.at[1]) < 1
        ):
            yield Problem(
                f"points[{j}]", b.ref, f"stands on {a.ref}: they are one point, in the photo or on the wall"
            )


def _together(marked: Sequence[Marked]) -> Iterator[Problem]:
    px, mm = (np.array([getattr(one, name) for one in marked], float) for name in ("px", "at"))
    for points, where in ((mm, "on the wall"), (px, "in the photo")):
        if _best_four(points) < THIN:
            says = f"lie {where} so that no four of them span an area (three or more on one line); take points near all four corners"
            yield Problem("points", "", says)
            return
    wrong = _twisted(marked, px, mm)
    if wrong:
        yield Problem("points", "", wrong)


def _areas(points: Any) -> dict[tuple[int, ...], float]:
    """Twice the signed area of each triangle of points, as a share of the square of their extent."""
    wide, high = (max(float(v), 1e-9) for v in np.ptp(points, axis=0))
    size = wide * high
    out: dict[tuple[int, ...], float] = {}
    for three in combinations(range(len(points)), 3):
        (ax, az), (bx, bz), (cx, cz) = ([float(v) for v in points[i]] for i in three)
        out[three] = ((bx - ax) * (cz - az) - (bz - az) * (cx - ax)) / size
    return out


def _best_four(points: Any) -> float:
    """The thinnest triangle of the four points that lie best, as a share of the area of all."""
    area = _areas(points)
    return max(
        min(abs(area[three]) for three in combinations(four, 3))
        for four in combinations(range(len(points)), 4)
    )


def _twisted(marked: Sequence[Marked], px: Any, mm: Any) -> str:
    """What is swapped; "" where the points run the same way round in the photo as on the wall, with the ceiling up."""
    if not _turned(px, mm):
        up = slope(homography(mm, px), mm.mean(axis=0)) @ np.array([0.0, 1.0])
        if -up[1] < abs(up[0]):
            return "stand as though the photo lay on its side or its head: turn it upright, or x and z are swapped"
        return ""
    if len(_turned(px * (-1, 1), mm)) == 0:
        return "run the wrong way round: left and right are swapped, or the photo is mirrored"
    pairs = [
        (marked[i].ref, marked[j].ref)
        for i, j in combinations(range(len(marked)), 2)
        if not _turned(_swapped(px, i, j), mm)
    ]
    both = (
        f"as though {' or '.join(f'{a} and {b}' for a, b in pairs[:2])} were swapped"
        if pairs
        else "in no order that a wall has"
    )
    return f"stand {both}: look at which mark belongs to which measured point"


def _swapped(points: Any, i: int, j: int) -> Any:
    out = points.copy()
    out[[i, j]] = out[[j, i]]
    return out


def _turned(px: Any, mm: Any) -> list[tuple[int, ...]]:
    """Triangles that run round the other way in the photo than on the wall; rows of a photo count downwards."""
    seen, there = _areas(px * (1, -1)), _areas(mm)
    return [
        three
        for three, area in there.items()
        if min(abs(area), abs(seen[three])) > THIN and area * seen[three] < 0
    ]
