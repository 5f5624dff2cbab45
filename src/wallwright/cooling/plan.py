"""How warm the bays with devices get, what air they need, and where the openings for it are cut.

In a bay with shelves each device stands in one compartment, between two shelves: that is the air it warms. LED drivers warm the
bay they stand in by what they lose. A shut bay that would get too warm is given openings unless the designer said none.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache, partial
from typing import TYPE_CHECKING

from wallwright.cooling import heat
from wallwright.cooling.record import BayHeat, Cooling, VentOpening
from wallwright.cooling.stand import FAN, compartments, levels, stand
from wallwright.cooling.vents import cut, passes, places
from wallwright.core.limit import Limits
from wallwright.core.why import Given, Later, Why, Whys
from wallwright.job.document import Job
from wallwright.library import load

if TYPE_CHECKING:
    from wallwright.carcass.record import BayBox, Part, UnitBox
    from wallwright.light.record import LightRun
    from wallwright.services.record import PlacedDevice, ServicePoint

_NO_GRILLE = frozenset({"open", "cloth", "drawers", "pull_out"})
_SOURCE = "ASHRAE Handbook Fundamentals chapter 16; ISO 6946"

_rise = lru_cache(maxsize=1024)(heat.rise)
"""The same compartments are asked of again when a cure is tried, and after each edit that leaves them as they are."""


@dataclass(frozen=True, slots=True)
class Around:
    """What the openings are placed by, and what a bay's boards face: units, boards, bays, height and width of the wall [mm]."""

    units: tuple[UnitBox, ...] = ()
    parts: tuple[Part, ...] = ()
    ceiling: float = 0.0
    bays: tuple[BayBox, ...] = ()
    width: float = 0.0

    def outer(self, bay: BayBox, lowest: bool, highest: bool, limits: Limits) -> heat.Outer:
        """Which boards of a compartment of a bay face the room: those with a gap before them that air passes.

        lowest, highest : where the compartment lies in its bay
        """
        clear = limits.value("cooling.air_gap")
        near = clear + 2 * limits.value("cooling.board_thickness")  # from clear inside to clear inside
        unit = next((unit.box for unit in self.units if unit.ref == bay.unit), None)
        there = [other.box for other in self.bays if other.ref != bay.ref and other.unit == bay.unit]
        there += [other.box for other in self.units if other.ref != bay.unit]
        level = [box for box in there if min(box.top, bay.box.top) - max(box.z, bay.box.z) > 1.0]
        column = [box for box in there if box.shared_span(bay.box) > 1.0]
        return heat.Outer(
            left=bay.box.x > near and not any(-1.0 < bay.box.x - box.right < near for box in level),
            right=(not self.width or self.width - bay.box.right > near)
            and not any(-1.0 < box.x - bay.box.right < near for box in level),
            top=highest
            and (not self.ceiling or self.ceiling - bay.box.top > near)
            and not any(-1.0 < box.z - bay.box.top < near for box in column),
            bottom=lowest
            and (unit is None or unit.z > clear)
            and not any(-1.0 < bay.box.z - box.top < near for box in column),
        )


@dataclass(frozen=True, slots=True)
class _Air:
    """A compartment and its air: heat [W], leakage [W/K], free area in and out [m²], height between their middles [m], fan [m³/s].

    single : the two are the halves of one upright opening, an open front, air in below and out above
    """

    watts: float
    loss: float
    low: float
    high: float
    between: float
    fan: float
    single: bool = False

    @property
    def area(self) -> float:
        """Of the two equal openings that pass as much [m²]."""
        return heat.equal_area(self.low, self.high)

    def rise(self, limits: Limits) -> float:
        """Over the room [K]."""
        room = limits.value("cooling.room_temperature")
        if self.single:
            whole, high = self.low + self.high, 2 * self.between
            discharge = limits.value("cooling.discharge_single")
            return _rise(
                self.watts, self.loss, whole, high, room, discharge=discharge, fan=self.fan, single=True
            )
        discharge = limits.value("cooling.discharge")
        return _rise(self.watts, self.loss, self.area, self.between, room, discharge=discharge, fan=self.fan)

    def needed(self, allowed: float, limits: Limits) -> float:
        """Each of two openings so far apart, or half of an open front, that keeps the rise to `allowed` [m²]."""
        room = limits.value("cooling.room_temperature")
        if self.single:
            discharge, high = limits.value("cooling.discharge_single"), 2 * self.between
            return heat.area_needed(self.watts, self.loss, high, allowed, room, discharge, single=True) / 2
        discharge = limits.value("cooling.discharge")
        return heat.area_needed(self.watts, self.loss, self.between, allowed, room, discharge)


