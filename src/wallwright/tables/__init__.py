"""Lists as titled tables, one file a list; each a function of the wall."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from wallwright.core.finding import Finding
from wallwright.core.table import Table
from wallwright.tables.budget import cost_split, price_range
from wallwright.tables.circuits import circuits, loads
from wallwright.tables.cut_list import cut_list
from wallwright.tables.findings import findings_table
from wallwright.tables.fixings import fixings
from wallwright.tables.handover import commissioning, snags, variations
from wallwright.tables.hardware import hardware, hardware_order
from wallwright.tables.items import bill
from wallwright.tables.lights import lights
from wallwright.tables.look import beside_screen, dusting, palettes, surfaces, switch_legend, two_walls
from wallwright.tables.materials import boards, care, edge_bands
from wallwright.tables.measures import measured
from wallwright.tables.no_drill import no_drill
from wallwright.tables.plugs import plugs
from wallwright.tables.points import points
from wallwright.tables.programme import programme
from wallwright.tables.quote import quote
from wallwright.tables.reach import reach
from wallwright.tables.runs import runs
from wallwright.tables.scope import scope
from wallwright.tables.screen_room import captions, carton_route, later_screen, sight_line_table
from wallwright.tables.screens import screens
from wallwright.tables.screens_by_seats import screens_by_seats, screens_ranked
from wallwright.tables.seats import seats
from wallwright.tables.sheets import sheets
from wallwright.tables.shelves import shelves
from wallwright.tables.stages import stages
from wallwright.tables.storage import storage, storage_levels

if TYPE_CHECKING:
    from wallwright.derive import Wall

EVERY = (
    measured, screens, screens_ranked, screens_by_seats, later_screen, seats, captions, sight_line_table, carton_route,
    points, loads, circuits, runs, no_drill, plugs, reach, storage, storage_levels, cut_list, sheets, boards, edge_bands, hardware,
    hardware_order, shelves, fixings, lights, switch_legend, beside_screen, surfaces,
    two_walls, palettes, dusting, care, bill, quote, cost_split, price_range, scope, stages, variations, programme,
    commissioning, snags,
)  # fmt: skip


def all_tables(wall: Wall, findings: Iterable[Finding] = ()) -> tuple[Table, ...]:
    """Every list of the wall in the trade's order, the findings first; a list with nothing in it is left out."""
    made = (findings_table(findings), *(make(wall) for make in EVERY))
    return tuple(table for table in made if table.rows)
