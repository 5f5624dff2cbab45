"""The command line. Each command reads files, calls the engine, and prints.

Exit code: 0 good, 1 something must be fixed, 2 bad input.
"""

from __future__ import annotations

import gc
import json
import os
import shutil
import signal
import sys
from collections.abc import Callable, Generator
from contextlib import contextmanager, suppress
from importlib import import_module
from pathlib import Path
from threading import Thread
from typing import TYPE_CHECKING, Annotated, Any, Literal, TypeVar

from cyclopts import App, Parameter

from wallwright import __version__, cli_change, cli_money, cli_photo, cli_studio, cli_tower
from wallwright.cli_progress import progress as _progress

if TYPE_CHECKING:
    from wallwright.core.finding import Finding
    from wallwright.core.table import Table
    from wallwright.cutting.improve import Progress
    from wallwright.cutting.model import Plan, Problem
    from wallwright.derive import Wall
    from wallwright.job.document import Job

app = App(
    name="wallwright",
    version=__version__,
    help="Design and deliver a television wall: one job in; the wall, its findings, drawings, cutting plan, money out.",
    help_format="plaintext",
    result_action="return_value",
)
Flag = Annotated[bool, Parameter(negative="")]
Json = Annotated[bool, Parameter(name="--json", negative="")]
GOOD, MUST_FIX, BAD_INPUT = 0, 1, 2
LONGEST_CUT = 3600.0
"""Seconds that a search for a cutting plan may take."""
LARGEST_TABLE = 20_000_000
"""Bytes of a table of parts or sheets: far above any order, low enough that a wrong file cannot stall the program."""
ReaderName = Literal[
    "client", "carpenter", "electrician", "stone", "screen_fitter", "site_engineer", "owner", "all"
]
"""Who a set may be written for; a test holds it to the roles there are."""
Rows = TypeVar("Rows")
SAW_STAGES: dict[str, Literal["any", 2, 3]] = {"any": "any", "2": 2, "3": 3}
SEVERITY_WORD = {"danger": "DANGER", "fix": "FIX", "consider": "CONSIDER", "note": "NOTE"}


def _called() -> str:
    """What one types to get this program again: its bare name where the shell finds it, else the path it was started by."""
    name = Path(sys.argv[0])
    if name.name != "wallwright" or shutil.which("wallwright"):
        return "wallwright"
    return os.path.relpath(name)


def main() -> None:
    """Run a command. Bad input is said in a sentence and leaves with 2; no traceback reaches a user."""
    if sys.argv[1:2] in (["check"], ["issue"], ["diff"]):
        gc.disable()  # it lives a second or three: a tenth of that would go into looking for what to throw away
    try:
        code = app(exit_on_error=False, print_error=False)
    except KeyboardInterrupt:
        sys.exit(130)
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        sys.exit(GOOD)
    except Exception as problem:
        if os.environ.get("WALLWRIGHT_TRACE"):
            raise
        sys.exit(_say_bad(problem))
    sys.exit(code if isinstance(code, int) else GOOD)


def _say_bad(problem: Exception) -> int:
    """Print what was wrong, in a sentence; as JSON where --json was asked for."""
    from wallwright.job.problem import JobError

    if isinstance(problem, JobError):
        lines = [str(problem)]
        detail = [{"field": item.field, "value": item.value, "says": item.says} for item in problem.problems]
    else:
        text = str(problem.args[0]) if isinstance(problem, KeyError) and problem.args else str(problem)
        lines = [text or type(problem).__name__]
        detail = [{"field": "", "value": "", "says": lines[0]}]
        if not isinstance(problem, (ValueError, KeyError, OSError)) and not type(
            problem
        ).__module__.startswith("cyclopts"):
            lines.append(
                "This is a fault of the program: set WALLWRIGHT_TRACE=1 to see where, and report it."
            )
    if "--json" in sys.argv:
        print(json.dumps({"error": detail}, ensure_ascii=False))
    for line in lines:
        print(line, file=sys.stderr)
    return getattr(problem, "exit_code", BAD_INPUT)


def _print_json(value: Any) -> None:
    print(json.dumps(value, ensure_ascii=False, indent=2))


def _wall(path: Path, rates: Path | None = None) -> Wall:
    from wallwright.derive import derive

    return derive(_job(path, rates))


