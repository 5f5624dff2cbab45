"""Architectural Woodwork Standards, 1st edition (1 October 2009), clause 4.4.14.10: largest shelf spans in inches.

Uniform load, sag at most span/144 at once; the printed figures are whole inches, cut off or rounded.
"""

from dataclasses import replace

import pytest

from wallwright.carcass.record import Shelf
from wallwright.core.shape import Box
from wallwright.library import load
from wallwright.structure.shelves import check, sag_limits

PSI = 6894.757293168 / 1e6  # N/mm²
PSF = 47.88025898 / 1e6  # N/mm²
INCH = 25.4

# E [psi], thickness [in], load [psf], exact span, printed span [in]
SPANS = [
    (0.95e6, 0.75, 40, 40.03, 40),
    (0.95e6, 0.75, 50, 37.16, 37),
    (0.95e6, 1.0, 40, 53.37, 53),
    (0.95e6, 1.0, 50, 49.54, 49),
    (1.80e6, 0.75, 40, 49.53, 49),
    (1.80e6, 0.75, 50, 45.98, 46),
    (1.80e6, 1.0, 40, 66.04, 66),
    (1.80e6, 1.0, 50, 61.30, 61),
    (1.82e6, 0.75, 40, 49.71, 49),
    (1.82e6, 0.75, 50, 46.15, 46),
    (1.82e6, 1.0, 40, 66.28, 66),
    (1.82e6, 1.0, 50, 61.53, 61),
]


@pytest.mark.parametrize(("modulus", "thick", "psf", "exact", "printed"), SPANS)
def test_largest_span(modulus, thick, psf, exact, printed, monkeypatch):
    """The span a plain shelf is told to keep, held to span/144 at once and to nothing later, its own weight left out as there."""
    t = thick * INCH
    board = replace(load.boards()["solid_oak20"], modulus=modulus * PSI, thickness=t, density=0.0)
    monkeypatch.setattr(load, "boards", lambda: {"solid_oak20": board})
    shelf = Shelf("T1.1-S1", "T1", 900.0, 300.0, t, "solid_oak20", 0.0, Box(0, 0, 900, t))
    held_to = replace(sag_limits(load.limits()), at_once=144.0, later=1e-9)
    span = check(shelf, psf * PSF * 300 / 9.80665 * 1000, held_to).longest / INCH
    assert span == pytest.approx(exact, abs=0.01)
    assert abs(span - printed) <= 0.75


@pytest.mark.parametrize(("psf", "kg_per_m2"), [(40, 195.30), (50, 244.12)])
def test_loads_in_kg(psf, kg_per_m2):
    assert psf * PSF * 1e6 / 9.80665 == pytest.approx(kg_per_m2, abs=0.05)
