"""Conduit: how full it may be, whether the plug goes through, and the wiring men's cable factors.

Sources: NEC chapter 9 table 1 (fill); On-Site Guide appendix E (factors); common practice (plug gauge).
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence

from wallwright.core.shape import Point2

# On-Site Guide appendix E: a cable's factor by its size [mm²].
SHORT_SOLID: Mapping[float, int] = {1.0: 22, 1.5: 27, 2.5: 39}
SHORT_STRANDED: Mapping[float, int] = {1.5: 31, 2.5: 43, 4.0: 58, 6.0: 88, 10.0: 146}
LONG: Mapping[float, int] = {1.0: 16, 1.5: 22, 2.5: 30, 4.0: 43, 6.0: 58, 10.0: 105}
# The conduit's factor: straight runs up to 3 m; then by length [m], and 0 to 3 bends of 90°, for 16, 20, 25, 32 mm.
CONDUITS = (16, 20, 25, 32)
SHORT_CONDUIT = (290, 460, 800, 1400)
LONG_CONDUIT: Mapping[int, tuple[tuple[int, int, int, int] | None, ...]] = {
    2: (None, (177, 286, 514, 900), (158, 256, 463, 818), (130, 213, 388, 692)),
    3: (None, (167, 270, 487, 857), (143, 233, 422, 750), (111, 182, 333, 600)),
    5: ((171, 278, 500, 878), (150, 244, 442, 783), (120, 196, 358, 643), (86, 141, 260, 474)),
    8: ((158, 256, 463, 818), (130, 213, 388, 692), (97, 159, 292, 529), None),
}
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


def wires_that_fit(conduit_area: float, wire_area: float, share: float = 0.40) -> int:
    """How many like wires go into a conduit; a decimal of 0.8 and more counts up (NEC chapter 9 note 7, from memory)."""
    count = conduit_area * share / wire_area
    return math.floor(count) + (1 if count - math.floor(count) >= 0.8 else 0)


def plug_bore(width: float, height: float, share: float) -> float:
    """The least bore [mm] that a plug of that body goes through: its diagonal is at most `share` of the bore."""
    return math.hypot(width, height) / share


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


def smallest_bore(diameters: Sequence[float], share: float, least: float = 0.0) -> tuple[int, float] | None:
    """The smallest light PVC conduit (name size, bore) filled no more than `share`, with at least that bore; or None."""
    for size, bore in BORES.items():
        if bore >= least and fill(diameters, bore) <= share:
            return size, bore
    return None
