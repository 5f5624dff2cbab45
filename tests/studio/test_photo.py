"""A photo of the wall on the page: marked by taps, set exactly under the glass, checked, laid straight, the design laid over it."""

from __future__ import annotations

import base64
import re
import struct
import zlib
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from tests.photo.eye import Eye, bent, photographed
from wallwright.derive import derive
from wallwright.photo import opencv

cv2: Any = pytest.importorskip("cv2")

EYE = Eye((3900.0, -3800.0, 1450.0), (2100.0, 0.0, 1250.0), 1350.0, (2000, 1500))
POINTS = {
    "A": (150, 100),
    "B": (4000, 100),
    "C": (4000, 2600),
    "D": (150, 2600),
    "E": (2000, 1400),
    "F": (1000, 2000),
    "G": (3200, 400),
}
PATCH = (1500, 1700)
"""Left edge and underside of a red square of 200 mm on the wall."""


@pytest.fixture(scope="module")
def jpeg() -> bytes:
    wall = np.full((275, 420, 3), 215, np.uint8)
    wall[275 - (PATCH[1] + 200) // 10 : 275 - PATCH[1] // 10, PATCH[0] // 10 : (PATCH[0] + 200) // 10] = (
        40,
        40,
        200,
    )
    return bytes(cv2.imencode(".jpg", photographed(EYE, wall, 4200, 2750))[1])


def pixel(x: float, z: float) -> list[float]:
    return [round(float(v), 2) for v in EYE.on_wall([(x, z)])[0]]


def points(**wrong: float) -> list[dict[str, Any]]:
    """The measured points; wrong : by how many mm too far right one was read."""
    return [
        {"ref": ref, "px": pixel(x, z), "x": x + wrong.get(ref, 0), "z": z} for ref, (x, z) in POINTS.items()
    ]


def marks(**more: Any) -> dict[str, Any]:
    return {"size": [2000, 1500], "focal": 1350 * 36 / 2000, "pick": 0.4, "points": points(), **more}


@pytest.fixture
def ask(page_of: Any) -> Any:
    job = page_of.http.get("/api/here").json()["first"]
    return lambda what, body, expect=200: (
        page_of.http.post(f"/api/jobs/{job}/photo/{what}", json=body)
        if expect is None
        else _sound(page_of.http.post(f"/api/jobs/{job}/photo/{what}", json=body), expect)
    )


def _sound(answer: Any, expect: int) -> Any:
    assert answer.status_code == expect, answer.text
    return answer if answer.headers["content-type"] == "image/jpeg" else answer.json()


def box(page_of: Any, ref: str, dx: float = 0.0) -> dict[str, Any]:
    point = next(
        one
        for one in page_of.app.state.studio.session(page_of.app.state.studio.first)
        .view()
        .wall.services.points
        if one.ref == ref
    )
    low, high = (point.box.x + dx, point.box.z), (point.box.right + dx, point.box.top)
    return {"ref": ref, "corners": [pixel(*low), pixel(*high)]}


def test_points_and_boxes_are_told(page_of: Any, ask: Any) -> None:
    here = next(one for one in page_of.state()["points"] if one["ref"] == "P1")
    told = ask("told", marks(boxes=[box(page_of, "P1"), box(page_of, "P2", 90)]))
    assert (
        told["says"] == "The points bear each other out."
        and max(one["by_others"] for one in told["points"]) < 0.5
    )
    assert abs(told["boxes"][0]["x"] - here["x"]) < 1 and 0 < told["boxes"][0]["sure"] < 12
    answers = {one["ref"]: one["answer"] for one in told["found"]["verdicts"]}
    assert answers["P1"] in ("accept", "tape") and answers["P2"] in ("adjust", "stop", "tape")
    assert next(one for one in told["found"]["verdicts"] if one["ref"] == "P2")["off"] == pytest.approx(
        90, abs=1
    )
    wrong = ask("told", marks(points=points(F=60)))
    assert [one["ref"] for one in wrong["points"] if one["again"]] == [
        "F"
    ] and "Measure F (60 mm off) again" in wrong["says"]
    four = ask("told", marks(points=points()[:4]))
    assert four["points"][0]["by_others"] is None and "check nothing" in four["says"]
    assert page_of.state()["position"] == 0, "a photo writes nothing"


