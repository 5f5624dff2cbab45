"""The points of a wall as they are set, one after another: each keeps off those before it and says why it stands there."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from wallwright.core.limit import Certainty, Limits
from wallwright.core.shape import Box, Point2, box_around
from wallwright.core.why import Given, Why
from wallwright.library import load
from wallwright.services.record import ServicePoint

if TYPE_CHECKING:
    from wallwright.carcass.record import UnitBox

LETTERS = {
    "twin_socket": "P", "socket": "P", "switched_spur": "P", "switch": "P",
    "data": "D", "rf": "R", "conduit": "K", "led_feed": "L",
}  # fmt: skip
MAINS = frozenset({"twin_socket", "socket", "switched_spur", "switch", "led_feed"})
OUTLETS = {"twin_socket": 2, "socket": 1, "switched_spur": 1}
# what a box may not be set into; a kept socket is in the way of another box too
NO_BOX = frozenset(
    {
        "beam",
        "column",
        "window",
        "door",
        "ac",
        "socket",
        "switch",
        "data_point",
        "pipe",
        "cable",
        "niche",
        "radiator",
        "other",
    }
)


@dataclass(slots=True)
class Board:
    """The points set so far: what is taken, which references are used, and why each stands where it does."""

    limits: Limits
    frame: Box
    units: tuple[UnitBox, ...]
    slim: bool
    points: list[ServicePoint] = field(default_factory=list["ServicePoint"])
    whys: list[Why] = field(default_factory=list[Why])

    def ref(self, kind: str) -> str:
        """The next free reference of a kind."""
        letter, used = LETTERS[kind], {point.ref for point in self.points}
        return next(ref for n in range(1, 10_000) if (ref := f"{letter}{n}") not in used)

    def size(self, kind: str) -> tuple[float, float]:
        """Width and height of the box of a kind [mm]."""
        width = "services.box_twin_width" if kind == "twin_socket" else "services.box_single_width"
        return self.limits.value(width), self.limits.value("services.box_height")

    def depth(self, kind: str, zone: str) -> float:
        """Depth of the box of a kind [mm]: recessed behind a slim mount, deeper for data."""
        if zone == "behind_screen" and self.slim:
            return self.limits.value("services.box_depth_recessed")
        value = self.limits.value
        if kind not in ("data", "conduit"):
            return value("services.box_depth")
        bend = value("services.data_bend_diameters") * load.cables()["data_6a"].diameter
        return max(value("services.box_depth_data"), math.ceil(value("services.data_jack") + bend))

    def taken_from(self, kind: str) -> list[Box]:
        """What the middle of the next box keeps away from: boxes set already, further where mains meets data."""
        gap, apart = self.limits.value("services.box_gap"), self.limits.value("services.power_data_apart")
        return [p.box.grown(gap if (p.kind in MAINS) == (kind in MAINS) else apart) for p in self.points]

    def zone_of(self, x: float, z: float) -> str:
        """What stands before a place on the wall: the screen, a console, a tower, or nothing."""
        spot = Box(x, z, 0.0, 0.0)
        if self.frame.holds(spot):
            return "behind_screen"
        for unit in self.units:
            if unit.box.holds(spot) and unit.cabinet:
                return "tower" if unit.tall else "cabinet"
        return "wall"

    def add(  # noqa: PLR0913
        self,
        kind: str,
        at: Point2,
        zone: str,
        reason: str,
        *,
        serves: Iterable[str] = (),
        pinned: bool = False,
        ref: str = "",
        working: tuple[str, tuple[Given, ...]] = ("", ()),
    ) -> None:
        """Set a point, with the working of its place."""
        ref = ref or self.ref(kind)
        box = box_around(at, *self.size(kind))
        self.points.append(
            ServicePoint(
                ref, kind, at[0], at[1], box, self.depth(kind, zone), zone, "", tuple(serves), reason, pinned
            )
        )
        source: tuple[str, Certainty] = (
            ("the design", "derived") if pinned else ("plane geometry of the free places", "computed")
        )
        for name, value in (("x", at[0]), ("z", at[1])):
            self.whys.append(Why(f"point {ref}.{name}", value, "mm", reason, *working, *source, pinned))
