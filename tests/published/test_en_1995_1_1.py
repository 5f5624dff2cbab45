"""EN 1995-1-1:2004: deformation after years (2.2.3) and k_def of table 3.2, service class 1, as the board library has them."""

from dataclasses import replace

import pytest

from wallwright.carcass.record import Shelf
from wallwright.core.shape import Box
from wallwright.library import load
from wallwright.structure.creep import factor
from wallwright.structure.shelves import check, sag_limits, why

# Table 3.2: plywood 0.80; P2/P4 particleboard and fibreboard (MDF) 2.25. Fibreboard and plywood values from memory, particleboard
# and MDF.LA read in a text.
K_DEF = {"ply": 0.80, "mdf": 2.25, "particleboard": 2.25}


def test_boards_of_the_library_creep_as_the_table_says():
    for key, board in load.boards().items():
        family = next((name for name in K_DEF if key.startswith(name)), None)
        if family:
            assert board.k_def == K_DEF[family], key


def test_permanent_and_changing_load():
    """u_fin = u_G(1 + k_def) + u_Q(1 + ψ₂·k_def), 2.2.3 (5): plywood 0.8, ψ₂ 0.3: 1.8 of the shelf's own sag and 1.24 of its load's."""
    shelf = Shelf("T1.1-S1", "T1", 900.0, 300.0, 18.0, "ply18", 0.0, Box(0, 0, 900, 18))
    held_to = replace(sag_limits(load.limits()), psi_2=0.3)
    own, both = check(shelf, 0.0, held_to), check(shelf, 20.0, held_to)
    assert own.sag_later == pytest.approx(own.sag * 1.8)
    assert both.sag_later == pytest.approx(own.sag * 1.8 + (both.sag - own.sag) * 1.24)
    assert factor(0.8) == pytest.approx(1.8) and factor(0.8, 0.3) == pytest.approx(1.24)


def test_particleboard_p2_is_taken_as_p4():
    """The table begins with P4; the board and its sag's working say so."""
    board = load.boards()["particleboard18"]
    shelf = Shelf("T1.1-S1", "T1", 500.0, 300.0, 18.0, "particleboard18", 0.0, Box(0, 0, 500, 18))
    held_to, limits = sag_limits(load.limits()), load.limits()
    later = why(check(shelf, 25.0, held_to), shelf, 25.0, limits, held_to)[1]
    assert "P4 taken for P2" in board.source
    assert [one.value for one in later.inputs if one.name == "k_def of P4, taken for P2"] == [2.25]