def _job(path: Path, rates: Path | None = None) -> Job:
    return cli_money.job_with_rates(path, rates)


@app.command
def new(
    folder: Path, *, room: Literal["living", "bedroom", "studio"] = "living", as_json: Json = False
) -> int:
    """Write a commented starter job, furnished and wrong in useful ways.

    Args:
        folder: Where job.toml goes; made when missing.
        room: Which kind of room to start from.
        as_json: Print the path as JSON.
    """
    from wallwright.export.files import write_atomic, writing
    from wallwright.job.problem import fail
    from wallwright.job.starter import starter

    target = folder / "job.toml"
    with writing(folder):
        if target.exists():
            says = "is there already; choose another folder, nothing was overwritten"
            raise fail("file", None, says, str(target))
        folder.mkdir(parents=True, exist_ok=True)
        write_atomic(target, starter(room).encode())
    if as_json:
        _print_json({"job": str(target)})
    else:
        me = _called()
        print(f"{target}\nNext: {me} check {target}   ·   {me} serve {target}")
    return GOOD


@app.command
def demo(folder: Path = Path("demo"), *, as_json: Json = False) -> int:
    """Write the invented demo jobs and issue one of them completely; say where, and what was found.

    Args:
        folder: Where the jobs and the issue set go.
        as_json: Print the result as JSON.
    """
    from wallwright.derive import derive, derive_to_issue
    from wallwright.export.files import read_job_file, write_atomic, writing
    from wallwright.export.package import issue as issue_set
    from wallwright.job.demos import demo_jobs
    from wallwright.rules import check as check_wall
    from wallwright.rules import gate

    with writing(folder):
        folder.mkdir(parents=True, exist_ok=True)
    out: dict[str, Any] = {"jobs": [], "issued": ""}
    for name, text in demo_jobs().items():
        path = folder / f"{name}.toml"
        with writing(path):
            write_atomic(path, text.encode())
        wall = derive(read_job_file(path))
        findings = check_wall(wall)
        out["jobs"].append({"file": str(path), "counts": _counts(findings), "gate": gate(wall, findings)})
        if not as_json:
            print(f"{path}: {wall.job.title}")
            _print_summary(wall, findings)
            print()
    first = folder / f"{next(iter(demo_jobs()))}.toml"
    target = folder / f"{first.stem}-issue"
    with _progress("Issuing") as tell, writing(target):
        manifest = issue_set(derive_to_issue(read_job_file(first)), target, progress=tell)
    out["issued"] = str(target)
    out["files"] = [entry.name for entry in manifest.files]
    if as_json:
        _print_json(out)
    else:
        print(f"Issued {first.name} completely: {len(manifest.files)} files in {target}{os.sep}")
        for entry in manifest.files:
            print(f"  {entry.name:<28} {entry.size / 1000:8.1f} kB")
        print(f"Look at the page with: {_called()} serve {first}")
    return GOOD


@app.command
def check(job: Path, *, rates: Path | None = None, gates: Flag = False, as_json: Json = False) -> int:
    """Say what is wrong with a wall, worst first. Exit 0 nothing must be fixed, 1 something must, 2 bad input.

    Args:
        job: The job file, or the folder it is in.
        rates: A rates file to price it with.
        gates: Print the gates G0 to G6 too, who signed each and what it waits for.
        as_json: Print findings as JSON, with the gates.
    """
    from wallwright.rules import check as check_wall
    from wallwright.rules import exit_code, gate

    wall = _wall(job, rates)
    findings = check_wall(wall)
    if as_json:
        from wallwright.export.wall_json import findings_json
        from wallwright.rules.gates import gates as standing

        _print_json(findings_json(wall, findings, gate(wall, findings), standing(wall, findings)))
    else:
        for item in findings:
            _print_finding(item)
        _print_summary(wall, findings)
        if gates:
            _print_gates(wall, findings)
    return exit_code(findings)


def _print_gates(wall: Wall, findings: tuple[Finding, ...]) -> None:
    from wallwright.rules.gates import gates

    for one in gates(wall, findings):
        print(f"  {one.ref} {one.name}: {f'signed by {one.signed}' if one.signed else 'not signed'}")
        for waits in one.waits:
            print(f"     waits for: {waits}")


