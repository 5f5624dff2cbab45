"""The library's data as frozen rows: boards, finishes, screens, devices, things, anchors, strips, cables, rates and limits.

Each row carries its source and how sure that is. The files are TOML beside this module; this is the library's only code.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import MISSING, dataclass, fields
from functools import cache, lru_cache
from importlib.resources import files
from types import MappingProxyType
from typing import Any, TypeVar, cast

from wallwright.core.limit import Certainty, Limit, Limits

Row = TypeVar("Row")


@dataclass(frozen=True, slots=True)
class Board:
    """A sheet material. density kg/m³ · modulus N/mm² along the length · k_def creep factor, service class 1 · sheets [mm]."""

    key: str
    name: str
    thickness: float
    density: float
    modulus: float
    k_def: float
    sheets: tuple[tuple[float, float], ...]
    grain: bool
    damp: bool
    source: str
    certainty: Certainty
    synonyms: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Finish:
    """A face finish. mass kg/m² added to the board · thickness [mm] a face · colour sRGB · gloss: matt, satin, gloss, mirror.

    ir_open, radio_open : lets infrared or radio through · bold : bright colour or heavy pattern (keep from behind the screen)
    """

    key: str
    name: str
    kind: str
    colour: str
    gloss: str
    mass: float
    thickness: float
    source: str
    certainty: Certainty
    ir_open: bool = False
    radio_open: bool = True
    bold: bool = False
    seal: bool = False


@dataclass(frozen=True, slots=True)
class Palette:
    """Finishes that go together: for the wall, the panels and the fronts (keys of the finish library), and its tones as sRGB."""

    key: str
    name: str
    says: str
    wall: str
    panel: str
    fronts: str
    tones: tuple[str, ...]
    source: str
    certainty: Certainty


@dataclass(frozen=True, slots=True)
class ScreenSize:
    """Typical frame and carton of a named diagonal: sizes mm, mass kg, power W. To be replaced by the maker's drawing."""

    key: str
    diagonal: float
    frame_width: float
    frame_height: float
    frame_depth: float
    mass: float
    watts: float
    standby_watts: float
    hole_width: float
    hole_height: float
    box_width: float
    box_height: float
    box_depth: float
    source: str
    certainty: Certainty


@dataclass(frozen=True, slots=True)
class ChildSize:
    """A child of that many whole years: median stature [mm], and sitting height over stature."""

    key: str
    years: float
    stature: float
    sitting: float
    source: str
    certainty: Certainty


@dataclass(frozen=True, slots=True)
class DeviceKind:
    """A kind of device: typical size mm, power W, how it is controlled, where it goes, which points it needs."""

    key: str
    name: str
    width: float
    depth: float
    height: float
    watts: float
    standby_watts: float
    control: str
    place: str
    sockets: int
    data: int
    rf: int
    hdmi: int
    source: str
    certainty: Certainty


@dataclass(frozen=True, slots=True)
class ThingKind:
    """A household thing: thickness along the shelf, depth, height [mm], mass [kg]."""

    key: str
    name: str
    run: float
    depth: float
    height: float
    mass: float
    source: str
    certainty: Certainty


@dataclass(frozen=True, slots=True)
class Anchor:
    """A wall fixing in a substrate: what one may carry [N], hole Ø and depth [mm], spacing and edge distance [mm].

    rod : diameter of its steel where it crosses a gap [mm]; 0 for a wood screw
    """

    key: str
    name: str
    substrate: str
    pull: float
    shear: float
    hole: float
    depth: float
    spacing: float
    edge: float
    source: str
    certainty: Certainty
    rod: float = 0.0


@dataclass(frozen=True, slots=True)
class Strip:
    """An LED strip: W/m, lm/m, V, diode pitch [mm], loop resistance [Ω/m]."""

    key: str
    name: str
    watts_per_m: float
    lumens_per_m: float
    volts: float
    pitch: float
    loop_ohm_per_m: float
    source: str
    certainty: Certainty


@dataclass(frozen=True, slots=True)
class Cable:
    """A copper cable: size mm², resistance at 20 °C [Ω/km], rating by method [A], outside diameter [mm], drop [mV/A/m]."""

    key: str
    name: str
    size: float
    ohm_per_km: float
    rating: float
    diameter: float
    drop: float
    source: str
    certainty: Certainty


@dataclass(frozen=True, slots=True)
class Rate:
    """A price: `amount` in the currency per `unit`, supply and fix; hours of work in it; the trade that does it."""

    key: str
    name: str
    trade: str
    unit: str
    amount: float
    hours: float
    source: str
    certainty: Certainty


