"""The page's address book: what may be asked of an open job and what may be done to it. All of it is the engine's work."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Any

from fastapi import APIRouter, FastAPI, Query, Request
from fastapi import Path as InPath
from fastapi.exceptions import RequestValidationError
from fastapi.responses import FileResponse, JSONResponse, Response
from fastapi.staticfiles import StaticFiles
from starlette.exceptions import HTTPException

import wallwright
from wallwright.derive import Wall
from wallwright.job.problem import JobError, Problem, shown
from wallwright.studio import answers, sheets, view
from wallwright.studio.guard import Guard
from wallwright.studio.issue import Issuing
from wallwright.studio.marks import edits_for
from wallwright.studio.questions import AskError, plain_length, plain_words
from wallwright.studio.session import Session, StaleError

STATIC = Path(__file__).parent / "static"
NO_PAGE = (
    "<!doctype html><html lang=en><title>Wallwright</title><h1>Wallwright</h1><p>The page itself was not built with this "
    "installation. Install again without WALLWRIGHT_FRONTEND=skip. The answers under /api work.</p></html>"
)
Scale = Annotated[
    float, Query(ge=5, le=200, allow_inf_nan=False, description="1:scale, for line widths and signs")
]
REFUSALS: dict[int | str, dict[str, Any]] = {
    code: {"model": answers.Refused} for code in (400, 403, 404, 405, 413, 421, 422)
}
STALE: dict[int | str, dict[str, Any]] = {
    409: {"model": answers.Stale, "description": "The job has changed since"}
}


def create_app(path: str | Path) -> FastAPI:
    """The application for one job file, door included. JobError where the job cannot be opened."""
    return application(Session(path))


def application(session: Session) -> FastAPI:
    """The application of an open session; its own description (`openapi()`) asks nothing of the session."""
    issuing = Issuing()
    app = FastAPI(
        title="Wallwright studio", version=wallwright.__version__, docs_url=None, redoc_url=None, openapi_url="/api/openapi.json",
        separate_input_output_schemas=False,
    )  # fmt: skip
    app.include_router(_asked(session), prefix="/api", responses=REFUSALS)
    app.include_router(_done(session), prefix="/api", responses=REFUSALS)
    app.include_router(_sheets(session, issuing), prefix="/api", responses=REFUSALS)
    _page(app)
    _problems(app)
    app.state.session = session
    app.add_middleware(Guard)
    return app


def _asked(session: Session) -> APIRouter:
    """What changes nothing."""
    router = APIRouter()

    @router.get("/state")
    def state(scale: Scale = 20) -> answers.State:
        """The whole page as the job stands."""
        return view.state(session.view(), scale)

    @router.get("/watch")
    def watch() -> answers.Watch:
        """Whether anything changed, the file on the disk among it: small, to be asked every few seconds."""
        now = session.view()
        return answers.Watch(position=now.position, from_file=now.from_file, trouble=now.trouble)

    @router.get("/why")
    def why(name: Annotated[str, Query(min_length=1, max_length=120)]) -> answers.Whys:
        """The working of a shown value, a rule or a limit."""
        return view.whys(session.view().wall, name)

    @router.get("/wall.glb", response_class=Response, responses={200: {"content": {"model/gltf-binary": {}}}})
    def wall_glb() -> Response:
        """The wall as a solid model (glTF binary, metres)."""
        from wallwright.export.gltf import wall_glb as model

        return Response(model(session.view().wall), media_type="model/gltf-binary")

    @router.get("/job.toml", response_class=Response, responses={200: {"content": {"application/toml": {}}}})
    def job_toml() -> Response:
        """The job file as it stands."""
        return Response(session.text().encode("utf-8"), media_type="application/toml; charset=utf-8")

    return router


def _done(session: Session) -> APIRouter:
    """What changes the job; and the trying of a change."""
    router = APIRouter()

    @router.post("/edit", responses=STALE)
    def edit(change: answers.Change, scale: Scale = 20) -> answers.State | answers.Asked:
        """Make a change as one step. The job file is written before the answer. What looks like a slip is asked about first."""
        try:
            made = session.edit(_calls(change, session.view().wall), change.position, sure=change.sure)
        except AskError as question:
            return answers.Asked(ask=question.ask)
        return view.state(made, scale)

    @router.post("/try", responses=STALE)
    def try_(change: answers.Change, scale: Scale = 20) -> answers.State:
        """What a change would come to, derived and not kept: for dragging."""
        now = session.view()
        if change.position != now.position:
            raise StaleError
        return view.state(session.tried(_calls(change, now.wall)), scale)

    @router.post("/undo", responses=STALE)
    def undo(at: answers.At, scale: Scale = 20) -> answers.State:
        """Take the last step back."""
        return view.state(session.undo(at.position), scale)

    @router.post("/redo", responses=STALE)
    def redo(at: answers.At, scale: Scale = 20) -> answers.State:
        """Make the step again that was taken back."""
        return view.state(session.redo(at.position), scale)

    return router


def _sheets(session: Session, issuing: Issuing) -> APIRouter:
    """The drawings, and the issue set."""
    router = APIRouter()

    @router.get("/sheets")
    def names() -> answers.Sheets:
        """The sheets of the set."""
        return sheets.names(session.view().wall)

    @router.get(
        "/sheet/{name}.svg", response_class=Response, responses={200: {"content": {"image/svg+xml": {}}}}
    )
    def sheet(
        name: Annotated[str, InPath(min_length=1, max_length=40, pattern=r"^[A-Za-z0-9_-]+$")],
    ) -> Response:
        """One sheet, to scale on its paper."""
        return Response(sheets.svg(session.view().wall, name).encode("utf-8"), media_type="image/svg+xml")

    @router.get("/issue")
    def issue() -> answers.Issue:
        """How far the issue set is."""
        return issuing.now()

    @router.post("/issue", responses=STALE)
    def start_issue(at: answers.At) -> answers.Issue:
        """Write the whole issue set beside the job file, in the background."""
        now = session.view()
        if at.position != now.position:
            raise StaleError
        return issuing.start(now.wall, now.path)

    return router


def _calls(change: answers.Change, wall: Wall) -> list[tuple[str, dict[str, Any]]]:
    """A change as edits, in the order given; marks of the rods turned into the edits that put them there."""
    for name, value in (*change.values.items(), *change.marks.items()):
        plain_length(name, value)
    calls: list[tuple[str, dict[str, Any]]] = []
    if change.edit is not None:
        calls.append((change.edit, change.values))
    calls.extend((call.edit, call.values) for call in change.also)
    for name, at in change.marks.items():
        calls.extend((call.edit, dict(call.values)) for call in edits_for(wall, name, at))
    if not calls:
        raise JobError(
            (Problem("edit", "", "nothing to change: name an edit, or marks and where to put them"),)
        )
    return calls


def _page(app: FastAPI) -> None:
    """The page's own files."""
    if (STATIC / "assets").is_dir():
        app.mount("/assets", StaticFiles(directory=STATIC / "assets"), name="assets")

    @app.get("/", include_in_schema=False)
    def page() -> Response:
        if not (STATIC / "index.html").is_file():
            return Response(NO_PAGE, media_type="text/html")
        return FileResponse(STATIC / "index.html", headers={"cache-control": "no-cache"})

    @app.get("/favicon.svg", include_in_schema=False)
    def icon() -> Response:
        file = STATIC / "favicon.svg"
        return FileResponse(file, media_type="image/svg+xml") if file.is_file() else Response(status_code=404)


