"""The photo commands as they are typed, on photos taken by a known camera."""

from __future__ import annotations

import json
import struct
import zlib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from tests.photo.eye import Eye, photographed, point_lines
from wallwright import cli
from wallwright.derive import Wall, derive
from wallwright.export.photo_file import picture_of, read_picture
from wallwright.export.photo_overlay import STAMP, design_faces, overlay
from wallwright.export.photo_site import with_boxes
from wallwright.job.demos import demo_jobs
from wallwright.job.problem import JobError
from wallwright.job.read import read_job
from wallwright.photo.boxes import SeenBox, seen_box
from wallwright.photo.file import Photo, PhotoBox, read_photo
from wallwright.photo.taken import taken

cv2: Any = pytest.importorskip("cv2")

EYE = Eye((3900.0, -3800.0, 1450.0), (2100.0, 0.0, 1250.0), 1350.0, (2000, 1500))
POINTS = {
    "A": (0, 0, 0), "B": (4200, 0, 0), "C": (4200, 2700, 0), "D": (0, 2700, 0), "E": (2000, 1400, 0), "F": (1000, 2000, 0),
    "G": (3200, 400, 0), "H": (2100, 2600, 0), "I": (800, 0, 700), "J": (3000, 0, 900),
}  # fmt: skip
Write = Callable[..., Path]


@pytest.fixture(scope="module")
def wall() -> Wall:
    return derive(read_job(demo_jobs()["living"]))


@pytest.fixture
def job(tmp_path: Path) -> Path:
    path = tmp_path / "job.toml"
    path.write_text(demo_jobs()["living"], "utf-8")
    return path


@pytest.fixture(scope="module")
def photo() -> Any:
    return photographed(EYE, np.full((275, 420, 3), 215, np.uint8), 4200, 2750)


def box_lines(wall: Wall, ref: str, dx: float = 0.0, dz: float = 0.0) -> list[str]:
    point = next(one for one in wall.services.points if one.ref == ref)
    corners = [(x + dx, z + dz) for x, z in point.box.corners]
    px = [[round(float(u), 2), round(float(v), 2)] for u, v in EYE.on_wall(corners)]
    return ["[[boxes]]", f'ref = "{ref}"', f"corners = {px}"]


def run(*words: object) -> int:
    return int(cli.app([str(word) for word in words], exit_on_error=False) or 0)


SHARP = ["pick = 0.3", 'by = "N. N."', 'date = "2026-04-02"']


def test_straighten_writes_a_picture_to_scale(
    marked: Write, job: Path, photo: Any, tmp_path: Path, capsys: Any
) -> None:
    path = marked(photo, [*SHARP, *point_lines(EYE, POINTS)])
    out = tmp_path / "straight.png"
    assert run("photo", "straighten", path, "--out", out, "--job", job, "--json") == 0
    told = json.loads(capsys.readouterr().out)
    assert told["suspects"] == [] and all(abs(v) < 0.1 for one in told["points"] for v in one["off"])
    assert told["camera"]["at"] == pytest.approx(EYE.at, abs=60)
    assert 1 < min(one["sure"] for one in told["sure"]) < max(one["sure"] for one in told["sure"]) < 12
    pixels = cv2.imread(str(out))
    assert pixels.shape[1] > 4200 / told["mm_per_px"]
    assert run("photo", "straighten", path, "--out", tmp_path / "s.jpg") == 0
    assert "Not for cutting" in capsys.readouterr().out


def test_a_wrong_tape_measure_is_told_and_exits_1(
    marked: Write, photo: Any, tmp_path: Path, capsys: Any
) -> None:
    lines = point_lines(EYE, POINTS)
    at = lines.index('ref = "F"')
    lines[at + 2] = lines[at + 2].replace("value = 1000", "value = 1060")
    path = marked(photo, [*SHARP, *lines])
    assert run("photo", "straighten", path, "--out", tmp_path / "s.png") == 1
    assert "Measure F again" in capsys.readouterr().out