def _text(name: str) -> str:
    return files("wallwright.library").joinpath(name).read_text("utf-8")


def _frozen(value: Any) -> Any:
    """Lists of a TOML file as tuples."""
    return tuple(_frozen(item) for item in cast("list[Any]", value)) if isinstance(value, list) else value


def _row(kind: type[Row], key: str, table: Mapping[str, Any], where: str) -> Row:
    known = {item.name: item for item in fields(cast("Any", kind))}
    unknown = sorted(set(table) - set(known))
    missing = sorted(
        name
        for name, item in known.items()
        if name not in table and name != "key" and item.default is MISSING
    )
    if unknown or missing:
        raise ValueError(f"{where} [{key}]: unknown {unknown or 'none'}, missing {missing or 'none'}")
    values = {
        name: float(value) if known[name].type == "float" else _frozen(value) for name, value in table.items()
    }
    return cast("Any", kind)(key=key, **values)


@cache
def _catalogue(name: str, kind: type[Any]) -> Mapping[str, Any]:
    where = f"{name}.toml"
    return MappingProxyType(
        {key: _row(kind, key, table, where) for key, table in tomllib.loads(_text(where)).items()}
    )


def boards() -> Mapping[str, Board]:
    """All boards by key."""
    return _catalogue("boards", Board)


def finishes() -> Mapping[str, Finish]:
    """All finishes by key."""
    return _catalogue("finishes", Finish)


def palettes() -> Mapping[str, Palette]:
    """Palettes by key."""
    return _catalogue("palettes", Palette)


def screens() -> Mapping[str, ScreenSize]:
    """Typical screens by key, smallest first."""
    return _catalogue("screens", ScreenSize)


def children() -> Mapping[str, ChildSize]:
    """Children's statures by key, youngest first."""
    return _catalogue("children", ChildSize)


def devices() -> Mapping[str, DeviceKind]:
    """Device kinds by key."""
    return _catalogue("devices", DeviceKind)


def things() -> Mapping[str, ThingKind]:
    """Household things by key."""
    return _catalogue("things", ThingKind)


def anchors() -> Mapping[str, Anchor]:
    """Wall fixings by key."""
    return _catalogue("anchors", Anchor)


def strips() -> Mapping[str, Strip]:
    """LED strips by key."""
    return _catalogue("strips", Strip)


def cables() -> Mapping[str, Cable]:
    """Cables by key."""
    return _catalogue("cables", Cable)


def rates(book: str = "demo") -> Mapping[str, Rate]:
    """A rates book by its name. ValueError names the books there are."""
    there = sorted(
        path.name.removeprefix("rates_").removesuffix(".toml")
        for path in _folder()
        if path.name.startswith("rates_")
    )
    if book not in there:
        raise ValueError(f"design.rates: no rates book {book!r}; there are {', '.join(there)}")
    return _catalogue(f"rates_{book}", Rate)


def _folder() -> list[Any]:
    return list(files("wallwright.library").iterdir())


@lru_cache(maxsize=1)
def limits() -> Limits:
    """The library's limits, one file a trade, before the user's own rule set is laid over them."""
    rows: dict[str, Limit] = {}
    folder = files("wallwright.library").joinpath("limits")
    for path in sorted(folder.iterdir(), key=lambda item: item.name):
        if not path.name.endswith(".toml"):
            continue
        for name, table in tomllib.loads(path.read_text("utf-8")).items():
            if name in rows:
                raise ValueError(f"limits/{path.name}: {name} is there twice")
            rows[name] = _limit(name, table, f"limits/{path.name}")
    return Limits(rows)


_LIMIT_KEYS = frozenset({"value", "unit", "source", "certainty", "note", "low", "high"})


def _limit(name: str, table: Mapping[str, Any], where: str) -> Limit:
    """One limit as its file has it. ValueError where a key is unknown, or its own value lies outside its range."""
    if unknown := sorted(set(table) - _LIMIT_KEYS):
        raise ValueError(f"{where}: {name}: unknown {unknown}")
    low, high = (float(table[end]) if end in table else None for end in ("low", "high"))
    limit = Limit(
        name, float(table["value"]), table["unit"], table["source"], table["certainty"], table.get("note", ""), low, high
    )  # fmt: skip
    if not limit.allows(limit.value) or limit.least == limit.most:
        raise ValueError(
            f"{where}: {name} = {limit.value:g}: give low and high; the range is {limit.least:g} to {limit.most:g}"
        )
    return limit
