"""The client's pictures: where things stand in them by our own projection, light by hand formulas and by another library."""

from __future__ import annotations

import json
import struct
import subprocess
import sys
import zlib
from dataclasses import replace
from math import atan, cos, pi, sin, sqrt
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from wallwright.core.shape import Box
from wallwright.derive import Wall, derive
from wallwright.export import picture, render
from wallwright.export.picture_scene import Face, Paint, Shine, Stage, View, joint_backs, kelvin_rgb, stage
from wallwright.export.tone import developed, png
from wallwright.job.demos import demo_jobs
from wallwright.job.edits import apply
from wallwright.sheets.perspective import project

SIZE = (240, 160)


def pixels(data: bytes) -> Any:
    """Our PNGs read by hand from ISO/IEC 15948: signature, header, one zlib stream, filter 0 on each row."""
    assert data[:8] == b"\x89PNG\r\n\x1a\n"
    at, stream, size = 8, b"", (0, 0)
    while at < len(data):
        (length,) = struct.unpack(">I", data[at : at + 4])
        kind, body = data[at + 4 : at + 8], data[at + 8 : at + 8 + length]
        assert struct.unpack(">I", data[at + 8 + length : at + 12 + length])[0] == zlib.crc32(kind + body)
        if kind == b"IHDR":
            size = struct.unpack(">II", body[:8])
            assert body[8:] == bytes((8, 2, 0, 0, 0))
        stream += body if kind == b"IDAT" else b""
        at += 12 + length
    rows = np.frombuffer(zlib.decompress(stream), np.uint8).reshape(size[1], 1 + 3 * size[0])
    assert not rows[:, 0].any()
    return rows[:, 1:].reshape(size[1], size[0], 3).astype(float)


def place(view: View, point: tuple[float, float, float], size: tuple[int, int]) -> tuple[int, int]:
    """The column and row in which a point of the room is seen."""
    x, z = project(view.eye, point)
    window = view.window
    return int((x - window.x) / window.width * size[0]), int((window.top - z) / window.height * size[1])


@pytest.fixture(scope="module")
def night(living: Wall) -> Any:
    return pixels(picture.picture_png(living, "night", size=SIZE))


@pytest.fixture(scope="module")
def day(living: Wall) -> Any:
    return pixels(picture.picture_png(living, "day", size=SIZE))


@pytest.mark.parametrize("when", ["day", "night"])
def test_the_screen_is_black_where_the_eye_sees_it(
    when: str, living: Wall, request: pytest.FixtureRequest
) -> None:
    shown = request.getfixturevalue(when)
    assert shown.shape == (SIZE[1], SIZE[0], 3)
    screen = living.sight.screen
    view = stage(living, "day", aspect=1.5).view
    y = -screen.stand_off - screen.depth
    left, top = place(view, (screen.picture.x, y, screen.picture.top), SIZE)
    right, low = place(view, (screen.picture.right, y, screen.picture.z), SIZE)
    assert shown[top + 3 : low - 3, left + 3 : right - 3].mean() < 25
    beside = shown[top + 3 : low - 3, right + 6 : right + 12].mean()
    assert beside > 60
    assert abs(shown[top + 3 : low - 3, left - 12 : left - 6].mean()) > 60


def test_by_night_the_wall_glows_beside_the_panel(night: Any, day: Any, living: Wall) -> None:
    """The line behind the panel lights the wall: brightest beside its edge, less two hand's breadths on; not so by day."""
    zone = living.setout.zones[0]
    view = stage(living, "night").view
    edge, row = place(view, (zone.box.right, -zone.build_up, 1500.0), SIZE)
    far, _ = place(view, (zone.box.right + 350.0, 0.0, 1500.0), SIZE)
    near, away, panel = (night[row - 8 : row + 8, k - 2 : k + 2].mean() for k in (edge + 3, far, edge - 8))
    assert near > away + 25
    assert near > panel + 60
    by_day = day[row - 8 : row + 8]
    assert abs(by_day[:, edge + 1 : edge + 5].mean() - by_day[:, far - 2 : far + 2].mean()) < 40


