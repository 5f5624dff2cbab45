"""The page's forms: every field of the job that an edit can set, as it stands, with what sets it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import is_dataclass, replace
from functools import cache
from typing import Any, cast

from wallwright.core.units import Length
from wallwright.derive import Wall
from wallwright.job.edit import default_of, to_plain
from wallwright.job.edits import EDITS
from wallwright.job.path import get
from wallwright.job.schema import job_schema
from wallwright.studio.answers_forms import Action, Choice, FieldOut, Form, Forms, Part
from wallwright.studio.form_inputs import hints_of, kind_of, library_choices, words
from wallwright.studio.form_kinds import ELSEWHERE, FIELD_OF, KINDS, PREFIX, Kind

BAY_EDITS = ("set_bay", "set_bay_hinge", "set_bay_vents")


def forms(wall: Wall, part: Part | None = None, of: str = "") -> Forms:
    """The forms of one part of the job, or of one thing by its name; else all of them."""
    whys = {why.name for why in wall.whys}
    out: list[Form] = []
    for kind in KINDS:
        if part is None or kind.part == part:
            out.extend(_forms(wall, kind, whys))
    out.extend(_bays(wall, whys) if part in (None, "design") else ())
    out.extend(_further(wall) if part in (None, "job") else ())
    return Forms(forms=[form for form in out if not of or form.id == of])


def _forms(wall: Wall, kind: Kind, whys: set[str]) -> Iterator[Form]:
    job = wall.job
    here = get(job, tuple(kind.where.split("."))) if kind.where else job
    if not kind.key:
        fields = _fields(wall, kind, here, "", {}, whys)
        yield _form(
            kind.name, kind, kind.title, fields, [_action(wall, kind.name, name, {}) for name in kind.also]
        )
        if kind.name == "wall":
            yield from _readings(wall)
        if kind.name == "rates":
            yield from _own_rates(wall)
        return
    for thing in cast("tuple[Any, ...]", here):
        key = str(getattr(thing, kind.key))
        fields = _fields(wall, kind, thing, key, {kind.key: key}, whys)
        away = [_action(wall, kind.name, name, {kind.key: key}) for name in (*kind.also, kind.remove) if name]
        yield _form(
            key, kind, f"{_called(kind, thing)} {key}" if kind.key == "ref" else words(key), fields, away
        )
    if kind.add:
        yield _form(
            f"add_{kind.name}", kind, f"{kind.title}: one more", [], [_action(wall, kind.name, kind.add, {})]
        )


def _further(wall: Wall) -> Iterator[Form]:
    """Edits that no other form has: none is out of reach of the page."""
    said = {name for kind in KINDS for name in (*kind.edits, *kind.also, kind.add, kind.remove)}
    rest = [
        name
        for name in EDITS
        if name not in said | ELSEWHERE | {*BAY_EDITS, "set_unit_bays", "remove_wall_reading"}
    ]
    if rest:
        kind = Kind("further", "job", "Further", "", ())
        yield _form("further", kind, kind.title, [], [_action(wall, "further", name, {}) for name in rest])


def _form(ident: str, kind: Kind, title: str, fields: list[FieldOut], actions: list[Action]) -> Form:
    return Form(id=ident, part=kind.part, kind=kind.name, title=title, fields=fields, actions=actions)


def _title(kind: Kind, thing: Any, key: str) -> str:
    """What its form is headed: its kind, its name, and what it says where it is a remark."""
    if kind.key != "ref":
        return words(key)
    says = str(getattr(thing, "says", "") or "")
    state = words(str(getattr(thing, "state", ""))) if kind.name == "variation" else ""
    more = ", ".join(part for part in (says[:60], state) if part)
    return f"{_called(kind, thing)} {key}{': ' if more else ''}{more}"


def _called(kind: Kind, thing: Any) -> str:
    """What a thing is called: a console and not just a unit."""
    own = getattr(thing, "kind", "")
    name = (
        words(own)
        if own and kind.name in ("unit", "obstacle", "seat", "point", "device", "lamp")
        else kind.title
    )
    return name[:1].upper() + name[1:]


def _fields(
    wall: Wall, kind: Kind, thing: Any, key: str, own: dict[str, Any], whys: set[str]
) -> list[FieldOut]:
    """Each field that some edit of this kind sets, once, in the edits' order."""
    out: dict[str, FieldOut] = {}
    for edit in kind.edits:
        for value in EDITS[edit].takes:
            name = FIELD_OF.get((edit, value), value)
            if value in own or name in out or (thing is not None and not hasattr(thing, name)):
                continue
            along = {**own, **_along(edit, value, thing, own)}
            out[name] = _field(wall, kind, thing, key, edit, value, along, whys)
    return list(out.values())


