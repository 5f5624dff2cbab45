"""The fittings of the library: hinges, runners, stays, feet and handles by kind, what each carries and where it is bored."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, fields
from functools import cache
from importlib.resources import files
from types import MappingProxyType
from typing import Any

from wallwright.core.limit import Certainty

Spot = tuple[float, float, float, float]
"""A hole of a pattern: along, across, diameter, depth [mm]; 0 deep is through."""


@dataclass(frozen=True, slots=True)
class Fitting:
    """A fitting one can buy. carries : in `unit` (kg, or N·m for a pair of stays), 0 where that is not its measure · length [mm],
    0 where it is cut or comes in several · least, most : of what it is chosen by: overlay, length, torque or load · proud : how far
    it stands in front of a front [mm] · pattern : its holes on the board it is fixed to
    """

    key: str
    kind: str
    name: str
    carries: float
    unit: str
    length: float
    least: float
    most: float
    proud: float
    pattern: tuple[Spot, ...]
    source: str
    certainty: Certainty


NUMBERS = ("carries", "length", "least", "most", "proud")


def _row(key: str, table: Mapping[str, Any]) -> Fitting:
    wanted = {item.name for item in fields(Fitting)} - {"key"}
    if set(table) != wanted:
        raise ValueError(
            f"fittings.toml [{key}]: unknown {sorted(set(table) - wanted) or 'none'}, missing {sorted(wanted - set(table)) or 'none'}"
        )
    spots = tuple((float(a), float(b), float(c), float(d)) for a, b, c, d in table["pattern"])
    values: dict[str, Any] = {**table, **{name: float(table[name]) for name in NUMBERS}, "pattern": spots}
    return Fitting(key=key, **values)


@cache
def fittings() -> Mapping[str, Fitting]:
    """All fittings by key, in the order of the file: of one kind, the lighter first."""
    text = files("wallwright.library").joinpath("fittings.toml").read_text("utf-8")
    return MappingProxyType({key: _row(key, table) for key, table in tomllib.loads(text).items()})


@cache
def of_kind(kind: str) -> tuple[Fitting, ...]:
    """The fittings of a kind. KeyError where there is none."""
    found = tuple(item for item in fittings().values() if item.kind == kind)
    if not found:
        raise KeyError(
            f"no fitting of kind {kind!r}; there are {', '.join(sorted({item.kind for item in fittings().values()}))}"
        )
    return found
