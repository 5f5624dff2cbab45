"""Only what changed since an issue: the sheets clouded, the lists and files that differ, and a transmittal that names what is void.

Both walls are drawn alike, the old one under the new one's revision and date, and compared mark by mark and byte by byte: what
comes out the same was not touched.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

from wallwright.change.impact import Document, impact
from wallwright.change.state import at_least
from wallwright.change.variation import next_revision
from wallwright.export.dxf import drawings_dxf
from wallwright.export.package import MANIFEST, Manifest, data_files, refuse_danger, svg_name, write_set
from wallwright.export.pdf import documents_pdf, drawings_pdf, set_pdf
from wallwright.export.quote import quote_pdf
from wallwright.export.role_sets import PICTURES, WHENS, client_pictures, picture_name
from wallwright.export.svg import sheet_svg
from wallwright.export.xlsx import csv, xlsx
from wallwright.job.problem import fail
from wallwright.job.write import write_job
from wallwright.rules.check import check
from wallwright.sheets import labels, transmittal
from wallwright.sheets.drawing_set import drawing_set
from wallwright.sheets.paper import Fields, Sheet
from wallwright.sheets.quote import quote_paper
from wallwright.sheets.roles import READERS, ROLES, Role, sheets_for, tables_for
from wallwright.sheets.since import SheetChange, differ, marked, sheet_changes
from wallwright.sheets.templates import templates
from wallwright.tables import all_tables

if TYPE_CHECKING:
    from wallwright.core.table import Table
    from wallwright.derive import Wall
    from wallwright.job.document import Job
    from wallwright.sheets.tiles import Paper

Derive = Callable[["Job"], "Wall"]
TITLES = {
    "wall.ifc": "Building model", "wall.glb": "Model for the screen", "cutlist.csv": "Cut list for the saw",
    "holes.csv": "Every hole", "cutting_plan.csv": "Cutting plan for the saw", "programme.ics": "Programme, calendar",
    "templates.pdf": "Templates at full size", "labels.pdf": "Labels of the parts", "quote.pdf": "Quote",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Since:
    """What differs between two issues. new, sheets : the new wall and its whole set of sheets · lists : those that changed ·
    files : names of those that changed · documents : all of it, for the impact and the transmittal
    """

    new: Wall
    sheets: tuple[Sheet, ...]
    changes: tuple[SheetChange, ...]
    lists: tuple[Table, ...]
    files: tuple[tuple[str, bytes], ...]
    documents: tuple[Document, ...]


def as_issued(old: Job, new: Job) -> Job:
    """The old job with the new one's revision, date and status, so that a sheet differs only by what is drawn on it."""
    return replace(old, revision=new.revision, date=new.date, status=new.status)


def since(  # noqa: PLR0913
    old: Wall, new: Wall, numbers: Mapping[str, int] | None = None, tiles: Paper = "A4", *, pictures: bool = False, named: bool = False
) -> Since:  # fmt: skip
    """Every sheet, list and file that differs. old : derived from `as_issued` · numbers : under which its sheets are out · tiles :
    the paper of the templates · pictures : whether the client's pictures are compared too, some seconds each · named : what is only
    printed is named, not made: its bytes are empty
    """
    before, after = drawing_set(old, old.cuts), drawing_set(new, new.cuts)
    changes = sheet_changes(before, after, dict(numbers) if numbers else None, placed=not named)
    by_name = {sheet.name: sheet for sheet in (*before, *after)}
    documents = [
        Document(c.name, c.title, "sheet", _readers(by_name[c.name]), c.what, c.number)
        for c in changes
        if c.what != "same"
    ]
    lists, told = _lists(old, new)
    files = (*_files(old, new, tiles, named), *(_pictures(old, new) if pictures else ()))
    documents += [*told, *(_file(name, "changed") for name, _ in files)]
    return Since(new, after, changes, lists, files, tuple(documents))


