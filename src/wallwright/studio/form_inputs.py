"""How a value of an edit is typed in on the page, told from the edit's own annotations."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import MISSING, dataclass, fields, is_dataclass
from functools import cache
from types import NoneType, UnionType
from typing import Annotated, Any, Literal, Union, cast, get_args, get_origin, get_type_hints

from wallwright.core.units import Length
from wallwright.job.edits import EDITS
from wallwright.job.fields import BoardName, Colour, FinishName
from wallwright.library import load
from wallwright.studio.answers_forms import Choice, Column, Input


@dataclass(frozen=True, slots=True)
class Kind:
    """How one value is typed in, what may be chosen, and the columns where it is a list of small things."""

    input: Input
    choices: tuple[Choice, ...] = ()
    columns: tuple[Column, ...] = ()


def hints_of(edit: str) -> dict[str, Any]:
    """The annotations of an edit's values."""
    return get_type_hints(EDITS[edit].make, include_extras=True)


def words(name: str) -> str:
    """A field's name as words."""
    return _WORDS.get(name, name.replace("_", " "))


def kind_of(hint: Any) -> Kind:
    """How a value of this annotation is typed in."""
    if hint == BoardName:
        return Kind("choice", _library("board"))
    if hint == FinishName:
        return Kind("choice", _library("finish"))
    if hint == Colour:
        return Kind("colour")
    origin, inner = get_origin(hint), get_args(hint)
    if origin is Annotated:
        return kind_of(inner[0])
    if origin in (Union, UnionType):
        return kind_of(next(one for one in inner if one is not NoneType))
    if origin is Literal:
        return Kind("choice", tuple(Choice(value=one, says=words(str(one))) for one in inner))
    if origin is tuple:
        return _list(inner[0])
    if is_dataclass(hint) and hint is not Length:
        return Kind("rows", (), tuple(_columns(cast("type[Any]", hint))))
    plain: dict[Any, Input] = {bool: "yes_no", int: "whole", float: "number", Length: "length"}
    return Kind(plain.get(hint, "text"))


def _list(of: Any) -> Kind:
    """A list: of texts, of lengths, or of small things."""
    one = kind_of(of)
    if one.input == "rows":
        return one
    return Kind("lengths" if one.input == "length" else "words")


def _columns(of: type[Any]) -> Iterator[Column]:
    hints = get_type_hints(of, include_extras=True)
    for item in fields(of):
        kind = kind_of(hints[item.name])
        needed = item.default is MISSING and item.default_factory is MISSING
        yield Column(
            name=item.name, says=words(item.name), input=kind.input, choices=list(kind.choices), needed=needed
        )


@cache
def _library(what: str) -> tuple[Choice, ...]:
    rows: Any = {
        "board": load.boards, "finish": load.finishes, "device": load.devices, "thing": load.things, "palette": load.palettes,
    }[what]()  # fmt: skip
    return tuple(Choice(value=key, says=str(row.name)) for key, row in rows.items())


def library_choices(edit: str, value: str) -> tuple[Choice, ...]:
    """The library's keys where a value of an edit names one and its annotation does not say so."""
    what = {
        ("add_device", "kind"): "device", ("set_device", "kind"): "device", ("set_thing", "kind"): "thing",
        ("apply_palette", "palette"): "palette", ("set_finish", "finish"): "finish",
    }.get((edit, value))  # fmt: skip
    return _library(what) if what else ()


_WORDS = {
    "x": "from the left corner", "z": "above the floor", "ref": "name", "acuity": "sharpness of sight", "va": "VA",
    "va_wide": "VA, wide", "ips": "IPS", "ac": "AC", "hot_humid": "hot and humid", "utc_offset": "hours from universal time",
    "flicker_hz": "flicker frequency", "watts_per_m": "watts per metre", "lumens_per_m": "lumens per metre",
    "colour": "colour", "of": "belongs to", "frame_width": "frame width", "hole_offset": "hole group above the middle",
    "dead": "cable made dead", "aac_block": "AAC block", "led_feed": "LED feed", "rf": "aerial", "e1": "E1", "e05": "E0.5",
    "tsca": "TSCA", "naf": "no added formaldehyde", "hot": "hot", "at": "taken at", "out": "stands out by", "ir_eye": "infrared eye",
    "luminance": "luminance (cd/m²)", "lux": "light on it (lx)", "cut_off": "cut-off angle", "mass": "mass (kg)", "watts": "watts",
    "temperature": "temperature (°C)", "diagonal": "size in inches",
}  # fmt: skip
