"""What goes where: a first, plain allotment. What must be low first, then the heaviest, each to the lowest level it fits."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from wallwright.core.limit import Limits
from wallwright.storage.record import Allotted, Demand

if TYPE_CHECKING:
    from wallwright.carcass.record import BayBox


@dataclass(slots=True)
class Level:
    """One level of a bay: a drawer or the space over a shelf. floor z, clear height, depth, and the run still free [mm]."""

    bay: str
    unit: str
    z: float
    height: float
    depth: float
    run: float
    drawer: bool


def levels(bays: Sequence[BayBox], limits: Limits) -> list[Level]:
    """The levels of all bays, each equal within its bay."""
    v = limits.value
    out: list[Level] = []
    for bay in bays:
        drawer = bay.front == "drawers"
        count = max(1, bay.drawers) if drawer else bay.shelves + 1
        step = bay.box.height / count
        board = v("storage.shelf_thickness") * bay.shelves / count
        height = step - v("storage.drawer_height_loss") if drawer else step - board
        width = bay.box.width - (v("storage.drawer_loss") if drawer else 0.0)
        for number in range(count):
            out.append(
                Level(
                    bay.ref, bay.unit, bay.box.z + number * step, height, bay.depth, max(0.0, width), drawer
                )
            )
    return out


def reserve(free: list[Level], widths: Iterable[tuple[float, float, float]]) -> None:
    """Take room for devices (width, depth, height), each from the lowest shelf that holds it; never from a drawer."""
    for width, depth, height in widths:
        for level in sorted((item for item in free if not item.drawer), key=lambda item: item.z):
            if level.run >= width and level.depth >= depth and level.height >= height:
                level.run -= width
                break


def allot(
    wanted: Sequence[Demand], free: list[Level], low_reach: float
) -> tuple[tuple[Allotted, ...], tuple[tuple[str, int], ...]]:
    """What each bay holds, and what found no place as (kind, count).

    Low things go only to levels within reach; a thing goes in by ones, so that a kind may be shared out over several bays.
    """
    placed: dict[tuple[str, str], int] = {}
    over: list[tuple[str, int]] = []
    for demand in sorted(wanted, key=_first):
        left = demand.count
        each = demand.run / demand.count if demand.count else 0.0
        for level in sorted(free, key=lambda item: item.z):
            if left == 0:
                break
            if (
                level.height < demand.height
                or level.depth < demand.depth
                or (demand.low and level.z > low_reach)
            ):
                continue
            count = min(left, int(level.run / each + 1e-9))
            if count:
                level.run -= count * each
                left -= count
                key = demand.kind, level.bay
                placed[key] = placed.get(key, 0) + count
        if left:
            over.append((demand.kind, left))
    return tuple(Allotted(kind, bay, count) for (kind, bay), count in placed.items()), tuple(over)


def _first(demand: Demand) -> tuple[bool, float, str]:
    """Low things first, then by load per run."""
    return not demand.low, -(demand.mass / demand.run if demand.run else 0.0), demand.kind
