"""The terms of a quote as data: payment stages, who supplies what, how far prices may turn out, currencies, what a swap loses."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import MISSING, dataclass, fields
from decimal import Decimal
from functools import cache
from importlib.resources import files
from types import MappingProxyType
from typing import Any, Literal, TypeVar, cast

from wallwright.core.limit import Certainty

Row = TypeVar("Row")
PARTIES = (
    "client", "designer", "joiner", "electrician", "plasterer", "painter", "stone fitter", "glazier", "screen fitter", "builder", "-",
)  # fmt: skip
WHOLE = Decimal(100)


@dataclass(frozen=True, slots=True)
class StageRow:
    """A payment stage: its share of the price [%], and the task of the programme at whose start or finish it falls due."""

    key: str
    name: str
    share: float
    task: str
    end: Literal["start", "finish"]
    says: str
    source: str
    certainty: Certainty


@dataclass(frozen=True, slots=True)
class ScopeRow:
    """Who supplies, fixes and connects a thing. lines : how the keys of its lines in the bill begin; () = on every wall."""

    key: str
    name: str
    lines: tuple[str, ...]
    supply: str
    fix: str
    connect: str
    says: str
    source: str
    certainty: Certainty


@dataclass(frozen=True, slots=True)
class Spread:
    """How far a trade's lines may turn out below and above what is likely [%]. hidden : it meets what nobody has seen."""

    key: str
    low: float
    high: float
    hidden: bool
    source: str
    certainty: Certainty


@dataclass(frozen=True, slots=True)
class Currency:
    """A currency: decimals of its smallest coin, how its people group digits and mark decimals."""

    key: str
    name: str
    decimals: int
    grouping: Literal["thousand", "lakh", "none"]
    mark: Literal["point", "comma"]
    source: str
    certainty: Certainty


@dataclass(frozen=True, slots=True)
class SwapWeight:
    """What a kind of swap loses of value, in points: once, and for each of its measure (m² of face, rung of the ladder, ...)."""

    key: str
    name: str
    once: float
    each: float
    per: str
    says: str
    source: str
    certainty: Certainty


@dataclass(frozen=True, slots=True)
class FinishSet:
    """A set of finishes: for each role the finishes in order of choice. pick : the first that will do, or the least dear that will."""

    key: str
    name: str
    pick: Literal["first", "least dear"]
    wall: tuple[str, ...]
    panel: tuple[str, ...]
    fronts: tuple[str, ...]
    carcass_board: tuple[str, ...]
    gain: str
    give_up: str
    source: str
    certainty: Certainty


def _frozen(value: Any) -> Any:
    return tuple(_frozen(item) for item in cast("list[Any]", value)) if isinstance(value, list) else value


@cache
def _rows(name: str, kind: type[Any]) -> Mapping[str, Any]:
    tables = tomllib.loads(files("wallwright.library").joinpath(f"{name}.toml").read_text("utf-8"))
    return MappingProxyType({key: _row(kind, key, table, f"{name}.toml") for key, table in tables.items()})


def _row(kind: type[Row], key: str, table: Mapping[str, Any], where: str) -> Row:
    known = {item.name: item for item in fields(cast("Any", kind)) if item.name != "key"}
    unknown, missing = sorted(set(table) - set(known)), sorted(set(known) - set(table))
    missing = [name for name in missing if known[name].default is MISSING]
    if unknown or missing:
        raise ValueError(f"{where} [{key}]: unknown {unknown or 'none'}, missing {missing or 'none'}")
    return cast("Any", kind)(key=key, **{name: _frozen(value) for name, value in table.items()})


def stages() -> Mapping[str, StageRow]:
    """The usual payment stages, first due first. ValueError where their shares do not sum to 100.00 %."""
    rows: Mapping[str, StageRow] = _rows("stages", StageRow)
    if says := whole_problem(row.share for row in rows.values()):
        raise ValueError(f"stages.toml: {says}")
    return rows


def whole_problem(shares: Any) -> str:
    """What is wrong with shares [%] that should make the whole, and what would do; "" where they do."""
    each = [Decimal(str(share)) for share in shares]
    if any(not 0 < share <= WHOLE for share in each):
        return "each share must be more than 0 and at most 100 %"
    if any(share != round(share, 2) for share in each):
        return "shares have at most two decimals"
    total = sum(each, Decimal(0))
    if total == WHOLE:
        return ""
    off = WHOLE - total
    return f"the shares sum to {total:.2f} %, not 100.00 %: {abs(off):.2f} % {'missing' if off > 0 else 'too much'}"


def scope() -> Mapping[str, ScopeRow]:
    """Who supplies, fixes and connects what."""
    return _rows("scope", ScopeRow)


def spreads() -> Mapping[str, Spread]:
    """How far lines may turn out, by trade."""
    return _rows("spreads", Spread)


def currencies() -> Mapping[str, Currency]:
    """Currencies by code or sign."""
    return _rows("currencies", Currency)


def swap_weights() -> Mapping[str, SwapWeight]:
    """What each kind of swap loses of value."""
    return _rows("swap_weights", SwapWeight)


def finish_sets() -> Mapping[str, FinishSet]:
    """The sets of finishes, the least dear first."""
    return _rows("finish_sets", FinishSet)
