"""Why a number is what it is: its inputs, the formula, the source and how sure that is."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from wallwright.core.later import Later as Later
from wallwright.core.limit import Certainty


@dataclass(frozen=True, slots=True)
class Given:
    """One input of a computed value."""

    name: str
    value: float | str
    unit: str = ""


@dataclass(frozen=True, slots=True)
class Why:
    """The working behind one value.

    name : dotted, as shown (`screen.centre_height`) · value and unit : the answer · says : the reason in one sentence ·
    formula : as a person would write it, or "" · inputs : what went in · source and certainty : where the rule comes from:
    there is no default, for a wrong source is worse than none · pinned : the designer decided it
    """

    name: str
    value: float | str
    unit: str
    says: str
    formula: str
    inputs: tuple[Given, ...]
    source: str
    certainty: Certainty
    pinned: bool = False


Whys = Sequence[Why]
"""Working of several values: written out, or later."""
