"""Walls put together at random: the edits that a cure offers take its finding away, or it offers none and says why."""

from __future__ import annotations

import random
from collections.abc import Iterator
from typing import Any

import pytest

from wallwright.core.finding import Finding
from wallwright.derive import Wall, derive
from wallwright.job.edits import apply
from wallwright.job.problem import JobError
from wallwright.job.read import job_from
from wallwright.rules import RULES

CURED = (
    "carcass.units_meet", "carcass.panels_meet", "carcass.outside_wall", "carcass.unit_obstacle", "carcass.board_size",
    "carcass.joint_near_edge",
)  # fmt: skip
KINDS = ("console", "tower", "shelf", "loft", "open_shelves", "niche", "arched_niche", "ledge", "desk")
PANELS = ("flat", "fluted", "framed", "stone_veneer", "slab", "tile", "mirror", "glass")
THINGS = ("column", "pipe", "beam", "window", "radiator", "other")


def job_at_random(seed: int) -> dict[str, Any]:
    """A wall with a few units, panels and obstacles, some of their sizes and places pinned anywhere."""
    pick = random.Random(seed)
    wide, high = pick.choice([2600, 3600, 4200, 6200]), pick.choice([2400, 2700, 3000])
    units: list[dict[str, Any]] = []
    for k in range(pick.randint(1, 4)):
        unit: dict[str, Any] = {
            "ref": f"U{k}",
            "kind": pick.choice(KINDS),
            "side": pick.choice(["centre", "left", "right"]),
        }
        for name, values in (
            ("x", (-200, 0, 300, 1200, wide - 500)), ("z", (0, 300, 900, 2200)), ("width", (250, 600, 1400, 2600, 3000)),
            ("height", (200, 400, 1200, 2600)), ("depth", (250, 400, 700)),
        ):  # fmt: skip
            if pick.random() < 0.3:
                unit[name] = pick.choice(values)
        if unit["kind"] in ("console", "tower", "loft") and pick.random() < 0.4:
            unit["bays"] = [
                {"front": pick.choice(["open", "shutter", "flap"]), "shelves": 1}
                for _ in range(pick.randint(1, 3))
            ]
        units.append(unit)
    panels: list[dict[str, Any]] = []
    for k in range(pick.randint(0, 3)):
        panel: dict[str, Any] = {"ref": f"W{k}", "kind": pick.choice(PANELS)}
        if pick.random() < 0.5:
            panel |= {
                "x": pick.choice([-100, 0, 200, wide // 2]),
                "width": pick.choice([600, 1500, 2172, 3105]),
            }
        if pick.random() < 0.3:
            panel |= {"z": pick.choice([0, 500]), "height": pick.choice([900, 2000, 2390, 3200])}
        panels.append(panel)
    things = [
        {"ref": f"O{k}", "kind": pick.choice(THINGS), "x": pick.choice([0, 500, wide - 400]), "z": pick.choice([0, 300, 900]),
         "width": pick.choice([60, 300, 900]), "height": pick.choice([300, 1200]), "projection": pick.choice([60, 150, 250])}
        for k in range(pick.randint(0, 2))
    ]  # fmt: skip
    return {
        "wallwright-job": 1, "title": "at random", "brief": {},
        "survey": {
            "date": "2026-02-16", "room": {"name": "r", "kind": "living", "depth": 4100}, "place": {"rules": "UK"},
            "wall": {"widths": [{"at": 1000, "value": wide}], "heights": [{"at": 100, "value": high}], "substrate": "brick"},
            "seats": [{"ref": "A", "kind": "sofa", "x": wide / 2, "distance": 3200}], "obstacles": things,
        },
        "design": {"screen": {"diagonal": 55}, "mount": {"kind": "tilt"}, "units": units, "panels": panels},
    }  # fmt: skip


def walls(first: int, count: int) -> Iterator[tuple[int, Wall]]:
    for seed in range(first, first + count):
        try:
            yield seed, derive(job_from(job_at_random(seed)))
        except (JobError, ValueError):
            continue  # cannot be built at all, and says so


def told(rule: str, wall: Wall) -> list[Finding]:
    return list(RULES[rule].find(wall))


@pytest.mark.parametrize("first", [0, 60, 130])
def test_every_cure_cures_or_says_that_it_cannot(first: int) -> None:
    seen = {rule: 0 for rule in CURED}
    for seed, wall in walls(first, 20):
        for rule in CURED:
            for item in told(rule, wall):
                if not item.edits:
                    assert item.cure, (seed, rule)
                    continue
                seen[rule] += 1
                job = wall.job
                for call in item.edits:
                    job = apply(job, call.edit, dict(call.values))
                left = [other.says for other in told(rule, derive(job)) if other.where == item.where]
                assert not left, (seed, rule, item.cure, left)
    assert sum(seen.values()) > 20
    assert min(seen["carcass.units_meet"], seen["carcass.outside_wall"], seen["carcass.board_size"]) > 0