def _print_finding(item: Finding) -> None:
    print(f"{SEVERITY_WORD[item.severity]:<9}{item.where}: {item.says}")
    from wallwright.core.finding import measured_says, source_says

    print(f"{'':9}{measured_says(item)}  ({source_says(item)})")
    print(f"{'':9}cure: {item.cure}\n")


def _counts(findings: tuple[Finding, ...]) -> dict[str, int]:
    return {severity: sum(item.severity == severity for item in findings) for severity in SEVERITY_WORD}


def _print_summary(wall: Wall, findings: tuple[Finding, ...]) -> None:
    from wallwright.rules import gate
    from wallwright.tables.fixings import without_fixings

    counts = ", ".join(f"{count} {severity}" for severity, count in _counts(findings).items())
    screen, money = wall.sight.screen, wall.money
    print(f"  {counts}  ·  gate: {gate(wall, findings)}")
    budget = f" of {money.shown(money.budget)}" if money.budget else ""
    budget += " by invented demo rates" if money.invented else ""
    budget += f", {bare}" if (bare := without_fixings(wall)) else ""
    print(
        f"  screen {screen.diagonal:.0f} in, centre {screen.centre[1]:.0f} mm above FFL  ·  {len(wall.carcass.parts)} parts  ·  "
        f"{'at most ' if wall.cuts.at_most else ''}{money.shown(money.total)}{budget}  ·  {wall.programme.days} working days"
    )


@app.command
def wall(job: Path, *, rates: Path | None = None, as_json: Json = False) -> int:
    """The derived wall: screen, seats, units, parts, points, runs, lights, totals.

    Args:
        job: The job file, or the folder it is in.
        rates: A rates file to price it with.
        as_json: Print everything as JSON; without it, the tables.
    """
    derived = _wall(job, rates)
    if as_json:
        from wallwright.export.wall_json import wall_json

        _print_json(wall_json(derived))
        return GOOD
    from wallwright.tables import all_tables

    for table in all_tables(derived):
        _print_table(table)
    return GOOD


def _print_table(table: Table) -> None:
    """A table in columns of their own width."""
    rows = [[column.heading for column in table.columns]]
    for row in table.rows:
        cells = zip(row, table.columns, strict=True)
        rows.append(
            [
                f"{cell:.{column.decimals}f}"
                if isinstance(cell, float)
                else str("" if cell is None else cell)
                for cell, column in cells
            ]
        )
    widths = [max(len(row[k]) for row in rows) for k in range(len(table.columns))]
    print(f"\n{table.title}")
    for row in rows:
        line = (
            text.rjust(width) if column.align == "right" else text.ljust(width)
            for text, width, column in zip(row, widths, table.columns, strict=True)
        )
        print("  ".join(line).rstrip())


