"""The circuits: what each feeds, its protective device, cable and drop; and every load with its diversity and standby."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from wallwright.core.table import Column, Table
from wallwright.library import load
from wallwright.services.circuit_whys import demand
from wallwright.services.circuits import hours
from wallwright.services.loads import devices_needed, standby_year
from wallwright.tables.points import DESIGN_AID

if TYPE_CHECKING:
    from wallwright.derive import Wall
    from wallwright.services.record import Circuit

COLUMNS = (
    Column("Ref"),
    Column("Circuit"),
    Column("Points"),
    Column("Current after diversity", "A", 2, "right"),
    Column("Device", "A", 0, "right"),
    Column("Cable"),
    Column("Method, air, circuits grouped"),
    Column("Rating there", "A", 1, "right"),
    Column("Length", "m", 1, "right"),
    Column("Longest run", "m", 1, "right"),
    Column("Drop at the device's full load", "%", 2, "right"),
    Column("At most", "%", 0, "right"),
    Column("Earth leakage", "mA", 1, "right"),
)
LOADS = (
    Column("Circuit"),
    Column("Load"),
    Column("What"),
    Column("Running", "W", 0, "right"),
    Column("Share reckoned", "%", 0, "right"),
    Column("After diversity", "W", 0, "right"),
    Column("Standby", "W", 1, "right"),
    Column("Standby in a year", "kWh", 1, "right"),
)


def circuits(wall: Wall) -> Table:
    """Every circuit with the points on it."""
    rows = tuple(
        (
            c.ref, c.name, ", ".join(p.ref for p in wall.services.points if p.circuit == c.ref), c.current, c.rating,
            c.cable, lies(c), c.carries, c.length / 1000, c.longest / 1000, c.drop_percent, c.drop_most, c.leakage_ma,
        )
        for c in wall.services.circuits
    )  # fmt: skip
    return Table("circuits", "Circuits", COLUMNS, rows, (DESIGN_AID, *circuit_notes(wall)))


def lies(circuit: Circuit) -> str:
    """How a circuit's cable lies, in short: method, air, loaded circuits side by side."""
    method = f"{circuit.method}, " if circuit.method else ""
    return f"{method}{circuit.air:g} °C, {circuit.beside} grouped"


def circuit_notes(wall: Wall) -> tuple[str, ...]:
    """Whose rule set, how cable and drop are reckoned, and what may leak on one residual-current device."""
    rules = load.electrical()[wall.job.survey.place.rules.lower()]
    notes = [
        f"Rule set: {rules.name}, {rules.edition}. Use the edition in force; each figure may be overridden by its name.",
        _drop_note(wall.services.circuits),
        *_grouped_note(wall.services.circuits),
        *_board_note(wall.services.circuits),
        *_fixed_note(wall),
    ]
    leak = sum(c.leakage_ma for c in wall.services.circuits)
    most = max((c.leak_most for c in wall.services.circuits), default=0.0)
    if most:
        book = wall.limits.value("circuits.leakage_book")
        needed = devices_needed((c.leakage_ma for c in wall.services.circuits), most)
        more = f": {needed} devices are needed" if needed > 1 else ""
        notes.append(
            f"All on one residual-current device: {leak:.1f} mA of the {most:g} mA that may leak{more}. By the most that an earthed item "
            f"may leak ({book:g} mA) only {int(most // book)} may share one: measure it at the test."
        )
    return tuple(notes)


def _drop_note(made: Sequence[Circuit]) -> str:
    hours = [c for c in made if c.long_draw < c.rating - 1e-9]
    share = f"{100 * hours[0].long_draw / hours[0].rating:.0f} % of " if hours else ""
    return f"The drop is reckoned at {share}the rating of the protective device, to the furthest point: more than the devices here draw."


def _grouped_note(made: Sequence[Circuit]) -> list[str]:
    """Which circuits warm each other, and what was left out on what assumption."""
    out = sorted({ref for c in made for ref in c.left_out})
    if len(made) < 2:
        return []
    said = "Grouped: all circuits are taken to lie side by side, each socket and appliance circuit loaded to its device."
    if out:
        said += (
            f" {', '.join(out)} left out: fixed lights that all at once draw at most 30 % of what the cable carries in the group. "
            "That holds only while nothing else is fed from it."
        )
    return [said]


def _board_note(made: Sequence[Circuit]) -> list[str]:
    """How far the distribution board was taken to be."""
    if not made:
        return []
    one = made[0]
    how = "assumed: measure it along the way of the cable" if one.board_assumed else "as surveyed"
    return [
        f"Distribution board {one.board / 1000:.3g} m of cable from where the supply comes to this wall, {how}."
    ]


def _fixed_note(wall: Wall) -> list[str]:
    """Appliances that no plug carries."""
    asked = [
        f"{c.ref} ({c.name}, {c.current:.1f} A)"
        for c in wall.services.circuits
        if len(c.items) == 1 and c.current > wall.limits.value(f"circuits.{c.rules}_outlet")
    ]
    return (
        [f"{', '.join(asked)}: no plug carries that; connected for good by the licensed electrician."]
        if asked
        else []
    )


def loads(wall: Wall) -> Table:
    """Every load of every circuit: running, after diversity, on standby, and on standby in a year; the sums below."""
    week = hours(wall.job, wall.limits)
    rows = tuple(
        (c.ref, x.name, x.what or "outlet to spare", x.watts, 100 * x.factor, x.watts * x.factor, x.standby,
         standby_year(x.standby, week))
        for c in wall.services.circuits
        for x in c.items
    )  # fmt: skip
    sums = tuple(
        (c.ref, "together", c.name, c.connected, 100 * c.diversified / c.connected if c.connected else 0.0, c.diversified,
         c.standby, standby_year(c.standby, week))
        for c in wall.services.circuits
    )  # fmt: skip
    return Table("loads", "Load table", LOADS, (*rows, *sums), (DESIGN_AID, *load_notes(wall)))


def load_notes(wall: Wall) -> tuple[str, ...]:
    """What the wall asks of the board, and what it draws on standby."""
    made = wall.services.circuits
    asked, standby = demand(made, wall.limits), sum(c.standby for c in made)
    week = hours(wall.job, wall.limits)
    volts = made[0].volts if made else 0.0
    amps = asked / (volts * wall.limits.value("services.power_factor")) if volts else 0.0
    return (
        f"Connected {sum(c.connected for c in made):.0f} W; all circuits together ask the board for {asked:.0f} W, {amps:.1f} A at "
        f"{volts:g} V: the largest whole, the others and the lighting at their shares.",
        f"On standby {standby:.1f} W, {standby_year(standby, week):.0f} kWh a year with {week:g} hours of use a week. Powers are typical "
        "values until the makers' are entered.",
    )
