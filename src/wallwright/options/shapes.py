"""The shapes of a wall, in the client's words: a shelf, a console, towers, a framed, fluted or stone field, niches, a full wall."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from wallwright.options import outlines, outlines_tall

if TYPE_CHECKING:
    from wallwright.options.outlines import Parts
    from wallwright.options.site import Site

ACCENTS = frozenset({"framed", "fluted", "stone", "arched"})
"""Shapes that ask to be looked at: one star only, and none where the wall behind the seats is heavy. Source: common practice."""


@dataclass(frozen=True, slots=True)
class Shape:
    """A way to build the wall, in the client's words, and how it is set out. weight : how much is
    built, 0 to 1 · directions : those it is shown in · kinds : of its units · panel : kind of its panel, "" for none.
    """

    key: str
    name: str
    get: str
    give_up: str
    weight: float
    directions: tuple[str, ...]
    kinds: tuple[str, ...]
    panel: str
    make: Callable[[Site], Iterator[Iterator[Parts]]]


SHAPES = (
    Shape("shelf", "Low shelf", "A low open shelf for the boxes and room all round: the least that is built",
          "Storage: what lies about today still will; boxes are seen and dusted",
          0.1, ("plain",), ("shelf",), "", outlines.low_shelf),
    Shape("floating", "Small floating console", "A small console that hangs clear of the floor: easy to clean under, light to look at",
          "Most storage; the wall itself stays painted",
          0.2, ("plain", "wood"), ("console",), "", outlines.floating),
    Shape("drawers", "Console of drawers", "Drawers for what lies about, boxes in open bays where they stay cool",
          "Tall things, books and games in number stay elsewhere",
          0.4, ("plain", "wood", "relief"), ("console",), "flat", outlines.drawers),
    Shape("framed", "Framed field", "A papered field between slim strips that holds the screen as a frame holds a picture",
          "Paper is not for greasy hands; no more storage than the console has",
          0.45, ("plain", "wood"), ("console",), "framed", outlines.framed),
    Shape("recessed", "Screen in a niche", "The screen set in a niche of boards: its edge and its cables do not show",
          "A larger screen later needs a new niche",
          0.45, ("plain", "wood"), ("console", "niche"), "", outlines.recessed),
    Shape("fluted", "Fluted field", "A fluted field from the console to the ceiling: depth and shadow, the one thing to look at",
          "Grooves hold dust and are wiped along each one",
          0.5, ("relief",), ("console",), "fluted", outlines.fluted),
    Shape("stone", "Stone field", "A thin stone facing behind the screen, light on the wall but real to the touch: the one thing to look at",
          "It must be sealed, and costs more by the square metre than anything beside it",
          0.55, ("relief",), ("console",), "stone_veneer", outlines.stone),
    Shape("arched", "Arched niches", "Two arched niches, one on each side, for what is worth showing: soft lines",
          "They show things and hide none; arches take the workshop longer",
          0.55, ("plain", "wood"), ("console", "arched_niche", "arched_niche"), "flat", outlines.arched),
    Shape("one_tower", "Console and one tower", "One tall unit for books and boxes, and a console of drawers: an easy, open wall",
          "The two sides do not mirror each other",
          0.6, ("plain", "wood", "relief"), ("console", "tower"), "flat", outlines_tall.one_tower),
    Shape("towers", "Console between two towers", "Storage to the height of a door on both sides: the wall is one piece of furniture",
          "Money and floor, and a wall that leads the room",
          0.8, ("plain", "wood", "relief"), ("console", "tower", "tower"), "flat", outlines_tall.two_towers),
    Shape("full_wall", "Full wall", "Storage from end to end and over the screen: the most that this wall can hold",
          "The most money, the longest wait, and no bare wall left",
          1.0, ("plain", "wood"), ("console", *("tower",) * 8, "loft"), "flat", outlines_tall.full_wall),
)  # fmt: skip
"""All shapes, the least built first."""


GIVEN = Shape("given", "The wall as designed", "The wall that the design gives, as it stands there",
              "What the other options offer", 0.5, ("plain", "wood", "relief"), (), "", outlines.as_given)  # fmt: skip
"""Where the design gives more than any shape has a place for."""
