"""How warm the bays with devices get, and what air they need.

Devices are shared out over the bays of their unit: first where air and signals pass, last in drawers. In a bay with shelves
each stands in one compartment, between two shelves: that is the air it warms.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from wallwright.cooling import heat
from wallwright.cooling.record import BayHeat, Cooling
from wallwright.core.limit import Limits
from wallwright.core.why import Given, Why
from wallwright.job.document import Job

if TYPE_CHECKING:
    from wallwright.carcass.record import BayBox
    from wallwright.services.record import PlacedDevice

_ORDER = ("open", "cloth", "glass", "shutter", "flap", "drawers")
_SHUT_IN = frozenset({"cabinet", "tower"})
FAN = "cabinet_fan"


@dataclass(slots=True)
class _Filling:
    """A bay and what stands in it so far."""

    bay: BayBox
    devices: list[PlacedDevice] = field(default_factory=list["PlacedDevice"])

    @property
    def watts(self) -> float:
        """Heat in the bay [W]: what its devices draw."""
        return sum(device.watts for device in self.devices)

    @property
    def fans(self) -> int:
        """Fans in the bay."""
        return sum(device.kind == FAN for device in self.devices)

    def clear_height(self) -> float:
        """Height of one level [mm]."""
        return self.bay.box.height / levels(self.bay)

    def room_for(self, device: PlacedDevice, clear: Mapping[str, float]) -> bool:
        """Whether a device goes in beside what is there, with air round it and its plugs behind."""
        used = sum(other.width + clear["side"] for other in self.devices if other.kind != FAN)
        longest = self.bay.box.width * levels(self.bay)
        return (
            self.bay.box.width >= device.width + clear["side"]
            and longest - used >= device.width + clear["side"]
            and self.bay.depth >= device.depth + clear["back"]
            and self.clear_height() >= device.height + clear["top"]
        )


def levels(bay: BayBox) -> int:
    """How many levels a bay has: drawers, or compartments between its shelves."""
    return max(1, bay.drawers) if bay.front == "drawers" else bay.shelves + 1


def compartments(
    bay: BayBox, devices: Sequence[PlacedDevice], side: float
) -> tuple[tuple[PlacedDevice, ...], ...]:
    """The devices of a bay by the level they stand on: the warmest first, each where there is width and least heat so far.

    Fans stand with the warmest. side : clear width each device takes besides its own [mm]
    """
    held: list[list[PlacedDevice]] = [[] for _ in range(levels(bay))]

    def heat_in(level: list[PlacedDevice]) -> float:
        return sum(device.watts for device in level)

    def fits(level: list[PlacedDevice], device: PlacedDevice) -> bool:
        return sum(other.width + side for other in level) + device.width + side <= bay.box.width

    for device in sorted(devices, key=lambda item: (item.kind == FAN, -item.watts, item.ref)):
        if device.kind == FAN:
            max(held, key=heat_in).append(device)
        else:
            min(held, key=lambda level: (not fits(level, device), heat_in(level))).append(device)
    return tuple(tuple(level) for level in held if level)


def stand(
    bays: Sequence[BayBox], devices: Sequence[PlacedDevice], limits: Limits
) -> tuple[tuple[BayBox, tuple[PlacedDevice, ...]], ...]:
    """Each bay with the devices that stand in it; bays without devices are left out.

    The warmest device chooses first: a bay it fits, no drawer, one its remote reaches, then the one with least heat so far.
    """
    clear = {name: limits.value(f"services.device_{name}_clear") for name in ("side", "top", "back")}
    filled = {bay.ref: _Filling(bay) for bay in bays}
    for device in sorted(devices, key=lambda item: (item.kind == FAN, -item.watts, item.ref)):
        if device.place not in _SHUT_IN:
            continue
        theirs = [filling for filling in filled.values() if filling.bay.unit == device.unit]
        if not theirs:
            continue
        if device.kind == FAN:
            chosen = max(theirs, key=lambda filling: filling.watts - 1000.0 * filling.fans)
        else:
            chosen = min(theirs, key=lambda filling: _rank(filling, device, clear))
        chosen.devices.append(device)
    return tuple((f.bay, tuple(f.devices)) for f in filled.values() if f.devices)


def _rank(
    filling: _Filling, device: PlacedDevice, clear: Mapping[str, float]
) -> tuple[bool, bool, bool, float, int]:
    front = filling.bay.front
    return (
        front == "drawers",
        not filling.room_for(device, clear),
        device.control == "ir" and not filling.bay.ir_open,
        filling.watts,
        _ORDER.index(front) if front in _ORDER else len(_ORDER),
    )


def openings(bay: BayBox, limits: Limits) -> tuple[float, float, float]:
    """Free area in and out of one compartment [m²], and the height between their middles [m], by the bay's front.

    An open or air-open front works as two halves, one above the other. A shut front (a shutter is a solid board) has a gap
    below and, with the cable hole behind, one above.
    """
    width, height = bay.box.width / 1000.0, bay.box.height / levels(bay) / 1000.0
    name = f"cooling.open_share_{bay.front}"
    if name in limits:
        half = limits.value(name) * width * height / 2.0
        return half, half, height / 2.0
    gap = width * limits.value("cooling.gap_front") / 1000.0
    return gap, gap + limits.value("cooling.back_hole") / 10_000.0, height


def plan(job: Job, bays: Sequence[BayBox], devices: Sequence[PlacedDevice], limits: Limits) -> Cooling:
    """The heat of every bay that holds devices."""
    made = [_bay_heat(job, bay, inside, limits) for bay, inside in stand(bays, devices, limits)]
    return Cooling(tuple(b for b, _ in made), tuple(why for _, whys in made for why in whys))


def allowed_rise(job: Job, limits: Limits) -> float:
    """The rise that devices bear [K]: less where the climate is hot."""
    return limits.value("cooling.rise_good" if job.survey.place.hot_humid else "cooling.rise_max")


def _bay_heat(
    job: Job, bay: BayBox, devices: Sequence[PlacedDevice], limits: Limits
) -> tuple[BayHeat, tuple[Why, ...]]:
    """The warmest compartment of a bay."""
    made = [
        _compartment(job, bay, devices, level, limits)
        for level in compartments(bay, devices, limits.value("services.device_side_clear"))
    ]
    return max(made, key=lambda item: item[0].rise)


def _compartment(
    job: Job, bay: BayBox, devices: Sequence[PlacedDevice], level: Sequence[PlacedDevice], limits: Limits
) -> tuple[BayHeat, tuple[Why, ...]]:
    """One compartment. devices : all that stand in the bay · level : those that stand in it."""
    v = limits.value
    watts = sum(device.watts for device in level)
    fans = sum(device.kind == FAN for device in level)
    tall = bay.box.height / levels(bay)
    loss = heat.box_loss(
        bay.box.width / 1000.0, bay.depth / 1000.0, tall / 1000.0,
        v("cooling.board_thickness") / 1000.0, v("cooling.board_conductivity"),
    )  # fmt: skip
    low, high, height = openings(bay, limits)
    area, room, discharge = heat.equal_area(low, high), v("cooling.room_temperature"), v("cooling.discharge")
    fan = fans * v("cooling.fan_flow") / 3600.0
    allowed = allowed_rise(job, limits)
    closed = heat.rise_closed(watts, loss)
    designed = heat.rise(watts, loss, area, height, room, discharge=discharge, fan=fan)
    needed = heat.area_needed(watts, loss, height, allowed, room, discharge)
    flow = heat.fan_needed(watts, loss, allowed) if needed > area else 0.0
    made = BayHeat(
        bay.ref, bay.unit, watts, closed, designed, area * 1e4, needed * 1e4, flow,
        tuple(device.ref for device in devices), fans, tall,
    )  # fmt: skip
    names = tuple(Given(device.name, device.watts, "W") for device in level)
    fan_too = " and the fan" if fans else ""
    where = f"in its warmest compartment, {tall:.0f} mm high; " if levels(bay) > 1 else ""
    inputs = (
        Given("heat", watts, "W"),
        Given("boards leak", loss, "W/K"),
        Given("opening, each of two", area * 1e4, "cm²"),
        Given("height between them", height * 1000.0, "mm"),
        Given("compartment's height", tall, "mm"),
        Given("fan", fan * 3600.0, "m³/h"),
        Given("room", room, "°C"),
        *names,
    )
    front = {"open": "the open front", "cloth": "the cloth front"}.get(
        bay.front, f"the gaps of the {bay.front} front and the cable hole"
    )
    source = "ASHRAE Handbook Fundamentals chapter 16; ISO 6946"
    return made, (
        Why(f"bay {bay.ref}.watts", watts, "W", "what its devices draw while running turns to heat", "sum", names,
            "powers of the library's devices", "computed"),
        Why(
            f"bay {bay.ref}.rise", designed, "K", f"{where}over the room, with air through {front}{fan_too}",
            "heat = air carried off by openings and fan + leakage through the boards, solved for the rise", inputs, source,
            "derived",
        ),
        Why(
            f"bay {bay.ref}.rise_closed", closed, "K", "over the room, were it quite closed", "heat / leakage", inputs, source,
            "derived",
        ),
        Why(
            f"bay {bay.ref}.opening_needed", needed * 1e4, "cm²",
            f"each of two openings, low and high, that keeps the rise to {allowed:g} K",
            "(heat - leakage × rise) / air per area at that rise", inputs, source, "derived",
        ),
    )  # fmt: skip
