"""Findings of one cause put together, and the words of the edits that a cure makes."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from wallwright.core.finding import SEVERITIES, EditCall, Finding
from wallwright.rules.bays import bays_of
from wallwright.studio.answers_wall import Group
from wallwright.studio.wording import SIZES, Target, change_says, targets, value_says

if TYPE_CHECKING:
    from wallwright.derive import Wall


def does(edits: Sequence[EditCall], wall: Wall) -> str:
    """Exactly what pressing the button changes on the wall, in words, all of it: `set C1 height to 305 mm; make C1 width automatic`."""
    said = list(
        dict.fromkeys(
            _bays(edit, wall) if edit.edit == "set_unit_bays" else change_says(edit) for edit in edits
        )
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
        f"set the {name} of {ref}.{i} to {value_says(bay.get(name, 'automatic'), name)}"
        for i, (old, bay) in enumerate(zip(now, new, strict=True), 1)
        for name in sorted(old.keys() | bay.keys())
        if old.get(name) != bay.get(name)
    ]
    if not next(unit for unit in wall.job.design.units if unit.ref == ref).bays:
        said.append(f"keep {'its other' if said else 'the'} bays {'' if said else f'of {ref} '}as they are")
    return "; ".join(said)
