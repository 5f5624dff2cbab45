"""What a reflection takes from the picture: hand values of contrast, Fresnel, the overcast sky and the veil of a lamp."""

from __future__ import annotations

import math

import pytest
from scipy.integrate import dblquad

from wallwright.core.limit import Limits
from wallwright.sight.veil import (
    contrast,
    contrast_word,
    disability,
    fresnel,
    front,
    lamp_word,
    overcast,
    overcast_upright,
    picture,
    scattered,
    veiling,
    window_word,
)


def test_contrast_left_in_a_lit_room() -> None:
    """200 over 0.05 cd/m² in 100 lx on a front that scatters 0.5 %; then 30 cd/m² of an image on top. By hand."""
    grey = scattered(100, 0.005)
    assert grey == pytest.approx(0.1592, abs=1e-4)
    assert contrast(200, 0.05, grey) == pytest.approx(957.7, rel=3e-3)
    assert contrast(200, 0.05, grey + 30) == pytest.approx(7.62, rel=3e-3)


@pytest.mark.parametrize(
    ("index", "angle", "share"),
    [  # Fresnel's equations, by hand; n 1.567 is the black glass of ISO 2813: 4.91 % at 20°, 10.01 % at 60°
        (1.5, 0, 0.0400), (1.5, 60, 0.0892), (1.5, 75, 0.2531), (1.5, 85, 0.6128),
        (1.567, 20, 0.04908), (1.567, 60, 0.10006), (1.567, 85, 0.6192),
    ],
)  # fmt: skip
def test_fresnel(index: float, angle: float, share: float) -> None:
    assert fresnel(index, angle) == pytest.approx(share, abs=2e-4)


def test_overcast_sky() -> None:
    """10 000 lx on open ground, CIE overcast sky: 4092.6 overhead, 1364.2 at the horizon, 0.39618 of it upright. By hand."""
    assert overcast(10000, 90) == pytest.approx(4092.6, abs=0.1)
    assert overcast(10000, 0) == pytest.approx(1364.2, abs=0.1)
    assert overcast_upright(1) == pytest.approx(0.39618, abs=1e-4)


def test_overcast_sky_adds_up() -> None:
    """The sky's light summed over the hemisphere gives what it started from, on the ground and on an upright surface."""

    def ground(turn: float, up: float) -> float:
        return overcast(1.0, math.degrees(up)) * math.sin(up) * math.cos(up)

    def upright(turn: float, up: float) -> float:
        return overcast(1.0, math.degrees(up)) * math.cos(up) ** 2 * math.cos(turn)

    half = math.pi / 2
    assert dblquad(ground, 0, half, 0, 2 * math.pi)[0] == pytest.approx(1, abs=1e-6)
    assert dblquad(upright, 0, half, -half, half)[0] == pytest.approx(overcast_upright(1), abs=1e-6)


def test_veil_of_a_lamp() -> None:
    assert disability(112.290, 18.2702) == pytest.approx(3.3640, abs=1e-3)  # computed (evalglare 3.06)


def test_veiling_ratio_of_a_pane(limits: Limits) -> None:
    """Overcast pane 3000 cd/m² in a 2 % front over a mean of 120: 0.50; behind a blind that lets 5 % through: 0.025. By hand."""
    face, day = front(None, limits), picture(False, limits)
    assert limits.value("sight.window_luminance") == 3000
    assert (face.mirrors, day.mean) == (0.02, 120)
    assert veiling(3000, face.mirrors, day.mean) == pytest.approx(0.50)
    assert veiling(3000 * 0.05, face.mirrors, day.mean) == pytest.approx(0.025)


def test_fronts_stand_in_order(limits: Limits) -> None:
    """Glossy mirrors most, matte least and scatters most; any front mirrors more at a grazing angle."""
    mirrors = [front(kind, limits).mirrors for kind in ("matte", "glossy_ar", "semi_gloss", "glossy")]
    assert mirrors == sorted(mirrors)
    assert front("matte", limits).scatters > front("glossy", limits).scatters
    assert front("glossy", limits).mirrors_at(60) == pytest.approx(0.0892, abs=2e-4)  # Fresnel, n 1.5
    assert front("glossy", limits).mirrors == pytest.approx(fresnel(1.5, 0))


def test_words(limits: Limits) -> None:
    """The thresholds of share 5 % and 20 %, of ratio 0.10 and 0.25, and of contrast 100, 20 and 3: common practice."""
    assert window_word(0.0, 1.0, limits) == "not seen"
    assert window_word(0.5, 0.10, limits) == "seen, too faint to disturb"
    assert window_word(0.05, 0.5, limits) == "seen at the edge"
    assert window_word(0.051, 0.11, limits) == "disturbs"
    assert window_word(0.21, 0.26, limits) == "washes the picture out"
    assert lamp_word(0.001, 0.26, limits) == "shines in the picture"
    assert lamp_word(0.001, 0.2, limits) == "disturbs"
    assert lamp_word(0.001, 0.05, limits) == "seen, too faint to disturb"
    assert contrast_word(957, limits) == "enough for films"
    assert contrast_word(99, limits) == "enough by day, grey for films"
    assert contrast_word(7.6, limits) == "too grey for any programme"
    assert contrast_word(2.9, limits) == "nothing to be made out"
