"""Rules of the look: calm behind the screen, one star among the walls."""

from __future__ import annotations

from collections.abc import Iterator

from wallwright.core.finding import EditCall, Finding, edit_call, finding
from wallwright.derive import Wall
from wallwright.library import load
from wallwright.rules.registry import rule

_CALM = "sprayed_neutral"


def _calm_behind(wall: Wall) -> list[EditCall]:
    """Edits that put a calm finish on whatever stands behind the screen."""
    behind = wall.look.behind
    if behind is None or behind.ref == "wall":
        return [edit_call("set_finish", which="wall", finish="paint_stone_grey")]
    return [edit_call("set_panel_finish", ref=behind.ref, finish=_CALM)]


def _finish_behind(wall: Wall) -> load.Finish | None:
    behind = wall.look.behind
    if behind is None:
        return None
    zone = next((zone for zone in wall.setout.zones if zone.ref == behind.ref), None)
    key = zone.finish if zone else wall.job.design.finishes.wall
    return load.finishes().get(key or "")


@rule("look.bold_behind")
def bold_behind(wall: Wall) -> Iterator[Finding]:
    """No bright colour or heavy pattern stands behind the screen."""
    limit = wall.limits["rule.bold_chroma"]
    finish = _finish_behind(wall)
    bold = finish is not None and finish.bold
    if wall.look.behind is None or (wall.look.behind_chroma <= limit.value and not bold):
        return
    yield finding(
        "look.bold_behind",
        "fix",
        wall.look.behind.ref,
        f"{wall.look.behind.name} stands behind the screen: it draws the eye from the picture and shifts its colours",
        measured=round(wall.look.behind_chroma, 1),
        limit=limit,
        at=wall.sight.screen.frame,
        cure="use a calm, neutral, matt finish behind the screen",
        edits=_calm_behind(wall),
    )


@rule("look.gloss_behind")
def gloss_behind(wall: Wall) -> Iterator[Finding]:
    """What stands behind and around the screen is matt: gloss mirrors every lamp."""
    behind = wall.look.behind
    if behind is None or behind.gloss not in ("gloss", "mirror"):
        return
    yield Finding(
        "look.gloss_behind",
        "consider",
        behind.ref,
        f"{behind.name} behind the screen is {behind.gloss}: lamps and LED lines show in it",
        behind.gloss,
        "matt or satin",
        "",
        "common practice: at most 10 gloss units at 60° behind the screen",
        "common practice",
        "use a matt finish there",
        tuple(_calm_behind(wall)),
        at=wall.sight.screen.frame,
    )


@rule("look.two_stars")
def two_stars(wall: Wall) -> Iterator[Finding]:
    """Only one of two facing walls leads: where the wall behind the seats is heavy, this one stays plain."""
    limit = wall.limits["rule.two_stars"]
    if wall.job.brief.opposite_wall != "heavy" or wall.look.weight <= limit.value:
        return
    base = wall.job.design.finishes.wall
    calm = "laminate_off_white"
    edits: list[EditCall] = [
        edit_call("set_panel_finish", ref=zone.ref, finish=calm) for zone in wall.setout.zones
    ]
    edits += [edit_call("set_unit_finish", ref=unit.ref, finish=calm) for unit in wall.setout.units]
    if base not in (None, "paint_warm_white"):
        edits.append(edit_call("set_finish", which="wall", finish="paint_warm_white"))
    yield finding(
        "look.two_stars",
        "consider",
        "wall",
        f"the wall behind the seats is heavy and this one weighs {wall.look.weight:.1f}: both ask to be looked at",
        measured=round(wall.look.weight, 1),
        limit=limit,
        at=wall.face.box,
        cure="keep this wall plain: fronts and panels near the wall's own shade",
        edits=edits,
    )


@rule("look.unsealed_stone")
def unsealed_stone(wall: Wall) -> Iterator[Finding]:
    """Stone and stone veneer are sealed: the sheets say so, and with what care."""
    for zone in wall.setout.zones:
        finish = load.finishes().get(zone.finish)
        if finish is None or not finish.seal:
            continue
        yield Finding(
            "look.unsealed_stone",
            "note",
            zone.ref,
            f"{finish.name} on {zone.ref} must be sealed after fixing",
            "to be sealed",
            "sealed",
            "",
            "common practice: stone veneer stains unless sealed",
            "common practice",
            "seal with a breathing sealer; clean with a pH-neutral cleaner only",
            at=zone.box,
        )
