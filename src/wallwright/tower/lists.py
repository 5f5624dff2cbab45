"""The tower's lists: flats, samples, cutting, orders by delivery, the bulk bill with its totals, findings, exceptions, a change."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from wallwright.core.counted import counted
from wallwright.core.table import Column, Table
from wallwright.job.progress import STATES
from wallwright.money.show import Notation
from wallwright.tower.pooled import BOARD, by_delivery
from wallwright.tower.record import floor_order

if TYPE_CHECKING:
    from wallwright.money.record import Line
    from wallwright.tower.pooled import Pooled
    from wallwright.tower.rollout import Rollout
    from wallwright.tower.run import Done, Worked
    from wallwright.tower.sample import Sample

MUST = ("danger", "fix")
NO_DELIVERY = "not called for"
_RIGHT = "right"


def all_lists(
    worked: Worked, samples: Sequence[Sample], cut: Pooled, rolled: Rollout | None = None
) -> tuple[Table, ...]:  # fmt: skip
    """Every list that has something to say."""
    made = (
        flats(worked),
        totals(worked),
        bulk_bill(worked, cut),
        cutting(cut, worked),
        orders(worked, cut),
        openings(samples),
        fitting(samples),
        not_taking(worked),
        hands(worked),
        findings(worked),
        exceptions(worked),
        failed(worked),
        changed(rolled, worked) if rolled else None,
        struck_parts(rolled, worked) if rolled else None,
        kept(rolled) if rolled else None,
    )
    return tuple(table for table in made if table is not None and table.rows)


def notation(worked: Worked) -> Notation:
    """How the tower writes its amounts: as its first type."""
    return next((wall.notation for wall in worked.types.values()), Notation())


def ordered(worked: Worked) -> list[Done]:
    """The flats floor by floor."""
    return sorted(worked.flats, key=lambda done: (*floor_order(done.flat.floor), done.flat.id))


def made_by(done: Done) -> str:
    """By what the flat is made, in a word."""
    if done.undecided:
        return "to measure? not said"
    return "failed" if done.failed else "as drawn" if done.series else "to measure"


def fillers(done: Done) -> dict[str, float]:
    """The flat's end fillers, end to mm: measured, else as its wall is drawn."""
    if done.checked and done.series:
        return dict(done.checked.fit.fillers)
    ends = done.made.ends if done.made else None
    given = {"left": ends.left, "right": ends.right} if ends else {}
    return {end: gap for end, gap in given.items() if gap is not None}


def flats(worked: Worked) -> Table:
    """Every flat in a row."""
    cols = (
        Column("Flat"), Column("Floor"), Column("Type"), Column("Hand"), Column("State"), Column("Delivery"), Column("Made"),
        Column("Measured"), Column("Takes it"), Column("Filler left", "mm", 0, "right"), Column("Filler right", "mm", 0, "right"),
        Column("Exceptions", "", 0, "right"), Column("To put right", "", 0, "right"), Column("Price all in", "", 2, "right"),
    )  # fmt: skip
    return Table("flats", "Flats", cols, tuple(_flat_row(done) for done in ordered(worked)))


def _flat_row(done: Done) -> tuple[Any, ...]:
    flat, gaps = done.flat, fillers(done)
    must = sum(item.severity in MUST for item in done.findings)
    return (
        flat.id, flat.floor, flat.type, flat.hand, flat.state, flat.delivery, made_by(done), _taped(done),
        {None: "not known", True: "yes", False: "no"}[done.takes], gaps.get("left"), gaps.get("right"), len(flat.exceptions), must,
        done.made.notation.major(done.made.total) if done.made else None,
    )  # fmt: skip


def _taped(done: Done) -> str:
    if done.checked is None:
        return "no"
    return "yes" if done.flat.measured.whole else "in part"