def openings(bay: BayBox, limits: Limits) -> tuple[float, float, float]:
    """Free area in and out of one compartment [m²], and the height between their middles [m], by the bay's front.

    An open or air-open front is one opening with two halves, one above the other. A shut front (a shutter is a solid board) has a gap
    below and, with the cable hole behind, one above.
    """
    width, height = bay.box.width / 1000.0, bay.box.height / levels(bay) / 1000.0
    name = f"cooling.open_share_{bay.front}"
    if name in limits:
        half = limits.value(name) * width * height / 2.0
        return half, half, height / 2.0
    gap = width * limits.value("cooling.gap_front") / 1000.0
    return gap, gap + limits.value("cooling.back_hole") / 10_000.0, height


def plan(  # noqa: PLR0913
    job: Job, bays: Sequence[BayBox], devices: Sequence[PlacedDevice], limits: Limits, *, units: Sequence[UnitBox] = (),
    parts: Sequence[Part] = (), ceiling: float = 0.0, width: float = 0.0, strips: Sequence[LightRun] = (), points: Sequence[ServicePoint] = (),
) -> Cooling:  # fmt: skip
    """The heat of every bay that holds devices or LED drivers. parts, units : the boards that openings are cut in · ceiling, width :
    of the wall [mm] · points : where each strip's driver is fed, and so stands
    """
    around = Around(tuple(units), tuple(parts), ceiling, tuple(bays), width)
    held = {bay.ref: inside for bay, inside in stand(bays, devices, limits)}
    drivers = driver_heat(bays, strips, points, limits)
    made = [
        _bay_heat(job, bay, held.get(bay.ref, ()), drivers.get(bay.ref, {}), around, limits)
        for bay in bays
        if bay.ref in held or bay.ref in drivers
    ]
    return Cooling(tuple(b for b, _ in made), Later(lambda: (why for _, whys in made for why in whys)))


def driver_heat(
    bays: Sequence[BayBox], strips: Sequence[LightRun], points: Sequence[ServicePoint], limits: Limits
) -> dict[str, dict[str, float]]:
    """What the driver of each strip loses [W], by the bay behind which it is fed: bay → strip → W."""
    lost = 1.0 / limits.value("services.driver_efficiency") - 1.0
    out: dict[str, dict[str, float]] = {}
    for strip in strips:
        feed = next((p for p in points if p.kind == "led_feed" and strip.ref in p.serves), None)
        if strip.driver_place != "cabinet" or feed is None:
            continue
        bay = next(
            (b for b in bays if b.box.x <= feed.x <= b.box.right and b.box.z <= feed.z <= b.box.top), None
        )
        if bay is not None:
            out.setdefault(bay.ref, {})[strip.ref] = strip.watts * lost
    return out


def allowed_rise(job: Job, limits: Limits) -> float:
    """The rise that devices bear [K]: less where the climate is hot."""
    return limits.value("cooling.rise_good" if job.survey.place.hot_humid else "cooling.rise_max")


def borne_rise(devices: Sequence[PlacedDevice], limits: Limits) -> float:
    """The rise [K] over the room at which the first of those devices is in air as warm as it bears."""
    kinds, room = load.devices(), limits.value("cooling.room_temperature")
    return min((kinds[d.kind].air_most - room for d in devices if d.kind in kinds), default=math.inf)


def may_vent(job: Job, bay: BayBox) -> bool:
    """Whether openings may be cut for a bay: behind a door or flap, where the designer did not say none."""
    unit = next((unit for unit in job.design.units if unit.ref == bay.unit), None)
    asked = unit.bays[int(bay.ref.rpartition(".")[2]) - 1].vents if unit and unit.bays else None
    return bay.front not in _NO_GRILLE and asked is not False


def _bay_heat(  # noqa: PLR0913
    job: Job, bay: BayBox, devices: Sequence[PlacedDevice], drivers: Mapping[str, float], around: Around, limits: Limits
) -> tuple[BayHeat, Whys]:  # fmt: skip
    """The warmest compartment of a bay; its drivers stand with the warmest devices."""
    side = limits.value("services.device_side_clear")
    found = compartments(bay, devices, side) or ((),)
    warmest = max(found, key=lambda level: sum(device.watts for device in level))
    made = [
        _compartment(job, bay, devices, level, drivers if level is warmest else {}, around, limits, place)
        for place, level in enumerate(found)
    ]
    return max(made, key=lambda item: item[0].rise)


