"""The circuits of the wall: what each feeds, its current, its device, its cable and what that drops.

A design aid: to be checked, sized, installed and tested by the locally licensed electrician, who alone opens the board.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from wallwright.core.limit import Limits
from wallwright.core.why import Later, Why, Whys
from wallwright.job.document import Job
from wallwright.library import load
from wallwright.services import cables, loads
from wallwright.services.board import MAINS, OUTLETS
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
    """A circuit that is asked for, before its cable is sized. rating : of its device [A] · current : after diversity, and
    at_once : without it [A]
    """

    ref: str
    name: str
    items: tuple[Load, ...]
    rating: float
    current: float
    at_once: float = 0.0

    @property
    def lighting(self) -> bool:
        """Whether it feeds lights alone."""
        return self.ref == LIGHTING


def assign(  # noqa: PLR0913
    job: Job, screen: Screen, devices: Sequence[PlacedDevice], points: Sequence[ServicePoint], limits: Limits
) -> dict[str, str]:  # fmt: skip
    """The circuit of each mains point: light feeds on the lighting circuit, large devices on their own, the rest together: on as
    many circuits as the rule set and the device ask for.
    """
    large = {d.ref: f"Q{3 + i}" for i, d in enumerate(_large(devices, limits))}
    out: dict[str, str] = {}
    for point in points:
        if point.kind == "led_feed":
            out[point.ref] = LIGHTING
        elif point.kind == "switched_spur" and any(ref in large for ref in point.serves):
            free = [large[ref] for ref in point.serves if ref in large and large[ref] not in out.values()]
            out[point.ref] = free[0] if free else next(large[ref] for ref in point.serves if ref in large)
    shared = [p for p in points if p.kind in MAINS and p.ref not in out]
    for n, batch in enumerate(_batches(supply(job, limits), screen, devices, shared, limits)):
        out |= dict.fromkeys((p.ref for p in batch), AV if n == 0 else f"Q{2 + len(large) + n}")
    return out


def most_points(power: Supply, rating: float, limits: Limits) -> float:
    """How many outlets the rule set lets a circuit of that device feed; without end where it says nothing."""
    name = f"circuits.{power.rules}_{power.kind(rating)}_points"
    return limits.value(name) if name in limits else float("inf")


def most_watts(power: Supply, rating: float, limits: Limits) -> float:
    """What a circuit of that device may feed [W]: by the rule set, and by what the device lets through for hours."""
    name = f"circuits.{power.rules}_{power.kind(rating)}_watts"
    passes = rating * power.long_share * power.volts * limits.value("services.power_factor")
    return min(passes, limits.value(name)) if name in limits else passes


def _batches(
    power: Supply, screen: Screen, devices: Sequence[PlacedDevice], points: Sequence[ServicePoint], limits: Limits
) -> list[list[ServicePoint]]:  # fmt: skip
    """The points that share, filled into circuits one after another as far as outlets and load allow. A point is never divided:
    one that is too much alone stays so, and the rules say it.
    """
    outlets, watts = most_points(power, power.sockets, limits), most_watts(power, power.sockets, limits)
    out: list[list[ServicePoint]] = []
    for point in points:
        if out:
            tried = [*out[-1], point]
            asks = loads.diversified(av_loads(screen, devices, points, limits, tried))
            if sum(OUTLETS.get(p.kind, 0) for p in tried) <= outlets and asks <= watts:
                out[-1] = tried
                continue
        out.append([point])
    return out


def _large(devices: Sequence[PlacedDevice], limits: Limits) -> list[PlacedDevice]:
    return [d for d in devices if d.watts >= limits.value("services.own_circuit_watts")]


def av_loads(
    screen: Screen, devices: Sequence[PlacedDevice], points: Sequence[ServicePoint], limits: Limits,
    on: Sequence[ServicePoint] | None = None,
) -> tuple[Load, ...]:  # fmt: skip
    """The screen, the devices and the outlets to spare: all, or those plugged in `on` some of the points."""
    out = [Load("screen", screen.watts, 1.0, screen.standby_watts, f"Screen, {screen.diagonal:g} in")]
    out += [Load(d.ref, d.watts, _factor(d.kind, limits), d.standby_watts, d.name) for d in devices]
    library = load.devices()
    large = {d.ref for d in _large(devices, limits)}
    plugs = {"screen": 1} | {d.ref: library[d.kind].sockets for d in devices if d.ref not in large}
    if on is not None:
        home, refs = _homes(plugs, points), {p.ref for p in on}
        out = [item for item in out if home.get(item.name) in refs]
    outlets = sum(_PLUGGED.get(p.kind, 0) for p in (points if on is None else on))
    used = sum(plugs.get(item.name, 0) for item in out)
    spare, watts = limits.value("services.diversity_spare"), limits.value("services.spare_outlet_watts")
    out += [Load(f"spare outlet {n + 1}", watts, spare) for n in range(max(0, outlets - used))]
    return tuple(out)


_PLUGGED = {"twin_socket": 2, "socket": 1}


def _homes(plugs: Mapping[str, int], points: Sequence[ServicePoint]) -> dict[str, str]:
    """The point that each is plugged in: the first that serves it and has outlets left, else the first that serves it, else the
    first of all.
    """
    left = {p.ref: _PLUGGED.get(p.kind, 0) for p in points}
    out: dict[str, str] = {}
    for name, need in plugs.items():
        serving = [p.ref for p in points if name in p.serves and p.kind in OUTLETS] or [p.ref for p in points]
        if serving:
            out[name] = next((ref for ref in serving if left[ref] >= need), serving[0])
            left[out[name]] -= need
    return out


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
) -> tuple[tuple[Circuit, ...], Whys]:  # fmt: skip
    """One socket circuit, one for the lights, and one for each large device. reach : cable to each circuit's far point [mm]."""
    power = supply(job, limits)
    asked = _asked(power, screen, devices, points, light_loads(strips, limits), limits)
    quiet = _quiet(asked, power, limits)
    board = job.survey.board_distance
    made = tuple(
        replace(
            _circuit(each, beside(each, asked, quiet, limits), power, (_board(job, limits), reach.get(each.ref, 0.0)), limits),
            left_out=tuple(sorted(quiet - {each.ref})),
            board_assumed=board is None,
            points=sum(_COUNTED.get(p.kind, 0) for p in points if p.circuit == each.ref),
        )
        for each in asked
    )  # fmt: skip

    def whys() -> Iterator[Why]:
        for circuit in made:
            yield from circuit_whys(circuit, power, limits)
        yield from wall_whys(made, hours(job, limits), limits)

    return made, Later(whys)