def test_boxes_are_answered_and_entered_for_the_site(
    marked: Write, job: Path, photo: Any, wall: Wall, tmp_path: Path, capsys: Any
) -> None:
    """P1 as drawn, D1 30 mm up and R1 4 mm off: accepted, taped, taped; the site file carries them with their ±."""
    boxes = [*box_lines(wall, "P1"), *box_lines(wall, "D1", 0.0, 30.0), *box_lines(wall, "R1", 4.0)]
    path = marked(photo, [*SHARP, *point_lines(EYE, POINTS), *boxes])
    site = tmp_path / "site.toml"
    site.write_text('wallwright-site = 1\n# by tape\n[[boxes]]\nref = "R1"\nx = 2604\nz = 1165\n', "utf-8")
    assert run("photo", "boxes", job, path, "--site", site, "--json") == 0
    told = json.loads(capsys.readouterr().out)
    answers = {v["ref"]: v["answer"] for v in told["verdicts"]}
    assert answers == {"P1": "accept", "D1": "tape", "R1": "tape"} and told["answer"] == "tape"
    seen = {one["ref"]: one for one in told["boxes"]}
    d1 = next(p for p in wall.services.points if p.ref == "D1")
    assert (seen["D1"]["x"], seen["D1"]["z"]) == pytest.approx((d1.x, d1.z + 30), abs=0.2)
    text = site.read_text("utf-8")
    assert "# by tape" in text and text.count('ref = "R1"') == 1 and text.count('state = "photo"') == 4
    assert run("asfound", job, site, "--take", "--json") == 0
    assert json.loads(capsys.readouterr().out)["answer"] == "tape"
    after = read_job(job.read_text("utf-8"))
    assert not any(p.ref == "D1" for p in after.design.points)  # what the photo showed was not taken
    assert run("photo", "boxes", job, path, "--site", site) == 0  # again: replaced, not doubled
    assert site.read_text("utf-8").count('ref = "D1"') == 1


def test_the_middle_of_corners_is_the_boxes_own_middle(wall: Wall) -> None:
    """Perspective draws the far half smaller: the middle is taken on the wall. Four corners are surer than one mark."""
    text = "\n".join(("wallwright-photo = 1", 'picture = "w.png"', *point_lines(EYE, POINTS)))
    made = taken(read_photo(text), EYE.size, None, wall.limits)
    corners = [(1500, 1000), (1646, 1000), (1646, 1086), (1500, 1086)]
    px = tuple((float(u), float(v)) for u, v in EYE.on_wall(corners))
    middle = tuple(float(v) for v in np.mean(px, axis=0))
    four = seen_box(made.fit, PhotoBox("P1", px), made.camera, 0.0)
    two = seen_box(made.fit, PhotoBox("P1", (px[0], px[2])), made.camera, 0.0)
    one = seen_box(made.fit, PhotoBox("P1", (), (middle[0], middle[1])), made.camera, 0.0)
    assert (four.x, four.z, four.width, four.height) == pytest.approx((1573, 1043, 146, 86), abs=0.05)
    assert (two.x, two.z, two.width, two.height) == pytest.approx((1573, 1043, 146, 86), abs=0.05)
    assert four.sure < two.sure < one.sure and one.width is None
    proud = seen_box(made.fit, PhotoBox("P1", px), made.camera, 10.0)
    aside = 10.0 * np.hypot(EYE.at[0] - 1573, EYE.at[2] - 1043) / 3800
    assert proud.sure == pytest.approx(np.hypot(four.sure, aside), rel=0.02)


