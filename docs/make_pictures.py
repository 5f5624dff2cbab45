"""Make the pictures of the README from the demo job: the program's own sheets, rendered by the program's own PDF engine."""

from __future__ import annotations

import sys
from pathlib import Path

from wallwright.derive import derive_to_issue
from wallwright.export.pdf import sheet_png
from wallwright.job.demos import demo_jobs
from wallwright.job.read import read_job
from wallwright.sheets.drawing_set import drawing_set

WANTED = {"elevation": 0, "services": 2}


def main(folder: Path) -> None:
    """Write one picture a wanted sheet into the folder."""
    folder.mkdir(parents=True, exist_ok=True)
    wall = derive_to_issue(read_job(demo_jobs()["living"]))
    sheets = drawing_set(wall, wall.cuts)
    for name, number in WANTED.items():
        (folder / f"{name}.png").write_bytes(sheet_png(sheets[number], dots_per_inch=110))
        print(folder / f"{name}.png")


if __name__ == "__main__":
    main(Path(sys.argv[1]) if len(sys.argv) > 1 else Path(__file__).parent / "pictures")
