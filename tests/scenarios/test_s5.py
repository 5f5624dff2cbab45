"""A narrow wall with a column: what a tower built over it still holds. Invented; worked by hand beforehand.

By hand: the column is 250 proud, the tower 350 deep, so 100 mm are usable over it: a shallow shoe rack or small books. The program
says the same 100 where nothing but the column's own face stands behind. A door takes its thickness off that: less remains.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from wallwright.core.shape import Box
from wallwright.core.units import Length
from wallwright.job.brief import Brief, Thing
from wallwright.job.document import Job
from wallwright.job.survey import Obstacle, Reading, Survey, SurveyedWall
from wallwright.job.survey import Room as SurveyRoom
from wallwright.library import load
from wallwright.storage.plan import plan
from wallwright.storage.record import Bay, Behind, Room, Storage

LIMITS = load.limits()
COLUMN = Behind(Box(0, 0, 400, 2750), 250)
TOWER = Room(
    (Bay("T1.1", "T1", Box(18, 80, 364, 2300), 330, "open", 0, 5),), edges={"T1": 350.0}, behind=(COLUMN,)
)
THINGS = (Thing("paperback", 90), Thing("shoe_pair", 12), Thing("file_box", 6), Thing("printer", 1))


def kept(there: Room) -> Storage:
    wall = SurveyedWall((Reading(Length(0.0), Length(2850.0)),), (Reading(Length(0.0), Length(2750.0)),))
    return plan(Job("Narrow wall, invented", Survey(SurveyRoom(), wall), Brief(things=THINGS)), there, LIMITS)


def test_a_hundred_millimetres_are_usable_over_the_column() -> None:
    found = kept(TOWER)
    assert {round(level.depth, 6) for level in found.levels} == {100}
    behind_a_door = kept(replace(TOWER, edges={"T1": 350.0 - 20}))
    assert {round(level.depth, 6) for level in behind_a_door.levels} == {80}
    assert {level.depth for level in kept(replace(TOWER, behind=())).levels} == {330}


def test_what_is_too_deep_there_is_said_with_its_measure() -> None:
    found = kept(TOWER)
    said = {one.kind: (one.failing, one.short, one.count) for one in found.missing}
    assert said["paperback"] == ("depth", pytest.approx(130 + 20 - 100), 90)
    assert said["file_box"] == ("depth", pytest.approx(260 + 20 - 100), 6)
    assert said["shoe_pair"] == ("depth", pytest.approx(320 + 20 - 100), 12)
    narrow = plan(
        Job("Narrow wall, invented", kept_survey(), Brief(things=(Thing("photo_frame", 1),))), TOWER, LIMITS
    )
    assert narrow.leftovers == ()  # 60 deep


def kept_survey() -> Survey:
    wall = SurveyedWall((Reading(Length(0.0), Length(2850.0)),), (Reading(Length(0.0), Length(2750.0)),))
    return Survey(
        SurveyRoom(),
        wall,
        obstacles=(Obstacle("CO", "column", *(Length(v) for v in (0.0, 0.0, 400.0, 2750.0, 250.0))),),
    )
