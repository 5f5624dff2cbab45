"""Forms, things to choose, further pictures and layers of one job; and the page's own worker that lets it open without signal."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Annotated, Any

from fastapi import APIRouter, Depends, Query
from fastapi.responses import FileResponse, Response

from wallwright.studio import answers_forms, forms, pictures, things
from wallwright.studio.session import Session

Scale = Annotated[
    float, Query(ge=5, le=200, allow_inf_nan=False, description="1:scale, for line widths and signs")
]
Ref = Annotated[str, Query(max_length=24, pattern=r"^[A-Za-z0-9_.-]*$")]
Month = Annotated[int, Query(ge=1, le=12)]
HourOfDay = Annotated[float, Query(ge=0, lt=24, allow_inf_nan=False)]
SVG: dict[int | str, dict[str, Any]] = {200: {"content": {"image/svg+xml": {}}}}


def of_views(opened: Callable[..., Session]) -> APIRouter:
    """All that only looks. opened : gives the session of the job."""
    router = APIRouter()
    of = Depends(opened)

    @router.get("/forms")
    def form_list(
        session: Session = of,
        part: answers_forms.Part | None = None,
        of_: Annotated[Ref, Query(alias="of")] = "",
    ) -> answers_forms.Forms:
        """Every field that an edit can set, as it stands: of a part of the job, or of one thing."""
        return forms.forms(session.view().wall, part, of_)

    @router.get("/things")
    def thing_list(session: Session = of) -> answers_forms.Things:
        """What can be chosen and dragged on the elevation and in plan."""
        return things.things(session.view().wall)

    @router.get("/view/{name}.svg", response_class=Response, responses=SVG)
    def view(
        name: pictures.ViewName, session: Session = of, scale: Scale = 20, seat: Ref = "", on: bool = False
    ) -> Response:
        """Plan, section, or the wall from a seat. on : the screen and the lights are lit."""
        svg = pictures.view_svg(session.view().wall, name, scale, seat, on=on)
        return Response(svg.encode("utf-8"), media_type="image/svg+xml")

    @router.get("/layer/{name}.svg", response_class=Response, responses=SVG)
    def layer(
        name: pictures.LayerName,
        session: Session = of,
        scale: Scale = 20,
        month: Month = 6,
        hour: HourOfDay = 12,
    ) -> Response:
        """Marks that lie over the elevation."""
        svg = pictures.layer_svg(session.view().wall, name, scale, month, hour)
        return Response(svg.encode("utf-8"), media_type="image/svg+xml")

    @router.get("/mirrored")
    def mirrored(session: Session = of, month: Month = 6, hour: HourOfDay = 12) -> answers_forms.Hour:
        """What is mirrored in the screen at an hour, in words."""
        return pictures.hour_says(session.view().wall, month, hour)

    return router


def page_worker(static: Path) -> APIRouter:
    """The worker that keeps the page's own files in the browser; it must stand at the root to have the whole page."""
    router = APIRouter()

    @router.get("/worker.js", include_in_schema=False)
    def worker() -> Response:
        file = static / "worker.js"
        headers = {"cache-control": "no-cache"}
        return (
            FileResponse(file, media_type="text/javascript", headers=headers)
            if file.is_file()
            else Response(status_code=404)
        )

    return router
