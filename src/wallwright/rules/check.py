"""Run every rule over a wall, worst first; say which gate the wall has reached."""

from __future__ import annotations

from contextlib import nullcontext

from wallwright.core.finding import SEVERITIES, Finding
from wallwright.derive import Wall
from wallwright.rules import (
    backing,
    bearing,
    behind,
    carcass,
    circuits,
    clash,
    conduits,
    curves,
    fittings,
    heat,
    heaters,
    leads,
    light,
    light_beside,
    light_way,
    links,
    look,
    look_line,
    making,
    materials,
    materials_faces,
    order,
    outlets,
    panelling,
    plate,
    reach,
    reflections,
    runs,
    runs_drilled,
    screen,
    screen_height,
    seats,
    services,
    sight,
    standing,
    storage,
    structure,
    structure_rented,
    survey,
    units,
)
from wallwright.rules.registry import RULES, untried

FILES = (
    survey, seats, screen_height, sight, reflections, screen, behind, services, outlets, runs, runs_drilled, conduits, links, leads,
    circuits, reach, heat, heaters, standing, carcass, clash, units, fittings, panelling, storage, structure, structure_rented, plate,
    backing, bearing, materials, materials_faces, curves, light, light_way, light_beside, look, look_line, making,
    order,
)  # fmt: skip
"""Rule files in the trade's order: their rules enter the list as they are imported."""

MUST = ("danger", "fix")


def check(wall: Wall, *, cures: bool = True) -> tuple[Finding, ...]:
    """All findings, worst first, in the trade's order among equals.

    cures : False leaves empty the cures that are found by trying them on the wall, for who does not ask for them (yet); the findings
    are the same
    """
    with nullcontext() if cures else untried():
        found = [finding for rule in RULES.values() for finding in rule.find(wall)]
    return tuple(sorted(found, key=lambda finding: SEVERITIES.index(finding.severity)))


def exit_code(findings: tuple[Finding, ...]) -> int:
    """0 where nothing must be fixed, else 1."""
    return 1 if any(finding.severity in MUST for finding in findings) else 0


def gate(wall: Wall, findings: tuple[Finding, ...]) -> str:
    """The furthest gate the wall has reached.

    G0 brief · G1 survey closed · G2 screen and height frozen · G3 ready for cutting. A gate holds when what it rests on is
    known and nothing before it must be fixed; people still sign it. Source: common practice.
    """
    blocked = {finding.rule.partition(".")[0] for finding in findings if finding.severity in MUST}
    survey_open = wall.face.assumed or not wall.job.survey.room.floor_finished or "survey" in blocked
    if not wall.job.survey.seats:
        return "G0: no seat is surveyed yet"
    if survey_open:
        return "G0: the survey is not closed"
    if blocked & {"sight", "screen"} or wall.job.design.screen.diagonal is None:
        return "G1: survey closed, screen and height not frozen"
    if blocked or not wall.job.survey.finish_complete:
        return "G2: screen and height may be signed; something else is still open"
    return "G3: nothing on paper is open; sign it, verify the first fix on site, then cut"