def openings(samples: Sequence[Sample]) -> Table:
    """What was measured, type by type."""
    cols = (
        Column("Type"), Column("Size"), Column("Drawn", "mm", 1, _RIGHT), Column("Measured", "", 0, _RIGHT), Column("Mean", "mm", 1, _RIGHT),
        Column("Deviation", "mm", 2, _RIGHT), Column("Least", "mm", 1, _RIGHT), Column("in flat"), Column("Most", "mm", 1, _RIGHT),
        Column("in flat"),
    )  # fmt: skip
    rows = tuple(
        (one.type, size.name, size.drawn, size.count, size.mean, size.spread, *size.least, *size.most)
        for one in samples
        for size in one.openings
    )
    note = "Deviation: the standard deviation of the sample; of one flat alone there is none."
    return Table("measured", "Measured sizes", cols, rows, (note,))


def fitting(samples: Sequence[Sample]) -> Table:
    """Who takes the unit, and the filler that makes all fit."""
    cols = (
        Column("Type"), Column("Flats", "", 0, _RIGHT), Column("Measured", "", 0, _RIGHT), Column("Do not take it", "", 0, _RIGHT),
        Column("Of the rest at most", "", 0, _RIGHT), Column("Filler drawn", "mm", 1, _RIGHT), Column("For all", "mm", 1, _RIGHT),
        Column("For most", "mm", 1, _RIGHT), Column("Strip cut", "mm", 0, _RIGHT), Column("Left out as drawn"), Column("Left out of most"),
    )  # fmt: skip
    rows = tuple(
        (
            one.type, one.flats, one.measured, len(one.unfit), one.most_more,
            *((s.drawn, s.all, s.for_share, s.strip, ", ".join(s.not_drawn), ", ".join(s.not_share)) if (s := one.scribe)
              else (None,) * 4 + ("no end is closed by a filler", "")),
        )
        for one in samples
    )  # fmt: skip
    notes = tuple(f"{one.type}: {says}" for one in samples for says in one.says)
    return Table("fitting", "What takes the unit as drawn", cols, rows, notes)


def not_taking(worked: Worked) -> Table:
    """The measured flats that do not take the unit, and why."""
    rows = tuple(
        (done.flat.id, done.flat.type, done.flat.state, made_by(done), why)
        for done in ordered(worked)
        if done.checked and not done.checked.fit.takes
        for why in done.checked.fit.why
    )
    cols = (Column("Flat"), Column("Type"), Column("State"), Column("Made"), Column("Why not as drawn"))
    ids = [done.flat.id for done in ordered(worked) if done.undecided]
    notes = (
        f"{', '.join(ids)}: ordered or further, yet as drawn it does not go in. Say to_measure = true where its boards were made to its "
        "measures, false where they were made as drawn and are still to be altered.",
    )
    return Table("not_taking", "Flats that do not take the unit as drawn", cols, rows, notes if ids else ())


def cutting(cut: Pooled, worked: Worked) -> Table:
    """Sheets by delivery and board, cut together and flat by flat."""
    cols = (
        Column("Delivery"), Column("Board"), Column("Parts", "", 0, _RIGHT), Column("Sheets", "", 0, _RIGHT),
        Column("At least", "", 0, _RIGHT), Column("Flat by flat", "", 0, _RIGHT), Column("Saved", "", 0, _RIGHT),
        Column("Price", "", 2, _RIGHT), Column("Price flat by flat", "", 2, _RIGHT),
    )  # fmt: skip
    rows = [
        (
            b.delivery,
            b.board,
            b.parts,
            b.plan.used,
            b.plan.lower_bound,
            b.alone,
            b.saved,
            b.plan.price,
            b.alone_price,
        )
        for b in cut.boards
    ]
    parts = sum(b.parts for b in cut.boards)
    bound = sum(b.plan.lower_bound for b in cut.boards)
    if rows:
        rows.append(
            ("all", "", parts, cut.used, bound, cut.alone, cut.alone - cut.used, cut.price, cut.alone_price)
        )
    notes = [saved_says(cut, worked), *invented(worked)] if rows else []
    notes += [f"flat {flat}: {part} {says}" for flat, part, says in cut.unfit]
    notes += [f"{one.key}: {one.says}" for one in cut.failed]
    return Table("pooled_cutting", "Cutting by delivery", cols, tuple(rows), tuple(notes))


