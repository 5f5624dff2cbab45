"""Conduit: how full it may be, whether the plug goes through, and the wiring men's cable factors.

Sources: NEC chapter 9 table 1 (fill); On-Site Guide appendix E (factors); common practice (plug gauge).
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from itertools import pairwise

from wallwright.core.shape import Point2

# On-Site Guide appendix E: a cable's factor by its size [mm²].
SHORT_SOLID: Mapping[float, int] = {1.0: 22, 1.5: 27, 2.5: 39}
SHORT_STRANDED: Mapping[float, int] = {1.5: 31, 2.5: 43, 4.0: 58, 6.0: 88, 10.0: 146}
LONG: Mapping[float, int] = {1.0: 16, 1.5: 22, 2.5: 30, 4.0: 43, 6.0: 58, 10.0: 105}
# The conduit's factor: straight runs up to 3 m; then by length [m], and 0 to 4 bends of 90°, for 16, 20, 25, 32 mm.
CONDUITS = (16, 20, 25, 32)
SHORT_CONDUIT = (290, 460, 800, 1400)
LONG_CONDUIT: Mapping[float, tuple[tuple[int, int, int, int] | None, ...]] = {
    1: (None, (188, 303, 543, 947), (177, 286, 514, 900), (158, 256, 463, 818), (130, 213, 388, 692)),
    1.5: (None, (182, 294, 528, 923), (167, 270, 487, 857), (143, 233, 422, 750), (111, 182, 333, 600)),
    2: (None, (177, 286, 514, 900), (158, 256, 463, 818), (130, 213, 388, 692), (97, 159, 292, 529)),
    2.5: (None, (171, 278, 500, 878), (150, 244, 442, 783), (120, 196, 358, 643), (86, 141, 260, 474)),
    3: (None, (167, 270, 487, 857), (143, 233, 422, 750), (111, 182, 333, 600)),
    3.5: ((179, 290, 521, 911), (162, 263, 475, 837), (136, 222, 404, 720), (103, 169, 311, 563)),
    4: ((177, 286, 514, 900), (158, 256, 463, 818), (130, 213, 388, 692), (97, 159, 292, 529)),
    4.5: ((174, 282, 507, 889), (154, 250, 452, 800), (125, 204, 373, 667), (91, 149, 275, 500)),
    5: ((171, 278, 500, 878), (150, 244, 442, 783), (120, 196, 358, 643), (86, 141, 260, 474)),
    6: ((167, 270, 487, 857), (143, 233, 422, 750), (111, 182, 333, 600)),
    7: ((162, 263, 475, 837), (136, 222, 404, 720), (103, 169, 311, 563)),
    8: ((158, 256, 463, 818), (130, 213, 388, 692), (97, 159, 292, 529)),
    9: ((154, 250, 452, 800), (125, 204, 373, 667), (91, 149, 275, 500)),
    # 10 m by the table's own pattern: a run is as hard to draw as one half as long with a bend more
    10: ((150, 244, 442, 783), (120, 196, 358, 643), (86, 141, 260, 474)),
}  # fmt: skip
# Bore of light PVC conduit by its name size [mm]; from memory, the maker's figure goes before it.
BORES: Mapping[int, float] = {20: 16.9, 25: 21.4, 32: 27.8, 40: 35.4}


def cable_factor(sizes: Iterable[float], length: float, bends: int) -> int:
    """The sum of cable factors of those sizes [mm²] in a run of that length [m]. KeyError where a size has no factor."""
    if length <= 3 and bends == 0:
        return sum(SHORT_SOLID.get(size) or SHORT_STRANDED[size] for size in sizes)
    return sum(LONG[size] for size in sizes)


def conduit_factor(size: int, length: float, bends: int) -> int:
    """What a conduit of that size [mm] may hold over that length [m] with those bends: the next longer tabulated run.

    ValueError where the run is longer or has more bends than are tabulated: it needs a draw box.
    """
    column = CONDUITS.index(size)
    if length <= 3 and bends == 0:
        return SHORT_CONDUIT[column]
    for metres, rows in LONG_CONDUIT.items():
        row = rows[bends] if bends < len(rows) else None
        if length <= metres and row is not None:
            return row[column]
    raise ValueError(f"no factor for {length:g} m with {bends} bends: put in a draw box")


def smallest_conduit(sizes: Sequence[float], length: float, bends: int) -> int:
    """The smallest conduit [mm] that takes singles of those sizes [mm²] by the factors, 20 mm and up as is usual.

    ValueError where none does.
    """
    needs = cable_factor(sizes, length, bends)
    for size in CONDUITS[1:]:
        if conduit_factor(size, length, bends) >= needs:
            return size
    raise ValueError(f"cable factors add up to {needs}: more than a {CONDUITS[-1]} mm conduit takes")


def fill(diameters: Iterable[float], bore: float) -> float:
    """The share of the bore's area that round cables take, 0..1 and beyond. Diameters and bore in mm."""
    return sum(diameter * diameter for diameter in diameters) / (bore * bore)


