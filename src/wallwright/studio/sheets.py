"""The sheets of the set, for the page."""

from __future__ import annotations

from wallwright.derive import Wall
from wallwright.studio import answers


class NoSuchSheetError(LookupError):
    """There is no sheet of that name."""

    def __init__(self, name: str, says: str) -> None:
        self.name, self.says = name, says
        super().__init__(says)


def names(wall: Wall) -> answers.Sheets:
    """The sheets in the order of the set."""
    from wallwright.sheets.drawing_set import drawing_set

    return answers.Sheets(
        sheets=[
            answers.SheetOut(name=sheet.name, title=sheet.title, number=sheet.number)
            for sheet in drawing_set(wall)
        ]
    )


def svg(wall: Wall, name: str) -> str:
    """One sheet as SVG. NoSuchSheetError names those there are."""
    from wallwright.export.svg import sheet_svg
    from wallwright.sheets.drawing_set import drawing_set

    found = {sheet.name: sheet for sheet in drawing_set(wall)}
    if name not in found:
        raise NoSuchSheetError(name, f"there is no such sheet; there are {', '.join(found)}")
    return sheet_svg(found[name])