def saved_says(cut: Pooled, worked: Worked) -> str:
    """By how much cutting together beats flat by flat, in a sentence."""
    write = notation(worked)
    saved, money = cut.alone - cut.used, cut.alone_price - cut.price
    share = 100 * saved / cut.alone if cut.alone else 0.0
    return (
        f"Cut together: {cut.used} sheets; flat by flat, each buying its own: {cut.alone}. Saved: {saved} sheets ({share:.1f} %), "
        f"{write.money(write.minor(round(money, 2)))} of board before overhead, margin and tax. Every plan was replayed cut by cut."
    )


def orders(worked: Worked, cut: Pooled) -> Table:
    """What is ordered for each delivery: sheets as cut together, all else as the flats' bills have it."""
    rows: list[tuple[Any, ...]] = []
    for delivery, done in by_delivery(worked).items():
        for board, sizes in _sheets(cut, delivery).items():
            rows += [(delivery, "sheets", board, size, float(count), "nr") for size, count in sizes.items()]
        amounts: dict[str, tuple[Line, float]] = {}
        for one in done:
            for line in one.made.lines if one.made else ():
                if line.trade in ("joinery", "light", "screen") and _bought(line):
                    amounts[line.ref + line.item] = (
                        line,
                        amounts.get(line.ref + line.item, (line, 0.0))[1] + line.quantity,
                    )
        rows += [
            (delivery, line.trade, line.ref, line.item, round(n, 2), line.unit)
            for line, n in amounts.values()
        ]
    cols = (
        Column("Delivery"), Column("What"), Column("Ref"), Column("Item"), Column("Quantity", "", 2, _RIGHT), Column("Unit"),
    )  # fmt: skip
    return Table("orders", "Order list by delivery", cols, tuple(rows))


def _bought(line: Line) -> bool:
    """Goods, not work; boards are ordered as sheets."""
    return not line.ref.startswith((BOARD, "labour_", "mount_fitting")) and line.amount > 0


def _sheets(cut: Pooled, delivery: str) -> dict[str, Counter[str]]:
    out: dict[str, Counter[str]] = {}
    for one in cut.boards:
        if one.delivery == delivery:
            sizes = out.setdefault(one.board, Counter())
            for layout in one.plan.sheets:
                sizes[layout.sheet.name] += layout.count
    return out


@dataclass(slots=True)
class _Sum:
    line: Line
    quantity: float = 0.0
    amount: int = 0
    flats: int = 0
    per: Counter[str] = field(default_factory=Counter[str])


def bulk_bill(worked: Worked, cut: Pooled) -> Table:
    """Every line of all flats' bills once, with its quantity and amount by type; what cutting together saves at its end."""
    types = [
        kind.ref
        for kind in worked.tower.file.types
        if any(done.flat.type == kind.ref for done in worked.flats)
    ]
    sums: dict[tuple[str, str, int], _Sum] = {}
    for done in worked.flats:
        for line in done.made.lines if done.made else ():
            one = sums.setdefault((line.ref, line.item, line.rate), _Sum(line))
            one.quantity += line.quantity
            one.amount += line.amount
            one.flats += 1
            one.per[done.flat.type] += line.amount
    write = notation(worked)
    rows: list[tuple[Any, ...]] = [
        (
            one.line.trade, one.line.item, one.flats, round(one.quantity, 2), one.line.unit, write.major(one.line.rate),
            *(write.major(one.per[ref]) for ref in types), write.major(one.amount),
        )
        for one in sums.values()
    ]  # fmt: skip
    direct = sum(one.amount for one in sums.values())
    by_type = [sum(one.per[ref] for one in sums.values()) for ref in types]
    saved = write.minor(round(cut.alone_price - cut.price, 2))
    blank = (None,) * len(types)
    if rows:
        rows += [
            (
                "",
                "Direct cost, flat by flat",
                None,
                None,
                "",
                None,
                *map(write.major, by_type),
                write.major(direct),
            ),
            ("", "Boards cut together by delivery", None, None, "", None, *blank, -write.major(saved)),
            (
                "",
                "Direct cost, boards cut together",
                None,
                None,
                "",
                None,
                *blank,
                write.major(direct - saved),
            ),
        ]
    cols = (
        Column("Trade"), Column("Item"), Column("Flats", "", 0, _RIGHT), Column("Quantity", "", 2, _RIGHT), Column("Unit"),
        Column("Rate", "", 2, _RIGHT), *(Column(f"Type {ref}", "", 2, _RIGHT) for ref in types), Column("Amount", "", 2, _RIGHT),
    )  # fmt: skip
    return Table(
        "bulk_bill",
        "Bulk bill",
        cols,
        tuple(rows),
        (f"Amounts in {write.currency}, before overhead, margin and tax.", *invented(worked)),
    )


