"""Write docs/bench.md and docs/guide/capacity.md from bench/results.json, which `make bench` has written: no figure is typed by hand."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parents[1]
RESULTS = ROOT / "bench" / "results.json"
HEAD = """# Measured

Written by `docs/make_bench.py` from `bench/results.json`, which `make bench` writes: one script a question, on one machine, in bounded time.
Milliseconds of processor time where the scripts say so, else of the clock. *Limit* is what the figure cannot be better than, or what makes it
what it is; *others* is the same question put to a general program or library. *Memory* is the largest process that the script had.
"""


def number(value: float) -> str:
    """A figure with as many digits as it has meaning."""
    if value != value:
        return "–"
    size = abs(value)
    return (
        f"{value:,.0f}"
        if size >= 100 or value == int(value)
        else f"{value:.1f}"
        if size >= 10
        else f"{value:.2f}"
    )


def told(found: dict[str, Any]) -> list[str]:
    """The table of a script, as Markdown."""
    ended = "" if found["ended"] == 0 else f"; **it ended with {found['ended']}**"
    out = [
        f"## {found['name']}",
        "",
        f"`bench/{found['name']}.py`: {found['seconds']:g} s, {found['memory']} MB{ended}.",
        "",
    ]
    if found["rows"]:
        out += ["| question | figure | budget | limit | others |", "|---|---|---|---|---|"]
    for row in found["rows"]:
        budget = "" if row.get("budget") is None else f"{number(row['budget'])} {row['unit']}"
        over = " **over**" if row.get("budget") is not None and row["figure"] > row["budget"] else ""
        cells = (
            row["question"],
            f"{number(row['figure'])} {row['unit']}{over}",
            budget,
            row.get("limit", ""),
            row.get("peer", ""),
        )
        out.append("| " + " | ".join(str(cell).replace("|", "/").strip() for cell in cells) + " |")
    return [*out, ""]


def page(results: dict[str, Any]) -> str:
    """The page of all that was measured."""
    busy = results["load_before"] > 1.0
    on = f"Measured on {results['day']}: {results['machine']}."
    if busy:
        load = f"{results['load_before']:g}"
        on += f" **The machine was busy with other work (load {load} before the first script): figures of the clock are too high.**"
    if results["left_out"]:
        on += f" There was no time for: {', '.join(results['left_out'])}."
    lines = [HEAD, on, ""]
    for found in results["scripts"]:
        lines += told(found)
    return "\n".join(lines).rstrip("\n") + "\n"


# --- the capacity plan -------------------------------------------------------------------------------------------------

PLAN = """# How many people and walls

Written by `docs/make_bench.py` from what `bench/load.py` measured on {day}: {machine}, {database}.{busy}
The processor time that a call costs is taken from one person alone; what people do is assumed, and stands below
to be replaced by what you count in your own audit log.

## What a call costs

| call | processor time of the server |
|---|---|
{calls}

A server process takes {empty} MB when it begins and {filled} MB with {jobs} jobs open. The database grows by {grows} kB an edit (the job's text
each time, which is why nothing is ever lost).

## What a person does in an hour of work (assumed, common practice)

{edits} edits; {drags} drags of {steps} steps each, weighed {weighed} times; {views} views of a wall or a sheet;
a page that asks every {watch_s} s whether anything changed ({watches} times). That is

{edits} × {edit:.1f} + {all_steps} × {drag:.1f} + {all_weighed} × {weigh:.1f} + {views} × {state:.1f} + {watches} × {watch:.1f} ms =
**{hour:.1f} s of processor time an hour = {share:.2%} of a processor**. At most {use:.0%} of a processor is to be in use,
so that what comes at once does not wait: **{per:.0f} people at work for each processor**.

## From one studio to a million walls

Assumed: a designer finishes {walls_each} walls a year and works on a wall for {wall_edits} edits; {peak:.0%} of all are at work in the busiest hour;
an issue set is {set_mb:g} MB, and {sets} of a wall are kept.

| | designers | walls a year | at work at once | processors | server processes | their memory | edits a second | database after a year |
|---|---|---|---|---|---|---|---|---|
{rows}

A process of the server uses one processor, and no more (Python's lock): so many processes as processors, behind one proxy. Studies (issue sets,
searched cutting plans, pictures) are worked off beside them, one at a time for each worker: an issue set costs {issue:.0f} s of processor
time, {issues_hour:.0f} an hour for each worker at {use:.0%}; `wallwright work` adds workers on machines of their own.

## What was tried

{people} people at once, {servers} server processes, {jobs} jobs, {seconds:g} s: {calls_made} calls, **{failed} failed**, {stale} edits met
another's change of the same thing and were told so; {each:.1f} ms of processor time a call, both servers, all people and the database on the same
two processors. One does something every eight seconds there, about six times as often as assumed above.

| | calls | p50 | p95 | p99 |
|---|---|---|---|---|
{tried}

## Where this ends

