"""Changes in the trade's words: what a button will do, and what the history says was done."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import cache
from typing import Any, cast

from wallwright.core.counted import counted
from wallwright.core.finding import EditCall, edit_call
from wallwright.core.units import Length
from wallwright.job.edits import EDITS
from wallwright.library import load
from wallwright.studio.deeds import added_device, added_unit, deed
from wallwright.studio.form_inputs import words

SIZES = {
    "x": "left end", "z": "underside", "width": "width", "height": "height", "depth": "depth", "centre_height": "centre height",
    "centre_x": "centre from the left", "diagonal": "size", "hung": "hanging", "front_finish": "front finish",
}  # fmt: skip
_STATES = {"remove": "to be taken away", "move": "to be moved", "keep": "staying", "new": "new"}
_LENGTHS = frozenset(
    {"depth", "setback", "stand_off", "width", "height", "x", "z", "pitch", "lip", "distance", "projection", "eye_height",
     "seat_height", "centre_height", "centre_x", "frame_width", "frame_height", "rise", "to_come", "out_of_plumb", "rising", "falling",
     "void", "leaf"}
)  # fmt: skip
_NAMED_BY = {"set_thing": ("kind",), "set_limit": ("name",), "set_finish": ("which",)}
"""What names the thing that an edit changes, where that is not its ref."""
Target = tuple[str, str]
"""What an edit changes: a thing and one of its values."""
MOST_ROWS = 4
"""Entries of a list that are said one by one."""


def step_says(name: str, values: Mapping[str, Any]) -> str:
    """A step of the history: `Set C1 width to 1730 mm`, `Place twin socket KT1 392 mm from the left corner, 410 mm above the floor`."""
    said = change_says(edit_call(name, **values))
    return said[:1].upper() + said[1:]


def change_says(edit: EditCall) -> str:
    """What an edit changes, beginning small so that it may stand in a sentence."""
    values = dict(edit.values)
    if edit.edit == "release":
        ((ref, name),) = targets(edit)
        return f"make {ref} {SIZES.get(name, words(name))} automatic"
    if edit.edit in ("move_point", "move_obstacle"):
        place = ", ".join(_pair(name, values[name]) for name in ("x", "z") if values.get(name) is not None)
        return f"move {values.get('ref')} to {place}"
    if edit.edit in ("resize_unit", "move_unit"):
        ref = values.pop("ref", "")
        named = "; ".join(
            f"{SIZES.get(name, name)} to {value_says(value, name)}"
            for name, value in values.items()
            if value is not None
        )
        return f"set {ref} {named}"
    if plain := deed(edit.edit, values, value_says):
        return plain
    said = _OWN_WORDS.get(edit.edit)
    return said(values) if said else _other(edit.edit, values)


def targets(edit: EditCall) -> list[Target]:
    """The values that an edit changes."""
    values = dict(edit.values)
    if edit.edit == "release":
        _, _, path = str(values.get("field", "")).partition(".")
        ref, _, name = path.removeprefix("units.").removeprefix("panels.").rpartition(".")
        return [(ref, name)]
    named = next((name for name in _NAMED_BY.get(edit.edit, ("ref",)) if name in values), "")
    ref = str(values.pop(named, ""))
    if "bay" in values:
        ref = f"{ref}.{values.pop('bay')}"
    if edit.edit.startswith("set_screen"):
        ref = "screen"
    return [(ref or edit.edit, name) for name in values]


def value_says(value: Any, key: str = "") -> str:
    """A value of an edit as one says it; key : its name, which tells a length or a library's row."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Length):
        return value.written or f"{value.mm:g} mm"
    if isinstance(value, (int, float)):
        return f"{value:g} mm" if key in _LENGTHS or (key in SIZES and key != "diagonal") else f"{value:g}"
    if isinstance(value, Mapping):
        return _table(cast("Mapping[str, Any]", value))
    if isinstance(value, (list, tuple)):
        return _list(cast("list[Any]", value))
    if key in ("note", "says", "reason", "title", "client", "designer", "approver", "by", "check"):
        return str(value)  # a person's own words
    text = str(value)
    if key in _LENGTHS and text.replace(".", "", 1).isdigit():
        return f"{text} mm"
    return _rows(key).get(text) or words(text)


@cache
def _rows(key: str) -> Mapping[str, str]:
    tables: Mapping[str, Callable[[], Mapping[str, Any]]] = {
        "board": load.boards, "finish": load.finishes, "palette": load.palettes, "kind": load.things,
    }  # fmt: skip
    return {name: str(row.name) for name, row in tables[key]().items()} if key in tables else {}