def _compartment(  # noqa: PLR0913
    job: Job, bay: BayBox, devices: Sequence[PlacedDevice], level: Sequence[PlacedDevice], drivers: Mapping[str, float],
    around: Around, limits: Limits, place: int = 0,
) -> tuple[BayHeat, Whys]:  # fmt: skip
    """One compartment. devices : all that stand in the bay · level : those that stand in it · place : from the lowest, 0, upwards."""
    v = limits.value
    fans = sum(device.kind == FAN for device in level)
    tall = bay.box.height / levels(bay)
    loss = heat.box_loss(
        bay.box.width / 1000.0, bay.depth / 1000.0, tall / 1000.0,
        v("cooling.board_thickness") / 1000.0, v("cooling.board_conductivity"),
        around.outer(bay, place == 0, place == levels(bay) - 1, limits),
    )  # fmt: skip
    watts = sum(device.watts for device in level) + sum(drivers.values())
    single = f"cooling.open_share_{bay.front}" in limits
    air = _Air(watts, loss, *openings(bay, limits), fans * v("cooling.fan_flow") / 3600.0, single)
    most, bears = allowed_rise(job, limits), borne_rise(level, limits)
    borne = min(most, bears)  # a fan that leaves the box too warm is none
    allowed = (
        borne if borne > 0.0 else most
    )  # in a room warmer than the box bears, openings keep the bay near the room's air
    vents: tuple[VentOpening, ...] = ()
    if may_vent(job, bay) and air.rise(limits) > allowed:
        air, vents = _vented(bay, tall, air, allowed, around, limits)
    needed, rise = air.needed(allowed, limits), air.rise(limits)
    warm = needed > air.area + 1e-9 or rise > borne + 0.05
    made = BayHeat(
        bay.ref, bay.unit, watts, heat.rise_closed(watts, loss), rise, air.area * 1e4, needed * 1e4,
        heat.fan_needed(watts, loss, borne) if warm and borne > 0.0 else 0.0,
        tuple(device.ref for device in devices), fans, tall, sum(drivers.values()), vents,
    )  # fmt: skip
    names = (
        *(Given(device.name, device.watts, "W") for device in level),
        *(Given(f"driver of {ref} loses", lost, "W") for ref, lost in drivers.items()),
    )
    return made, Later(partial(_whys, made, bay, air, names, allowed, limits))


def _vented(
    bay: BayBox, tall: float, air: _Air, allowed: float, around: Around, limits: Limits
) -> tuple[_Air, tuple[VentOpening, ...]]:
    """The compartment with openings cut: as large as it needs, or as its boards allow."""
    unit = next((unit for unit in around.units if unit.ref == bay.unit), None)
    free = places(bay, tall, unit, around.parts, around.ceiling, limits) if unit else ()
    into = [place for place in free if place.low]
    out = [place for place in free if not place.low]
    if not into or not out:
        return air, ()
    between = (max(place.middle for place in out) - max(place.middle for place in into)) / 1000.0
    if between <= 0.0:
        return air, ()
    apart = replace(air, between=between, single=False)
    vents = cut(apart.needed(allowed, limits), free, bay.ref, limits)
    low, high = passes(vents, low=True), passes(vents, low=False)
    if not low or not high:
        return air, ()
    return replace(apart, low=air.low + low, high=air.high + high), vents


def _whys(
    made: BayHeat, bay: BayBox, air: _Air, names: tuple[Given, ...], allowed: float, limits: Limits
) -> tuple[Why, ...]:
    v = limits.value
    fan_too = " and the fan" if made.fans else ""
    where = f"in its warmest compartment, {made.height:.0f} mm high; " if levels(bay) > 1 else ""
    inputs = (
        Given("heat", made.watts, "W"),
        Given("boards leak", air.loss, "W/K"),
        Given("opening, each of two", made.opening, "cm²"),
        Given("height between them", air.between * 1000.0, "mm"),
        Given("compartment's height", made.height, "mm"),
        Given("fan", air.fan * 3600.0, "m³/h"),
        Given("room", v("cooling.room_temperature"), "°C"),
        Given("discharge", v("cooling.discharge_single" if air.single else "cooling.discharge")),
        *names,
    )
    front = {"open": "the open front", "cloth": "the cloth front"}.get(
        bay.front, f"the gaps of the {bay.front} front and the cable hole"
    )
    if made.openings:
        front += " and the openings cut for it"
    kept = tuple(Given(vent.what, f"{vent.width:.0f} × {vent.height:.0f}", "mm") for vent in made.openings)
    return (
        Why(f"bay {bay.ref}.watts", made.watts, "W", "what its devices draw while running turns to heat, and what drivers lose",
            "sum", names, "powers of the library's devices", "computed"),
        Why(
            f"bay {bay.ref}.rise", made.rise, "K", f"{where}over the room, with air through {front}{fan_too}",
            "heat = air carried off by openings and fan + leakage through the boards, solved for the rise", (*inputs, *kept),
            f"{_SOURCE}; one opening: CIBSE AM10" if air.single else _SOURCE, "derived",
        ),
        Why(
            f"bay {bay.ref}.rise_closed", made.rise_closed, "K", "over the room, were it quite closed", "heat / leakage", inputs,
            _SOURCE, "derived",
        ),
        Why(
            f"bay {bay.ref}.opening_needed", made.opening_needed, "cm²",
            f"each of two openings, low and high, that keeps the rise to {allowed:g} K",
            "(heat - leakage × rise) / air per area at that rise", inputs, _SOURCE, "derived",
        ),
    )  # fmt: skip