def lens(k1: float) -> Any:
    """What marks pixels of places seen through OpenCV's lens of that k1: less than 0 draws the corners in."""
    return lambda places: [[round(float(v), 2) for v in px] for px in bent(EYE.on_wall(places), k1, EYE)]


def test_straight_lines_tell_how_the_lens_bends(page_of: Any, ask: Any) -> None:
    through = lens(-0.03)
    four = [
        {"ref": ref, "px": through([POINTS[ref]])[0], "x": POINTS[ref][0], "z": POINTS[ref][1]}
        for ref in "ABCD"
    ]
    lines = [through([(x, z) for x in range(200, 4100, 300)]) for z in (60, 2680)]  # near floor and ceiling
    p1 = next(one for one in page_of.state()["points"] if one["ref"] == "P1")
    rim = through([(p1["x"] - 73, p1["z"] - 43), (p1["x"] + 73, p1["z"] + 43)])
    asked = marks(points=four, boxes=[{"ref": "P1", "corners": rim}])
    plain, told = ask("told", asked), ask("told", {**asked, "edges": lines})
    assert plain["without"] is None and plain["edges"] == []
    assert (told["without"]["least"], told["without"]["most"]) == (plain["least"], plain["most"])
    # the oracle: how far OpenCV's lens moves a ray to the corner of this picture
    middle, corner = np.array(EYE.size) / 2, np.array([EYE.size], float)
    moved = float(np.hypot(*(bent(corner, -0.03, EYE)[0] - middle)) - np.hypot(*(corner[0] - middle)))
    assert moved < -25 and told["lens"]["corner"] == pytest.approx(moved, abs=told["lens"]["sure"])
    assert told["lens"]["sure"] < 8 < plain["lens"]["sure"]
    off = [np.hypot(one["boxes"][0]["x"] - p1["x"], one["boxes"][0]["z"] - p1["z"]) for one in (plain, told)]
    assert off[0] > 3 and off[1] < 1, "the box is read where it is"
    assert all(one["bent"] > 1 and one["left"] < 0.3 and not one["again"] for one in told["edges"])
    seven = [{**one, "px": through([(one["x"], one["z"])])[0]} for one in points()]
    surer = ask("told", marks(points=seven, edges=lines))
    assert surer["most"] < 0.85 * surer["without"]["most"]
    lines[1][5][1] += 25  # one mark set wrong
    wrong = ask("told", {**asked, "edges": lines})
    assert wrong["edges"][1]["again"] and wrong["says"].startswith("A line marked as straight is not")
    ask("told", {**asked, "edges": [lines[0][:2]]}, 422)


def test_pictures_are_made_of_a_smaller_photo(ask: Any, jpeg: bytes) -> None:
    small = cv2.resize(
        cv2.imdecode(np.frombuffer(jpeg, np.uint8), 1), (1200, 900), interpolation=cv2.INTER_AREA
    )
    sent = {"marks": marks(), "picture": base64.b64encode(cv2.imencode(".jpg", small)[1]).decode()}
    flat = cv2.imdecode(np.frombuffer(ask("straight", sent).content, np.uint8), 1)
    red = np.argwhere((flat[..., 2] > 150) & (flat[..., 1] < 90) & (flat[..., 0] < 90))
    high, wide = np.ptp(red, axis=0)
    assert abs(wide - high) <= 4 and wide > 25, "a square again, to scale"
    over = ask("overlay", sent)
    laid = cv2.imdecode(np.frombuffer(over.content, np.uint8), 1)
    assert laid.shape == (900, 1200, 3) and np.abs(laid.astype(int) - small).mean() > 5
    # what was outlined in the photo stays in front: there the photo is as it was
    unit = EYE.on_wall([(1500, 700), (2700, 700), (2700, 300), (1500, 300)])
    sent["marks"]["front"] = [unit.tolist()]
    kept = cv2.imdecode(np.frombuffer(ask("overlay", sent).content, np.uint8), 1)
    inside = np.zeros((900, 1200), np.uint8)
    cv2.fillPoly(inside, [np.round(unit * 0.6).astype(np.int32)], 1)
    inside = cv2.erode(inside, np.ones((9, 9), np.uint8)) > 0
    assert (
        np.abs(kept[inside].astype(int) - small[inside]).mean()
        < 3
        < 20
        < np.abs(laid[inside].astype(int) - small[inside]).mean()
    )


