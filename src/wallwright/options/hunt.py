"""The search over shapes, screens and directions of style: each shape set out, made sound, and faced in what the room bears."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from itertools import islice
from typing import TYPE_CHECKING

from wallwright.derive import derive
from wallwright.options.directions import Direction, directions, dressed, heavy_behind
from wallwright.options.held import broken
from wallwright.options.interiors import interiors
from wallwright.options.outlines import Parts, composed, in_turn, placed
from wallwright.options.settle import Sound, Trials, inherited, settle
from wallwright.options.shapes import ACCENTS, GIVEN, SHAPES, Shape
from wallwright.options.site import Site, site_of, sizes_of
from wallwright.options.worth import Scores, kept_run, scores_of

if TYPE_CHECKING:
    from wallwright.job.design import Design
    from wallwright.job.document import Job

VARIANTS = 8
"""Variants of a shape that are tried before it is given up."""
COMPARED = 2
"""Sound variants with towers that are compared by what they hold, where the first does not hold all."""
TRIES = 12
"""Walls derived for one shape and screen, after which no further variant is begun."""
SEARCH_ORDER = (
    "drawers",
    "towers",
    "floating",
    "one_tower",
    "stone",
    "fluted",
    "framed",
    "recessed",
    "arched",
    "full_wall",
    "shelf",
)
"""Shapes in the order in which they are tried: what suits most homes first, so that something can be shown soon."""


@dataclass(frozen=True, slots=True)
class Candidate:
    """A sound wall in the search, before words and the issued price."""

    shape: Shape
    direction: Direction
    sound: Sound
    scores: Scores

    @property
    def price(self) -> int:
        """By the quick cutting plans, which never buy less than the issued ones [minor units]."""
        return self.sound.wall.money.total


@dataclass(frozen=True, slots=True)
class Progress:
    """How far a search is. shown : a first sound wall within the budget, the moment it is found."""

    done: int
    of: int
    says: str
    shown: Candidate | None = None


class Stopped(Exception):  # noqa: N818
    """The asker has gone."""


Report = Callable[[Progress], object]
"""Told how far the search is; False stops it."""


class Search:
    """One search over shapes, screens and directions."""

    def __init__(self, job: Job, progress: Report | None = None) -> None:
        self.job = job
        self.progress = progress
        self.site = site_of(job)
        self.sizes = sizes_of(self.site)
        self.trials = Trials()
        self.given = inherited(self.site.bare, self.trials)
        self.found: list[Candidate] = []
        self.dropped: dict[str, str] = {}
        self.shown = False
        self.done = 0
        self.shapes = self._shapes()

    @property
    def budget(self) -> int:
        """The budget in minor units; 0 where there is none."""
        return self.site.bare.money.budget

    @property
    def within(self) -> list[Candidate]:
        """The sound walls that the budget allows."""
        return [one for one in self.found if not self.budget or one.price <= self.budget]

    @property
    def least(self) -> int:
        """The price of the least dear sound wall; 0 where there is none."""
        return min((one.price for one in self.found), default=0)

    def _shapes(self) -> list[Shape]:
        """Those that what the design gives can be a part of, and that the room bears; else the wall as it is given."""
        design = self.job.design
        units = Counter(unit.kind for unit in design.units)
        fit = [
            shape
            for key in SEARCH_ORDER
            for shape in SHAPES
            if shape.key == key and units <= Counter(shape.kinds)
        ]
        if design.panels:
            fit = [shape for shape in fit if all(panel.kind == shape.panel for panel in design.panels)]
        given = bool(design.units or design.panels)
        fit = [shape for shape in fit if given or not self._too_loud(shape)]
        return fit or [GIVEN]

    def _too_loud(self, shape: Shape) -> bool:
        return shape.key in ACCENTS and heavy_behind(self.job) == "heavy"

    def directions_of(self, shape: Shape) -> list[Direction]:
        """The directions that a shape is shown in; no relief where the wall behind the seats is heavy."""
        heavy = heavy_behind(self.job) == "heavy"
        return [
            row
            for key, row in directions().items()
            if key in shape.directions and not (heavy and key == "relief")
        ]

    def run(self) -> None:
        """Each shape with the largest of the screens that it can be made sound with; where nothing comes within the budget, with the
        smaller ones too.
        """
        sites = [self.site]
        left = {shape.key: 1 for shape in self.shapes}
        for shape in self.shapes:
            for number in range(max(1, len(self.sizes))):
                if number == len(sites):
                    sites.append(self._smaller(self.sizes[number].diagonal))
                left[shape.key] = number + 1
                if self.over(sites[number], shape):
                    break
            self.tell(shape.name)
        for number in range(1, len(self.sizes)):
            if self.within:
                break
            if number == len(sites):
                sites.append(self._smaller(self.sizes[number].diagonal))
            for shape in self.shapes:
                if left[shape.key] <= number:
                    self.over(sites[number], shape)

    def _smaller(self, diagonal: float) -> Site:
        site = site_of(self.job, diagonal)
        self.given |= inherited(site.bare, self.trials)
        return site

    def over(self, site: Site, shape: Shape) -> bool:
        """One shape: its first sound variant, in each of its directions. Whether there is one."""
        base = self.sound(site, shape)
        if base is None:
            return False
        made = [self.faced(base, shape, direction) for direction in self.directions_of(shape)]
        return any(made)

    def sound(self, site: Site, shape: Shape) -> Sound | None:
        """The first variant of a shape that can be made sound; None, with the reason kept, where none can."""
        reason, begun = "there is no room for it", self.trials.count
        best: Sound | None = None
        seen = 0
        for parts in islice(_buildable(site, shape), VARIANTS):
            devices = placed(site.job.brief.devices, towers=parts.towers)
            job = site.bare.job
            job = replace(job, design=composed(kept(site), parts), brief=replace(job.brief, devices=devices))
            made = settle(job, self.given, self.trials)
            if isinstance(made, Sound) and not broken(self.job.design, made.wall.job.design):
                seen += 1
                if best is None or kept_run(made.wall) > kept_run(best.wall) + 1:
                    best = made
                if not best.wall.storage.leftovers or not parts.towers or seen == COMPARED:
                    break
            elif isinstance(made, Sound):
                reason = "it would move what the design gives"
            elif made is not None:
                reason = made.says
            self.tell("")
            if self.trials.count - begun >= TRIES:
                break
        if best is None:
            self.dropped.setdefault(shape.key, reason)
            return None
        self.dropped.pop(shape.key, None)
        return self.fuller(best)

    def fuller(self, made: Sound) -> Sound:
        """The same wall with its towers divided so that more of the things find a place; as it is where all of them do."""
        best = made
        for units in interiors(made.wall.job.design.units, {unit.ref for unit in self.job.design.units}):
            if not best.wall.storage.leftovers:
                break
            job = made.wall.job
            other = settle(replace(job, design=replace(job.design, units=units)), self.given, self.trials)
            if isinstance(other, Sound) and kept_run(other.wall) > kept_run(best.wall) + 1:
                best = replace(other, cures=(*made.cures, *other.cures))
        return best

    def faced(self, base: Sound, shape: Shape, direction: Direction) -> Candidate | None:
        """The wall in a direction's finishes, sound still; None where its place allows none or it comes out unsound."""
        job = dressed(base.wall, direction)
        if job is None:
            return None
        made = settle(job, self.given, self.trials)
        if not isinstance(made, Sound) or broken(self.job.design, made.wall.job.design):
            return None
        whole = replace(made, cures=(*base.cures, *made.cures))
        one = Candidate(shape, direction, whole, scores_of(made.wall, made.findings, shape, direction))
        if all(one.sound.wall.job.design != other.sound.wall.job.design for other in self.found):
            self.found.append(one)
            self.tell(f"{shape.name}, {direction.name.lower()}", one)
        return one

    def tell(self, says: str, one: Candidate | None = None) -> None:
        """Report; stop where the asker says so. The first sound wall within the budget is shown."""
        if self.progress is None:
            return
        self.done += bool(says and one is None)
        first = (
            one
            if one is not None and not self.shown and (not self.budget or one.price <= self.budget)
            else None
        )
        self.shown = self.shown or first is not None
        if self.progress(Progress(min(self.done, len(self.shapes)), len(self.shapes), says, first)) is False:
            raise Stopped

    def in_all_directions(self) -> list[Candidate]:
        """One outline in each direction: of the shapes with a panel the first that is sound in all of them; relief in its own panel."""
        heavy = heavy_behind(self.job) == "heavy"
        wanted = [row for row in directions().values() if not (heavy and row.key == "relief")]
        for shape in self.shapes:
            if set(shape.directions) < {row.key for row in wanted}:
                continue
            base = self.sound(self.site, shape)
            if base is None:
                continue
            made = [
                one
                for row in wanted
                if (one := self.faced(_in_relief(base) if row.key == "relief" else base, shape, row))
            ]
            if len(made) == len(wanted):
                return made
        return []


def kept(site: Site) -> Design:
    """The design with what it gives, units, panels and lights with it, and the screen of the site."""
    return replace(site.job.design, screen=site.bare.job.design.screen)


def _buildable(site: Site, shape: Shape) -> Iterator[Parts]:
    """The variants of a shape; none more where one cannot be set out at all."""
    try:
        yield from in_turn(shape.make(site))
    except ValueError:
        return


def _in_relief(base: Sound) -> Sound:
    """The same wall with its flat panel in flutes: the same outline, but for whole flutes."""
    job = base.wall.job
    panels = tuple(
        replace(panel, kind="fluted", x=None) if panel.kind == "flat" else panel
        for panel in job.design.panels
    )
    wall = derive(replace(job, design=replace(job.design, panels=panels)))
    return replace(base, wall=wall)