_COUNTED = {**OUTLETS, "led_feed": 1}


def _board(job: Job, limits: Limits) -> float:
    """Cable from the distribution board to this wall [mm], as surveyed, else assumed."""
    given = job.survey.board_distance
    return given.mm if given is not None else limits.value("services.board_distance")


def hours(job: Job, limits: Limits) -> float:
    """Hours a week that the wall is in use: those of the seat that is used most."""
    return max((seat.hours for seat in job.survey.seats), default=limits.value("circuits.weekly_hours"))


def _asked(  # noqa: PLR0913
    power: Supply, screen: Screen, devices: Sequence[PlacedDevice], points: Sequence[ServicePoint],
    lamps: Sequence[Load], limits: Limits,
) -> tuple[Asked, ...]:  # fmt: skip
    """The circuits: those shared, the lights', and one for each large load."""
    factor = limits.value("services.power_factor")

    def circuit(ref: str, name: str, items: tuple[Load, ...], rating: float = 0.0) -> Asked:
        amps = loads.current(loads.diversified(items), power.volts, factor)
        at_once = loads.current(loads.connected(items), power.volts, factor)
        return Asked(ref, name, items, rating or power.device_for(amps), amps, at_once)

    most = limits.value("services.own_circuit_watts")
    own = loads.split(av_loads(screen, devices, points, limits), most)[1]
    taken = {LIGHTING, *(f"Q{3 + i}" for i in range(len(own)))}
    shared = [p for p in points if p.kind in MAINS and p.circuit not in taken]
    first, *more = dict.fromkeys((AV, *(p.circuit for p in shared)))
    parts = {ref: tuple(p for p in shared if p.circuit == ref) for ref in (first, *more)}
    items = {ref: av_loads(screen, devices, shared, limits, parts[ref] if more else None) for ref in parts}
    small = {ref: loads.split(held, most)[0] for ref, held in items.items()}
    out = [circuit(first, "Screen and devices", small[first], power.sockets)]
    if lamps:
        out.append(circuit(LIGHTING, "Lights of the wall", tuple(lamps), power.lights))
    names = {d.ref: d.name for d in devices}
    out += [
        circuit(f"Q{3 + i}", f"{names.get(item.name, 'Screen')}, on its own", (item,))
        for i, item in enumerate(own)
    ]
    out += [circuit(ref, "More devices", small[ref], power.sockets) for ref in more]
    return tuple(out)


def beside(one: Asked, asked: Sequence[Asked], quiet: Iterable[str], limits: Limits) -> int:
    """How many loaded circuits lie side by side with this one, itself counted: all of them but those that warm nothing. What a
    socket will feed nobody knows: its circuit counts at its device, whatever is plugged in today.
    """
    warm = sum(each.ref not in quiet for each in asked if each is not one)
    return max(1 + warm, round(limits.value("services.grouped")))


def _quiet(asked: Sequence[Asked], power: Supply, limits: Limits) -> frozenset[str]:
    """Circuits that may be left out of the group: fixed, known loads that, all at once, are a small share of what their cable
    carries in the whole group.
    """
    share = limits.value("circuits.light_load")
    return frozenset(
        each.ref
        for each in asked
        if each.lighting
        and each.at_once <= share * _circuit(each, len(asked), power, (0.0, 0.0), limits).carries
    )


def _circuit(
    one: Asked, group: int, power: Supply, way: tuple[float, float], limits: Limits
) -> Circuit:  # fmt: skip
    """The circuit with its cable: the smallest that carries the device's rating where it lies, and keeps the drop at the most
    that may be drawn for hours. way : from the board to the wall, and on to the far point [mm]
    """
    most = power.drop_lights if one.lighting else power.drop_other
    least = power.least_lights if one.lighting else power.least_sockets
    factors = air_factor(power.air, limits, power.rules), beside_factor(group, limits, power.rules)
    fused = dict(power.fused)
    rows = [
        (size, min(cables.carries(base, *factors), fused.get(size, base)), drop)
        for size, base, drop in power.cables
    ]
    length, draw = sum(way), one.rating * power.long_share
    allowed = most / 100.0 * power.volts
    fit = [row for row in rows if row[1] >= one.rating - 1e-9]
    size = cables.choose_size(draw, length / 1000.0, allowed, fit, least) or rows[-1][0]
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
        100.0 * cables.drop_volts(drop, draw, length / 1000.0) / power.volts,
        len(one.items) * limits.value("services.leakage_item"),
        power.volts,
        loads.standby(one.items),
        items=one.items,
        method=power.method,
        air=power.air,
        beside=group,
        carries=carried,
        longest=1000.0 * cables.longest_run(allowed, drop, draw),
        drop_most=most,
        leak_most=power.leak_budget,
        rules=power.rules,
        kind="light" if one.lighting else power.kind(one.rating),
        cable=dict(power.marks)[size],
        long_draw=draw,
        board=way[0],
    )
