"""Rules of the look: calm behind the screen, one star among the walls."""

from __future__ import annotations

from collections.abc import Iterator

from wallwright.core.finding import EditCall, Finding, edit_call, finding
from wallwright.derive import Wall
from wallwright.library import load
from wallwright.look.colour import chroma
from wallwright.look.weigh import TERMS
from wallwright.rules.registry import rule

_CALM = "sprayed_neutral"


def _calmed(ref: str) -> list[EditCall]:
    """Edits that put a calm finish on that face behind the screen."""
    if ref == "wall":
        return [edit_call("set_finish", which="wall", finish="paint_stone_grey")]
    return [edit_call("set_panel_finish", ref=ref, finish=_CALM)]


def _bold(wall: Wall, ref: str) -> bool:
    """Whether the library calls the finish of that face bold."""
    zone = next((zone for zone in wall.setout.zones if zone.ref == ref), None)
    finish = load.finishes().get((zone.finish if zone else wall.job.design.finishes.wall) or "")
    return finish is not None and finish.bold


def _behind(share: float) -> str:
    """How much of the screen stands before a face, in words."""
    return "behind the screen" if share > 0.995 else f"behind {share:.0%} of the screen"


@rule("look.bold_behind")
def bold_behind(wall: Wall) -> Iterator[Finding]:
    """No bright colour or heavy pattern stands behind the screen."""
    limit = wall.limits["rule.bold_chroma"]
    for face, share in wall.look.faces_behind:
        colour = chroma(face.lab)
        if colour <= limit.value and not _bold(wall, face.ref):
            continue
        yield finding(
            "look.bold_behind",
            "fix",
            face.ref,
            f"{face.name} stands {_behind(share)}: it draws the eye from the picture and shifts its colours",
            measured=round(colour, 1),
            limit=limit,
            at=wall.sight.screen.frame,
            cure="use a calm, neutral, matt finish behind the screen",
            edits=_calmed(face.ref),
        )


@rule("look.gloss_behind")
def gloss_behind(wall: Wall) -> Iterator[Finding]:
    """What stands behind and around the screen is matt: gloss mirrors every lamp."""
    limit = wall.limits["rule.gloss_behind"]
    for face, share in wall.look.faces_behind:
        gloss = wall.limits.value(f"look.gloss_{face.gloss}")
        if gloss <= limit.value:
            continue
        yield finding(
            "look.gloss_behind",
            "note" if face.gloss == "satin" else "consider",
            face.ref,
            f"{face.name} {_behind(share)} is {face.gloss}: lamps and LED lines show in it",
            measured=gloss,
            limit=limit,
            cure="use a matt finish there",
            edits=_calmed(face.ref),
            at=wall.sight.screen.frame,
        )


@rule("look.two_stars")
def two_stars(wall: Wall) -> Iterator[Finding]:
    """Only one of two facing walls leads: where both ask to be looked at and neither leads, this one stays plain."""
    limit, two = wall.limits["rule.two_stars"], wall.look.two_walls
    if two is None or two.star_off or wall.look.weight <= limit.value:
        return
    if two.other.difference <= wall.limits.value("rule.other_heavy"):
        return
    yield finding(
        "look.two_stars",
        "consider",
        "wall",
        f"this wall differs by {two.off.difference:.1f} from its own ground and the wall behind the seats by "
        f"{two.other.difference:.1f}; "
        + ", ".join(
            f"{_TERM[name]} {share:.0%}" for name, share in zip(TERMS, two.dominance_off, strict=True)
        )
        + " of both on this wall: neither leads (measured terms, not a validated model)",
        measured=round(wall.look.weight, 1),
        limit=limit,
        at=wall.face.box,
        cure="keep this wall plain: fronts and panels near the wall's own shade, or calm the other wall",
        edits=_plain(wall),
    )


_TERM = {"difference": "colour", "edges": "edges", "lit": "light", "entropy": "variety"}


def _plain(wall: Wall) -> list[EditCall]:
    """Edits that finish this wall near one light shade."""
    calm = "laminate_off_white"
    edits = [edit_call("set_panel_finish", ref=zone.ref, finish=calm) for zone in wall.setout.zones]
    edits += [edit_call("set_unit_finish", ref=unit.ref, finish=calm) for unit in wall.setout.units]
    if wall.job.design.finishes.wall not in (None, "paint_warm_white"):
        edits.append(edit_call("set_finish", which="wall", finish="paint_warm_white"))
    return edits


@rule("look.hue_families")
def hue_families(wall: Wall) -> Iterator[Finding]:
    """Two families of colour on one wall, neutrals apart, not more."""
    limit = wall.limits["rule.hue_families"]
    if wall.look.hue_families <= limit.value:
        return
    key = wall.look.palettes[0][0]
    yield finding(
        "look.hue_families",
        "consider",
        "wall",
        f"the finishes fall into {wall.look.hue_families} families of hue",
        measured=wall.look.hue_families,
        limit=limit,
        at=wall.face.box,
        cure=f"finish it after one palette: nearest is {load.palettes()[key].name}",
        edits=[edit_call("apply_palette", palette=key)],
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
