"""The library's data as frozen rows: boards, finishes, screens, devices, things, anchors, strips, cables, rates and limits.

Each row carries its source and how sure that is. The files are TOML beside this module; here they are read, in `names` a spoken
name is looked up.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import MISSING, dataclass, fields
from functools import cache, lru_cache
from importlib.resources import files
from types import MappingProxyType
from typing import Any, Literal, TypeVar, cast

from wallwright.core.limit import Certainty, Limit, Limits

Row = TypeVar("Row")


@dataclass(frozen=True, slots=True)
class Board:
    """A sheet material. density kg/m³ · modulus N/mm² along the length · k_def creep factor, service class 1 · sheets [mm].

    kind : of board, which says what all its thicknesses share
    """

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
    kind: str
    synonyms: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class BoardKind:
    """What all thicknesses of a kind of board share, and its names by country.

    damp_class : 1 dry, 2 humid, 3 exterior (EN 312, 622, 636) · thicknesses : sold [mm] · emissions : classes sold ·
    fire : bare, EN 13501-1 · screw_face, screw_edge : one screw pulled out [N], 0 = not known · swells : thickness in water
    for 24 h [%], 0 = not known · moves_along, moves_across : growth in plane [%] a per cent of moisture content ·
    sorption : takes up moisture as wood or as pressed panel
    """

    key: str
    name: str
    synonyms: tuple[str, ...]
    standard: str
    damp_class: float
    thicknesses: tuple[float, ...]
    emissions: tuple[str, ...]
    fire: str
    screw_face: float
    screw_edge: float
    swells: float
    moves_along: float
    moves_across: float
    sorption: str
    source: str
    certainty: Certainty


@dataclass(frozen=True, slots=True)
class Emission:
    """A formaldehyde class: at most so many mg in a m³ of air (EN 717-1), and the rule sets it meets."""

    key: str
    name: str
    most: float
    meets: tuple[str, ...]
    source: str
    certainty: Certainty


@dataclass(frozen=True, slots=True)
class EdgeBand:
    """An edge band: thickness and least outside radius it goes round [mm], °C its glue line stands, stands wet wiping."""

    key: str
    name: str
    synonyms: tuple[str, ...]
    material: str
    thickness: float
    least_radius: float
    heat: float
    wet: bool
    source: str
    certainty: Certainty


@dataclass(frozen=True, slots=True)
class FaceKind:
    """What all finishes of a face share, and its names by country.

    look : what it is taken for · roles : wall, panel, front, shelf · wipe : wet, damp, dry, vacuum · fade : blue wool 1 to 8 ·
    heat : °C it stands for long · humid : stands humid air · one_sided : its back cannot be faced alike · modulus : of the skin
    [N/mm²] · relief : holds dust [mm]
    """

    key: str
    name: str
    synonyms: tuple[str, ...]
    look: str
    roles: tuple[str, ...]
    wipe: str
    fade: float
    heat: float
    humid: bool
    one_sided: bool
    modulus: float
    relief: float
    source: str
    certainty: Certainty


@dataclass(frozen=True, slots=True)
class Rung:
    """A rung of the finish ladder: a m² of it costs `least` to `most` times plain painted board.

    face, work : what is seen, and plain, fluted or carved · finish, board : an example in the library ("" = on plaster)
    """

    key: str
    name: str
    face: str
    work: str
    least: float
    most: float
    finish: str
    board: str
    source: str
    certainty: Certainty

    @property
    def middle(self) -> float:
        """The middle of its range: what rungs are ordered by."""
        return (self.least + self.most) / 2


@dataclass(frozen=True, slots=True)
class Finish:
    """A face finish. mass kg/m² added to the board · thickness [mm] a face · colour sRGB · gloss: matt, satin, gloss, mirror.

    ir_open, radio_open : lets infrared or radio through · bold : bright colour or heavy pattern (keep from behind the screen) ·
    face : the kind of face it is one of; "" = as its kind is called
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
    face: str = ""


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
    """A kind of device: typical size mm, power W, how it is controlled, where it goes, which points it needs.

    air_most : the warmest air round it that makers usually allow [°C] · radio : works by radio, whatever its remote does ·
    sound : it is heard, so nothing solid stands before it · heater : it makes heat on purpose, so no compartment holds it
    """

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
    air_most: float = 40.0
    radio: bool = False
    sound: bool = False
    heater: bool = False


Use = Literal["daily", "weekly", "monthly", "seldom"]
Care = Literal["", "toy", "fragile", "dangerous"]


