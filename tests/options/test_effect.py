"""What an edit does to the price: line by line, and back again."""

from __future__ import annotations

import pytest

from wallwright.core.finding import edit_call
from wallwright.derive import Wall, derive
from wallwright.job.problem import JobError
from wallwright.options.effect import edited, price_effect


def test_the_lines_sum_to_the_difference_of_the_direct_cost(living: Wall) -> None:
    done = price_effect(living.job, [edit_call("remove_light", ref="G2")])
    assert done.difference < 0
    assert sum(line.difference for line in done.lines) == done.wall.money.direct - living.money.direct
    assert {line.ref for line in done.lines} >= {"led_strip", "led_driver", "dimmer"}
    assert "board_ply18" not in {line.ref for line in done.lines}


def test_no_edit_no_effect(living: Wall) -> None:
    done = price_effect(living.job, [])
    assert (done.difference, done.lines, done.new, done.gone) == (0, (), (), ())


def test_there_and_back_is_nothing(living: Wall) -> None:
    there = edited(living.job, [edit_call("set_panel_finish", ref="W1", finish="veneer_oak")])
    dearer = derive(there).money.total
    back = price_effect(there, [edit_call("set_panel_finish", ref="W1", finish="sprayed_neutral")])
    assert back.before == dearer
    assert back.after == living.money.total


def test_findings_that_come_are_told(living: Wall) -> None:
    done = price_effect(living.job, [edit_call("set_bay_front", ref="T1", bay=1, front="open")])
    assert done.worse  # open shelves within reach of a child of four
    again = price_effect(done.wall.job, [edit_call("set_bay_front", ref="T1", bay=1, front="shutter")])
    assert {item.rule for item in done.worse} <= {item.rule for item in again.gone}


def test_an_edit_that_cannot_be_made_is_refused(living: Wall) -> None:
    with pytest.raises(JobError, match="G9"):
        price_effect(living.job, [edit_call("remove_light", ref="G9")])
