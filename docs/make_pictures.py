"""Make the pictures of the README and the guide from the demo job: the program's own sheets, rendered by the program's own PDF engine."""

from __future__ import annotations

import io
import sys
from pathlib import Path

from PIL import Image

from wallwright.derive import derive_to_issue
from wallwright.export.pdf import sheet_png
from wallwright.job.demos import demo_jobs
from wallwright.job.read import read_job
from wallwright.sheets.drawing_set import drawing_set

WANTED = (
    "elevation",
    "heights",
    "seat_plan",
    "reflections",
    "services",
    "cable_map",
    "storage",
    "joinery_C1",
    "fixings",
    "details_1",
    "composition",
    "cutting_ply18_1",
    "programme",
    "first_fix1",
)
GREYS = 16  # black ink on white paper needs no more, and a picture is a third as large


def main(folder: Path) -> None:
    """Write one picture a wanted sheet into the folder."""
    folder.mkdir(parents=True, exist_ok=True)
    wall = derive_to_issue(read_job(demo_jobs()["living"]))
    sheets = {sheet.name: sheet for sheet in drawing_set(wall, wall.cuts)}
    for name in WANTED:
        picture = Image.open(io.BytesIO(sheet_png(sheets[name], dots_per_inch=100))).convert("L")
        picture.quantize(GREYS).save(folder / f"{name}.png", optimize=True)
        print(folder / f"{name}.png")


if __name__ == "__main__":
    main(Path(sys.argv[1]) if len(sys.argv) > 1 else Path(__file__).parent / "pictures")