def invented(worked: Worked) -> tuple[str, ...]:
    """What stands under amounts that are reckoned by the demo's rates."""
    if any(line.invented for done in worked.flats if done.made for line in done.made.lines):
        return ("Rates are the demo book's: invented. Lay in your own before anybody buys by them.",)
    return ()


def totals(worked: Worked) -> Table:
    """Flats and money by type, floor, delivery and state."""
    write = notation(worked)
    called = [one.ref for one in worked.tower.file.deliveries]
    groups: tuple[tuple[str, Callable[[Done], str], Callable[[str], Any]], ...] = (
        ("type", lambda done: done.flat.type, lambda name: name),
        ("floor", lambda done: done.flat.floor, floor_order),
        (
            "delivery",
            lambda done: done.flat.delivery or NO_DELIVERY,
            lambda name: (called.index(name) if name in called else len(called), name),
        ),
        ("state", lambda done: done.flat.state, STATES.index),
    )
    rows: list[tuple[Any, ...]] = []
    for what, name_of, order in groups:
        found: dict[str, list[Done]] = defaultdict(list)
        for done in worked.flats:
            found[name_of(done)].append(done)
        rows += [_total(what, name, found[name], write) for name in sorted(found, key=order)]
    rows.append(_total("all", "", list(worked.flats), write))
    cols = (
        Column("By"), Column("Which"), Column("Flats", "", 0, _RIGHT), Column("To measure", "", 0, _RIGHT), Column("Failed", "", 0, _RIGHT),
        Column("Direct cost", "", 2, _RIGHT), Column("Price all in", "", 2, _RIGHT),
    )  # fmt: skip
    note = f"Amounts in {write.currency}, flat by flat; what cutting together saves stands in the bulk bill."
    return Table(
        "totals", "Totals by type, floor, delivery and state", cols, tuple(rows), (note, *invented(worked))
    )


def _total(what: str, name: str, done: list[Done], write: Notation) -> tuple[Any, ...]:
    made = [one.made for one in done if one.made]
    return (
        what, name, len(done), sum(not one.series for one in done), sum(bool(one.failed) for one in done),
        write.major(sum(one.direct for one in made)), write.major(sum(one.total for one in made)),
    )  # fmt: skip


def findings(worked: Worked, grave: Sequence[str] = ("danger", "fix", "consider")) -> Table:
    """What must be put right or thought about, each once, with the flats that have it. grave : how grave it must be to be told"""
    found: dict[tuple[str, str, str, str], list[str]] = {}
    order = {severity: i for i, severity in enumerate(grave)}
    for done in ordered(worked):
        for item in done.findings:
            if item.severity in order:
                found.setdefault((item.severity, item.rule, item.where, item.says), []).append(done.flat.id)
    rows = tuple(
        (severity, where, says, len(ids), _some(ids))
        for (severity, _, where, says), ids in sorted(
            found.items(), key=lambda one: (order[one[0][0]], -len(one[1]))
        )
    )
    cols = (Column("Grave"), Column("Where"), Column("What"), Column("Flats", "", 0, _RIGHT), Column("Which"))
    return Table("findings", "Findings and the flats that have them", cols, rows)


def _some(ids: Sequence[str]) -> str:
    return ", ".join(ids[:24]) + (f" and {len(ids) - 24} more" if len(ids) > 24 else "")


