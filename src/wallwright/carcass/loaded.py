"""Runners chosen anew by what storage puts into each drawer, where it puts anything there."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from wallwright.carcass import fitted
from wallwright.carcass.record import Carcass, Hardware, OnRunners
from wallwright.core.why import Given, Why


def loaded(carcass: Carcass, kept: Mapping[str, float]) -> Carcass:
    """The carcass with the runners of each drawer and pull-out for its own boards and what it keeps, and the working of each.

    kept : mass by drawer ("C1.2-D1") or pull-out bay ("T1.3") [kg]; one without an entry is reckoned full at the usual density
    """
    if not carcass.on_runners:
        return carcass
    whys = tuple(_why(drawer, kept.get(drawer.ref)) for drawer in carcass.on_runners)
    if not kept:
        return replace(carcass, whys=(*carcass.whys, *whys))
    fits: dict[str, list[fitted.Fit]] = {}
    for drawer in carcass.on_runners:
        fits.setdefault(drawer.unit, []).append(fitted.runner(drawer, kept.get(drawer.ref)))
    hardware: list[Hardware] = []
    for item in carcass.hardware:
        if item.kind not in ("runner", "pull_out"):
            hardware.append(item)
        elif item.unit in fits:  # where the unit's first stood
            hardware.extend(fitted.lines(item.unit, fits.pop(item.unit)))
    return replace(carcass, hardware=tuple(hardware), whys=(*carcass.whys, *whys))


def _why(drawer: OnRunners, kept: float | None) -> Why:
    own = Given("its own boards", round(drawer.own, 2), "kg")
    if kept is None:
        return Why(
            f"drawer {drawer.ref}.load", round(drawer.full, 1), "kg", "Its runners carry it full: nothing was told that goes in it.",
            "own boards + inside × usual density", (own,), "arithmetic", "computed",
        )  # fmt: skip
    return Why(
        f"drawer {drawer.ref}.load", round(drawer.own + kept, 1), "kg", "Its runners carry it with what it is to keep.",
        "own boards + things allotted", (own, Given("things allotted", round(kept, 2), "kg")), "arithmetic", "computed",
    )  # fmt: skip
