from __future__ import annotations

import pytest

from wallwright.job.brief import Thing
from wallwright.library import load
from wallwright.storage.demand import demand_of, demands, load_per_metre, shelf_run, storage_class

LIMITS = load.limits()


def test_books_and_records() -> None:
    assert shelf_run(200, 28, 1.2) == pytest.approx(6720)  # 200 books of 28 mm with a fifth to spare
    record = load.things()["vinyl_record"]
    assert 1000 / record.run == pytest.approx(286, rel=0.01)  # records a metre at 3.5 mm
    assert load_per_metre(record.mass, record.run) == pytest.approx(71, rel=0.01)  # of 0.25 kg: 71 kg/m


def test_a_family_s_books() -> None:
    # 220 picture books 2.2 m, 140 paperbacks 3.5 m, 60 large 1.8 m: 7.5 m, and a fifth to spare 9.0 m
    things = (Thing("picture_book", 220, low=True), Thing("paperback", 140), Thing("large_book", 60))
    found = demands(things, LIMITS)
    slack = LIMITS.value("storage.slack")
    assert [d.run / slack for d in found] == pytest.approx([2200, 3500, 1800])
    assert sum(d.run for d in found) == pytest.approx(9000)
    assert [d.low for d in found] == [True, False, False]


def test_what_a_thing_needs() -> None:
    game = demand_of(Thing("board_game", 3), 0, LIMITS)
    kind = load.things()["board_game"]
    assert (game.height, game.depth) == (kind.height + 30, kind.depth + 20)
    assert game.mass == pytest.approx(3 * kind.mass)
    assert demand_of(Thing("board_game", 0), 0, LIMITS).run == 0


def test_an_unknown_kind_names_the_field_and_the_nearest() -> None:
    with pytest.raises(ValueError, match=r"brief\.things\.1\.kind: .*'bord_game'.*'board_game'"):
        demands((Thing("disc", 1), Thing("bord_game", 1)), LIMITS)


def test_classes() -> None:
    assert [storage_class(run, 3000, 8000) for run in (0, 2999, 3000, 7999, 8000)] == [
        "little", "little", "moderate", "moderate", "much",
    ]  # fmt: skip
