"""How each kind of study is answered: the engine asked, the answer as JSON and its files. Runs in a process of its own."""

from __future__ import annotations

import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

from wallwright.job.document import Job
from wallwright.job.read import read_job
from wallwright.studio import history, studies
from wallwright.studio.store import Store

Tell = Callable[[float, str], object]
Answer = tuple[dict[str, Any], dict[str, bytes]]


def answer(store: Store, study: str) -> None:
    """Work a study out and keep what was found. What goes wrong is raised, for the worker to tell."""
    asked, text = studies.to_do(store, study)
    job = read_job(text)

    def tell(share: float, what: str) -> None:
        studies.tell(store, study, share, what, asked.tries)

    match asked.kind:
        case "options":
            found = _options(job, asked.question)
        case "cutting":
            found = _cutting(job, tell)
        case "picture":
            found = _picture(job, asked.question, tell)
        case "budget":
            found = _budget(job, tell)
        case "impact":
            with store.read() as db:
                before = history.text_of_sha(db, asked.job, str(asked.question["since"]))
            found = _impact(job, before, tell)
        case _:
            found = _issue(job, asked.folder, tell)
    studies.keep(store, asked.key, *found)
    studies.finish(store, study, asked.tries)


def _options(job: Job, question: dict[str, Any]) -> Answer:
    from wallwright.derive import derive
    from wallwright.export.options_json import options_json
    from wallwright.options.finish_sets import finish_options
    from wallwright.options.schemes import scheme_options

    wall = derive(job, searched=True)
    found = finish_options(wall) if question.get("of") == "finishes" else scheme_options(job)
    return options_json(wall, found[: question.get("number", 3)]), {}


def _cutting(job: Job, tell: Tell) -> Answer:
    from wallwright.derive import derive_to_issue
    from wallwright.export.package import cutting_plan_csv
    from wallwright.export.svg import sheet_svg
    from wallwright.sheets import cutting

    tell(0.0, "cutting plans")
    wall = derive_to_issue(job)
    tell(0.9, "drawings")
    files = {"cutting_plan.csv": cutting_plan_csv(wall.cuts)}
    for sheet in cutting.sheets(wall, None):
        files[f"{sheet.name}.svg"] = sheet_svg(sheet).encode("utf-8")
    boards = [
        {"board": board, "sheets": count, "used": round(share, 4)} for board, count, share in wall.cuts.sheets
    ]
    unfit = [{"part": part, "says": says} for part, says in wall.cuts.unfit]
    return {"boards": boards, "unfit": unfit, "total_shown": wall.money.shown(wall.money.total)}, files


def _picture(job: Job, question: dict[str, Any], tell: Tell) -> Answer:
    """The client's picture; traced light needs the extra `render`, and says so where it is not there."""
    from wallwright.derive import derive
    from wallwright.export.picture import note, picture_png
    from wallwright.export.picture_scene import stage
    from wallwright.export.render import render_png

    wall, when, seat = derive(job), question.get("when", "night"), question.get("seat", "")
    make = picture_png if question.get("light", "direct") == "direct" else render_png
    size = (question.get("width", 960), question.get("height", 640))
    picture = make(wall, when, seat=seat, size=size, progress=tell)
    return {"says": note(stage(wall, when, seat)), "when": when}, {"picture.png": picture}


def _budget(job: Job, tell: Tell) -> Answer:
    from wallwright.studio.swaps import way_back_told

    return way_back_told(job, tell), {}


def _impact(job: Job, before: str, tell: Tell) -> Answer:
    from wallwright.studio.changing import impact_told

    return impact_told(before, job, tell), {}


def _issue(job: Job, folder: str, tell: Tell) -> Answer:
    """The issue set: kept with its answer, and in local mode written beside the job file."""
    from wallwright.derive import derive_to_issue
    from wallwright.export.package import issue

    tell(0.0, "cutting plans")
    wall = derive_to_issue(job)
    with tempfile.TemporaryDirectory(prefix="wallwright-") as scratch:
        target = Path(folder) if folder else Path(scratch) / "issue"
        manifest = issue(wall, target, progress=tell)
        names = [entry.name for entry in manifest.files]
        files = {name: (target / name).read_bytes() for name in (*names, "manifest.json")}
    return {"revision": manifest.revision, "left_out": list(manifest.left_out), "files": names}, files
