"""The price explained to the part: each line of the bill shared out over the things that are in it, to the smallest coin.

A line's amount goes to its things by what was measured of them: boards by cut area, faces by area, edges by length, hours of units by
their front, cables and conduit by their run. What belongs to no one thing (survey, delivery, protection) stays with the site.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from wallwright.money.quote import allotted

if TYPE_CHECKING:
    from wallwright.carcass.record import Part
    from wallwright.derive import Wall
    from wallwright.money.record import Line, Money

SITE = "site"
RUN = "run "
"""Before the ref of a run or point that a unit bears too."""
Shares = Mapping[str, float]


@dataclass(frozen=True, slots=True)
class ThingCost:
    """What a thing of the wall costs: direct and all in (minor units); front : its face [m²], 0 where it has none."""

    ref: str
    name: str
    direct: int
    price: int
    front: float


def cost_of_parts(wall: Wall) -> dict[str, int]:
    """Direct cost by the finest ref there is: part, point, run, light, fixing, unit; they sum to the direct cost exactly."""
    out: dict[str, int] = defaultdict(int)
    weights = _Weights(wall)
    for line in wall.money.lines:
        shares = weights.of(line)
        for ref, amount in zip(shares, allotted(line.amount, list(shares.values())), strict=True):
            out[ref] += amount
    return dict(out)


def cost_of_things(wall: Wall) -> tuple[ThingCost, ...]:
    """Direct and all-in cost of each unit, panel, light, of the services, the wall's face, the screen's hanging, and the site."""
    parts = {part.id: part.unit for part in wall.carcass.parts}
    direct: dict[str, int] = defaultdict(int)
    for ref, amount in cost_of_parts(wall).items():
        direct[_thing(wall, parts.get(ref, ref))] += amount
    order = {ref: i for i, ref in enumerate(_names(wall))}
    refs = sorted(direct, key=lambda ref: order.get(ref, len(order)))
    names, prices = _names(wall), all_in(wall.money, [direct[ref] for ref in refs])
    fronts = {u.ref: u.box.area for u in wall.setout.units} | {z.ref: z.box.area for z in wall.setout.zones}
    return tuple(
        ThingCost(ref, names.get(ref, ref), direct[ref], price, round(fronts.get(ref, 0.0) / 1e6, 2))
        for ref, price in zip(refs, prices, strict=True)
    )


def all_in(money: Money, direct: Sequence[int]) -> list[int]:
    """The price shared out over direct costs; the shares sum to it."""
    return allotted(money.total, list(direct)) if direct else []


def _names(wall: Wall) -> dict[str, str]:
    """Every thing of the wall in the order of the bill, with its name."""
    units = {unit.ref: unit.kind.replace("_", " ").capitalize() for unit in wall.setout.units}
    zones = {zone.ref: f"Panel, {zone.kind.replace('_', ' ')}" for zone in wall.setout.zones}
    lights = {run.ref: f"Light {run.along.replace('_', ' ')}" for run in wall.light.runs}
    rest = {
        "services": "Points, cables and circuits",
        "wall": "Wall face",
        "screen": "Screen hung",
        SITE: "Site and attendance",
    }
    return {**units, **zones, **lights, **rest}


def _thing(wall: Wall, ref: str) -> str:
    """The thing a ref belongs to."""
    if ref in _names(wall):
        return ref
    if ref.startswith(RUN):
        return "services"
    services = {point.ref for point in wall.services.points} | {run.ref for run in wall.services.runs}
    return "services" if ref in services or ref in {c.ref for c in wall.services.circuits} else SITE


class _Weights:
    """By what each line is shared out over its things."""

    def __init__(self, wall: Wall) -> None:
        self.wall = wall
        self.parts = {part.id: part for part in wall.carcass.parts}
        self.runs = {run.ref: run.length for run in wall.services.runs} | {
            run.ref: run.length for run in wall.light.runs
        }
        self.fixings = {check.ref: float(check.count) for check in wall.structure.fixings if check.count}

    def of(self, line: Line) -> Shares:
        """Ref → weight; never empty."""
        found = self._of(line)
        return found if sum(found.values()) > 0 else {SITE: 1.0}

    def _of(self, line: Line) -> Shares:  # noqa: PLR0911
        key, wall = line.ref, self.wall
        if key.startswith("cable_"):  # its refs are those of the plugs, which no unit or panel answers to
            return {"services": 1.0}
        if key == "anchor":
            return {ref: self.fixings.get(ref, 0.0) for ref in line.of}
        if line.of and all(ref in self.parts for ref in line.of):
            return (
                self._laid(line)
                if key.startswith("finish_")
                else {ref: _size(self.parts[ref]) for ref in line.of}
            )
        if line.of:
            return self._refs(line)
        if key.startswith("edge_"):
            return self._edges(key.removeprefix("edge_"))
        if key.startswith("hardware_"):
            return self._hardware(line)
        if key.startswith("labour_"):
            return self._labour(key.removeprefix("labour_"))
        if key.startswith("wall_finish_"):
            return {"wall": 1.0}
        if key.startswith("finish_"):
            return {z.ref: z.box.area for z in wall.setout.zones if key == f"finish_{z.finish}"}
        if key.startswith("mount_"):
            return {"screen": 1.0}
        return {z.ref: z.box.area for z in wall.setout.zones if z.flutes} if key == "flutes" else {}

    def _refs(self, line: Line) -> Shares:
        """Points, circuits and drivers by the piece; what is measured in metres by its run."""
        metres = line.unit in ("m", "rft")
        out: dict[str, float] = defaultdict(float)
        clash = (
            {unit.ref for unit in self.wall.setout.units}
            if line.trade in ("electrical", "plaster")
            else set[str]()
        )
        for ref in line.of:
            out[f"{RUN}{ref}" if ref in clash else ref] += self.runs.get(ref, 1.0) if metres else 1.0
        return out

    def _laid(self, line: Line) -> Shares:
        out = {ref: self.parts[ref].length * self.parts[ref].width for ref in line.of}
        for zone in self.wall.setout.zones:
            if zone.kind in ("tile", "slab") and line.ref == f"finish_{zone.finish}":
                out[zone.ref] = zone.box.area
        return out

    def _edges(self, band: str) -> Shares:
        return {part.id: run for part in self.parts.values() if (run := _banded(part, band))}

    def _hardware(self, line: Line) -> Shares:
        """By the piece, of the rows of the schedule that the line counts: those of its name."""
        out: dict[str, float] = defaultdict(float)
        for item in self.wall.carcass.hardware:
            if line.ref.startswith(f"hardware_{item.kind}") and item.name == line.item:
                out[item.unit] += item.quantity
        return out

    def _labour(self, work: str) -> Shares:
        units, limits = self.wall.setout.units, self.wall.limits
        if work == "carcass":
            return {unit.ref: unit.box.area for unit in units if not unit.board_only}
        if work in ("drawer", "door"):
            out: dict[str, float] = defaultdict(float)
            for mover in self.wall.carcass.movers:
                out[mover.unit] += float((mover.kind == "drawer") == (work == "drawer"))
            return out
        if work == "panel":
            return {zone.ref: zone.box.area for zone in self.wall.setout.zones}
        if work == "hanging":
            kinds = {u.ref: "shelf" if u.board_only else "hanging" if u.hung else "standing" for u in units}
            return {ref: limits.value(f"money.hours_{kind}") for ref, kind in kinds.items()}
        return {}


def _size(part: Part) -> float:
    """Of a batten, nogging or moulding its length, of a board its cut area."""
    return (
        part.length if part.board in ("batten", "nogging", "moulding") else part.cut_length * part.cut_width
    )


def _banded(part: Part, band: str) -> float:
    sides = zip(part.edges, (part.length, part.length, part.width, part.width), strict=True)
    return sum(length for edge, length in sides if edge == band)