def test_the_overlay_stands_where_the_camera_sees_it(
    marked: Write, job: Path, photo: Any, wall: Wall, tmp_path: Path, capsys: Any
) -> None:
    """The screen is black, the console's front stands in front of the wall, and the bare wall stays the photo."""
    path = marked(photo, [*SHARP, *point_lines(EYE, POINTS)])
    out = tmp_path / "over.png"
    assert run("photo", "overlay", job, path, "--out", out) == 0
    assert "not for cutting" in capsys.readouterr().out
    made = cv2.imread(str(out))
    screen, face = wall.sight.screen.frame, -wall.sight.screen.stand_off - wall.sight.screen.depth
    u, v = EYE.sees([(screen.centre[0], face, screen.centre[1])])[0]
    assert made[round(v), round(u)].max() < 40
    console = next(unit for unit in wall.setout.units if unit.ref == "C1")
    near = EYE.sees([(console.box.right - 30, -console.depth - 1, console.box.z + 30)])[0]
    flat = EYE.on_wall([(console.box.right - 30, console.box.z + 30)])[0]
    assert np.hypot(*(near - flat)) > 50  # on the wall it would be elsewhere
    bare = EYE.on_wall([(900.0, 2500.0)])[0]
    assert np.abs(made[round(near[1]), round(near[0])].astype(int) - 215).max() > 30
    assert np.abs(made[round(bare[1]), round(bare[0])].astype(int) - 215).max() < 6


def test_the_nearest_is_drawn_and_what_stands_in_front_is_kept(wall: Wall, photo: Any) -> None:
    text = "\n".join(("wallwright-photo = 1", 'picture = "w.png"', *point_lines(EYE, POINTS)))
    made = taken(read_photo(text), EYE.size, None, wall.limits)
    faces = design_faces(wall)
    plain = overlay(wall, made.camera, 0.0, photo)
    front = EYE.sees([(1400.0, -401.0, 400.0)])[0]
    here = faces[plain.number[round(front[1]), round(front[0])]]
    assert np.array(here.corners)[:, 1].max() < -300  # a front, not the wall's own panel behind it
    sofa = [(0, 1100), (2000, 1100), (2000, 1500), (0, 1500)]
    kept = overlay(wall, made.camera, 0.0, photo, [sofa])
    assert plain.drawn > kept.drawn > 0.05 and (kept.number[1110:1490] == -1).all()
    assert np.array_equal(kept.pixels[1150, 100:900], photo[1150, 100:900])
    assert "not for cutting" in STAMP


def test_the_focal_length_is_read_from_the_file(tmp_path: Path) -> None:
    """A JPEG with an Exif segment made by hand (CIPA DC-008): FocalLengthIn35mmFilm 26, in both byte orders."""
    plain = bytes(cv2.imencode(".jpg", np.zeros((300, 400, 3), np.uint8))[1].tobytes())
    for order, mark in (("<", b"II"), (">", b"MM")):
        ifd = struct.pack(f"{order}HHHII", 1, 0x8769, 4, 1, 26) + bytes(4)
        exif = struct.pack(f"{order}HHHI", 1, 0xA405, 3, 1) + struct.pack(f"{order}HH", 26, 0) + bytes(4)
        tiff = mark + struct.pack(f"{order}HI", 42, 8) + ifd + exif
        body = b"Exif\0\0" + tiff
        data = plain[:2] + b"\xff\xe1" + struct.pack(">H", len(body) + 2) + body + plain[2:]
        made = picture_of(data, "a.jpg")
        assert (made.focal_35, made.size) == (26.0, (400, 300))
    assert picture_of(plain, "b.jpg").focal_35 is None