The rows above a practice are arithmetic from these figures, not a trial: nothing larger than {people} people at once was run. Two things are known to
come first. A studio is the natural piece: jobs of different studios never meet, so a database for each studio (or for each hundred) is the way
past one PostgreSQL's writes and size, and nothing in the program stands against it. And issue sets are most of the bytes of a million
walls: what the workers keep of them, and how long, a studio sets itself ([what is kept](hosting.md#what-is-kept-and-for-how-long)); beyond the
library's 50 GB they belong on storage of their own, or away: they are found again by asking.
"""
EDITS, DRAGS, STEPS, WEIGHED, VIEWS, WATCH_S = 60, 10, 40, 5, 200, 5
USE, PEAK, WALLS_EACH, WALL_EDITS, SET_MB, SETS = 0.6, 0.3, 25, 400, 1.5, 4
ISSUE_S = 3.0
SIZES = (
    ("one studio", 3),
    ("a practice", 40),
    ("a firm of many offices", 1_000),
    ("a million walls", 40_000),
)


def capacity(results: dict[str, Any]) -> str:
    """The page of the capacity plan; the empty text where the load was not measured."""
    rows = {
        row["question"]: row for one in results["scripts"] if one["name"] == "load" for row in one["rows"]
    }
    load = next((row for row in rows.values() if "single" in row), None)
    if load is None:
        return ""
    single = load["single"]
    watches = 3600 // WATCH_S
    hour = (
        EDITS * single["edit"]
        + DRAGS * STEPS * single["drag"]
        + DRAGS * WEIGHED * single["weigh"]
        + VIEWS * single["state"]
        + watches * single["watch"]
    ) / 1000
    share = hour / 3600
    issue = next((row["figure"] / (1000 if row["unit"] == "ms" else 1) for one in results["scripts"] for row in one["rows"]
                  if "issue, whole process" in row["question"]), ISSUE_S)  # fmt: skip
    table, tried = [], []
    for name, people in SIZES:
        at_once = max(1, round(people * PEAK))
        cores = max(1, -(-int(at_once * share / USE * 100) // 100))
        walls, kept = (
            people * WALLS_EACH,
            people * WALLS_EACH * (WALL_EDITS * load["grows"] / 1e9 + SETS * SET_MB / 1e3),
        )
        processes = max(2, cores)  # one may fall
        table.append(
            f"| {name} | {people:,} | {walls:,} | {at_once:,} | {cores:,} | {processes:,} | {processes * load['filled'] / 1000:,.1f} GB | "
            f"{at_once * EDITS / 3600:,.1f} | {f'{kept:,.1f} GB' if kept < 1000 else f'{kept / 1000:,.1f} TB'} |"
        )
    for row in rows.values():
        if "p50" in row:
            kind = row["question"].partition(": ")[2].partition(",")[0]
            tried.append(
                f"| {kind} | {row['calls']:,} | {row['p50']:,} ms | {number(row['figure'])} ms | {row['p99']:,} ms |"
            )
    calls = {
        "edit": "an edit, kept",
        "drag": "a step of a drag: the wall drawn as it would be (`/look`)",
        "weigh": "a drag weighed, a few times a second: findings and money of it (`/try`)",
        "state": "the whole page",
        "sheet": "a sheet",
        "watch": "has anything changed?",
    }
    load_before = f"{results['load_before']:g}"
    busy = (
        f" **The machine was busy with other work (load {load_before}): what people waited is too long.**"
        if results["load_before"] > 1.0
        else ""
    )
    return PLAN.format(
        busy=busy,
        day=results["day"], machine=results["machine"], database=load["database"], empty=load["empty"], filled=load["filled"], jobs=load["jobs"],
        calls="\n".join(f"| {says} | {single[key]:.1f} ms |" for key, says in calls.items()), grows=round(load["grows"] / 1000, 1),
        edits=EDITS, drags=DRAGS, steps=STEPS, all_steps=DRAGS * STEPS, weighed=WEIGHED, all_weighed=DRAGS * WEIGHED,
        views=VIEWS, watch_s=WATCH_S, watches=watches, edit=single["edit"],
        drag=single["drag"], weigh=single["weigh"], state=single["state"], watch=single["watch"], hour=hour, share=share, use=USE,
        per=USE / share, walls_each=WALLS_EACH,
        wall_edits=WALL_EDITS, peak=PEAK, set_mb=SET_MB, sets=SETS, rows="\n".join(table), issue=issue, issues_hour=3600 * USE / issue,
        people=load["people"], servers=load["servers"], seconds=load["seconds"], calls_made=f"{load['calls']:,}", failed=number(load["figure"]),
        stale=load["stale"], each=load["each"], tried="\n".join(tried),
    )  # fmt: skip


if __name__ == "__main__":
    found = json.loads(RESULTS.read_text("utf-8"))
    (ROOT / "docs" / "bench.md").write_text(page(found), "utf-8")
    if plan := capacity(found):
        (ROOT / "docs" / "guide" / "capacity.md").write_text(plan, "utf-8")
