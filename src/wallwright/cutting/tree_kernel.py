"""The trees of ``tree.py`` as rows of whole numbers, compiled: put a part in, take a subtree out, list the free slabs.

A board is a table of nodes, one row each. A freed row is chained to the next free one. Every rule here is a rule of
``tree.Board``; a test drives both side by side.
"""

# pyright: reportUntypedFunctionDecorator=false, reportUnknownMemberType=false, reportUnknownVariableType=false
# pyright: reportMissingTypeStubs=false, reportUnknownParameterType=false, reportMissingParameterType=false
# pyright: reportUnknownArgumentType=false, reportUntypedNamedTuple=false

from __future__ import annotations

from numba import njit

# columns of a node
THICK, LEFT, PARENT, CHILD, NEXT, PREV, LAY, LEVEL = range(8)
WIDTH = 8
DIVISION, FREE = -1, -2  # in the column LAY; a part has its lay's number there
# columns of a board
ROOT, AXIS, KIND, HIGH, CHAIN, SLABS, ALIVE = range(7)
HEAD = 7
# columns of a board's measures
AREA, WIDEST, OFFCUT = range(3)


@njit(cache=True, nogil=True)
def new_node(N, head, thick, left, lay):
    """A row of its own; the caller links it."""
    if head[CHAIN] >= 0:
        n = head[CHAIN]
        head[CHAIN] = N[n, NEXT]
    else:
        n = head[HIGH]
        head[HIGH] += 1
    N[n, THICK], N[n, LEFT], N[n, LAY] = thick, left, lay
    N[n, PARENT] = N[n, CHILD] = N[n, NEXT] = N[n, PREV] = -1
    return n


@njit(cache=True, nogil=True)
def drop_node(N, head, n):
    """Give a row back."""
    N[n, LAY] = FREE
    N[n, NEXT] = head[CHAIN]
    head[CHAIN] = n


@njit(cache=True, nogil=True)
def link(N, parent, n):
    """Make ``n`` a child of ``parent``."""
    first = N[parent, CHILD]
    N[n, PARENT], N[n, NEXT], N[n, PREV] = parent, first, -1
    if first >= 0:
        N[first, PREV] = n
    N[parent, CHILD] = n


@njit(cache=True, nogil=True)
def unlink(N, n):
    """Take ``n`` out of its parent's children."""
    before, after = N[n, PREV], N[n, NEXT]
    if before >= 0:
        N[before, NEXT] = after
    else:
        N[N[n, PARENT], CHILD] = after
    if after >= 0:
        N[after, PREV] = before


@njit(cache=True, nogil=True)
def _alone(N, n):
    """Has the division exactly one child and nothing left?"""
    first = N[n, CHILD]
    return N[n, LEFT] == 0 and first >= 0 and N[first, NEXT] < 0


@njit(cache=True, nogil=True)
def _lift(N, head, n):
    parent, child = N[n, PARENT], N[n, CHILD]
    unlink(N, n)
    if N[child, LAY] >= 0:
        N[child, THICK] = N[n, THICK]
        link(N, parent, child)
    else:
        grand = N[child, CHILD]
        while grand >= 0:
            after = N[grand, NEXT]
            link(N, parent, grand)
            grand = after
        N[parent, LEFT] += N[child, LEFT]
        drop_node(N, head, child)
    drop_node(N, head, n)


@njit(cache=True, nogil=True)
def _tidy(N, head, n):
    """``tree._tidy``: drop an empty node, squeeze out what all children leave; the parent to go on with, or -1."""
    parent = N[n, PARENT]
    if parent < 0:
        return -1
    child = N[n, CHILD]
    if child < 0:
        unlink(N, n)
        N[parent, LEFT] += N[n, THICK]
        drop_node(N, head, n)
        return parent
    slack = N[child, LEFT]
    while child >= 0:
        slack = min(slack, N[child, LEFT])
        child = N[child, NEXT]
    if slack > 0:
        N[n, THICK] -= slack
        N[parent, LEFT] += slack
        child = N[n, CHILD]
        while child >= 0:
            after = N[child, NEXT]
            N[child, LEFT] -= slack
            if N[child, LAY] == DIVISION and _alone(N, child):
                _lift(N, head, child)
            child = after
    if _alone(N, n):
        _lift(N, head, n)
    return parent


@njit(cache=True, nogil=True)
def turn_root(N, head):
    """A root that holds one full-size division only is that division."""
    while _alone(N, head[ROOT]) and N[N[head[ROOT], CHILD], LAY] == DIVISION:
        child = N[head[ROOT], CHILD]
        drop_node(N, head, head[ROOT])
        N[child, PARENT] = N[child, NEXT] = N[child, PREV] = -1
        head[ROOT] = child
        head[AXIS] = 1 - head[AXIS]


@njit(cache=True, nogil=True)
def put(N, head, n, along, cross, lay, across):
    """``Board.insert``: a part into the near corner of the slab of division ``n``."""
    if across:
        strip = new_node(N, head, N[n, LEFT], N[n, THICK] - cross, DIVISION)
        row = new_node(N, head, cross, N[n, LEFT] - along, DIVISION)
        leaf = new_node(N, head, along, 0, lay)
        link(N, n, strip)
        link(N, strip, row)
        link(N, row, leaf)
        N[n, LEFT] = 0
    else:
        N[n, LEFT] -= along
        if cross == N[n, THICK]:
            leaf = new_node(N, head, along, 0, lay)
            link(N, n, leaf)
        else:
            strip = new_node(N, head, along, N[n, THICK] - cross, DIVISION)
            leaf = new_node(N, head, cross, 0, lay)
            link(N, n, strip)
            link(N, strip, leaf)
    turn_root(N, head)


@njit(cache=True, nogil=True)
def take_out(N, head, n, lays, count, stack):
    """``Board.remove``: a subtree out; its lays are added to ``lays``, which then holds the returned number."""
    parent = N[n, PARENT]
    unlink(N, n)
    N[parent, LEFT] += N[n, THICK]
    top = 1
    stack[0] = n
    while top:
        top -= 1
        node = stack[top]
        if N[node, LAY] >= 0:
            lays[count] = N[node, LAY]
            count += 1
        child = N[node, CHILD]
        while child >= 0:
            stack[top] = child
            top += 1
            child = N[child, NEXT]
        drop_node(N, head, node)
    while parent >= 0:
        parent = _tidy(N, head, parent)
    turn_root(N, head)
    return count


@njit(cache=True, nogil=True)
def survey(N, head, measure, slabs, levels, kerf, stack):
    """List the slabs that may take a part; note the largest of them and the largest real offcut."""
    measure[WIDEST] = measure[OFFCUT] = 0.0
    count, top = 0, 1
    stack[0] = head[ROOT]
    N[head[ROOT], LEVEL] = 1
    while top:
        top -= 1
        n = stack[top]
        left, thick, level = N[n, LEFT], N[n, THICK], N[n, LEVEL]
        if left > 0:
            if level <= levels:
                slabs[count] = n
                count += 1
                measure[WIDEST] = max(measure[WIDEST], float(left) * float(thick))
            if left > kerf:
                measure[OFFCUT] = max(measure[OFFCUT], float(left - kerf) * float(thick - kerf))
        child = N[n, CHILD]
        while child >= 0:
            if N[child, LAY] == DIVISION:
                N[child, LEVEL] = level + 1
                stack[top] = child
                top += 1
            child = N[child, NEXT]
    head[SLABS] = count
