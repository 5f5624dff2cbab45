"""Steps of the history and buttons of cures in the trade's words, never in the marks of a program."""

from __future__ import annotations

from typing import Any

import pytest

from wallwright.core.finding import edit_call
from wallwright.core.units import Length
from wallwright.job.edits import EDITS
from wallwright.studio.form_inputs import hints_of, kind_of
from wallwright.studio.wording import change_says, step_says


@pytest.mark.parametrize(
    ("edit", "values", "said"),
    [
        ("add_point", {"ref": "KT1", "kind": "conduit", "x": 392.0, "z": 410},
         "Place conduit KT1 392 mm from the left corner, 410 mm above the floor"),
        ("move_point", {"ref": "P1", "x": 1203.0, "z": None}, "Move P1 to 1203 mm from the left corner"),
        ("set_wall_reading", {"which": "height", "at": "1500", "value": {"value": "2.748 m", "state": "measured", "tolerance": 3}},
         "Measure the wall's height 1500 mm from the left corner: 2.748 m ± 3 mm, measured"),
        ("set_wall_reading", {"which": "width", "at": 100, "value": Length(4201.0)},
         "Measure the wall's width 100 mm above the floor: 4201 mm"),
        ("set_seat", {"ref": "A", "x": 1810, "distance": "3 m"}, "Set seat A: 1810 mm from the left corner, 3 m from the wall"),
        ("add_obstacle", {"ref": "O1", "kind": "beam", "x": {"value": 100, "state": "measured"}, "z": 2400, "width": 200, "height": 300},
         "Add beam O1: 100 mm from the left corner, 2400 mm above the floor, width 200 mm, height 300 mm"),
        ("remove_unit", {"ref": "T1"}, "Take out unit T1"),
        ("resize_unit", {"ref": "C1", "width": "1.5 m"}, "Set C1 width to 1.5 m"),
        ("release", {"field": "design.units.C1.width"}, "Make C1 width automatic"),
        ("set_unit_bays", {"ref": "C1", "bays": []}, "Make the bays of C1 automatic"),
        ("set_unit_bays", {"ref": "C1", "bays": [{"front": "shutter", "drawers": 1, "shelves": 1, "width": 827.0, "hinged": "left"},
                                                 {"drawers": 2}, {"front": "open", "shelves": 0, "width": "2 ft", "vents": False}]},
         "Divide C1 into bays: shutter with 1 shelf, 827 mm, hung on the left; 2 drawers; open, 2 ft, without air openings"),
        ("set_limit", {"name": "carcass.panel_joint", "value": 4}, "Set your own limit “panel joint” of carcass to 4 mm"),
        ("set_limit", {"name": "services.screen_conduits", "value": 3}, "Set your own limit “screen conduits” of services to 3"),
        ("set_thing", {"kind": "toy_bins", "count": 3}, "Set the count of toy bins to 3"),
        ("set_screen_height", {"centre_height": 1190}, "Set the screen's centre height to 1190 mm"),
        ("set_light", {"ref": "G1", "setback": Length(63.5)}, "Lay light G1 63.5 mm behind its edge"),
        ("set_light", {"ref": "G2", "along": "tower_side", "of": "T1"}, "Lay light G2 beside the tower T1"),
        ("set_device", {"ref": "amp", "place": "tower"}, "Move amp into a tower"),
        ("set_device", {"ref": "amp", "place": "tower", "watts": 40}, "Set device amp: place tower, watts 40"),
        ("set_mount", {"kind": "arm", "reach": 225}, "Hang the screen on an arm that reaches 225 mm"),
        ("set_window_blind", {"ref": "WN1", "blind": 0.05}, "Hang a blind at WN1 that lets 5 % of the light through"),
        ("set_bay_vents", {"ref": "C1", "bay": 2, "vents": True}, "Cut air openings low and high for C1.2"),
        ("add_unit", {"ref": "T1", "kind": "tower", "side": "left"}, "Add a tower T1 at the left end of the wall"),
        ("unsign_gate", {"ref": "G3"}, "Take back the signature of gate G3, and of those after it"),
        ("set_title", {"title": "Flat_3B"}, "Call the wall “Flat_3B”"),
    ],
)  # fmt: skip
def test_a_step_is_said_as_one_says_it(edit: str, values: Any, said: str) -> None:
    assert step_says(edit, values) == said
    assert change_says(edit_call(edit, **values)) == said[0].lower() + said[1:]


NESTED = [
    {"ref": "A1", "kind": "twin_socket", "x": {"value": "1.2 m", "state": "measured"}, "dimmable": True},
    {"front": "open"},
]
TYPICAL: dict[str, Any] = {
    "rows": NESTED, "length": {"value": "1.2 m", "state": "measured", "tolerance": 3}, "yes_no": True, "whole": 3, "number": 12.5,
    "lengths": [1200, "1.4 m"], "words": ["under_console", "C1"], "colour": [70, 0, 0], "text": "under_console",
}  # fmt: skip
PERSONS = {
    "title",
    "client",
    "designer",
    "approver",
    "note",
    "says",
    "reason",
    "by",
    "check",
    "name",
    "revision",
}
"""Values that are a person's own words: said as written."""


@pytest.mark.parametrize("name", sorted(EDITS))
def test_no_edit_is_said_in_the_marks_of_a_program(name: str) -> None:
    values: dict[str, Any] = {}
    for key, hint in hints_of(name).items():
        if key in EDITS[name].takes:
            kind = kind_of(hint)
            values[key] = kind.choices[-1].value if kind.choices else TYPICAL[kind.input]
            if key in PERSONS or key == "ref":
                values[key] = "C1"
    if name in ("release", "set_length", "set_length_state"):
        values["field"] = "design.units.C1.width"
    said = step_says(name, values)
    assert said and not any(
        mark in said for mark in ("{", "}", "[", "]", "_", "True", "None", "('", "': ")
    ), said
