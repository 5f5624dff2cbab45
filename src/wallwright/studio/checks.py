"""What a trade reads, ticks and measures on site: its sheets, and a line for each thing that it sets or makes.

Which sheets go to whom, `sheets.roles` says; the values are the wall's own.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from wallwright.derive import Wall
from wallwright.export.svg import drawing_svg, sheet_svg
from wallwright.sheets import roles
from wallwright.sheets.paper import Sheet
from wallwright.sheets.roles import Role
from wallwright.sheets.words import point_words, unit_words
from wallwright.studio.elevation import elevation
from wallwright.studio.seen import View
from wallwright.studio.sheets import made

PICTURE_SCALE = 20.0


@dataclass(frozen=True, slots=True)
class Check:
    """A thing to check on site. values : what is drawn, by name [mm]."""

    key: str
    says: str
    values: Mapping[str, float] = field(default_factory=dict[str, float])


def sheets_for(view: View, role: Role) -> tuple[Sheet, ...]:
    """The sheets that go to a role, in the order in which it reads them."""
    return roles.sheets_for(role, made(view))


def checks_for(wall: Wall, role: Role) -> list[Check]:
    """The lines that a role ticks, in the order of the drawing."""
    return list(_checks(wall, role))


def _checks(wall: Wall, role: Role) -> Iterator[Check]:
    screen = wall.sight.screen
    if role in ("electrician", "screen_fitter", "site_engineer"):
        for point in wall.services.points:
            kind = point_words(point.kind)
            values = {"x": round(point.x, 1), "z": round(point.z, 1)}
            yield Check(point.ref, f"{point.ref} {kind}: middle of its box", values)
    if role in ("screen_fitter", "site_engineer"):
        x, z = screen.centre
        yield Check("screen", "Screen: middle of its picture", {"x": round(x, 1), "z": round(z, 1)})
    if role in ("carpenter", "site_engineer"):
        for unit in wall.setout.units:
            box = unit.box
            values = {"x": box.x, "z": box.z, "width": box.width, "height": box.height, "depth": unit.depth}
            yield Check(unit.ref, f"{unit.ref} {unit_words(unit.kind)}: left end, underside, sizes",
                        {name: round(value, 1) for name, value in values.items()})  # fmt: skip
    if role in ("carpenter", "stone", "site_engineer"):
        for zone in wall.setout.zones:
            values = {"x": zone.box.x, "z": zone.box.z, "width": zone.box.width, "height": zone.box.height}
            yield Check(zone.ref, f"{zone.ref} {zone.kind.replace('_', ' ')}: left edge, lower edge, sizes",
                        {name: round(value, 1) for name, value in values.items()})  # fmt: skip


def picture(wall: Wall) -> str:
    """The elevation as a link shows it."""
    return drawing_svg(elevation(wall, PICTURE_SCALE), 1.0)


def seen(view: View, *, price: bool) -> tuple[str, tuple[Sheet, ...]]:
    """The SHA-256 of all that a client is shown (the elevation, each sheet, the price where it is shown), and the sheets."""
    wall, shown = view.wall, sheets_for(view, "client")
    parts = [wall.job.revision, picture(wall), *(sheet_svg(sheet) for sheet in shown)]
    parts.append(wall.money.shown(wall.money.total) if price else "")
    return hashlib.sha256(json.dumps(parts, ensure_ascii=False).encode("utf-8")).hexdigest(), shown
