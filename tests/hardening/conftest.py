"""The databases and the servers of the studio's own tests."""

from __future__ import annotations

import importlib.util
import sys
from pathlib import Path

import pytest

_spec = importlib.util.spec_from_file_location(
    "studio_fixtures", Path(__file__).parents[1] / "studio" / "conftest.py"
)
assert _spec and _spec.loader
_studio = importlib.util.module_from_spec(_spec)
sys.modules["studio_fixtures"] = _studio
_spec.loader.exec_module(_studio)

postgres, database, cheap_passwords = _studio.postgres, _studio.database, _studio.cheap_passwords


@pytest.fixture
def hosted_database(request: pytest.FixtureRequest, tmp_path: Path) -> str:
    """The address of an empty database of the kind that several machines share: PostgreSQL where it is here, else SQLite."""
    if _studio.postgres_programs() is None:
        return f"sqlite:///{tmp_path}/studio.db"
    return str(_studio.fresh_database(request.getfixturevalue("postgres")))