def _table(table: Mapping[str, Any]) -> str:
    """A length with how sure it is, or a small thing by its values."""
    if "value" in table and set(table) <= {"value", "state", "tolerance"}:
        text = value_says(table["value"], "width")
        tolerance = f" ± {table['tolerance']:g} mm" if table.get("tolerance") else ""
        return f"{text}{tolerance}{', ' + str(table['state']) if table.get('state') else ''}"
    given = {key: value for key, value in table.items() if value not in (None, [], {}, "")}
    ref = f"{given.pop('ref')} " if "ref" in given else ""
    return (ref + ", ".join(_pair(key, value) for key, value in given.items())).strip() or "nothing"


def _list(items: list[Any]) -> str:
    if not items:
        return "none"
    said = [value_says(item) for item in items[:MOST_ROWS]]
    more = f" and {len(items) - MOST_ROWS} more" if len(items) > MOST_ROWS else ""
    return ("; " if any(", " in one for one in said) else ", ").join(said) + more


def _pair(key: str, value: Any) -> str:
    """One value of a thing with its name: `width 600 mm`, `392 mm from the left corner`."""
    if key in ("x", "z", "distance"):
        text = value_says(value["value"] if isinstance(value, Mapping) else value, key)
        return f"{text} {'from the wall' if key == 'distance' else words(key)}"
    text = value_says(value, key)
    if key in ("kind", "front") and not isinstance(value, bool):
        return text
    if isinstance(value, bool):
        return words(key) if value else f"not {words(key)}"
    return f"{words(key)} {text}"


def _other(name: str, values: dict[str, Any]) -> str:
    """Any other edit: which value of what it sets, and to what."""
    given = {key: value for key, value in values.items() if value is not None}
    verb, _, noun = name.partition("_")
    noun = noun.replace("_", " ")
    ref = given.pop("ref", None) or given.pop("which", None)
    if verb in ("add", "remove") and ref is not None:
        kind = f"{value_says(given.pop('kind'))} " if "kind" in given else f"{noun} "
        rest = ", ".join(_pair(key, value) for key, value in given.items())
        return f"{'take out' if verb == 'remove' else 'add'} {kind}{ref}{': ' if rest else ''}{rest}"
    if verb != "set" or not given:
        says = EDITS[name].says
        rest = ", ".join([*([str(ref)] if ref else []), *(_pair(key, value) for key, value in given.items())])
        return f"{says[:1].lower()}{says[1:]}{': ' if rest else ''}{rest}"
    if name in ("set_seat", "set_lamp", "set_window", "set_person", "set_light", "set_device"):
        return f"set {noun} {ref}: {', '.join(_pair(key, value) for key, value in given.items())}"
    what = name.removeprefix("set_").replace("_", " ")
    parts: list[str] = []
    for key, value in given.items():
        owner = str(ref) if ref else f"the {what.removesuffix(words(key)).strip() or 'wall'}"
        parts.append(f"the {words(key)} of {owner} to {value_says(value, key)}")
    return f"set {'; '.join(parts)}"


def _point(values: Mapping[str, Any]) -> str:
    place = ", ".join(_pair(name, values[name]) for name in ("x", "z") if values.get(name) is not None)
    note = f" ({values['note']})" if values.get("note") else ""
    return f"place {value_says(values.get('kind'))} {values.get('ref')} {place}{note}"


def _screen(values: Mapping[str, Any]) -> str:
    name, value = next(iter(values.items()))
    return f"set the screen's {SIZES[name]} to {value_says(value, name)}"


def _reading(values: Mapping[str, Any]) -> str:
    across = values.get("which") == "width"
    at = value_says(values.get("at"), "x")
    where = f"{at} above the floor" if across else f"{at} from the left corner"
    return f"measure the wall's {values.get('which')} {where}: {value_says(values.get('value'), 'width')}"


def _thing(values: Mapping[str, Any]) -> str:
    given = {key: value for key, value in values.items() if value is not None and key != "kind"}
    rest = ", ".join(_pair(key, value) for key, value in given.items() if key != "count")
    kind = value_says(values.get("kind"), "kind")
    if "count" not in given:
        return f"set {kind}: {rest}"
    if given["count"] == 0:
        return f"keep no {kind} on this wall{', ' if rest else ''}{rest}"
    return f"set the count of {kind} to {given['count']:g}{', ' if rest else ''}{rest}"


