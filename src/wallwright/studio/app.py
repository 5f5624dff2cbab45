"""The page's address book: every address of the studio, who may come to it, and the page's own files."""

from __future__ import annotations

from pathlib import Path

from fastapi import Depends, FastAPI
from fastapi.responses import FileResponse, Response
from fastapi.staticfiles import StaticFiles

import wallwright
from wallwright.studio import routes_change, routes_jobs, routes_links, routes_people, routes_photo
from wallwright.studio.door import first_job, person, reader, session_of
from wallwright.studio.guard import Guard
from wallwright.studio.refusals import REFUSALS, refuse_in_words
from wallwright.studio.routes_job import of_job
from wallwright.studio.routes_views import of_views, page_worker
from wallwright.studio.studio import Studio, of_file

STATIC = Path(__file__).parent / "static"
NO_PAGE = (
    "<!doctype html><html lang=en><title>Wallwright</title><h1>Wallwright</h1><p>The page itself was not built with this "
    "installation. Install again without WALLWRIGHT_FRONTEND=skip. The answers under /api work.</p></html>"
)


def create_app(path: str | Path) -> FastAPI:
    """The application for one job file, door included. JobError where the job cannot be opened."""
    return application(of_file(Path(path)))


def application(studio: Studio | None) -> FastAPI:
    """The application of a studio; its own description (`openapi()`) asks nothing of it, so that none need be there."""
    hosted = studio is not None and studio.hosted
    app = FastAPI(
        title="Wallwright studio", version=wallwright.__version__, docs_url=None, redoc_url=None,
        openapi_url=None if hosted else "/api/openapi.json", separate_input_output_schemas=False,
    )  # fmt: skip
    _addresses(app)
    _page(app)
    refuse_in_words(app)
    app.state.studio = studio
    app.add_middleware(Guard, address=studio.address if studio else "")
    return app


def _addresses(app: FastAPI) -> None:
    """Every part of the API with who may come to it. What is not named here is not there."""
    signed_in, may_change = [Depends(person)], [Depends(reader)]
    one = "/api/jobs/{job}"
    app.include_router(routes_people.OPEN, prefix="/api", responses=REFUSALS)
    app.include_router(routes_people.SIGNED_IN, prefix="/api", responses=REFUSALS, dependencies=signed_in)
    app.include_router(routes_people.OWNERS, prefix="/api", responses=REFUSALS, dependencies=signed_in)
    app.include_router(of_job(first_job), prefix="/api", responses=REFUSALS, dependencies=may_change)
    app.include_router(of_views(first_job), prefix="/api", responses=REFUSALS, dependencies=may_change)
    app.include_router(routes_jobs.LIST, prefix="/api", responses=REFUSALS, dependencies=may_change)
    app.include_router(of_job(session_of), prefix=one, responses=REFUSALS, dependencies=may_change)
    app.include_router(of_views(session_of), prefix=one, responses=REFUSALS, dependencies=may_change)
    app.include_router(routes_jobs.ONE, prefix=one, responses=REFUSALS, dependencies=may_change)
    app.include_router(routes_change.CHANGES, prefix=one, responses=REFUSALS, dependencies=may_change)
    app.include_router(routes_photo.PHOTO, prefix=one, responses=REFUSALS, dependencies=may_change)
    app.include_router(routes_links.GIVEN, prefix=one, responses=REFUSALS, dependencies=may_change)
    app.include_router(routes_links.OPENED, prefix="/api/link", responses=REFUSALS)


def _page(app: FastAPI) -> None:
    """The page's own files. Which view it shows, it reads from the address itself."""
    if (STATIC / "assets").is_dir():
        app.mount("/assets", StaticFiles(directory=STATIC / "assets"), name="assets")

    app.include_router(page_worker(STATIC))

    @app.get("/", include_in_schema=False)
    @app.get("/link", include_in_schema=False)
    @app.get("/job/{job}", include_in_schema=False)
    def page(job: str = "") -> Response:
        if not (STATIC / "index.html").is_file():
            return Response(NO_PAGE, media_type="text/html")
        return FileResponse(STATIC / "index.html", headers={"cache-control": "no-cache"})

    @app.get("/favicon.svg", include_in_schema=False)
    def icon() -> Response:
        file = STATIC / "favicon.svg"
        return FileResponse(file, media_type="image/svg+xml") if file.is_file() else Response(status_code=404)
