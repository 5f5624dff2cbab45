"""Findings of one cause put together, and the words of the edits that a cure makes."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from typing import TYPE_CHECKING

from wallwright.core.finding import SEVERITIES, EditCall, Finding
from wallwright.library import load
from wallwright.rules.bays import bays_of
from wallwright.studio.answers_wall import Group
from wallwright.studio.deeds import deed, fans
from wallwright.studio.wording import SIZES, Target, change_says, targets, value_says

if TYPE_CHECKING:
    from wallwright.derive import Wall

_FINISH = re.compile(r"finish (.+?) in (.+)")


def does(edits: Sequence[EditCall], wall: Wall) -> str:
    """Exactly what pressing the button changes on the wall, in words, all of it: `set C1 height to 305 mm; make C1 width automatic`."""
    added = [
        edit for edit in edits if edit.edit == "add_device" and dict(edit.values).get("kind") == "cabinet_fan"
    ]
    freed = [edit for edit in edits if edit.edit == "release"]
    said = _finished([_said(e, wall) for e in edits if e not in (*added, *freed)])
    if added:
        places = {str(dict(edit.values).get("place", "cabinet")) for edit in added}
        said.insert(0, fans(len(added), places, wall.limits.value("cooling.fan_flow")))
    said.extend(_freed(freed))
    return "; ".join(dict.fromkeys(said))


def _said(edit: EditCall, wall: Wall) -> str:
    """One edit in words; what only the wall knows, told by its name."""
    if edit.edit == "set_unit_bays":
        return _bays(edit, wall)
    values = dict(edit.values)
    named = {d.ref: load.devices()[d.kind].name for d in wall.job.brief.devices}.get(str(values.get("ref")))
    if edit.edit == "set_device" and named:
        ref = f"the {named[:1].lower()}{named[1:]} ({values['ref']})"
        return deed("set_device", values | {"ref": ref}, value_says) or change_says(edit)
    return change_says(edit)


def _finished(said: list[str]) -> list[str]:
    """Things that get one finish told together: `finish W1, C1 and T1 in Laminate, off-white`."""
    of: dict[str, list[str]] = {}
    for text in said:
        if found := _FINISH.fullmatch(text):
            of.setdefault(found[2], []).append(found[1])
    out: list[str] = []
    for text in said:
        found = _FINISH.fullmatch(text)
        out.append(f"finish {_and(of[found[2]])} in {found[2]}" if found else text)
    return list(dict.fromkeys(out))


def _freed(edits: Sequence[EditCall]) -> Iterator[str]:
    """Values given back to the program, told together for each thing: `make L9 width and left end automatic`."""
    of: dict[str, list[str]] = {}
    for edit in edits:
        for ref, name in targets(edit):
            of.setdefault(ref, []).append(SIZES.get(name, name.replace("_", " ")))
    for ref, names in of.items():
        yield f"make {ref} {_and(list(dict.fromkeys(names)))} automatic"


def _and(names: list[str]) -> str:
    return " and ".join([*([", ".join(names[:-1])] if names[:-1] else []), names[-1]])


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
    return f"the {SIZES.get(name, name.replace('_', ' '))} of {whose}"


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
        _bay(f"{ref}.{i}", name, bay.get(name, "automatic"))
        for i, (old, bay) in enumerate(zip(now, new, strict=True), 1)
        for name in sorted(old.keys() | bay.keys())
        if old.get(name) != bay.get(name)
    ]
    if any(said_of.startswith("make ") and "open" in said_of for said_of in said):
        said = [one for one in said if not one.startswith("take the shelves out")]
    if not next(unit for unit in wall.job.design.units if unit.ref == ref).bays:
        said.append(f"keep {'its other' if said else 'the'} bays {'' if said else f'of {ref} '}as they are")
    return "; ".join(said)


def _bay(bay: str, name: str, value: object) -> str:
    """One value of a bay that changes."""
    ref, _, number = bay.rpartition(".")
    edit = {
        "front": "set_bay_front",
        "hinged": "set_bay_hinge",
        "vents": "set_bay_vents",
        "shelves": "set_bay",
    }.get(name)
    said = (
        deed(edit, {"ref": ref, "bay": number, name: value}, value_says)
        if edit and value != "automatic"
        else ""
    )
    return said or f"set the {name} of {bay} to {value_says(value, name)}"