def test_a_window_throws_the_screens_shadow_away_from_itself(day: Any, living: Wall) -> None:
    """The demo's window is in the left wall: the panel right of the screen lies in its shadow, left of it in the light."""
    assert living.job.survey.windows[0].wall == "left"
    screen, zone = living.sight.screen.frame, living.setout.zones[0]
    view = stage(living, "day").view

    def beside(x: float) -> float:
        column, row = place(view, (x, -zone.build_up, screen.centre[1]), SIZE)
        return float(day[row - 6 : row + 6, column - 2 : column + 2].mean())

    assert beside(screen.x - 60) > beside(screen.right + 60) + 15


def test_same_wall_same_bytes_and_progress_grows(living: Wall) -> None:
    told: list[float] = []
    one = picture.picture_png(
        living, "night", size=(96, 64), progress=lambda share, words: told.append(share)
    )
    assert one == picture.picture_png(living, "night", size=(96, 64))
    assert told == sorted(told) and told[0] == 0.0 and told[-1] == 1.0


def test_another_seat_sees_another_picture_and_a_missing_one_is_named(living: Wall) -> None:
    seen = {seat: stage(living, "day", seat).view.eye for seat in ("A", "B", "C")}
    assert seen == {s.ref: s.eye for s in living.sight.seats}
    assert stage(living, "day").view.eye == living.sight.seats[0].eye
    with pytest.raises(ValueError, match=r"no seat 'Z'; there are: A, B, C"):
        stage(living, "day", "Z")


def test_the_lines_send_out_their_own_lumens(living: Wall) -> None:
    """An even diffuser sends pi times its luminance from each m²: the pieces of a run add up to its lumens a metre times its length."""
    shines = stage(living, "night").shines
    for run in living.light.runs:
        sent = sum(s.luminance * pi * picture._area(s.corners) for s in shines if s.ref == run.ref)
        long = sum(
            abs(x1 - x0) + abs(z1 - z0) for (x0, z0), (x1, z1) in zip(run.path, run.path[1:], strict=False)
        )
        assert sent == pytest.approx(run.lumens_per_m * long / 1000, rel=1e-6)


def test_a_strip_shut_in_by_battens_does_not_shine(living: Wall) -> None:
    """200 mm behind the edge the top batten lies before the whole top leg and each batten across the sides: 50 mm dark at each."""
    (run,) = [run for run in living.light.runs if run.along == "behind_panel"]
    deep = derive(apply(living.job, "set_light", {"ref": run.ref, "setback": 200}))
    battens = {part.block.z for part in deep.carcass.parts if part.role == "batten"}
    sides = [s.corners for s in stage(deep, "night").shines if s.ref == run.ref]
    assert sides and all(abs(c[2][0] - c[0][0]) == pytest.approx(10) for c in sides)  # no leg along the top
    (zone,) = deep.setout.zones
    dark = 2 * (zone.box.height - 200 - sum(abs(c[2][2] - c[0][2]) for c in sides) / 2)
    assert dark == pytest.approx(2 * 50 * (len(battens) - 1))  # the top one lies above both legs


def test_what_is_assumed_is_told(living: Wall) -> None:
    job = living.job
    dark = replace(job, survey=replace(job.survey, windows=()), design=replace(job.design, lights=()))
    wall = derive(dark)
    assert "no window" in picture.note(stage(wall, "day"))
    assert "no LED line" in picture.note(stage(wall, "night"))
    assert stage(living, "day").told == ()


@pytest.mark.parametrize("kelvin", [2000, 2700, 3000, 4000, 5000, 6500, 9000])
def test_colour_of_a_black_body_by_another_library(kelvin: int) -> None:
    colour = pytest.importorskip("colour")
    body = colour.sd_blackbody(kelvin, colour.SpectralShape(360, 780, 1))
    xyz = colour.sd_to_XYZ(body, illuminant=None)
    rgb = colour.models.RGB_COLOURSPACE_sRGB.matrix_XYZ_to_RGB @ (xyz / xyz[1])
    assert kelvin_rgb(kelvin) == pytest.approx(tuple(np.maximum(rgb, 0)), abs=0.02)


