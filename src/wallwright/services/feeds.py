"""The feeds of the lights: a switched point for each strip, where its driver goes and can be reached and changed."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from wallwright.core.shape import Box
from wallwright.core.why import Given
from wallwright.job.face import Face
from wallwright.services.board import Board
from wallwright.services.cabinet import Inside, feed_unit, no_room, place, spot

if TYPE_CHECKING:
    from wallwright.carcass.record import SetOut
    from wallwright.light.record import LightRun


def for_the_lights(  # noqa: PLR0913
    board: Board, setout: SetOut, face: Face, strips: Sequence[LightRun], within: Inside, obstacles: list[Box]
) -> None:
    """A feed for each strip as laid: in the cabinet, at the ceiling, or behind the panel, as the design asks."""
    for strip in strips:
        owner = next((t.box for t in (*setout.units, *setout.zones) if t.ref == strip.of), None)
        unit = feed_unit(strip, setout)
        space = within.spaces.get(unit.ref) if unit is not None else None
        if strip.driver_place == "cabinet" and space is not None:
            zone, said = space.zone, "in the unit"
            found = spot(board, "led_feed", space, 0, obstacles)
        elif strip.driver_place == "behind_panel" and owner is not None:
            zone, said = "lighting", "behind the panel"
            found = place(board, "led_feed", (((owner,), ""),), (owner.x, owner.z), [board.frame, *obstacles])
        else:
            zone, said = "lighting", "at the ceiling"
            middle = owner.centre[0] if owner else board.frame.centre[0]
            want = middle, face.height - board.limits.value("services.ceiling_feed_drop")
            found = place(board, "led_feed", (((face.box,), ""),), want, obstacles)
        if found is None:
            board.whys.append(no_room("led_feed", strip.ref, 0, ()))
            continue
        board.add(
            "led_feed", found[0], zone,
            f"switched feed of light {strip.ref}, its driver {said}, where it can be reached and changed",
            serves=(strip.ref,), working=("beside its driver", (Given("driver", strip.driver_place),)),
        )  # fmt: skip
