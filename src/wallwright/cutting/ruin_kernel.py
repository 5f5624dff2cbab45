"""Ruin a few sheets a little and put the parts back, compiled: the steps of ``improve.py``.

A step that is not kept is taken back from copies of the sheets it touched. Random numbers come from the state's own
generator (xorshift64*, from memory), so that the same seed takes the same steps on any number of threads.
"""

# pyright: reportUntypedFunctionDecorator=false, reportUnknownMemberType=false, reportUnknownVariableType=false
# pyright: reportMissingTypeStubs=false, reportUnknownParameterType=false, reportMissingParameterType=false
# pyright: reportUnknownArgumentType=false, reportUntypedNamedTuple=false

from __future__ import annotations

from collections import namedtuple

import numpy as np
from numba import njit

from wallwright.cutting.tree_kernel import (
    ALIVE,
    AREA,
    AXIS,
    CHAIN,
    CHILD,
    DIVISION,
    FREE,
    HIGH,
    KIND,
    LAY,
    LEFT,
    LEVEL,
    OFFCUT,
    ROOT,
    SLABS,
    THICK,
    WIDEST,
    new_node,
    put,
    survey,
    take_out,
)

BLINK = 0.03  # chance to overlook a spot: keeps the recreation from always doing the same
EMPTY = 0.1  # chance to clear a chosen sheet
VIEW = 96  # sheets looked at by one recreation

# lays: (part, x, y) each, those of part p from first[p] to first[p + 1]; sheets: (x, y, stock, cost)
Goods = namedtuple("Goods", "lays first area sheets levels kerf worth")
# nodes, heads, measures, slabs of every board; the same of the copies; parts waiting and their copy; scratch
Bench = namedtuple("Bench", "N H M S N2 H2 M2 S2 wait wait2 touched watch stack loose order rng")


@njit(cache=True, nogil=True)
def draw(rng):
    """A number from 0 to 1."""
    x = rng[0]
    x ^= x >> np.uint64(12)
    x ^= x << np.uint64(25)
    x ^= x >> np.uint64(27)
    rng[0] = x
    return float((x * np.uint64(2685821657736338717)) >> np.uint64(11)) / 9007199254740992.0


@njit(cache=True, nogil=True)
def _pick(rng, n):
    return min(int(draw(rng) * n), n - 1)


@njit(cache=True, nogil=True)
def _copy(N, H, M, S, N2, H2, M2, S2, b):
    H2[b] = H[b]
    M2[b] = M[b]
    N2[b, : H[b, HIGH]] = N[b, : H[b, HIGH]]
    S2[b, : H[b, SLABS]] = S[b, : H[b, SLABS]]


@njit(cache=True, nogil=True)
def _touch(t, b, count):
    """Keep a copy before the first change of a board in this step."""
    for i in range(count):
        if t.touched[i] == b:
            return count
    _copy(t.N, t.H, t.M, t.S, t.N2, t.H2, t.M2, t.S2, b)
    t.touched[count] = b
    return count + 1


@njit(cache=True, nogil=True)
def _ruin(t, g, keeper, touched):
    """Subtrees out of one to four boards; their lays go to ``loose``."""
    rng, boards = t.rng, len(t.H)
    loose = 0
    rounds = 1 + _pick(rng, 3)
    for i in range(rounds):
        b = keeper if i == 0 and keeper >= 0 and draw(rng) < 0.5 else _pick(rng, boards)
        tries = 0
        while t.H[b, ALIVE] == 0 and tries < 4 * boards:
            b = (b + 1) % boards
            tries += 1
        if t.H[b, ALIVE] == 0:
            break
        touched = _touch(t, b, touched)
        N, head = t.N[b], t.H[b]
        before = loose
        if draw(rng) < EMPTY:
            child = N[head[ROOT], CHILD]
            while child >= 0:
                loose = take_out(N, head, child, t.loose, loose, t.stack)
                child = N[head[ROOT], CHILD]
        else:
            for _ in range(1 + _pick(rng, 4)):
                if N[head[ROOT], CHILD] < 0:
                    break
                n = _pick(rng, head[HIGH])
                while N[n, LAY] == FREE or n == head[ROOT]:
                    n = (n + 1) % head[HIGH]
                loose = take_out(N, head, n, t.loose, loose, t.stack)
        for j in range(before, loose):
            t.M[b, AREA] -= g.area[g.lays[t.loose[j], 0]]
        if N[head[ROOT], CHILD] < 0:
            head[ALIVE] = 0
        else:
            survey(N, head, t.M[b], t.S[b], g.levels, g.kerf, t.stack)
    for j in range(loose):
        t.wait[g.lays[t.loose[j], 0]] += 1
    return touched