def _lists(old: Wall, new: Wall) -> tuple[tuple[Table, ...], list[Document]]:
    """The lists that differ, and every list that came, changed or went."""
    were = {table.name: table for table in all_tables(old, check(old))}
    are = {table.name: table for table in all_tables(new, check(new))}
    told: list[Document] = []
    for name in dict.fromkeys((*were, *are)):
        was, now = were.get(name), are.get(name)
        if was != now:
            what = "new" if was is None else "withdrawn" if now is None else "changed"
            table = now or was
            title = table.title.split(":")[0] if table else name
            told.append(Document(name, title, "list", _for_list(name), what))
    return tuple(table for name, table in are.items() if were.get(name) != table), told


def _files(old: Wall, new: Wall, tiles: Paper, named: bool = False) -> Iterator[tuple[str, bytes]]:
    """The files that differ; what is only printed is compared as it is drawn."""
    were = dict(data_files(old, old.cuts))
    yield from ((name, data) for name, data in data_files(new, new.cuts) if were.get(name) != data)
    if quote_paper(old) != quote_paper(new):
        yield "quote.pdf", b"" if named else quote_pdf(quote_paper(new), new.job.currency)
    for name, make in (("templates.pdf", partial(templates, paper=tiles)), ("labels.pdf", labels.sheets)):
        before, after = make(old), make(new)
        if len(before) != len(after) or any(map(differ, before, after)):
            yield name, b"" if named else drawings_pdf(after)


def _pictures(old: Wall, new: Wall) -> Iterator[tuple[str, bytes]]:
    """The client's pictures that no longer look as they did."""
    for when, (_, was, _), (_, now, _) in zip(WHENS, client_pictures(old), client_pictures(new), strict=True):
        if was != now:
            yield picture_name(when), now


def _file(name: str, what: str) -> Document:
    client = ("client",) if name in PICTURES else ()
    readers = client or tuple(role for role in ROLES if name in READERS[role].files)
    return Document(name, TITLES.get(name, name), "file", readers, what)


def _readers(sheet: Sheet) -> tuple[str, ...]:
    return tuple(role for role in ROLES if sheets_for(role, (sheet,)))


def _for_list(name: str) -> tuple[str, ...]:
    return tuple(role for role in ROLES if name in READERS[role].tables)


def issue_since(  # noqa: PLR0913
    old: Wall, new: Wall, out: str | Path, revision: str, numbers: Mapping[str, int] | None = None, *,
    roles: Sequence[Role] = (), whole: bool = True, tiles: Paper = "A4", pictures: bool = False,
) -> Manifest:  # fmt: skip
    """Write only what changed since an issue into a folder, whole or not at all. Same input, same bytes.

    old : the issued wall, derived from `as_issued` · revision : the letter under which it is out · numbers : of its sheets ·
    roles : readers who get what changed of their own sets, each as one PDF · whole : whether all that changed is written too ·
    tiles : the paper of the templates · pictures : whether the client's pictures are written where they look otherwise

    Raises:
        JobError: both carry one revision letter, so that nobody could tell the prints apart; or nothing changed for those readers.
        NotForConstruction, FileExistsError, OSError: as `export.package.issue`.
    """
    job = new.job
    if job.revision == revision:
        says = (
            "is the revision that is out; two sheets of one letter cannot be told apart: "
            f"give this one the next, such as {next_revision(revision)}"
        )
        raise fail("revision", revision, says, "issue --since")
    refuse_danger(new)
    found = since(old, new, numbers, tiles, pictures=pictures)
    named = {change.name: change for change in found.changes}
    of = sum(change.what != "withdrawn" for change in found.changes)
    touched = tuple(s for s in found.sheets if named[s.name].what in ("changed", "new"))
    sheets = tuple(marked(s, named[s.name], job.revision, revision, of) for s in touched)
    stays = of - len(touched)
    stop = _stop(old, new)
    front = transmittal.sheets(new, found.documents, revision, stays, stop)
    files: dict[str, bytes] = {}
    left_out: list[str] = []
    if roles:
        files |= _for_roles(
            roles,
            found,
            sheets,
            partial(transmittal.sheets, new, since=revision, stays=stays, parts=stop),
            left_out,
        )
    if whole:
        files |= _whole(found, front, sheets, revision)
    return write_set(new, Path(out), files, left_out, _register(found, job.revision, revision))


