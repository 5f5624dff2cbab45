"""Points, conduit, cable and lights, worked by hand from the hand-made wall."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import Any

import pytest

from wallwright.money import wiring
from wallwright.money.quantities import Measured


def by_key(found: Iterable[Measured]) -> dict[str, Measured]:
    got = list(found)
    assert len({item.key for item in got}) == len(got)
    return {item.key: item for item in got}


def test_points_and_circuits_by_the_piece(made: Any) -> None:
    got = by_key(wiring.services(made.services, made.limits))
    assert (got["point_twin_socket"].quantity, got["point_twin_socket"].how) == (2, "P1, P2")
    assert got["circuit"].quantity == 1


def test_every_cable_by_its_count_with_slack(made: Any) -> None:
    got = by_key(wiring.services(made.services, made.limits))
    # length + 10 % + 2 x 300 mm, times how many lie in the run
    assert got["cable_twin_2_5"].quantity == pytest.approx(5.0)  # 4.4 + 0.6
    assert got["cable_data_6a"].quantity == pytest.approx(5.6)  # 2 x (2.2 + 0.6)
    assert got["cable_hdmi"].quantity == pytest.approx(3.5)  # as the cable map has them: 2 m and 1.5 m
    assert got["cable_hdmi"].of == ("CA1", "CA2") and "cable_usb" not in got
    assert got["cable_data_6a"].how.startswith("2 lengths in N1,")


def test_conduit_where_a_run_is_not_in_a_void_and_for_the_plugs(made: Any) -> None:
    got = by_key(wiring.services(made.services, made.limits))
    assert got["conduit_20"].quantity == pytest.approx(4.4)  # M1 alone: N1 lies in the void
    assert got["conduit_40"].quantity == pytest.approx(1.1)  # H1 in the void: a plug goes through it later
    assert got["draw_cord"].quantity == pytest.approx(6.2)  # 4.0 + 0.6 and 1.0 + 0.6
    assert got["draw_cord"].of == ("M1", "H1")


def test_a_run_that_does_not_say_what_lies_in_it_has_no_price(made: Any) -> None:
    runs = (replace(made.services.runs[0], contents=()),)
    got = by_key(wiring.services(replace(made.services, runs=runs), made.limits))
    assert (got["cable"].of, got["cable"].rates) == (("M1",), ())


def test_lights(made: Any) -> None:
    lit = by_key(wiring.light(made.light, made.limits))
    assert lit["led_strip"].quantity == pytest.approx(3.15)  # 3 m + 5 %
    assert (lit["led_driver"].quantity, lit["dimmer"].quantity) == (1, 1)
    three = replace(made.light.runs[0], drivers=3)
    assert by_key(wiring.light(replace(made.light, runs=(three,)), made.limits))["led_driver"].quantity == 3
    assert by_key(wiring.light(replace(made.light, runs=()), made.limits)) == {}


def test_trunking_is_measured_and_priced_where_nothing_is_cut(made: Any) -> None:
    shown = replace(made.services.runs[0], on_surface=3000.0, channel=(16.0, 16.0))
    services = replace(made.services, runs=(shown,), lay="surface")
    got = by_key(wiring.services(services, made.limits))
    assert got["trunking_16x16"].quantity == pytest.approx(3.3)  # 3 m and 10 % waste
    assert got["conduit_20"].quantity == pytest.approx(
        1.1
    )  # the metre that is left, in a void or in the wall
    assert got["surface_box"].of == ("P1",)
    whole = replace(shown, on_surface=4000.0)
    got = by_key(wiring.services(replace(services, runs=(whole,)), made.limits))
    assert not [key for key in got if key.startswith("conduit")] and "draw_cord" not in got
    (line,) = [line for line in made.but(services=services).money().lines if line.ref.startswith("trunking")]
    assert line.amount > 0
    plain = by_key(wiring.services(made.services, made.limits))
    assert "surface_box" not in plain and not [key for key in plain if key.startswith("trunking")]