def test_what_is_no_such_picture_is_refused_in_words(
    page_of: Any, ask: Any, jpeg: bytes, monkeypatch: Any
) -> None:
    def said(what: str, body: Any, status: int = 422) -> str:
        error = ask(what, body, status)["error"]
        return f"{error['field']}: {error['says']}"

    def picture(data: bytes) -> dict[str, Any]:
        return {"marks": marks(), "picture": base64.b64encode(data).decode()}

    bomb = (
        b"\x89PNG\r\n\x1a\n"
        + b"\0\0\0\rIHDR"
        + struct.pack(">IIBBBBB", 9000, 9000, 8, 2, 0, 0, 0)
        + zlib.compress(bytes(99))
    )
    assert "at most 12 million" in said("straight", picture(bomb))
    assert "neither a JPEG nor a PNG" in said("straight", picture(b"<svg onload=alert(1)>"))
    assert "send it as it is shown" in said(
        "overlay", {"marks": marks(size=[1500, 2000]), **{"picture": picture(jpeg)["picture"]}}
    )
    assert "larger than 4000 kB" in said("straight", picture(bytes(3_200_000)), 413)
    assert "4 are needed" in said("told", marks(points=points()[:3]))
    assert "is no outlet of this wall" in said(
        "told", marks(boxes=[{"ref": "P99", "corners": [pixel(1, 1), pixel(80, 80)]}])
    )
    assert said("told", marks(points=[{**one, "x": "a hand"} for one in points()])).startswith("points[0].x")
    said("told", marks(points=[{**one, "ref": "<b>"} for one in points()]))
    said("told", {**marks(), "size": [2000, 1e9]})
    assert ask("head", {"head": base64.b64encode(jpeg[:4000]).decode()}) == {"focal": None, "lacks": ""}
    monkeypatch.setattr(opencv, "import_module", _not_there)
    assert "the extra `photo`" in ask("head", {"head": base64.b64encode(jpeg[:4000]).decode()})["lacks"]
    assert "the extra `photo`" in said("straight", picture(jpeg))
    assert "the extra `photo`" in said("told", marks())


def _not_there(name: str) -> Any:
    raise ImportError(name)


