"""A set for each reader: one PDF of his sheets and lists, and the files that go with it; prices in the client's alone."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import TYPE_CHECKING

from wallwright.export.pdf import set_pdf
from wallwright.job.problem import fail
from wallwright.sheets.drawing_set import drawing_set
from wallwright.sheets.options_page import schemes_sheet
from wallwright.sheets.roles import READERS, Role, Shot, missing, role_set, tables_for

if TYPE_CHECKING:
    from wallwright.core.table import Table
    from wallwright.cutting.record import CutPlans
    from wallwright.derive import Wall
    from wallwright.export.picture_scene import When
    from wallwright.options.finish_sets import Option

Making = Iterator[tuple[float, str, bytes]]
OPTIONS = 3
"""So many schemes, and so many sets of finishes, are laid before the client."""


def set_name(role: Role) -> str:
    """The file name of a reader's set."""
    return f"set_{role}.pdf"


def role_contents(  # noqa: PLR0913
    wall: Wall, roles: Sequence[Role], cuts: CutPlans | None, left_out: list[str],
    contents: Callable[[Wall, CutPlans | None, list[str]], Making], *, whole: bool, shots: Sequence[Shot] = (),
) -> Making:  # fmt: skip
    """The sets of these readers, and beside them the whole set or only the files that go to them.

    contents : makes the whole set · shots : the client's pictures. Raises JobError where none of the sets asked for can be made.
    """
    from wallwright.options.schemes import scheme_options
    from wallwright.rules.check import check
    from wallwright.tables import all_tables

    drawings = drawing_set(wall, cuts or wall.cuts)
    tables = all_tables(wall, check(wall))
    kept: list[Role] = []
    for role in roles:
        reason = missing(role, drawings)
        if reason:
            left_out.append(f"{set_name(role)}: {reason}")
        else:
            kept.append(role)
    if not kept:
        raise fail("--role", ", ".join(roles), f"has no set here: {'; '.join(left_out)}; ask for another")
    for i, role in enumerate(kept):
        chosen = scheme_options(wall.job)[:OPTIONS] if READERS[role].money else ()
        lists = tables_for(role, (*tables, *(offered(wall, chosen) if READERS[role].money else ())))
        seen = shots if role == "client" else ()
        sheets = role_set(wall, role, drawings, lists, seen, schemes_sheet(wall, chosen))
        title = f"{wall.job.title}: {READERS[role].title}"
        yield 0.4 * (i + 1) / len(kept), set_name(role), set_pdf(sheets, lists, title)
    wanted = {name for role in kept for name in READERS[role].files}
    if whole or wanted:
        yield from (
            (0.4 + 0.6 * share, name, data)
            for share, name, data in contents(wall, cuts, left_out)
            if whole or name in wanted
        )


def client_pictures(wall: Wall) -> tuple[Shot, ...]:
    """The wall by day and by night from the seat that is used most, made fast: what each shows, its PNG, and how it was made."""
    from wallwright.export.picture import note, picture_png
    from wallwright.export.picture_scene import stage

    out: list[Shot] = []
    for when in WHENS:
        told = note(stage(wall, when))
        made = f"Computed from this design, for choosing and not for measuring. {told[:1].upper()}{told[1:]}. {ASIDE}"
        out.append((f"By {when}", picture_png(wall, when), made))
    return tuple(out)


WHENS: tuple[When, ...] = ("day", "night")


def picture_name(when: When) -> str:
    """The file name of a picture."""
    return f"picture_{when}.png"


PICTURES = tuple(picture_name(when) for when in WHENS)
ASIDE = "Light comes straight from windows, lamps and strips; what walls throw back is taken as even. Judge colours on samples."


def offered(wall: Wall, chosen: Sequence[Option]) -> tuple[Table, ...]:
    """What the client may choose instead: these schemes, and finishes, priced against this wall."""
    from dataclasses import replace

    from wallwright.options.finish_sets import finish_options
    from wallwright.tables.options import options_table

    schemes = options_table(wall, chosen, "Other schemes for this brief")
    faces = options_table(wall, finish_options(wall)[:OPTIONS], "The same wall in other finishes")
    return tuple(table for table in (schemes, replace(faces, name="options_finishes")) if table.rows)
