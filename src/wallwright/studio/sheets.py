"""The sheets of the set, for the page."""

from __future__ import annotations

import threading
from typing import TYPE_CHECKING

from wallwright.studio import answers

if TYPE_CHECKING:
    from wallwright.derive import Wall
    from wallwright.sheets.paper import Sheet
    from wallwright.studio.seen import View

MOST_KEPT = 4
_LOCK = threading.Lock()
_MADE: dict[str, tuple[Wall, tuple[Sheet, ...]]] = {}


class NoSuchSheetError(LookupError):
    """There is no sheet of that name."""

    def __init__(self, name: str, says: str) -> None:
        self.name, self.says = name, says
        super().__init__(says)


def made(view: View) -> tuple[Sheet, ...]:
    """The drawing set of a view; the last few that were asked for are kept, since a page asks for one sheet after the other."""
    from wallwright.sheets.drawing_set import drawing_set

    with _LOCK:
        kept = _MADE.get(view.sha)
        if kept is not None and kept[0] is view.wall:
            return kept[1]
    drawn = drawing_set(view.wall)
    with _LOCK:
        _MADE[view.sha] = (view.wall, drawn)
        while len(_MADE) > MOST_KEPT:
            del _MADE[next(iter(_MADE))]
    return drawn


def names(view: View) -> answers.Sheets:
    """The sheets in the order of the set."""
    return answers.Sheets(
        sheets=[
            answers.SheetOut(name=sheet.name, title=sheet.title, number=sheet.number) for sheet in made(view)
        ]
    )


def svg(view: View, name: str) -> str:
    """One sheet as SVG. NoSuchSheetError names those there are."""
    from wallwright.export.svg import sheet_svg

    found = {sheet.name: sheet for sheet in made(view)}
    if name not in found:
        raise NoSuchSheetError(name, f"there is no such sheet; there are {', '.join(found)}")
    return sheet_svg(found[name])
