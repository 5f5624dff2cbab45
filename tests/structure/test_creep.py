import pytest
from hypothesis import given
from hypothesis import strategies as st

from wallwright.structure.creep import factor, final


def test_fibreboard_shelf_after_years():
    """Sag at once 6.6521 mm, k_def 2.25 (EN 1995-1-1 table 3.2, fibreboard, service class 1): 21.619 all permanent,
    19.034 where ψ₂ is 0.8 for the 25 kg/m of w 28.942 kg/m (computed by EN 1995-1-1, 2.2.3)."""
    assert final(6.6521, 0, 2.25, 1) == pytest.approx(21.619, rel=1e-3)
    assert final(0, 6.6521, 2.25, 1) == pytest.approx(21.619, rel=1e-3)
    own = 6.6521 * 3.942 / 28.942
    assert final(own, 6.6521 - own, 2.25, 0.8) == pytest.approx(19.034, rel=1e-3)
    assert final(0, 6.6521, 2.25, 0.8) == pytest.approx(6.6521 * 2.8)


@given(st.floats(0, 20), st.floats(0, 20), st.floats(0, 3), st.floats(0, 1))
def test_creep_never_lifts_a_shelf(permanent, changing, k_def, psi_2):
    assert permanent + changing - 1e-9 <= final(permanent, changing, k_def, psi_2)
    assert final(permanent, changing, k_def, psi_2) <= (permanent + changing) * factor(k_def) + 1e-9
