"""The working behind the circuits' figures. Each says that the licensed electrician checks, sizes, installs and tests."""

from __future__ import annotations

from collections.abc import Sequence

from wallwright.core.limit import Limits
from wallwright.core.why import Given, Why
from wallwright.library import load
from wallwright.services import loads
from wallwright.services.record import Circuit
from wallwright.services.supply import Supply

CAUTION = "to be checked, sized, installed and tested by the locally licensed electrician"


def circuit_whys(c: Circuit, power: Supply, limits: Limits) -> tuple[Why, ...]:
    """How the current, the cable, its drop, its longest run, its leakage and its standby come about."""
    rules = load.electrical()[c.rules]
    drop = next(row[2] for row in power.cables if row[0] == c.cable_mm2)
    factor, each = limits.value("services.power_factor"), limits.value("services.leakage_item")
    least = power.least_lights if c.name.startswith("Lights") else power.least_sockets
    book = limits.value("circuits.leakage_book")
    lies = f"method {c.method}" if c.method else "as its breaker rates it"
    metres = c.length / 1000.0
    said = Given("rule set", f"{rules.name}: {rules.edition}")
    return (
        Why(
            f"circuit {c.ref}.current", c.current, "A", f"what {c.name.lower()} draws together; {CAUTION}",
            "diversified load / (volts × power factor)",
            (Given("connected", c.connected, "W"), Given("diversified", c.diversified, "W"), Given("volts", c.volts, "V"),
             Given("power factor", factor), *(Given(x.name, x.watts * x.factor, "W") for x in c.items)),
            "common practice", "common practice",
        ),
        Why(
            f"circuit {c.ref}.cable", c.cable_mm2, "mm²",
            f"the smallest that carries the device's rating where it lies; {CAUTION}",
            "rating of the cable × factors ≥ rating of the device, and the drop within its limit",
            (Given("device", c.rating, "A"), Given("cable carries", c.carries, "A"), Given("it lies", lies),
             Given("air", c.air, "°C"), Given("loaded circuits side by side", c.beside), Given("left out of them", ", ".join(c.left_out) or "none"),
             Given("length", metres, "m"),
             Given("of it from the board to this wall" + (", assumed" if c.board_assumed else ""), c.board / 1000.0, "m"),
             Given("smallest allowed", least, "mm²"), said),
            "IEC 60364-5-52:2009 table B.52.2" if c.method else "NEC table 310.16 and 240.4(D)",
            "published" if c.method else "from memory",
        ),
        Why(
            f"circuit {c.ref}.drop", c.drop_percent, "%",
            f"drop from the board to the furthest point at the most that may be drawn for hours; {CAUTION}",
            "mV/A/m × A × m / 1000, over the supply's volts",
            (Given("mV/A/m", drop), Given("A", c.long_draw), Given("m", metres),
             Given("V", c.drop_percent / 100.0 * c.volts), Given("limit", c.drop_most, "%"), said),
            "BS 7671 appendix 4; IEC 60364-5-52:2009 table G.52.1" if c.method else "NEC chapter 9 table 8", "published",
        ),
        Why(
            f"circuit {c.ref}.longest", c.longest, "mm", f"from the board, so that the drop stays within its limit; {CAUTION}",
            "limit × 1000 / (mV/A/m × A)",
            (Given("mV/A/m", drop), Given("A", c.long_draw), Given("limit", c.drop_most / 100.0 * c.volts, "V")),
            "BS 7671 appendix 4", "published",
        ),
        Why(
            f"circuit {c.ref}.leakage", c.leakage_ma, "mA",
            f"standing leakage of its items against the share of the residual-current device; {CAUTION}",
            "items × leakage of one",
            (Given("items", len(c.items)), Given("each", each, "mA"), Given("budget", c.leak_most, "mA"),
             Given("earthed items that may share it by the book's most", int(c.leak_most // book)),
             Given("the book's most of one", book, "mA")),
            "BS 7671:2018 531.3.2", "published",
        ),
        Why(
            f"circuit {c.ref}.standby", c.standby, "W", "what its items draw asleep", "sum",
            tuple(Given(x.name, x.standby, "W") for x in c.items if x.standby), "powers of the library's devices", "computed",
        ),
    )  # fmt: skip


def demand(circuits: Sequence[Circuit], limits: Limits) -> float:
    """What the circuits of the wall ask of the board together [W]."""
    sockets = [c.diversified for c in circuits if not c.name.startswith("Lights")]
    lighting = sum(c.diversified for c in circuits if c.name.startswith("Lights"))
    rest, lights = limits.value("circuits.demand_rest"), limits.value("circuits.demand_lighting")
    return loads.demand(sockets, lighting, rest, lights)


def wall_whys(circuits: Sequence[Circuit], hours: float, limits: Limits) -> tuple[Why, ...]:
    """What the wall asks of the board, and what it draws asleep in a year."""
    asleep = sum(c.standby for c in circuits)
    return (
        Why(
            "services.demand", demand(circuits, limits), "W", f"of the board, all circuits of the wall together; {CAUTION}",
            "the largest circuit whole + the others and the lighting at their shares",
            (*(Given(c.ref, c.diversified, "W") for c in circuits),
             Given("others", limits.value("circuits.demand_rest")), Given("lighting", limits.value("circuits.demand_lighting"))),
            "On-Site Guide, table of diversity", "published",
        ),
        Why(
            "services.standby_year", loads.standby_year(asleep, hours), "kWh", "what the wall draws asleep in a year",
            "standby × (8760 h − hours of use) / 1000", (Given("standby", asleep, "W"), Given("in use, a week", hours, "h")),
            "powers of the library's devices; hours of the seat used most", "derived",
        ),
    )  # fmt: skip
