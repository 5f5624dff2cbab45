"""How each box is reached on the wall as derived: where it stands, the beams to it, what radio loses, the room left round it.

The geometry is in services/reach.py; only here are seats, bays, fronts and the soundbar there together.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from wallwright.carcass.fronts import front_stock
from wallwright.carcass.record import BayBox
from wallwright.cooling.stand import side_by_side
from wallwright.core.shape import Box
from wallwright.derive import Wall
from wallwright.library import load
from wallwright.rules.screen_room import furniture, soundbar
from wallwright.services.reach import Beam, Between, Opening, Spot, at, beam
from wallwright.services.record import PlacedDevice
from wallwright.sight.mount import on_wall

HUBS = frozenset({"router"})
"""What the household's radio comes from: it is never wired instead."""


@dataclass(frozen=True, slots=True)
class Standing:
    """A box where it stands: its outline on the wall's face, how far out its front is, and the compartment round it.

    bay : None for what stands free · level : its compartment, clear inside
    """

    device: PlacedDevice
    box: Box
    out: float
    bay: BayBox | None = None
    level: Box | None = None


def standing(wall: Wall) -> tuple[Standing, ...]:
    """Every box that has a place: in its compartment side by side with the others, on the console, or behind the screen."""
    out = [*_in_bays(wall), *_free(wall)]
    order = {device.ref: i for i, device in enumerate(wall.services.devices)}
    return tuple(sorted(out, key=lambda item: order[item.device.ref]))


def _in_bays(wall: Wall) -> Iterator[Standing]:
    """Boxes in bays."""
    by_ref = {device.ref: device for device in wall.services.devices}
    bays = {bay.ref: bay for bay in wall.carcass.bays}
    side, back = wall.limits.value("services.device_side_clear"), wall.limits.value("reach.eye_back")
    for heat in wall.cooling.bays:
        bay, depth = bays[heat.bay], wall.setout.unit(heat.unit).depth
        for device, box, level in side_by_side(bay, [by_ref[ref] for ref in heat.devices], side):
            yield Standing(device, box, depth - back, bay, level)


def _free(wall: Wall) -> Iterator[Standing]:
    """Boxes on the console, middle on the screen's; and behind the screen."""
    screen = wall.sight.screen
    for device in wall.services.devices:
        x = screen.centre[0] - device.width / 2
        if device.place == "on_console":
            unit = wall.setout.unit(device.unit)
            yield Standing(device, Box(x, unit.box.top, device.width, device.height), unit.depth)
        elif device.opening is not None:
            yield Standing(device, device.opening, 0.0)
        elif device.place == "screen":
            z = screen.centre[1] - device.height / 2
            yield Standing(device, Box(x, z, device.width, device.height), screen.stand_off)


def hands(wall: Wall) -> tuple[tuple[str, Spot], ...]:
    """Where the remote is held in each seat."""
    down, forward = wall.limits.value("reach.hand_down"), wall.limits.value("reach.hand_forward")
    return tuple(
        (seat.ref, Spot(seat.eye[0], -seat.eye[1] - forward, seat.eye[2] - down)) for seat in wall.sight.seats
    )


def in_the_way(wall: Wall, but: str = "") -> tuple[Between, ...]:
    """Furniture, units and the soundbar, as blocks. but : the unit or device that is asked after, which is not in its own way."""
    out = [
        Between(thing.name, thing.left, thing.right, thing.near, thing.far, 0.0, thing.top)
        for thing in furniture(wall)
        if thing.name.startswith("the ") and thing.name != "the soundbar"
    ]
    out += [
        Between(unit.ref, unit.box.x, unit.box.right, 0.0, unit.depth, unit.box.z, unit.box.top)
        for unit in wall.setout.units
        if unit.ref != but
    ]
    bar = soundbar(wall)
    if bar is not None and but != "soundbar":
        box, near, far = bar
        out.append(Between("the soundbar", box.x, box.right, near, far, box.z, box.top))
    return tuple(out)


def beams(wall: Wall) -> tuple[Beam, ...]:
    """The beam from every seat to every box that is worked by infrared and has no repeater beside it."""
    cone, far = wall.limits.value("reach.ir_cone"), wall.limits.value("reach.ir_far")
    out: list[Beam] = []
    for item in standing(wall):
        device = item.device
        if device.control != "ir":
            continue
        eye = Spot(item.box.centre[0], item.out, item.box.centre[1])
        opening = None
        if item.bay is not None and item.level is not None:
            unit = wall.setout.unit(item.bay.unit)
            slats = slats_of(wall, item.bay) if item.bay.front == "slatted" else None
            opening = Opening(item.level, unit.depth, item.bay.front, item.bay.ir_open, slats)
        way = in_the_way(wall, "soundbar" if device.kind == "soundbar" else device.unit)
        if device.place == "on_console":  # it stands on its unit, whose top is level with its foot
            way = tuple(thing for thing in way if thing.name != device.unit)
        out += [beam(seat, hand, device.ref, eye, opening, way, cone, far) for seat, hand in hands(wall)]
    return tuple(out)


