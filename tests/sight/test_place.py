"""Where the frame can hang: clear of what stands there, and as near as can be to where it is wanted."""

from __future__ import annotations

import math

from hypothesis import given
from hypothesis import strategies as st

from wallwright.core.limit import Limits
from wallwright.core.shape import Box, box_around
from wallwright.core.units import Length
from wallwright.job.brief import Brief, Device
from wallwright.job.design import Design, Unit
from wallwright.job.face import Face
from wallwright.job.survey import Obstacle
from wallwright.library import load
from wallwright.sight.place import can_hang, keep_clear, lowest_edge, nearest_free, room_for_centre

LIMITS = load.limits()
FACE = Face(4000.0, 2600.0, 0.0, 0.0, (), ())


def test_free_place_is_kept() -> None:
    room = room_for_centre(FACE, 1450, 830, LIMITS)
    assert room is not None
    assert nearest_free((2000, 1150), 1450, 830, room, ()) == (2000, 1150)


def test_wall_end_holds_a_hand() -> None:
    room = room_for_centre(FACE, 1450, 830, LIMITS)
    assert room is not None
    assert nearest_free((100, 1150), 1450, 830, room, ()) == (60 + 725, 1150)
    assert room_for_centre(FACE, 3900, 830, LIMITS) is None
    assert not can_hang(3900, 830, FACE, (), LIMITS)


def test_pinned_values_stay() -> None:
    room = room_for_centre(FACE, 1450, 830, LIMITS)
    assert room is not None
    beam = (Box(0, 1500, 4000, 300),)
    assert nearest_free((2000, 1300), 1450, 830, room, beam, x_pinned=True) == (2000, 1500 - 415)
    assert nearest_free((2000, 1600), 1450, 830, room, (Box(2500, 0, 400, 2600),), z_pinned=True) == (
        2500 - 725,
        1600,
    )
    assert nearest_free((2000, 1600), 1450, 830, room, beam, z_pinned=True) is None


def test_sockets_may_be_hung_over_and_windows_not() -> None:
    things = tuple(
        Obstacle(kind, kind, Length(1000), Length(1000), Length(100), Length(100))
        for kind in ("socket", "window", "ac")
    )
    face = Face(4000.0, 2600.0, 0.0, 0.0, things, ())
    assert keep_clear(Design(), Brief(), face, LIMITS) == (Box(940, 940, 220, 220),) * 2


def test_towers_take_their_ends() -> None:
    units = (
        Unit("T1", "tower", "left", width=Length(400)),
        Unit("T2", "tower", "right"),
        Unit("T3", "tower", x=Length(900), width=Length(300)),
    )
    boxes = keep_clear(Design(units=units), Brief(), FACE, LIMITS)
    assert Box(840, 0, 420, 2600) in boxes
    assert Box(-60, 0, 520, 2600) in boxes
    assert Box(4000 - 300 - 60, 0, 420, 2600) in boxes  # automatic: the narrowest that setting-out makes


def test_lowest_edge_over_console_and_soundbar() -> None:
    pinned = Design(units=(Unit("C1", "console", z=Length(250), height=Length(300)),))
    bar = Brief(devices=(Device("B", "soundbar", height=Length(90)),))
    assert lowest_edge(Design(), bar, LIMITS) == 0
    assert lowest_edge(pinned, Brief(), LIMITS) == 250 + 300 + 50  # console_gap, common practice
    assert lowest_edge(pinned, bar, LIMITS) == 250 + 300 + 90 + 20  # soundbar and its gap, common practice
    loose = Design(units=(Unit("C1", "console"),))
    assert lowest_edge(loose, bar, LIMITS) > lowest_edge(loose, Brief(), LIMITS) > 500
    inside = Brief(devices=(Device("B", "soundbar", "cabinet", height=Length(90)),))
    assert lowest_edge(pinned, inside, LIMITS) == lowest_edge(pinned, Brief(), LIMITS)


boxes = st.lists(
    st.builds(Box, st.floats(0, 3500), st.floats(0, 2300), st.floats(50, 1500), st.floats(50, 900)),
    max_size=5,
)


@given(st.floats(0, 4000), st.floats(0, 2600), boxes)
def test_nearest_of_all_free_places(x: float, z: float, things: list[Box]) -> None:
    width, height = 1230.0, 710.0
    room = room_for_centre(FACE, width, height, LIMITS)
    assert room is not None
    found = nearest_free((x, z), width, height, room, things)
    tries = [
        (room.x + room.width * i / 40, room.z + room.height * j / 40) for i in range(41) for j in range(41)
    ]
    free = [p for p in tries if not any(box_around(p, width, height).meets(box) for box in things)]
    if found is None:
        assert not free
        return
    assert not any(box_around(found, width - 1e-3, height - 1e-3).meets(box) for box in things)
    inside = min(max(x, room.x), room.right), min(max(z, room.z), room.top)
    if found != inside and free:
        assert math.dist(found, (x, z)) <= min(math.dist(p, (x, z)) for p in free) + 1e-6


def test_limits_used_here_are_there(limits: Limits) -> None:
    assert limits.value("rule.side_gap") == 60
