"""Cures of a mirrored window: the living room of the hand case, what each brings and costs, and that its edits do it."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import pytest

from wallwright.core.limit import Limits
from wallwright.core.shape import Box
from wallwright.core.units import Length
from wallwright.derive import derive
from wallwright.job.design import Mount
from wallwright.job.document import Job
from wallwright.job.edits import apply
from wallwright.job.face import wall_face
from wallwright.job.survey import Lamp, LampKind, Seat, Window
from wallwright.sight.angles import picture_size
from wallwright.sight.cure_setting import Setting, setting_of, worst_share
from wallwright.sight.cures import Cure, cures
from wallwright.sight.lamp_cure import lamp_cures
from wallwright.sight.mirrored import Source, lamp_source
from wallwright.sight.record import Sight
from wallwright.sight.reflect import Glass, share
from wallwright.sight.swivel import Body as Turning
from wallwright.sight.veil import front, picture

SOUTH = tuple(
    (x, -5200.0, z) for x, z in ((-600.0, 900.0), (1200.0, 900.0), (1200.0, 2100.0), (-600.0, 2100.0))
)
WINDOW = Source("W1", "window", SOUTH, 3000.0)
EYE = (0.0, -3600.0, 1080.0)


@pytest.fixture
def room(limits: Limits) -> Setting:
    """4200 × 5200, 65 in at 1080, one eye at 3600, window 1800 × 1200 opposite: the hand case, x from the wall's middle."""
    glass = Glass((0.0, 0.0, 1080.0), *picture_size(65), 0.0)
    return Setting(
        glass, (EYE,), (WINDOW,), front(None, limits), picture(False, limits), Box(-725, 665, 1450, 830), 60.0, -1325, 1325, True,
        False, 4200, 5200,
    )  # fmt: skip


def best(found: tuple[Cure, ...], kind: str) -> Cure:
    return next(cure for cure in found if cure.kind == kind)


def test_the_hand_case(room: Setting, limits: Limits) -> None:
    """30 % mirrored; tilt 3° leaves 16 %, 5° 7 %, 6.5° none; the top then stands 830 sin 6.5° = 94 mm out. By hand."""
    assert worst_share(room.glass, room.eyes, SOUTH) == pytest.approx(0.302, abs=1e-3)
    for tilt, left in ((3.0, 0.16), (5.0, 0.07), (6.5, 0.0)):
        assert worst_share(replace(room.glass, tilt=tilt), room.eyes, SOUTH) == pytest.approx(left, abs=0.01)
    found = cures(WINDOW, 1.0, room, limits)
    tilts = [cure for cure in found if cure.kind == "tilt"]
    assert [cure.value for cure in tilts] == [5.5, 6.5]  # at most 5 %; none
    assert tilts[1].share == 0
    assert "94 mm further out" in tilts[1].effects[0]
    assert tilts[1].edits[0].as_dict() == {"edit": "set_tilt", "with": {"tilt": 6.5}}
    assert "floor" in tilts[1].effects[1]


def test_no_smaller_tilt_would_do(room: Setting, limits: Limits) -> None:
    for cure in cures(WINDOW, 1.0, room, limits):
        if cure.kind == "tilt" and isinstance(cure.value, float):
            allowed = 0.05 if cure.share else 0.0
            assert worst_share(replace(room.glass, tilt=cure.value), room.eyes, SOUTH) <= allowed
            assert worst_share(replace(room.glass, tilt=cure.value - 0.5), room.eyes, SOUTH) > allowed


def test_a_tilt_is_offered_only_as_far_as_the_mount_goes(room: Setting, limits: Limits) -> None:
    """6.5° clears and 5.5° is enough (above): up to 6° only the lesser is found, up to 2° none; half a degree less never clears."""
    short = [
        c for c in cures(WINDOW, 1.0, room, limits.overridden({"sight.tilt_most": 6})) if c.kind == "tilt"
    ]
    assert [cure.value for cure in short] == [5.5]
    none = cures(WINDOW, 1.0, room, limits.overridden({"sight.tilt_most": 2}))
    assert not [cure for cure in none if cure.kind == "tilt"]
    any_share = limits.overridden({"rule.reflection_consider": 1.0})
    assert [c.value for c in cures(WINDOW, 1.0, room, any_share) if c.kind == "tilt"] == [0.0, 6.5]