def _along(edit: str, value: str, thing: Any, own: dict[str, Any]) -> dict[str, Any]:
    """What else the edit needs, as it stands."""
    found: dict[str, Any] = {}
    for other in EDITS[edit].needs:
        name = FIELD_OF.get((edit, other), other)
        if other != value and other not in own and getattr(thing, name, None) is not None:
            found[other] = to_plain(getattr(thing, name))
    return found


def _field(  # noqa: PLR0913
    wall: Wall, kind: Kind, thing: Any, key: str, edit: str, value: str, along: dict[str, Any], whys: set[str]
) -> FieldOut:  # fmt: skip
    name = FIELD_OF.get((edit, value), value)
    now = getattr(thing, name, None) if thing is not None else None
    typed = kind_of(hints_of(edit)[value])
    choices = [*(typed.choices or library_choices(edit, value) or _refs(wall, edit, value))]
    path = ".".join(part for part in (kind.where, key, name) if part)
    length = now if isinstance(now, Length) else None
    surveyed = length is not None and kind.part == "survey"
    why = next(
        (w for w in (f"{_called(kind, thing).lower()} {key}.{name}", f"{kind.name}.{name}") if w in whys), ""
    )
    return FieldOut.model_validate({
        "name": name, "says": words(name), "note": note_of(type(thing).__name__, name),
        "input": "choice" if choices and typed.input == "text" else typed.input,
        "choices": choices, "columns": list(typed.columns),
        "value": None if now is None or now == () else to_plain(now), "mm": length.mm if length else None,
        "auto": _auto(wall, kind, key, name) if now is None else None, "state": length.state if surveyed and length else None,
        "path": path, "release": _can_release(thing, name, now), "edit": edit, "key": value, "with": along,
        "needed": value in EDITS[edit].needs, "why": why,
    })  # fmt: skip


def _can_release(thing: Any, name: str, now: Any) -> bool:
    """Whether the program can take the value over: it is given, and need not be."""
    if now is None or now == () or not is_dataclass(thing):
        return False
    default = default_of(thing, name)
    return default is None or default == ()


def _auto(wall: Wall, kind: Kind, key: str, name: str) -> float | None:
    """What the program derived where nothing is given [mm]."""
    found: Any = None
    if kind.name == "unit":
        unit = next((one for one in wall.setout.units if one.ref == key), None)
        found = {} if unit is None else {
            "x": unit.box.x, "z": unit.box.z, "width": unit.box.width, "height": unit.box.height, "depth": unit.depth,
        }  # fmt: skip
    elif kind.name == "panel":
        zone = next((one for one in wall.setout.zones if one.ref == key), None)
        found = {} if zone is None else {
            "x": zone.box.x, "z": zone.box.z, "width": zone.box.width, "height": zone.box.height,
        }  # fmt: skip
    elif kind.name == "screen":
        screen = wall.sight.screen
        found = {
            "diagonal": screen.diagonal, "centre_height": screen.centre[1], "centre_x": screen.centre[0],
            "frame_width": screen.frame.width, "frame_height": screen.frame.height, "frame_depth": screen.depth,
            "mass": screen.mass, "watts": screen.watts,
        }  # fmt: skip
    elif kind.name == "mount":
        found = {"stand_off": wall.sight.screen.stand_off, "tilt": wall.sight.screen.tilt}
    value = found.get(name) if found else None
    return None if value is None else round(value, 1)


def _refs(wall: Wall, edit: str, value: str) -> tuple[Choice, ...]:
    """The names of the job's own things, where a value is one of them."""
    job = wall.job
    if value == "person":
        names = [one.ref for one in job.brief.people]
    elif value == "of" and edit.endswith("light"):
        names = [*(one.ref for one in job.design.units), *(one.ref for one in job.design.panels)]
    elif edit == "clear_rate":
        names = list(job.rates)
    elif edit == "release_limit":
        names = list(job.rules)
    elif edit == "set_limit" and value == "name":
        names = [limit.name for limit in wall.limits]
    else:
        return ()
    return tuple(Choice(value=name, says=name) for name in names)


def _action(wall: Wall, kind: str, edit: str, given: dict[str, Any]) -> Action:
    """An edit that waits for a press, with a field for each value that is not given yet."""
    fields = [_blank(wall, kind, edit, value) for value in EDITS[edit].takes if value not in given]
    return Action.model_validate({"edit": edit, "says": EDITS[edit].says, "with": given, "fields": fields})


