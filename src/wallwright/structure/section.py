"""What a shelf is made of, as a beam: plain, lipped in front, two boards glued, or a torsion box.

Boards glued together bend as one (transformed section). What creeps differently is reckoned with E/(1 + k_def) of each part:
EN 1995-1-1, 2.3.2.2. N, mm, kg.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple

BUILDS = ("plain", "lipped", "doubled", "torsion_box")


class Layer(NamedTuple):
    """One board of a section: E [N/mm²], k_def, density [kg/m³], width across the shelf, height, its left and lower edge [mm]."""

    E: float
    k_def: float
    density: float
    width: float
    height: float
    y: float
    z: float


class Timber(NamedTuple):
    """What lips and ribs are of: E [N/mm²], k_def, density [kg/m³], G [N/mm²]."""

    E: float
    k_def: float
    density: float
    G: float


@dataclass(frozen=True, slots=True)
class Section:
    """A shelf's section: EI at once, after years under what stays and under what comes and goes [N·mm²]; its mass [kg/m], height
    [mm]; stress in its board for a moment of 1 N·mm [N/mm²]; what it yields to shear, GA [N], infinite where that is nothing.
    """

    EI: float
    EI_stays: float
    EI_changes: float
    mass: float
    height: float
    per_moment: float
    GA: float = math.inf


def stiffness(layers: tuple[Layer, ...], creep: float = 0.0) -> tuple[float, float]:
    """EI against bending downwards [N·mm²] and the height of the neutral axis [mm]. creep : share of k_def that has come about.

    A strip on one edge only makes the section crooked: left free it also bends sideways, EI = EI_z − EI_zy²/EI_y. That is the
    stiffness of a shelf whose back edge nothing holds, and safe for one whose back is held.
    """
    parts = [(layer.E / (1 + creep * layer.k_def), layer) for layer in layers]
    whole = sum(E * one.width * one.height for E, one in parts)
    z0 = sum(E * one.width * one.height * (one.z + one.height / 2) for E, one in parts) / whole
    y0 = sum(E * one.width * one.height * (one.y + one.width / 2) for E, one in parts) / whole
    down = aside = mixed = 0.0
    for E, one in parts:
        area, dz, dy = E * one.width * one.height, one.z + one.height / 2 - z0, one.y + one.width / 2 - y0
        down += area * (one.height**2 / 12 + dz * dz)
        aside += area * (one.width**2 / 12 + dy * dy)
        mixed += area * dz * dy
    return down - mixed * mixed / aside, z0


@lru_cache(maxsize=512)
def section(  # noqa: PLR0913
    build: str, board: tuple[float, float, float], depth: float, thickness: float, lip: tuple[float, float],
    timber: Timber, psi_2: float, ribs: tuple[float, float, float] = (150.0, 18.0, 32.0),
) -> Section:  # fmt: skip
    """The section of a shelf.

    board : E, k_def, density of its boards · depth : of the whole shelf, with a lip · thickness : of one board · lip : height and
    thickness of the strip in front of its edge, tops flush (of a torsion box: height and thickness of its ribs; 0 = usual) ·
    ribs : usual pitch, thickness and height of a torsion box's ribs. ValueError for a build that is not known, or a lip that
    leaves no board.
    """
    layers, shear = _layers(build, board, depth, thickness, lip, timber, ribs)
    EI, axis = stiffness(layers)
    low, high = min(one.z for one in layers), max(one.z + one.height for one in layers)
    edges = [edge for one in layers if one[:3] == board for edge in (one.z, one.z + one.height)]
    farthest = max(abs(edge - axis) for edge in edges)
    return Section(
        EI, stiffness(layers, 1.0)[0], stiffness(layers, psi_2)[0],
        sum(one.width * one.height * one.density for one in layers) / 1e6, high - low, board[0] * farthest / EI, shear,
    )  # fmt: skip


def _layers(  # noqa: PLR0913
    build: str, board: tuple[float, float, float], depth: float, thickness: float, lip: tuple[float, float],
    timber: Timber, ribs: tuple[float, float, float],
) -> tuple[tuple[Layer, ...], float]:  # fmt: skip
    """The boards of a section, and what it yields to shear."""
    if build == "plain":
        return (Layer(*board, depth, thickness, 0.0, 0.0),), math.inf
    if build == "doubled":
        return (Layer(*board, depth, 2 * thickness, 0.0, 0.0),), math.inf
    if build == "lipped":
        high, wide = lip
        if not 0 < wide < depth or high <= 0:
            raise ValueError(f"a lip of {wide:g} × {high:g} mm leaves no shelf of {depth:g} mm")
        of = timber.E, timber.k_def, timber.density
        return (
            Layer(*board, depth - wide, thickness, wide, 0.0),
            Layer(*of, wide, high, 0.0, thickness - high),
        ), math.inf
    if build != "torsion_box":
        raise ValueError(f"a shelf is {', '.join(BUILDS)}, not {build!r}")
    pitch, wide, high = ribs[0], lip[1] or ribs[1], lip[0] or ribs[2]
    count = max(2, math.ceil((depth - wide) / pitch - 1e-9) + 1)
    core = Layer(timber.E, timber.k_def, timber.density, min(count * wide, depth), high, 0.0, thickness)
    core = core._replace(y=(depth - core.width) / 2)
    skins = tuple(Layer(*board, depth, thickness, 0.0, z) for z in (0.0, thickness + high))
    return (*skins, core), timber.G * core.width * high * 5 / 6
