"""The API against its own description: whatever is sent, no fault of the program and no answer that is not described."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import schemathesis
from hypothesis import HealthCheck, Phase, settings
from schemathesis.checks import not_a_server_error
from schemathesis.specs.openapi.checks import (
    content_type_conformance,
    response_schema_conformance,
    status_code_conformance,
)
from starlette.testclient import TestClient

from wallwright.job.starter import starter
from wallwright.studio import links
from wallwright.studio.app import application
from wallwright.studio.studio import of_file

ADDRESS = "http://127.0.0.1:8470"
CHECKS = [not_a_server_error, status_code_conformance, content_type_conformance, response_schema_conformance]
EXAMPLES = 6


@schemathesis.serializer("application/toml")
def as_it_is(_context: Any, value: Any) -> bytes:
    """A job file: sometimes a whole one, mostly noise."""
    return value if isinstance(value, bytes) else str(value).encode("utf-8", "replace")


schema = schemathesis.openapi.from_dict(application(None).openapi())


@pytest.fixture(scope="module")
def local(tmp_path_factory: pytest.TempPathFactory) -> Any:
    """A studio of one job, and the token of a link to it."""
    path = Path(tmp_path_factory.mktemp("described")) / "job.toml"
    path.write_text(starter("studio"))
    studio = of_file(path, worker=False)
    for pace in (studio.edits, studio.tries, studio.knocks, studio.logins):
        pace.__init__(1e9, 1e9)
    with studio.store.write() as db:
        _, token = links.give(db, studio.first, "client", "x", 30, True, "you")
    yield (
        TestClient(application(studio), base_url=ADDRESS, raise_server_exceptions=False),
        studio.first,
        token,
    )
    studio.store.close()


@pytest.mark.filterwarnings("ignore::DeprecationWarning")
@schema.parametrize()
@settings(
    max_examples=EXAMPLES, deadline=None, derandomize=True, database=None, phases=[Phase.explicit, Phase.generate],
    suppress_health_check=list(HealthCheck),
)  # fmt: skip
def test_no_fault_and_no_undescribed_answer(case: Any, local: Any) -> None:
    http, job, token = local
    given = dict(case.path_parameters or {})
    headers = {"authorization": f"Bearer {token}"}
    if "job" in given and sum(map(ord, repr((given, case.body, case.query)))) % 4:
        case.path_parameters = {
            **given,
            "job": job,
        }  # mostly the job that is there, else whatever was made up
    send = {key: value for key, value in case.as_transport_kwargs(base_url=ADDRESS).items() if value}
    own = {
        key: value
        for key, value in send.pop("headers", {}).items()
        if key.lower() not in ("user-agent", "host")
    }
    answer = http.request(**send, headers={**own, **headers})
    case.validate_response(schemathesis.Response.from_any(answer), checks=CHECKS)
