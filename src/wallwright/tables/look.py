"""What one sees of the wall, in numbers: its faces, the light round the screen, the two walls against each other, dusting."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wallwright.core.table import Column, Table
from wallwright.library import load

if TYPE_CHECKING:
    from wallwright.derive import Wall

M2 = 1e6
NOT_VALIDATED = "Measured terms, our thresholds: no published model says which of two walls leads. Read it as a hint, not a verdict."
_TERMS = (
    ("Colour difference from its ground", "ΔE00 by area"),
    ("Edges that one sees", "m a m²"),
    ("Light of the wall over the room's", "times"),
    ("Mix of finishes (entropy)", "bit"),
)
_STAR = {"this": "this wall leads", "other": "the wall behind the seats leads", "": "neither leads"}


def surfaces(wall: Wall) -> Table:
    """Every face that is seen, with its colour in CIELAB and its light reflectance value (estimated from sRGB)."""
    rows = tuple(
        (s.ref, s.name, s.area / M2, s.colour, *s.lab, s.reflectance, s.gloss)
        for s in wall.look.surfaces
        if s.area > 0
    )
    columns = (
        Column("Face"), Column("Finish"), Column("Area", "m²", 2, "right"), Column("Colour"), Column("L*", "", 1, "right"),
        Column("a*", "", 1, "right"), Column("b*", "", 1, "right"), Column("LRV", "", 0, "right"), Column("Gloss"),
    )  # fmt: skip
    return Table(
        "surfaces",
        "Faces and colours",
        columns,
        rows,
        ("LRV estimated from the screen colour: expect ±2 points.",),
    )


def beside_screen(wall: Wall) -> Table:
    """What lies round the picture by day, in the evening and in the dark, against the picture's white."""
    rows = tuple((b.when, b.room_lux, b.room, b.bias, b.luminance, 100 * b.share) for b in wall.light.beside)
    columns = (
        Column("When"), Column("Room", "lx", 0, "right"), Column("By the room", "cd/m²", 1, "right"),
        Column("By the bias light", "cd/m²", 1, "right"), Column("Together", "cd/m²", 1, "right"),
        Column("Of the picture's white", "%", 1, "right"),
    )  # fmt: skip
    return Table(
        "beside_screen",
        "Beside the screen",
        columns,
        rows,
        ("A tenth of the picture's white suits the eye.",),
    )


def two_walls(wall: Wall) -> Table:
    """This wall against the one behind the seats, term by term, with the screen off and on."""
    columns = (
        Column("Measured"), Column("In"), Column("Screen off", "", 2, "right"), Column("Screen on", "", 2, "right"),
        Column("Wall behind the seats", "", 2, "right"), Column("This wall's share, off", "%", 0, "right"),
        Column("This wall's share, on", "%", 0, "right"),
    )  # fmt: skip
    found = wall.look.two_walls
    if found is None:
        return Table("two_walls", "The two walls", columns, ())
    rows = tuple(
        (name, unit, off, on, other, 100 * share_off, 100 * share_on)
        for (name, unit), off, on, other, share_off, share_on in zip(
            _TERMS,
            found.off.each,
            found.on.each,
            found.other.each,
            found.dominance_off,
            found.dominance_on,
            strict=True,
        )
    )
    known = (
        ""
        if found.measured
        else "The wall behind the seats is not measured: its terms are taken from one word."
    )
    says = f"Screen off: {_STAR[found.star_off]}. Screen on: {_STAR[found.star_on]}."
    return Table(
        "two_walls",
        "The two walls",
        columns,
        rows,
        tuple(note for note in (says, known, NOT_VALIDATED) if note),
    )


def palettes(wall: Wall) -> Table:
    """How near the wall's finishes are to each palette of ours, nearest first."""
    known = load.palettes()
    rows = tuple((known[key].name, distance) for key, distance in wall.look.palettes)
    columns = (Column("Palette"), Column("Mean difference", "ΔE00", 1, "right"))
    return Table("palettes", "Palettes, nearest first", columns, rows)


def dusting(wall: Wall) -> Table:
    """What each face costs in cleaning: an estimate."""
    rows = tuple((c.ref, c.factor, c.area, c.high, c.minutes) for c in wall.look.cleaning)
    columns = (
        Column("Face"), Column("Times a flat face", "", 2, "right"), Column("Area", "m²", 2, "right"),
        Column("Out of reach", "m²", 2, "right"), Column("A month", "min", 0, "right"),
    )  # fmt: skip
    return Table("dusting", "Dusting, an estimate", columns, rows)


def switch_legend(wall: Wall) -> Table:
    """What is switched and dimmed together."""
    rows = tuple(
        (
            c.ref,
            ", ".join(c.runs),
            c.watts,
            ", ".join(f"{colour:.0f}" for colour in c.colours),
            100 * c.dim_low,
        )
        for c in wall.light.circuits
    )
    columns = (
        Column("Switch"), Column("Strips"), Column("Load", "W", 1, "right"), Column("Colour", "K"),
        Column("Must dim to", "%", 1, "right"),
    )  # fmt: skip
    return Table("switch_legend", "Switch legend of the strips", columns, rows)
