"""Which sheet would be worth most at these part values? The question that column generation asks again and again.

A sheet is cut into strips, a strip into stacks, a stack into parts, and a part may be trimmed once more; the first
cuts run either way. A strip's best value only rises with its height, so a strip measured at one height bounds every
strip a little lower. That gives two knapsacks of the sheet: over the strips measured (a pattern that can be cut) and
over the bounds between them (no pattern can be worth more). Heights are measured only where the two still differ by
something that matters, so a grid of tenths of a mm costs little more than one of whole mm.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any, NamedTuple

from wallwright.cutting.improve import never
from wallwright.cutting.tree import Task

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Ints = NDArray[np.int64]
    Floats = NDArray[np.float64]

FIRST = 48  # heights measured to begin with, besides those of single parts
MOST = 12  # patterns read off one side at a time
LONGEST = (
    4000  # parts that a pattern is read to; a sheet of more is of crumbs, and the rest of it stays empty
)
LARGEST = 60_000_000  # cells of a stack table; beyond that (half a GB) heights are not priced at all


def _kernel() -> Any:
    """The compiled knapsacks, loaded when first needed."""
    from wallwright.cutting import price_kernel

    return price_kernel


class Pattern(NamedTuple):
    """One way to cut a kind of sheet: ``rows`` of (strip, its height, stack, its width, lay); lays of its side."""

    kind: int
    axis: int  # the axis along which the first cuts divide the sheet: 0 = x
    rows: Ints
    lays: tuple[tuple[int, int], ...]  # (part, which of its lies)


class Priced(NamedTuple):
    """Answer of one side: the best found, what none can exceed, and the patterns worth more than asked."""

    best: float
    most: float
    patterns: list[Pattern]


class Side:
    """One kind of sheet, first divided along one axis."""

    def __init__(self, task: Task, kind: int, axis: int) -> None:
        import numpy as np

        stock = task.stock[kind]
        self.kind, self.axis = kind, axis
        self.height, self.width = (stock.x, stock.y) if axis == 0 else (stock.y, stock.x)
        lays: list[tuple[int, int, int, int]] = []
        for part, lies in enumerate(task.lies):
            for which, lie in enumerate(lies):
                deep, wide = (lie[0], lie[1]) if axis == 0 else (lie[1], lie[0])
                if deep <= self.height and wide <= self.width:
                    lays.append((wide, deep, part, which))
        lays.sort()
        self.lays = tuple((part, which) for _, _, part, which in lays)
        self.part = np.array([part for _, _, part, _ in lays], dtype=np.int64)
        self.deep = np.array([deep for _, deep, _, _ in lays], dtype=np.int64)
        every = np.array([wide for wide, _, _, _ in lays], dtype=np.int64)
        self.wide, first = np.unique(every, return_index=True)
        self.first: Ints = np.append(first, len(lays)).astype(np.int64)
        self.single = task.levels == 2
        self.usable = len(lays) > 0 and len(self.wide) * (self.height + 1) <= LARGEST
        self.reach = self._reachable()
        self.points = self._points()

    def _reachable(self) -> Ints:
        """Heights at which a strip can become worth more: sums of part heights."""
        import numpy as np

        if self.single:
            return np.unique(self.deep)
        seen = np.zeros(self.height + 1, dtype=np.bool_)
        seen[0] = True
        for deep in np.unique(self.deep):
            step = int(deep)
            for start in range(step, self.height + 1, step):
                end = min(start + step, self.height + 1)
                seen[start:end] |= seen[start - step : end - step]
        return np.flatnonzero(seen)[1:]

    def _points(self) -> Ints:
        """Where to measure first, as places in ``reach``."""
        import numpy as np

        if self.single or len(self.reach) <= 4 * FIRST:
            return np.arange(len(self.reach))
        even = np.linspace(0, len(self.reach) - 1, FIRST).astype(np.int64)
        return np.unique(np.concatenate([np.searchsorted(self.reach, np.unique(self.deep)), even]))

    def price(self, values: Floats, enough: float, close: float, late: Callable[[], bool] = never) -> Priced:
        """The best pattern at these part values.

        Stops as soon as a pattern is worth more than ``enough`` or none can be worth more than ``close`` (above
        ``enough``). Patterns worth more than ``enough`` are handed back, best first. Where it grew late: none, and no limit to what one may be worth.
        """
        import numpy as np

        kernel = _kernel()
        value = values[self.part]
        F = kernel.stack_values(self.deep, value, self.first, self.height, self.single)
        reach, points = self.reach, self.points
        gain = kernel.strip_values(F, self.wide, self.width, reach[points])
        while not late():
            gain = np.maximum.accumulate(gain)
            S = kernel.sheet_values(reach[points], gain, self.height)
            low = reach[np.append(0, points[:-1] + 1)]
            T = kernel.sheet_values(low, gain, self.height)
            if S[-1] > enough:
                break
            if T[-1] <= close:
                return Priced(float(S[-1]), float(T[-1]), [])
            gap = np.diff(points, prepend=-1) > 1
            rise = np.diff(gain, prepend=0.0) > 1e-10
            split = np.flatnonzero(gap & rise & (gain + T[self.height - low] > close))
            if not len(split):
                return Priced(float(S[-1]), float(T[-1]), [])
            before = np.append(-1, points)[split]
            fresh = (points[split] + before) // 2
            fresh = fresh[fresh > before]
            measured = kernel.strip_values(F, self.wide, self.width, reach[fresh])
            order = np.argsort(np.concatenate([points, fresh]), kind="stable")
            points = np.concatenate([points, fresh])[order]
            gain = np.concatenate([gain, measured])[order]
        else:
            return Priced(0.0, float("inf"), [])
        return Priced(float(S[-1]), float(T[-1]), self._read(F, value, points, gain, S, enough))

    def _read(
        self, F: Floats, value: Floats, points: Ints, gain: Floats, S: Floats, enough: float
    ) -> list[Pattern]:
        """The best patterns around each strip worth using, best first; their heights are measured first from now on."""
        import numpy as np

        kernel = _kernel()
        heights = self.reach[points]
        around = gain + S[self.height - heights]
        found: list[Pattern] = []
        known: set[bytes] = set()
        useful: set[int] = set()
        read: dict[int, Ints] = {}
        for at in np.argsort(-around, kind="stable")[: 4 * MOST]:
            if around[at] <= enough or len(found) >= MOST:
                break
            rest = kernel.read_sheet(S, heights, gain, self.height - int(heights[at]))
            strips = sorted([int(at), *(int(i) for i in rest)])
            rows: list[Ints] = []
            count = 0
            for number, strip in enumerate(strips):
                if strip not in read:
                    read[strip] = kernel.read_strip(
                        F,
                        self.wide,
                        self.deep,
                        value,
                        self.first,
                        self.single,
                        int(heights[strip]),
                        self.width,
                    )
                own = read[strip]
                count += len(own)
                if rows and count > LONGEST:
                    break
                named = np.empty((len(own), 5), dtype=np.int64)
                named[:, 0], named[:, 1], named[:, 2:] = number, heights[strip], own
                rows.append(named)
            pattern = np.concatenate(rows)
            key = np.bincount(self.part[pattern[:, 4]], minlength=len(value)).tobytes()
            if key not in known:
                known.add(key)
                useful |= {int(points[i]) for i in strips}
                found.append(Pattern(self.kind, self.axis, pattern, self.lays))
        self.points = np.unique(np.concatenate([self.points, np.array(sorted(useful), dtype=np.int64)]))
        return found


def sides(task: Task) -> list[Side]:
    """Every kind of sheet, first divided either way."""
    return [
        side for kind in range(len(task.stock)) for axis in (0, 1) if (side := Side(task, kind, axis)).lays
    ]


def made(pattern: Pattern, parts: int) -> Ints:
    """How many of each part a pattern gives."""
    import numpy as np

    kinds = np.array([part for part, _ in pattern.lays], dtype=np.int64)
    return np.bincount(kinds[pattern.rows[:, 4]], minlength=parts)
