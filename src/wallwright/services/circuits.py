"""The circuits of the wall: what each feeds, its current, its device, its cable and what that drops.

A design aid: to be checked, sized, installed and tested by the locally licensed electrician, who alone opens the board.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from wallwright.core.limit import Limits
from wallwright.core.why import Given, Why
from wallwright.job.document import Job
from wallwright.library import load
from wallwright.services import cables, loads
from wallwright.services.board import MAINS
from wallwright.services.loads import Load
from wallwright.services.record import Circuit, PlacedDevice, ServicePoint

if TYPE_CHECKING:
    from wallwright.light.record import LightRun
    from wallwright.sight.record import Screen

AV, LIGHTING = "Q1", "Q2"
_CAUTION = "to be checked, sized, installed and tested by the locally licensed electrician"
_INSULATED = frozenset({"metal_stud", "timber_stud", "dot_and_dab", "unknown"})


@dataclass(frozen=True, slots=True)
class Supply:
    """The supply where the building stands: volts, the usual devices [A], the drop allowed [%], and its cables in order."""

    volts: float
    av: float
    lighting: float
    drop_av: float
    drop_lighting: float
    cables: tuple[tuple[float, float, float], ...]
    least_av: float
    least_lighting: float


def supply(job: Job, limits: Limits) -> Supply:
    """By the electrical rule set of the place; the cable's rating by the wall it lies in."""
    v = limits.value
    library = load.cables()
    if job.survey.place.rules == "US":
        rows = tuple((c.size, c.rating, c.drop) for k, c in library.items() if k.startswith("awg"))
        return Supply(
            v("services.us_voltage"), v("services.us_av_rating"), v("services.us_lighting_rating"),
            v("services.us_drop"), v("services.us_drop"), rows, 0.0, 0.0,
        )  # fmt: skip
    method = cables.RATINGS["A2" if job.survey.wall.substrate in _INSULATED else "B2"]
    rows = tuple((c.size, method[c.size], c.drop) for k, c in library.items() if k.startswith("twin"))
    return Supply(
        v("services.voltage"), v("services.av_rating"), v("services.lighting_rating"), v("services.drop_other"),
        v("services.drop_lighting"), rows, v("services.cable_min_sockets"), v("services.cable_min_lighting"),
    )  # fmt: skip


def assign(points: Sequence[ServicePoint], devices: Sequence[PlacedDevice], limits: Limits) -> dict[str, str]:
    """The circuit of each mains point: light feeds on the lighting circuit, large devices on their own, the rest together."""
    large = {d.ref: f"Q{3 + i}" for i, d in enumerate(_large(devices, limits))}
    out: dict[str, str] = {}
    for point in points:
        if point.kind == "led_feed":
            out[point.ref] = LIGHTING
        elif point.kind == "switched_spur" and any(ref in large for ref in point.serves):
            free = [large[ref] for ref in point.serves if ref in large and large[ref] not in out.values()]
            out[point.ref] = free[0] if free else next(large[ref] for ref in point.serves if ref in large)
        elif point.kind in MAINS:
            out[point.ref] = AV
    return out


def _large(devices: Sequence[PlacedDevice], limits: Limits) -> list[PlacedDevice]:
    return [d for d in devices if d.watts >= limits.value("services.own_circuit_watts")]


def av_loads(
    screen: Screen, devices: Sequence[PlacedDevice], points: Sequence[ServicePoint], limits: Limits
) -> tuple[Load, ...]:
    """The screen, the devices and the outlets to spare."""
    out = [Load("screen", screen.watts, 1.0, screen.standby_watts)]
    out += [Load(d.ref, d.watts, _factor(d.kind, limits), d.standby_watts) for d in devices]
    outlets = sum({"twin_socket": 2, "socket": 1}.get(p.kind, 0) for p in points)
    library = load.devices()
    large = {d.ref for d in _large(devices, limits)}
    used = 1 + sum(library[d.kind].sockets for d in devices if d.ref not in large)
    spare, watts = limits.value("services.diversity_spare"), limits.value("services.spare_outlet_watts")
    out += [Load(f"spare outlet {n + 1}", watts, spare) for n in range(max(0, outlets - used))]
    return tuple(out)


def _factor(kind: str, limits: Limits) -> float:
    name = f"services.diversity_{kind}"
    return limits.value(name) if name in limits else 1.0


def light_loads(strips: Sequence[LightRun], limits: Limits) -> tuple[Load, ...]:
    """What each strip's driver takes from the mains: the strip's own power, as laid, over the driver's efficiency."""
    efficiency = limits.value("services.driver_efficiency")
    return tuple(Load(strip.ref, loads.driver_input(strip.watts, efficiency)) for strip in strips)


