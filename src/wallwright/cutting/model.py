"""What is cut, from what, with which saw, and the plan that comes out.

Everything here is a whole number of tenths of a millimetre, so that two sizes are equal or they are not. Millimetres
as floats exist only at the edge: ``from_mm`` rounds a part up and a sheet down (a part may never come out too small,
a sheet may never be counted too large), ``to_mm`` turns back.

Axes of a sheet: x along its length, y along its width, origin at one corner of the sheet as delivered (before
trimming). The sheet's grain runs along x.
"""

from __future__ import annotations

import difflib
import math
from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Literal, NamedTuple

Grain = Literal["none", "length", "width"]
Stages = Literal["any", 2, 3]

GRAINS: tuple[Grain, ...] = ("none", "length", "width")
STAGES: tuple[Stages, ...] = ("any", 2, 3)

LONGEST = 1_000_000  # 100 m: beyond any sheet made, so a slip of units is caught and no product overflows
MOST_PARTS = 100_000  # beyond it a plan would fill the memory before it would fill a lorry


def from_mm(millimetres: float, *, rounding: Literal["up", "down"]) -> int:
    """Tenths of a millimetre of a length in mm; ``up`` for parts, kerf and trim, ``down`` for sheets.

    A millionth of a tenth is forgiven, so that 723.1 mm, which no float holds exactly, stays 7231 tenths.

    Raises:
        ValueError: not a finite number.
    """
    if not math.isfinite(millimetres):
        msg = f"a length must be a finite number of mm, not {millimetres}"
        raise ValueError(msg)
    tenths = millimetres * 10
    return math.ceil(tenths - 1e-6) if rounding == "up" else math.floor(tenths + 1e-6)


def to_mm(tenths: int) -> float:
    """Millimetres of a whole number of tenths."""
    return tenths / 10


@dataclass(frozen=True, slots=True)
class Piece:
    """A part wanted ``quantity`` times; sizes in tenths of a mm.

    ``grain`` says which direction of the part must follow the sheet's grain: its ``length``, its ``width``, or
    ``none`` where it may lie either way. Pieces of one material with the same ``match`` are cut from one strip, one
    after the other in the order given, so that their grain or pattern runs on.
    """

    name: str
    material: str
    length: int
    width: int
    quantity: int = 1
    grain: Grain = "none"
    match: str = ""

    def __post_init__(self) -> None:
        where = f"part {self.name!r}"
        _whole(where, "length", self.length, least=1, most=LONGEST)
        _whole(where, "width", self.width, least=1, most=LONGEST)
        _whole(where, "quantity", self.quantity, least=1, most=MOST_PARTS)
        _one_of(where, "grain", self.grain, GRAINS)


@dataclass(frozen=True, slots=True)
class Sheet:
    """A size of sheet that can be bought; sizes in tenths of a mm, ``quantity`` None = as many as wanted.

    ``price`` each, in any money; it counts to the hundredth. ``trim``: taken off its edges instead of the saw's own trim;
    0 for an offcut of an earlier job, whose edges are sawn already.
    """

    name: str
    material: str
    length: int
    width: int
    price: float = 0.0
    quantity: int | None = None
    trim: int | None = None

    def __post_init__(self) -> None:
        where = f"sheet {self.name!r}"
        _whole(where, "length", self.length, least=1, most=LONGEST)
        _whole(where, "width", self.width, least=1, most=LONGEST)
        if self.quantity is not None:
            _whole(where, "quantity", self.quantity, least=0, most=10**9)
        if self.trim is not None:
            _whole(where, "trim", self.trim, least=0, most=LONGEST)
        price: object = self.price
        if isinstance(price, bool) or not isinstance(price, (int, float)) or not 0 <= price <= 1e9:
            msg = f"{where}: price {price!r} must be a number from 0 to 1e9"
            raise ValueError(msg)


@dataclass(frozen=True, slots=True)
class Saw:
    """The saw: ``kerf`` lost at each cut and ``trim`` taken off each of a sheet's four edges (the blade included).

    ``stages``: how many times the sawing direction may change, plus one: 2 = strips, then parts out of strips;
    3 = one more. After the last stage one more cut is allowed that frees one single part (a trimming cut); ``any`` =
    as deep as it takes. ``least_offcut``: an offcut smaller than this in either direction is waste (common practice:
    100 mm).
    """

    kerf: int = 40
    trim: int = 100
    stages: Stages = "any"
    least_offcut: int = 1000

    def __post_init__(self) -> None:
        _whole("saw", "kerf", self.kerf, least=0, most=1000)
        _whole("saw", "trim", self.trim, least=0, most=LONGEST)
        _whole("saw", "least_offcut", self.least_offcut, least=0, most=LONGEST)
        _one_of("saw", "stages", self.stages, STAGES)


