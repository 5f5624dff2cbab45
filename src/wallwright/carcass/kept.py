"""Cabinets that were made already: where one unit is changed, the others are taken as they were made."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from wallwright.carcass.cabinet import cabinet
from wallwright.carcass.made import Made, Site
from wallwright.carcass.record import UnitBox
from wallwright.core.limit import Limits
from wallwright.core.once import Once, once
from wallwright.job.brief import Brief
from wallwright.job.design import Design, SawSetting, Unit
from wallwright.job.document import Job
from wallwright.job.face import Face
from wallwright.job.survey import Survey


@dataclass(frozen=True, slots=True)
class Order:
    """All that a cabinet is made by: two orders that are alike make the same cabinet. of : survey, brief, saw and the wall's face"""

    unit: UnitBox
    asked: Unit
    of: Once[tuple[Survey, Brief, SawSetting, Face]]
    site: Site
    limits: Limits


def order(unit: UnitBox, asked: Unit, job: Job, face: Face, site: Site, limits: Limits) -> Order:  # noqa: PLR0913
    """The order for a unit of a job."""
    return Order(unit, asked, once((job.survey, job.brief, job.design.saw, face)), site, limits)


@lru_cache(maxsize=1024)
def made_of(what: Order) -> Made:
    """The cabinet, made once for each order; nobody adds to it. ValueError, naming the field, where it cannot be built."""
    # of the job the cabinet is handed what the order names and nothing else: what is not asked by cannot be kept by mistake
    survey, brief, saw, face = what.of.values
    job = Job("", survey, brief, Design(units=(what.asked,), saw=saw))
    made = Made()
    cabinet(what.unit, what.asked, job, face, what.site, made, what.limits)
    return made
