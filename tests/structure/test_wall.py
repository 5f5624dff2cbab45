from wallwright.core.shape import Box
from wallwright.library import load
from wallwright.structure.wall import Wall, anchors_behind, backer_box, joined, stud_lines


def test_only_studs_that_were_found_are_places_for_holes():
    strip = Box(1000, 400, 1800, 80)
    assert stud_lines(strip, Wall("timber_stud", (), 600)) == []
    assert stud_lines(strip, Wall("timber_stud", (900, 1500, 2100, 2795), 600)) == [1500, 2100]


def test_a_timber_frame_takes_screws_in_studs_else_a_backer():
    strip = [Box(1000, 400, 1800, 80)]
    assert anchors_behind(strip, Wall("timber_stud", (1500, 2100), 600))[0].substrate == "timber_stud"
    assert (
        anchors_behind(strip, Wall("timber_stud", (1500,), 600))[0].key == "screw_backer"
    )  # it would swing about one
    two = [Box(1000, 400, 600, 80), Box(1400, 400, 600, 80)]
    assert anchors_behind(two, Wall("timber_stud", (1500,), 600))[0].key == "screw_backer"
    assert anchors_behind(strip, Wall("metal_stud", (1500, 2100), 600))[0].key == "screw_backer"
    assert anchors_behind(strip, Wall("brick", (), 600))[0].substrate == "brick"
    assert anchors_behind(strip, Wall("unknown", (), 600)) == ()


def test_a_backer_stays_on_the_wall():
    limits = load.limits()
    box = backer_box(((60, 30), (200, 30)), Wall("metal_stud", (700,), 600, width=4000), limits)
    assert box.x == 0 and box.z == 0 and box.right == 700
    far = backer_box(((2000, 1000), (2200, 1000)), Wall("metal_stud", (100,), 400, width=4000), limits)
    assert (far.x, far.right) == (1925, 2275)  # no stud near: 75 mm beyond the outermost (common practice)


def test_backers_are_joined_until_none_meet():
    boxes = [Box(0, 0, 10, 10), Box(20, 0, 10, 10), Box(5, 5, 20, 10), Box(100, 0, 5, 5)]
    assert set(joined(boxes)) == {Box(0, 0, 30, 15), Box(100, 0, 5, 5)}