@dataclass(frozen=True, slots=True)
class Problem:
    """Parts, sheets and saw that belong together: every part has a material on offer and fits one of its sheets."""

    pieces: tuple[Piece, ...]
    sheets: tuple[Sheet, ...]
    saw: Saw = field(default_factory=Saw)

    def __post_init__(self) -> None:
        total = sum(p.quantity for p in self.pieces)
        if total > MOST_PARTS:
            msg = f"quantity: {total} parts in all; the most that can be planned at once is {MOST_PARTS}"
            raise ValueError(msg)
        _names_differ(self.sheets)
        twins: dict[tuple[str, str, int, int], tuple[Grain, str]] = {}
        from wallwright.cutting.match import sets_of, whole  # it imports Piece from here

        for group in sets_of(self.pieces).values():
            self._check_fits(whole(group, self.saw.kerf))
        for piece in self.pieces:
            self._check_fits(piece)
            twin = twins.setdefault(
                (piece.name, piece.material, piece.length, piece.width), (piece.grain, piece.match)
            )
            if twin != (piece.grain, piece.match):
                word = "match" if twin[0] == piece.grain else "grain"
                one, other = (twin[1], piece.match) if word == "match" else (twin[0], piece.grain)
                msg = (
                    f"part {piece.name!r}: given twice in one size with {word} {one!r} and {other!r}; "
                    "give the two different names"
                )
                raise ValueError(msg)

    def _check_fits(self, piece: Piece) -> None:
        own = [s for s in self.sheets if s.material == piece.material]
        if not own:
            offered = sorted({s.material for s in self.sheets})
            near = difflib.get_close_matches(piece.material, offered, 1)
            hint = (
                f"; did you mean {near[0]!r}?"
                if near
                else f"; sheets are of {', '.join(offered) or 'nothing'}"
            )
            msg = f"part {piece.name!r}: material {piece.material!r} has no sheet{hint}"
            raise ValueError(msg)
        if not any(fits(piece, s, self.saw.trim) for s in own):
            from wallwright.cutting.larger import other_sheets, would_do  # it imports Piece from here

            size = " x ".join(f"{to_mm(v):g}" for v in (piece.length, piece.width))
            rooms = ", ".join(
                f"{s.name} {to_mm(s.length - 2 * own_trim(s, self.saw.trim)):g} x "
                f"{to_mm(s.width - 2 * own_trim(s, self.saw.trim)):g}"
                for s in own
            )
            lies = "" if piece.grain == "none" else f" with grain along its {piece.grain}"
            does = would_do(piece, own, self.saw.trim, other_sheets(piece, self.sheets, self.saw.trim))
            msg = (
                f"part {piece.name!r}: {size} mm{lies} is larger than every sheet of {piece.material!r} after trimming "
                f"({rooms}); {does}"
            )
            raise ValueError(msg)

    def materials(self) -> tuple[str, ...]:
        """Materials that parts are wanted of, in order of first mention."""
        return tuple(dict.fromkeys(p.material for p in self.pieces))


@dataclass(frozen=True, slots=True)
class Placed:
    """A part where it lies: near corner (x, y) on the sheet as delivered; ``length`` along x and ``width`` along y as it lies.

    ``turned``: the part's own length lies along y, so ``length`` here is the part's width.
    """

    name: str
    x: int
    y: int
    length: int
    width: int
    turned: bool


@dataclass(frozen=True, slots=True)
class Cut:
    """One straight cut right through one panel.

    ``axis`` "x": the blade crosses the sheet at x = ``at``, running in y from ``start`` to ``end``; "y": the other
    way. The blade removes ``at`` to ``at + kerf``. ``panel`` is the number of the panel cut (1 = the sheet as
    delivered); ``first`` and ``second`` are the numbers of the panels below and above the blade, None where the blade
    leaves nothing. ``stage`` 0 = trimming the sheet's edges.
    """

    stage: int
    axis: Literal["x", "y"]
    at: int
    start: int
    end: int
    panel: int
    first: int | None
    second: int | None


@dataclass(frozen=True, slots=True)
class Offcut:
    """A panel left over and worth keeping."""

    x: int
    y: int
    length: int
    width: int


@dataclass(frozen=True, slots=True)
class SheetPlan:
    """One layout, cut from ``count`` sheets of one kind."""

    sheet: Sheet
    count: int
    placed: tuple[Placed, ...]
    cuts: tuple[Cut, ...]
    offcuts: tuple[Offcut, ...]


