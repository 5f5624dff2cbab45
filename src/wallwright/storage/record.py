"""What the storage stage hands on: the demand, the room there is, what goes where and what does not fit."""

from __future__ import annotations

from dataclasses import dataclass

from wallwright.core.why import Why


@dataclass(frozen=True, slots=True)
class Demand:
    """A kind of thing to keep: count, shelf run [mm] with slack, mass [kg], and the depth and clear height it needs."""

    kind: str
    name: str
    count: int
    run: float
    mass: float
    depth: float
    height: float
    low: bool


@dataclass(frozen=True, slots=True)
class Allotted:
    """So many of a kind in a bay."""

    kind: str
    bay: str
    count: int


@dataclass(frozen=True, slots=True)
class Storage:
    """All of it. capacity and needed : shelf run [mm]; leftovers : (kind, count) that found no place."""

    demands: tuple[Demand, ...]
    allotted: tuple[Allotted, ...]
    leftovers: tuple[tuple[str, int], ...]
    capacity: float
    needed: float
    storage_class: str
    whys: tuple[Why, ...]
