from __future__ import annotations

from types import SimpleNamespace

import pytest

from wallwright.core.units import Length
from wallwright.job.brief import Device
from wallwright.library import load
from wallwright.services.devices import place_devices


def test_devices_stand_where_the_trade_puts_them(make: SimpleNamespace) -> None:
    wanted = (
        Device("bar", "soundbar"), Device("stb", "set_top_box"), Device("sub", "subwoofer"),
        Device("stick", "media_player", place="screen"),
    )  # fmt: skip
    placed, whys = place_devices(wanted, make.setout().units, load.limits())
    assert [(d.ref, d.place, d.unit) for d in placed] == [
        ("bar", "on_console", "C1"), ("stb", "cabinet", "C1"), ("sub", "tower", "T1"), ("stick", "screen", ""),
    ]  # fmt: skip
    assert {why.name for why in whys} == {f"device {ref}.place" for ref in ("bar", "stb", "sub", "stick")}
    assert [why.pinned for why in whys] == [False, False, False, True]


def test_what_is_given_goes_before_the_library(make: SimpleNamespace) -> None:
    device = Device("stb", "set_top_box", watts=0.0, width=Length(300.0), control="radio")
    (placed,), _ = place_devices((device,), make.setout().units, load.limits())
    kind = load.devices()["set_top_box"]
    assert (placed.watts, placed.width, placed.control) == (0.0, 300.0, "radio")
    assert (placed.depth, placed.height) == (kind.depth, kind.height)


def test_a_deep_device_goes_into_the_unit_that_is_deep_enough(make: SimpleNamespace) -> None:
    shallow = make.unit("C1", "console", 900, 250, 1000, 350, depth=300)
    deep = make.unit("C2", "console", 2000, 250, 1000, 350, depth=450)
    (placed,), _ = place_devices((Device("amp", "av_receiver"),), (shallow, deep), load.limits())
    assert placed.unit == "C2"
    (placed,), _ = place_devices((Device("amp", "av_receiver"),), (shallow,), load.limits())
    assert placed.unit == "C1"  # the deepest there is: a finding says that it does not fit


def test_without_units_a_box_has_no_place_and_that_is_said() -> None:
    wanted = Device("stb", "set_top_box"), Device("stick", "media_player", place="screen")
    placed, whys = place_devices(wanted, (), load.limits())
    assert [(d.place, d.unit) for d in placed] == [("nowhere", ""), ("screen", "")]
    assert "no unit for it" in whys[0].says


def test_an_unknown_kind_names_the_field_and_the_nearest() -> None:
    with pytest.raises(ValueError, match=r"brief\.devices\.1\.kind: .*'sound_bar'.*'soundbar'"):
        place_devices((Device("a", "router"), Device("b", "sound_bar")), (), load.limits())