@njit(cache=True, nogil=True)
def _rank(t, g):
    """Waiting parts in the order they are put back: large first by one of three measures, or any order."""
    rng, count = t.rng, 0
    measure = draw(rng)
    for p in range(len(t.wait)):
        if t.wait[p] == 0:
            continue
        x, y = float(g.lays[g.first[p], 1]), float(g.lays[g.first[p], 2])
        if measure < 0.5:
            key = g.area[p]
        elif measure < 0.75:
            key = max(x, y) + 1e-6 * draw(rng)
        elif measure < 0.85:
            key = min(x, y) + 1e-6 * draw(rng)
        elif measure < 0.92:
            key = g.worth[p]
        else:
            key = draw(rng)
        i = count
        while i > 0 and t.order[i - 1, 0] < key:
            t.order[i] = t.order[i - 1]
            i -= 1
        t.order[i, 0], t.order[i, 1] = key, p
        count += 1
    return count


@njit(cache=True, nogil=True)
def _spot(t, g, p, seen):
    """Where the part keeps the free areas largest: board (-1 none), division, lay, across."""
    rng, least = t.rng, np.inf
    board, node, lay, across = -1, -1, -1, False
    for v in range(seen):
        b = t.watch[v]
        if t.M[b, WIDEST] < g.area[p]:
            continue
        N = t.N[b]
        for s in range(t.H[b, SLABS]):
            n = t.S[b, s]
            left, thick, level = float(N[n, LEFT]), float(N[n, THICK]), N[n, LEVEL]
            if left * thick < g.area[p]:
                continue
            axis = t.H[b, AXIS] if level % 2 == 1 else 1 - t.H[b, AXIS]
            spare = g.levels - level
            for k in range(g.first[p], g.first[p + 1]):
                along, cross = float(g.lays[k, 1 + axis]), float(g.lays[k, 2 - axis])
                if along > left or cross > thick or draw(rng) < BLINK:
                    continue
                rest, side, whole = left - along, thick - cross, (left * thick) ** 2
                loss = whole - (rest * thick) ** 2
                if spare > 0:
                    loss -= (along * side) ** 2
                if loss < least:
                    least, board, node, lay, across = loss, b, n, k, False
                if spare > 0 and rest > 0.0 and side > 0.0:
                    loss = whole - (left * side) ** 2
                    if spare > 1:
                        loss -= (rest * cross) ** 2
                    if loss < least:
                        least, board, node, lay, across = loss, b, n, k, True
    return board, node, lay, across


@njit(cache=True, nogil=True)
def _open(t, g, p, money, free):
    """A new sheet with the part in its corner, of any kind in stock that the money allows; its slot or -1."""
    slot = -1
    for b in range(len(t.H)):
        if t.H[b, ALIVE] == 0:
            slot = b
            break
    if slot < 0:
        return -1, -1
    kinds = len(g.sheets)
    start = _pick(t.rng, kinds)
    for i in range(kinds):
        kind = (start + i) % kinds
        if free[kind] <= 0 or g.sheets[kind, 3] > money:
            continue
        X, Y = float(g.sheets[kind, 0]), float(g.sheets[kind, 1])
        most, lay, axis = -1.0, -1, 0
        for k in range(g.first[p], g.first[p + 1]):
            x, y = float(g.lays[k, 1]), float(g.lays[k, 2])
            if x > X or y > Y:
                continue
            kept = ((X - x) * Y) ** 2 + (x * (Y - y)) ** 2
            if kept > most:
                most, lay, axis = kept, k, 0
            kept = ((Y - y) * X) ** 2 + (y * (X - x)) ** 2
            if kept > most:
                most, lay, axis = kept, k, 1
        if lay >= 0:
            return slot, _start(t, g, slot, kind, axis, lay)
    return -1, -1


