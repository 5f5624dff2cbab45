"""The shortest legal path of a run: up, down and across within the zones, round what is in the way, with few bends.

The lines a run may follow are those through its ends, through other accessories and past the edges of obstacles: some shortest
path always follows such lines (Hanan 1966). A bend is priced as so much run. Search: Dijkstra's, led on by the least
that is to be paid for the distance and the bends to go.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from heapq import heappop, heappush
from itertools import accumulate, pairwise

from wallwright.core.shape import Box, Point2

Span = tuple[float, float]
Span3 = tuple[float, float, float]
Span4 = tuple[float, float, float, float]
Segment = tuple[Point2, Point2]
Steps = tuple[float, ...]
_FAR = float("inf")
_HAIR = 1e-3  # mm: which side of a line one looks at


@dataclass(frozen=True, slots=True)
class Route:
    """A path: its corners in order, its length [mm], its bends, and its price (length and bends)."""

    path: tuple[Point2, ...]
    length: float
    bends: int
    price: float


@dataclass(frozen=True, slots=True, eq=False)
class Grid:
    """The lines a run may follow, and the price of each step along them (inf where it may not go).

    The same question gives the same grid (`eq=False`: told apart as things, not by their many numbers), so that at a change that
    moves no box, hole or line the routes found on it are still known.

    across[j][i] : from x i to x i+1 on line z j · up[i][j] : from z j to z j+1 on line x i
    """

    xs: tuple[float, ...]
    zs: tuple[float, ...]
    across: tuple[tuple[float, ...], ...]
    up: tuple[tuple[float, ...], ...]
    least: list[tuple[Steps, Steps]] = field(default_factory=list["tuple[Steps, Steps]"])
    """Once it was asked for: the least price of each step on any line, across and up (`_least`)."""


@lru_cache(maxsize=64)
def _alike(xs: Steps, zs: Steps, across: tuple[Steps, ...], up: tuple[Steps, ...]) -> Grid:
    """One grid for the same steps: a row of holes that moved a little mostly shuts the same steps, and the routes stay known."""
    return Grid(xs, zs, across, up)


def _union(spans: list[Span]) -> list[Span]:
    """Spans joined where they touch."""
    spans.sort()
    out: list[Span] = []
    for low, top in spans:
        if out and low <= out[-1][1]:
            if top > out[-1][1]:
                out[-1] = (out[-1][0], top)
        else:
            out.append((low, top))
    return out


def _steps(at: float, marks: Sequence[float], allowed: list[Span4], blocked: list[Span4]) -> list[float]:
    """The price of each step between neighbouring marks on the line `at`: its length, or inf.

    A box is (low, top) across the line and (from, to) along it. A step is free where, just to one side of the line, it lies
    in what is allowed and in nothing that is blocked: so one may pass along an edge but not slip between two obstacles.
    """
    count = len(marks) - 1
    prices = [float("inf")] * count
    for side in (at - _HAIR, at + _HAIR):
        ok = bytearray(count)
        for a, b in _union([(a, b) for low, top, a, b in allowed if low < side < top]):
            first, last = bisect_left(marks, a), max(0, bisect_right(marks, b) - 1)
            ok[first:last] = b"\1" * (last - first)
        for low, top, a, b in blocked:
            if low < side < top:
                first, last = max(0, bisect_right(marks, a) - 1), min(count, bisect_left(marks, b))
                ok[first:last] = bytes(max(0, last - first))
        for index in range(count):
            if ok[index]:
                prices[index] = marks[index + 1] - marks[index]
    return prices


def _across(box: Box) -> Span4:
    return box.z, box.top, box.x, box.right


def _upright(box: Box) -> Span4:
    return box.x, box.right, box.z, box.top


def _marks(wanted: Iterable[float], low: float, top: float) -> tuple[float, ...]:
    return tuple(sorted({mark for mark in wanted if low <= mark <= top}))


def grid(
    face: Box,
    points: Iterable[Point2],
    allowed: Sequence[Box],
    blocked: Sequence[Box],
    lines: tuple[Iterable[float], Iterable[float]] = ((), ()),
) -> Grid:
    """The lines through points, past blocked boxes and at the extra x and z of `lines`, with what one may go along."""
    at = tuple(points)
    xs = _marks(
        [x for x, _ in at] + [e for b in blocked for e in (b.x, b.right)] + list(lines[0]), face.x, face.right
    )
    zs = _marks(
        [z for _, z in at] + [e for b in blocked for e in (b.z, b.top)] + list(lines[1]), face.z, face.top
    )
    return _grid(face, xs, zs, tuple(allowed), tuple(blocked))


@lru_cache(maxsize=64)
def _grid(
    face: Box, xs: tuple[float, ...], zs: tuple[float, ...], given: tuple[Box, ...], blocked: tuple[Box, ...]
) -> Grid:
    # what reaches beyond the face ends at its edge: no run slips round an obstacle outside the wall
    allowed = [shared for box in given if (shared := box.shared(face)) is not None]
    flat, shut_flat = [_across(box) for box in allowed], [_across(box) for box in blocked]
    tall, shut_tall = [_upright(box) for box in allowed], [_upright(box) for box in blocked]
    return Grid(
        xs,
        zs,
        tuple(tuple(_steps(z, xs, flat, shut_flat)) for z in zs),
        tuple(tuple(_steps(x, zs, tall, shut_tall)) for x in xs),
    )


def kept_apart(lines: Grid, others: Iterable[Segment], apart: float, price: float = 5.0) -> Grid:
    """The same grid with what runs alongside the others, nearer than `apart`, priced `price` times.

    So data keeps away from mains where it can, and crosses it square.
    """
    return _kept_apart(lines, tuple(others), apart, price)


@lru_cache(maxsize=64)
def _kept_apart(lines: Grid, others: tuple[Segment, ...], apart: float, price: float) -> Grid:
    level: list[Span3] = []
    upright: list[Span3] = []
    for (ax, az), (bx, bz) in others:
        if az == bz:
            level.append((az, min(ax, bx), max(ax, bx)))
        else:
            upright.append((ax, min(az, bz), max(az, bz)))
    level.sort()
    upright.sort()
    across = tuple(
        _dearer(row, z, lines.xs, level, apart, price) for z, row in zip(lines.zs, lines.across, strict=True)
    )
    up = tuple(
        _dearer(row, x, lines.zs, upright, apart, price) for x, row in zip(lines.xs, lines.up, strict=True)
    )
    return _alike(lines.xs, lines.zs, across, up)


def _dearer(  # noqa: PLR0913
    row: tuple[float, ...], at: float, marks: Sequence[float], others: list[Span3], apart: float, price: float
) -> tuple[float, ...]:
    # the others are sorted by their line: only those within reach are looked at
    first = bisect_right(others, (at - apart, _FAR, _FAR))
    last = bisect_left(others, (at + apart, -_FAR, -_FAR))
    near = [(low, top) for _, low, top in others[first:last]]
    if not near:
        return row
    return tuple(
        step + (price - 1.0) * beside for step, beside in zip(row, _beside(near, marks), strict=True)
    )


def _beside(spans: list[Span], marks: Sequence[float]) -> list[float]:
    """How much of each step between marks lies beside a span: of several, the most."""
    most = [0.0] * (len(marks) - 1)
    for low, top in spans:
        index = max(0, bisect_right(marks, low) - 1)
        while index < len(most) and marks[index] < top:
            most[index] = max(most[index], min(marks[index + 1], top) - max(marks[index], low))
            index += 1
    return most


def kept_off(
    lines: Grid, rows: Iterable[Box], apart: float, price: float = 20.0, over: float = float("inf")
) -> Grid:
    """The same grid with no level step nearer than `apart` to a row of holes, where it stands over or under that row.

    over : from this height on no hole matters, for runs lie over a false ceiling there.

    A run crosses a row square, for the holes slide aside; beside the first or the last, which cannot, it costs `price` times.
    """
    return _kept_off(lines, tuple(rows), apart, price, over)


@lru_cache(maxsize=64)
def _kept_off(lines: Grid, rows: tuple[Box, ...], apart: float, price: float, over: float) -> Grid:
    about: dict[Span, list[Span]] = {}  # many rows stand at few heights
    for row in rows:
        about.setdefault((row.z - apart, row.top + apart), []).append((row.x - apart, row.right + apart))
    across = tuple(
        _shut(
            steps,
            lines.xs,
            [span for (low, top), spans in about.items() if low < z < top for span in spans]
            if z < over
            else [],
        )
        for z, steps in zip(lines.zs, lines.across, strict=True)
    )
    ends = sorted({(end, row.z) for row in rows for end in (row.x, row.right)})
    up: list[Steps] = []
    for x, steps in zip(lines.xs, lines.up, strict=True):
        first = bisect_left(ends, (x - apart - _HAIR, -_FAR))
        last = bisect_right(ends, (x + apart + _HAIR, _FAR))
        up.append(
            _crossing(steps, lines.zs, [z for end, z in ends[first:last] if abs(x - end) < apart], price)
        )
    return _alike(lines.xs, lines.zs, across, tuple(up))


def _shut(row: tuple[float, ...], marks: Sequence[float], spans: list[Span]) -> tuple[float, ...]:
    if not spans:
        return row
    steps = list(row)
    for low, top in spans:
        for k in range(max(0, bisect_right(marks, low) - 1), min(len(steps), bisect_left(marks, top))):
            steps[k] = _FAR
    return tuple(steps)


def _crossing(
    row: tuple[float, ...], marks: Sequence[float], levels: list[float], price: float
) -> tuple[float, ...]:
    if not levels:
        return row
    crossed = {
        k
        for level in levels
        for k in range(max(0, bisect_left(marks, level) - 1), min(len(row), bisect_right(marks, level)))
    }
    return tuple(step * price if k in crossed else step for k, step in enumerate(row))


def priced(lines: Grid, voids: Sequence[Box], level: float, upright: float) -> Grid:
    """The same grid with each step outside the voids priced so many times its length: dearer where a chase must be cut."""
    return _priced(lines, tuple(voids), level, upright)


@lru_cache(maxsize=64)
def _priced(lines: Grid, voids: tuple[Box, ...], level: float, upright: float) -> Grid:
    flat, tall = [_across(box) for box in voids], [_upright(box) for box in voids]
    across = tuple(
        _in_wall(row, z, lines.xs, flat, level) for z, row in zip(lines.zs, lines.across, strict=True)
    )
    up = tuple(_in_wall(row, x, lines.zs, tall, upright) for x, row in zip(lines.xs, lines.up, strict=True))
    return Grid(lines.xs, lines.zs, across, up)


def _in_wall(
    row: tuple[float, ...], at: float, marks: Sequence[float], voids: list[Span4], price: float
) -> tuple[float, ...]:
    if price == 1.0:
        return row
    spans = [(a, b) for low, top, a, b in voids if low <= at <= top]
    if not spans:
        return tuple(step * price for step in row)
    return tuple(
        step * price - (price - 1.0) * inside for step, inside in zip(row, _beside(spans, marks), strict=True)
    )


def shared(lines: Grid, cut: Iterable[Segment], price: float, usual: float) -> Grid:
    """The same grid with the steps along chases that are cut already priced so many times their length: cheaper than to cut anew.

    usual : the dearest ordinary price of a millimetre: what costs more is to be kept off, and stays so.
    """
    return _shared(lines, tuple(cut), price, usual)


@lru_cache(maxsize=512)
def _shared(lines: Grid, cut: tuple[Segment, ...], price: float, usual: float) -> Grid:
    across, up = list(lines.across), list(lines.up)
    # a step that now costs less may be the cheapest of its column; none costs more
    least_across, least_up = map(list, _least(lines))
    for (ax, az), (bx, bz) in cut:
        if az == bz:
            rows, at, marks, low, top = across, bisect_left(lines.zs, az), lines.xs, min(ax, bx), max(ax, bx)
            least = least_across
        else:
            rows, at, marks, low, top = up, bisect_left(lines.xs, ax), lines.zs, min(az, bz), max(az, bz)
            least = least_up
        if at >= len(rows):
            continue
        old, row = rows[at], None
        for index in range(bisect_left(marks, low), bisect_left(marks, top)):
            length = marks[index + 1] - marks[index]
            cheap = price * length
            if cheap < old[index] <= usual * length + 1e-6:
                row = row or list(old)
                row[index] = cheap
                if cheap < least[index]:
                    least[index] = cheap
        if row:
            rows[at] = tuple(row)
    return Grid(lines.xs, lines.zs, tuple(across), tuple(up), [(tuple(least_across), tuple(least_up))])


@dataclass(frozen=True, slots=True)
class Wanted:
    """A run that is wanted: the grid it may follow with nothing cut yet, the dearest ordinary price of a millimetre on it, its ends."""

    lines: Grid
    usual: float
    start: Point2
    end: Point2


def together(
    wanted: Sequence[Wanted], first: Sequence[Route], price: float, bend_price: float
) -> tuple[Route, ...]:
    """The runs laid so that they share chases: parallel as far as they go together, parting at any crossing of lines. A millimetre
    along a chase that is cut for another costs `price`. first : each alone, or after those before it.

    Each is taken up and laid anew beside all the others until none comes out cheaper (`settled`). Where that gains something, they are also laid
    shortest first, so that the far ones join the near ones, and settled; the cheaper is kept: near the least, not proved to be it.
    """
    return _together(tuple(wanted), tuple(first), price, bend_price)


@lru_cache(maxsize=64)
def _together(
    wanted: tuple[Wanted, ...], first: tuple[Route, ...], price: float, bend_price: float
) -> tuple[Route, ...]:
    moved = settled(wanted, first, price, bend_price)
    if moved == first:
        return moved
    before, after = (whole_price(wanted, routes, price, bend_price) for routes in (first, moved))
    if after > (1 - _GAIN) * before:
        return moved
    laid: list[Route | None] = [None] * len(wanted)
    for i in sorted(range(len(wanted)), key=lambda i: first[i].length):
        lines = _beside_others(wanted, laid, i, price)
        laid[i] = shortest(lines, wanted[i].start, wanted[i].end, bend_price)
    anew = settled(wanted, [route or first[i] for i, route in enumerate(laid)], price, bend_price)
    return anew if whole_price(wanted, anew, price, bend_price) < after else moved


_ROUNDS = 3
_GAIN = 0.005
"""Less than this share of the whole price gained: the runs lie well as they are."""


def settled(
    wanted: Sequence[Wanted], first: Sequence[Route], price: float, bend_price: float
) -> tuple[Route, ...]:
    """The runs, each taken up and laid anew beside the others as long as one of them comes out cheaper so."""
    routes = list(first)
    everyone = {i for i, run in enumerate(wanted) if not _at_its_best(run, routes[i], bend_price)}
    waiting = (
        everyone if len(routes) > 1 else set[int]()
    )  # those beside which another was laid anew since they were
    for i in (*range(len(wanted)),) * _ROUNDS:
        if i not in waiting:
            continue
        lines = _beside_others(wanted, routes, i, price)
        least = price_along(lines, routes[i].path, bend_price) - 1e-6
        found = shortest(lines, wanted[i].start, wanted[i].end, bend_price, least)
        waiting = waiting - {i}
        if found is not None and found.price < least:
            routes[i], waiting = found, everyone - {i}
    return tuple(routes)


def _at_its_best(run: Wanted, route: Route, bend_price: float) -> bool:
    """Whether a run lies straight between its ends, so shortly that no saving along another way is worth two bends."""
    return not route.bends and run.usual * route.length <= route.length + 2 * bend_price


def _beside_others(wanted: Sequence[Wanted], routes: Sequence[Route | None], i: int, price: float) -> Grid:
    cut = {
        piece
        for k, route in enumerate(routes)
        if k != i and route is not None
        for piece in pairwise(route.path)
    }
    return shared(wanted[i].lines, cut, price, wanted[i].usual)


def price_along(lines: Grid, path: Sequence[Point2], bend_price: float) -> float:
    """What a path costs on a grid, its bends included."""
    total = bend_price * max(0, len(path) - 2)
    for (ax, az), (bx, bz) in pairwise(path):
        if az == bz:
            row, marks, low, top = lines.across[bisect_left(lines.zs, az)], lines.xs, min(ax, bx), max(ax, bx)
        else:
            row, marks, low, top = lines.up[bisect_left(lines.xs, ax)], lines.zs, min(az, bz), max(az, bz)
        total += sum(row[bisect_left(marks, low) : bisect_left(marks, top)])
    return total


def whole_price(wanted: Sequence[Wanted], routes: Sequence[Route], price: float, bend_price: float) -> float:
    """What all of it costs: each chase once, and for every further run along it the price of lying there."""
    total = 0.0
    cut: list[Segment] = []
    for run, route in zip(wanted, routes, strict=True):
        total += _price_beside(run, route.path, cut, price, bend_price)
        cut += segments(route.path)
    return total


def _price_beside(
    run: Wanted, path: Sequence[Point2], cut: Sequence[Segment], price: float, bend_price: float
) -> float:
    """What a path costs on the run's grid beside chases that are cut already: as `price_along` on the `shared` grid, but only the
    steps of the path are looked at.
    """
    lines = run.lines
    there = [_steps_of(lines, piece) for piece in cut]
    total = bend_price * max(0, len(path) - 2)
    for piece in pairwise(path):
        level, at, first, last = _steps_of(lines, piece)
        rows, marks = (lines.across, lines.xs) if level else (lines.up, lines.zs)
        steps = list(rows[at][first:last])
        for _, _, low, top in [one for one in there if one[1] == at and one[0] == level]:
            for k in range(max(low, first), min(top, last)):
                length = marks[k + 1] - marks[k]
                if price * length < steps[k - first] <= run.usual * length + 1e-6:
                    steps[k - first] = price * length
        total += sum(steps)
    return total


def _steps_of(lines: Grid, piece: Segment) -> tuple[bool, int, int, int]:
    """Whether a straight piece lies level, on which line, and from which of its steps to which it goes."""
    (ax, az), (bx, bz) = piece
    if az == bz:
        marks = lines.xs
        return (
            True,
            bisect_left(lines.zs, az),
            bisect_left(marks, min(ax, bx)),
            bisect_left(marks, max(ax, bx)),
        )
    marks = lines.zs
    return False, bisect_left(lines.xs, ax), bisect_left(marks, min(az, bz)), bisect_left(marks, max(az, bz))


def segments(path: Sequence[Point2]) -> tuple[Segment, ...]:
    """The straight pieces of a path."""
    return tuple(pairwise(path))


@lru_cache(maxsize=512)
def shortest(lines: Grid, start: Point2, end: Point2, bend_price: float, most: float = _FAR) -> Route | None:
    """The cheapest path from start to end on the grid, or None; also where none costs less than `most`. KeyError where an end is not on
    the grid.
    """
    xs, zs = lines.xs, lines.zs
    wide, tall = len(xs), len(zs)
    first, last = _place(lines, start), _place(lines, end)
    if first == last:
        return Route((start,), 0.0, 0, 0.0)
    # a state is node * 2 + heading (0 across, 1 up); the start has both headings
    price = [_FAR] * (2 * wide * tall)
    price[first * 2] = price[first * 2 + 1] = 0.0
    before: dict[int, int] = {}
    done = bytearray(len(price))
    goal_i, goal_j = divmod(last, tall)
    x_paid, z_paid = _least_paid(lines)
    across_to_go = [abs(paid - x_paid[goal_i]) for paid in x_paid]
    up_to_go = [abs(paid - z_paid[goal_j]) for paid in z_paid]
    to_go = across_to_go[first // tall] + up_to_go[first % tall]
    if to_go >= most:
        return None
    heap: list[tuple[float, int]] = [(to_go, first * 2), (to_go, first * 2 + 1)]
    while heap:
        state = heappop(heap)[1]
        if done[state]:
            continue
        done[state] = 1
        node = state >> 1
        if node == last:
            return _route(lines, state, before, price[state])
        i, j = divmod(node, tall)
        here, upright = price[state], state & 1
        # each step is written out, for this is where the time goes: level ones, then upright ones; at least one bend is still to come
        # where the end lies off the line that is followed
        row, still = lines.across[j], up_to_go[j]
        turn = bend_price if still else 0.0
        if i < wide - 1:
            cost = here + row[i] + bend_price if upright else here + row[i]
            arrival = (node + tall) * 2
            if cost < price[arrival]:
                price[arrival] = cost
                whole = cost + across_to_go[i + 1] + still + turn
                if whole < most:
                    before[arrival] = state
                    heappush(heap, (whole, arrival))
        if i:
            cost = here + row[i - 1] + bend_price if upright else here + row[i - 1]
            arrival = (node - tall) * 2
            if cost < price[arrival]:
                price[arrival] = cost
                whole = cost + across_to_go[i - 1] + still + turn
                if whole < most:
                    before[arrival] = state
                    heappush(heap, (whole, arrival))
        row, still = lines.up[i], across_to_go[i]
        turn = bend_price if still else 0.0
        if j < tall - 1:
            cost = here + row[j] if upright else here + row[j] + bend_price
            arrival = (node + 1) * 2 + 1
            if cost < price[arrival]:
                price[arrival] = cost
                whole = cost + still + up_to_go[j + 1] + turn
                if whole < most:
                    before[arrival] = state
                    heappush(heap, (whole, arrival))
        if j:
            cost = here + row[j - 1] if upright else here + row[j - 1] + bend_price
            arrival = (node - 1) * 2 + 1
            if cost < price[arrival]:
                price[arrival] = cost
                whole = cost + still + up_to_go[j - 1] + turn
                if whole < most:
                    before[arrival] = state
                    heappush(heap, (whole, arrival))
    return None


@lru_cache(maxsize=512)
def _least_paid(lines: Grid) -> tuple[Steps, Steps]:
    """The least that is paid from the first line to each, across and up: each step between two lines at its cheapest anywhere."""
    across, up = (
        (0.0, *accumulate([step if step < _FAR else 0.0 for step in least])) for least in _least(lines)
    )
    return across, up


def _least(lines: Grid) -> tuple[Steps, Steps]:
    """The least price of each step on any line, across and up: inf where it is shut on all of them."""
    if not lines.least:
        across, up = (tuple(map(min, zip(*steps, strict=True))) for steps in (lines.across, lines.up))
        lines.least.append((across, up))
    return lines.least[0]


def _place(lines: Grid, point: Point2) -> int:
    i, j = bisect_left(lines.xs, point[0]), bisect_left(lines.zs, point[1])
    if i == len(lines.xs) or j == len(lines.zs) or lines.xs[i] != point[0] or lines.zs[j] != point[1]:
        raise KeyError(f"({point[0]:g}, {point[1]:g}) is not on the grid")
    return i * len(lines.zs) + j


def _route(lines: Grid, state: int, before: dict[int, int], price: float) -> Route:
    """The path back from a state: corners only."""
    tall = len(lines.zs)
    walked: list[int] = [state]
    while walked[-1] in before:
        walked.append(before[walked[-1]])
    walked.reverse()
    points = [(lines.xs[(s >> 1) // tall], lines.zs[(s >> 1) % tall]) for s in walked]
    corners = [points[0]]
    for index in range(1, len(points) - 1):
        if (walked[index] & 1) != (walked[index + 1] & 1):
            corners.append(points[index])
    corners.append(points[-1])
    length = sum(abs(a[0] - b[0]) + abs(a[1] - b[1]) for a, b in segments(corners))
    return Route(tuple(corners), length, len(corners) - 2, price)
