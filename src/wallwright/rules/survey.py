"""Rules of the survey: what must be known before anything is fixed or cut."""

from __future__ import annotations

from collections.abc import Iterator

from wallwright.carcass.room import depth_unknown
from wallwright.core.counted import counted
from wallwright.core.finding import Finding, edit_call, finding
from wallwright.derive import Wall
from wallwright.job.face import obstacle_box
from wallwright.job.lengths import lengths
from wallwright.job.reconcile import likely, measures, outline
from wallwright.rules.registry import rule
from wallwright.rules.survey_words import reading_of, size_of

_PRACTICE = "common practice"


@rule("survey.wall_unknown")
def wall_unknown(wall: Wall) -> Iterator[Finding]:
    """Nothing is hung on a wall that nobody has identified: stop and ask."""
    if wall.job.survey.wall.substrate != "unknown":
        return
    yield Finding(
        "survey.wall_unknown",
        "danger",
        "wall",
        "what the wall is made of is not known: no fixing can be chosen and nothing may be hung",
        "unknown",
        "a known wall type",
        "",
        "common practice: choose fixings by base material; if unknown, test or open up",
        _PRACTICE,
        "knock on the wall (hollow or dull?), drill one test hole where the screen will hide it, look at the dust "
        "(red brick, grey concrete, white block, gypsum), then enter the wall type",
        at=wall.face.box,
    )


@rule("survey.assumed")
def assumed_lengths(wall: Wall) -> Iterator[Finding]:
    """The wall's width and height are measured before anything is released for cutting."""
    if not wall.face.assumed:
        return
    assumed = wall.face.assumed
    yield Finding(
        "survey.assumed",
        "consider",
        "wall",
        f"{counted(len(assumed), 'reading')} of the wall {'is' if len(assumed) == 1 else 'are'} assumed, first {reading_of(wall, assumed[0])}",
        len(assumed),
        0,
        "readings",
        "common practice: cut from measured sizes only",
        _PRACTICE,
        "measure them and enter what the tape says; no button can measure a wall",
        at=wall.face.box,
    )


@rule("survey.photo_size")
def photo_size(wall: Wall) -> Iterator[Finding]:
    """A size that was read from a photo is held to by a tape before anything is made by it."""
    found = [(path, one) for path, one in lengths(wall.job.survey, "survey") if one.state == "photo"]
    if not found:
        return
    path, one = found[0]
    sure = f" ± {one.tolerance:.0f}" if one.tolerance else ""
    yield Finding(
        "survey.photo_size", "fix", "wall",
        f"{counted(len(found), 'size')} of the survey {'comes' if len(found) == 1 else 'come'} from a photo, first {size_of(wall, path)}: "
        f"{one.mm:.0f}{sure} mm", "a photo", "a tape", "",
        "common practice: a photo shows, a tape measures; nothing is cut by a photo", _PRACTICE,
        "hold a tape to it and enter what that says, as measured", at=wall.face.box,
    )  # fmt: skip


STANDS_OUT = ("column", "beam", "cornice", "pipe", "radiator", "ac")
"""What stands into the room as a rule: its depth is measured, be it nothing."""


@rule("survey.depth_unknown")
def depth_not_measured(wall: Wall) -> Iterator[Finding]:
    """How far a column, beam or pipe stands into the room is measured: what is built before it, its fillers and every door go by it."""
    built = [(unit.ref, unit.box) for unit in wall.setout.units] + [(z.ref, z.box) for z in wall.setout.zones]
    for thing in wall.face.obstacles:
        if thing.kind not in STANDS_OUT or not depth_unknown(thing):
            continue
        box, near = obstacle_box(thing), wall.limits["survey.depth_near"]
        by = [
            ref
            for ref, other in (*built, ("the screen", wall.sight.screen.frame))
            if other.gap(box) <= near.value
        ]
        name = thing.kind.replace("_", " ")
        yield Finding(
            "survey.depth_unknown", "fix" if by else "consider", thing.ref,
            f"nobody measured how far the {name} {thing.ref} stands into the room: it is drawn flush with the wall"
            + (f", and {', '.join(by)} {'stands' if len(by) == 1 else 'stand'} at it" if by else ""),
            "not measured", "measured", "",
            "common practice: what stands out of a wall is measured three ways", _PRACTICE,
            "measure it from the wall's face and enter it, 0 as measured where it is flush",
            at=box,
        )  # fmt: skip


@rule("survey.floor_open")
def floor_open(wall: Wall) -> Iterator[Finding]:
    """Heights count from the finished floor: while it is not laid they are provisional."""
    if wall.job.survey.room.floor_finished:
        return
    come = wall.job.survey.room.floor_to_come.mm
    yield Finding(
        "survey.floor_open",
        "consider",
        "floor",
        f"the floor finish is not laid ({come:.0f} mm to come): every height from FFL is provisional",
        "not laid",
        "laid",
        "",
        "common practice: no height is frozen while the datum is assumed",
        _PRACTICE,
        "agree the finished floor level, strike the 1000 mm line from it, then mark the floor finished",
    )


@rule("survey.finish_open")
def finish_open(wall: Wall) -> Iterator[Finding]:
    """Sizes are taken again when plaster, tile or ceiling are still to come."""
    if wall.job.survey.finish_complete:
        return
    yield Finding(
        "survey.finish_open",
        "note",
        "wall",
        "wall, floor or ceiling finish is still to come: sizes will change",
        "to come",
        "complete",
        "",
        "common practice: measure three key sizes again before cutting",
        _PRACTICE,
        "measure width, height and one diagonal again when the finishes are on, then mark the survey complete",
    )


