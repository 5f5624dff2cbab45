"""Flutes set out in whole numbers: a whole rib at each end, joints in grooves.

A field of n pitches is n·pitch + rib wide: n grooves and n + 1 ribs. Common practice.
"""

from __future__ import annotations

import math


def flutes_within(width: float, pitch: float, rib: float) -> int:
    """The most whole pitches in a field at most `width` wide [mm] with a rib at each end; 0 where not one goes in."""
    return max(0, math.floor((width - rib) / pitch + 1e-9))


def field_width(flutes: int, pitch: float, rib: float) -> float:
    """The width of a field of so many pitches [mm]: n·pitch + rib."""
    return flutes * pitch + rib


def pitch_for(width: float, near: float, rib_share: float) -> tuple[int, float]:
    """The number of flutes and the exact pitch [mm] that close on a given width, as near as can be to a wanted pitch.

    width = (n + rib_share)·pitch, so pitch = width / (n + rib_share).
    """
    flutes = max(1, round(width / near - rib_share))
    return flutes, width / (flutes + rib_share)


def groove_middle(k: int, pitch: float, rib: float) -> float:
    """The middle of the k-th groove (from 0) from the field's left edge [mm]."""
    return k * pitch + rib + (pitch - rib) / 2


def nearest_groove(at: float, flutes: int, pitch: float, rib: float) -> float:
    """The middle of the groove nearest to `at` from the field's left edge [mm]; exact ties go left."""
    k = math.ceil((at - rib - (pitch - rib) / 2) / pitch - 0.5 - 1e-9)
    return groove_middle(min(max(k, 0), max(flutes - 1, 0)), pitch, rib)


def rest(width: float, flutes: int, pitch: float, rib: float) -> float:
    """What a pinned width leaves over beyond whole flutes [mm]: 0 where the field closes."""
    return width - field_width(flutes, pitch, rib)


def on_middle(flutes: int) -> str:
    """What stands on the middle of a field that begins and ends with a rib: a groove where the number is odd, else a rib."""
    return "groove" if flutes % 2 else "rib"


def marks(flutes: int, pitch: float, start: float = 0.0) -> tuple[float, ...]:
    """Running marks of each rib's left edge from one datum [mm], to whole tenths: the error never adds up from flute to flute."""
    return tuple(round(start + k * pitch, 1) for k in range(flutes + 1))


def machine_error(flutes: int, pitch: float, step: float) -> float:
    """How far the last flute would stray were the pitch rounded to the machine's step and stepped off flute by flute [mm]."""
    return abs(flutes * (round(pitch / step) * step - pitch))


def patch(left: float, right: float, flutes: int, pitch: float, rib: float) -> tuple[float, float]:
    """The flat patch (left, right) left unfluted round a box, from the field's left edge [mm].

    A plate must lie flat; the patch begins with a whole rib and ends with one, so that no half groove stands beside it.
    """
    first = math.floor(max(left, 0.0) / pitch + 1e-9)
    last = math.ceil(max(right - rib, 0.0) / pitch - 1e-9)
    return first * pitch, min(last, flutes) * pitch + rib
