"""What a path of the survey is called on site."""

from __future__ import annotations

import re

from wallwright.derive import Wall

_SIZES = {
    "x": "distance from the left", "z": "height above the floor", "distance": "distance from the wall",
    "along": "place along its wall", "out": "plumb", "floor_to_come": "floor that is still to come",
}  # fmt: skip
_OWNERS = {"access": "the way in"}


def reading_of(wall: Wall, path: str) -> str:
    """A reading of the wall: `the height at 1200 mm from the left`. path : `survey.wall.heights.2` or `survey.wall.heights[2].value`"""
    name, number = re.findall(r"(widths|heights)\W(\d+)", path)[0]
    at = getattr(wall.job.survey.wall, name)[int(number)].at.mm
    return f"the {name[:-1]} at {at:.0f} mm {'above the floor' if name == 'widths' else 'from the left'}"


def size_of(wall: Wall, path: str) -> str:
    """A surveyed size: a reading of the wall, or `the width of socket EX1`. path : as `job.lengths` gives it, `survey.obstacles[0].width`"""
    if re.match(r"survey\.wall\.(widths|heights)\W\d", path):
        return reading_of(wall, path)
    if marked := re.fullmatch(r"survey\.wall\.(relief|diagonals)\[(\d+)\](?:\.(\w+))?", path):
        what = "the plumb grid" if marked[1] == "relief" else "the diagonals"
        return f"measure {int(marked[2]) + 1} of {what}"
    owner, _, name = path.rpartition(".")
    named = re.fullmatch(r"survey\.(\w+)\[(\d+)\]", owner)
    size = _SIZES.get(name, name.replace("_", " "))
    if named is None:
        whose = owner.removeprefix("survey.").replace("_", " ").replace(".", " ")
        return f"the {size} of {_OWNERS.get(whose, f'the {whose}')}"
    thing = getattr(wall.job.survey, named[1])[int(named[2])]
    kind = str(getattr(thing, "kind", "") or named[1].removesuffix("s")).replace("_", " ")
    return f"the {size} of {kind} {getattr(thing, 'ref', int(named[2]) + 1)}"