def test_a_turned_picture_is_judged_where_its_arm_holds_it(room: Setting, limits: Limits) -> None:
    """Frame 1450, head 40, depth 40, clear 20: at 20° it is pulled out by 20 + 40 + 725 sin 20° − 40 cos 20° = 270.4; the picture's
    middle then stands 80 sin 20° = 27.4 aside and 270.4 − 40 + 80 cos 20° = 305.6 out (by hand)."""
    arm = replace(room, turning=Turning(1450, 40, 40), swivel_clear=20)
    pull, glass = arm.turned(20.0)
    assert pull == pytest.approx(270.4, abs=0.05)
    assert glass.middle == pytest.approx((27.4, -305.6, 1080), abs=0.05) and glass.swivel == 20
    turn = best(cures(WINDOW, 1.0, arm, limits), "swivel")
    assert isinstance(turn.value, float)
    pull, glass = arm.turned(turn.value)
    assert turn.share == worst_share(glass, room.eyes, SOUTH) <= 0.05
    assert turn.edits[0].as_dict()["with"] == {"kind": "arm", "reach": math.ceil(pull)}


def test_the_blind(room: Setting, limits: Limits) -> None:
    """Ratio 0.50 bare: 20 % would do, a usual cloth of 10 % gives 0.05. Behind a blind of 40 % the same cloth is asked for."""
    blind = best(cures(WINDOW, 1.0, room, limits), "blind")
    # the middle of what is seen lies 7.5° off: clear glass mirrors there as it does straight on, to a hundred thousandth
    assert (blind.value, blind.ratio) == (0.10, pytest.approx(0.05, rel=1e-4))
    assert "at most 20%" in blind.says
    half = best(cures(replace(WINDOW, luminance=1200.0), 0.4, room, limits), "blind")
    assert (half.value, half.ratio) == (0.10, pytest.approx(0.05, rel=1e-4))
    assert "at most 20%" in half.says
    dark = cures(replace(WINDOW, luminance=150.0), 0.05, room, limits)  # 0.025 already
    assert not [cure for cure in dark if cure.kind == "blind"]


def test_moving_the_screen_alone_and_with_its_seat(room: Setting, limits: Limits) -> None:
    """The screen alone must move 850 mm for 5 %: the image of the window stays where it is in the room.

    Screen and seat together, moved by 1500, still mirror 14.4 % (a rougher hand figure says 15): 0.2439 of the width between 368
    and 719, 0.5913 of the height. Moved until the window's middle is 1500 off the axis, 19.5 %.
    """
    shift = best(cures(WINDOW, 1.0, room, limits), "shift")
    assert shift.value == -850
    assert shift.share <= 0.05
    for by, left in ((1500.0, 0.2439 * 0.5913), (1200.0, 0.195)):
        moved = tuple((x + by, y, z) for x, y, z in SOUTH)
        assert worst_share(room.glass, room.eyes, moved) == pytest.approx(left, abs=1e-3)
    narrow = replace(room, x_low=-400.0, x_high=400.0)
    helpless = best(cures(WINDOW, 1.0, narrow, limits), "shift")
    assert not helpless.solves
    assert helpless.value == -400
    assert "helps little" in helpless.says
    walled = replace(room, clear_of=(Box(-2100, 0, 900, 2600),))  # a tower ends 1200 left of the middle
    assert best(cures(WINDOW, 1.0, walled, limits), "shift").value != -850


def test_swivel_and_other_wall(room: Setting, limits: Limits) -> None:
    found = cures(WINDOW, 1.0, room, limits)
    turn = best(found, "swivel")
    assert isinstance(turn.value, float)
    assert worst_share(replace(room.glass, swivel=turn.value), room.eyes, SOUTH) <= 0.05
    assert (
        worst_share(replace(room.glass, swivel=turn.value + 1), room.eyes, SOUTH) > 0.05
    )  # one degree less to the left
    assert [call.edit for call in turn.edits] == ["set_mount", "set_arm"]
    assert best(found, "wall").share == 0
    assert best(found, "wall").edits == ()


