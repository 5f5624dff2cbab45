"""Rules of circuits: current, cable, drop, leakage, and how much one circuit may feed.

All of it is a design aid: the locally licensed electrician checks, sizes, installs and tests.
"""

from __future__ import annotations

from collections.abc import Iterator

from wallwright.core.finding import Finding, finding
from wallwright.derive import Wall
from wallwright.rules.registry import rule
from wallwright.services.loads import devices_needed
from wallwright.services.record import Circuit


@rule("services.circuit_load")
def circuit_load(wall: Wall) -> Iterator[Finding]:
    """No circuit is asked for more current than its protective device lets through for hours, nor a plug for more than it bears."""
    for circuit in wall.services.circuits:
        if circuit.current > circuit.long_draw + 1e-9:
            yield _overloaded(circuit)
        elif (
            circuit.current > wall.limits.value(f"circuits.{circuit.rules}_outlet")
            and len(circuit.items) == 1
        ):
            outlet = wall.limits[f"circuits.{circuit.rules}_outlet"]
            yield finding(
                "services.circuit_load",
                "consider",
                circuit.ref,
                f"{circuit.name} draws {circuit.current:.1f} A: no plug of this country carries that",
                measured=round(circuit.current, 1),
                limit=outlet,
                cure=f"have it connected for good, on {circuit.rating:.0f} A with a switch for all its live conductors in reach, by the "
                "licensed electrician and as its maker asks; or take one with less power",
            )


def _overloaded(circuit: Circuit) -> Finding:
    heavy = max(circuit.items, key=lambda item: item.watts, default=None)
    for_hours = (
        "" if circuit.long_draw >= circuit.rating else f", of which {circuit.long_draw:.0f} A for hours"
    )
    if len(circuit.items) == 1:
        cure = "a larger device and cable for it, by the licensed electrician's own sizing, or an appliance with less power"
    elif heavy:
        cure = f"give {heavy.what or heavy.name} ({heavy.watts:.0f} W) a circuit of its own, or one with less power"
    else:
        cure = "split the circuit"
    return Finding(
        "services.circuit_load",
        "danger",
        circuit.ref,
        f"circuit {circuit.ref} ({circuit.name}) is asked for {circuit.current:.1f} A on a {circuit.rating:.0f} A device{for_hours}",
        round(circuit.current, 1),
        circuit.long_draw,
        "A",
        "IEC 60364-4-43: design current at most the device's rating"
        if circuit.long_draw >= circuit.rating
        else "NEC 210.20(A): 125 % of a continuous load",
        "from memory",
        cure,
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
            f"the largest cable of the library, {circuit.cable}, carries {circuit.carries:.1f} A where {circuit.ref} lies, "
            f"and its device lets {circuit.rating:.0f} A through",
            round(circuit.carries, 1),
            circuit.rating,
            "A",
            "IEC 60364-5-52:2009 table B.52.2 with its factors"
            if circuit.method
            else "NEC 240.4(D) and table 310.16 with its factors",
            "published" if circuit.method else "from memory",
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
        name = f"circuits.{circuit.rules}_{circuit.kind}_watts"
        if name not in wall.limits or circuit.diversified <= wall.limits.value(name):
            continue
        alone = max(item.watts for item in circuit.items) > wall.limits.value(name)
        yield finding(
            "services.circuit_shared",
            "consider",
            circuit.ref,
            f"circuit {circuit.ref} ({circuit.name}) feeds {circuit.diversified:.0f} W",
            measured=round(circuit.diversified),
            limit=wall.limits[name],
            cure="ask the electrician whether one appliance may take so much of a circuit here, or take one with less power"
            if alone
            else "ask the electrician for one more circuit, and share the loads between the two",
        )


@rule("services.circuit_points")
def circuit_points(wall: Wall) -> Iterator[Finding]:
    """No circuit feeds more outlets or light feeds than the rule set of the place lets one feed."""
    for circuit in wall.services.circuits:
        name = f"circuits.{circuit.rules}_{circuit.kind}_points"
        if name not in wall.limits or circuit.points <= wall.limits.value(name):
            continue
        yield finding(
            "services.circuit_points",
            "fix",
            circuit.ref,
            f"circuit {circuit.ref} ({circuit.name}, {circuit.rating:.0f} A) feeds {circuit.points} outlets or light feeds",
            measured=circuit.points,
            limit=wall.limits[name],
            cure="ask the electrician for one more circuit, and share the outlets between the two"
            + ("; each outlet of 16 A with a fuse or breaker of its own" if circuit.kind == "power" else ""),
        )


@rule("services.leakage")
def leakage(wall: Wall) -> Iterator[Finding]:
    """The standing leakage of all that shares a residual-current device does not eat it up: every circuit of the wall, on one."""
    circuits = [circuit for circuit in wall.services.circuits if circuit.leak_most]
    together = sum(circuit.leakage_ma for circuit in circuits)
    most = min((circuit.leak_most for circuit in circuits), default=0.0)
    if together <= most + 1e-9:
        return
    trip, share = (wall.limits[f"circuits.{circuits[0].rules}_{name}"] for name in ("trip", "leak_share"))
    needed = devices_needed((circuit.leakage_ma for circuit in circuits), most)
    alone = [circuit.ref for circuit in circuits if circuit.leakage_ma > most + 1e-9]
    yield Finding(
        "services.leakage",
        "consider",
        ", ".join(alone) or "circuits",
        f"what stands on {', '.join(circuit.ref for circuit in circuits)} may leak {together:.1f} mA together, of the "
        f"{share.value:.0%} of {trip.value:g} mA that may on one residual-current device: nuisance tripping",
        round(together, 1),
        most,
        "mA",
        share.source,
        share.certainty,
        (
            f"ask the electrician for {needed} residual-current devices, the circuits shared between them"
            if needed > 1
            else ""
        )
        + ("; " if needed > 1 and alone else "")
        + (f"put fewer electronic boxes on {' and '.join(alone)}: too much even alone" if alone else ""),
    )


@rule("services.board_assumed")
def board_assumed(wall: Wall) -> Iterator[Finding]:
    """Somebody has measured how much cable lies between the distribution board and this wall: cables are sized by it."""
    circuits = [circuit for circuit in wall.services.circuits if circuit.board_assumed]
    if not circuits:
        return
    limit = wall.limits["services.board_distance"]
    yield Finding(
        "services.board_assumed",
        "note",
        "circuits",
        f"nobody entered how far the distribution board is: {limit.value / 1000:.3g} m of cable assumed; the circuits allow "
        f"{min(c.longest - (c.length - c.board) for c in circuits) / 1000:.0f} m",
        round(limit.value),
        0,
        "mm",
        "common practice: the electrician paces the way of the cable",
        "common practice",
        "measure it along the way the cable goes, up and down too, then enter it in the survey",
    )