def hands(worked: Worked) -> Table:
    """What of each type's other hand is not the mirror of the drawn one: boxes for other places, boards for other lengths."""
    rows = tuple((ref, one.ref, one.says) for ref, both in worked.hands.items() for one in both.unlike)
    cols = (Column("Type"), Column("What"), Column("In the other hand"))
    note = "All else is the mirror image: screen, units, panels, doors and their hinges, boards. Every rule was asked in both hands."
    return Table("hands", "What is not mirrored between the hands", cols, rows, (note,))


def exceptions(worked: Worked) -> Table:
    """What is otherwise in which flat."""
    rows = tuple(
        (
            done.flat.id,
            done.flat.type,
            one.edit,
            ", ".join(f"{key} {value}" for key, value in one.values.items()),
            one.why,
        )
        for done in ordered(worked)
        for one in done.flat.exceptions
    )
    cols = (Column("Flat"), Column("Type"), Column("Edit"), Column("Values"), Column("Why"))
    return Table("exceptions", "Exceptions", cols, rows)


def failed(worked: Worked) -> Table:
    """Flats of which nothing could be made, and why."""
    rows = tuple((done.flat.id, done.flat.floor, done.flat.type, done.failed) for done in worked.failed)
    return Table(
        "failed", "Flats that failed", (Column("Flat"), Column("Floor"), Column("Type"), Column("Why")), rows
    )


def changed(rolled: Rollout, worked: Worked) -> Table:
    """The flats that a change concerns, and what it does to each."""
    write = notation(worked)

    def row(one: Any) -> tuple[Any, ...]:
        did = one.struck
        fates = Counter(part.fate for part in did.parts) if did else Counter[str]()
        lost = sum(n for fate, n in fates.items() if fate in ("dead", "made anew"))
        return (
            one.flat.id, one.flat.type, one.flat.state, one.what, lost, fates["cut down"] + fates["bored anew"], fates["new"],
            write.major(did.lost) if did else None, write.major(did.price) if did else None, did.days if did else None,
            len(did.must) if did else None, one.says or "; ".join(did.fields[:3] if did else ()),
        )  # fmt: skip

    cols = (
        Column("Flat"), Column("Type"), Column("State"), Column("What to do"), Column("Boards dead", "", 0, _RIGHT),
        Column("worked again", "", 0, _RIGHT), Column("new", "", 0, _RIGHT), Column("Lost", "", 2, _RIGHT), Column("Variation", "", 2, _RIGHT),
        Column("Days", "", 0, _RIGHT), Column("To put right", "", 0, _RIGHT), Column("Decided otherwise"),
    )  # fmt: skip
    notes = (f"{counted(rolled.untouched, 'flat is', 'flats are')} not concerned.", *invented(worked))
    return Table("change", "The change, flat by flat", cols, tuple(row(one) for one in rolled.flats), notes)


def struck_parts(rolled: Rollout, worked: Worked) -> Table:
    """The boards that the change touches where they are ordered or further, flat by flat."""
    write = notation(worked)
    rows = tuple(
        (one.flat.id, part.ref, part.fate, part.state, write.major(part.worth), part.says)
        for one in rolled.flats
        if one.struck and one.flat.state != "drawn"
        for part in one.struck.parts
    )
    cols = (
        Column("Flat"), Column("Part"), Column("Fate"), Column("State"), Column("Lost, direct", "", 2, _RIGHT), Column("What"),
    )  # fmt: skip
    return Table("change_parts", "Boards that the change touches", cols, rows)


def kept(rolled: Rollout) -> Table:
    """Flats with an exception on a value that the type changes: listed, never overwritten."""
    rows = tuple(
        (one.flat.id, one.flat.state, value.says, value.own, value.type_was, value.type_now)
        for one in rolled.flats
        for value in one.kept
    )
    cols = (
        Column("Flat"),
        Column("State"),
        Column("Value"),
        Column("Stays its own"),
        Column("Type was"),
        Column("Type now"),
    )
    return Table("kept", "Exceptions on a value that changed: kept", cols, rows)


def by_floor(worked: Worked) -> Iterator[tuple[str, list[Done]]]:
    """The flats floor by floor."""
    floors: dict[str, list[Done]] = {}
    for done in ordered(worked):
        floors.setdefault(done.flat.floor, []).append(done)
    yield from floors.items()
