"""Fittings of the fronts: how many hinges, which stays, and runners and latches that go together."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from wallwright.carcass.record import Hardware
from wallwright.core.limit import Limits
from wallwright.job.design import Opening

G = 9.80665
COUNTS = (2, 3, 4, 5)
"""Hinges for which there is a most weight and a most height; beyond the last, one more."""


def hinge_count(mass: float, height: float, width: float, limits: Limits) -> int:
    """Hinges of a door [kg, mm]: the larger of what its weight and its height ask for, one more where it is wide."""
    asked = max(_band("carcass.hinge_mass", mass, limits), _band("carcass.hinge_height", height, limits))
    return asked + (1 if width > limits.value("carcass.hinge_wide") else 0)


def _band(name: str, value: float, limits: Limits) -> int:
    return next((count for count in COUNTS if value <= limits.value(f"{name}_{count}")), COUNTS[-1] + 1)


def flap_torque(mass: float, height: float) -> float:
    """Torque of a flap lying level about its hinge [N·m]: m·g·H/2. mass kg, height mm."""
    return mass * G * height / 2 / 1000


def of_fronts(
    unit: str, opening: Opening, count: Mapping[str, int], run: float, torque: float
) -> Iterator[Hardware]:
    """The fittings of a unit's fronts. count : hinges, runners, stays and leaves by kind · run : of the runners [mm].

    Push: latch, unsprung hinges and push-open runners, for a spring or damper that draws a front shut works against the latch.
    Handle: sprung and damped. Source: common practice.
    """
    push = opening == "push"
    closing = "unsprung" if push else "soft-close"
    for kind, name in (("hinge", "Concealed hinge Ø35"), ("glass_hinge", "Hinge for glass")):
        if count.get(kind):
            yield Hardware(kind, f"{name}, {closing}", unit, count[kind], "by weight and height of each door")
    drawers, leaves = count.get("runner", 0), count.get("leaf", 0)
    if drawers:
        note = "push-open runners: nothing on the front" if push else "side-mounted, soft-close"
        name = f"Drawer runners {run:.0f} mm, full extension, {'push-open' if push else 'soft-close'}, pair"
        yield Hardware("runner", name, unit, drawers, note)
    if count.get("lift"):
        yield Hardware("lift", "Flap stay, damped", unit, count["lift"], f"for {torque:.1f} N·m, two a flap")
    if push and leaves:
        yield Hardware("push_latch", "Push latch", unit, leaves, "one a door or flap")
    elif not push and drawers + leaves:
        yield Hardware("handle", "Handle or grip", unit, drawers + leaves, "one a front")
