"""Rules of circuits: current, cable, drop, leakage, and how much one circuit may feed.

All of it is a design aid: the locally licensed electrician checks, sizes, installs and tests.
"""

from __future__ import annotations

from collections.abc import Iterator

from wallwright.core.finding import Finding, finding
from wallwright.derive import Wall
from wallwright.rules.registry import rule


@rule("services.circuit_load")
def circuit_load(wall: Wall) -> Iterator[Finding]:
    """No circuit is asked for more current than its protective device lets through."""
    for circuit in wall.services.circuits:
        if circuit.current <= circuit.rating:
            continue
        heavy = max(circuit.items, key=lambda item: item.watts, default=None)
        yield Finding(
            "services.circuit_load",
            "danger",
            circuit.ref,
            f"circuit {circuit.ref} ({circuit.name}) is asked for {circuit.current:.1f} A on a {circuit.rating:.0f} A device",
            round(circuit.current, 1),
            circuit.rating,
            "A",
            "IEC 60364-4-43: design current at most the device's rating",
            "from memory",
            f"give {heavy.what or heavy.name} ({heavy.watts:.0f} W) a circuit of its own, or one with less power"
            if heavy
            else "split the circuit",
        )


@rule("services.circuit_cable")
def circuit_cable(wall: Wall) -> Iterator[Finding]:
    """Every cable carries its device's rating where it lies: method, air and circuits side by side reckoned in."""
    for circuit in wall.services.circuits:
        if circuit.carries >= circuit.rating - 1e-9:
            continue
        yield Finding(
            "services.circuit_cable",
            "danger",
            circuit.ref,
            f"the largest cable of the library, {circuit.cable_mm2:g} mm², carries {circuit.carries:.1f} A where {circuit.ref} lies, "
            f"and its device lets {circuit.rating:.0f} A through",
            round(circuit.carries, 1),
            circuit.rating,
            "A",
            "IEC 60364-5-52:2009 table B.52.2 with its factors",
            "published",
            "split the circuit on smaller devices, or lay its cables apart and out of the insulation",
        )


@rule("services.circuit_drop")
def circuit_drop(wall: Wall) -> Iterator[Finding]:
    """The voltage drop of each circuit stays within what the rule set of the place allows."""
    for circuit in wall.services.circuits:
        if circuit.drop_percent <= circuit.drop_most:
            continue
        lights = circuit.ref == "Q2"
        limit = wall.limits[f"circuits.{circuit.rules}_drop_{'lights' if lights else 'other'}"]
        yield finding(
            "services.circuit_drop",
            "fix",
            circuit.ref,
            f"circuit {circuit.ref} drops {circuit.drop_percent:.1f} % at its end, {circuit.length / 1000:.0f} m from the board",
            measured=round(circuit.drop_percent, 2),
            limit=limit,
            cure=f"bring it by a shorter way ({circuit.longest / 1000:.0f} m at most), or feed the wall from a nearer board",
        )


@rule("services.circuit_shared")
def circuit_shared(wall: Wall) -> Iterator[Finding]:
    """No circuit feeds more than the rule set of the place lets one feed."""
    for circuit in wall.services.circuits:
        name = f"circuits.{circuit.rules}_{'light' if circuit.ref == 'Q2' else 'power'}_watts"
        if name not in wall.limits or circuit.diversified <= wall.limits.value(name):
            continue
        yield finding(
            "services.circuit_shared",
            "consider",
            circuit.ref,
            f"circuit {circuit.ref} ({circuit.name}) feeds {circuit.diversified:.0f} W",
            measured=round(circuit.diversified),
            limit=wall.limits[name],
            cure="ask the electrician for one more circuit, and share the loads between the two",
        )


@rule("services.leakage")
def leakage(wall: Wall) -> Iterator[Finding]:
    """The standing leakage of the electronics does not eat up the residual-current device."""
    for circuit in wall.services.circuits:
        if not circuit.leak_most or circuit.leakage_ma <= circuit.leak_most:
            continue
        trip, share = (wall.limits[f"circuits.{circuit.rules}_{name}"] for name in ("trip", "leak_share"))
        yield Finding(
            "services.leakage",
            "consider",
            circuit.ref,
            f"the boxes on circuit {circuit.ref} may leak {circuit.leakage_ma:.1f} mA together, of the "
            f"{share.value:.0%} of {trip.value:g} mA that may: nuisance tripping",
            round(circuit.leakage_ma, 1),
            circuit.leak_most,
            "mA",
            share.source,
            share.certainty,
            "ask the electrician for two residual-current devices, or put fewer electronic boxes on this circuit",
        )
