"""Critical path networks with known answers.

The first is a classroom exercise from a university's critical-path sheet, with its printed table of times. The second is a
television wall's works network, worked out independently beforehand (durations common practice).
"""

from __future__ import annotations

import pytest

from wallwright.programme.network import Activity, schedule


def network(text: str) -> list[Activity]:
    """Activities written as `D3(B)`."""
    made: list[Activity] = []
    for word in text.split():
        head, _, after = word.rstrip(")").partition("(")
        name, days = head.split("=")
        made.append(Activity(name, int(days), tuple(after.split(",")) if after else ()))
    return made


CLASSROOM = "A=6 B=2(A) C=2(A) D=3(B) F=2(C) E=4(D,F) G=1(E)"
WALL = (
    "S=1 A=7(S) O={O}(A) B15=5(A) W={W}(A,B15) P=1(A) C=1(P) F=1(C) H1=1(F) M=1(H1) D={D}(M) B=1(D) H2=1(B) N=2(H2,W) "
    "T=2(H2,O) U=2(T) I=3(N,U) K=1(I) E=1(K) G=1(E) V=1(E) Q=1(G,V) Z=2(Q)"
)


def test_classroom_exercise() -> None:
    result = schedule(network(CLASSROOM))
    assert result.days == 16
    assert set(result.critical) == set("ABDEG")
    c, f = result.times["C"], result.times["F"]
    assert (c.early_start, c.early_finish, c.late_start, c.late_finish, c.slack) == (6, 8, 7, 9, 1)
    assert (f.early_start, f.early_finish, f.late_start, f.late_finish, f.slack) == (8, 10, 9, 11, 1)


def test_television_wall() -> None:
    result = schedule(network(WALL.format(O=15, W=10, D=7)))
    assert result.days == 36
    assert set(result.critical) == {"S", "A", "O", "T", "U", "I", "K", "E", "G", "V", "Q", "Z"}
    assert {ref: result.times[ref].slack for ref in ("D", "W", "N", "H2")} == {
        "D": 1,
        "W": 2,
        "N": 2,
        "H2": 1,
    }


@pytest.mark.parametrize(
    ("stone", "shop", "dry", "days", "critical"),
    [(15, 10, 9, 37, "D"), (10, 10, 7, 35, "D"), (15, 13, 7, 37, "W")],  # worked independently beforehand
)
def test_television_wall_when_a_lead_time_moves(
    stone: int, shop: int, dry: int, days: int, critical: str
) -> None:
    result = schedule(network(WALL.format(O=stone, W=shop, D=dry)))
    assert result.days == days
    assert critical in result.critical
