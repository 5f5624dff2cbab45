"""The circuits of the wall: what each feeds, its current, its device, its cable and what that drops.

A design aid: to be checked, sized, installed and tested by the locally licensed electrician, who alone opens the board.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from wallwright.core.limit import Limits
from wallwright.core.why import Why
from wallwright.job.document import Job
from wallwright.library import load
from wallwright.services import cables, loads
from wallwright.services.board import MAINS
from wallwright.services.circuit_whys import circuit_whys, wall_whys
from wallwright.services.loads import Load
from wallwright.services.record import Circuit, PlacedDevice, ServicePoint
from wallwright.services.supply import Supply, air_factor, beside_factor, supply

if TYPE_CHECKING:
    from wallwright.light.record import LightRun
    from wallwright.sight.record import Screen

AV, LIGHTING = "Q1", "Q2"


@dataclass(frozen=True, slots=True)
class Asked:
    """A circuit that is asked for, before its cable is sized. rating : of its device [A] · current [A]"""

    ref: str
    name: str
    items: tuple[Load, ...]
    rating: float
    current: float

    @property
    def lighting(self) -> bool:
        """Whether it feeds lights alone."""
        return self.ref == LIGHTING


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
    out = [Load("screen", screen.watts, 1.0, screen.standby_watts, f"Screen, {screen.diagonal:g} in")]
    out += [Load(d.ref, d.watts, _factor(d.kind, limits), d.standby_watts, d.name) for d in devices]
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
    """What each strip's driver takes from the mains: the strip's own power, as laid, over the driver's efficiency; one that dims
    stays on the mains and draws a little asleep.
    """
    efficiency, asleep = limits.value("services.driver_efficiency"), limits.value("circuits.driver_standby")
    return tuple(
        Load(
            strip.ref, loads.driver_input(strip.watts, efficiency), 1.0,
            asleep * strip.drivers if strip.dimmable else 0.0, f"Driver of light {strip.ref}",
        )
        for strip in strips
    )  # fmt: skip


def plan_circuits(  # noqa: PLR0913
    job: Job, screen: Screen, devices: Sequence[PlacedDevice], points: Sequence[ServicePoint],
    strips: Sequence[LightRun], reach: Mapping[str, float], limits: Limits,
) -> tuple[tuple[Circuit, ...], tuple[Why, ...]]:  # fmt: skip
    """One socket circuit, one for the lights, and one for each large device. reach : cable to each circuit's far point [mm]."""
    power = supply(job, limits)
    asked = _asked(
        power, av_loads(screen, devices, points, limits), light_loads(strips, limits), devices, limits
    )
    made = tuple(_circuit(each, asked, power, reach.get(each.ref, 0.0), limits) for each in asked)
    whys = [why for circuit in made for why in circuit_whys(circuit, power, limits)]
    return made, (*whys, *wall_whys(made, hours(job, limits), limits))


def hours(job: Job, limits: Limits) -> float:
    """Hours a week that the wall is in use: those of the seat that is used most."""
    return max((seat.hours for seat in job.survey.seats), default=limits.value("circuits.weekly_hours"))


def _asked(
    power: Supply, av: Sequence[Load], lamps: Sequence[Load], devices: Sequence[PlacedDevice], limits: Limits
) -> tuple[Asked, ...]:
    """The circuits: the shared one, the lights', and one for each large load."""
    factor = limits.value("services.power_factor")

    def circuit(ref: str, name: str, items: tuple[Load, ...], rating: float) -> Asked:
        return Asked(ref, name, items, rating, loads.current(loads.diversified(items), power.volts, factor))

    shared, own = loads.split(av, limits.value("services.own_circuit_watts"))
    out = [circuit(AV, "Screen and devices", shared, power.sockets)]
    if lamps:
        out.append(circuit(LIGHTING, "Lights of the wall", tuple(lamps), power.lights))
    names = {d.ref: d.name for d in devices}
    rating = max(limits.value("services.own_circuit_rating"), power.sockets)
    out += [
        circuit(f"Q{3 + i}", f"{names.get(item.name, 'Screen')}, on its own", (item,), rating)
        for i, item in enumerate(own)
    ]
    return tuple(out)


def beside(one: Asked, asked: Sequence[Asked], limits: Limits) -> int:
    """How many loaded circuits lie side by side with this one, itself counted: those that draw little warm nothing."""
    share = limits.value("circuits.light_load")
    warm = sum(each.current > share * each.rating for each in asked if each is not one)
    return max(1 + warm, round(limits.value("services.grouped")))


def _circuit(one: Asked, asked: Sequence[Asked], power: Supply, far: float, limits: Limits) -> Circuit:
    """The circuit with its cable: the smallest that carries the device's rating where it lies, and keeps the drop."""
    most = power.drop_lights if one.lighting else power.drop_other
    least = power.least_lights if one.lighting else power.least_sockets
    group = beside(one, asked, limits)
    factors = air_factor(power.air, limits), beside_factor(group, limits)
    rows = [(size, cables.carries(base, *factors), drop) for size, base, drop in power.cables]
    length = limits.value("services.board_distance") + far
    allowed = most / 100.0 * power.volts
    size = cables.choose_size(one.rating, length / 1000.0, allowed, rows, least) or rows[-1][0]
    _, carried, drop = next(row for row in rows if row[0] == size)
    return Circuit(
        one.ref,
        one.name,
        loads.connected(one.items),
        loads.diversified(one.items),
        one.current,
        one.rating,
        size,
        length,
        100.0 * cables.drop_volts(drop, one.rating, length / 1000.0) / power.volts,
        len(one.items) * limits.value("services.leakage_item"),
        power.volts,
        loads.standby(one.items),
        items=one.items,
        method=power.method,
        air=power.air,
        beside=group,
        carries=carried,
        longest=1000.0 * cables.longest_run(allowed, drop, one.rating),
        drop_most=most,
        leak_most=power.leak_budget,
        rules=power.rules,
    )
