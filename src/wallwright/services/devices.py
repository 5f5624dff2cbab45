"""Where each device stands: at the screen, on the console, in the console, in a tower."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from difflib import get_close_matches
from typing import TYPE_CHECKING

from wallwright.core.limit import Limits
from wallwright.core.shape import Box
from wallwright.core.why import Given, Why
from wallwright.job.brief import Device
from wallwright.library import load
from wallwright.services.record import PlacedDevice

if TYPE_CHECKING:
    from wallwright.carcass.record import UnitBox


def kind_of(device: Device, index: int) -> load.DeviceKind:
    """The library's row of a device. ValueError names the field and the nearest known kind."""
    known = load.devices()
    if device.kind not in known:
        near = get_close_matches(device.kind, known, 1) or sorted(known)[:1]
        raise ValueError(
            f"brief.devices.{index}.kind: no device kind {device.kind!r} in the library; the nearest is {near[0]!r}"
        )
    return known[device.kind]


def place_devices(
    wanted: Sequence[Device], units: Sequence[UnitBox], limits: Limits, screen: Box | None = None
) -> tuple[tuple[PlacedDevice, ...], tuple[Why, ...]]:
    """Each device with its place and unit; the bay is chosen when the bays are known. Sizes given go before the library's.

    screen : its frame, under which what is let into the wall goes
    """
    placed: list[PlacedDevice] = []
    whys: list[Why] = []
    for index, device in enumerate(wanted):
        kind = kind_of(device, index)
        place = kind.place if device.place == "auto" else device.place
        depth = device.depth.mm if device.depth else kind.depth
        unit, place = _stand(place, depth + limits.value("services.device_back_clear"), units)
        item = PlacedDevice(
            ref=device.ref,
            kind=device.kind,
            name=kind.name,
            place=place,
            unit=unit,
            watts=kind.watts if device.watts is None else device.watts,
            standby_watts=kind.standby_watts,
            control=device.control or kind.control,
            width=device.width.mm if device.width else kind.width,
            depth=depth,
            height=device.height.mm if device.height else kind.height,
        )
        if place == "wall":
            item = _let_in(item, device, units, screen or Box(0.0, 0.0, item.width, 0.0), limits)
        placed.append(item)
        whys.append(_why(item, device.place != "auto", kind))
    return tuple(placed), tuple(whys)


def _stand(place: str, depth: float, units: Sequence[UnitBox]) -> tuple[str, str]:
    """The unit a device stands in or on, and the place it comes to: nowhere, where there is no unit that holds it.

    A device goes into the first unit of its sort that is deep enough for it and its plugs, else into the deepest.
    """
    if place in ("screen", "wall"):
        return "", place
    tall = ("tower", "open_shelves")
    order = (*tall, "console") if place == "tower" else ("console", *tall)
    for sort in order:
        fit = [unit for unit in units if unit.kind == sort]
        if not fit:
            continue
        deep = [unit for unit in fit if unit.depth >= depth]
        unit = deep[0] if deep else max(fit, key=lambda unit: unit.depth)
        if place == "on_console" and sort == "console":
            return unit.ref, "on_console"
        return unit.ref, "tower" if sort in tall else "cabinet"
    return "", "nowhere"


def _let_in(
    item: PlacedDevice, device: Device, units: Sequence[UnitBox], screen: Box, limits: Limits
) -> PlacedDevice:
    """A device with its opening: where it was put, else under the screen's middle over what stands there; and what is kept clear."""
    v = limits.value
    x = device.x.mm if device.x else screen.centre[0] - item.width / 2
    column = Box(x, 0.0, item.width, screen.z)
    floor = max(
        (unit.box.top for unit in units if unit.box.meets(column) and unit.box.top <= screen.z), default=0.0
    )
    opening = Box(x, device.z.mm if device.z else floor + v("services.heater_below"), item.width, item.height)
    side = device.clear_side.mm if device.clear_side else v("services.heater_side")
    above = device.clear_above.mm if device.clear_above else v("services.heater_above")
    below = min(v("services.heater_below"), opening.z)
    clear = Box(opening.x - side, opening.z - below, opening.width + 2 * side, below + opening.height + above)
    return replace(item, opening=opening, clear=clear)


_SAYS = {
    "wall": "it is let into an opening of its own in the wall, with what its maker keeps clear of it",
    "screen": "it is fixed at the screen",
    "on_console": "it stands on the console, under the screen",
    "cabinet": "it stands in the console, near the screen's cables",
    "tower": "it stands in the tower",
    "nowhere": "there is no unit for it to stand in",
}


def _why(item: PlacedDevice, pinned: bool, kind: load.DeviceKind) -> Why:
    return Why(
        f"device {item.ref}.place",
        f"{item.place} {item.unit}".strip(),
        "",
        f"{item.name}: {_SAYS[item.place]}" + ("; as placed in the brief" if pinned else ""),
        formula="",
        inputs=(
            Given("running power", item.watts, "W"),
            Given("depth without plugs", item.depth, "mm"),
            Given("control", item.control),
        ),
        source=kind.source,
        certainty=kind.certainty,
        pinned=pinned,
    )