def slats_of(wall: Wall, bay: BayBox) -> tuple[float, float, float]:
    """Gap, pitch and depth of the slats before a bay [mm]."""
    v = wall.limits.value
    thick = next((m.thick for m in wall.carcass.movers if m.ref.startswith(f"{bay.ref}-F")), 0.0)
    return v("carcass.slat_open") * v("carcass.slat_pitch"), v("carcass.slat_pitch"), thick


def repeater(wall: Wall) -> bool:
    """Whether an infrared repeater carries the beam into the cabinets."""
    return any(device.kind == "infrared_repeater" for device in wall.services.devices)


def screen_eye(wall: Wall) -> tuple[Box, bool]:
    """The screen's infrared eye on the wall, and whether its place is assumed: nobody entered it."""
    given, frame = wall.job.design.screen.ir_eye, wall.sight.screen.frame
    if given is not None:
        return on_wall(given, wall.sight.screen.centre), False
    width, up = wall.limits.value("reach.screen_eye_width"), wall.limits.value("reach.screen_eye_up")
    return Box(frame.centre[0] - width / 2, frame.z + up, width, up), True


def screen_beams(wall: Wall) -> tuple[tuple[str, float, float], ...]:
    """Each seat with how far its remote's beam to the screen's eye passes over the soundbar [mm], and how far the eye must rise for
    each mm more; nothing without a soundbar.
    """
    bar = soundbar(wall)
    if bar is None:
        return ()
    box, near, far = bar
    eye, _ = screen_eye(wall)
    screen = wall.sight.screen
    spot = Spot(eye.centre[0], screen.stand_off + screen.depth, eye.z)
    found: list[tuple[str, float, float]] = []
    for seat, hand in hands(wall):
        outs = [out for out in (near, far) if spot.out < out < hand.out]
        if outs:
            out = min(outs, key=lambda out: at(hand, spot, out)[1])
            gain = (hand.out - spot.out) / (hand.out - out)
            found.append((seat, at(hand, spot, out)[1] - box.top, gain))
    return tuple(found)


def radio_loss(wall: Wall, item: Standing) -> tuple[float, tuple[str, ...]]:
    """What a box's radio loses on its way into the room [dB], and through what: its front, and the screen before or near it."""
    v = wall.limits.value
    through: list[tuple[float, str]] = []
    if item.bay is not None and item.bay.front not in ("open", "cloth"):
        through.append(_front_loss(wall, item.bay))
    frame = wall.sight.screen.frame
    behind = item.device.place == "screen"
    if behind or (item.device.kind in HUBS and frame.gap(item.box) < v("reach.screen_near")):
        through.append((v("reach.loss_screen"), "the screen" if behind else "the screen near by"))
    return sum(loss for loss, _ in through), tuple(words for _, words in through)


def _front_loss(wall: Wall, bay: BayBox) -> tuple[float, str]:
    """What the front of a bay takes, by the finish and the board it is made of."""
    v = wall.limits.value
    made = front_stock(wall.setout.unit(bay.unit), bay.front)
    finish = load.finishes().get(made.finish)
    kind = finish.kind if finish else ""
    if finish is not None and not finish.radio_open:
        return v("reach.loss_metal"), f"the {kind} front"
    if kind == "glass":
        return v("reach.loss_glass"), "the glass front"
    if kind in ("stone", "stone_veneer", "porcelain", "slab"):
        return v("reach.loss_board") + v("reach.loss_stone"), "the stone front"
    return v("reach.loss_board"), f"the {bay.front} front"


def works_by_radio(wall: Wall, item: Standing) -> bool:
    """Whether a box depends on radio: a router always; another unless a data outlet serves it."""
    device = item.device
    if not load.devices()[device.kind].radio:
        return False
    wired = any(point.kind == "data" and device.ref in point.serves for point in wall.services.points)
    wired |= device.place == "screen" and any(
        p.kind == "data" and p.zone == "behind_screen" for p in wall.services.points
    )
    return device.kind in HUBS or not wired
