"""The air the joinery lives in: as surveyed, else as the climate usually has it."""

from __future__ import annotations

from dataclasses import dataclass

from wallwright.carcass.moisture import moisture
from wallwright.core.limit import Limits
from wallwright.job.document import Job
from wallwright.library import load


@dataclass(frozen=True, slots=True)
class Climate:
    """temperature [°C] · low, high : relative humidity through the year (0..1) · assumed : nobody has measured it."""

    temperature: float
    low: float
    high: float
    assumed: bool

    def swing(self, board: str) -> float:
        """Between its driest and its dampest the moisture content of a board changes by so many per cent."""
        return self.moisture(board, self.high) - self.moisture(board, self.low)

    def moisture(self, board: str, humidity: float) -> float:
        """The moisture content [%] that a board of the library comes to at that humidity."""
        return moisture(load.kind_of(board).sorption, self.temperature, humidity)


def climate_of(job: Job, limits: Limits) -> Climate:
    """The room's: what is surveyed, the rest as usual for a humid or another climate."""
    room = job.survey.room
    usual = "humid" if job.survey.place.hot_humid else "usual"
    low, high, warm = (limits.value(f"materials.{name}_{usual}") for name in ("low", "high", "temperature"))
    given = (room.humidity_low, room.humidity_high)
    low = given[0] if given[0] is not None else min(low, given[1] if given[1] is not None else low)
    high = given[1] if given[1] is not None else max(high, low)
    temperature = room.temperature if room.temperature is not None else warm
    return Climate(temperature, low, high, None in given)