@njit(cache=True, nogil=True)
def _start(t, g, b, kind, axis, lay):
    """Board ``b`` is a new sheet, divided along ``axis``, with one part."""
    head = t.H[b]
    head[:] = 0
    head[AXIS], head[KIND], head[CHAIN], head[ALIVE] = axis, kind, -1, 1
    head[ROOT] = new_node(t.N[b], head, g.sheets[kind, 1 - axis], g.sheets[kind, axis], DIVISION)
    put(t.N[b], head, head[ROOT], g.lays[lay, 1 + axis], g.lays[lay, 2 - axis], lay, False)
    t.M[b, AREA] = g.area[g.lays[lay, 0]]
    survey(t.N[b], head, t.M[b], t.S[b], g.levels, g.kerf, t.stack)
    return kind


@njit(cache=True, nogil=True)
def _step(t, g, limit, keeper):
    """One ruin and recreate; how many boards were copied."""
    t.wait2[:] = t.wait
    touched = _ruin(t, g, keeper, 0)
    count = _rank(t, g)
    boards, seen = len(t.H), 0
    free = g.sheets[:, 2].copy()
    cost = 0
    start = _pick(t.rng, boards)
    for i in range(boards):
        b = (start + i) % boards
        if t.H[b, ALIVE] == 0:
            continue
        free[t.H[b, KIND]] -= 1
        cost += g.sheets[t.H[b, KIND], 3]
        if seen < VIEW:
            t.watch[seen] = b
            seen += 1
    for i in range(count):
        p = int(t.order[i, 1])
        while t.wait[p] > 0:
            b, n, lay, across = _spot(t, g, p, seen)
            if b >= 0:
                touched = _touch(t, b, touched)
                axis = t.H[b, AXIS] if t.N[b, n, LEVEL] % 2 == 1 else 1 - t.H[b, AXIS]
                put(t.N[b], t.H[b], n, g.lays[lay, 1 + axis], g.lays[lay, 2 - axis], lay, across)
                t.M[b, AREA] += g.area[p]
                survey(t.N[b], t.H[b], t.M[b], t.S[b], g.levels, g.kerf, t.stack)
            else:
                for j in range(boards):  # the slot to be used must have its copy before it changes
                    if t.H[j, ALIVE] == 0:
                        touched = _touch(t, j, touched)
                        break
                b, kind = _open(t, g, p, limit - cost, free)
                if b < 0:
                    break
                free[kind] -= 1
                cost += g.sheets[kind, 3]
                t.watch[seen] = b
                seen += 1
            t.wait[p] -= 1
    return touched


@njit(cache=True, nogil=True)
def waiting(t, g):
    """Area of the parts that wait."""
    total = 0.0
    for p in range(len(t.wait)):
        total += t.wait[p] * g.worth[p]
    return total


@njit(cache=True, nogil=True)
def gathered(t):
    """Largest offcut, and a little for the other large rests so that the search has a slope to climb; its board."""
    most, squares, keeper = 0.0, 0.0, -1
    for b in range(len(t.H)):
        if t.H[b, ALIVE] == 1:
            squares += t.M[b, OFFCUT] ** 2
            if t.M[b, OFFCUT] > most:
                most, keeper = t.M[b, OFFCUT], b
    return most + 1e-3 * squares**0.5, keeper


@njit(cache=True, nogil=True)
def run(t, g, limit, history, at, steps, gather, goal):
    """Steps until nothing waits (or, gathering, until the offcut beats ``goal``); how many were taken.

    Late acceptance: a step may be as bad as the state ``len(history)`` steps ago.
    """
    now = -gathered(t)[0] if gather else waiting(t, g)
    for step in range(steps):
        keeper = gathered(t)[1] if gather else -1
        touched = _step(t, g, limit, keeper)
        value = waiting(t, g)
        if gather:
            value = -gathered(t)[0] if value == 0.0 else np.inf
        place = (at + step) % len(history)
        if value <= history[place] or value <= now:
            now = value
        else:
            for i in range(touched):
                b = t.touched[i]
                _copy(t.N2, t.H2, t.M2, t.S2, t.N, t.H, t.M, t.S, b)
            t.wait[:] = t.wait2
        history[place] = min(history[place], now)
        if now < goal:
            return step + 1
    return steps


@njit(cache=True, nogil=True)
def survey_all(t, g):
    """Measure every board afresh, as after loading."""
    for b in range(len(t.H)):
        if t.H[b, ALIVE] == 1:
            survey(t.N[b], t.H[b], t.M[b], t.S[b], g.levels, g.kerf, t.stack)
