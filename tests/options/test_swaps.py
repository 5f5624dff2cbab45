"""Swaps: real edits with true savings; what endangers is refused, what is kept is left alone."""

from __future__ import annotations

import pytest

from wallwright.derive import Wall, derive
from wallwright.job.edits import apply
from wallwright.library import terms
from wallwright.options.effect import edited
from wallwright.options.lumps import lumps_of, shared
from wallwright.options.swaps import Swap, loss_of, proposed, swaps
from wallwright.rules import check
from wallwright.rules.check import MUST


@pytest.fixture(scope="module")
def offered(living_swaps: tuple[Swap, ...]) -> tuple[Swap, ...]:
    return living_swaps


def test_every_saving_is_true(living: Wall, offered: tuple[Swap, ...]) -> None:
    assert len(offered) > 15
    for swap in offered:
        after = derive(edited(living.job, swap.edits))
        assert living.money.total - after.money.total == swap.saving, swap.key
        must = {(i.rule, i.where) for i in check(after) if i.severity in MUST}
        had = {(i.rule, i.where) for i in check(living) if i.severity in MUST}
        assert bool(must - had) == bool(swap.refused), swap.key


def test_swaps_of_every_kind_that_this_wall_has(offered: tuple[Swap, ...]) -> None:
    kinds = {swap.kind for swap in offered}
    assert kinds >= {"fronts_face", "panel_face", "cheaper_board", "bias_light_out", "no_light", "no_dimmer",
                     "smaller_panel", "plain_mount", "unit_out", "shelf_out"}  # fmt: skip
    assert kinds <= set(terms.swap_weights())
    assert any(swap.refused.startswith("danger") for swap in offered)


def test_a_fluted_panel_may_be_flat(bedroom_swaps: tuple[Swap, ...]) -> None:
    assert "plain_panel" in {swap.kind for swap in bedroom_swaps}


def test_the_loss_counts_what_is_lost(living: Wall) -> None:
    row = terms.swap_weights()["smaller_panel"]
    each = [p for p in proposed(living) if p.kind == "smaller_panel"]
    change = living.limits.value("money.swap_change")
    for proposal in each:
        assert loss_of(living, proposal) == pytest.approx(change + row.once + row.each * proposal.measure)
    assert loss_of(living, each[0]) < loss_of(living, each[1])


def test_what_the_brief_keeps_is_not_touched(living: Wall) -> None:
    job = apply(living.job, "keep_from_swaps", {"keep": ["W1", "lights", "fronts"]})
    for swap in swaps(derive(job)):
        assert not swap.of & {"W1", "lights", "fronts"}, swap.key
        assert all(call.edit not in ("remove_light", "set_light") for call in swap.edits)


def test_a_pinned_width_is_not_cut_back(living: Wall) -> None:
    job = apply(living.job, "resize_panel", {"ref": "W1", "width": 2048})
    assert "smaller_panel" not in {p.kind for p in proposed(derive(job))}


def test_the_parts_of_a_saving_make_it_up(living: Wall, offered: tuple[Swap, ...]) -> None:
    """Where nothing is bought whole otherwise, what adds up is the saving itself, but for rounding."""
    for swap in offered:
        if not swap.share.lumps and not swap.refused:
            assert swap.share.plain == pytest.approx(swap.saving, abs=3), swap.key
    assert shared(living, living).lumps == ()


def test_a_lump_is_never_used_more_than_it_is_paid(living: Wall) -> None:
    found = lumps_of(living)
    assert {"board_ply18", "delivery"} <= set(found)
    assert all(0 < lump.used <= lump.paid for lump in found.values())
    for board, _, used in living.money.sheets:
        lump = found[f"board_{board}"]
        assert lump.used == pytest.approx(lump.paid * used)
