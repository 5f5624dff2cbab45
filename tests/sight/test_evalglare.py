"""The glare of a lamp against Radiance and evalglare, an independent light program (the extra `render` brings it).

Scene: a square of 0.5 m, 5000 cd/m², its middle 3 m ahead and 1 m above the eye, in a uniform field of 50 cd/m².
"""

from __future__ import annotations

import math

import pytest

from wallwright.sight.glare import solid_angle
from wallwright.sight.veil import disability

radiance = pytest.importorskip("pyradiance", reason="the extra `render` is not installed")

CORNERS = (
    (0.25, 3.0, 0.75),
    (0.25, 3.0, 1.25),
    (-0.25, 3.0, 1.25),
    (-0.25, 3.0, 0.75),
)  # its lit side faces the eye
LAMP, FIELD = 5000.0, 50.0
WATT = 179.0  # lumens a watt, as Radiance counts


def scene() -> str:
    lamp, field = LAMP / WATT, FIELD / WATT
    points = "\n".join(" ".join(f"{value:g}" for value in corner) for corner in CORNERS)
    return (
        f"void light lamp\n0\n0\n3 {lamp} {lamp} {lamp}\n\nlamp polygon square\n0\n0\n12\n{points}\n\n"
        f"void glow around\n0\n0\n4 {field} {field} {field} 0\n\naround source everywhere\n0\n0\n4 0 0 1 360\n"
    )


@pytest.fixture(scope="module")
def measured(tmp_path_factory: pytest.TempPathFactory) -> dict[str, float]:
    """What evalglare finds in a rendered fisheye view: its only source, and the light on the eye."""
    folder = tmp_path_factory.mktemp("glare")
    rad, octree, picture = folder / "s.rad", folder / "s.oct", folder / "s.hdr"
    rad.write_text(scene(), encoding="ascii")
    octree.write_bytes(radiance.oconv(str(rad)))
    view = [
        "-vta",
        "-vp",
        "0",
        "0",
        "0",
        "-vd",
        "0",
        "1",
        "0",
        "-vu",
        "0",
        "0",
        "1",
        "-vh",
        "180",
        "-vv",
        "180",
    ]
    picture.write_bytes(
        radiance.rpict(view, str(octree), xres=900, yres=900, params=["-ab", "0", "-ps", "1", "-dj", "0"])
    )
    heading, row = radiance.evalglare(str(picture), detailed=True).decode().splitlines()[:2]
    names = heading.replace("No pixels", "No_pixels").split()[1:]
    return dict(zip(names, (float(value) for value in row.split()[1:]), strict=True))


def test_solid_angle_and_light_on_the_eye(measured: dict[str, float]) -> None:
    omega = solid_angle((0.0, 0.0, 0.0), CORNERS)
    aside = math.atan(1 / 3)
    assert omega == pytest.approx(measured["Omega_s"], rel=0.01)
    assert LAMP * omega * math.cos(aside) == pytest.approx(measured["Edir"], rel=0.01)
    assert LAMP * omega * math.cos(aside) + math.pi * FIELD == pytest.approx(measured["E_v"], rel=0.01)


def test_the_veil_is_evalglares_at_its_own_angle_and_light(measured: dict[str, float]) -> None:
    assert disability(measured["Edir"], measured["teta"]) == pytest.approx(measured["Lveil_cie"], rel=1e-3)
    # with our own angle to the lamp's middle: evalglare weighs its pixels and lies a third of a degree nearer
    ours = disability(
        LAMP * solid_angle((0.0, 0.0, 0.0), CORNERS) * math.cos(math.atan(1 / 3)),
        math.degrees(math.atan(1 / 3)),
    )
    assert ours == pytest.approx(measured["Lveil_cie"], rel=0.05)
