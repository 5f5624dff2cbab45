"""The transmittal's sheets are counted by themselves: no sheet 0, and no number of a sheet of the drawings."""

from __future__ import annotations

from wallwright.change.impact import Document
from wallwright.core.drawing import Text
from wallwright.derive import derive
from wallwright.job.demos import demo_jobs
from wallwright.job.read import read_job
from wallwright.sheets import transmittal
from wallwright.sheets.drawing_set import drawing_set
from wallwright.sheets.paper import Sheet, title_block
from wallwright.sheets.roles import role_set


def printed(sheet: Sheet) -> list[str]:
    return [mark.text for mark in title_block(sheet) if isinstance(mark, Text)]


def test_every_sheet_of_a_transmittal_is_one_of_so_many() -> None:
    wall = derive(read_job(demo_jobs()["living"]))
    documents = [
        Document(f"sheet{k}", f"Sheet {k}", "sheet", ("joiner",), "changed", k) for k in range(1, 161)
    ]
    sent = transmittal.sheets(wall, documents, "A", 3)
    assert len(sent) > 1
    for k, sheet in enumerate(sent, 1):
        texts = printed(sheet)
        assert f"{k} of {len(sent)}" in texts
        assert any(text.endswith(f"-TR{k}") for text in texts)


def test_an_index_is_no_sheet_0() -> None:
    wall = derive(read_job(demo_jobs()["living"]))
    first = role_set(wall, "client", drawing_set(wall))[0]
    texts = printed(first)
    assert not any(text.startswith("0 of") for text in texts) and f"index of {first.of}" in texts
