"""Light by way of other walls, put together: what is asked, and that smoothing takes noise from a face and nothing across an edge."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from wallwright.export import gathered


def corner(rows: int, wide: int) -> tuple[Any, Any]:
    """A grid of points: to the left a wall that faces the room, to the right one at right angles to it, 10 mm from point to point."""
    at, facing = np.zeros((rows, wide, 3), np.float32), np.zeros((rows, wide, 3), np.float32)
    at[..., 2] = -0.01 * np.arange(rows)[:, None]
    half = wide // 2
    at[:, :half, 0] = 0.01 * np.arange(half)
    facing[:, :half, 1] = -1
    at[:, half:, 0] = 0.01 * half
    at[:, half:, 1] = -0.01 * np.arange(wide - half)
    facing[:, half:, 0] = -1
    return at, facing


@pytest.mark.parametrize("normal", [(0.0, -1.0, 0.0), (1.0, 0.0, 0.0), (0.0, 0.6, -0.8)])
def test_rays_are_asked_as_dense_as_the_cosine(normal: tuple[float, float, float]) -> None:
    """Of a cosine-weighted half space the mean cosine is 2/3, that of its square 1/2, and nothing leans to a side."""
    normals = np.tile(np.array(normal, np.float32), (400, 1))
    rays = gathered.asked(np.zeros((400, 3), np.float32), normals, 6, 4, 1)
    assert rays.shape == (400, 24, 6)
    ways = rays[..., 3:].reshape(-1, 3)
    assert np.linalg.norm(ways, axis=1) == pytest.approx(1.0, abs=1e-5)
    cosine = ways @ np.array(normal)
    assert cosine.min() > -1e-6
    assert cosine.mean() == pytest.approx(2 / 3, abs=0.005)
    assert (cosine**2).mean() == pytest.approx(1 / 2, abs=0.006)
    assert ways.mean(axis=0) == pytest.approx(np.array(normal) * 2 / 3, abs=0.01)
    assert (rays[..., :3] @ np.array(normal, np.float32)).min() > 0  # before its own face, not in it


def test_noise_goes_and_an_edge_stays() -> None:
    at, facing = corner(60, 80)
    true = np.where(np.arange(80) < 40, 10.0, 1.0)[None, :, None] * np.ones((60, 1, 3))
    noisy = (true * np.random.default_rng(1).gamma(4.0, 0.25, (60, 80, 1))).astype(np.float32)
    got = gathered.evened(noisy, np.zeros_like(noisy), at, facing)
    assert (noisy / true).std() > 0.4
    assert (got / true).std() < 0.06
    assert got[:, 38:40].mean() == pytest.approx(10.0, rel=0.06)
    assert got[:, 40:42].mean() == pytest.approx(1.0, rel=0.06)


def test_bright_spots_are_spread_and_none_of_their_light_is_lost() -> None:
    at, facing = corner(64, 128)
    found = np.ones((64, 128, 8, 3), np.float32)
    lucky = np.random.default_rng(2).random((64, 128, 8)) < 0.01
    found[lucky] = 300.0
    usual, spots = gathered.parted(found, float(found.mean()))
    assert usual + spots == pytest.approx(found.mean(axis=2), rel=1e-4)
    got = gathered.evened(usual, spots, at, facing)
    assert got.mean() == pytest.approx(found.mean(), rel=0.05)
    assert got.std() / got.mean() < 0.15 < found.mean(axis=2).std() / found.mean()


def test_each_ray_takes_the_light_of_its_own_face() -> None:
    at, facing = corner(40, 80)
    row, column = gathered.chosen(40, 80, 4)
    light = np.where(facing[row, column][..., 1:2] < 0, 10.0, 1.0).astype(np.float32) * np.ones(3, np.float32)
    rows = np.arange(8, 24)
    got = gathered.spread(light, at[row, column], facing[row, column], at[rows], facing[rows], rows, 4)
    assert got.shape == (16, 80, 3)
    assert got[:, :40] == pytest.approx(10.0, rel=0.02)
    assert got[:, 40:] == pytest.approx(1.0, rel=0.02)


def test_a_lone_spark_goes_and_a_line_of_light_stays() -> None:
    light = np.ones((20, 20, 3), np.float32)
    light[5, 5] = 500.0
    light[:, 12:14] = 200.0
    got = gathered.without_sparks(light)
    assert got[5, 5].max() < 2.0
    assert (got[:, 12:14] == 200.0).all()
    assert (got[:, 8:11] == 1.0).all()
