"""Rules of the runs: a chase no deeper than the leaf bears, nothing hidden that is not protected, no hole near a cable.

All of it is a design aid: the locally licensed electrician checks, sizes, installs and tests.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import dist

from wallwright.core.finding import EditCall, Finding, edit_call, finding
from wallwright.core.limit import Limit
from wallwright.core.shape import Box, Point2
from wallwright.derive import Wall
from wallwright.job.face import obstacle_box
from wallwright.rules.registry import rule
from wallwright.services import chase
from wallwright.services.drill import Hole, edge_distance
from wallwright.services.existing import PIPES, live_bands
from wallwright.services.record import Run
from wallwright.services.runs import SOLID, voids_for
from wallwright.structure.record import FixingCheck

Piece = tuple[Point2, Point2]


@rule("services.chase")
def too_deep(wall: Wall) -> Iterator[Finding]:
    """No chase is cut deeper than the leaf bears: a third of it upright, a sixth of it level."""
    cut = chase.masonry_of(wall.job.survey.wall, wall.limits)
    if cut is None:
        return
    for run in wall.services.runs:
        voids = voids_for(wall.setout.zones, run.outside_diameter, wall.limits)
        pieces = chase.outside(run.path, voids)
        for level in (True, False):
            ours = [piece for piece in pieces if (piece[0][1] == piece[1][1]) == level]
            if not ours or cut.may_cut(run.outside_diameter, level):
                continue
            yield _chase(wall, run, cut, ours, level)


def _chase(wall: Wall, run: Run, cut: chase.Masonry, pieces: Sequence[Piece], level: bool) -> Finding:
    limit = wall.limits["services.chase_horizontal" if level else "services.chase_vertical"]
    depth, most = chase.needed(run.outside_diameter, cut.cover), cut.level if level else cut.upright
    leaf = f"{cut.leaf:.0f} mm leaf" + (" (assumed: nobody measured it)" if cut.assumed else "")
    cure, edits = _in_a_panel(wall, run, pieces)
    return Finding(
        "services.chase",
        "danger",
        run.ref,
        f"{run.ref} ({run.outside_diameter:.0f} mm conduit) needs a {'level' if level else 'upright'} chase {depth:.0f} mm deep "
        f"over {sum(dist(*piece) for piece in pieces):.0f} mm: more than the {leaf} bears",
        round(depth, 1),
        round(most, 1),
        "mm",
        limit.source,
        limit.certainty,
        cure,
        edits,
        at=_around(pieces),
    )


def _in_a_panel(wall: Wall, run: Run, pieces: Sequence[Piece]) -> tuple[str, tuple[EditCall, ...]]:
    """The panel whose void, made deeper, takes the pieces; else what a person on site can do."""
    need = run.outside_diameter + wall.limits.value("services.void_play")
    for zone in wall.setout.zones:
        if not chase.outside([point for piece in pieces for point in piece][:2], (zone.box,)) and all(
            not chase.outside(piece, (zone.box,)) for piece in pieces
        ):
            edit = edit_call("set_panel_void", ref=zone.ref, void=round(need))
            return f"lay it in the void of {zone.ref}, made {need:.0f} mm deep", (edit,)
    return (
        "lay it on the surface in trunking or behind a panel, use smaller conduits side by side, or ask the structural engineer; "
        "measure the leaf first",
        (),
    )


def _around(pieces: Sequence[Piece]) -> Box:
    xs = [x for piece in pieces for x, _ in piece]
    zs = [z for piece in pieces for _, z in piece]
    return Box(min(xs), min(zs), max(xs) - min(xs), max(zs) - min(zs)).grown(20.0)


@rule("services.surface_run")
def surface_run(wall: Wall) -> Iterator[Finding]:
    """Structural concrete is not chased: what no panel covers lies on the surface, and is said."""
    shown = [run for run in wall.services.runs if run.lies == "surface"]
    if not shown:
        return
    metres = sum(run.outside_void for run in shown) / 1000
    yield Finding(
        "services.surface_run",
        "consider",
        "runs",
        f"{len(shown)} runs ({', '.join(run.ref for run in shown)}) lie on the concrete in trunking, {metres:.1f} m",
        len(shown),
        0,
        "runs",
        "common practice: no chase in structural concrete without the engineer",
        "common practice",
        "take a panel over them, lead them along the skirting or a tower's side, or ask the structural engineer before any cut",
    )


@rule("services.hidden_run")
def hidden_run(wall: Wall) -> Iterator[Finding]:
    """Mains that no accessory in view tells of lies deep, or under steel."""
    limit = wall.limits["services.zone_depth"]
    unseen = [run for run in wall.services.runs if run.protect]
    if not unseen:
        return
    yield finding(
        "services.hidden_run",
        "consider",
        "runs",
        f"{', '.join(run.ref for run in unseen)}: mains that only boxes behind the screen or in the units tell of",
        measured="depth not stated",
        limit=limit,
        cure=f"lay them {limit.value:.0f} mm deep or under earthed steel, with a 30 mA residual-current device; "
        "photograph them with a tape before the wall is closed",
    )


@rule("services.no_path")
def no_path(wall: Wall) -> Iterator[Finding]:
    """Every run has a way that crosses nothing solid and keeps to the zones where a cable is expected."""
    for run in wall.services.runs:
        if run.legal:
            continue
        mains = run.kind == "mains"
        crossed = _crossed(wall, run)
        yield Finding(
            "services.no_path",
            "consider" if crossed == {"pipe"} else "fix",
            run.ref,
            f"{run.ref} from {run.start} to {run.end} finds no free way "
            + ("within the zones where a cable is expected" if mains else "round what stands in the wall")
            + (f": drawn straight it crosses a {' and a '.join(sorted(crossed))}" if crossed else ""),
            "no path",
            "a path",
            "",
            "BS 7671 522.6.202" if mains else "geometry: the way is shut by what is surveyed",
            "published" if mains else "computed",
            "bring its supply in at the other end of the wall, or move its point"
            + (", else lay it 50 mm deep or under earthed steel" if mains else "")
            + "; a pipe is crossed square, with the plumber's word, a column never",
            at=_around([(run.path[0], run.path[-1])]),
        )


def _crossed(wall: Wall, run: Run) -> set[str]:
    """The kinds of solid things that a run, as drawn, goes through."""
    return {
        thing.kind
        for thing in wall.face.obstacles
        if thing.kind in SOLID
        for a, b in pairwise(run.path)
        if _around([(a, b)]).grown(-19.9).meets(obstacle_box(thing))
    }


@rule("services.link_length")
def link_length(wall: Wall) -> Iterator[Finding]:
    """No signal cable is longer than its kind carries."""
    for run in wall.services.runs:
        if run.longest and run.length > run.longest:
            yield Finding(
                "services.link_length",
                "consider",
                run.ref,
                f"{run.cable} from {run.start} to {run.end} runs {run.length / 1000:.1f} m",
                round(run.length),
                round(run.longest),
                "mm",
                "common practice: passive cable of this kind",
                "common practice",
                "use an active optical cable, drawn through the conduit so that it can be replaced",
            )


@rule("services.drill_clash")
def drill_clash(wall: Wall) -> Iterator[Finding]:
    """No planned hole comes near a cable or pipe, planned or already there."""
    clear, band = wall.limits["services.drill_warn"], wall.limits["rule.existing_band"]
    live = live_bands(wall.job.survey.obstacles, wall.face.height)
    for fixing in wall.structure.fixings:
        if not fixing.holes:
            continue
        for run in wall.services.runs:
            gaps = [
                edge_distance(
                    Hole(hole[0], hole[1], fixing.hole_diameter, fixing.hole_depth),
                    run.path,
                    run.outside_diameter,
                )
                for hole in fixing.holes
            ]
            if min(gaps) < clear.value - 0.5:
                yield _clash(
                    fixing, gaps, clear.value - 0.5, clear, run.ref,
                    "drill elsewhere on the plate or rail, or move the run; scan before drilling",
                )  # fmt: skip
        for thing, box in live:
            gaps = [box.gap(Box(x, z, 0.0, 0.0)) for x, z in fixing.holes]
            if min(gaps) < band.value - 0.5:
                pipe = thing.kind in PIPES
                yield _clash(
                    fixing, gaps, band.value - 0.5, band, thing.ref if pipe else f"the likely cable of {thing.ref}",
                    f"move the fixing, or have {thing.ref} traced and {_MADE_DEAD[thing.kind == 'pipe']}, then enter that it is "
                    "dead in the survey; "
                    "scan before drilling",
                )  # fmt: skip


_MADE_DEAD = "made dead by the electrician", "shut off by the plumber"


def _clash(
    fixing: FixingCheck, gaps: Sequence[float], least: float, limit: Limit, what: str, cure: str
) -> Finding:
    """One finding for a fixing and what its holes come near: the nearest hole is shown."""
    near = [(gap, hole) for gap, hole in zip(gaps, fixing.holes, strict=True) if gap < least]
    gap, (x, z) = min(near)
    holes = "a hole" if len(near) == 1 else f"{len(near)} holes, the nearest"
    return finding(
        "services.drill_clash",
        "danger",
        fixing.ref,
        f"{holes} for {fixing.what} at x {x:.0f}, {z:.0f} above FFL, {'comes' if len(near) == 1 else 'come'} within "
        f"{max(gap, 0):.0f} mm of {what}",
        measured=round(gap),
        limit=limit,
        at=Box(x - 25, z - 25, 50, 50),
        cure=cure,
    )
