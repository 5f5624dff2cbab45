"""A tower's file is read whole, kept as typed, and every fault told by field, value and what would do."""

from __future__ import annotations

import pytest

from wallwright.job.problem import JobError
from wallwright.tower.demo import demo_files
from wallwright.tower.read import read_tower
from wallwright.tower.record import floor_order

HEAD = 'wallwright-tower = 1\ntitle = "T"\n[[types]]\nref = "A"\njob = "a.toml"\n'
FLAT = '[[flats]]\nid = "0101"\nfloor = 1\ntype = "A"\n'


def problems(text: str | bytes) -> list[str]:
    with pytest.raises(JobError) as caught:
        read_tower(text, "t.toml")
    assert all(line.startswith("t.toml: ") for line in str(caught.value).splitlines())
    return [str(one) for one in caught.value.problems]


def test_what_is_left_out_has_its_default_and_what_is_typed_is_kept() -> None:
    text = (
        HEAD
        + FLAT
        + '[flats.measured]\nwidths = [{ at = 100, value = "13\'-9 3/8\\"" }]\nout_of_plumb = "1.2 cm"\n'
    )
    (flat,) = read_tower(text).flats
    assert (flat.hand, flat.state, flat.delivery, flat.floor) == ("left", "drawn", "", "1")
    assert flat.measured.widths[0].value.written == "13'-9 3/8\""
    assert flat.measured.widths[0].value.mm == pytest.approx(4200.525)  # 165 3/8 in at 25.4 mm
    assert flat.measured.out_of_plumb is not None
    assert flat.measured.out_of_plumb.mm == 12.0
    assert flat.measured.anything


def test_a_flat_without_measures_was_not_measured() -> None:
    assert not read_tower(HEAD + FLAT).flats[0].measured.anything


@pytest.mark.parametrize(
    ("text", "field", "says"),
    [
        ('title = "T"\n', "wallwright-tower", "is missing: the file begins with `wallwright-tower = 1`"),
        (HEAD, "flats", "is missing"),
        ('wallwright-tower = 1\ntitle = "T"\ntypes = []\nflats = []\n', "types", "at least one [[types]]"),
        (HEAD + FLAT.replace('"A"', '"B"'), "flats[0].type = 'B'", "there is no such type"),
        (HEAD + FLAT + FLAT, "flats[1].id = '0101'", "is given 2 times"),
        (HEAD + FLAT + 'hand = "up"\n', "flats[0].hand = 'up'", "must be one of 'left', 'right'"),
        (HEAD + FLAT + 'state = "done"\n', "flats[0].state = 'done'", "must be one of"),
        (HEAD + FLAT + 'stat = "cut"\n', "flats[0].stat = 'cut'", "did you mean 'state'?"),
        (HEAD + FLAT + 'delivery = "D2"\n[[deliveries]]\nref = "D1"\n', "flats[0].delivery = 'D2'", "no such delivery"),
        (HEAD + FLAT + 'accepted = "B"\n', "flats[0].accepted = 'B'", "nothing is made yet"),
        (HEAD + FLAT + "[flats.measured]\nwidths = [{ at = 100, value = -3 }]\n", "flats[0].measured.widths[0].value", "more than 0"),
        (HEAD + FLAT + '[flats.measured]\nwidth = 4200\n', "flats[0].measured.width", "did you mean 'widths'?"),
        (HEAD + FLAT.replace('"0101"', '"a b"'), "flats[0].id", "must look like"),
        ("x = [", "file", "is not TOML"),
        (b"\xff\xfe", "file", "is not UTF-8 text (line 1)"),
    ],
)  # fmt: skip
def test_faults_are_told_by_field_value_and_what_would_do(text: str | bytes, field: str, says: str) -> None:
    told = problems(text)
    assert any(one.startswith(field) and says in one for one in told), told


def test_all_faults_are_told_at_once() -> None:
    bad = FLAT.replace('"A"', '"X"')
    assert len(problems(HEAD + bad + bad.replace("0101", "0102"))) == 2


def test_the_demo_says_that_it_is_invented_and_holds_120_flats_of_4_types() -> None:
    files = demo_files()
    assert all("INVENTED" in text for text in files.values())
    tower = read_tower(files["tower.toml"])
    assert (len(tower.flats), len(tower.types)) == (120, 4)
    for kind in tower.types:
        hands = [flat.hand for flat in tower.flats if flat.type == kind.ref]
        assert hands.count("left") == hands.count("right") == 15
    assert {flat.state for flat in tower.flats} == {"drawn", "ordered", "cut", "set", "built"}
    assert any(flat.measured.anything for flat in tower.flats)
    assert not all(flat.measured.anything for flat in tower.flats)
    assert files == demo_files()


def test_floors_stand_in_the_order_of_a_lift() -> None:
    assert sorted(["10", "2", "G", "-1", "1"], key=floor_order) == ["G", "-1", "1", "2", "10"]
