"""Values asked by together: known again by themselves, equal by what they are, hashed once."""

from __future__ import annotations

from dataclasses import dataclass

from wallwright.core.once import KNOWN, Once, once


@dataclass(frozen=True)
class Counted:
    """A value that tells how often its hash was reckoned."""

    name: str
    asked: tuple[list[int]] = ([],)

    def __hash__(self) -> int:
        self.asked[0].append(1)
        return hash(self.name)


def test_the_same_things_are_hashed_once() -> None:
    thing = Counted("survey", ([],))
    first = once((thing, "saw"))
    assert {first: 1}[once((thing, "saw"))] == 1
    assert hash(once((thing, "saw"))) == hash(first)
    assert len(thing.asked[0]) == 1


def test_equal_things_are_equal_and_others_are_not() -> None:
    one, other = once((("a", 1.0),)), once((("a", float("1")),))
    assert one == other == Once((("a", 1.0),))
    assert hash(one) == hash(other)
    assert one != once((("a", 2.0),))
    assert one != once((("a", 1.0), None))


def test_no_more_than_the_last_few_are_held() -> None:
    first = once((Counted("first"),))
    for number in range(KNOWN):
        once((Counted(str(number)),))
    assert once(first.values) is not first
    assert once(first.values) == first