def _for_roles(
    roles: Sequence[Role], found: Since, sheets: Sequence[Sheet], fronted: Callable[..., tuple[Sheet, ...]], left_out: list[str]
) -> dict[str, bytes]:  # fmt: skip
    """One PDF a reader of what changed for him, his transmittal first, and the changed files that go to him."""
    files: dict[str, bytes] = {}
    for role in roles:
        documents = [one for one in found.documents if role in one.readers]
        if not documents:
            left_out.append(f"{changed_name(role)}: nothing of this set changed")
            continue
        lists = tables_for(role, found.lists)
        own = (*fronted(documents=documents), *sheets_for(role, sheets))
        title = f"{found.new.job.title}: {READERS[role].title}, changes"
        files[changed_name(role)] = set_pdf(own, lists, title)
        names = {*READERS[role].files, *(PICTURES if role == "client" else ())}
        files |= {name: data for name, data in found.files if name in names}
    if not files:
        raise fail(
            "--role", ", ".join(roles), "nothing of these sets changed: nothing to send", "issue --since"
        )
    return files


def changed_name(role: Role) -> str:
    """The file name of what changed for a reader."""
    return f"changed_{role}.pdf"


def _whole(
    found: Since, front: tuple[Sheet, ...], sheets: tuple[Sheet, ...], revision: str
) -> dict[str, bytes]:
    """All that changed, for the office."""
    job = found.new.job
    files: dict[str, bytes] = {"job.toml": write_job(job).encode()}
    files["transmittal.pdf"] = drawings_pdf(front, f"{job.title}: transmittal")
    files["transmittal.csv"] = _csv(found.documents, job.revision, revision)
    if sheets:
        files["changed_sheets.pdf"] = drawings_pdf((*front, *sheets), job.title)
        files["changed_sheets.dxf"] = drawings_dxf(sheets)
        files |= {svg_name(sheet): sheet_svg(sheet).encode() for sheet in sheets}
    if found.lists:
        files["changed_lists.pdf"] = documents_pdf(found.lists, job.title, Fields.of(job))
        files["changed_lists.xlsx"] = xlsx(found.lists, job.title, job.date)
    return files | dict(found.files)


def _stop(old: Wall, new: Wall) -> tuple[str, ...]:
    """The parts and boxes that are in hand and are not wanted as they are."""
    found = impact(old, new)
    parts = [
        f"{one.change.ref} ({one.state}), {one.change.fate}: {one.change.says}"
        for one in found.parts
        if one.state != "drawn"
    ]
    boxes = [
        f"box {one.change.ref} ({one.state}): {one.change.says}"
        for one in found.points
        if at_least(one.state, "set")
    ]
    return (*parts, *boxes)


def _csv(documents: Iterable[Document], revision: str, since: str) -> bytes:
    heads = ("sheet", "name", "title", "kind", "was", "is", "what", "readers")
    return csv(
        heads,
        [
            (
                one.number or None,
                one.name,
                one.title,
                one.kind,
                "" if one.what == "new" else since,
                "" if one.what == "withdrawn" else revision,
                one.what,
                " ".join(one.readers),
            )
            for one in documents
        ],
    )


def _register(found: Since, revision: str, since: str) -> dict[str, Any]:
    """For the manifest: the revision it is read with, the sheets that are in force, and those that are void."""
    return {
        "revision": since,
        "sheets": [
            {"number": c.number, "name": c.name, "title": c.title, "what": c.what}
            for c in found.changes
            if c.what != "withdrawn"
        ],
        "superseded": [
            {"number": c.number, "name": c.name, "title": c.title, "revision": since, "by": "" if c.what == "withdrawn" else revision}
            for c in found.changes
            if c.what in ("changed", "withdrawn")
        ],
        "documents": [{"name": d.name, "kind": d.kind, "what": d.what, "readers": list(d.readers)} for d in found.documents],
    }  # fmt: skip


def numbers_in(folder: Path) -> dict[str, int]:
    """Under which numbers the sheets of an issue set are out, where it was itself a set of changes; empty for a whole set."""
    try:
        told = json.loads((folder / MANIFEST).read_bytes())["since"]
        return {one["name"]: int(one["number"]) for one in told["sheets"]}
    except (OSError, ValueError, KeyError, TypeError):
        return {}
