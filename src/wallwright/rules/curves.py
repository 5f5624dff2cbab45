"""Rules of curved edges: a band, or the board that lines an arch, goes round no tighter than its material bends."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from wallwright.carcass import niche
from wallwright.carcass.stock import BENDING
from wallwright.core.finding import EditCall, Finding, edit_call, finding
from wallwright.core.shape import Box
from wallwright.derive import Wall
from wallwright.library import load
from wallwright.rules.registry import rule

TIGHT = 0.5
"""A radius that much under is drawn, not cut [mm]."""


@dataclass(frozen=True, slots=True)
class Curve:
    """An arched edge: whose, radius and span [mm], whether a panel's, the bands of the boards it is cut in, and how it is lined."""

    ref: str
    radius: float
    span: float
    panel: bool
    bands: tuple[str, ...]
    bend: str
    box: Box

    def eased(self, least: float) -> tuple[str, tuple[EditCall, ...]]:
        """A flatter arch of that radius: in words, and the edit that makes it."""
        rise = math.floor(least - math.sqrt(max(least**2 - self.span**2 / 4, 0.0)))
        if rise < 1:
            return "", ()
        words = f"make it a segment that rises {rise} mm: radius {self.span**2 / 8 / rise + rise / 2:.0f}"
        if self.panel:
            return words, (edit_call("set_panel_head", ref=self.ref, head="segment", rise=float(rise)),)
        return words, (edit_call("set_unit_arch", ref=self.ref, rise=float(rise)),)


def curves(wall: Wall) -> Iterator[Curve]:
    """Every arched head of the wall: of panelled zones and of niches."""
    bands = {
        ref: tuple(dict.fromkeys(
            band for part in wall.carcass.parts if part.unit == ref and part.role in ("panel", "face") for band in part.edges if band
        ))
        for ref in (
            *(zone.ref for zone in wall.setout.zones if zone.arch), *(unit.ref for unit in wall.setout.units if unit.rise),
        )
    }  # fmt: skip
    for zone in wall.setout.zones:
        if zone.arch:
            arch = zone.arch
            yield Curve(zone.ref, arch.radius, arch.span, True, bands[zone.ref], zone.bend, zone.box)
    for unit in wall.setout.units:
        if unit.rise:
            arch = niche.arch_of(unit)
            yield Curve(unit.ref, arch.radius, arch.span, False, bands[unit.ref], unit.bend, unit.box)


@rule("materials.edge_radius")
def edge_radius(wall: Wall) -> Iterator[Finding]:
    """An edge band goes round a curve no tighter than it bends without breaking or coming loose."""
    known = load.edges()
    for curve in curves(wall):
        for key in curve.bands:
            band = known.get(key)
            if band is None or curve.radius >= band.least_radius - TIGHT:
                continue
            thinner = [
                one for one in known.values()
                if one.material == band.material and one.least_radius <= curve.radius and one.wet >= band.wet
            ]  # fmt: skip
            other = (
                f"band it with {max(thinner, key=lambda one: one.thickness).name} there, or "
                if thinner
                else ""
            )
            words, edits = curve.eased(band.least_radius)
            yield Finding(
                "materials.edge_radius",
                "fix",
                curve.ref,
                f"{band.name} on the curve of {curve.ref}, radius {curve.radius:.0f} mm: it goes round {band.least_radius:g} mm",
                round(curve.radius),
                band.least_radius,
                "mm",
                f"{band.source}; its maker's table decides",
                band.certainty,
                f"{other}{words}",
                edits,
                at=curve.box,
            )


@rule("materials.bend_radius")
def bend_radius(wall: Wall) -> Iterator[Finding]:
    """Bending plywood lines a curve no tighter than it bends; a kerfed board does."""
    limit = wall.limits["materials.bend_radius"]
    lined = {part.unit for part in wall.carcass.parts if part.role == "lining" and part.board == BENDING}
    for curve in curves(wall):
        if curve.ref not in lined or curve.radius >= limit.value - TIGHT:
            continue
        edit = "set_panel_head" if curve.panel else "set_unit_arch"
        yield finding(
            "materials.bend_radius",
            "fix",
            curve.ref,
            f"bending plywood does not go round the arch of {curve.ref}, radius {curve.radius:.0f} mm",
            measured=round(curve.radius),
            limit=limit,
            at=curve.box,
            cure="line it with a kerfed board",
            edits=[
                edit_call(
                    edit,
                    ref=curve.ref,
                    bend="kerf",
                    **({"head": _head(wall, curve.ref)} if curve.panel else {}),
                )
            ],
        )


def _head(wall: Wall, ref: str) -> str:
    """The form of the zone's top as it is."""
    return next(panel.head for panel in wall.job.design.panels if panel.ref == ref) or "round"
