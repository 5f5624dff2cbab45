"""What fixings go into: the base material, studs and backers that were found, openings, and cables to keep clear of."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace

from wallwright.core.limit import Limit, Limits
from wallwright.core.shape import Box, Point2, around
from wallwright.job.backing import backing_of
from wallwright.job.design import Backing
from wallwright.job.document import Job
from wallwright.job.face import obstacle_box
from wallwright.library import load
from wallwright.library.load import Anchor

BACKER = "metal_stud"
"""Fixings into a plywood backer stand under this wall in the library."""
NOGGING = "nogging"
"""Fixings into a nogging between timber studs, where that is how the wall is backed."""
HALF_BRICK = "half_brick"
"""A brick wall half a brick thick: fixings loosen the one brick they are in."""
FRAMED = frozenset({"metal_stud", "timber_stud"})
COLUMNS = frozenset({"column", "beam"})
"""What is not the wall, flush with it or proud of it: a frame of concrete or steel, or a boxed-in pipe. Nobody said which."""
PROUD = frozenset({"pipe", "cornice"})
"""What takes no fixing where it stands proud of the wall."""
UNKNOWN = "unknown"
UNFOUND = "studs not found"
THIN = "wall too thin"
COLUMN = "not the wall"
NO_RODS = "no wall for rods"
"""Why no fixing is offered: the wall is not known, its studs are not found, it is too thin for any fixing of the library, a column,
beam or pipe stands where the fixings would go, of which nobody said what it is, or it is not solid, as a shelf's rods need it.
"""
NEAR = 100.0
"""No anchor's hole is so wide [mm] that a cable further off would bear on it."""
OPENINGS = frozenset({"window", "door", "niche"})
"""Where the wall ends at a free edge. At its own ends it meets another wall."""


@dataclass(frozen=True, slots=True)
class Wall:
    """The wall as fixings see it. studs : x of those found · keep_clear : where no hole may be · width [mm] of the wall.

    leaf : how thick it is [mm], endless where nobody said · behind : what must be left behind a hole [mm] · bare : no plaster or
    boarding on it · strange : what stands there that is not the wall, its reference and outline · known : what each of these is
    made of, where somebody has said · proud : how far each stands into the room [mm] · backing : how fixings that miss the studs are
    backed · between : boarding between what hangs and a stud [mm] · stud_thick : a stud's side that boarding is screwed to [mm]
    """

    substrate: str
    studs: tuple[float, ...]
    stud_spacing: float
    keep_clear: tuple[Box, ...] = ()
    openings: tuple[Box, ...] = ()
    backers: tuple[Box, ...] = ()
    width: float = float("inf")
    leaf: float = float("inf")
    behind: float = 0.0
    bare: bool = False
    strange: tuple[tuple[str, Box], ...] = ()
    known: Mapping[str, str] = field(default_factory=dict[str, str], hash=False)
    proud: Mapping[str, float] = field(default_factory=dict[str, float], hash=False)
    backing: Backing = "boards"
    between: float = 0.0
    stud_thick: float = 45.0

    @property
    def framed(self) -> bool:
        """Whether it is boarding on studs, so that only studs and backers hold."""
        return self.substrate in FRAMED

    def near(self, boxes: Iterable[Box]) -> Wall:
        """The same wall with those cables alone that come near: no hole in these boxes asks about another."""
        about = around(corner for box in boxes for corner in box.corners).grown(NEAR)
        return replace(self, keep_clear=tuple(box for box in self.keep_clear if box.meets(about)))


def wall_of(job: Job, limits: Limits, keep_clear: tuple[Box, ...] = ()) -> Wall:
    """The surveyed wall as fixings see it. keep_clear : around the cables that are planned or known."""
    wall = job.survey.wall
    spacing = wall.stud_spacing.mm if wall.stud_spacing else limits.value("structure.stud_spacing")
    leaf = wall.leaf.mm if wall.leaf else float("inf")
    half = wall.substrate == "brick" and leaf <= limits.value("structure.half_brick")
    strange = tuple(
        thing
        for thing in job.survey.obstacles
        if thing.state != "remove"
        and (thing.kind in COLUMNS or (thing.kind in PROUD and thing.projection.mm > 0))
    )
    return Wall(
        HALF_BRICK if half else wall.substrate,
        tuple(sorted(stud.mm for stud in wall.studs)),
        spacing,
        keep_clear,
        tuple(obstacle_box(thing) for thing in job.survey.obstacles if thing.kind in OPENINGS),
        tuple(Box(one.x.mm, one.z.mm, one.width.mm, one.height.mm) for one in wall.backers),
        min((reading.value.mm for reading in wall.widths), default=float("inf")),
        leaf,
        limits.value("structure.behind_hole"),
        wall.finish == "bare",
        tuple((thing.ref, obstacle_box(thing)) for thing in strange),
        {thing.ref: thing.substrate for thing in strange if thing.substrate != "unknown"},
        {thing.ref: thing.projection.mm for thing in strange},
        backing_of(job),
        limits.value("carcass.boarding") * (wall.boarding_layers or 1),
        limits.value("carcass.stud_thick"),
    )


def anchors_for(substrate: str) -> tuple[Anchor, ...]:
    """The library's fixings for a base material, lightest first; none where it is unknown."""
    return tuple(anchor for anchor in load.anchors().values() if anchor.substrate == substrate)


