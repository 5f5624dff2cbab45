"""What a change touches, told before anybody accepts it: documents, parts by state, points, money, days, findings."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from wallwright.change.days import added_days
from wallwright.change.difference import Difference, PointChange, difference
from wallwright.change.parts import PartChange
from wallwright.change.state import at_least, part_state, point_state
from wallwright.change.worth import all_in, fixing, making, part_worth, point_worth
from wallwright.job.progress import State
from wallwright.rules.check import check

if TYPE_CHECKING:
    from wallwright.derive import Wall


@dataclass(frozen=True, slots=True)
class Document:
    """A sheet, list or file of the issue set whose content is not what it was.

    name : as in the set · title : for people · kind : sheet, list or file · readers : whose sets it is in · what : changed, new or
    withdrawn · number : of the sheet, as issued; 0 for a list or file
    """

    name: str
    title: str
    kind: str
    readers: tuple[str, ...]
    what: str
    number: int = 0


@dataclass(frozen=True, slots=True)
class Struck:
    """A part that the change touches, how far it is, and what is lost before overhead and margin [minor units]: the part itself, or
    the work on it that is done again.
    """

    change: PartChange
    state: State
    worth: int

    @property
    def wasted(self) -> bool:
        """Whether something is thrown away: a board bought or cut that the new wall has no use for."""
        return self.change.lost and self.state != "drawn"


@dataclass(frozen=True, slots=True)
class Boxed:
    """An outlet that the change moves, how far it is, and what is lost with it [minor units]."""

    change: PointChange
    state: State
    worth: int


@dataclass(frozen=True, slots=True)
class Impact:
    """All of it. lost : thrown away or worked again, all in · take_out : taking out what is fixed, all in · price : what the variation adds: the new
    price less the old one, and what is lost · left : working days from today as it stood, and with the change
    """

    change: Difference
    documents: tuple[Document, ...]
    parts: tuple[Struck, ...]
    points: tuple[Boxed, ...]
    lost: int
    take_out: int
    price: int
    left: tuple[int, int]
    price_major: float = 0.0
    """The same price in the currency's own unit."""

    @property
    def days(self) -> int:
        """Working days that it adds."""
        return self.left[1] - self.left[0]

    @property
    def must(self) -> tuple[Any, ...]:
        """Findings it brings that must be put right before it can be accepted."""
        return tuple(item for item in self.change.gained if item.severity in ("danger", "fix"))


def impact(old: Wall, new: Wall, documents: tuple[Document, ...] = ()) -> Impact:
    """What becomes of the old wall, as far as it is built, when the new one takes its place.

    documents : whose content changes, as the sheets and files tell (`export.since`); the old job's record of progress says what
    is ordered, cut, set and built.
    """
    change = difference(old, new, check(old, cures=False), check(new, cures=False))
    progress = old.job.progress
    parts = tuple(_struck(old, one) for one in change.parts)
    points = tuple(
        Boxed(one, state, point_worth(old, one.ref) if one.was and at_least(state, "set") else 0)
        for one in change.points
        for state in (point_state(progress, one.ref) if one.was else "drawn",)
    )
    lost = sum(one.worth for one in parts) + sum(one.worth for one in points)
    share = old.limits.value("change.take_out") / 100
    out = sum(
        fixing(old, one.change.was)
        for one in parts
        if one.wasted and one.change.was and at_least(one.state, "set")
    )
    out += sum(one.worth for one in points if one.state in ("set", "built"))
    thrown, taken = all_in(old, lost), all_in(old, out * share)
    price = new.money.total - old.money.total + thrown + taken
    return Impact(
        change,
        documents,
        parts,
        points,
        thrown,
        taken,
        price,
        added_days(old, new, change),
        new.money.major(price),
    )


def _struck(old: Wall, change: PartChange) -> Struck:
    if change.was is None:
        return Struck(change, "drawn", 0)
    state = part_state(old.job.progress, change.was)
    if change.lost:
        return Struck(change, state, part_worth(old, change.was, state))
    again = change.fate != "renumbered" and at_least(state, "cut")
    return Struck(change, state, round(making(old, change.was)) if again else 0)
