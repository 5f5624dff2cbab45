"""The issue set written in the background, one at a time, beside the job file; the page asks how far it is."""

from __future__ import annotations

import threading
from pathlib import Path

from wallwright.derive import Wall
from wallwright.studio.answers import Issue

NONE = Issue(state="none", share=0.0, what="", folder="", revision="", files=[], error="")


class Issuing:
    """The one issue set that is being written, or the last that was."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._now = NONE

    def now(self) -> Issue:
        """How it stands."""
        with self._lock:
            return self._now

    def start(self, wall: Wall, path: Path) -> Issue:
        """Begin writing the set of this wall; where one is being written already, that one goes on."""
        folder = path.parent / f"{path.stem}-issue"
        with self._lock:
            if self._now.state != "running":
                self._now = NONE.model_copy(
                    update={"state": "running", "folder": str(folder), "revision": wall.job.revision}
                )
                threading.Thread(target=self._write, args=(wall, folder), name="issue", daemon=True).start()
            return self._now

    def _tell(self, **news: object) -> None:
        with self._lock:
            self._now = self._now.model_copy(update=news)

    def _write(self, wall: Wall, folder: Path) -> None:
        try:
            from wallwright.export.package import issue

            manifest = issue(
                wall,
                folder,
                progress=lambda share, what: self._tell(share=min(1.0, max(0.0, share)), what=what),
            )
        except Exception as problem:
            # whatever it is, the page must hear of it: nobody else listens to this thread
            self._tell(state="failed", error=str(problem)[:400] or type(problem).__name__)
            return
        self._tell(state="done", share=1.0, what="", files=[entry.name for entry in manifest.files])
