"""The rates book: the library's rows with the user's own rates laid over them, in the user's own units.

A rate is all-in for its unit: what is supplied and what it takes to fix it. What fixing takes is its hours at the hour rate of its
trade (rows `hour_<trade>`); the rest is supply. So an hour rate of your own re-prices every row that holds hours of that trade.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from difflib import get_close_matches
from functools import lru_cache
from types import MappingProxyType

from wallwright.library import load
from wallwright.library.load import Rate

YOURS = "your rates"
METRIC: Mapping[str, tuple[str, float]] = {
    "m²": ("m²", 1.0),
    "sq ft": ("m²", 0.09290304),  # 0.3048² m², exact: the international foot
    "m": ("m", 1.0),
    "rft": ("m", 0.3048),
    "m³": ("m³", 1.0),
    "cu ft": ("m³", 0.028316846592),
    "nr": ("nr", 1.0),
    "h": ("h", 1.0),
}
"""What a rate may be counted in: the unit the engine measures in, and how much of it one is."""
IN_FEET: Mapping[str, str] = {"m²": "sq ft", "m": "rft", "m³": "cu ft"}
_SPOKEN = {
    "m2": "m²", "sqm": "m²", "sq m": "m²", "sft": "sq ft", "sqft": "sq ft", "ft2": "sq ft", "ft²": "sq ft",
    "rm": "m", "rmt": "m", "lm": "m", "running metre": "m", "running foot": "rft", "ft": "rft", "lf": "rft", "m3": "m³",
    "cum": "m³", "cft": "cu ft", "ft3": "cu ft", "no": "nr", "nos": "nr", "pc": "nr", "pcs": "nr", "each": "nr", "hr": "h",
    "hrs": "h", "hour": "h",
}  # fmt: skip
FAMILIES = (
    "board_",
    "finish_",
    "edge_",
    "hardware_",
    "point_",
    "conduit_",
    "cable_",
    "mount_",
    "labour_",
    "hour_",
)
"""What a key may begin with; the rest names the thing."""


@dataclass(frozen=True, slots=True)
class OwnRate:
    """A rate of the user's own: what it leaves out stays as the book has it.

    amount : for one unit, supply and fix · unit : m², sq ft, m, rft, m³, cu ft, nr, h · hours : of work in one unit ·
    name, trade : asked for where the book has no such row
    """

    amount: float | None = None
    unit: str = ""
    hours: float | None = None
    name: str = ""
    trade: str = ""


def unit_of(said: str) -> str:
    """The unit that is meant by `sqft`, `running foot`, `nos`; "" where nobody counts so."""
    plain = " ".join(said.casefold().replace(".", "").split())
    return _SPOKEN.get(plain, said if said in METRIC else "")


def book(name: str = "demo", own: Mapping[str, OwnRate] | None = None) -> Mapping[str, Rate]:
    """The rates book of that name with the user's own rates over it.

    Raises ValueError, naming `design.rates` or the rate, where there is no such book, or a rate cannot be read.
    """
    return _book(name, tuple(sorted((own or {}).items())))


@lru_cache(maxsize=16)
def _book(name: str, own: tuple[tuple[str, OwnRate], ...]) -> Mapping[str, Rate]:
    base = load.rates(name)
    if not own:
        return base
    for key, says in problems(name, dict(own)):
        raise ValueError(f"rates.{key}: {says}")
    rows = dict(base)
    given = dict(own)
    hours_changed = {key.removeprefix("hour_") for key in given if key.startswith("hour_")}
    for key in (
        *(k for k in given if k.startswith("hour_")),
        *(k for k in given if not k.startswith("hour_")),
    ):
        rows[key] = _laid(key, given[key], base)
    for key, row in rows.items():
        if (
            row.trade in hours_changed
            and row.hours
            and not key.startswith("hour_")
            and not _priced(given.get(key))
        ):
            rows[key] = _repriced(row, base, rows)
    return MappingProxyType(rows)


def _priced(own: OwnRate | None) -> bool:
    return own is not None and own.amount is not None


def _laid(key: str, own: OwnRate, base: Mapping[str, Rate]) -> Rate:
    """One row of the user's: what is not said is the book's row of that key, or of the more general one."""
    old = base.get(key) or base.get(general(key, base))
    if old is None:
        return Rate(
            key,
            own.name,
            own.trade,
            unit_of(own.unit),
            own.amount or 0.0,
            own.hours or 0.0,
            YOURS,
            "your rule set",
        )
    unit = unit_of(own.unit) or old.unit
    each = Decimal(str(METRIC[unit][1])) / Decimal(str(METRIC[old.unit][1]))
    amount = own.amount if own.amount is not None else float(Decimal(str(old.amount)) * each)
    hours = own.hours if own.hours is not None else float(Decimal(str(old.hours)) * each)
    return Rate(
        key, own.name or old.name, own.trade or old.trade, unit, amount, hours, YOURS, "your rule set"
    )


def _repriced(row: Rate, base: Mapping[str, Rate], rows: Mapping[str, Rate]) -> Rate:
    """A row of the book with the hours in it at the user's hour rate: what is supplied stays."""
    supply = Decimal(str(row.amount)) - fix_share(row, base)
    fix = Decimal(str(row.hours)) * Decimal(str(rows[f"hour_{row.trade}"].amount))
    return replace(row, amount=float(supply + fix), source=f"{row.source}; its hours at your rate")


