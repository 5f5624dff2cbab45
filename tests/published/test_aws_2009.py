"""Architectural Woodwork Standards, 1st edition (1 October 2009), clause 4.4.14.10: largest shelf spans in inches.

Uniform load, sag at most span/144 at once; the printed figures are whole inches, cut off or rounded.
"""

import pytest

from wallwright.structure.beam import longest_simple, second_moment

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


@pytest.mark.parametrize(("modulus", "thick", "load", "exact", "printed"), SPANS)
def test_largest_span(modulus, thick, load, exact, printed):
    width = 300.0  # any: load and stiffness both grow with it
    span = longest_simple(load * PSF * width, modulus * PSI * second_moment(width, thick * INCH), 144) / INCH
    assert span == pytest.approx(exact, abs=0.01)
    assert abs(span - printed) <= 0.75


@pytest.mark.parametrize(("psf", "kg_per_m2"), [(40, 195.30), (50, 244.12)])
def test_loads_in_kg(psf, kg_per_m2):
    assert psf * PSF * 1e6 / 9.80665 == pytest.approx(kg_per_m2, abs=0.05)