@dataclass(frozen=True, slots=True)
class ThingKind:
    """A household thing: thickness along the shelf, depth, height [mm], mass [kg], and how often it is taken out.

    care : a toy, or what small children must not reach · warm : False where heat harms it · shown : stands where it is seen ·
    stacks : most one upon another as it stands · flat : most lying one upon another, 0 where it is never laid flat
    """

    key: str
    name: str
    run: float
    depth: float
    height: float
    mass: float
    use: Use
    source: str
    certainty: Certainty
    care: Care = ""
    warm: bool = True
    shown: bool = False
    stacks: int = 1
    flat: int = 0


@dataclass(frozen=True, slots=True)
class Anchor:
    """A wall fixing in a substrate: what one may carry [N], hole Ø and depth [mm], spacing and edge distance [mm].

    rod : diameter of its steel where it crosses a gap [mm], of a wood screw 1.1 × its root · steel : tensile strength of a wood
    screw [N/mm²], 0 for a bolt · thread : diameter of a wood screw's thread in solid timber, whose hold is reckoned besides [mm], 0
    for any other · cone : it is a bolt in concrete, which EN 1992-4 covers
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
    steel: float = 0.0
    thread: float = 0.0
    cone: bool = False


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
class ElectricalSaying:
    """What a rule set asks besides figures, in one sentence."""

    text: str
    source: str
    certainty: Certainty


@dataclass(frozen=True, slots=True)
class ElectricalRules:
    """An electrical rule set: whose, which edition, how sure, which cables it is sized in, and what it asks besides figures.

    Its figures are limits named `circuits.<key>_…`, so that a user's own go before them. cables : how their keys begin ·
    devices : sizes in which protective devices are made [A], rising
    """

    key: str
    name: str
    edition: str
    source: str
    certainty: Certainty
    cables: str
    devices: tuple[float, ...]
    says: tuple[ElectricalSaying, ...]


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


def board_kinds() -> Mapping[str, BoardKind]:
    """Kinds of board by key."""
    return _catalogue("board_kinds", BoardKind)


def kind_of(board: str) -> BoardKind:
    """The kind of a board of the library. KeyError where there is no such board."""
    return board_kinds()[boards()[board].kind]


def emissions() -> Mapping[str, Emission]:
    """Formaldehyde classes by key, the most first."""
    return _catalogue("emissions", Emission)


def edges() -> Mapping[str, EdgeBand]:
    """Edge bands by key."""
    return _catalogue("edges", EdgeBand)


def faces() -> Mapping[str, FaceKind]:
    """Kinds of face by key."""
    return _catalogue("faces", FaceKind)


def face_of(finish: str) -> FaceKind:
    """The kind of face of a finish of the library. KeyError where there is no such finish."""
    row = finishes()[finish]
    return faces()[row.face or row.kind]


def ladder() -> Mapping[str, Rung]:
    """The finish ladder, cheapest rung first."""
    return _catalogue("ladder", Rung)


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


@cache
def electrical() -> Mapping[str, ElectricalRules]:
    """Electrical rule sets by the place's key in small letters: uk, eu, in, us, none."""
    made: dict[str, ElectricalRules] = {}
    for name in sorted(path.name for path in files("wallwright.library").joinpath("electrical").iterdir()):
        if name.endswith(".toml"):
            table = tomllib.loads(_text(f"electrical/{name}"))
            says = tuple(ElectricalSaying(**row) for row in table.pop("says"))
            del table["limits"]
            table.pop("usual", None)
            key = name.removesuffix(".toml")
            made[key] = _row(ElectricalRules, key, {**table, "says": says}, f"electrical/{name}")
    return MappingProxyType(made)


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
    """The library's limits, one file a trade, and one a country for circuits, before the user's own are laid over them."""
    rows: dict[str, Limit] = {}
    for folder in ("limits", "electrical"):
        for path in sorted(
            files("wallwright.library").joinpath(folder).iterdir(), key=lambda item: item.name
        ):
            if not path.name.endswith(".toml"):
                continue
            where, tables = f"{folder}/{path.name}", tomllib.loads(path.read_text("utf-8"))
            for name, table in (tables["limits"] if folder == "electrical" else tables).items():
                if name in rows:
                    raise ValueError(f"{where}: {name} is there twice")
                rows[name] = _limit(name, table, where)
    return Limits(rows)


@cache
def limits_of(rules: str) -> Limits:
    """The library's limits with what is usual where that electrical rule set holds (its `usual`: boxes and such) in place of the house's."""
    where = f"electrical/{rules.lower()}.toml"
    usual = tomllib.loads(_text(where)).get("usual", {})
    return Limits(
        {row.name: _limit(row.name, usual[row.name], where) if row.name in usual else row for row in limits()}
    )


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