def test_order(room: Setting, limits: Limits) -> None:
    """Those that solve stand first, in the trade's order of trouble; a mount that cannot tilt must be changed."""
    found = cures(WINDOW, 1.0, room, limits)
    assert [cure.kind for cure in found] == ["tilt", "tilt", "blind", "shift", "swivel", "wall"]
    assert all(cure.solves for cure in found)
    fixed = best(cures(WINDOW, 1.0, replace(room, tilts=False), limits), "tilt")
    assert [call.edit for call in fixed.edits] == ["set_mount", "set_tilt"]
    assert cures(WINDOW, 1.0, replace(room, eyes=()), limits) == ()


def test_a_tilt_that_brings_a_lamp_in_says_so(room: Setting, limits: Limits) -> None:
    """A lamp 250 up, 600 behind the eye, is mirrored below the upright picture and in the tilted one."""
    corners = tuple(
        (x, -4200.0, z) for x, z in ((-100.0, 200.0), (100.0, 200.0), (100.0, 300.0), (-100.0, 300.0))
    )
    low = Source("TL1", "table_lamp", corners, 1000.0, True)
    below = replace(room, glass=replace(room.glass, middle=(0.0, 0.0, 1180.0)))
    assert share(below.glass, EYE, corners) == 0
    tilts = [
        cure
        for cure in cures(WINDOW, 1.0, replace(below, others=(WINDOW, low)), limits)
        if cure.kind == "tilt"
    ]
    assert all("then mirrors TL1" in tilt.effects for tilt in tilts)
    clear = [
        cure for cure in cures(WINDOW, 1.0, replace(below, others=(WINDOW,)), limits) if cure.kind == "tilt"
    ]
    assert not any("TL1" in effect for tilt in clear for effect in tilt.effects)


@pytest.mark.parametrize("kind", ["tilt", "blind", "shift"])
def test_the_edits_do_what_the_cure_says(
    kind: str, living: Job, see: Callable[..., Sight], limits: Limits
) -> None:
    sight = see(living)
    setting = setting_of(living, wall_face(living.survey), sight.screen, sight.seats, limits)
    cure = best(cures(setting.others[0], 1.0, setting, limits), kind)
    job = living
    for call in cure.edits:
        job = apply(job, call.edit, dict(call.values))
    after = see(job)
    left = max((hit.share for hit in after.reflections), default=0.0)
    ratio = max((hit.ratio for hit in after.reflections), default=0.0)
    assert left == pytest.approx(cure.share, abs=0.01)
    assert ratio == pytest.approx(cure.ratio, rel=0.03, abs=1e-6)
    assert left <= 0.05 or ratio <= 0.10


def test_cures_of_a_lamp(room: Setting, limits: Limits) -> None:
    """A pendant behind the eye is hung at the nearest place that the picture does not show; a downlight is set deeper."""
    pendant = Lamp("P1", "pendant", Length(2900), Length(4500), Length(1450), diameter=Length(200))
    glass = replace(room.glass, middle=(2100.0, 0.0, 1080.0))
    eyes = ((2100.0, -3600.0, 1080.0),)
    ways = lamp_cures(pendant, glass, eyes, 5200, 4200, 1.0, limits)
    assert [way.kind for way in ways] == ["move", "off"]
    to = dict(ways[0].edits[0].values)
    assert worst_share(glass, eyes, lamp_source(pendant, glass, limits).corners) > 0
    assert (
        worst_share(glass, eyes, lamp_source(pendant, glass, limits, (to["x"], -to["distance"])).corners) == 0
    )
    moved = math.hypot(to["x"] - 2900, to["distance"] - 4500)
    for angle in range(0, 360, 15):
        x, y = (
            2900 + (moved - 105) * math.cos(math.radians(angle)),
            -4500 + (moved - 105) * math.sin(math.radians(angle)),
        )
        assert worst_share(glass, eyes, lamp_source(pendant, glass, limits, (x, y)).corners) > 0 or -y > 5200
    down = Lamp("D1", "downlight", Length(2100), Length(2000), Length(2600))
    deeper = lamp_cures(down, glass, eyes, 5200, 4200, 1.0, limits)[0]
    steepest = math.degrees(
        math.atan2(2000, 2600 - (1080 - 404.7))
    )  # to the middle of the picture's lower edge, by hand
    assert deeper.value == math.floor(steepest) - 1


