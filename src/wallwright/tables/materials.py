"""What the wall is made of: boards with what they bear, faces with how they are cleaned, edge bands, and the air they live in."""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING

from wallwright.carcass.climate import climate_of
from wallwright.carcass.emission import asked, ordered
from wallwright.core.table import Column, Table
from wallwright.library import load

if TYPE_CHECKING:
    from wallwright.derive import Wall

M2 = 1e6
DAMP = {1: "dry", 2: "humid", 3: "exterior"}
WIPE = {
    "wet": "wet cloth",
    "damp": "damp cloth, pH-neutral",
    "dry": "dry brush or duster",
    "vacuum": "soft vacuum brush",
}


def boards(wall: Wall) -> Table:
    """Each board that is used: its names, class, what to order, and how much moisture it takes up through the year."""
    limits, rows = wall.limits, load.boards()
    area: dict[str, float] = defaultdict(float)
    for part in wall.carcass.parts:
        if part.board in rows:
            area[part.board] += part.length * part.width / M2
    columns = (
        Column("Board"), Column("Also called"), Column("Used", "m²", 2, "right"), Column("Mass", "kg/m²", 1, "right"),
        Column("Standard"), Column("Made for"), Column("Reaction to fire, bare"), Column("Moisture, driest weeks", "%", 1, "right"),
        Column("Moisture, dampest weeks", "%", 1, "right"), Column("Grows across", "mm a m", 1, "right"),
    )  # fmt: skip
    if not area:
        return Table("boards", "Boards", columns, ())
    climate, chosen, need = climate_of(wall.job, limits), ordered(wall.job, limits), asked(wall.job, limits)
    made = tuple(
        (
            rows[key].name, ", ".join(load.kind_of(key).synonyms[:3]), used, rows[key].thickness * rows[key].density / 1000,
            load.kind_of(key).standard, DAMP[round(load.kind_of(key).damp_class)], load.kind_of(key).fire,
            climate.moisture(key, climate.low), climate.moisture(key, climate.high),
            10 * load.kind_of(key).moves_across * climate.swing(key),
        )
        for key, used in sorted(area.items())
    )  # fmt: skip
    notes = (
        f"Order every board in formaldehyde class {chosen.name} ({chosen.most:g} mg/m³ by EN 717-1)"
        + (f": {need.why}." if need.why else ".")
        + " Seal all edges and holes; air the room after fitting.",
        f"Air {climate.low:.0%} to {climate.high:.0%} at {climate.temperature:.0f} °C"
        + (", assumed by the climate: measure it." if climate.assumed else ", as surveyed."),
        "Sanding dust of fibreboard: extraction and mask.",
    )
    return Table("boards", "Boards", columns, made, notes)


def care(wall: Wall) -> Table:
    """Each finish that is seen: how it is cleaned, what it must be kept from, whether it is sealed."""
    columns = (
        Column("Finish"), Column("Where"), Column("Clean with"), Column("Light fastness", "blue wool", 0, "right"),
        Column("Heat to", "°C", 0, "right"), Column("Seal"),
    )  # fmt: skip
    names = {row.name: key for key, row in load.finishes().items()}
    where: dict[str, list[str]] = defaultdict(list)
    for seen in wall.look.surfaces:
        if seen.area > 0 and seen.name in names:
            where[names[seen.name]].append(seen.ref)
    rows = tuple(
        (
            load.finishes()[key].name, ", ".join(refs), WIPE[load.face_of(key).wipe], load.face_of(key).fade,
            load.face_of(key).heat, "after fixing, breathing sealer; renew" if load.finishes()[key].seal else "",
        )
        for key, refs in where.items()
    )  # fmt: skip
    return Table("care", "Finishes and their care", columns, rows)


def edge_bands(wall: Wall) -> Table:
    """Each edge band that is used: metres, what it is, the tightest curve it goes round."""
    run: dict[str, float] = defaultdict(float)
    for part in wall.carcass.parts:
        for band, length in zip(part.edges, (part.length, part.length, part.width, part.width), strict=True):
            if band:
                run[band] += length / 1000
    columns = (
        Column("Edge"), Column("Also called"), Column("Of"), Column("Run", "m", 1, "right"),
        Column("Least radius", "mm", 0, "right"), Column("Heat to", "°C", 0, "right"),
    )  # fmt: skip
    known = load.edges()
    rows = tuple(
        (
            known[key].name, ", ".join(known[key].synonyms[:2]), known[key].material, metres, known[key].least_radius,
            known[key].heat,
        )
        for key, metres in sorted(run.items())
        if key in known
    )  # fmt: skip
    return Table("edge_bands", "Edge bands", columns, rows)
