from __future__ import annotations

import pytest

from wallwright.job.document import VERSION
from wallwright.job.migrate import STEPS, brought_forward
from wallwright.job.problem import JobError

CHAIN = {
    1: lambda old: {"name": old["title"]},
    2: lambda old: {"name": old["name"].upper()},
}


def test_every_older_version_has_its_step() -> None:
    assert sorted(STEPS) == list(range(1, VERSION))


@pytest.mark.parametrize(
    ("document", "wanted"),
    [
        ({"wallwright-job": 1, "title": "wall"}, {"name": "WALL"}),
        ({"wallwright-job": 2, "name": "wall"}, {"name": "WALL"}),
        ({"wallwright-job": 3, "name": "wall"}, {"name": "wall"}),
    ],
)
def test_older_documents_come_forward_step_by_step(document: dict, wanted: dict) -> None:
    before = dict(document)
    assert brought_forward(document, CHAIN, 3) == wanted
    assert document == before


def test_a_newer_document_and_a_missing_step_are_refused() -> None:
    with pytest.raises(JobError, match="newer program"):
        brought_forward({"wallwright-job": 4}, CHAIN, 3)
    with pytest.raises(JobError, match="no way from version 1 to 2"):
        brought_forward({"wallwright-job": 1}, {2: CHAIN[2]}, 3)
