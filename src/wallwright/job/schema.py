"""The job document's JSON Schema (2020-12), for editors that check as one types."""

from __future__ import annotations

from typing import Any

from wallwright.job.document import VERSION
from wallwright.job.migrate import KEY
from wallwright.job.read import job_adapter


def job_schema() -> dict[str, Any]:
    """The schema of a job file: its shape and its words. What only the reader can tell (library names, refs) is not in it."""
    schema = job_adapter().json_schema()
    version = {"const": VERSION, "description": "Version of this document's form."}
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "Wallwright job",
        **{key: value for key, value in schema.items() if key not in ("title", "properties", "required")},
        "properties": {KEY: version, **schema["properties"]},
        "required": [KEY, *schema["required"]],
    }