def anchors_behind(strips: list[Box], wall: Wall) -> tuple[Anchor, ...]:
    """Fixings for the strips: in a timber frame into its studs where two at least stand behind them, else into a backer.

    On one stud alone a thing swings about its only line of screws.
    """
    if not wall.framed:
        return tuple(one for one in anchors_for(wall.substrate) if one.depth + wall.behind <= wall.leaf)
    if wall.substrate == "timber_stud" and len({x for strip in strips for x in stud_lines(strip, wall)}) >= 2:
        return anchors_for(wall.substrate)
    # what was let in before may be either: the lesser holds
    return anchors_for(NOGGING if wall.backing == "noggings" and not wall.backers else BACKER)


def beside_strange(strips: list[Box], wall: Wall, least: float) -> list[Box]:
    """The strips where the wall itself is behind them: what is left beside columns, beams and pipes, no piece under `least` [mm]."""
    out: list[Box] = []
    for strip in strips:
        left, pieces = strip.x, list[tuple[float, float]]()
        for _, box in sorted(wall.strange, key=lambda item: item[1].x):
            if box.meets(strip):
                pieces.append((left, box.x))
                left = max(left, box.right)
        if left == strip.x and not pieces:
            out.append(strip)
            continue
        pieces.append((left, strip.right))
        out += [replace(strip, x=a, width=b - a) for a, b in pieces if b - a >= least]
    return out


def on_known(strips: list[Box], wall: Wall, least: float) -> Iterator[tuple[str, Wall, list[Box]]]:
    """Each column or beam behind the strips of which somebody said what it is: its reference, itself as a wall, and the pieces of
    the strips that lie on it, none under `least` [mm] wide.
    """
    for ref, box in wall.strange:
        pieces = [part for strip in strips if (part := strip.shared(box)) and part.width >= least]
        if ref in wall.known and pieces:
            yield ref, _as_wall(wall, ref, box), pieces


def _as_wall(wall: Wall, ref: str, box: Box) -> Wall:
    """A column or beam as fixings see it: its own base, a column's sides and a beam's underside as free edges, the studs found in it.

    Nobody said how deep it is behind its face.
    """
    column = box.height >= box.width
    free = (
        (Box(box.x - 1, box.z, 1, box.height), Box(box.right, box.z, 1, box.height))
        if column
        else (Box(box.x, box.z - 1, box.width, 1),)
    )
    studs = tuple(x for x in wall.studs if box.x <= x <= box.right)
    return replace(
        wall,
        substrate=wall.known[ref],
        studs=studs,
        openings=(*wall.openings, *free),
        leaf=float("inf"),
        strange=tuple(item for item in wall.strange if item[0] != ref),
    )


def strange_at(boxes: list[Box], wall: Wall) -> tuple[str, ...]:
    """What stands behind these places that is not the wall."""
    return tuple(ref for ref, there in wall.strange if any(there.meets(box) for box in boxes))


def stud_lines(strip: Box, wall: Wall) -> list[float]:
    """X of the studs found behind a strip; a stud that nobody found is no place for a hole."""
    return [x for x in wall.studs if strip.x + 10 <= x <= strip.right - 10]


def plate_to_studs(spacing: float, overlap: float) -> float:
    """The least width of a wall plate that reaches two studs wherever it hangs between them [mm]: spacing + an overlap each side.

    A narrower one meets two studs only by luck: plywood or a nogging is let in behind it.
    """
    return spacing + 2 * overlap


def board_alone(kn_per_m: float, limits: Limits) -> str:
    """What a metal-stud wall needs behind a line of load [kN/m] no further than 0.3 m from its face. DIN 18183-1.

    "single" boarding, "double" boarding, "rails" built in across the studs, or "floor": it does not hang there.
    """
    for name, limit in (
        ("single", "stud_line_load"),
        ("double", "stud_line_double"),
        ("rails", "stud_line_cross"),
    ):
        if kn_per_m <= limits.value(f"structure.{limit}") + 1e-9:
            return name
    return "floor"


def stud_line(layers: int | None, limits: Limits) -> Limit:
    """What a metal-stud wall takes along a line of load by its layers of boarding a side: one where nobody said. DIN 18183-1."""
    return limits["structure.stud_line_double" if (layers or 1) > 1 else "structure.stud_line_load"]


def in_backer(hole: Point2, anchor: Anchor, wall: Wall) -> bool:
    """Whether a hole lies in a backer that is in the wall, as far from its edge as the fixing asks."""
    x, z = hole
    e = anchor.edge - 0.01
    return any(b.x + e <= x <= b.right - e and b.z + e <= z <= b.top - e for b in wall.backers)


def backer_box(holes: tuple[Point2, ...], wall: Wall, limits: Limits) -> Box:
    """The backer to let in behind these holes: beyond the outermost, on either side to the next stud where one is near."""
    over = limits.value("carcass.backer_over")
    xs, zs = [x for x, _ in holes], [z for _, z in holes]
    left = max((x for x in wall.studs if x <= min(xs) - over), default=0.0)
    right = min((x for x in wall.studs if x >= max(xs) + over), default=wall.width)
    left = left if min(xs) - left <= wall.stud_spacing else min(xs) - over
    right = right if right - max(xs) <= wall.stud_spacing else max(xs) + over
    left, right = max(left, 0.0), min(right, wall.width)
    low = max(min(zs) - over, 0.0)
    return Box(left, low, right - left, max(zs) + over - low)


def joined(boxes: list[Box]) -> tuple[Box, ...]:
    """Backers that would overlap made one."""
    out: list[Box] = []
    for box in boxes:
        while meets := [other for other in out if other.meets(box)]:
            for other in meets:
                out.remove(other)
                x, z = min(box.x, other.x), min(box.z, other.z)
                box = Box(x, z, max(box.right, other.right) - x, max(box.top, other.top) - z)
        out.append(box)
    return tuple(out)