def fix_share(row: Rate, rows: Mapping[str, Rate]) -> Decimal:
    """What of a rate is fixing: its hours at the hour rate of its trade, never more than the rate itself."""
    hour = rows.get(f"hour_{row.trade}")
    fix = Decimal(str(row.hours)) * Decimal(str(hour.amount)) if hour else Decimal(0)
    return min(fix, Decimal(str(row.amount)))


def general(key: str, rows: Mapping[str, Rate]) -> str:
    """The more general row that prices a key which has none of its own: `finish_laminate_oak` by `finish_laminate`; or ""."""
    if key.startswith("finish_"):
        finish = load.finishes().get(key.removeprefix("finish_"))
        found = f"finish_{finish.kind}" if finish else ""
    elif key.startswith("edge_"):
        found = "edge_band" if key.removeprefix("edge_") in load.edges() else ""
    else:
        found = "conduit" if key.startswith("conduit_") and key.removeprefix("conduit_").isdigit() else ""
    return found if found in rows else ""


def problems(name: str, own: Mapping[str, OwnRate]) -> Iterator[tuple[str, str]]:
    """(key, what is wrong with it and what would do) of every rate that cannot be."""
    base = load.rates(name)
    for key, rate in own.items():
        old = base.get(key) or base.get(general(key, base))
        if says := (
            _new_problem(key, rate, base) if old is None else _unit_problem(rate, old)
        ) or _number_problem(rate):
            yield key, says


def _new_problem(key: str, rate: OwnRate, base: Mapping[str, Rate]) -> str:
    if not (key.startswith(FAMILIES) and rate.name and rate.trade and rate.unit and rate.amount is not None):
        near = get_close_matches(key, _keys(base), n=1, cutoff=0.5)
        meant = f"did you mean {near[0]!r}? " if near else ""
        begins = ", ".join(FAMILIES)
        return f"the book has no such rate; {meant}A new one begins with {begins} and needs name, trade, unit and amount"
    return "" if unit_of(rate.unit) else _no_unit(rate.unit)


def _keys(base: Mapping[str, Rate]) -> list[str]:
    return [*base, *(f"finish_{key}" for key in load.finishes()), *(f"edge_{key}" for key in load.edges())]


def _no_unit(said: str) -> str:
    near = get_close_matches(said, [*METRIC, *_SPOKEN], n=1, cutoff=0.5)
    meant = f"did you mean {near[0]!r}?" if near else f"units are {', '.join(METRIC)}"
    return f"nothing is counted by {said!r}; {meant}"


def _unit_problem(rate: OwnRate, old: Rate) -> str:
    if not rate.unit:
        return ""
    unit = unit_of(rate.unit)
    if not unit:
        return _no_unit(rate.unit)
    if METRIC[unit][0] != METRIC[old.unit][0]:
        kind = METRIC[old.unit][0]
        fits = ", ".join(other for other, (metric, _) in METRIC.items() if metric == kind)
        return f"is counted by {unit}; {old.name} is measured by {kind}: give it by {fits}"
    return ""


def _number_problem(rate: OwnRate) -> str:
    for word, value in (("amount", rate.amount), ("hours", rate.hours)):
        if value is not None and not 0 <= value < 1e9:
            return f"{word} = {value:g} must be 0 or more, and less than 1e9"
    if rate == OwnRate():
        return "says nothing; give its amount"
    return ""
