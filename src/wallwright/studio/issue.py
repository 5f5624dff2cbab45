"""The issue set as the page asks for it: one of the studies, told in the page's few words."""

from __future__ import annotations

from pathlib import Path
from typing import Literal

from wallwright.studio import studies
from wallwright.studio.answers import Issue
from wallwright.studio.session import Session
from wallwright.studio.studio import Studio

NONE = Issue(state="none", share=0.0, what="", folder="", revision="", files=[], error="")
_TOLD: dict[str, Literal["none", "running", "done", "failed"]] = {
    "queued": "running", "running": "running", "done": "done", "failed": "failed", "cancelled": "none",
}  # fmt: skip


def issue_now(session: Session) -> Issue:
    """How the newest issue set of the job stands."""
    with session.store.read() as db:
        found = studies.of_job(db, session.job, "issue")
    return _told(session, found[0]) if found else NONE


def start_issue(studio: Studio, session: Session, text: str, who: str) -> Issue:
    """Have the set of this job written; where it is being written already, that goes on."""
    folder = str(folder_of(session.file)) if session.file else ""
    study = studies.ask(session.store, session.job, text, "issue", {}, who, folder)
    if studio.worker:
        studio.worker.wake()
    return _told(session, study)


def folder_of(file: Path) -> Path:
    """Where the set of a job file goes."""
    return file.parent.resolve() / f"{file.stem}-issue"


def _told(session: Session, study: studies.Study) -> Issue:
    answer = (studies.kept(session.store, study.key) or {}) if study.state == "done" else {}
    return Issue(
        state=_TOLD[study.state], share=study.share, what=study.what, folder=study.folder,
        revision=str(answer.get("revision", session.view().wall.job.revision)), files=list(answer.get("files", [])),
        error=study.error,
    )  # fmt: skip
