from __future__ import annotations

import pytest

from wallwright.library import load
from wallwright.services.links import links, speaker_longest


@pytest.mark.parametrize(
    ("ohms", "resistance", "metres"),
    [
        (8, 13.3, 15.0),
        (8, 7.98, 25.1),
        (4, 13.3, 7.5),
        (4, 7.98, 12.5),
    ],  # IEC 60228 class 5: 13.3 and 7.98 Ω/km
)
def test_a_speakers_loop_is_a_twentieth_of_its_impedance(
    ohms: float, resistance: float, metres: float
) -> None:
    assert speaker_longest(ohms, resistance, 0.05) / 1000 == pytest.approx(
        metres, abs=0.05
    )  # common practice, by hand


def test_every_sort_of_link_has_its_limit_and_source() -> None:
    rows = {row.name: row for row in links(load.limits())}
    assert (
        rows["network, without its cords"].longest == 90_000
    )  # ISO/IEC 11801, TIA-568: 90 m and 10 m of cords
    assert rows["USB 2"].longest == 5000 and rows["USB 3, 5 Gb/s"].longest == 3000
    assert rows["picture, passive, 48 Gb/s"].longest == 5000
    assert rows["speaker of 8 Ω on 2.5 mm²"].longest == pytest.approx(25_063, abs=1)
    assert all(row.source for row in rows.values()) and len(rows) == 11