def _blank(wall: Wall, kind: str, edit: str, value: str) -> FieldOut:
    typed = kind_of(hints_of(edit)[value])
    choices = [*(typed.choices or library_choices(edit, value) or _refs(wall, edit, value))]
    first = _free(wall, kind) if value == "ref" and edit.startswith("add_") else None
    return FieldOut.model_validate({
        "name": value, "says": words(value), "note": "", "input": "choice" if choices and typed.input == "text" else typed.input,
        "choices": choices, "columns": list(typed.columns),
        "value": first, "mm": None, "auto": None, "state": None, "path": "", "release": False, "edit": edit, "key": value,
        "with": {}, "needed": value in EDITS[edit].needs, "why": "",
    })  # fmt: skip


def _free(wall: Wall, kind: str) -> str:
    """A name that nothing of the job has yet."""
    job = wall.job
    lists = (
        job.survey.obstacles, job.survey.seats, job.survey.windows, job.survey.lamps, job.survey.between, job.brief.people,
        job.brief.devices, job.design.units, job.design.panels, job.design.points, job.design.lights, job.design.stock,
        job.progress.variations, job.progress.snags,
    )  # fmt: skip
    taken = {thing.ref for things in lists for thing in things}
    start = PREFIX.get(kind, "X")
    return next(f"{start}{n}" for n in range(1, 1000) if f"{start}{n}" not in taken)


def _readings(wall: Wall) -> Iterator[Form]:
    """Each tape reading of the wall: its value can be set again, and its state told."""
    for which, readings in (("width", wall.job.survey.wall.widths), ("height", wall.job.survey.wall.heights)):
        kind = Kind("reading", "survey", "Reading", f"survey.wall.{which}s", ())
        for i, reading in enumerate(readings):
            given = {"which": which, "at": to_plain(reading.at)}
            field = _blank(wall, "reading", "set_wall_reading", "value")
            length = reading.value
            where = "above the floor" if which == "width" else "from the left"
            says = f"{which} at {reading.at.mm:.0f} {where}"
            path = f"{kind.where}[{i}].value"
            told = field.model_copy(
                update={
                    "says": says, "value": to_plain(length), "mm": length.mm, "state": length.state, "path": path, "values": given,
                }
            )  # fmt: skip
            gone = [_action(wall, "reading", "remove_wall_reading", given)] if len(readings) > 1 else []
            yield _form(f"{which}_{i + 1}", kind, says.capitalize(), [told], gone)


def _own_rates(wall: Wall) -> Iterator[Form]:
    """Each rate of the job's own."""
    kind = Kind("rate", "money", "Own rate", "rates", ())
    for key, rate in wall.job.rates.items():
        fields = [
            _blank(wall, "rate", "set_rate", value).model_copy(
                update={"value": getattr(rate, value) or None, "values": {"key": key}}
            )
            for value in ("amount", "unit", "hours", "name", "trade")
        ]
        yield _form(
            f"rate_{key}",
            kind,
            f"Own rate {key}",
            fields,
            [_action(wall, "rate", "clear_rate", {"key": key})],
        )


def _bays(wall: Wall, whys: set[str]) -> Iterator[Form]:
    """Each bay; where a unit's bays are automatic, an action that keeps them as they stand."""
    kind = Kind("bay", "design", "Bay", "", BAY_EDITS)
    for unit in wall.job.design.units:
        derived = [bay for bay in wall.carcass.bays if bay.unit == unit.ref]
        as_is = [{"front": b.front, "drawers": b.drawers, "shelves": b.shelves} for b in derived]
        for number, _ in enumerate(derived, 1):
            ident, own = f"{unit.ref}.{number}", {"ref": unit.ref, "bay": number}
            if number <= len(unit.bays):
                place = replace(kind, where=f"design.units.{unit.ref}.bays[{number - 1}]")
                yield _form(
                    ident,
                    kind,
                    f"Bay {ident}",
                    _fields(wall, place, unit.bays[number - 1], "", own, whys),
                    [],
                )
            elif not unit.bays:
                keep = Action.model_validate(
                    {"edit": "set_unit_bays", "says": "Keep the bays as they stand, to change them one by one",
                     "with": {"ref": unit.ref, "bays": as_is}, "fields": []}
                )  # fmt: skip
                yield _form(ident, kind, f"Bay {ident}", [], [keep])


@cache
def note_of(holder: str, field: str) -> str:
    """What a field of the job is, in the words of the job's own description."""
    table = _described().get(holder, {})
    says = str(table.get(field, {}).get("description", ""))
    says = re.sub(r"^True (when|where|for)", r"Yes \1", says)
    return re.sub(r"\babsent = ", "left empty: ", says).replace("Absent = ", "Left empty: ").replace("`", "")


@cache
def _described() -> dict[str, dict[str, Any]]:
    schema = job_schema()
    named = {
        re.sub(r".*__", "", name): part.get("properties", {})
        for name, part in schema.get("$defs", {}).items()
    }
    return {**named, "Job": schema["properties"]}