def test_a_closed_joint_is_backed_and_an_open_one_is_not(living: Wall) -> None:
    """The two boards of the wall panel stand 2 mm apart: no light may come through from the strip behind them."""
    left, right = (part.block for part in living.carcass.parts if part.role == "panel")
    assert 0 < right.x - left.x - left.dx < 3
    (back,) = joint_backs(living)
    xs, ys, zs = zip(*back.corners, strict=True)
    assert min(xs) < left.x + left.dx and max(xs) > right.x
    assert (min(zs), max(zs)) == pytest.approx((left.z, left.z + left.dz))
    assert all(left.y + 5 < y < left.y + left.dy for y in ys)  # deep in the joint, before battens and strip
    assert all(
        y < min(c[1] for c in shine.corners)
        for y in ys
        for shine in stage(living, "night").shines
        if shine.ref == "G1"
    )
    apart = tuple(
        replace(part, block=replace(part.block, x=part.block.x + 10)) if part.block == right else part
        for part in living.carcass.parts
    )
    assert joint_backs(replace(living, carcass=replace(living.carcass, parts=apart))) == []


def test_exposure_keeps_hue_and_order() -> None:
    ramp = np.linspace(0.01, 300, 64)[None, :, None] * np.array(kelvin_rgb(6300.0))
    out = developed(np.repeat(ramp, 8, axis=0), "day").astype(int)
    assert (np.diff(out[0, :, 1]) >= 0).all() and out[0, 0, 1] < 40 and out[0, -1, 1] > 225
    assert (
        abs(out[0, :, 0] - out[0, :, 2]).max() <= 2
    )  # the light that the eye takes for white comes out grey
    assert pixels(png(out.astype(np.uint8))).shape == (8, 64, 3)


def square(half: float, y: float, *, to_wall: bool) -> tuple[tuple[float, float, float], ...]:
    corners = ((-half, y, -half), (half, y, -half), (half, y, half), (-half, y, half))
    return corners[::-1] if to_wall else corners


def facing_squares() -> Stage:
    """A wall 4 m square of reflectance one half, and before its middle, 1 m away, a square of 600 mm that shines at it."""
    wall = Face(square(2000.0, 0.0, to_wall=False), Paint("wall", (0.5, 0.5, 0.5)), 1)
    lamp = Shine("lamp", square(300.0, -1000.0, to_wall=True), 1000.0, 6500.0)
    return Stage((wall,), (lamp,), View((0.0, -3000.0, 0.0), Box(-1500, -1000, 3000, 2000)), "day", ())


def lux_beside(x: float) -> float:
    """Light [lx] on the wall there, from the middle's own formula: a rectangle seen from under its corner.

    Source: configuration factor of a differential element to a parallel rectangle with a corner over it (Howell's catalogue, B-3):
    F = (X/√(1+X²)·atan(Y/√(1+X²)) + Y/√(1+Y²)·atan(X/√(1+Y²))) / 2π.
    """

    def corner(a: float, b: float) -> float:
        sign = (1 if a >= 0 else -1) * (1 if b >= 0 else -1)
        p, q = abs(a), abs(b)
        return (
            sign
            * (
                p / sqrt(1 + p * p) * atan(q / sqrt(1 + p * p))
                + q / sqrt(1 + q * q) * atan(p / sqrt(1 + q * q))
            )
            / (2 * pi)
        )

    left, right = -0.3 - x / 1000, 0.3 - x / 1000
    return 1000.0 * pi * 2 * (corner(right, 0.3) - corner(left, 0.3))


def test_light_from_a_square_lamp_by_its_published_factor() -> None:
    scene = facing_squares()
    xs = np.array([[0.0, 500.0, 1200.0]], np.float32)
    nothing = np.zeros_like(xs)
    found = picture._received(scene.shines[0], (xs, nothing, nothing), (nothing, nothing - 1, nothing))
    for x, lux in zip(xs[0], found[0], strict=True):
        assert lux == pytest.approx(lux_beside(float(x)), rel=0.02)