def test_a_downlight_below_the_screen_is_hidden_no_further_than_level(
    living: Job, room: Setting, limits: Limits
) -> None:
    """From a lamp 500 up, the whole picture from 675 up lies over level: more than 90° from straight down is no angle to enter."""
    glass = replace(room.glass, middle=(2100.0, 0.0, 1080.0))
    low = Lamp("D1", "downlight", Length(2100), Length(2000), Length(500))
    (deeper, *_) = lamp_cures(low, glass, ((2100.0, -3600.0, 1080.0),), 5200, 4200, 1.0, limits)
    assert (deeper.kind, deeper.value) == ("cut_off", 90)
    job = replace(living, survey=replace(living.survey, lamps=(low,)))
    (call,) = deeper.edits
    assert apply(job, call.edit, dict(call.values)).survey.lamps[0].cut_off == 90


@pytest.mark.parametrize(
    ("kind", "verb"),
    [
        ("pendant", "hang"),
        ("floor_lamp", "stand"),
        ("table_lamp", "stand"),
        ("wall_light", "fix"),
        ("downlight", "set"),
    ],
)
def test_a_lamp_is_moved_as_its_kind_is(room: Setting, limits: Limits, kind: LampKind, verb: str) -> None:
    at = (4100, 3300) if kind == "wall_light" else (2900, 4500)
    lamp = Lamp("L1", kind, Length(at[0]), Length(at[1]), Length(1450), diameter=Length(200))
    glass = replace(room.glass, middle=(2100.0, 0.0, 1080.0))
    if kind == "wall_light":
        glass = replace(glass, swivel=25.0)
        assert worst_share(glass, ((2100.0, -3600.0, 1080.0),), lamp_source(lamp, glass, limits).corners) > 0
    moves = [
        way
        for way in lamp_cures(lamp, glass, ((2100.0, -3600.0, 1080.0),), 5200, 4200, 1.0, limits)
        if way.kind == "move"
    ]
    assert moves
    assert moves[0].says.startswith(f"{verb} L1 at ")
    assert ("socket" in moves[0].effects[0]) == (kind in ("floor_lamp", "table_lamp"))
    if kind == "wall_light":
        assert dict(moves[0].edits[0].values)["x"] == 4100  # it stays on its wall


def test_a_tilt_brings_the_stand_off_that_its_foot_needs(living: Job, limits: Limits) -> None:
    """30 mm off the wall: at 5.5° the lower back edge comes back by half the frame's height times the sine; with a finger's
    breadth it needs more (by hand below). The cure's own edits leave no foot in the wall, and mirror what they say."""
    from wallwright.rules import RULES
    from wallwright.rules.sight import window_ways

    living = apply(living, "set_mount", {"stand_off": 30})
    wall = derive(living)
    tilt = best(window_ways(wall, "W1"), "tilt")
    frame = wall.sight.screen.frame.height
    assert isinstance(tilt.value, float)
    needs = math.ceil(frame / 2 * math.sin(math.radians(tilt.value)) + limits.value("sight.foot_clear"))
    assert needs > 30
    assert {call.edit: dict(call.values) for call in tilt.edits} == {
        "set_mount": {"stand_off": needs}, "set_tilt": {"tilt": tilt.value},
    }  # fmt: skip
    job = living
    for call in tilt.edits:
        job = apply(job, call.edit, dict(call.values))
    after = derive(job)
    assert not list(RULES["screen.foot_in_wall"].find(after))
    assert not list(RULES["sight.reflection"].find(after))
    left = max((hit.share for hit in after.sight.reflections), default=0.0)
    assert left == pytest.approx(tilt.share, abs=0.002)


# --- rooms in which a cure was once told wrongly ---------------------------------------------------------------------------
def seated(job: Job, *seats: Seat, windows: tuple[Window, ...] | None = None) -> Job:
    survey = replace(job.survey, seats=seats)
    return replace(job, survey=survey if windows is None else replace(survey, windows=windows))


def watching(ref: str, x: float, away: float) -> Seat:
    return Seat(ref, "sofa", Length(x), Length(away), eye_height=Length(1080))


def hung(job: Job, mount: Mount, height: float | None = 1080) -> Job:
    screen = replace(job.design.screen, centre_height=Length(height) if height is not None else None)
    return replace(job, design=replace(job.design, mount=mount, screen=screen))