def png_head(wide: int, high: int) -> bytes:
    """The beginning of a PNG that says it is so large: nothing of it may be unpacked."""
    body = b"IHDR" + struct.pack(">IIBBBBB", wide, high, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + struct.pack(">I", 13) + body + struct.pack(">I", zlib.crc32(body))


@pytest.mark.parametrize(("data", "says"), [
    (b"RIFF0000WEBPVP8 ", "neither a JPEG nor a PNG"), (b"", "neither a JPEG nor a PNG"),
    (png_head(60_000, 60_000), "at most 110 million"), (png_head(33_000, 900), "a panorama"),
    (png_head(4000, 3000), "is broken"), (png_head(100, 90), "too few"), (b"\xff\xd8\xff\xe0\x00\x01", "neither"),
])  # fmt: skip
def test_pictures_that_cannot_be_used(data: bytes, says: str) -> None:
    with pytest.raises(JobError, match=says):
        picture_of(data, "x")


def test_a_picture_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(JobError, match="is not there"):
        read_picture(tmp_path / "none.jpg")


GOOD = ["wallwright-photo = 1", 'picture = "w.png"', *point_lines(EYE, POINTS)]


@pytest.mark.parametrize(("more", "says"), [
    (["[[boxes]]", 'ref = "P1"'], "four corners"),
    (["[[boxes]]", 'ref = "P1"', "middle = [9, 9]", "corners = [[1, 1], [2, 2]]"], "one of the three"),
    (["[[boxes]]", 'ref = "P1"', "middle = [9, 9]", "[[boxes]]", 'ref = "P1"', "middle = [8, 9]"], "marked twice"),
    (["[[boxes]]", 'ref = "P1"', "midle = [9, 9]"], "did you mean 'middle'"),
    (["[[points]]", 'ref = "K"', "px = [5, 5]", "x = 5", 'z = { value = 5, state = "photo" }'], "by a tape only"),
])  # fmt: skip
def test_photo_files_that_cannot_be_used(more: list[str], says: str) -> None:
    with pytest.raises(JobError, match=says):
        read_photo("\n".join((*GOOD, *more)), "wall.toml")
    assert isinstance(read_photo("\n".join(GOOD)), Photo)


@pytest.mark.parametrize(("head", "says"), [
    ("edges = [[[1, 1], [2, 2]]]", "3 or more"), ("front = [[[1, 1], [2, 2]]]", "3 or more"), ("pick = 0", "more than 0"),
])  # fmt: skip
def test_photo_heads_that_cannot_be_used(head: str, says: str) -> None:
    with pytest.raises(JobError, match=says):
        read_photo("\n".join((*GOOD[:2], head, *GOOD[2:])), "wall.toml")


def test_a_box_that_is_none_or_marked_wrongly(marked: Write, job: Path, photo: Any, wall: Wall) -> None:
    lines = [*SHARP, *point_lines(EYE, POINTS)]
    with pytest.raises(JobError, match="holds no box"):
        run("photo", "boxes", job, marked(photo, lines))
    with pytest.raises(JobError, match="is no outlet of this wall"):
        run("photo", "boxes", job, marked(photo, [*lines, "[[boxes]]", 'ref = "P77"', "middle = [900, 700]"]))
    wide = [line.replace('"D1"', '"P1"') for line in box_lines(wall, "D1")]
    with pytest.raises(JobError, match="86 × 86 mm as marked; the box drawn is 146 × 86"):
        run("photo", "boxes", job, marked(photo, [*lines, *wide]))
    with pytest.raises(JobError, match=r"neither \.png nor \.jpg"):
        run("photo", "overlay", job, marked(photo, lines), "--out", "x.tif")


def test_a_floor_point_that_is_none(marked: Write, job: Path, photo: Any, tmp_path: Path) -> None:
    lines = [line.replace("out = 900", "out = 300") for line in point_lines(EYE, POINTS)]
    with pytest.raises(JobError, match="in front of the wall would be seen"):
        run("photo", "overlay", job, marked(photo, [*SHARP, *lines]), "--out", tmp_path / "o.png")


def test_boxes_begin_a_site_file() -> None:
    text, site = with_boxes("", [SeenBox("P1", 1700.04, 1165.0, 3.26)], "N. N.", "2026-04-02")
    box = site.boxes[0]
    assert (site.by, box.from_photo, box.x.mm, box.x.tolerance) == ("N. N.", True, 1700.0, 3.3)
    assert text.startswith("wallwright-site = 1\n")
    with pytest.raises(JobError):
        with_boxes("wallwright-site = 2\n", [], "", "", "s.toml")
