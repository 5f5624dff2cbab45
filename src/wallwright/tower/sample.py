"""What was measured in the flats of a type, told as a sample: sizes, who takes the unit, the filler that makes all fit, the rest."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import sqrt
from typing import TYPE_CHECKING

from wallwright.tower.chance import most_bad, sample_for, share_covered
from wallwright.tower.fit import narrowest, room_for, without

ALIKE = 0.05
"""Two fillers that differ by less are told as one [mm]."""

if TYPE_CHECKING:
    from wallwright.core.limit import Limits
    from wallwright.tower.made import Made, Range
    from wallwright.tower.record import Flat
    from wallwright.tower.run import Done, Worked


@dataclass(frozen=True, slots=True)
class Opening:
    """One size as measured in the flats of a type [mm].

    drawn : as the type has it, None where it says nothing of it · spread : standard deviation of the sample, 0 of one alone ·
    least, most : (mm, flat)
    """

    name: str
    drawn: float | None
    count: int
    mean: float
    spread: float
    least: tuple[float, str]
    most: tuple[float, str]


@dataclass(frozen=True, slots=True)
class Scribe:
    """The filler at a closed end [mm]: as drawn, and what makes measured flats fit; None where none does. Of two ends the narrower.

    wider : by how much the other end's is wider · bears : the narrowest and widest that the series bears · why : what stands
    against more, "" where a strip does not go · all, for_share : the smallest that makes the width of all, or of that share of them,
    fit · most : the widest that does for all · not_drawn, not_share : the flats that it leaves out · besides : flats that the drawn
    one fits, and something else stands against them · strip : how wide strips must be cut to do for all
    """

    drawn: float
    wider: float
    bears: tuple[float, float]
    why: tuple[str, str]
    share: float
    all: float | None
    most: float | None
    for_share: float | None
    not_drawn: tuple[str, ...]
    not_share: tuple[str, ...]
    besides: tuple[str, ...]
    strip: float | None

    @property
    def says(self) -> tuple[str, ...]:
        """In sentences: drawn, for all, for most."""
        at = (
            "at each closed end"
            if self.wider < ALIKE
            else f"at the narrower end, {self.wider:.1f} mm more at the other"
        )
        out = [f"drawn with a filler of {self.drawn:.1f} mm {at}; left out by it: {_named(self.not_drawn)}"]
        out += [
            f"a filler {word} than {gap:.1f} mm does not go: {why}"
            for word, gap, why in zip(("narrower", "wider"), self.bears, self.why, strict=True)
            if why
        ]
        if self.all is not None and self.most is not None and self.strip is not None:
            out.append(
                f"drawn with {self.all:.1f} to {self.most:.1f} mm, every width that was measured takes it; for {self.all:.1f} mm "
                f"strips are cut {self.strip:.0f} mm wide"
            )
        else:
            out.append(
                "no one filler makes all that were measured fit: the widest and the narrowest lie too far apart"
            )
        if self.besides:
            out.append(
                f"no filler helps {_named(self.besides)}: what stands against it there is not the width"
            )
        if self.for_share is not None and self.for_share != self.all:
            left = _named(self.not_share)
            out.append(
                f"{self.for_share:.1f} mm is the least that makes {100 * self.share:g} % of them fit; left out: {left}"
            )
        return tuple(out)


def _named(flats: tuple[str, ...]) -> str:
    return ", ".join(flats) or "none"


@dataclass(frozen=True, slots=True)
class Sample:
    """A type's sample.

    flats, measured : how many there are, and how many of them were measured, width and height · partly : flats that were measured in
    part: as long as nothing stands against it there, nothing is known of them · unfit : flats that do not take the unit as drawn, and
    why · most_more : how many of the unmeasured may not take it either, at most, with the confidence; None where nobody measured ·
    covered : the share of all flats that lies between the smallest and largest measured, with the confidence · wanted : how many
    to measure by lot for the share to be covered
    """

    type: str
    flats: int
    measured: int
    partly: tuple[str, ...]
    openings: tuple[Opening, ...]
    unfit: tuple[tuple[str, str], ...]
    scribe: Scribe | None
    most_more: int | None
    covered: float
    wanted: int
    confidence: float

    @property
    def says(self) -> tuple[str, ...]:
        """In sentences, nothing promised."""
        left = self.flats - self.measured
        sure = f"{100 * self.confidence:g} %"
        part = [
            f"measured in part, so not counted: {_named(self.partly)}; it takes a width and a height"
        ] * bool(self.partly)
        if not self.measured:
            none = f"none of {self.flats} flats was measured: nothing can be said; measure before anything is cut"
            return (none, *part)
        out = [
            f"{self.measured} of {self.flats} flats measured; {len(self.unfit)} of them do not take the unit as drawn",
            *part,
        ]
        if left and self.most_more is not None:
            out += [
                f"of the {left} not measured between 0 and {self.most_more} may not take it either, with {sure} confidence, if the "
                "measured ones were picked by lot; which ones nobody knows: measure each before its boards are cut",
                f"between the smallest and the largest measured lie at least {100 * self.covered:.0f} % of such flats, with {sure} "
                f"confidence; {self.wanted} by lot would be wanted to say so of 95 %",
            ]  # fmt: skip
        if self.scribe is not None:
            out += self.scribe.says
        return tuple(out)


def samples(worked: Worked, limits: Limits) -> tuple[Sample, ...]:
    """Every type's sample, in the file's order."""
    out: list[Sample] = []
    for kind in worked.tower.file.types:
        flats = [done for done in worked.flats if done.flat.type == kind.ref]
        if flats and kind.ref in worked.types:
            out.append(sample(kind.ref, flats, worked.types[kind.ref], limits, worked.ranges.get(kind.ref)))
    return tuple(out)


def sample(ref: str, flats: Sequence[Done], made: Made, limits: Limits, bears: Range | None) -> Sample:
    """One type's sample. made : the type's wall as drawn · bears : the fillers that it bears"""
    confidence = limits.value("tower.confidence")
    taped = [done for done in flats if done.checked is not None]
    looked = [done for done in taped if done.takes is not None]
    unfit = tuple(
        (done.flat.id, done.checked.fit.why[0])
        for done in looked
        if done.checked and not done.checked.fit.takes
    )
    more = most_bad(len(flats), len(looked), len(unfit), confidence) - len(unfit) if looked else None
    return Sample(
        ref,
        len(flats),
        len(looked),
        tuple(done.flat.id for done in taped if done.takes is None),
        tuple(_openings(taped, made)),
        unfit,
        _scribe(taped, made, limits, bears),
        more,
        share_covered(len(looked), confidence),
        sample_for(0.95, confidence),
        confidence,
    )


def _openings(looked: Sequence[Done], made: Made) -> Iterator[Opening]:
    drawn = {"width, narrowest": made.width, "height, lowest": made.height}
    names = dict.fromkeys(name for done in looked for name, _ in _sizes(done.flat))
    for name in names:
        found = [(mm, done.flat.id) for done in looked for what, mm in _sizes(done.flat) if what == name]
        yield opening(name, found, drawn.get(name))


def opening(name: str, found: Sequence[tuple[float, str]], drawn: float | None) -> Opening:
    """The figures of one size. found : (mm, flat), one at least"""
    n = len(found)
    mean = sum(mm for mm, _ in found) / n
    spread = sqrt(sum((mm - mean) ** 2 for mm, _ in found) / (n - 1)) if n > 1 else 0.0
    return Opening(name, drawn, n, mean, spread, min(found), max(found))


def _sizes(flat: Flat) -> Iterator[tuple[str, float]]:
    """What of one flat is a size of the sample, by name; places from the left corner are told apart by hand."""
    measured = flat.measured
    widths = [reading.value.mm for reading in measured.widths]
    heights = [reading.value.mm for reading in measured.heights]
    if widths:
        yield "width, narrowest", min(widths)
        yield "width, widest less narrowest", max(widths) - min(widths)
    if heights:
        yield "height, lowest", min(heights)
    if measured.out_of_plumb is not None:
        yield "out of plumb", measured.out_of_plumb.mm
    for thing in measured.things:
        for name in ("x", "z", "width", "height", "projection"):
            value = getattr(thing, name)
            if value is not None:
                yield f"{thing.ref} {name}{f', {flat.hand} hand' if name == 'x' else ''}", value.mm


def _scribe(looked: Sequence[Done], made: Made, limits: Limits, bears: Range | None) -> Scribe | None:
    """The end fillers; None where no end is closed by one or no width was measured."""
    gaps = [gap for gap in made.ends if gap is not None]
    wide = [
        (done.flat.id, [r.value.mm for r in done.flat.measured.widths])
        for done in looked
        if done.flat.measured.widths
    ]
    if not gaps or not wide or bears is None:
        return None
    rooms = tuple(
        room_for(
            flat, min(widths), max(widths) - min(widths), made.width, made.ends, (bears.least, bears.most)
        )
        for flat, widths in wide
    )
    drawn, share = min(gaps), limits.value("tower.share")
    whole, part = narrowest(rooms, 1.0), narrowest(rooms, share)
    left_out = without(rooms, drawn)
    unfit = {done.flat.id for done in looked if done.takes is False}
    over = limits.value("carcass.scribe_over")
    strip = None
    if whole is not None:
        half = 0.5 if made.ends.closed == 2 else 0.0
        strip = over + max(
            whole + (max(gaps) - drawn) + half * (min(widths) - made.width) + max(widths) - min(widths)
            for _, widths in wide
        )
    return Scribe(
        drawn,
        max(gaps) - drawn,
        (bears.least, bears.most),
        (bears.why_least, bears.why_most),
        share,
        whole,
        None if whole is None else min(room.most for room in rooms),
        part,
        left_out,
        () if part is None else without(rooms, part),
        tuple(room.flat for room in rooms if room.flat in unfit and room.flat not in left_out),
        strip,
    )
