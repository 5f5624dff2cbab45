"""The knapsacks behind a priced sheet, compiled: stacks of parts, strips of stacks, the sheet of strips.

Loaded only where a plan is searched for at length (numba is heavy). All lengths are inflated tenths of a mm, all values floats. A knapsack
here has no limit on how often a thing is taken, and ``K[x]`` is the best value that fits in a length of *at most* x.
P. C. Gilmore and R. E. Gomory, "Multistage cutting stock problems of two and more dimensions", Operations Research 13
(1965) (from memory).
"""

# pyright: reportUntypedFunctionDecorator=false, reportUnknownMemberType=false, reportUnknownVariableType=false
# pyright: reportMissingTypeStubs=false, reportUnknownParameterType=false, reportMissingParameterType=false
# pyright: reportUnknownArgumentType=false, reportMissingTypeArgument=false

from __future__ import annotations

import numpy as np
from numba import njit

NEAR = 1e-9  # sums of the same values in another order


@njit(cache=True, nogil=True)
def take(K, size, value):
    """Allow one more thing, as often as it fits. In blocks of ``size``, inside which nothing depends on anything."""
    n = len(K)
    start = size
    while start < n:
        end = min(start + size, n)
        low, high = K[start - size : end - size], K[start:end]
        for i in range(end - start):
            t = low[i] + value
            high[i] = t if t > high[i] else high[i]
        start = end


@njit(cache=True, nogil=True)
def stack_values(deep, value, first, height, single):
    """``F[c, h]``: best value of one stack of width class c in a strip h high.

    Lays are sorted by width; class c holds ``first[c]`` to ``first[c + 1]``. ``single``: a stack is one part (two
    stages); otherwise parts stand on one another, narrower ones trimmed to size afterwards (three stages).
    """
    classes = len(first) - 1
    F = np.zeros((classes, height + 1))
    for c in range(classes):
        if c and not single:
            F[c] = F[c - 1]
        for i in range(first[c], first[c + 1]):
            if value[i] <= 0.0 or deep[i] > height:
                continue
            if single:
                for h in range(deep[i], height + 1):
                    F[c, h] = max(F[c, h], value[i])
            else:
                take(F[c], deep[i], value[i])
    return F


@njit(cache=True, nogil=True)
def fill_strip(F, wide, h, K):
    """Best value of a strip h high; K becomes its knapsack. A class that narrower stacks equal is passed over."""
    K[:] = 0.0
    best = 0.0
    for c in range(len(wide)):
        if wide[c] >= len(K):
            break
        v = F[c, h]
        if v > best and v > K[wide[c]]:
            take(K, wide[c], v)
        best = max(best, v)
    return K[-1]


@njit(cache=True, nogil=True)
def strip_values(F, wide, width, heights):
    """Best value of a strip of each height."""
    K = np.empty(width + 1)
    G = np.empty(len(heights))
    for i in range(len(heights)):
        G[i] = fill_strip(F, wide, heights[i], K)
    return G


@njit(cache=True, nogil=True)
def sheet_values(sizes, values, height):
    """Knapsack of strips: best value within every height; sizes ascend."""
    S = np.zeros(height + 1)
    for i in range(len(sizes)):
        if sizes[i] <= height and values[i] > S[sizes[i]]:
            take(S, sizes[i], values[i])
    return S


@njit(cache=True, nogil=True)
def _down(K, x):
    """The least length with the same value."""
    while x > 0 and K[x - 1] >= K[x] - NEAR * 1e-3:
        x -= 1
    return x


@njit(cache=True, nogil=True)
def read_sheet(S, sizes, values, room):
    """Indices of the strips that make ``S[room]``."""
    found = np.empty(room + 1, np.int64)
    n = 0
    x = _down(S, room)
    while x > 0:
        hit = -1
        for i in range(len(sizes)):
            if sizes[i] <= x and S[x - sizes[i]] + values[i] >= S[x] - NEAR:
                hit = i
                break
        if hit < 0:
            break
        found[n] = hit
        n += 1
        x = _down(S, x - sizes[hit])
    return found[:n].copy()


@njit(cache=True, nogil=True)
def read_strip(F, wide, deep, value, first, single, h, width):
    """Parts of the best strip h high: rows of (stack, width of the stack, lay)."""
    K = np.empty(width + 1)
    fill_strip(F, wide, h, K)
    rows = np.empty((4096, 3), np.int64)
    n = 0
    stack = 0
    x = _down(K, width)
    while x > 0 and n < 4000:
        hit = -1
        for c in range(len(wide)):
            if wide[c] > x:
                break
            if F[c, h] > 0.0 and K[x - wide[c]] + F[c, h] >= K[x] - NEAR:
                hit = c
                break
        if hit < 0:
            break
        n = _read_stack(F, deep, value, first, single, hit, wide[hit], h, stack, rows, n)
        stack += 1
        x = _down(K, x - wide[hit])
    return rows[:n].copy()


@njit(cache=True, nogil=True)
def _read_stack(F, deep, value, first, single, top, wide, h, stack, rows, n):
    y = _down(F[top], h)
    while y > 0 and n < 4000:
        hit = -1
        for c in range(top if single else 0, top + 1):
            for i in range(first[c], first[c + 1]):
                if value[i] <= 0.0 or deep[i] > y:
                    continue
                below = 0.0 if single else F[c, y - deep[i]]
                if below + value[i] >= F[top, y] - NEAR:
                    hit = i
            if hit >= 0:
                break
        if hit < 0:
            break
        rows[n, 0], rows[n, 1], rows[n, 2] = stack, wide, hit
        n += 1
        if single:
            break
        y = _down(F[top], y - deep[hit])
    return n