def beside(job: Job) -> Job:
    """A window in the left wall, seen by a seat at the right wall nearly along the screen: 58° from its normal."""
    return seated(
        job,
        watching("A", 4100, 1500),
        windows=(Window("W1", "left", Length(600), Length(600), Length(1500), Length(1200)),),
    )


def crossed(job: Job) -> Job:
    """Two windows, opposite and in the right wall, both mirrored: what turns one away turns the other in."""
    wide = Window("W2", "right", Length(2500), Length(100), Length(1800), Length(2300))
    return seated(
        job, watching("A", 1300, 3700), watching("B", 2900, 3700), windows=(*job.survey.windows, wide)
    )


ROOMS: dict[str, Callable[[Job], Job]] = {
    "beside": beside,
    "crossed": crossed,
    "fixed": lambda job: hung(job, Mount("fixed"), 1500),
    "arm": lambda job: seated(hung(job, Mount("arm", swivel=25.0), 1500), watching("A", 3200, 2800)),
    "bed": lambda job: seated(hung(job, Mount("fixed"), None), Seat("A", "bed", Length(2300), Length(3000), recline=30.0)),
}  # fmt: skip


@pytest.mark.parametrize("room", ROOMS)
def test_every_cure_says_what_its_edits_do(
    room: str, living: Job, see: Callable[..., Sight], limits: Limits
) -> None:
    """Share and ratio of the cured window, as told and as the room then is; and no other window is worse for it."""
    job = ROOMS[room](living)
    sight = see(job)
    setting = setting_of(job, wall_face(job.survey), sight.screen, sight.seats, limits)
    told = 0
    for window in job.survey.windows:
        source = next(other for other in setting.others if other.ref == window.ref)
        for cure in cures(source, window.blind, setting, limits):
            if not cure.edits:
                continue
            after = see(changed(job, cure))
            hits = [hit for hit in after.reflections if hit.window == window.ref]
            assert max((hit.share for hit in hits), default=0.0) == pytest.approx(cure.share, abs=1e-6)
            assert max((hit.ratio for hit in hits), default=0.0) == pytest.approx(cure.ratio, rel=1e-6)
            told += 1
            if cure.solves:
                assert cure.share <= 0.05 or cure.ratio <= 0.10 + 1e-9
                for other in job.survey.windows:
                    if other.ref != window.ref:
                        assert worst(after, other.ref) <= max(worst(sight, other.ref), 0.05) + 1e-6
    assert told >= 3


def changed(job: Job, cure: Cure) -> Job:
    for call in cure.edits:
        job = apply(job, call.edit, dict(call.values))
    return job


def worst(sight: Sight, window: str) -> float:
    return max((hit.share for hit in sight.reflections if hit.window == window), default=0.0)


def test_a_window_beside_the_screen_is_mirrored_more_than_straight_on(
    living: Job, see: Callable[..., Sight], limits: Limits
) -> None:
    """At 57.8° clear glass mirrors about twice what it does straight on: half the light is left to the blind, 10 % instead of 20 %."""
    job = beside(living)
    sight = see(job)
    (hit,) = sight.reflections
    assert hit.angle == pytest.approx(57.8, abs=0.05) and hit.ratio == pytest.approx(0.996, abs=5e-4)
    setting = setting_of(job, wall_face(job.survey), sight.screen, sight.seats, limits)
    blind = best(cures(setting.others[0], 1.0, setting, limits), "blind")
    assert "at most 10%" in blind.says and blind.ratio == pytest.approx(0.0996, abs=5e-5)


def test_an_arm_is_judged_by_its_own_stand_off_and_tilt(
    living: Job, see: Callable[..., Sight], limits: Limits
) -> None:
    """A fixed mount holds the screen 30 off and upright; the arm that turns it stands further out and tilts by itself."""
    job = ROOMS["fixed"](living)
    sight = see(job)
    setting = setting_of(job, wall_face(job.survey), sight.screen, sight.seats, limits)
    turn = best(cures(setting.others[0], 1.0, setting, limits), "swivel")
    after = see(changed(job, turn)).screen
    assert (sight.screen.tilt, sight.screen.stand_off) == (0, 30)
    assert after.tilt > 5 and after.stand_off == limits.value("sight.stand_off_arm")
    assert any(f"tilts it {after.tilt:g}° instead of 0°" in effect for effect in turn.effects)


