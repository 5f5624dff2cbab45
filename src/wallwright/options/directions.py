"""Directions of style: what a wall is faced in, chosen by role and place; and what the client's words ask for."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cache
from importlib.resources import files
from types import MappingProxyType
from typing import TYPE_CHECKING, Any, cast

from wallwright.look.ladder import refusals
from wallwright.rules.faced import Faced, faces_of, place_of

if TYPE_CHECKING:
    from wallwright.derive import Wall
    from wallwright.job.design import Design
    from wallwright.job.document import Job

STARS = {"fluted": "fluted", "stone_veneer": "stone", "framed": "framed"}
"""Kinds of panels with finishes of their own, and where a direction keeps them."""
SHAPE_WORDS = {
    "round": "arched", "rounded": "arched", "arch": "arched", "arched": "arched", "arches": "arched", "stone": "stone",
    "marble": "stone", "fluted": "fluted", "flutes": "fluted", "ribbed": "fluted", "slats": "fluted", "niche": "recessed",
    "recessed": "recessed", "framed": "framed", "wallpaper": "framed", "floating": "floating", "towers": "towers",
    "built-in": "full_wall", "library": "full_wall",
}  # fmt: skip
"""Shapes that a client's words ask for: common practice."""


@dataclass(frozen=True, slots=True)
class Direction:
    """A direction: its finishes by role in order of choice, what one gets and gives up, and the words that ask for it."""

    key: str
    name: str
    says: str
    get: str
    give_up: str
    wall: tuple[str, ...]
    fronts: tuple[str, ...]
    beside_star: tuple[str, ...]
    panel: tuple[str, ...]
    fluted: tuple[str, ...]
    stone: tuple[str, ...]
    framed: tuple[str, ...]
    words: tuple[str, ...]
    source: str
    certainty: str

    def of(self, face: Faced, kind: str, *, star: bool) -> tuple[str, ...]:
        """Its finishes for a face in order of choice. kind : of the panel, "" of others · star : a field is looked at."""
        if face.role == "wall":
            return self.wall
        if face.role == "front":
            return self.beside_star if star else self.fronts
        return getattr(self, STARS.get(kind, "panel"))


@cache
def directions() -> Mapping[str, Direction]:
    """The directions of the library."""
    tables = tomllib.loads((files("wallwright.library") / "directions.toml").read_text("utf-8"))
    rows = {key: _direction(key, table) for key, table in tables.items()}
    return MappingProxyType(rows)


def _direction(key: str, table: Mapping[str, Any]) -> Direction:
    values: dict[str, Any] = {
        name: tuple(cast("list[str]", value)) if isinstance(value, list) else value
        for name, value in table.items()
    }
    return Direction(key, **values)


def dressed(wall: Wall, direction: Direction) -> Job | None:
    """The wall's job in the finishes of a direction: for each role the first that its place allows; what the design gives stays.

    None where a role has no finish that its place allows.
    """
    job = wall.job
    kinds = {zone.ref: zone.kind for zone in wall.setout.zones}
    star = any(kind in STARS for kind in kinds.values())
    picked: dict[tuple[str, str], list[str]] = {}
    for face in faces_of(wall):
        kind = kinds.get(face.ref, "") if face.role == "panel" else ""
        may = [
            key
            for key in direction.of(face, kind, star=star)
            if not refusals(key, face.role, place_of(wall, face))
        ]
        at = (face.role, face.ref if face.role == "panel" else "")
        picked[at] = [key for key in picked[at] if key in may] if at in picked else may
    if not all(picked.values()):
        return None
    picked.setdefault(
        ("front", ""), [direction.beside_star[0] if star else direction.fronts[0]]
    )  # of what is open, its edges
    return replace(job, design=_faced(job.design, {at: keys[0] for at, keys in picked.items()}))


def _faced(design: Design, keys: Mapping[tuple[str, str], str]) -> Design:
    """The design with these finishes where it gives none."""
    have = design.finishes
    finishes = replace(
        have, wall=have.wall or keys.get(("wall", "")), fronts=have.fronts or keys.get(("front", "")),
    )  # fmt: skip
    if have.panel is None:
        panels = tuple(
            panel if panel.finish else replace(panel, finish=keys.get(("panel", panel.ref)))
            for panel in design.panels
        )
        return replace(design, finishes=finishes, panels=panels)
    return replace(design, finishes=finishes)


def said(style: Iterable[str]) -> list[str]:
    """The words of the client's style, one by one."""
    return [word for text in style for word in re.findall(r"[a-z]+(?:-[a-z]+)?", text.casefold())]


def wished(style: Iterable[str]) -> tuple[dict[str, int], dict[str, int]]:
    """How often the client's words ask for each direction, and for each shape."""
    words = said(style)
    by_direction = {row.key: sum(word in row.words for word in words) for row in directions().values()}
    by_shape: dict[str, int] = {}
    for word in words:
        if word in SHAPE_WORDS:
            by_shape[SHAPE_WORDS[word]] = by_shape.get(SHAPE_WORDS[word], 0) + 1
    return by_direction, by_shape


def heavy_behind(job: Job) -> str:
    """How much the wall behind the seats asks to be looked at: the heavier of what brief and survey say."""
    order = ("plain", "some", "heavy")
    said = [
        job.brief.opposite_wall,
        *(wall.weight for wall in job.survey.other_walls if wall.side == "opposite"),
    ]
    return max(said, key=order.index)
