"""Projection against the same geometry done by a vector, and hidden lines by asking rays."""

from __future__ import annotations

import random

import pytest

from wallwright.core.shape import Block, Box
from wallwright.sheets.perspective import NEAR, Thing, faces, hides, outline, painted, project, segment

EYE = (1000.0, -3000.0, 1200.0)
WIDE = Box(-9e5, -9e5, 18e5, 18e5)


def test_by_hand() -> None:
    """Half way to the wall everything is twice as far from the eye's axis; in the wall it stays where it is."""
    assert project(EYE, (1700.0, 0.0, 400.0)) == (1700.0, 400.0)
    assert project(EYE, (1700.0, -1500.0, 400.0)) == pytest.approx((1000 + 2 * 700, 1200 - 2 * 800))
    assert project(EYE, (1100.0, -600.0, 1300.0)) == pytest.approx((1125.0, 1325.0))  # 3000 / 2400 = 1.25


def test_what_is_too_near_is_cut_away() -> None:
    assert segment(EYE, (0.0, -2900.0, 0.0), (0.0, -2800.0, 0.0)) is None
    cut = segment(EYE, (0.0, 0.0, 0.0), (0.0, -3000.0, 0.0))
    assert cut is not None
    assert cut[0] == (0.0, 0.0)
    assert cut[1] == pytest.approx((1000 - 1000 * 3000 / NEAR, 1200 - 1200 * 3000 / NEAR))


def test_a_face_is_cut_at_the_window() -> None:
    shape = outline(EYE, ((0, 0, 0), (2000, 0, 0), (2000, 0, 2000), (0, 0, 2000)), Box(500, 500, 9000, 700))
    assert sorted(shape) == sorted([(500.0, 500.0), (2000.0, 500.0), (2000.0, 1200.0), (500.0, 1200.0)])
    assert outline(EYE, ((0, 0, 0), (100, 0, 0), (100, 0, 100)), Box(500, 500, 10, 10)) == ()


def test_faces_turned_to_the_eye() -> None:
    low_left = faces(
        Block(0, -400, 0, 500, 400, 300), EYE
    )  # the eye is right of it and above: right side, top, front
    assert len(low_left) == 3
    assert all(p[0] == 500 for p in low_left[0])
    assert all(p[2] == 300 for p in low_left[1])
    assert all(p[1] == -400 for p in low_left[2])
    before = faces(Block(800, -400, 1000, 400, 400, 400), EYE)  # right before the eye: its front alone
    assert len(before) == 1


def meets(eye: tuple[float, ...], aim: tuple[float, ...], block: Block) -> float | None:
    """How far along the ray from the eye through `aim` it enters the box (slab method); None where it misses."""
    low, high = 0.0, 1e9
    for i, (start, size) in enumerate(((block.x, block.dx), (block.y, block.dy), (block.z, block.dz))):
        way = aim[i] - eye[i]
        if abs(way) < 1e-12:
            if not start <= eye[i] <= start + size:
                return None
            continue
        ends = sorted(((start - eye[i]) / way, (start + size - eye[i]) / way))
        low, high = max(low, ends[0]), min(high, ends[1])
    return low if low < high - 1e-9 else None


def test_the_nearer_box_is_painted_last_along_every_ray() -> None:
    """Boxes that do not run into one another, laid at random: what a ray meets first is painted after all else it meets."""
    rng = random.Random(4)
    seen = 0
    for _ in range(60):
        blocks: list[Block] = []
        while len(blocks) < 9:
            size = [rng.uniform(80, 900) for _ in range(3)]
            block = Block(rng.uniform(-800, 2500), -rng.uniform(size[1], 2200), rng.uniform(0, 2200), *size)
            if not any(block.overlap(other) for other in blocks):
                blocks.append(block)
        order = [thing.block for thing in painted([Thing(block, ()) for block in blocks], EYE)]
        assert sorted(order, key=id) == sorted(blocks, key=id)
        for _ in range(120):
            aim = (rng.uniform(-1500, 3500), 0.0, rng.uniform(-500, 3000))
            hits = [(at, k) for k, block in enumerate(order) if (at := meets(EYE, aim, block)) is not None]
            if len(hits) > 1:
                seen += 1
                assert min(hits)[1] == max(k for _, k in hits)
    assert seen > 200


def test_touching_boxes_are_parted() -> None:
    console, bar = Block(0, -400, 0, 2000, 400, 500), Block(500, -400, 500, 900, 120, 70)
    assert hides(bar, console, EYE)  # it stands on it and the eye is above
    assert not hides(console, bar, EYE)