def test_a_turned_screen_that_is_moved_tilts_anew(
    living: Job, see: Callable[..., Sight], limits: Limits
) -> None:
    job = ROOMS["arm"](living)
    sight = see(job)
    setting = setting_of(job, wall_face(job.survey), sight.screen, sight.seats, limits)
    for to in (1300, 1700, 2500, 2900):
        after = see(apply(job, "set_screen_x", {"centre_x": to}))
        assert setting.shifted(to).tilt == after.screen.tilt
    assert setting.shifted(2900).tilt != sight.screen.tilt


def test_cures_of_two_windows_do_not_fight(living: Job, see: Callable[..., Sight], limits: Limits) -> None:
    """5.5° would do for W1 alone; W2 then stays above 5 %. 9.5° serves both, and both ask for the same."""
    job = crossed(living)
    sight = see(job)
    setting = setting_of(job, wall_face(job.survey), sight.screen, sight.seats, limits)
    found = {
        ref: cures(next(o for o in setting.others if o.ref == ref), 1.0, setting, limits)
        for ref in ("W1", "W2")
    }
    one, two = best(found["W1"], "tilt"), best(found["W2"], "tilt")
    assert one.value == two.value and one.troubled == two.troubled == 0
    only = replace(setting, others=setting.others[:1])
    alone = best(cures(setting.others[0], 1.0, only, limits), "tilt")
    assert isinstance(alone.value, float) and isinstance(one.value, float) and alone.value < one.value
    blind = best(found["W1"], "blind")
    assert blind.troubled == 1 and "W2 stays mirrored in 13% of the picture" in blind.effects
    solving = [cure.troubled > 0 for cure in found["W1"] if cure.solves]
    assert solving == sorted(solving) and solving[0] is False and solving[-1] is True


def test_a_cure_that_turns_another_window_in_does_not_solve(room: Setting, limits: Limits) -> None:
    """A second window where every tilt that clears the first brings it in: low, behind the seat, across the room."""
    low = tuple(
        (x, -4200.0, z) for x, z in ((-2000.0, 0.0), (2000.0, 0.0), (2000.0, 600.0), (-2000.0, 600.0))
    )
    below = replace(room, glass=replace(room.glass, middle=(0.0, 0.0, 1280.0)))
    both = replace(below, others=(WINDOW, Source("W2", "window", low, 3000.0)))
    assert worst_share(below.glass, below.eyes, low) == 0
    tilts = [cure for cure in cures(WINDOW, 1.0, both, limits) if cure.kind == "tilt"]
    assert tilts and all(not cure.solves and cure.share <= 0.05 and cure.troubled for cure in tilts)
    assert all(any(e.startswith("then mirrors W2 in ") for e in cure.effects) for cure in tilts)
    alone = cures(WINDOW, 1.0, replace(below, others=(WINDOW,)), limits)
    assert all(cure.solves for cure in alone if cure.kind == "tilt")


def test_no_screen_is_hung_over_a_window_nor_on_too_short_a_wall(room: Setting, limits: Limits) -> None:
    """The walls are 5200 long, the frame 1450 x 830 at 665: at their middle it stands from 1875 to 3325."""

    def inside(ref: str, x: float, near: float, far: float, sill: float) -> Source:
        corners = ((x, -near, sill), (x, -far, sill), (x, -far, 2100.0), (x, -near, 2100.0))
        return Source(ref, "window", corners, 3000.0)

    def walls(*others: Source, depth: float = 5200) -> list[float | str]:
        setting = replace(room, others=(WINDOW, *others), depth=depth, side_gap=50.0)
        return [cure.value for cure in cures(WINDOW, 1.0, setting, limits) if cure.kind == "wall"]

    left, right = inside("L", 0.0, 3300, 4200, 900), inside("R", 4200.0, 1000, 1900, 900)
    assert walls() and walls(left) == ["right"] and walls(right) == ["left"] and walls(left, right) == []
    clear = inside("L", 0.0, 3325, 4200, 900), inside("R", 4200.0, 1000, 1875, 900)
    assert walls(clear[0], right) == ["left"] and walls(left, clear[1]) == ["right"]
    high = inside("L", 0.0, 2000, 3000, 1500)  # its sill is above the frame's top at 1495
    assert walls(high, right) == ["left"]
    assert walls(depth=1550) and not walls(depth=1549)