def _problems(app: FastAPI) -> None:
    """Every refusal as {"error": {field, value, says, problems}}."""

    @app.exception_handler(JobError)
    def job_error(_request: Request, error: JobError) -> JSONResponse:
        return _refused(422, plain_words(error).problems)

    @app.exception_handler(sheets.NoSuchSheetError)
    def no_sheet(_request: Request, error: sheets.NoSuchSheetError) -> JSONResponse:
        return _refused(404, (Problem("name", error.name, error.says),))

    @app.exception_handler(StaleError)
    def stale(request: Request, _error: StaleError) -> JSONResponse:
        session: Session = request.app.state.session
        now = view.state(session.view(), _scale_of(request))
        trouble = _trouble(
            (Problem("position", "", "the job has changed since this page saw it; here is how it stands"),)
        )
        return JSONResponse(answers.Stale(error=trouble, state=now).model_dump(by_alias=True), 409)

    @app.exception_handler(RequestValidationError)
    def invalid(_request: Request, error: RequestValidationError) -> JSONResponse:
        problems = tuple(
            Problem(_field(item["loc"]), shown(item.get("input")), str(item["msg"]))
            for item in error.errors()[:20]
        )
        return _refused(422, problems)

    @app.exception_handler(HTTPException)
    def http(request: Request, error: HTTPException) -> JSONResponse:
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


def _trouble(problems: tuple[Problem, ...]) -> answers.Trouble:
    plain = [answers.OneProblem(field=p.field, value=p.value, says=p.says) for p in problems]
    return answers.Trouble(**plain[0].model_dump(), problems=plain)


def _refused(
    status: int, problems: tuple[Problem, ...], headers: dict[str, str] | None = None
) -> JSONResponse:
    return JSONResponse(answers.Refused(error=_trouble(problems)).model_dump(), status, headers)
