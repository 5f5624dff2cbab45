"""The command that explains a value, a rule or a limit."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from wallwright.cli_say import GOOD, Json, print_finding, print_json, wall_of

if TYPE_CHECKING:
    from wallwright.derive import Wall


def why(job: Path, name: str = "", *, as_json: Json = False) -> int:
    """Explain a value or a rule: its inputs, formula, source and certainty.

    Args:
        job: The job file, or the folder it is in.
        name: A value such as screen.centre_height, a rule such as structure.shelf_sag, or a limit; without it, the list.
        as_json: Print the working as JSON.
    """
    derived = wall_of(job)
    if not name:
        return _list_names(derived, as_json)
    shown = [item for item in derived.whys if item.name == name or item.name.startswith(f"{name}.")]
    if shown:
        from wallwright.export.wall_json import why_json

        if as_json:
            print_json({"whys": [why_json(item) for item in shown]})
        for item in () if as_json else shown:
            value = f"{item.value:g}" if isinstance(item.value, float) else item.value
            print(f"{item.name} = {value} {item.unit}{'  (pinned)' if item.pinned else ''}\n  {item.says}")
            if item.formula:
                print(f"  {item.formula}")
            for given in item.inputs:
                print(
                    f"    {given.name} = {given.value:g} {given.unit}"
                    if isinstance(given.value, float)
                    else f"    {given.name} = {given.value} {given.unit}"
                )
            print(f"  source: {item.source} ({item.certainty})")
        return GOOD
    return _why_rule(derived, name, as_json)


def _why_rule(derived: Wall, name: str, as_json: bool) -> int:
    """Explain a rule or a limit; ValueError with the nearest names where there is neither."""
    from wallwright.export.wall_json import finding_json
    from wallwright.job.problem import nearest
    from wallwright.rules import RULES

    if name in RULES:
        rule = RULES[name]
        found = list(rule.find(derived))
        if as_json:
            print_json(
                {
                    "rule": name,
                    "trade": rule.trade,
                    "says": rule.says,
                    "findings": [finding_json(item) for item in found],
                }
            )
            return GOOD
        print(f"{name} ({rule.trade})\n  {rule.says}")
        for item in found:
            print_finding(item)
        if not found:
            print("  Nothing to say on this wall.")
        return GOOD
    if name in derived.limits:
        limit = derived.limits[name]
        if as_json:
            print_json(
                {
                    "limit": name,
                    "value": limit.value,
                    "unit": limit.unit,
                    "source": limit.source,
                    "certainty": limit.certainty,
                }
            )
        else:
            print(
                f"{name} = {limit.value:g} {limit.unit}\n  source: {limit.source} ({limit.certainty})\n  {limit.note}".rstrip()
            )
            print(f'  to change it, put in the job file:  [rules]  "{name}" = {limit.value:g}')
        return GOOD
    known = [item.name for item in derived.whys] + list(RULES) + [limit.name for limit in derived.limits]
    raise ValueError(f"{name!r} is no value, rule or limit of this wall; {nearest(name, known)}")


def _list_names(derived: Wall, as_json: bool) -> int:
    from wallwright.rules import RULES

    if as_json:
        print_json(
            {
                "values": [item.name for item in derived.whys],
                "rules": list(RULES),
                "limits": [item.name for item in derived.limits],
            }
        )
        return GOOD
    for item in derived.whys:
        value = f"{item.value:g}" if isinstance(item.value, float) else item.value
        print(f"{item.name:<36} {value} {item.unit}")
    return GOOD
