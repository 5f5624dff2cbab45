"""Every refusal as {"error": {field, value, says, problems}}, with a status that tells what kind it is."""

from __future__ import annotations

from typing import Any

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import JSONResponse
from starlette.exceptions import HTTPException

from wallwright.job.problem import JobError, Problem, shown
from wallwright.studio import sheets, view
from wallwright.studio.answers import Stale
from wallwright.studio.answers_base import OneProblem, Refused, Trouble
from wallwright.studio.questions import plain_words
from wallwright.studio.session import StaleError

REFUSALS: dict[int | str, dict[str, Any]] = {
    code: {"model": Refused} for code in (400, 401, 403, 404, 405, 413, 415, 421, 422, 429)
}
STALE: dict[int | str, dict[str, Any]] = {409: {"model": Stale, "description": "The job has changed since"}}
CHANGED: dict[int | str, dict[str, Any]] = {
    409: {"model": Refused, "description": "It is not as it was when it was looked at"}
}


class Refusal(Exception):  # noqa: N818
    """A call that is not done, and what the caller hears of it."""

    def __init__(self, status: int, field: str, says: str, **headers: str) -> None:
        self.status, self.field, self.says = status, field, says
        self.headers = {name.replace("_", "-"): value for name, value in headers.items()}
        super().__init__(says)


def refuse_in_words(app: FastAPI) -> None:
    """Give every kind of refusal its answer."""
    app.add_exception_handler(Refusal, _refusal)
    app.add_exception_handler(JobError, _job_error)
    app.add_exception_handler(sheets.NoSuchSheetError, _no_sheet)
    app.add_exception_handler(StaleError, _stale)
    app.add_exception_handler(RequestValidationError, _invalid)
    app.add_exception_handler(HTTPException, _http)


def _refusal(_request: Request, error: Any) -> JSONResponse:
    return _refused(error.status, (Problem(error.field, "", error.says),), error.headers)


def _job_error(_request: Request, error: Any) -> JSONResponse:
    return _refused(422, plain_words(error).problems)


def _no_sheet(_request: Request, error: Any) -> JSONResponse:
    return _refused(404, (Problem("name", error.name, error.says),))


def _stale(request: Request, error: Any) -> JSONResponse:
    now = view.state(request.state.session.view(), _scale_of(request))
    says = error.says or "the job has changed since this page saw it"
    trouble = _trouble((Problem(error.field or "position", "", f"{says}; here is how it stands"),))
    return JSONResponse(Stale(error=trouble, state=now).model_dump(by_alias=True), 409)


def _invalid(_request: Request, error: Any) -> JSONResponse:
    problems = tuple(
        Problem(_field(item["loc"]), _told(item), str(item["msg"])) for item in error.errors()[:20]
    )
    return _refused(422, problems)


def _told(item: Any) -> str:
    """The value that was wrong; never one that may be a password."""
    secret = any(step in ("password", "old", "new") for step in item["loc"])
    return "" if secret or isinstance(item.get("input"), dict) else shown(item.get("input"))


def _http(request: Request, error: Any) -> JSONResponse:
    status = error.status_code
    says = {404: "is not here", 405: f"does not take {request.method}"}.get(status, str(error.detail))
    return _refused(status, (Problem("address", request.url.path[:80], says),), dict(error.headers or {}))


def _field(steps: tuple[str | int, ...]) -> str:
    """Where in the call it stands, without "body" or "query" before it."""
    return ".".join(str(step) for step in steps[1:]) or str(steps[0])


def _scale_of(request: Request) -> float:
    """The scale asked for, where it was well formed."""
    try:
        scale = float(request.query_params.get("scale", "20"))
    except ValueError:
        return 20.0
    return scale if 5 <= scale <= 200 else 20.0


def _trouble(problems: tuple[Problem, ...]) -> Trouble:
    plain = [OneProblem(field=p.field, value=p.value, says=p.says) for p in problems]
    return Trouble(**plain[0].model_dump(), problems=plain)


def _refused(
    status: int, problems: tuple[Problem, ...], headers: dict[str, str] | None = None
) -> JSONResponse:
    return JSONResponse(Refused(error=_trouble(problems)).model_dump(), status, headers)