def fill_share(cables: int, one: float, two: float, more: float) -> float:
    """The share allowed for so many cables: NEC chapter 9 table 1 has 53 %, 31 %, 40 %."""
    return one if cables == 1 else two if cables == 2 else more


def fits(diameters: Iterable[float], bore: float, shares: tuple[float, float, float]) -> bool:
    """Whether round cables [mm] fill a bore no more than is allowed, whichever of them are drawn in: the thickest alone, the two
    thickest, and all. shares : allowed for one, for two, and for more
    """
    sizes = sorted(diameters, reverse=True)
    held = [sizes[:1], sizes[:2], sizes[:] if len(sizes) > 2 else []]
    return all(
        fill(some, bore) <= share + 1e-9 for some, share in zip(held[: len(sizes)], shares, strict=False)
    )


def pulls(path: Sequence[Point2], boxes: Sequence[Point2]) -> tuple[tuple[float, int], ...]:
    """The stretches that cable is drawn through, from box to box: (length [m], bends) of each."""
    out: list[tuple[float, int]] = []
    gone, turned, left = 0.0, 0, list(boxes)
    for index, (at, to) in enumerate(pairwise(path)):
        if index and (not left or left[0] != at):
            turned += 1
        while left and (left[0] == at or _between(left[0], at, to)):
            out.append(((gone + math.dist(at, left[0])) / 1000.0, turned))
            at, gone, turned = left.pop(0), 0.0, 0
        gone += math.dist(at, to)
    return (*out, (gone / 1000.0, turned))


def _between(point: Point2, start: Point2, end: Point2) -> bool:
    """Whether a point lies on a level or upright piece, its end not counted."""
    lies = math.dist(start, point) + math.dist(point, end) <= math.dist(start, end) + 1e-6
    return lies and point != end


def drawn_through(cores: Sequence[float], stretches: Iterable[tuple[float, int]]) -> int:
    """The conduit [mm] that single cores of those sizes [mm²] can be drawn through, over the worst of the stretches (length [m],
    bends). ValueError where no tabulated conduit takes them.
    """
    return max(smallest_conduit(cores, metres, bends) for metres, bends in stretches)


def wires_that_fit(conduit_area: float, wire_area: float, share: float = 0.40) -> int:
    """How many like wires go into a conduit; a decimal of 0.8 and more counts up (NEC chapter 9 note 7, from memory)."""
    count = conduit_area * share / wire_area
    return math.floor(count) + (1 if count - math.floor(count) >= 0.8 else 0)


def plug_bore(width: float, height: float, share: float, beside: float = 0.0) -> float:
    """The least bore [mm] that a plug of that body goes through: its diagonal, and the thickest cable [mm] that lies there already,
    are at most `share` of the bore.
    """
    return (math.hypot(width, height) + beside) / share


def draw_boxes(path: Sequence[Point2], bends: int, longest: float) -> tuple[Point2, ...]:
    """Where a run needs boxes to draw its cables through: at the corner after so many bends, and along it after so many mm.

    Source: common practice (two right-angle bends and 10 m between boxes); NEC 358.26 allows four.
    """
    boxes: list[Point2] = []
    turned, gone = 0, 0.0
    for index in range(1, len(path)):
        at, to = path[index - 1], path[index]
        left = math.dist(at, to)
        if index > 1:
            turned += 1
            if turned > bends:
                boxes.append(at)
                turned, gone = 0, 0.0
        while gone + left > longest + 1e-6:
            share = (longest - gone) / math.dist(at, to)
            at = at[0] + share * (to[0] - at[0]), at[1] + share * (to[1] - at[1])
            boxes.append(at)
            left, turned, gone = math.dist(at, to), 0, 0.0
        gone += left
    return tuple(boxes)


def smallest_bore(
    diameters: Sequence[float], shares: tuple[float, float, float], least: float = 0.0
) -> tuple[int, float] | None:
    """The smallest light PVC conduit (name size, bore) filled no more than the shares, with at least that bore; or None."""
    for size, bore in BORES.items():
        if bore >= least and fits(diameters, bore, shares):
            return size, bore
    return None
