"""The compiled search for one material's sheets: parts and boards in as tables, boards out again.

``improve.py`` holds the idea and the slow, compile-free version for a wall's few sheets; this one takes some ten
thousand steps a second and is what a long search runs on.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Any

from wallwright.cutting.improve import never
from wallwright.cutting.tree import UNLIMITED, Board, Node, Task

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Ints = NDArray[np.int64]
    Floats = NDArray[np.float64]

MEMORY = 300  # length of the late-acceptance history: the shorter, the sooner it settles
MOST_COST = 1 << 62
LOOK = 100  # steps between two questions whether it is late: some hundredths of a second on the largest plans


class Ruin:
    """Boards of one task on the compiled bench. ``slots``: how many boards there may ever be at once."""

    def __init__(
        self,
        task: Task,
        boards: Sequence[Board],
        loose: Sequence[int],
        slots: int,
        seed: int,
        memory: int = MEMORY,
        worth: Floats | None = None,
    ) -> None:
        import numpy as np

        from wallwright.cutting import ruin_kernel

        kernel: Any = ruin_kernel
        self.task, self.kernel = task, kernel
        parts = len(task.pieces)
        lays = [(part, x, y) for part, lies in enumerate(task.lies) for x, y, _ in lies]
        first = np.cumsum([0, *(len(lies) for lies in task.lies)])
        self.first: Ints = first.astype(np.int64)
        costs = kernel_costs(task)
        stock = [(s.x, s.y, min(s.most, UNLIMITED), cost) for s, cost in zip(task.stock, costs, strict=True)]
        levels = min(task.levels, 1000)
        area = np.array(task.areas, dtype=np.float64)
        table = np.array(lays, dtype=np.int64).reshape(-1, 3)
        self.goods: Any = kernel.Goods(
            table,
            self.first,
            area,
            np.array(stock, dtype=np.int64).reshape(-1, 4),
            levels,
            task.saw.kerf,
            area if worth is None else np.array(worth, dtype=np.float64),
        )
        total = sum(len(b.root.parts()) for b in boards) + len(loose)
        roomiest = max((s.x * s.y for s in task.stock), default=0)
        capacity = 3 * min(total, roomiest // max(1, min(task.areas, default=1))) + 16
        slots = max(slots, len(boards) + 1)
        N = np.zeros((slots, capacity, 8), dtype=np.int32)
        N[:, :, 6] = -2
        H, M = np.zeros((slots, 7), dtype=np.int32), np.zeros((slots, 3))
        S = np.zeros((slots, capacity), dtype=np.int32)
        wait = np.zeros(parts, dtype=np.int64)
        for part in loose:
            wait[part] += 1
        rng = np.array([(seed * 0x9E3779B97F4A7C15 + 0x1234567) % (1 << 64) | 1], dtype=np.uint64)
        self.bench: Any = kernel.Bench(
            N, H, M, S, N.copy(), H.copy(), M.copy(), S.copy(), wait, wait.copy(),
            np.zeros(2 * slots + 64, dtype=np.int64), np.zeros(2 * slots + kernel.VIEW + 64, dtype=np.int64),
            np.zeros(capacity + 16, dtype=np.int64), np.zeros(slots * capacity + 16, dtype=np.int64),
            np.zeros((parts + 1, 2)), rng,
        )  # fmt: skip
        for slot, board in enumerate(boards):
            self._load(slot, board)
        kernel.survey_all(self.bench, self.goods)
        self.history: Any = np.full(memory, self.waiting())
        self.at = 0

    # --- boards in and out -------------------------------------------------------------------------------------------

    def _load(self, slot: int, board: Board) -> None:
        N, H = self.bench.N[slot], self.bench.H[slot]
        H[:] = (0, board.axis, board.kind, 0, -1, 0, 1)
        self.bench.M[slot, 0] = board.area
        lay_of = {
            (part, turned): int(self.first[part]) + which
            for part, lies in enumerate(self.task.lies)
            for which, (_, _, turned) in enumerate(lies)
        }
        rows: dict[int, int] = {}
        todo: list[Node] = [board.root]
        while todo:
            node = todo.pop()
            row = rows[id(node)] = len(rows)
            parent = -1 if node.parent is None else rows[id(node.parent)]
            after = -1 if parent < 0 else int(N[parent, 3])
            lay = -1 if node.children is not None else lay_of[node.part, node.turned]
            N[row] = (node.thick, node.left, parent, -1, after, -1, lay, 0)
            if after >= 0:
                N[after, 5] = row
            if parent >= 0:
                N[parent, 3] = row
            todo += node.children or []
        H[3] = len(rows)

    def boards(self) -> list[Board]:
        """The boards as they stand."""
        return [self._unload(slot) for slot in range(len(self.bench.H)) if self.bench.H[slot, 6]]

    def makes(self) -> list[tuple[int, int, Ints]]:
        """Slot, kind and how many of each part, of every board as it stands."""
        import numpy as np

        H, N = self.bench.H, self.bench.N
        found: list[tuple[int, int, Ints]] = []
        for slot in np.flatnonzero(H[:, 6] == 1).tolist():
            lays = N[slot, : H[slot, 3], 6]
            parts = self.goods.lays[lays[lays >= 0], 0]
            found.append((slot, int(H[slot, 2]), np.bincount(parts, minlength=len(self.task.pieces))))
        return found

    def board(self, slot: int) -> Board:
        """One board as it stands."""
        return self._unload(slot)

    def _unload(self, slot: int) -> Board:
        rows = self.bench.N[slot].tolist()
        root, axis, kind, *_ = self.bench.H[slot].tolist()

        def build(row: int, parent: Node | None) -> Node:
            thick, left, _, child, _, _, lay, _ = rows[row]
            node = Node(thick, left, parent, None)
            if lay >= 0:
                part = int(self.goods.lays[lay, 0])
                node.part, node.turned = part, self.task.lies[part][lay - int(self.first[part])][2]
                return node
            children: list[Node] = []
            while child >= 0:
                children.append(build(child, node))
                child = rows[child][4]
            node.children = children
            return node

        tree = build(root, None)
        return Board(kind, axis, tree, sum(self.task.areas[p] for p in tree.parts()))

    def loose(self) -> list[int]:
        """The parts that wait."""
        return [part for part, count in enumerate(self.bench.wait.tolist()) for _ in range(count)]

    # --- search ------------------------------------------------------------------------------------------------------

    def cost(self) -> int:
        """Cost of the boards in the kernel's units."""
        alive = self.bench.H[self.bench.H[:, 6] == 1, 2]
        return int(self.goods.sheets[alive, 3].sum())

    def waiting(self) -> float:
        """Area of the parts that wait."""
        return float(self.kernel.waiting(self.bench, self.goods))

    def give_up(self, limit: int) -> None:
        """Take whole sheets off the bench, emptiest first, until the rest costs no more than the limit."""
        import numpy as np

        H, M = self.bench.H, self.bench.M
        while self.cost() > limit:
            alive = np.flatnonzero(H[:, 6] == 1)
            slot = int(alive[np.argmin(M[alive, 0])])
            for part in self._unload(slot).root.parts():
                self.bench.wait[part] += 1
            H[slot, 6] = 0
        self.history[:] = self.waiting()
        self.at = 0

    def search(
        self, limit: int, steps: int, goal: float = 0.5, late: Callable[[], bool] = never
    ) -> tuple[int, float]:
        """Try to bring the waiting area below the goal within the cost limit: steps taken, and the area that waits."""
        if self.waiting() < goal:
            return 0, self.waiting()
        return self._run(limit, steps, goal, late, gather=False), self.waiting()

    def _run(self, limit: int, steps: int, goal: float, late: Callable[[], bool], *, gather: bool) -> int:
        """So many steps, fewer where the goal is reached or it is late; how the steps are parted changes nothing in them."""
        done = 0
        while done < steps and not late():
            most = min(LOOK, steps - done)
            own = int(
                self.kernel.run(self.bench, self.goods, limit, self.history, self.at, most, gather, goal)
            )
            self.at += own
            done += own
            if own < most or self._reached(goal, gather=gather):
                break
        return done

    def _reached(self, goal: float, *, gather: bool) -> bool:
        return -self.gathered() < goal if gather else self.waiting() < goal

    def gathered(self) -> float:
        """How well the free room is gathered: the largest offcut and a little for the others."""
        return float(self.kernel.gathered(self.bench)[0])

    def gather(self, limit: int, steps: int, goal: float) -> tuple[int, float]:
        """Try for an offcut larger than the goal: steps taken, and the value reached. Nothing may wait."""
        if self.at == 0:
            self.history[:] = -self.kernel.gathered(self.bench)[0]
        done = self._run(limit, steps, -goal, never, gather=True)
        return done, float(self.kernel.gathered(self.bench)[0])


def kernel_costs(task: Task) -> list[int]:
    """Costs of the sheets in whole units that a compiled sum can hold: price first, then the smaller sheet."""
    price = [s.cost >> 64 for s in task.stock]
    area = [s.sheet.length * s.sheet.width for s in task.stock]
    if not any(price):
        return [max(1, a // 100) for a in area]
    rank = [sorted(set(area)).index(a) for a in area]
    scale = 1 << 20 if max(price) < 1 << 24 else 1
    return [p * scale + (r if scale > 1 else 0) for p, r in zip(price, rank, strict=True)]