@app.command
def cut(  # noqa: PLR0913
    parts: Path,
    sheets: Path,
    *,
    kerf: str = "3.2",
    trim: str = "10",
    seconds: float = 10.0,
    iterations: int | None = None,
    replay: str | None = None,
    stages: Literal["any", "2", "3"] = "any",
    seed: int = 1,
    as_json: Json = False,
) -> int:
    """Lay parts out on sheets with guillotine cuts; every plan is replayed by the verifier before it is shown.

    Ctrl-C ends the search and shows the best plan found; a second Ctrl-C leaves without one. Exit 0 every part has its place,
    1 the stock does not suffice for all of them, 2 bad input.

    Args:
        parts: CSV with name,material,length,width,quantity,grain (grain: none, length or width); with a column match, parts of
            one word are cut from one strip in their order.
        sheets: CSV with name,material,length,width,price,quantity (no quantity = as many as wanted); with a column trim, that
            instead of --trim (0 for an offcut of an earlier job).
        kerf: Width of the saw cut, as written (3.2, 1/8").
        trim: Taken off every edge of a sheet before cutting.
        seconds: When the search ends at the latest, counted from when the tables are read; there is always a plan.
        iterations: Steps to spend instead of the time: with them the same tables and seed give the same plan again.
        replay: The moments at which the clock ended parts of an earlier search, from its JSON: with its seed the same plan again.
        stages: How often the cutting direction may change.
        seed: Of the search.
        as_json: Print the plan as JSON.
    """
    from wallwright.cutting.model import Problem, Saw, from_mm
    from wallwright.cutting.read import parse_parts, parse_sheets, plan_json, read_replay
    from wallwright.cutting.solve import solve
    from wallwright.cutting.verify import examine

    saw = Saw(
        kerf=from_mm(_length("kerf", kerf), rounding="up"),
        trim=from_mm(_length("trim", trim), rounding="up"),
        stages=SAW_STAGES[stages],
    )
    problem = Problem(
        pieces=_table(parts, parse_parts),
        sheets=_table(sheets, parse_sheets),
        saw=saw,
    )
    if not 0 <= seconds <= LONGEST_CUT:
        raise ValueError(f"--seconds {seconds:g}: must be from 0 to {LONGEST_CUT:g}")
    if replay is not None and iterations is not None:
        raise ValueError("--replay: goes without --iterations; it is for a plan that the clock ended")
    stops = None if replay is None else read_replay(replay)
    with _interrupt_noted() as interrupted, _progress("Cutting") as tell:
        shown: list[tuple[int, int]] = []

        def go_on(now: Progress) -> bool:
            best = (now.used, now.lower_bound)
            if not as_json and shown[-1:] != [best]:
                shown.append(best)
                print(
                    f"{now.seconds:5.1f} s: {now.used} sheets, at least {now.lower_bound}",
                    file=sys.stderr,
                    flush=True,
                )
            done = (
                now.seconds / max(seconds, 0.001)
                if iterations is None
                else now.iteration / max(iterations, 1)
            )
            tell(min(1.0, done), f"{now.used} sheets")
            return not interrupted()

        clock = None if iterations is not None or stops is not None else seconds
        plan = solve(problem, clock, iterations, seed, go_on, stops)
        stopped = interrupted()
    faults, unchecked = examine(problem, plan)
    if faults:
        raise RuntimeError("the plan failed its own verification: " + "; ".join(faults[:3]))
    if as_json:
        _print_json({**plan_json(plan, unchecked), "stopped": stopped})
    else:
        _print_plan(problem, plan, stopped, unchecked)
    return MUST_FIX if plan.unplaced else GOOD


@contextmanager
def _interrupt_noted() -> Generator[Callable[[], bool]]:
    """Within it the first Ctrl-C is only noted, for the work to end in good order; the second one leaves as usual.

    A program that was started deaf to Ctrl-C stays so.
    """
    noted = False
    before = signal.getsignal(signal.SIGINT)

    def note(_number: int, _frame: object) -> None:
        nonlocal noted
        noted = True
        signal.signal(signal.SIGINT, before)

    if before is not signal.default_int_handler:
        yield lambda: False
        return
    signal.signal(signal.SIGINT, note)
    try:
        yield lambda: noted
    finally:
        signal.signal(signal.SIGINT, before)


def _print_plan(problem: Problem, plan: Plan, stopped: bool, unchecked: list[str]) -> None:
    """How good the plan is, the parts that it has no sheet for, and every sheet."""
    from wallwright.cutting.model import to_mm

    loaded = f" ({plan.loading:.1f} s of them to load the search)" if plan.loading >= 0.05 else ""
    time = f"{'stopped after ' if stopped else ''}{plan.seconds:.1f} s{loaded}; replayed and verified"
    if plan.unplaced:
        short, wanted = (sum(p.quantity for p in pieces) for pieces in (plan.unplaced, problem.pieces))
        print(
            f"{plan.used} sheets, and {short} of {wanted} parts NOT PLACED: the stock does not suffice; {time}"
        )
        for part in plan.unplaced:
            size = f"{to_mm(part.length):g} × {to_mm(part.width):g}"
            print(f"  not placed: {part.quantity} of {part.name}, {size}, {part.material}")
    else:
        said = f" (not verified for {', '.join(unchecked)}: too large to price again)" if unchecked else ""
        print(f"{plan.used} sheets, at least {plan.lower_bound} needed{said}; {time}")
    for number, sheet in enumerate(plan.sheets, 1):
        size = f"{to_mm(sheet.sheet.length):g} × {to_mm(sheet.sheet.width):g}"
        print(f"\nSheet {number}: {sheet.sheet.name} {size}, {sheet.count} to cut like this")
        for part in sheet.placed:
            turned = ", turned" if part.turned else ""
            print(
                f"  {part.name}: {to_mm(part.length):g} × {to_mm(part.width):g} at {to_mm(part.x):g}, {to_mm(part.y):g}{turned}"
            )