class Shares(NamedTuple):
    """For one kind of sheet, by name: what share of its length each extent along x takes, of its width along y.

    Extents include the blade.
    """

    sheet: str
    along: tuple[tuple[int, float], ...]
    across: tuple[tuple[int, float], ...]


class Worth(NamedTuple):
    """What one part of this size and grain is worth, in hundredths of the money; a matched set is one part."""

    match: str
    length: int
    width: int
    grain: Grain
    value: float


@dataclass(frozen=True, slots=True)
class Proof:
    """What the bound of one material rests on where area and big parts are not enough: to be priced again.

    ``shares``: no row of parts that fits a sheet sums to more than one. ``values``: no sheet cut in the stages allowed
    makes more than its kind's ``worth`` (by name), which is its price, or more where its stock is short. Where no sheet
    has a price its area in tenths squared stands for it.
    """

    material: str
    shares: tuple[Shares, ...] = ()
    values: tuple[Worth, ...] = ()
    worth: tuple[tuple[str, float], ...] = ()


@dataclass(frozen=True, slots=True)
class Plan:
    """Every layout, and how good it is known to be.

    ``used`` sheets against ``lower_bound`` (no plan can use fewer); ``price`` against ``price_bound`` (no plan can be
    cheaper); ``proofs`` let the verifier price the bounds again. ``unplaced``: parts for which the stock did not
    suffice. ``iterations``: the steps taken. ``steps``: the steps asked for; the same problem, ``seed`` and ``steps``
    make the same plan again. None: the clock or the caller ended the search. ``replay``: for every material the moments at
    which the clock ended a part of its search, in the count of the search itself; the same problem, ``seed`` and ``replay``
    make the same plan again. None: a caller stopped it, the machine had to compile first, or the choice of a mix of sheet sizes
    ran out of its time; no run need end there again.
    ``seconds``: spent on the search; ``loading``: of them, once a process, on fetching the compiled kernels.
    """

    sheets: tuple[SheetPlan, ...]
    lower_bound: int
    used: int
    price: float
    price_bound: float
    unplaced: tuple[Piece, ...] = ()
    seed: int = 1
    iterations: int = 0
    seconds: float = 0.0
    steps: int | None = None
    replay: tuple[tuple[int, ...], ...] | None = None
    proofs: tuple[Proof, ...] = ()
    loading: float = 0.0

    @property
    def proved(self) -> bool:
        """No cheaper plan exists (and every part is placed)."""
        return not self.unplaced and self.price <= self.price_bound + 1e-9


def own_trim(sheet: Sheet, trim: int) -> int:
    """What is taken off this sheet's edges where the saw takes ``trim``."""
    return trim if sheet.trim is None else sheet.trim


def fits(piece: Piece, sheet: Sheet, trim: int) -> bool:
    """Can the part be cut from one such sheet, its grain respected, once the edges are trimmed?"""
    trim = own_trim(sheet, trim)
    room_x, room_y = sheet.length - 2 * trim, sheet.width - 2 * trim
    return any(x <= room_x and y <= room_y for x, y, _ in lays(piece))


def lays(piece: Piece) -> list[tuple[int, int, bool]]:
    """The ways a part may lie: (extent along x, extent along y, turned)."""
    straight, turned = (piece.length, piece.width, False), (piece.width, piece.length, True)
    if piece.grain == "length":
        return [straight]
    if piece.grain == "width":
        return [turned]
    return [straight] if piece.length == piece.width else [straight, turned]


def _whole(where: str, name: str, value: object, *, least: int, most: int) -> None:
    if isinstance(value, bool) or not isinstance(value, int):
        msg = f"{where}: {name} {value!r} must be a whole number (lengths in tenths of a mm: see from_mm)"
        raise ValueError(msg)
    if not least <= value <= most:
        msg = f"{where}: {name} {value} must be from {least} to {most}"
        raise ValueError(msg)


def _one_of(where: str, name: str, value: object, allowed: tuple[object, ...]) -> None:
    if value not in allowed:
        msg = f"{where}: {name} {value!r} must be one of {', '.join(map(str, allowed))}"
        raise ValueError(msg)


def _names_differ(sheets: Iterable[Sheet]) -> None:
    seen: set[tuple[str, str]] = set()
    for sheet in sheets:
        key = (sheet.name, sheet.material)
        if key in seen:
            msg = f"sheet {sheet.name!r}: given twice for material {sheet.material!r}; give the two different names"
            raise ValueError(msg)
        seen.add(key)
