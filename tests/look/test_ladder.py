"""The finish ladder: the trade's own order, the demo rates book against it, and the faces a place allows."""

from __future__ import annotations

from itertools import pairwise

import pytest

from wallwright.library import load
from wallwright.library.load import Rung
from wallwright.look.ladder import Place, allowed, cheaper_faces, instead, refusals, rung_of

FINISH, RATES = load.finishes(), load.rates()
CHAINS = (  # common practice
    ("painted_board", "laminate", "veneer"),
    ("painted_board", "laminate_wood", "veneer"),
    ("sprayed", "fluted", "carved"),
    ("laminate_stone", "tile", "marble"),
    ("emulsion", "painted_board"),
)


def cost(rung: Rung) -> float:
    """A m² of it by the demo rates book: board, skin on one face or both, the work in it."""
    row = FINISH[rung.finish]
    skin = RATES.get(f"finish_{row.key}") or RATES[f"finish_{row.kind}"]
    both = rung.board and row.kind in ("laminate", "veneer")  # a skin pressed on one side only bows its board
    board = RATES[f"board_{rung.board}"].amount if rung.board else 0.0
    work = {"plain": 0.0, "fluted": RATES["flutes"].amount, "carved": RATES["carving"].amount}[rung.work]
    return board + skin.amount * (2 if both else 1) + work


@pytest.mark.parametrize("chain", CHAINS, ids=[" < ".join(chain) for chain in CHAINS])
def test_the_trades_order_holds_in_the_ladder_and_in_the_demo_rates(chain: tuple[str, ...]) -> None:
    ladder = load.ladder()
    for low, high in pairwise(chain):
        assert ladder[low].middle < ladder[high].middle, (low, high)
        assert cost(ladder[low]) < cost(ladder[high]), (low, high)


def test_rungs_whose_ranges_lie_apart_are_priced_in_their_order() -> None:
    rungs = list(load.ladder().values())
    apart = [(a, b) for a in rungs for b in rungs if a.most < b.least]
    assert len(apart) > 100
    wrong = [(a.key, cost(a), b.key, cost(b)) for a, b in apart if cost(a) >= cost(b)]
    assert not wrong


def test_rungs_stand_in_order_and_name_what_is_there() -> None:
    rungs = list(load.ladder().values())
    for rung in rungs:
        assert rung.least <= rung.most
        assert load.face_of(rung.finish).key == rung.face
        assert not rung.board or rung.board in load.boards()
    middles = [rung.middle for rung in rungs]
    assert middles == sorted(middles)


@pytest.mark.parametrize("key", FINISH)
def test_cheaper_means_cheaper_and_allowed(key: str) -> None:
    own = rung_of(key)
    place = Place(wash=True, humid=True)
    for role in ("panel", "front"):
        found = cheaper_faces(key, role, place)
        for one in found:
            rung = rung_of(one.key)
            assert rung is not None
            assert own is not None
            assert rung.middle < own.middle
            assert not refusals(one.key, role, place)
        steps = [rung.middle for one in found if (rung := rung_of(one.key))]
        assert steps == sorted(steps, reverse=True)


def test_marble_steps_down_to_what_looks_like_it() -> None:
    found = [row.key for row in cheaper_faces("marble_white", "panel", Place(wash=True, humid=True))]
    assert found[0] == "porcelain_marble_look"
    assert found.index("tile_stone_grey") < found.index("laminate_stone_white")
    assert "upholstery_sand" not in found  # cannot be wiped
    assert "stone_slab" not in found  # cannot be wiped


def test_a_front_is_never_offered_tile_or_paper() -> None:
    fronts = {load.face_of(row.key).key for row in cheaper_faces("stone_veneer_white", "front")}
    assert fronts
    assert not fronts & {"tile", "porcelain", "marble", "wallpaper", "paint"}


def test_what_a_place_refuses() -> None:
    assert refusals("membrane_white", "front", Place(warm=75)) == ("it stands 65 °C only",)
    assert refusals("laminate_oak", "front", Place(warm=75, sun=True, wash=True, humid=True)) == ()
    assert refusals("veneer_walnut", "panel", Place(sun=True)) == ("the sun pales it",)
    assert refusals("wallpaper_linen", "wall", Place(humid=True)) == ("it does not stand humid air",)
    assert refusals("sprayed_gloss_black", "panel", Place(behind_screen=True))
    assert refusals("stone_slab", "panel", Place(dust=True))
    assert {row.key for row in allowed("front", Place(remote=True))} == {"cloth_grey", "glass_smoked"}


def test_instead_keeps_the_look() -> None:
    pick = instead("veneer_walnut", "panel", Place(sun=True))
    assert pick is not None
    assert pick.key == "laminate_dark_wood"
