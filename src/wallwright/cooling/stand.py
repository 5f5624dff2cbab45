"""Which bay each device stands in, and on which of its levels.

Devices are shared out over the bays of their unit: first where air and signals pass, last in drawers and pull-outs. In a bay with shelves
each stands in one compartment, between two shelves: that is the air it warms.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from wallwright.core.limit import Limits
from wallwright.core.shape import Box

if TYPE_CHECKING:
    from wallwright.carcass.record import BayBox
    from wallwright.services.record import PlacedDevice

_ORDER = ("open", "cloth", "slatted", "glass", "shutter", "flap", "pull_out", "drawers")
_MOVES = frozenset({"drawers", "pull_out"})
"""What is pulled out on runners drags its boxes' cables along: the last place for them."""
_SHUT_IN = frozenset({"cabinet", "tower"})
FAN = "cabinet_fan"


@dataclass(slots=True)
class _Filling:
    """A bay and what stands in it so far."""

    bay: BayBox
    devices: list[PlacedDevice] = field(default_factory=list["PlacedDevice"])

    @property
    def watts(self) -> float:
        """Heat in the bay [W]: what its devices draw, its fans left out."""
        return sum(device.watts for device in self.devices if device.kind != FAN)

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


def side_by_side(
    bay: BayBox, devices: Sequence[PlacedDevice], side: float
) -> Iterator[tuple[PlacedDevice, Box, Box]]:
    """Each device of a bay with its box on the wall's face and the level it stands on: the warmest level lowest, the boxes of a
    level spread evenly over its width. side : clear width each takes besides its own [mm]
    """
    tall = bay.box.height / levels(bay)
    for i, level in enumerate(compartments(bay, devices, side)):
        z = bay.box.z + i * tall
        gap = (bay.box.width - sum(d.width for d in level)) / (len(level) + 1)
        x = bay.box.x + gap
        for device in level:
            box = Box(x, z, device.width, device.height)
            yield device, box, Box(bay.box.x, z, bay.box.width, tall)
            x += device.width + gap


def stand(
    bays: Sequence[BayBox], devices: Sequence[PlacedDevice], limits: Limits
) -> tuple[tuple[BayBox, tuple[PlacedDevice, ...]], ...]:
    """Each bay with the devices that stand in it; bays without devices are left out.

    The warmest device chooses first: a bay it fits, nothing that is pulled out, one its remote reaches, then the one with least heat so far.
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
            chosen = max(
                theirs, key=lambda filling: filling.watts / (1 + filling.fans)
            )  # the most heat a fan
        else:
            chosen = min(theirs, key=lambda filling: _rank(filling, device, clear))
        chosen.devices.append(device)
    return tuple((f.bay, tuple(f.devices)) for f in filled.values() if f.devices)


def _rank(
    filling: _Filling, device: PlacedDevice, clear: Mapping[str, float]
) -> tuple[bool, bool, bool, float, int]:
    front = filling.bay.front
    return (
        front in _MOVES,
        not filling.room_for(device, clear),
        device.control == "ir" and not filling.bay.ir_open,
        filling.watts,
        _ORDER.index(front) if front in _ORDER else len(_ORDER),
    )
