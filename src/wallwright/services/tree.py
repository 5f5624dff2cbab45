"""One circuit's tree of runs: from where the supply comes in to every point, and how much cable that is."""

from __future__ import annotations

from collections.abc import Sequence

from wallwright.core.limit import Limits
from wallwright.core.shape import Point2
from wallwright.services.record import Run, ServicePoint
from wallwright.services.runs import Layer, Sort


def lay_tree(lay: Layer, sort: Sort, start: tuple[str, Point2], members: Sequence[ServicePoint]) -> None:
    """Lay one circuit's tree from where the supply comes in, each leg from the nearest place joined already.

    Nearest as the run lies: a leg that must go round something is tried from every other place that could be nearer, and one that would
    be cut where the leaf does not bear it from every other place at all.
    """
    at = {-1: start} | {i: (p.ref, (p.x, p.z)) for i, p in enumerate(members)}
    joined, waiting = [-1], set(range(len(members)))
    while waiting:
        pairs = sorted((_apart(at[a][1], at[b][1]), a, b) for a in joined for b in waiting)
        bound, a, b = pairs[0]
        best, found = lay.find(sort, at[a][1], at[b][1]), (a, b)
        borne = lay.bears(sort, best[0])
        for least, c, d in pairs[1:] if best[0].length > bound + 1.0 or not borne else ():
            if least >= best[0].length and (borne or d != b):
                continue
            other = lay.find(sort, at[c][1], at[d][1])
            lawful = lay.bears(sort, other[0])
            if (other[1], lawful, -other[0].length) > (best[1], borne, -best[0].length):
                best, found, borne = other, (c, d), lawful
        a, b = found
        lay.lay(sort, at[a], at[b], best)
        joined.append(b)
        waiting.remove(b)


def reached(runs: Sequence[Run], limits: Limits) -> dict[str, float]:
    """The mains cable [mm] from the supply to each point, leg by leg as the runs lie, with the slack of every leg."""
    share, ends = limits.value("services.run_slack"), 2 * limits.value("services.end_slack")
    far = {"supply": 0.0}
    for run in runs:
        if run.kind == "mains":
            far[run.end] = far[run.start] + run.length * (1 + share) + ends
    return far


def _apart(a: Point2, b: Point2) -> float:
    return abs(a[0] - b[0]) + abs(a[1] - b[1])