def plan_circuits(  # noqa: PLR0913
    job: Job, screen: Screen, devices: Sequence[PlacedDevice], points: Sequence[ServicePoint],
    strips: Sequence[LightRun], reach: Mapping[str, float], limits: Limits,
) -> tuple[tuple[Circuit, ...], tuple[Why, ...]]:  # fmt: skip
    """One socket circuit, one for the lights, and one for each large device. reach : cable to each circuit's far point [mm]."""
    power = supply(job, limits)
    shared, own = loads.split(
        av_loads(screen, devices, points, limits), limits.value("services.own_circuit_watts")
    )
    made = [_circuit(AV, "Screen and devices", shared, power.av, power, reach, limits, False)]
    lamps = light_loads(strips, limits)
    if lamps:
        made.append(
            _circuit(LIGHTING, "Lights of the wall", lamps, power.lighting, power, reach, limits, True)
        )
    names = {d.ref: d.name for d in devices}
    for index, item in enumerate(own):
        rating = max(limits.value("services.own_circuit_rating"), power.av)
        name = names.get(item.name, "Screen")
        made.append(
            _circuit(f"Q{3 + index}", f"{name}, on its own", (item,), rating, power, reach, limits, False)
        )
    return tuple(c for c, _ in made), tuple(w for _, whys in made for w in whys)


def _circuit(  # noqa: PLR0913
    ref: str, name: str, items: Sequence[Load], rating: float, power: Supply, reach: Mapping[str, float], limits: Limits,
    lighting: bool,
) -> tuple[Circuit, tuple[Why, ...]]:  # fmt: skip
    v = limits.value
    allowed = power.drop_lighting if lighting else power.drop_av
    least = power.least_lighting if lighting else power.least_av
    length = v("services.board_distance") + reach.get(ref, 0.0)
    metres, volts = length / 1000.0, allowed / 100.0 * power.volts
    ambient, grouped = v("services.ambient"), round(v("services.grouped"))
    size = (
        cables.choose_size(rating, metres, volts, power.cables, ambient, grouped, least)
        or power.cables[-1][0]
    )
    _, base, drop = next(row for row in power.cables if row[0] == size)
    total, likely = loads.connected(items), loads.diversified(items)
    amps = loads.current(likely, power.volts, v("services.power_factor"))
    fallen = cables.drop_volts(drop, rating, metres)
    per_cent = 100.0 * fallen / power.volts
    leakage = len(items) * v("services.leakage_item")
    made = Circuit(
        ref,
        name,
        total,
        likely,
        amps,
        rating,
        size,
        length,
        per_cent,
        leakage,
        power.volts,
        loads.standby(items),
    )
    carried = cables.carries(base, ambient, grouped)
    budget = loads.leakage_budget(v("services.rcd_trip"), v("services.rcd_leakage_share"))
    whys = (
        Why(
            f"circuit {ref}.current", amps, "A", f"what {name.lower()} draws together; {_CAUTION}",
            "diversified load / (volts × power factor)",
            (Given("connected", total, "W"), Given("diversified", likely, "W"), Given("volts", power.volts, "V"),
             Given("power factor", v("services.power_factor")), *(Given(x.name, x.watts * x.factor, "W") for x in items)),
            "common practice", "common practice",
        ),
        Why(
            f"circuit {ref}.cable", size, "mm²", f"the smallest that carries the device's rating where it lies; {_CAUTION}",
            "rating of the cable × factors ≥ rating of the device, and the drop within its limit",
            (Given("device", rating, "A"), Given("cable carries", carried, "A"), Given("air", ambient, "°C"),
             Given("circuits side by side", grouped), Given("length", metres, "m"), Given("smallest allowed", least, "mm²")),
            "IEC 60364-5-52:2009 table B.52.2", "published",
        ),
        Why(
            f"circuit {ref}.drop", per_cent, "%", f"drop from the board to the furthest point at the device's rating; {_CAUTION}",
            "mV/A/m × A × m / 1000, over the supply's volts",
            (Given("mV/A/m", drop), Given("A", rating), Given("m", metres), Given("V", fallen), Given("limit", allowed, "%")),
            "BS 7671 appendix 4; IEC 60364-5-52:2009 table G.52.1", "published",
        ),
        Why(
            f"circuit {ref}.leakage", leakage, "mA", "standing leakage of its items against the share of the RCD",
            "items × leakage of one",
            (Given("items", len(items)), Given("each", v("services.leakage_item"), "mA"), Given("budget", budget, "mA")),
            "BS 7671:2018 531.3.2", "published",
        ),
    )  # fmt: skip
    return made, whys
