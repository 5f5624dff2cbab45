"""What each gate waits for: the signatures before it, what is assumed or untested, and the findings that must be put right first."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from wallwright.job.edits_progress import held_up
from wallwright.rules.check import MUST

if TYPE_CHECKING:
    from wallwright.core.finding import Finding
    from wallwright.derive import Wall

FIRST = {"survey": "G1", "sight": "G2", "screen": "G2"}
"""By trade the first gate that a finding which must be put right holds up; all others hold up cutting, G3. Common practice."""
WAY_IN = frozenset({"carcass.carried_in", "carcass.tilt_up", "screen.way_in"})
"""What proves the delivery route, G4."""


@dataclass(frozen=True, slots=True)
class Standing:
    """A gate: signed by whom and when ("" where it is not), and what it waits for, the nearest first."""

    ref: str
    name: str
    signed: str
    waits: tuple[str, ...]


def gates(wall: Wall, findings: tuple[Finding, ...]) -> tuple[Standing, ...]:
    """G0 to G6 in their order. A gate that is signed may still wait: what changed since is told. Source: common practice."""
    signed = {gate.ref: f"{gate.by}, {gate.date}" for gate in wall.job.progress.gates}
    return tuple(
        Standing(
            gate.ref, gate.name, signed.get(gate.ref, ""), tuple(_waits(wall, gate.ref, findings, signed))
        )
        for gate in wall.programme.gates
    )


def _waits(wall: Wall, ref: str, findings: tuple[Finding, ...], signed: dict[str, str]) -> Iterator[str]:
    before = [gate.ref for gate in wall.programme.gates if gate.ref < ref and gate.ref not in signed]
    if before:
        yield f"{', '.join(before)} to be signed"
    yield from _open(wall, ref)
    if held := held_up(wall.job, ref):
        yield held
    must = [item for item in findings if item.severity in MUST and _first(item.rule) == ref]
    yield from (f"{item.where}: {item.says}" for item in must)


def _first(rule: str) -> str:
    return "G4" if rule in WAY_IN else FIRST.get(rule.partition(".")[0], "G3")


def _open(wall: Wall, ref: str) -> Iterator[str]:
    """What is simply not there yet."""
    job = wall.job
    if ref == "G0" and not job.survey.seats:
        yield "no seat is surveyed yet"
    if ref == "G2" and job.design.screen.diagonal is None:
        yield "the screen's size is open"
    if ref == "G3" and job.progress.points == "drawn":
        yield "the first fix is not set"
    if ref == "G5" and not job.progress.tested:
        yield "no test is recorded"
    if ref == "G6" and (
        waiting := [one.ref for one in job.progress.variations if one.state in ("draft", "priced")]
    ):
        yield f"variation {waiting[0]} is neither signed nor refused"
