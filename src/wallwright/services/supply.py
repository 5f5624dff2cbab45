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
_AIR_STEPS, _BESIDE_STEPS = (25, 30, 35, 40, 45, 50), (1, 2, 3, 4, 5, 6, 7, 8, 9, 20)


@dataclass(frozen=True, slots=True)
class Supply:
    """The supply: volts, the usual devices [A], the drop allowed [%], least sizes [mm²], the air round the cable [°C], the
    residual-current device [mA] (0: none asked for) and the share of it that may leak.

    own : the least device of an appliance on its own · outlet : the most that goes through a plug [A] · long_share : of a device,
    what may be drawn for hours · devices : the sizes they are made in [A] · marks : each size of cable as it is marked ·
    fused : the most a size is fused at, whatever its insulation bears · rules : the rule set's key · method : how the cables lie, as
    the table of ratings calls it; "" where the breaker rates them · cables : (size mm², what it carries A by that method, mV/A/m)
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
    own: float
    outlet: float
    long_share: float
    devices: tuple[float, ...]
    marks: tuple[tuple[float, str], ...]
    fused: tuple[tuple[float, float], ...]

    @property
    def leak_budget(self) -> float:
        """What may leak all the time on one residual-current device [mA]."""
        return self.trip * self.leak_share

    def device_for(self, amps: float) -> float:
        """The device of an appliance on its own [A]: the next size made that lets it through for hours, the largest where none does."""
        least = max(self.own, amps / self.long_share)
        return next((size for size in self.devices if size >= least - 1e-9), max(self.own, self.devices[-1]))

    def kind(self, rating: float) -> str:
        """As what a circuit counts: light (sockets on so small a device too) or power."""
        return "light" if rating <= self.lights else "power"


def supply(job: Job, limits: Limits) -> Supply:
    """By the rule set of the place; the cable's rating by the wall it lies in."""
    rules = load.electrical()[job.survey.place.rules.lower()]

    def v(name: str) -> float:
        return limits.value(f"circuits.{rules.key}_{name}")

    method = "" if rules.cables == "awg" else method_of(job, rules.cables == "single")
    known = {key: c for key, c in load.cables().items() if key.startswith(rules.cables)}
    rows = tuple(
        (c.size, limits.value(f"circuits.{f'carries_{method.lower()}' if method else 'us_carries'}_{_key(c.size)}"), c.drop)
        for c in known.values()
    )  # fmt: skip
    hot = limits.value("circuits.none_air") if job.survey.place.hot_humid else v("air")
    return Supply(
        rules.key, v("volts"), v("sockets"), v("lights"), v("drop_lights"), v("drop_other"), v("least_sockets"),
        v("least_lights"), max(v("air"), hot), v("trip"), v("leak_share"), method, rows,
        v("own"), v("outlet"), v("long_share"), rules.devices, tuple((c.size, _mark(key, c.size)) for key, c in known.items()),
        () if method else tuple((c.size, c.rating) for c in known.values()),
    )  # fmt: skip


def method_of(job: Job, singles: bool = False) -> str:
    """How the cables lie: in conduit in an insulated wall (A), or in conduit or trunking on or in masonry (B); 1 single cores, 2 a
    cable. An unknown wall is taken as the worse of them.
    """
    return ("A" if job.survey.wall.substrate in _INSULATED else "B") + ("1" if singles else "2")


def air_factor(celsius: float, limits: Limits, rules: str = "") -> float:
    """The factor for the air round the cable (of `rules`, where it has a table of its own). ValueError beyond 50 °C."""
    own = f"{rules}_" if f"circuits.{rules}_air_30" in limits else ""
    return cables.ambient_factor(
        celsius, {step: limits.value(f"circuits.{own}air_{step}") for step in _AIR_STEPS}
    )


def beside_factor(circuits: int, limits: Limits, rules: str = "") -> float:
    """The factor for so many loaded circuits side by side: that of the next step of the table (of `rules`, where it has one).
    ValueError beyond its last.
    """
    own = f"{rules}_" if f"circuits.{rules}_beside_1" in limits else ""
    step = next((n for n in _BESIDE_STEPS if n >= circuits), circuits)
    return cables.grouped_factor(step, {n: limits.value(f"circuits.{own}beside_{n}") for n in _BESIDE_STEPS})


def _mark(key: str, size: float) -> str:
    """A cable's size as it is marked: by wire gauge where the library sorts it so, else in mm²."""
    return f"{key.removeprefix('awg')} AWG" if key.startswith("awg") else f"{size:g} mm²"


def _key(size: float) -> str:
    return f"{size:g}".replace(".", "_")
