"""EN 1995-1-1:2004: deformation after years (2.2.3) and k_def of table 3.2, service class 1, as the board library has them."""

import pytest

from wallwright.library import load
from wallwright.structure.creep import final

# Table 3.2: plywood 0.80; P2/P4 particleboard and fibreboard (MDF) 2.25. Fibreboard and plywood values from memory, particleboard
# and MDF.LA read in a text.
K_DEF = {"ply": 0.80, "mdf": 2.25, "particleboard": 2.25}


def test_boards_of_the_library_creep_as_the_table_says():
    for key, board in load.boards().items():
        family = next((name for name in K_DEF if key.startswith(name)), None)
        if family:
            assert board.k_def == K_DEF[family], key


def test_permanent_and_changing_load():
    """u_fin = u_G(1 + k_def) + u_Q(1 + ψ₂·k_def), 2.2.3 (5): 1 mm and 2 mm, k_def 0.8, ψ₂ 0.3."""
    assert final(1, 2, 0.8, 0.3) == pytest.approx(1 * 1.8 + 2 * 1.24)
