"""The supply where the building stands, by the electrical rule set of the place, and what a cable may carry where it lies.

A rule set's figures are limits named `circuits.<key>_…` (library/electrical): a user's own go before them. A design aid: to be
checked, sized, installed and tested by the locally licensed electrician, to the edition in force there.
"""

from __future__ import annotations

from dataclasses import dataclass

from wallwright.core.limit import Limits
from wallwright.job.document import Job
from wallwright.library import load
from wallwright.services import cables

_INSULATED = frozenset({"metal_stud", "timber_stud", "dot_and_dab", "unknown"})
_AIR_STEPS, _MOST_BESIDE = (25, 30, 35, 40, 45, 50), 5


@dataclass(frozen=True, slots=True)
class Supply:
    """The supply: volts, the usual devices [A], the drop allowed [%], least sizes [mm²], the air round the cable [°C], the
    residual-current device [mA] (0: none asked for) and the share of it that may leak.

    rules : the rule set's key · method : how the cables lie, as the table of ratings calls it; "" where the breaker rates them ·
    cables : (size mm², what it carries A by that method, mV/A/m)
    """

    rules: str
    volts: float
    sockets: float
    lights: float
    drop_lights: float
    drop_other: float
    least_sockets: float
    least_lights: float
    air: float
    trip: float
    leak_share: float
    method: str
    cables: tuple[tuple[float, float, float], ...]

    @property
    def leak_budget(self) -> float:
        """What may leak all the time on one residual-current device [mA]."""
        return self.trip * self.leak_share


def supply(job: Job, limits: Limits) -> Supply:
    """By the rule set of the place; the cable's rating by the wall it lies in."""
    rules = load.electrical()[job.survey.place.rules.lower()]

    def v(name: str) -> float:
        return limits.value(f"circuits.{rules.key}_{name}")

    method = "" if rules.cables == "awg" else method_of(job)
    rows = tuple(
        (c.size, limits.value(f"circuits.carries_{method.lower()}_{_key(c.size)}") if method else c.rating, c.drop)
        for key, c in load.cables().items()
        if key.startswith(rules.cables)
    )  # fmt: skip
    hot = limits.value("circuits.none_air") if job.survey.place.hot_humid else v("air")
    return Supply(
        rules.key, v("volts"), v("sockets"), v("lights"), v("drop_lights"), v("drop_other"), v("least_sockets"),
        v("least_lights"), max(v("air"), hot), v("trip"), v("leak_share"), method, rows,
    )  # fmt: skip


def method_of(job: Job) -> str:
    """How the cables lie: in conduit in an insulated wall (A2), or in conduit or trunking on or in masonry (B2). An unknown wall
    is taken as the worse of them.
    """
    return "A2" if job.survey.wall.substrate in _INSULATED else "B2"


def air_factor(celsius: float, limits: Limits) -> float:
    """The factor for the air round the cable. ValueError beyond 50 °C."""
    return cables.ambient_factor(celsius, {step: limits.value(f"circuits.air_{step}") for step in _AIR_STEPS})


def beside_factor(circuits: int, limits: Limits) -> float:
    """The factor for so many loaded circuits side by side; the last of the table where there are more."""
    steps = {n: limits.value(f"circuits.beside_{n}") for n in range(1, _MOST_BESIDE + 1)}
    return cables.grouped_factor(min(circuits, _MOST_BESIDE), steps)


def _key(size: float) -> str:
    return f"{size:g}".replace(".", "_")
