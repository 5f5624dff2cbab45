"""Edits: named functions, job in and job out, the only way a job changes. Here is the whole register.

An edit is also the undo step (the job before it is kept), the line of the log and the text of the button. The functions
themselves stand by subject in `edits_screen`, `edits_units`, `edits_panels`, `edits_wiring`, `edits_survey`,
`edits_brief`, `edits_materials`, `edits_money` and `edits_progress`.
"""

from __future__ import annotations

from wallwright.job import (
    edits_brief,
    edits_job,
    edits_materials,
    edits_money,
    edits_panels,
    edits_progress,
    edits_screen,
    edits_survey,
    edits_units,
    edits_wiring,
)
from wallwright.job.edit import EDITS, Edit, apply, log_line

SUBJECTS = (
    edits_job, edits_survey, edits_brief, edits_screen, edits_units, edits_panels, edits_wiring, edits_materials,
    edits_money, edits_progress,
)  # fmt: skip
"""The files of edits, in the trade's order; importing them fills the register."""

__all__ = ["EDITS", "SUBJECTS", "Edit", "apply", "log_line"]
