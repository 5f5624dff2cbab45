"""Rules of heaters: none in a compartment, nothing that burns or breaks in what its maker keeps clear, no screen above untested."""

from __future__ import annotations

from collections.abc import Iterator

from wallwright.core.finding import EditCall, Finding, edit_call, finding
from wallwright.core.shape import Box
from wallwright.derive import Wall
from wallwright.job.face import obstacle_box
from wallwright.library import load
from wallwright.rules.registry import rule
from wallwright.services.record import PlacedDevice


@rule("heaters.shut_in")
def shut_in(wall: Wall) -> Iterator[Finding]:
    """No heater stands in a compartment of a unit: it burns what is round it, whatever the front."""
    most, boxes = wall.limits["materials.fire_air"], {unit.ref: unit.box for unit in wall.setout.units}
    for device in wall.services.devices:
        if load.devices()[device.kind].heater and device.place != "wall":
            yield finding(
                "heaters.shut_in",
                "danger",
                device.ref,
                f"{device.name} ({device.ref}, {device.watts:.0f} W) stands in {device.unit or 'no place of its own'}: no compartment of "
                "boards holds a heater, however its front is",
                measured=device.place.replace("_", " "),
                limit=most,
                at=boxes.get(device.unit),
                cure="let it into an opening of its own in the wall, lined and kept clear as its maker says",
                edits=[edit_call("set_device", ref=device.ref, place="wall")],
            )


@rule("heaters.clear")
def clear_of_all(wall: Wall) -> Iterator[Finding]:
    """Nothing stands in what a heater's maker keeps clear round it."""
    for device in wall.services.devices:
        if device.opening is None or device.clear is None:
            continue
        met = [(name, box) for name, box in _things(wall) if box.meets(device.clear)]
        if not wall.face.box.holds(device.opening):
            met.append(("the edge of the wall", device.opening))
        if not met:
            continue
        name, box = min(met, key=lambda one: device.opening.gap(one[1]) if device.opening else 0.0)
        over = box.shared_span(device.opening) > 0 and box.centre[1] > device.opening.centre[1]
        asked = wall.limits["services.heater_above" if over else "services.heater_side"]
        cure, edits = _moved(wall, device)
        yield Finding(
            "heaters.clear",
            "danger",
            device.ref,
            f"{' and '.join(one for one, _ in met)} in what is kept clear of {device.name} ({device.ref}): {name} is "
            f"{device.opening.gap(box):.0f} mm from its opening",
            round(device.opening.gap(box)),
            round(device.clear.top - device.opening.top if over else device.opening.x - device.clear.x),
            "mm",
            f"{asked.source}; enter the maker's",
            asked.certainty,
            cure,
            edits,
            at=device.opening,
        )


def _things(wall: Wall) -> Iterator[tuple[str, Box]]:
    """What may not stand in a heater's clearance."""
    yield "the screen", wall.sight.screen.frame
    for unit in wall.setout.units:
        yield unit.ref, unit.box
    for thing in wall.face.obstacles:
        if thing.kind == "skirting":
            continue  # it is cut for the opening
        yield thing.ref, obstacle_box(thing)


def _moved(wall: Wall, device: PlacedDevice) -> tuple[str, tuple[EditCall, ...]]:
    """Another place on the wall that is clear, else what would have to give way."""
    opening, clear = device.opening, device.clear
    if opening is None or clear is None:
        return "", ()
    left, below = opening.x - clear.x, opening.z - clear.z
    boxes = [box for _, box in _things(wall)]
    xs = {clear.x, 0.0, wall.face.width - clear.width}
    xs |= {edge for box in boxes for edge in (box.right, box.x - clear.width)}
    zs = {0.0, clear.z, *(box.top for box in boxes)}
    free = [
        place
        for x in xs
        for z in zs
        if wall.face.box.holds(place := Box(x, z, clear.width, clear.height))
        and place.z + below + opening.height <= wall.sight.screen.frame.top
        and not any(box.meets(place) for box in boxes)
    ]
    if free:
        best = min(
            free, key=lambda place: (place.z > clear.z, abs(place.x - clear.x) + abs(place.z - clear.z))
        )
        x, z = best.x + left, best.z + below
        return (
            f"let it in at {x:.0f} mm from the left, {z:.0f} mm above FFL, where all round it is clear",
            (edit_call("set_device", ref=device.ref, x=round(x, 1), z=round(z, 1)),),
        )
    lack = clear.top - wall.sight.screen.frame.z
    higher = (
        f"hang the screen {lack:.0f} mm higher, choose a lower heater" if lack > 0 else "take a unit away"
    )
    return (
        f"no place on this wall is clear by {clear.width:.0f} × {clear.height:.0f} mm: {higher}, or leave {device.ref} out",
        (edit_call("remove_device", ref=device.ref),),
    )


@rule("heaters.under_screen")
def under_screen(wall: Wall) -> Iterator[Finding]:
    """A screen over a heater is told to be tested with a thermometer before it hangs there for good."""
    most, frame = wall.limits["services.screen_air"], wall.sight.screen.frame
    for device in wall.services.devices:
        opening = device.opening
        if opening is None or opening.right <= frame.x or opening.x >= frame.right or frame.z < opening.top:
            continue
        yield finding(
            "heaters.under_screen",
            "consider",
            device.ref,
            f"the screen hangs {frame.z - opening.top:.0f} mm over {device.name} ({device.ref}): how warm its foot gets is measured, not "
            "reckoned",
            measured="not measured",
            limit=most,
            at=frame,
            cure=f"tape a thermometer where its foot will be and run the heater for an hour: {most.value:g} °C at most, else a heater "
            "that blows out in front, a deflector, or another place",
        )
