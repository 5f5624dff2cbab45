"""All sheets of a wall, numbered, in the order in which the trades need them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wallwright.sheets import cutting, elevation, joinery, panels, section, services
from wallwright.sheets.paper import Sheet, numbered

if TYPE_CHECKING:
    from wallwright.cutting.record import CutPlans
    from wallwright.derive import Wall


def drawing_set(wall: Wall, cuts: CutPlans | None = None) -> tuple[Sheet, ...]:
    """Elevation, section, services, joinery, cutting plans. cuts : better cutting plans than the wall's quick ones."""
    return numbered(
        (
            elevation.sheet(wall),
            section.sheet(wall),
            services.sheet(wall),
            *joinery.sheets(wall),
            *panels.sheets(wall),
            *cutting.sheets(wall, cuts),
        )
    )
