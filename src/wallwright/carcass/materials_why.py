"""The working behind the numbers of materials: the air, each board's moisture and growth, the formaldehyde class."""

from __future__ import annotations

from collections.abc import Iterable

from wallwright.carcass.climate import climate_of
from wallwright.carcass.emission import asked, ordered
from wallwright.core.limit import Limits
from wallwright.core.why import Given, Why
from wallwright.job.document import Job
from wallwright.library import load

EMC = "Wood Handbook (FPL-GTR-190) equation 4-5"
PRESSED = (
    "Facts about Particleboard and MDF (Australasian wood-panel association), middle of each printed range"
)


def whys(job: Job, boards: Iterable[str], limits: Limits) -> tuple[Why, ...]:
    """One for the air, one for the class to order, one for each board of the library that is used."""
    climate, known = climate_of(job, limits), load.boards()
    air = (
        Given("temperature", climate.temperature, "°C"),
        Given("driest", round(100 * climate.low), "% RH"),
        Given("dampest", round(100 * climate.high), "% RH"),
    )
    made = [
        Why(
            "materials.air", round(100 * climate.high), "% RH",
            "as the climate usually has it: measure it" if climate.assumed else "as surveyed", "", air,
            "the survey" if not climate.assumed else limits["materials.high_usual"].source,
            "common practice" if climate.assumed else "derived",
            pinned=not climate.assumed,
        ),
        _emission(job, limits),
    ]  # fmt: skip
    for board in sorted(set(boards) & set(known)):
        kind = load.kind_of(board)
        wood = kind.sorption == "wood"
        grows = 10 * kind.moves_across * climate.swing(board)
        inputs = (
            *air,
            Given("moisture, driest", round(climate.moisture(board, climate.low), 2), "%"),
            Given("moisture, dampest", round(climate.moisture(board, climate.high), 2), "%"),
            Given("growth a per cent", kind.moves_across, "%"),
        )
        made.append(
            Why(
                f"materials.{board}.growth", round(grows, 2), "mm a m",
                f"{known[board].name} takes moisture up from the air and grows across by so much from the driest to the dampest weeks",
                "growth × (moisture dampest − moisture driest)", inputs, f"{EMC if wood else PRESSED}; {kind.source}",
                kind.certainty,
            )
        )  # fmt: skip
    return tuple(made)


def _emission(job: Job, limits: Limits) -> Why:
    need, chosen = asked(job, limits), ordered(job, limits)
    inputs = (Given("rules", need.rules), Given("asked beside the law", need.most or "nothing", "mg/m³"))
    pinned = job.design.finishes.emission is not None
    says = "as decided" if pinned else "the least strict class that meets the law of the place"
    return Why(
        "materials.emission", chosen.most, "mg/m³", f"{says}{f'; {need.why}' if need.why else ''}", "", inputs, chosen.source,
        chosen.certainty, pinned=pinned,
    )  # fmt: skip