def test_without_the_extra_it_says_what_to_install(living: Wall, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(render, "find_spec", lambda name: None)
    with pytest.raises(render.RenderMissingError, match=r"wallwright\[render\]"):
        render.render_png(living, "day")


@pytest.fixture
def tracer() -> None:
    if not render.available():
        pytest.skip("the extra `render` is not installed")


@pytest.mark.usefixtures("tracer")
def test_traced_light_is_the_published_factors() -> None:
    """Luminance of a matt wall = light · reflectance / pi; beside the lamp, where the eye sees past it, no light comes by other ways."""
    scene = facing_squares()
    light = render.traced(scene, (90, 60), lambda share, words: None)
    for x in (600.0, 1200.0):
        column = int((x + 1500) / 3000 * 90)
        got = light[28:32, column - 1 : column + 1].mean()
        at = [(k + 0.5) / 90 * 3000 - 1500 for k in (column - 1, column)]
        assert got == pytest.approx(sum(lux_beside(a) for a in at) / 2 * 0.5 / pi, rel=0.06)


@pytest.mark.usefixtures("tracer")
def test_real_light_shows_the_same_wall_as_the_fast_one(living: Wall, night: Any) -> None:
    """Told as it comes, the same bytes however many processors share the bands."""
    told: list[tuple[float, str]] = []
    size = (60, 40)
    data = render.render_png(living, "night", size=size, progress=lambda *said: told.append(said))
    shown = pixels(data)
    assert shown.shape == (40, 60, 3)
    shares = [share for share, _ in told]
    assert shares == sorted(shares) and shares[-1] == 1.0
    assert len({words for _, words in told}) >= 6
    assert len({share for share, words in told if words == "light by way of the walls"}) > 2
    small = night.reshape(40, 4, 60, 4, 3).mean(axis=(1, 3))
    alike = np.corrcoef(shown.mean(axis=2).ravel(), small.mean(axis=2).ravel())[0, 1]
    assert alike > 0.7
    screen = living.sight.screen
    view = stage(living, "night").view
    column, row = place(view, (screen.picture.centre[0], -170.0, screen.picture.centre[1]), size)
    assert shown[row - 2 : row + 2, column - 4 : column + 4].mean() < 25


@pytest.mark.usefixtures("tracer")
def test_real_light_is_the_same_bytes_on_any_number_of_processors(
    living: Wall, monkeypatch: pytest.MonkeyPatch
) -> None:
    found: set[bytes] = set()
    for processors in (1, 3):
        monkeypatch.setattr(render.os, "cpu_count", lambda n=processors: n)
        found.add(render.render_png(living, "night", size=(36, 24)))
    assert len(found) == 1


@pytest.mark.usefixtures("tracer")
def test_who_goes_away_leaves_no_tracer_at_work(living: Wall, monkeypatch: pytest.MonkeyPatch) -> None:
    begun: list[subprocess.Popen[bytes]] = []
    start = render._started
    monkeypatch.setattr(render, "_started", lambda *given: begun.append(start(*given)) or begun[-1])

    def gone(share: float, words: str) -> None:
        if words == "light by way of the walls":
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        render.render_png(living, "night", size=(60, 40), progress=gone)
    assert begun and all(process.returncode is not None for process in begun)


@pytest.mark.usefixtures("tracer")
def test_a_tracer_that_fails_is_said(living: Wall, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(render._CARE, "lw", "nonsense")
    with pytest.raises(RuntimeError, match="could not be traced"):
        render.render_png(living, "day", size=(24, 16))


def ball(
    radius: float, round_: int, out: int, *, inwards: bool
) -> list[tuple[tuple[float, float, float], ...]]:
    """The flat faces of a ball about (0, -1500, 0)."""

    def point(i: int, j: int) -> tuple[float, float, float]:
        a, b = 2 * pi * i / round_, pi * j / out
        return radius * sin(b) * cos(a), radius * sin(b) * sin(a) - 1500.0, radius * cos(b)

    faces: list[tuple[tuple[float, float, float], ...]] = []
    for i in range(round_):
        for j in range(out):
            around = (point(i, j), point(i, j + 1), point(i + 1, j + 1), point(i + 1, j))
            kept = around[:3] if j == 0 else (*around[:2], around[3]) if j == out - 1 else around
            faces.append(kept[::-1] if inwards else kept)
    return faces


@pytest.mark.usefixtures("tracer")
def test_traced_light_by_way_of_walls_is_the_hollow_spheres(monkeypatch: pytest.MonkeyPatch) -> None:
    """Each bounce in a hollow sphere of reflectance ρ adds ρ of what came before, everywhere alike: Φ / (A·(1 - ρ)) in all, on which
    ρ / pi makes the luminance. Source: the integrating sphere's multiplier (Ulbricht; textbook result, from memory).
    """
    share, radius = 0.5, 1500.0
    monkeypatch.setattr(render, "MEAN", share)
    inside = tuple(
        Face(corners, Paint("w", (share, share, share))) for corners in ball(radius, 24, 12, inwards=True)
    )
    lamps = tuple(Shine("lamp", corners, 9000.0, 6500.0) for corners in ball(60.0, 8, 4, inwards=False))
    view = View((0.0, -2600.0, 0.0), Box(-1500.0, -1000.0, 3000.0, 2000.0))
    light = render.traced(Stage(inside, lamps, view, "night", (), True), (30, 20), lambda part, words: None)
    flux = sum(9000.0 * pi * render._area(lamp.corners) for lamp in lamps)
    area = sum(render._area(face.corners) for face in inside)
    shown = light[3:17, 2:9] @ np.array((0.2126, 0.7152, 0.0722))
    assert shown.mean() == pytest.approx(flux / (area * (1 - share)) * share / pi, rel=0.05)


def test_the_command_writes_a_picture_and_says_what_it_is(tmp_path: Path) -> None:
    job, out = tmp_path / "wall.toml", tmp_path / "p.png"
    job.write_text(demo_jobs()["bedroom"], "utf-8")

    def run(*more: str) -> subprocess.CompletedProcess[str]:
        call = [sys.executable, "-m", "wallwright", "picture", str(job), "--out", str(out), "--fast", *more]
        return subprocess.run(call, capture_output=True, text=True, check=False)

    done = run("--when", "day", "--seat", "B", "--width", "96", "--height", "64", "--json")
    assert done.returncode == 0, done.stderr
    assert pixels(out.read_bytes()).shape == (64, 96, 3)
    told = json.loads(done.stdout)
    assert told["light"] == "direct" and "illustrative" in told["says"]
    before = out.read_bytes()
    for wrong, says in ((("--seat", "Q"), "there are: A, B"), (("--width", "9"), "64 and 4000")):
        refused = run(*wrong)
        assert refused.returncode == 2 and says in refused.stderr and "Traceback" not in refused.stderr
    assert out.read_bytes() == before


def test_the_bottom_of_a_joint_is_dark_and_a_recess_is_not() -> None:
    """A joint of 4 mm in boards 40 mm off a wall, seen at 2 mm a pixel, across and up; a recess of 60 mm keeps its light."""
    deep = np.full((60, 80), -40.0, np.float32)
    deep[:, 20:22] = 0.0
    deep[30:32, :] = 0.0
    deep[:, 45:75] = 0.0
    kept = picture.in_joints(deep, 2.0)
    assert (kept[:28, 20:22] < 0.2).all() and (kept[30:32, 5:18] < 0.2).all()
    assert (kept[:, 45:75] == 1.0).all()
    assert (kept[:28, :18] == 1.0).all() and (kept[35:, 25:43] == 1.0).all()
    shallow = np.where(deep == 0.0, -35.0, deep)
    assert (picture.in_joints(shallow, 2.0) == 1.0).all()  # a groove 5 mm deep is lit to its bottom
