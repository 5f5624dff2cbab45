"""Rules of the runs: a chase no deeper than the leaf bears, nothing hidden that is not protected, mains clear of data.

All of it is a design aid: the locally licensed electrician checks, sizes, installs and tests.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import dist

from wallwright.core.counted import counted
from wallwright.core.finding import EditCall, Finding, edit_call, finding
from wallwright.core.limit import Certainty, Limit
from wallwright.core.shape import Box, Point2
from wallwright.derive import Wall
from wallwright.job.face import obstacle_box
from wallwright.rules.registry import rule
from wallwright.services import chase, spacing
from wallwright.services.conduit import BORES
from wallwright.services.record import Run
from wallwright.services.runs import SOLID, reason_for_trunking, voids_for

Piece = tuple[Point2, Point2]


@rule("services.chase")
def too_deep(wall: Wall) -> Iterator[Finding]:
    """No chase is cut deeper than the leaf bears: a third of it upright, a sixth of it level."""
    cut = chase.masonry_of(wall.job.survey.wall, wall.limits)
    if cut is None:
        return
    for run in wall.services.runs:
        voids = voids_for(wall.setout.zones, run.outside_diameter, wall.limits)
        if wall.job.survey.ceiling == "void":
            voids = (*voids, Box(0.0, wall.face.height, wall.face.width, 0.0))
        pieces = [piece for piece in chase.outside(run.path, voids) if piece not in run.trunking]
        for level in (True, False):
            ours = [piece for piece in pieces if (piece[0][1] == piece[1][1]) == level]
            if not ours or cut.may_cut(run.outside_diameter, level):
                continue
            yield _chase(wall, run, cut, ours, level)


def _chase(wall: Wall, run: Run, cut: chase.Masonry, pieces: Sequence[Piece], level: bool) -> Finding:
    limit = wall.limits["services.chase_horizontal" if level else "services.chase_vertical"]
    depth, most = chase.needed(run.outside_diameter, cut.cover), cut.level if level else cut.upright
    leaf = f"{cut.leaf:.0f} mm leaf" + (" (assumed: nobody measured it)" if cut.assumed else "")
    cure, edits = _in_a_panel(wall, run, pieces, cut.may_cut(min(BORES), level))
    return Finding(
        "services.chase",
        "danger",
        run.ref,
        f"{run.ref} ({run.outside_diameter:.0f} mm conduit) needs {'a level' if level else 'an upright'} chase {depth:.0f} mm deep "
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


def _in_a_panel(
    wall: Wall, run: Run, pieces: Sequence[Piece], smaller_fits: bool
) -> tuple[str, tuple[EditCall, ...]]:
    """The panel whose void, made deeper, takes the pieces; else what a person on site can do. smaller_fits : the smallest conduit
    there is may be let in
    """
    need = run.outside_diameter + wall.limits.value("services.void_play")
    for zone in wall.setout.zones:
        if not chase.outside([point for piece in pieces for point in piece][:2], (zone.box,)) and all(
            not chase.outside(piece, (zone.box,)) for piece in pieces
        ):
            edit = edit_call("set_panel_void", ref=zone.ref, void=round(need))
            return f"lay it in the void of {zone.ref}, made {need:.0f} mm deep", (edit,)
    return (
        "lay it in trunking on the wall where the leaf bears no such chase, in a panel's void, or over a false ceiling"
        + (
            "; or cables that need no plug drawn through, in smaller conduits side by side"
            if smaller_fits
            else ""
        )
        + "; measure the leaf first",
        (edit_call("set_wiring", lay="mixed"),),
    )


def _around(pieces: Sequence[Piece]) -> Box:
    xs = [x for piece in pieces for x, _ in piece]
    zs = [z for piece in pieces for _, z in piece]
    return Box(min(xs), min(zs), max(xs) - min(xs), max(zs) - min(zs)).grown(20.0)


_WHY_TRUNKING = {
    "concrete": "common practice: no chase in structural concrete without the engineer",
    "rented": "common practice: nothing is cut into a wall that is rented",
    "leaf": "guidance on Approved Document A (England): no chase deeper than the leaf bears",
    "chosen": "as chosen for this wall: nothing is cut",
}


@rule("services.surface_run")
def surface_run(wall: Wall) -> Iterator[Finding]:
    """What lies on the wall in trunking is said: on concrete, in a rented home, and where the leaf is too thin for a chase."""
    shown = [run for run in wall.services.runs if run.on_surface > 0]
    if not shown:
        return
    metres = sum(run.on_surface for run in shown) / 1000
    reason = reason_for_trunking(wall.job)
    concrete = reason == "concrete"
    why = "concrete" if concrete else "wall"
    source = _WHY_TRUNKING[reason]
    yield Finding(
        "services.surface_run",
        "consider",
        "runs",
        f"{counted(len(shown), 'run')} ({', '.join(run.ref for run in shown)}) "
        f"{'lies' if len(shown) == 1 else 'lie'} on the {why} in trunking, {metres:.1f} m",
        len(shown),
        0,
        "runs",
        source,
        "common practice",
        "take a panel over them, lead them along the skirting or a tower's side"
        + (", or ask the structural engineer before any cut" if concrete else ""),
    )


@rule("services.hidden_run")
def hidden_run(wall: Wall) -> Iterator[Finding]:
    """Mains that no accessory in view tells of lies deep, or under steel."""
    limit = wall.limits["services.zone_depth"]
    unseen = [run for run in wall.services.runs if run.protect]
    if not unseen:
        return
    yield Finding(
        "services.hidden_run",
        "consider",
        "runs",
        f"{', '.join(run.ref for run in unseen)}: mains that only boxes behind the screen or in the units tell of; not said that "
        f"they lie {limit.value:.0f} mm deep",
        len(unseen),
        0,
        "runs",
        *hidden_source(wall.job.survey.place.rules, limit),
        f"lay them {_deep(unseen, limit.value)}under earthed steel{_behind_device(wall)}{_thin(wall, unseen, limit.value)}; "
        "photograph them with a tape before the wall is closed",
    )


def _deep(unseen: Sequence[Run], depth: float) -> str:
    """Depth is a way out only where something is cut into a wall that bears it: behind a panel, and in a thin leaf, steel is."""
    return f"{depth:.0f} mm deep or " if any(run.in_wall > 0 and not run.steel for run in unseen) else ""


def _thin(wall: Wall, unseen: Sequence[Run], depth: float) -> str:
    """What may not be laid so deep: the leaf bears no such chase."""
    only = [run.ref for run in unseen if run.steel]
    cut = chase.masonry_of(wall.job.survey.wall, wall.limits)
    if not only or cut is None:
        return ""
    return f" ({', '.join(only)} under steel only: the {cut.leaf:.0f} mm leaf bears no chase that lays them {depth:.0f} mm deep)"


def hidden_source(rules: str, limit: Limit) -> tuple[str, Certainty]:
    """Whose rule the depth of hidden cables is there, and how sure: elsewhere than in the United Kingdom a house rule."""
    if rules == "UK" or limit.source == "your rule set":
        return limit.source, limit.certainty
    return f"house rule here, as {limit.source}: the licensed electrician says what holds", "common practice"


def _behind_device(wall: Wall) -> str:
    """The residual-current device that the rule set of the place asks for; nothing where it asks for none."""
    trip = wall.limits.value(f"circuits.{wall.job.survey.place.rules.lower()}_trip")
    return f", with a {trip:g} mA residual-current device" if trip else ", as the code there asks"


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


@rule("services.draw_boxes")
def draw_boxes(wall: Wall) -> Iterator[Finding]:
    """Between two boxes a conduit has no more bends, and is no longer, than cable is drawn through."""
    limit = wall.limits["services.bends_max"]
    asked = [run for run in wall.services.runs if run.draw_boxes]
    if not asked:
        return
    places = "; ".join(
        f"{run.ref} at {', '.join(f'x {x:.0f}, {z:.0f}' for x, z in run.draw_boxes)}" for run in asked
    )
    yield finding(
        "services.draw_boxes",
        "note",
        "runs",
        (
            f"{len(asked)} runs have more bends, or are longer,"
            if len(asked) > 1
            else "1 run has more bends, or is longer,"
        )
        + f" than cable is drawn through: a draw box{' each' if len(asked) > 1 else ''}, {places}",
        measured=max(run.bends for run in asked),
        limit=limit,
        cure="set draw boxes there, where they can be opened later, or draw the cable in as the conduit is laid; slow bends only",
    )


@rule("services.supply_assumed")
def supply_assumed(wall: Wall) -> Iterator[Finding]:
    """Somebody has seen where mains and signals come to the wall: the runs begin there."""
    names = {"supply": "the mains supply", "lines_in": "network, fibre and aerial"}
    missing = [name for name in wall.services.assumed if name in names]
    if not missing:
        return
    at = {"supply": wall.services.supply, "lines_in": wall.services.lines_in}
    where = "; ".join(
        f"{names[name]} at x {at[name][0]:.0f}, {at[name][1]:.0f} mm above FFL" for name in missing
    )
    yield Finding(
        "services.supply_assumed",
        "note",
        "runs",
        f"nobody entered where cables come to this wall; assumed: {where}",
        len(missing),
        0,
        "places",
        "common practice: the electrician shows where the feed and the lines are",
        "common practice",
        "ask on site, then enter it: round which corner, from ceiling or floor, or through the wall",
    )


@rule("services.separation")
def separation(wall: Wall) -> Iterator[Finding]:
    """Data runs beside mains keep the distance that the number of circuits asks for; crossings are square."""
    mains = [run for run in wall.services.runs if run.kind == "mains"]
    apart = wall.limits["services.power_data_apart"]
    least = max(spacing.separation("b", max(1, len(wall.services.circuits))), apart.value)
    for run in wall.services.runs:
        if run.kind != "data":
            continue
        near = [(spacing.alongside(run.path, other.path, least - 0.5), other) for other in mains]
        length = sum(found[0] for found, _ in near)
        if length <= 0:
            continue
        gap = min(found[1] for found, _ in near if found[0] > 0)
        yield finding(
            "services.separation",
            "consider",
            run.ref,
            f"data run {run.ref} lies {gap:.0f} mm from {', '.join(other.ref for found, other in near if found[0] > 0)} "
            f"over {length:.0f} mm",
            measured=round(gap),
            limit=apart,
            cure=f"lay it {least:.0f} mm aside, in an earthed steel conduit, or take screened cable; cross mains square",
        )