def _length(name: str, written: str) -> float:
    """A length option in mm, 0 or more."""
    from wallwright.core.units import read_length

    try:
        mm = read_length(written)
    except ValueError as problem:
        raise ValueError(f"--{name} {written}: {problem}") from None
    if not 0 <= mm <= 100:
        raise ValueError(f"--{name} {written}: must be from 0 to 100 mm")
    return mm


def _table(path: Path, parse: Callable[[str], Rows]) -> Rows:
    """The rows of a CSV file. ValueError names the file, and in it the line and field."""
    from wallwright.export.files import read_bytes

    data = read_bytes(path, LARGEST_TABLE, "CSV table")
    try:
        return parse(data.decode("utf-8-sig"))
    except UnicodeDecodeError:
        raise ValueError(f"{path}: is not UTF-8 text; save the table as CSV in UTF-8") from None
    except ValueError as problem:
        raise ValueError(f"{path}: {problem}") from None


def _fetch_writers() -> None:
    """Load the packages that write the set; meanwhile the solver of the storage, which leaves Python alone, is at work."""
    for name in ("ezdxf", "typst", "xlsxwriter", "icalendar"):
        with suppress(ImportError):  # said where the file is written
            import_module(name)


@app.command
def issue(  # noqa: PLR0913
    job: Path,
    *,
    out: Path,
    role: Annotated[tuple[ReaderName, ...], Parameter(negative="")] = (),
    since: Path | None = None,
    tiles: Literal["A4", "A3"] = "A4",
    pictures: Annotated[bool, Parameter(negative="")] = False,
    rates: Path | None = None,
    as_json: Json = False,
) -> int:
    """Write the whole issue set: the folder appears complete or not at all. Same input, same bytes.

    Args:
        job: The job file, or the folder it is in.
        out: The folder to write; an older set of ours in it is replaced whole.
        role: Only what this reader gets, as one PDF with his other files; may be given again. `all`: the whole set, and one PDF
            a reader beside it.
        since: The job that is out (its file, or the folder of its issue set): only what changed since is written, clouded, with a
            transmittal that names the sheets that are void; with --role, what changed for that reader alone.
        tiles: The paper of the templates at full size.
        pictures: Also the client's pictures by day and by night as files, some seconds more; his own set always has them.
        rates: A rates file to price it with; the job in the set carries them.
        as_json: Print the manifest as JSON.
    """
    from wallwright.derive import derive_to_issue
    from wallwright.export.files import writing
    from wallwright.export.package import issue as issue_set
    from wallwright.rules import check as check_wall
    from wallwright.sheets.roles import ROLES, Role

    read = _job(job, rates)
    roles: tuple[Role, ...] = ROLES if "all" in role else tuple(name for name in ROLES if name in role)
    whole = not role or "all" in role
    if since is not None:
        return cli_change.issue_changes(
            read, since, out, as_json, roles=roles, whole=whole, tiles=tiles, pictures=pictures
        )
    Thread(target=_fetch_writers, daemon=True).start()
    with _progress("Issuing") as tell, writing(out):
        tell(0.0, "cutting plans")
        derived = derive_to_issue(read)
        manifest = issue_set(
            derived, out, progress=tell, roles=roles, whole=whole, tiles=tiles, pictures=pictures
        )
    counts = _counts(check_wall(derived))
    if as_json:
        _print_json({**manifest.as_dict(), "findings": counts})
    else:
        print(f"{len(manifest.files)} files in {out}{os.sep}, revision {manifest.revision}")
        for entry in manifest.files:
            print(f"  {entry.name:<28} {entry.size / 1000:8.1f} kB")
        for line in manifest.left_out:
            print(f"  left out: {line}")
        print("  " + ", ".join(f"{count} {severity}" for severity, count in counts.items()))
    if counts["danger"]:
        print(
            f"NOT FOR CONSTRUCTION: {counts['danger']} danger(s) open; every sheet says so", file=sys.stderr
        )
    return GOOD