@pytest.mark.browser
def test_a_photo_is_marked_by_a_finger_and_told(page: Any, served: Any, jpeg: bytes, tmp_path: Path) -> None:
    from playwright.sync_api import expect

    from tests.studio.test_rooms import on_a_phone, open_wall

    (tmp_path / "wall.jpg").write_bytes(jpeg)
    page.set_viewport_size({"width": 390, "height": 844})
    open_wall(page, served.url, "photo")
    page.get_by_label("Or choose one").set_input_files(tmp_path / "wall.jpg")
    expect(page.get_by_text("2000 × 1500 pixels, focal length not told")).to_be_visible()
    image = page.get_by_role("img", name="The wall, as photographed")
    glass = page.get_by_role("button", name=re.compile("enlarged"))

    def tap(name: str, x: float, z: float) -> None:
        """With a finger some pixels off, then exactly, under the glass."""
        u, v = pixel(x, z)
        frame = image.bounding_box()
        image.click(position={"x": u / 2000 * frame["width"] + 3, "y": v / 1500 * frame["height"] - 2})
        expect(glass).to_have_attribute("aria-label", re.compile(f"^Mark {name} enlarged"))
        column, row = map(
            float, re.findall(r"[\d.]+(?=, row)|(?<=row )[\d.]+", glass.get_attribute("aria-label"))
        )
        assert (column, row) != pytest.approx((u, v), abs=4)
        frame = glass.bounding_box()
        glass.click(
            position={
                "x": frame["width"] / 2 + (u - column) * 2.5 - 1,
                "y": frame["height"] / 2 + (v - row) * 2.5 - 1,
            }
        )

    for ref, (x, z) in POINTS.items():
        tap(ref, x, z)
        group = page.get_by_role("group", name=f"Point {ref}")
        group.get_by_label("From the left corner").fill(str(x + 60 * (ref == "F")))
        group.get_by_label("Above the floor").fill(f"{z / 1000} m")
    glass.focus()
    page.keyboard.press("ArrowRight")
    page.keyboard.press("ArrowLeft")
    ask = page.get_by_role("button", name="Are the points and boxes right?")
    ask.click()
    expect(page.get_by_text(re.compile(r"Measure F \(\d+ mm off\) again"))).to_be_visible()
    expect(page.get_by_role("group", name="Point F")).to_contain_text("Measure again.")
    page.get_by_role("group", name="Point F").get_by_label("From the left corner").fill("1000")
    page.get_by_role("button", name="Boxes in the wall").click()
    page.get_by_label("Which box").select_option("P1")
    rim = next(point.box for point in derive(served.job()).services.points if point.ref == "P1")
    tap("P1, one corner", rim.x, rim.top)
    tap("P1, the opposite corner", rim.right, rim.z)
    ask.click()
    expect(page.get_by_text("The points bear each other out.")).to_be_visible()
    expect(page.locator(".verdicts .answer")).to_have_text(
        re.compile(r"(✓ Accept|\? Measure by tape)\s+P1 box")
    )

    # lines that are straight on site: the first by taps, the second by keys and typed numbers
    page.get_by_role("button", name="Straight lines").click()
    expect(page.get_by_text("The next tap begins a line.")).to_be_visible()
    for i, x in enumerate((400, 2000, 3600)):
        tap(f"{i + 1} of line L1", x, 2500)
    expect(page.get_by_text("Line L1: 3 marks.")).to_be_visible()
    page.get_by_role("button", name="Begin another one").press("Enter")
    for x in (400, 1800, 2600, 3600):
        page.get_by_role("button", name="Put a mark in the middle of the photo").press("Enter")
        for label, v in zip(("Column, pixels", "Row, pixels"), pixel(x, 200), strict=True):
            page.get_by_label(re.compile(label)).fill(f"{v}")
            page.keyboard.press("Enter")
    page.get_by_label(re.compile("Row, pixels")).fill("low")  # no number: the mark stays where it was
    page.keyboard.press("Enter")
    expect(page.get_by_label(re.compile("Row, pixels"))).to_have_value(f"{round(pixel(3600, 200)[1], 1):g}")
    page.get_by_role("button", name="Take this mark away").click()
    lines = page.get_by_role("region", name="Straight lines, and what stands in front")
    expect(lines).to_contain_text("Line L2 3 marks")
    # and what stands in front
    page.get_by_role("button", name="In front of the wall").click()
    for i, (x, z) in enumerate(((1500, 700), (2700, 700), (2700, 300))):
        tap(f"{i + 1} of outline F1", x, z)
    expect(page.locator("svg.lines polygon")).to_have_count(1)
    ask.click()
    expect(lines).to_contain_text(
        re.compile(r"Line L1 3 marks: bent by [\d.]+ px in the photo, [\d.]+ px with the lens put right")
    )
    expect(
        page.get_by_text(
            re.compile("Without the straight lines it would be ± .* The lens moves the photo's corners")
        )
    ).to_be_visible()
    on_a_phone(page, "photo")
    for button, name in (
        ("Lay the wall straight", "The wall laid straight"),
        ("Lay the design over it", "The design laid over the photo"),
    ):
        page.get_by_role("button", name=button).click()
        made = page.get_by_role("img", name=re.compile(name))
        expect(made).to_be_visible()
        assert made.evaluate("async (e) => { await e.decode(); return e.naturalWidth }") > 1000
    page.get_by_role("link", name="Save this picture").wait_for()
    assert served.state()["position"] == 0
