"""White grounds: a line is broken at a text, never the text at a line; nothing is hidden that stands clear."""

from __future__ import annotations

from wallwright.core.drawing import Dim, Drawing, Hatch, Leader, Line, Mark, Text
from wallwright.core.shape import Box
from wallwright.sheets.crossed import Crossed, crossed
from wallwright.sheets.grounds import grounded
from wallwright.sheets.paper import Fields, Sheet, View

FIELDS = Fields("-", "-", "1", "A", "-", "-", "-", "Preliminary")
THROUGH = Line(((-200.0, 10.0), (400.0, 10.0)), "medium", layer="L")
HATCHED = Hatch(((-50.0, -50.0), (300.0, -50.0), (300.0, 90.0), (-50.0, 90.0)), "cut", layer="H")
WORD = Text((0.0, 0.0), "word")


def measured(marks: tuple[Mark, ...]) -> tuple[Crossed, ...]:
    drawing = Drawing("made", "Made", 10.0, marks, Box(-500, -500, 1000, 1000))
    return crossed(Sheet("made", "Made", "Plan", (View(drawing, 150.0, 180.0),), (), FIELDS))


def grounds(marks: tuple[Mark, ...]) -> list[Line]:
    return [mark for mark in marks if isinstance(mark, Line) and mark.fill == "#fff" and mark.pen == "none"]


def test_a_line_and_a_hatch_are_broken_at_a_text() -> None:
    assert len(measured((THROUGH, HATCHED, WORD))) == 2
    made = grounded((THROUGH, HATCHED), (WORD,), 10.0)
    assert measured(made) == () and len(grounds(made)) == 1
    assert made[-1] == WORD


def test_what_stands_clear_has_no_ground() -> None:
    far = Line(((-200.0, 300.0), (400.0, 300.0)), "medium")
    made = grounded((far,), (WORD,), 10.0)
    assert grounds(made) == [] and made == (far, WORD)


def test_the_ground_is_hardly_larger_than_its_text() -> None:
    box = grounds(grounded((THROUGH,), (WORD,), 10.0))[0]
    xs, zs = [x for x, _ in box.points], [z for _, z in box.points]
    assert max(zs) - min(zs) < 40.0  # 2.5 mm capitals at 1:10
    assert max(xs) - min(xs) < 110.0


def test_a_leader_through_another_text() -> None:
    leader = Leader(((-300.0, 10.0), (400.0, 10.0)), "other", layer="text")
    assert measured((leader, WORD)) == (Crossed("word", "text"),)
    assert measured(grounded((), (WORD, leader), 10.0)) == ()
    assert measured(grounded((), (leader, WORD), 10.0)) == ()


def test_dimensions_are_drawn_after_what_runs_through_them() -> None:
    """A long dimension whose line runs through a short one's figure is drawn first, whichever was given first."""
    short = Dim((0.0, 0.0), (200.0, 0.0), "x", 0.0, -8.0, ref="short")
    long = Dim((-300.0, 30.0), (500.0, 30.0), "x", 30.0, -9.6, ref="long")
    assert measured((short, long)) != ()
    for given in ((short, long), (long, short)):
        made = grounded((), given, 10.0)
        assert measured(made) == ()
        assert {mark.ref for mark in made if isinstance(mark, Dim)} == {"short", "long"}