@app.command
def picture(  # noqa: PLR0913
    job: Path,
    *,
    out: Path,
    when: Literal["day", "night"] = "night",
    seat: str = "",
    fast: bool = False,
    width: int = 960,
    height: int = 640,
    as_json: Json = False,
) -> int:
    """The client's picture of the wall in its room, from a seat, the screen black, as PNG.

    Args:
        job: The job file, or the folder it is in.
        out: The PNG to write; an older one is replaced.
        when: day, by the windows, or night, by the LED lines and lamps.
        seat: From whose eye (a seat's ref); left out: the seat that is used most.
        fast: In a few seconds, without light that goes from wall to wall; else with it (extra `render`).
        width: In pixels, 64 to 4000.
        height: In pixels, 64 to 4000.
        as_json: Print what was written as JSON.
    """
    from wallwright.export.files import write_atomic, writing
    from wallwright.export.picture import note, picture_png
    from wallwright.export.picture_scene import stage
    from wallwright.export.render import render_png

    if not (64 <= width <= 4000 and 64 <= height <= 4000):
        raise ValueError(
            f"width and height must lie between 64 and 4000 pixels; they are {width} and {height}"
        )
    wall = _wall(job)
    says = note(stage(wall, when, seat))
    make = picture_png if fast else render_png
    with _progress("Picture") as tell, writing(out):
        write_atomic(out, make(wall, when, seat=seat, size=(width, height), progress=tell))
    if as_json:
        _print_json({"file": str(out), "when": when, "light": "direct" if fast else "traced", "says": says})
    else:
        print(f"{out}: {says}")
    return GOOD


@app.command(name="import-room")
def import_room(  # noqa: PLR0913
    file: Path,
    *,
    out: Path | None = None,
    wall: str = "",
    space: str = "",
    other_side: bool = False,
    as_json: Json = False,
) -> int:
    """Read a wall of an architect's IFC model into a job: sizes, openings, what stands on it. All of it counts as assumed.

    Args:
        file: The IFC file. Reading it needs the extra `ifc`.
        out: The job file to write; without it the walls are listed and nothing is written.
        wall: The wall's name, identifier or number in the list; absent = the longest.
        space: The room's name in the file; absent = the larger of the rooms beside the wall.
        other_side: Read the wall's other face.
        as_json: Print what was read as JSON.
    """
    from wallwright.export.files import write_atomic, writing
    from wallwright.export.ifc_read import read_room_apart
    from wallwright.job.document import Job
    from wallwright.job.problem import fail
    from wallwright.job.write import write_job

    read = read_room_apart(file, wall, space, other_side=other_side)
    if out is not None:
        with writing(out):
            if out.exists():
                raise fail(
                    "file", None, "is there already; choose another name, nothing was overwritten", str(out)
                )
            write_atomic(
                out, write_job(Job(title=f"{read.survey.room.name} wall"[:80], survey=read.survey)).encode()
            )
    if as_json:
        walls = [{"number": one.number, "name": one.name, "storey": one.storey, "length": round(one.length, 1),
                  "height": round(one.height, 1), "thickness": round(one.thickness, 1), "openings": one.openings,
                  "spaces": list(one.spaces)} for one in read.walls]  # fmt: skip
        told = {"read": list(read.taken), "guessed": list(read.guessed), "not_read": list(read.left)}
        _print_json(
            {"wall": read.wall.number, "walls": walls, **told, "job": str(out) if out is not None else None}
        )
        return GOOD
    for one in read.walls:
        mark = "→" if one.number == read.wall.number else " "
        beside = f"; beside {', '.join(one.spaces)}" if one.spaces else ""
        print(
            f"{mark}{one.number:>3}  {one.name}  {one.length:.0f} × {one.height:.0f} × {one.thickness:.0f} mm"
            f"{f'  {one.storey}' if one.storey else ''}{beside}"
        )
    for title, lines in (
        ("Read", read.taken),
        ("Guessed: correct it", read.guessed),
        ("Not read", read.left),
    ):
        print(f"{title}:")
        for line in lines:
            print(f"  {line}")
    print("Every length counts as assumed until somebody measures it.")
    print(f"{out}\nNext: wallwright check {out}" if out else "Nothing was written: give --out job.toml")
    return GOOD