_OWN_WORDS: Mapping[str, Callable[[Mapping[str, Any]], str]] = {
    "set_screen_height": _screen,
    "set_screen_x": _screen,
    "set_screen_size": lambda v: (
        f"set the screen's size to {v.get('diagonal'):g}″, with typical values for its frame, mass and holes"
    ),
    "set_unit_hung": lambda v: (
        f"hang {v.get('ref')} on the wall" if v.get("hung") else f"stand {v.get('ref')} on the floor"
    ),
    "anchor_unit": lambda v: f"fix {v.get('ref')} to the wall near its top",
    "add_point": _point,
    "add_device": lambda v: (
        added_device(value_says(v.get("kind")), str(v.get("ref")), str(v.get("place", "auto")))
        if v.keys() <= {"kind", "ref", "place"}
        else _other("add_device", dict(v))
    ),
    "add_unit": lambda v: (
        added_unit(value_says(v.get("kind")), str(v.get("ref")), str(v.get("side", "")))
        if v.keys() <= {"kind", "ref", "side"}
        else _other("add_unit", dict(v))
    ),
    "release_limit": lambda v: f"go back to the library's own limit {_limit(v.get('name'))}",
    "set_thing": _thing,
    "set_wall_reading": _reading,
    "remove_wall_reading": lambda v: (
        f"take out the reading of the wall's {v.get('which')} at {value_says(v.get('at'), 'x')}"
    ),
    "set_substrate": lambda v: (
        f"say what the wall is made of: {value_says(v.get('kind'))}"
        + (f", {value_says(v.get('leaf'), 'leaf')} thick" if v.get("leaf") else "")
    ),
    "set_obstacle_state": lambda v: (
        f"mark {v.get('ref')} as {_STATES.get(str(v.get('state')), str(v.get('state')))}"
    ),
    "set_length": lambda v: f"set {_of_path(v)} to {value_says(v.get('value'), 'width')}",
    "set_length_state": lambda v: f"mark {_of_path(v)} as {v.get('state')}",
    "set_unit_bays": lambda v: (
        f"divide {v.get('ref')} into bays: {'; '.join(bay_says(bay) for bay in v['bays'])}"
        if v.get("bays")
        else f"make the bays of {v.get('ref')} automatic"
    ),
    "set_title": lambda v: f"call the wall “{v.get('title')}”",
    "set_parties": lambda v: "; ".join(
        f"set the {key} to {value}" for key, value in v.items() if value is not None
    ),
    "set_revision": lambda v: f"set the revision to {v.get('revision')}",
    "set_limit": lambda v: (
        f"set your own limit {_limit(v.get('name'))} to {value_says(v.get('value'))}{_unit(v.get('name'))}"
    ),
    "set_finish": lambda v: (
        f"finish the {words(str(v.get('which')))} in {value_says(v.get('finish'), 'finish')}"
    ),
    "set_colour": lambda v: (
        f"choose the colour of the {words(str(v.get('which')))}: {value_says(v.get('colour'))}"
    ),
    "set_diagonals": lambda v: (
        f"enter the diagonals: {value_says(v.get('rising'), 'rising')} rising, {value_says(v.get('falling'), 'falling')} falling"
    ),
    "set_relief": lambda v: f"enter the plumb grid: {len(v.get('relief') or ())} places",
    "set_plumb": lambda v: (
        f"enter how far the wall is out of plumb: {value_says(v.get('out_of_plumb'), 'out_of_plumb')}"
    ),
    "set_progress": lambda v: (
        f"say how far the work is: {', '.join(f'{key} {value}' for key, value in v.items() if value is not None)}"
    ),
    "sign_gate": lambda v: f"sign gate {v.get('ref')}, by {v.get('by')}",
    "set_design": lambda _: "take over a whole design; survey and brief stay",
    "set_own_rates": lambda v: f"lay your own rates over the book: {len(v.get('rates') or ())}",
}
"""Edits whose own sentence is plainer than the general one."""


def _limit(name: Any) -> str:
    """A limit's name as people read it: `panel joint (carcass)`."""
    trade, _, what = str(name).partition(".")
    return f"“{words(what)}” of {words(trade)}"


def bay_says(bay: Mapping[str, Any]) -> str:
    """A bay of a list of bays: `2 drawers, 600 mm`, `open with 3 shelves`, `shutter`."""
    front = str(bay.get("front", "drawers"))
    count = int(bay.get("drawers") or 1)
    shelves = int(bay.get("shelves") or 0)
    said = counted(count, "drawer") if front == "drawers" else words(front)
    if front != "drawers" and shelves:
        said += f" with {counted(shelves, 'shelf', 'shelves')}"
    if bay.get("width") is not None:
        said += f", {value_says(bay['width'], 'width')}"
    if bay.get("hinged"):
        said += f", hung on the {bay['hinged']}"
    if bay.get("vents") is not None:
        said += f", {'with' if bay['vents'] else 'without'} air openings"
    return said


_PLAIN_NUMBERS = frozenset({"", "ratio", "nr", "0..1", "weight", "k_mod", "k_def"})
"""Units that are none."""


def _unit(name: Any) -> str:
    """The unit that a limit is told in, with a space before it; "" where it has none, or where there is no such limit."""
    limits = load.limits()
    unit = limits[str(name)].unit if str(name) in limits else ""
    return "" if unit in _PLAIN_NUMBERS else f" {unit}"


def _of_path(values: Mapping[str, Any]) -> str:
    from wallwright.change.fields import said

    return said(tuple(str(values.get("field", "")).split(".")))
