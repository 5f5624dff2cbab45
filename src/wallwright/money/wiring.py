"""What is measured of the wiring: points, conduit and trunking by size, every cable by its count and length, circuits and lights.

Cable is counted as it is bought: the run as drawn, the slack along it and at both ends, times how many lie in it. Conduit is
counted as it is laid, with its waste. Conduit is asked for wherever a run is neither in a void nor in trunking, and for the picture
run in voids too, for its plugs must go through later. Picture cables are bought as the cable map says.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from typing import TYPE_CHECKING

from wallwright.core.limit import Limits
from wallwright.library import load
from wallwright.money.quantities import Measured, with_waste

if TYPE_CHECKING:
    from wallwright.light.record import Light
    from wallwright.services.record import Run, Services

Lengths = dict[str, list[tuple[str, float]]]
"""By key: (ref, length [m]) of each thing counted."""


def services(services: Services, limits: Limits) -> Iterator[Measured]:
    """Points and circuits by the piece; conduit, cable and draw cord by the metre."""
    points: dict[str, list[str]] = defaultdict(list)
    for point in services.points:
        points[point.kind].append(point.ref)
    for kind, refs in points.items():
        yield _pieces(f"point_{kind}", "", "electrical", refs)
    yield from conduits(services, limits)
    yield from trunkings(services, limits)
    yield from cables(services, limits)
    yield from pictures(services)
    if services.circuits:
        name = "Circuits connected, inspected and tested"
        yield _pieces("circuit", name, "electrical", [circuit.ref for circuit in services.circuits])


def in_conduit(run: Run) -> float:
    """How much of a run is laid in conduit [mm]: all but what lies in trunking, of all that is not wholly in a void, and of the run
    that plugs must go through.
    """
    return max(0.0, run.length - run.on_surface) if run.kind == "conduit" or not run.in_void else 0.0


def trunkings(services: Services, limits: Limits) -> Iterator[Measured]:
    """Trunking on the wall by its size [m], where nothing is cut, and the surface boxes that go with it."""
    waste = limits.value("money.waste_conduit")
    by_size: Lengths = defaultdict(list)
    for run in services.runs:
        if run.on_surface > 0:
            size = f"{run.channel[0]:.0f}x{run.channel[1]:.0f}"
            by_size[size].append((run.ref, run.on_surface / 1000))
    for size, runs in sorted(by_size.items()):
        net = sum(length for _, length in runs)
        how = f"runs {_named(runs)}, on the wall: {net:.2f} m + {waste:g} % waste"
        name = f"Trunking {size.replace('x', '×')} mm, with its lid and corners"
        yield Measured(
            f"trunking_{size}", (f"trunking_{size}", "trunking"), name, "electrical", with_waste(net, waste), "m", how, _refs(runs)
        )  # fmt: skip
    ends = {end for run in services.runs if run.on_surface > 0 for end in (run.start, run.end)}
    boxes = [point.ref for point in services.points if point.ref in ends]
    if boxes and services.lay == "surface":
        yield _pieces("surface_box", "Surface box, more than one that is sunk", "electrical", boxes)


def conduits(services: Services, limits: Limits) -> Iterator[Measured]:
    """Conduit by its outside diameter [m] and the cord that stays in each [m]."""
    waste = limits.value("money.waste_conduit")
    laid = [(run, in_conduit(run) / 1000) for run in services.runs if in_conduit(run) > 0]
    by_size: Lengths = defaultdict(list)
    for run, length in laid:
        by_size[f"{run.outside_diameter:.0f}"].append((run.ref, length))
    for size, runs in sorted(by_size.items(), key=lambda item: float(item[0])):
        net = sum(length for _, length in runs)
        how = f"runs {_named(runs)}: {net:.2f} m + {waste:g} % waste"
        yield Measured(
            f"conduit_{size}", (f"conduit_{size}", "conduit"), f"Conduit {size} mm, with boxes and bends", "electrical",
            with_waste(net, waste), "m", how, _refs(runs),
        )  # fmt: skip
    if laid:
        ends = 2 * limits.value("services.end_slack")
        cords = [(run.ref, length + ends / 1000) for run, length in laid]
        net = sum(length for _, length in cords)
        how = f"{len(cords)} conduits and {ends:g} mm over each"
        yield Measured("draw_cord", ("draw_cord",), "", "electrical", round(net, 2), "m", how, _refs(cords))


def cables(services: Services, limits: Limits) -> Iterator[Measured]:
    """Each cable of the library [m]; a run that does not say what lies in it is one line without a price."""
    share, ends = limits.value("services.run_slack"), 2 * limits.value("services.end_slack")
    by_key: Lengths = defaultdict(list)
    unsaid: list[tuple[str, float]] = []
    for run in services.runs:
        each = (run.length * (1 + share) + ends) / 1000
        for key, count in run.contents if run.kind != "conduit" else ():
            by_key[key].extend([(run.ref, each)] * count)
        if not run.contents and run.kind not in ("spare", "conduit"):
            unsaid.append((run.ref, each))
    known = load.cables()
    for key, lengths in by_key.items():
        net = sum(length for _, length in lengths)
        pieces = f"{len(lengths)} length{'s' if len(lengths) != 1 else ''}"
        how = f"{pieces} in {_named(lengths)}, {100 * share:g} % and {ends:g} mm over each"
        name = f"{known[key].name}, drawn in" if key in known else ""
        yield Measured(
            f"cable_{key}", (f"cable_{key}",), name, "electrical", round(net, 2), "m", how, _refs(lengths)
        )
    if unsaid:
        net = sum(length for _, length in unsaid)
        name = "Cable not said"
        yield Measured(
            "cable", (), name, "electrical", round(net, 2), "m", f"runs {_named(unsaid)}", _refs(unsaid)
        )


def pictures(services: Services) -> Iterator[Measured]:
    """Picture cables as the cable map has them, by the length they are bought in [m]."""
    bought = [(plug.ref, plug.bought / 1000) for plug in services.plugs if plug.kind == "picture"]
    if bought:
        net = sum(length for _, length in bought)
        how = ", ".join(f"{ref} {length:g} m" for ref, length in bought)
        name = f"{load.cables()['hdmi'].name}, made up"
        yield Measured(
            "cable_hdmi", ("cable_hdmi",), name, "electrical", round(net, 2), "m", how, _refs(bought)
        )


def light(light: Light, limits: Limits) -> Iterator[Measured]:
    """LED strip in its profile by the metre; the drivers of each run, and a dimmer for each that is dimmed."""
    if not light.runs:
        return
    net = sum(run.length for run in light.runs) / 1000
    waste = limits.value("money.waste_strip")
    how = f"strip {net:.2f} m + {waste:g} % waste"
    refs = tuple(run.ref for run in light.runs)
    yield Measured(
        "led_strip", ("led_strip",), "LED strip in profile", "light", with_waste(net, waste), "m", how, refs
    )
    drivers = [run.ref for run in light.runs if run.driver_watts > 0 for _ in range(run.drivers)]
    dimmers = [run.ref for run in light.runs if run.dimmable]
    for key, name, each in (("led_driver", "LED driver", drivers), ("dimmer", "Dimmer for LED", dimmers)):
        if each:
            yield _pieces(key, name, "light", each)


def _pieces(key: str, name: str, trade: str, refs: list[str]) -> Measured:
    return Measured(key, (key,), name, trade, len(refs), "nr", ", ".join(refs), tuple(refs))


def _refs(lengths: list[tuple[str, float]]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(ref for ref, _ in lengths))


def _named(lengths: list[tuple[str, float]]) -> str:
    return ", ".join(_refs(lengths))
