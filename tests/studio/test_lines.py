"""Fields of the job found in its file."""

from __future__ import annotations

import pytest

from wallwright.studio.lines import line_of

TEXT = """title = "x"
[survey.wall]
widths = [
  { at = 0, value = 4200 },
]
[[survey.obstacles]]
ref = "SK"
[[survey.obstacles]]
ref = "EX1"   # found behind the sofa
width = 80

[brief]
storage = "much"
# the end
"""


@pytest.mark.parametrize(
    ("field", "line"),
    [
        ("title", 1),
        ("survey.wall", 2),
        ("survey.wall.widths[0].value", 3),
        ("survey.wall.substrate", 2),
        ("survey.obstacles[0].width", 6),
        ("survey.obstacles[1].width", 10),
        ("survey.obstacles[1].ref", 9),
        ("brief.storage", 13),
        ("design.screen", 0),
        ("titles", 0),
    ],
)
def test_the_line_of_a_field_or_of_the_table_it_would_stand_in(field: str, line: int) -> None:
    assert line_of(TEXT, field) == line
