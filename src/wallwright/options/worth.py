"""What a proposal is worth: comfort, storage, calm, waste, ease of building, style and price; and which of two is no worse in any."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from wallwright.options.directions import Direction, heavy_behind, wished
from wallwright.options.shapes import ACCENTS, Shape

if TYPE_CHECKING:
    from wallwright.core.finding import Finding
    from wallwright.core.limit import Limits
    from wallwright.derive import Wall
    from wallwright.job.document import Job

NEAR = 40.0
"""From here on [mm] the screen is seen to hang beside the axis of what it hangs over."""
MANY = 60.0
"""A wall of so many parts is half as easy to build as one of none: an estimate of ours."""


@dataclass(frozen=True, slots=True)
class Scores:
    """Each from 0 (bad) to 1 (good), none of them moved by the budget."""

    comfort: float
    storage: float
    calm: float
    waste: float
    build: float
    style: float

    def merit(self, limits: Limits) -> float:
        """The weighted mean, 0 to 1."""
        names = ("comfort", "storage", "calm", "waste", "build", "style")
        weights = [limits.value(f"options.{name}") for name in names]
        total = sum(weights) or 1.0
        return sum(weight * getattr(self, name) for weight, name in zip(weights, names, strict=True)) / total


def scores_of(wall: Wall, found: tuple[Finding, ...], shape: Shape, direction: Direction) -> Scores:
    """The scores of a wall."""
    return Scores(
        _comfort(wall), _storage(wall), _calm(wall, shape), _waste(wall), _build(wall, found), _style(wall.job, shape, direction)
    )  # fmt: skip


def _comfort(wall: Wall) -> float:
    """The size as the seats would like it, less what the height is off: ten degrees off lose half."""
    row = next((row for row in wall.sight.candidates if row.diagonal == wall.sight.screen.diagonal), None)
    size = row.score / 100 if row else 0.5
    off = sum(seat.share * abs(seat.off) for seat in wall.sight.seats)
    return size * max(0.0, 1 - off / 20)


def _storage(wall: Wall) -> float:
    """The share of the wanted shelf run that found a place."""
    wanted = sum(demand.run for demand in wall.storage.demands)
    return kept_run(wall) / wanted if wanted > 0 else 1.0


def kept_run(wall: Wall) -> float:
    """The shelf run of the things that found a place [mm]."""
    each = {demand.kind: demand.each for demand in wall.storage.demands}
    missing = sum(count * each.get(kind, 0.0) for kind, count in wall.storage.leftovers)
    return max(0.0, sum(demand.run for demand in wall.storage.demands) - missing)


def _calm(wall: Wall, shape: Shape) -> float:
    """Alike on both sides, few hues, few joints beside an edge; and no second star where the wall behind the seats leads."""
    look = wall.look
    score = 0.5 + 0.5 * look.balance
    score -= 0.1 * max(0, look.hue_families - 1)
    score -= 0.1 * (_beside_axis(wall) > NEAR)
    heavy = heavy_behind(wall.job)
    if shape.key in ACCENTS:
        score += {"plain": 0.1, "some": -0.1, "heavy": -0.4}[heavy]
    elif heavy == "heavy":
        score += 0.1 * (1 - shape.weight)
    return min(1.0, max(0.0, score))


def _beside_axis(wall: Wall) -> float:
    """How far the console's middle is from the screen's [mm]."""
    middle = wall.sight.screen.centre[0]
    return max(
        (abs(unit.box.centre[0] - middle) for unit in wall.setout.units if unit.kind == "console"),
        default=0.0,
    )


def _waste(wall: Wall) -> float:
    """The used share of the sheets that are paid for, by their number."""
    sheets = [(count, share) for _, count, share in wall.cuts.sheets if count]
    total = sum(count for count, _ in sheets)
    return sum(count * share for count, share in sheets) / total if total else 1.0


def _build(wall: Wall, found: tuple[Finding, ...]) -> float:
    """Fewer pieces, and less that is still to be weighed; what has no place is weighed by `_storage`."""
    weigh = sum(item.severity == "consider" and item.rule != "storage.left_over" for item in found)
    return 1 / (1 + len(wall.carcass.parts) / MANY + weigh / 20)


def _style(job: Job, shape: Shape, direction: Direction) -> float:
    """The client's words met; half where nobody said any."""
    by_direction, by_shape = wished(job.brief.style)
    total = sum(by_direction.values()) + sum(by_shape.values())
    if not total:
        return 0.5
    return min(1.0, (by_direction.get(direction.key, 0) + by_shape.get(shape.key, 0)) / total)


def worth(scores: Scores, price: int, least: int, limits: Limits) -> float:
    """Merit less what the price loses for each doubling over the least dear sound wall."""
    names = ("comfort", "storage", "calm", "waste", "build", "style")
    total = sum(limits.value(f"options.{name}") for name in names) or 1.0
    dear = math.log2(max(price, 1) / max(least, 1))
    return scores.merit(limits) - limits.value("options.cost") * 0.25 * dear / total


def front(rows: Sequence[tuple[float, ...]]) -> list[int]:
    """The places of the rows that no other row beats: none that is at least as good in all and better in one. More is better.

    Of equal rows the first stays.
    """
    out: list[int] = []
    for i, row in enumerate(rows):
        beaten = any(
            all(b >= a for a, b in zip(row, other, strict=True)) and (other != row or j < i)
            for j, other in enumerate(rows)
            if j != i
        )
        if not beaten:
            out.append(i)
    return out


def spread_out(count: int, first: Iterable[int], far: Sequence[Sequence[float]]) -> list[int]:
    """So many places that lie far apart, the first given: each next one is the farthest from those there are (max-min).

    far : the distance of each pair; a place that is no distance from one that was taken is not taken.
    """
    taken = list(first)
    while len(taken) < count:
        rest = [(min(far[i][j] for j in taken), -i) for i in range(len(far)) if i not in taken]
        best = max(rest, default=(0.0, 0))
        if best[0] <= 0:
            break
        taken.append(-best[1])
    return taken[:count] if count > 0 else []
