"""What is measured of the air: grilles and slots that are cut for warm boxes, and the fans among the devices."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from wallwright.money.quantities import Measured

if TYPE_CHECKING:
    from wallwright.cooling.record import VentOpening
    from wallwright.services.record import PlacedDevice

GRILLED = frozenset({"front", "plinth"})
"""Faces that are seen: their openings have a grille; the others are slots, cut and lipped."""
FAN = "cabinet_fan"


def air(openings: Sequence[VentOpening], devices: Sequence[PlacedDevice]) -> Iterator[Measured]:
    """Grilles, slots and fans by the piece. Boxes are the client's; a fan is part of the cabinet, and is in the price."""
    for key, name, cut in (
        ("vent_grille", "Air grille, cut in and fitted", [v for v in openings if v.face in GRILLED]),
        ("vent_slot", "Air slot, cut and its edges sealed", [v for v in openings if v.face not in GRILLED]),
    ):
        if cut:
            how = ", ".join(f"{v.part} {v.width:.0f}×{v.height:.0f}" for v in cut)
            yield Measured(key, (key,), name, "joinery", len(cut), "nr", how, tuple(v.part for v in cut))
    fans = [device.ref for device in devices if device.kind == FAN]
    if fans:
        name = "Cabinet fan with its thermostat, fitted"
        yield Measured(
            "cabinet_fan", ("cabinet_fan",), name, "electrical", len(fans), "nr", ", ".join(fans), tuple(fans)
        )
