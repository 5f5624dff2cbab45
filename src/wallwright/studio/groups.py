"""Findings of one cause put together, and the words of the edits that a cure makes."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from wallwright.core.finding import SEVERITIES, EditCall, Finding
from wallwright.job.edits import log_line
from wallwright.library import load
from wallwright.rules.bays import bays_of
from wallwright.studio.answers_wall import Group

if TYPE_CHECKING:
    from wallwright.derive import Wall

_SIZES = {
    "x": "left end", "z": "underside", "width": "width", "height": "height", "depth": "depth", "centre_height": "centre height",
    "centre_x": "centre from the left", "diagonal": "size", "hung": "hanging", "front_finish": "front finish",
}  # fmt: skip
_STATES = {"remove": "to be taken away", "move": "to be moved", "keep": "staying", "new": "new"}
_LENGTHS = frozenset({"depth", "setback", "stand_off", "width", "height", "x", "z", "pitch", "lip"})
_NAMED_BY = {"set_thing": ("kind",), "set_limit": ("name",), "set_finish": ("which",)}
"""What names the thing that an edit changes, where that is not its ref."""
Target = tuple[str, str]
"""What an edit changes: a thing and one of its values."""


def does(edits: Sequence[EditCall], wall: Wall) -> str:
    """Exactly what pressing the button changes on the wall, in words, all of it: `set C1 height to 305 mm; make C1 width automatic`."""
    said = list(
        dict.fromkeys(_bays(edit, wall) if edit.edit == "set_unit_bays" else _does(edit) for edit in edits)
    )
    return "; ".join(said)


def groups(findings: Sequence[Finding]) -> list[Group]:
    """The findings by cause, worst first.

    One cause: the cures would change the same value (do one, then look again), or it is one rule over and no edit cures it.
    """
    of = list(range(len(findings)))

    def root(i: int) -> int:
        while of[i] != i:
            i = of[i]
        return i

    first: dict[tuple[str, ...], int] = {}
    for i, item in enumerate(findings):
        for key in _causes(item):
            of[root(i)] = root(first.setdefault(key, i))
    together: dict[int, list[int]] = {}
    for i in range(len(findings)):
        together.setdefault(root(i), []).append(i)
    made = [_group(findings, members) for members in together.values()]
    return sorted(made, key=lambda group: (SEVERITIES.index(group.severity), group.findings[0]))


def _causes(item: Finding) -> Iterable[tuple[str, ...]]:
    """What makes two findings one: the value their cures change, or one rule at one place without an edit."""
    if not item.edits:
        yield ("rule", item.rule)
        return
    for edit in item.edits:
        for ref, name in targets(edit):
            if edit.edit != "release" or name not in (
                "hung",
                "depth",
            ):  # those are given back along with what matters
                yield ("value", ref, name)


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


def _group(findings: Sequence[Finding], members: list[int]) -> Group:
    items = [findings[i] for i in members]
    changed = Counter(
        words for item in items for words in {_words_of(t) for edit in item.edits for t in targets(edit)}
    )
    shared = sorted(words for words, times in changed.items() if times > 1)
    wheres = list(dict.fromkeys(item.where for item in items))
    title = ", ".join(wheres[:4]) + (f" and {len(wheres) - 4} more" if len(wheres) > 4 else "")
    alike = bool(items[0].edits) and all(item.edits == items[0].edits for item in items)
    why = ""
    if len(items) > 1:
        why = (
            "One cause, one cure." if alike
            else f"One cause: the cures change the same values ({', '.join(shared[:4])}). Do one, then look again." if shared
            else "One cause."
        )  # fmt: skip
    return Group(title=title, why=why, severity=items[0].severity, findings=members)


def _words_of(target: Target) -> str:
    """A value that cures change, in words: `the bays of C1`, `the lay of the wiring`."""
    ref, name = target
    owner = ref.removeprefix("set_").replace("_", " ")
    whose = f"the {owner}" if ref.startswith("set_") or ref in ("screen", "wall") else owner
    return f"the {_SIZES.get(name, name.replace('_', ' '))} of {whose}"


def _bays(edit: EditCall, wall: Wall) -> str:
    """What new bays change of those that a unit has now: another number of them, or this and that of one."""
    values = dict(edit.values)
    ref = str(values["ref"])
    new = [dict(bay) for bay in values.get("bays") or ()]
    if not new:
        return f"make the bays of {ref} automatic"
    now = bays_of(wall, ref)
    if len(new) != len(now):
        return f"divide {ref} anew into {len(new)} bays (now {len(now)})"
    said = [
        f"set the {name} of {ref}.{i} to {_word(bay.get(name, 'automatic'), name)}"
        for i, (old, bay) in enumerate(zip(now, new, strict=True), 1)
        for name in sorted(old.keys() | bay.keys())
        if old.get(name) != bay.get(name)
    ]
    if not next(unit for unit in wall.job.design.units if unit.ref == ref).bays:
        said.append(f"keep {'its other' if said else 'the'} bays {'' if said else f'of {ref} '}as they are")
    return "; ".join(said)


def _does(edit: EditCall) -> str:
    values = dict(edit.values)
    if edit.edit == "release":
        ((ref, name),) = targets(edit)
        return f"make {ref} {_SIZES.get(name, name.replace('_', ' '))} automatic"
    if edit.edit in ("resize_unit", "move_unit", "move_point", "move_obstacle"):
        ref = values.pop("ref", "")
        named = "; ".join(
            f"{_place(edit.edit, name)} to {_mm(value)}"
            for name, value in values.items()
            if value is not None
        )
        return f"set {ref} {named}"
    if edit.edit in ("set_screen_height", "set_screen_x"):
        name, value = next(iter(values.items()))
        return f"set the screen's {_SIZES[name]} to {_mm(value)}"
    if edit.edit == "set_screen_size":
        return f"set the screen's size to {values.get('diagonal'):g}″, with typical values for its frame, mass and holes"
    if edit.edit == "set_bay_front":
        return f"set the front of {values.get('ref')}.{values.get('bay')} to {_word(values.get('front'))}"
    if edit.edit == "set_unit_hung":
        return (
            f"hang {values.get('ref')} on the wall"
            if values.get("hung")
            else f"stand {values.get('ref')} on the floor"
        )
    if edit.edit == "anchor_unit":
        return f"fix {values.get('ref')} to the wall near its top"
    return _other(edit.edit, values)


def _other(name: str, values: dict[str, object]) -> str:
    """Any other edit: which value of what it sets, and to what."""
    ref = values.pop("ref", None) or values.pop("which", None)
    given = {key: value for key, value in values.items() if value is not None}
    if not name.startswith("set_") or not given:
        said = log_line(name, {"ref": ref, **given} if ref else given)
        return said[0].lower() + said[1:]
    if name == "set_obstacle_state":
        return f"mark {ref} as {_STATES.get(str(given.get('state')), str(given.get('state')))}"
    what = name.removeprefix("set_").replace("_", " ")
    parts: list[str] = []
    for key, value in given.items():
        words = key.replace("_", " ")
        owner = str(ref) if ref else f"the {what.removesuffix(words).strip() or 'wall'}"
        parts.append(f"the {words} of {owner} to {_word(value, key)}")
    return f"set {'; '.join(parts)}"


def _place(edit: str, name: str) -> str:
    return (
        {"x": "from the left", "z": "height"}.get(name, name)
        if edit in ("move_point", "move_obstacle")
        else _SIZES.get(name, name)
    )


def _mm(value: object) -> str:
    return f"{value:g} mm" if isinstance(value, (int, float)) else str(value)


def _word(value: object, key: str = "") -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, (int, float)):
        return f"{value:g} mm" if key in _LENGTHS else f"{value:g}"
    names = {"board": load.boards, "finish": load.finishes}.get(key)
    row = names().get(str(value)) if names else None
    return row.name if row else str(value).replace("_", " ")