@app.command
def schema(*, as_json: Json = False) -> int:
    """Print the JSON Schema of the job file.

    Args:
        as_json: The schema is JSON either way.
    """
    from wallwright.job.schema import job_schema

    _print_json(job_schema())
    return GOOD


@app.command
def why(job: Path, name: str = "", *, as_json: Json = False) -> int:
    """Explain a value or a rule: its inputs, formula, source and certainty.

    Args:
        job: The job file, or the folder it is in.
        name: A value such as screen.centre_height, a rule such as structure.shelf_sag, or a limit; without it, the list.
        as_json: Print the working as JSON.
    """
    derived = _wall(job)
    if not name:
        return _list_names(derived, as_json)
    shown = [item for item in derived.whys if item.name == name or item.name.startswith(f"{name}.")]
    if shown:
        from wallwright.export.wall_json import why_json

        if as_json:
            _print_json({"whys": [why_json(item) for item in shown]})
        for item in () if as_json else shown:
            value = f"{item.value:g}" if isinstance(item.value, float) else item.value
            print(f"{item.name} = {value} {item.unit}{'  (pinned)' if item.pinned else ''}\n  {item.says}")
            if item.formula:
                print(f"  {item.formula}")
            for given in item.inputs:
                print(
                    f"    {given.name} = {given.value:g} {given.unit}"
                    if isinstance(given.value, float)
                    else f"    {given.name} = {given.value} {given.unit}"
                )
            print(f"  source: {item.source} ({item.certainty})")
        return GOOD
    return _why_rule(derived, name, as_json)


def _why_rule(derived: Wall, name: str, as_json: bool) -> int:
    """Explain a rule or a limit; ValueError with the nearest names where there is neither."""
    from wallwright.export.wall_json import finding_json
    from wallwright.job.problem import nearest
    from wallwright.rules import RULES

    if name in RULES:
        rule = RULES[name]
        found = list(rule.find(derived))
        if as_json:
            _print_json(
                {
                    "rule": name,
                    "trade": rule.trade,
                    "says": rule.says,
                    "findings": [finding_json(item) for item in found],
                }
            )
            return GOOD
        print(f"{name} ({rule.trade})\n  {rule.says}")
        for item in found:
            _print_finding(item)
        if not found:
            print("  Nothing to say on this wall.")
        return GOOD
    if name in derived.limits:
        limit = derived.limits[name]
        if as_json:
            _print_json(
                {
                    "limit": name,
                    "value": limit.value,
                    "unit": limit.unit,
                    "source": limit.source,
                    "certainty": limit.certainty,
                }
            )
        else:
            print(
                f"{name} = {limit.value:g} {limit.unit}\n  source: {limit.source} ({limit.certainty})\n  {limit.note}".rstrip()
            )
            print(f'  to change it, put in the job file:  [rules]  "{name}" = {limit.value:g}')
        return GOOD
    known = [item.name for item in derived.whys] + list(RULES) + [limit.name for limit in derived.limits]
    raise ValueError(f"{name!r} is no value, rule or limit of this wall; {nearest(name, known)}")


def _list_names(derived: Wall, as_json: bool) -> int:
    from wallwright.rules import RULES

    if as_json:
        _print_json(
            {
                "values": [item.name for item in derived.whys],
                "rules": list(RULES),
                "limits": [item.name for item in derived.limits],
            }
        )
        return GOOD
    for item in derived.whys:
        value = f"{item.value:g}" if isinstance(item.value, float) else item.value
        print(f"{item.name:<36} {value} {item.unit}")
    return GOOD


for _command in (
    cli_change.diff, cli_change.asfound, cli_change.survey,
    cli_money.budget, cli_money.options, cli_money.quote, cli_money.rates,
    cli_studio.serve, cli_studio.person, cli_studio.work, cli_studio.backup, cli_studio.restore,
):  # fmt: skip
    app.command(_command)
app.command(cli_photo.photo)
app.command(cli_tower.tower)


@app.command
def completion(shell: Literal["bash", "zsh", "fish"] = "bash") -> int:
    """Print the completion script of a shell: wallwright completion bash > the place your shell reads.

    Args:
        shell: Which shell.
    """
    print(app.generate_completion(shell=shell))
    return GOOD
