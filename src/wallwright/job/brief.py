"""The brief: who the wall is for, what it must hold, and what it may cost."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from wallwright.job.fields import (
    STRICT,
    Clear,
    Count,
    NotNegative,
    Number,
    Offset,
    Positive,
    Ref,
    Share,
    Size,
    Watts,
    Words,
)


@dataclass(frozen=True, slots=True)
class Person:
    """Someone of the household."""

    __pydantic_config__ = STRICT
    ref: Ref
    stature: Size | None = None
    """Standing height; gives the eye height when sitting."""
    age: NotNegative | None = None
    """Years; children under 6 switch the climbing rules on."""
    wheelchair: bool = False
    acuity: Positive | None = None
    """Sharpness of sight with glasses, decimal: 1 = 6/6 = 20/20, 0.3 = 6/20 = 20/67; absent = 1."""


@dataclass(frozen=True, slots=True)
class Device:
    """A box that plays, switches or connects."""

    __pydantic_config__ = STRICT
    ref: Ref
    kind: Ref
    """A kind of the device library (set_top_box, games_console, soundbar, router...)."""
    place: Literal["auto", "screen", "cabinet", "on_console", "tower", "wall"] = "auto"
    """wall = let into an opening of its own, as a heater must be."""
    watts: Watts | None = None
    """Running power; absent = the library's typical value."""
    width: Size | None = None
    depth: Size | None = None
    height: Size | None = None
    control: Literal["ir", "radio", "wired"] | None = None
    x: Offset | None = None
    """Left edge of the opening of what is let into the wall; absent = its middle under the screen's."""
    z: Clear | None = None
    """Lower edge of that opening above FFL; absent = over what stands below the screen."""
    clear_side: Size | None = None
    """What its maker keeps free on each side; absent = the house rule."""
    clear_above: Size | None = None
    """What its maker keeps free above it, to a shelf or a screen; absent = the house rule."""


@dataclass(frozen=True, slots=True)
class Thing:
    """Household things to keep, by count."""

    __pydantic_config__ = STRICT
    kind: Ref
    """A kind of the things library (paperback, board_game, toy_bin...), or one of your own with all its sizes and its mass."""
    count: Count
    low: bool = False
    """Must be within a child's reach."""
    name: Words | None = None
    """What it is called; absent = the library's name."""
    width: Size | None = None
    """What one takes along the shelf; absent = the library's."""
    depth: Size | None = None
    height: Size | None = None
    mass: Positive | None = None
    """kg of one."""
    use: Literal["daily", "weekly", "monthly", "seldom"] | None = None
    """How often it is taken out; absent = the library's."""
    care: Literal["none", "toy", "fragile", "dangerous"] | None = None
    """A toy, or what small children must not reach; absent = the library's."""


KEPT_WORDS = ("wall", "fronts", "panels", "boards", "lights", "mount", "screen")
"""What may be kept from swaps besides the refs of units, panels and lights."""


@dataclass(frozen=True, slots=True)
class Budget:
    """What may be spent."""

    __pydantic_config__ = STRICT
    amount: Positive
    """All-in, in the job's currency."""
    reserve: Share | None = None
    """Share kept back for surprises; absent = by the age of the flat."""
    keep: tuple[Ref, ...] = ()
    """What a search for savings must leave as it is: refs, or wall, fronts, panels, boards, lights, mount."""


@dataclass(frozen=True, slots=True)
class Brief:
    """What is wanted."""

    __pydantic_config__ = STRICT
    people: tuple[Person, ...] = ()
    devices: tuple[Device, ...] = ()
    things: tuple[Thing, ...] = ()
    storage: Literal["little", "moderate", "much"] | None = None
    budget: Budget | None = None
    tenure: Literal["own", "rent"] = "own"
    style: tuple[Words, ...] = ()
    """Style words in the client's own language."""
    opposite_wall: Literal["plain", "some", "heavy"] = "plain"
    """How much the wall behind the seats asks to be looked at: only one of the two may lead."""
    night_viewing: Share = 0.5
    """Share of the hours watched after dark."""
    floor_cleaning: Literal["mop", "robot", "none"] = "mop"
    robot_height: Number | None = None
    """Height of the cleaning robot [mm]."""
