"""The command line. Each command reads files, calls the engine, and prints.

Exit code: 0 good, 1 something must be fixed, 2 bad input.
"""

from __future__ import annotations

import gc
import json
import os
import shutil
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal

from cyclopts import App, CycloptsError

from wallwright import (
    __version__,
    cli_change,
    cli_cut,
    cli_issue,
    cli_money,
    cli_photo,
    cli_studio,
    cli_tower,
    cli_why,
)
from wallwright.cli_progress import progress as _progress
from wallwright.cli_say import (
    BAD_INPUT,
    GOOD,
    Flag,
    Json,
    counts_of,
    print_finding,
    print_json,
    wall_of,
)
from wallwright.cli_wrong import wrong

if TYPE_CHECKING:
    from wallwright.core.finding import Finding
    from wallwright.core.table import Table
    from wallwright.derive import Wall

app = App(
    name="wallwright",
    version=__version__,
    help="Design and deliver a television wall: one job in; the wall, its findings, drawings, cutting plan, money out.",
    help_format="plaintext",
    result_action="return_value",
)


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
        lines = [wrong(problem) if isinstance(problem, CycloptsError) else text or type(problem).__name__]
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
        print_json({"job": str(target)})
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
        out["jobs"].append({"file": str(path), "counts": counts_of(findings), "gate": gate(wall, findings)})
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
        print_json(out)
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

    wall = wall_of(job, rates)
    findings = check_wall(wall)
    if as_json:
        from wallwright.export.wall_json import findings_json
        from wallwright.rules.gates import gates as standing

        print_json(findings_json(wall, findings, gate(wall, findings), standing(wall, findings)))
    else:
        for item in findings:
            print_finding(item)
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


def _print_summary(wall: Wall, findings: tuple[Finding, ...]) -> None:
    from wallwright.rules import gate
    from wallwright.tables.fixings import without_fixings

    counts = ", ".join(f"{count} {severity}" for severity, count in counts_of(findings).items())
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
    derived = wall_of(job, rates)
    if as_json:
        from wallwright.export.wall_json import wall_json

        print_json(wall_json(derived))
        return GOOD
    from wallwright.tables import all_tables

    for table in all_tables(derived):
        _print_table(table)
    return GOOD


def _print_table(table: Table) -> None:
    """A table in columns of their own width."""
    rows = [[column.heading for column in table.columns]]
    for row in table.rows:
        rows.append([column.shown(cell) for column, cell in zip(table.columns, row, strict=True)])
    widths = [max(len(row[k]) for row in rows) for k in range(len(table.columns))]
    print(f"\n{table.title}")
    for row in rows:
        line = (
            text.rjust(width) if column.align == "right" else text.ljust(width)
            for text, width, column in zip(row, widths, table.columns, strict=True)
        )
        print("  ".join(line).rstrip())


app.command(cli_cut.cut)
app.command(cli_issue.issue)
app.command(cli_issue.picture)
app.command(cli_issue.import_room, name="import-room")


@app.command
def schema(*, as_json: Json = False) -> int:
    """Print the JSON Schema of the job file.

    Args:
        as_json: The schema is JSON either way.
    """
    from wallwright.job.schema import job_schema

    print_json(job_schema())
    return GOOD


for _command in (
    cli_why.why,
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