@rule("survey.impossible")
def impossible(wall: Wall) -> Iterator[Finding]:
    """Nothing is surveyed where it cannot be: a seat beyond the room, an obstacle beyond the wall."""
    depth = wall.job.survey.room.depth
    for seat in wall.job.survey.seats:
        if depth is not None and seat.distance.mm > depth.mm:
            yield _cannot_be(
                seat.ref,
                f"seat {seat.ref} is {seat.distance.mm:.0f} mm from the wall; the room is {depth.mm:.0f} mm deep",
            )
    for thing in wall.face.obstacles:
        box = obstacle_box(thing)
        if box.meets(wall.face.box.grown(-0.5)) or (
            thing.kind in ("cornice", "beam") and box.z <= wall.face.height + 1
        ):
            continue
        yield _cannot_be(
            thing.ref,
            f"the {thing.kind.replace('_', ' ')} {thing.ref} at x {box.x:.0f}, {box.z:.0f} above FFL lies beyond the wall "
            f"({wall.face.width:.0f} × {wall.face.height:.0f} mm)",
        )


def _cannot_be(ref: str, says: str) -> Finding:
    return Finding(
        "survey.impossible", "fix", ref, says, "beyond", "inside the room", "", "geometry", "computed",
        "measure it again; one of the two readings is wrong",
    )  # fmt: skip


@rule("survey.out_of_true")
def out_of_true(wall: Wall) -> Iterator[Finding]:
    """Readings that differ by more than a filler can scribe are checked again."""
    limit = wall.limits["rule.scribe"]
    lean = abs(wall.job.survey.wall.out_of_plumb.mm)
    worst = max(wall.face.spread_x, wall.face.spread_z, lean)
    if worst <= limit.value:
        return
    what = "width" if worst == wall.face.spread_x else "height" if worst == wall.face.spread_z else "plumb"
    yield finding(
        "survey.out_of_true",
        "fix",
        "wall",
        f"the wall's {what} is out by {worst:.0f} mm: more than a filler can scribe",
        measured=round(worst),
        limit=limit,
        at=wall.face.box,
        cure=f"measure the {what} again and enter it; if it stands, pack the wall out before anything is made",
    )


@rule("survey.misclosure")
def misclosure(wall: Wall) -> Iterator[Finding]:
    """Widths, heights and diagonals close: a measure that does not agree with all the others is taken again."""
    found = outline(measures(wall.job.survey.wall, wall.limits), wall.limits)
    if found is None or not found.suspects:
        return
    worst = found.suspects[0]
    named = " or ".join(one.measure.says for one in found.suspects)
    either = ", or the other as much" if len(found.suspects) > 1 else ""
    yield finding(
        "survey.misclosure",
        "fix",
        "wall",
        f"the measures do not close: {named} is about {abs(worst.off):.0f} mm too {'large' if worst.off > 0 else 'small'}{either}",
        measured=round(abs(worst.w), 1),
        limit=wall.limits["survey.suspect"],
        at=wall.face.box,
        cure=f"measure {named} again and enter it; {worst.measure.value:.0f} mm was entered, {worst.measure.value - worst.off:.0f} would close",
    )


@rule("survey.outline")
def likely_outline(wall: Wall) -> Iterator[Finding]:
    """The smallest reading is drawn to; where all measures together say otherwise, the most likely outline is offered."""
    survey = wall.job.survey.wall
    found = None if survey.adjusted else outline(measures(survey, wall.limits), wall.limits)
    if found is None or found.suspects or found.spare < 1:
        return
    width, height = likely(found)
    apart = (
        width - min(one.value.mm for one in survey.widths),
        height - min(one.value.mm for one in survey.heights),
    )
    by, what = max((abs(off), name) for off, name in zip(apart, ("width", "height"), strict=True))
    limit = wall.limits["survey.outline_apart"]
    if by <= limit.value:
        return
    yield finding(
        "survey.outline", "note", "wall",
        f"the smallest {what} read and the most likely one, by all {len(found.checked)} measures, are {by:.0f} mm apart",
        measured=round(by, 1), limit=limit, at=wall.face.box,
        cure="draw the wall by the most likely outline, or look at that place again: it may be a bump",
        edits=(edit_call("use_outline"),),
    )  # fmt: skip


@rule("survey.frozen")
def frozen(wall: Wall) -> Iterator[Finding]:
    """Nothing is frozen, and no gate from G2 on is signed, while the wall or its datum is assumed."""
    job = wall.job
    signed = [gate.ref for gate in job.progress.gates if gate.ref >= "G2"]
    if job.status not in ("construction", "as_built") and not signed:
        return
    floor = job.survey.room
    datum = not floor.floor_finished and not floor.floor_to_come.taped
    if not wall.face.assumed and not datum:
        return
    what = (
        "the datum: the floor finish is not laid and nobody agreed its thickness"
        if datum
        else f"{wall.face.assumed[0]}"
    )
    held = f"gate {signed[-1]} is signed" if signed else f"the status is {job.status.replace('_', ' ')}"
    yield Finding(
        "survey.frozen", "fix", "wall", f"{held}, but this is assumed: {what}", "assumed", "measured", "",
        "common practice: nothing is frozen while the datum or the wall's size is assumed", _PRACTICE,
        "measure it and enter it, or take the signature or the status back until then",
        (edit_call("set_issue", status="preliminary"),) if not signed else (edit_call("unsign_gate", ref="G2"),),
        at=wall.face.box,
    )  # fmt: skip
