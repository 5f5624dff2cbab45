"""The tower's set: flat sheets and check sheet floor by floor, labels and cutting plan by delivery, the lists, one manifest.

The folder appears whole or not at all; the same files give the same bytes, whoever did the work.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from wallwright.cutting.record import CutPlans
from wallwright.export.package import Manifest, cutting_plan_csv, entries_of, write_folder
from wallwright.export.pdf import documents_pdf
from wallwright.export.tower_work import FloorAsk, LabelAsk, OneFlat, printed
from wallwright.export.xlsx import table_csv, xlsx
from wallwright.sheets.tower_flat import fields_of
from wallwright.tower.batch import Failed, Send, answers, here
from wallwright.tower.flat import Hands, drawn_job, key_of, measured_job
from wallwright.tower.lists import all_lists, by_floor, fillers
from wallwright.tower.pooled import by_delivery

if TYPE_CHECKING:
    from wallwright.tower.pooled import Pooled
    from wallwright.tower.rollout import Rollout
    from wallwright.tower.run import Done, Tell, Worked
    from wallwright.tower.sample import Sample

AS_CSV = ("flats", "bulk_bill", "orders", "pooled_cutting", "measured", "change", "change_parts")
"""Lists that machines read too."""


def issue(  # noqa: PLR0913
    worked: Worked,
    samples: Sequence[Sample],
    cut: Pooled,
    out: Path,
    *,
    rolled: Rollout | None = None,
    send: Send[Any, Any] = here,
    tell: Tell | None = None,
    sheets: bool = True,
) -> Manifest:
    """Write the tower's set.

    sheets : whether flats, floors and labels are drawn; else the lists and cutting plans alone. What could not be made is named in
    the manifest. FileExistsError where the folder holds something that is not ours, OSError where it cannot be written.
    """
    file = worked.tower.file
    tables = all_lists(worked, samples, cut, rolled)
    files: dict[str, bytes] = {
        "lists.xlsx": xlsx(tables, file.title, file.date),
        "lists.pdf": documents_pdf(tables, file.title, fields_of(file)),
    }
    files |= {f"{table.name}.csv": table_csv(table) for table in tables if table.name in AS_CSV}
    for delivery, flats in by_delivery(worked).items():
        plans = tuple((one.board, one.plan) for one in cut.boards if one.delivery == delivery)
        if plans and flats:
            files[f"cutting_{_name(delivery)}.csv"] = cutting_plan_csv(CutPlans(plans, (), (), (), ()))
    left_out = [f"flat {done.flat.id}: {done.failed}" for done in worked.failed]
    left_out += [f"{one.key}: {one.says}" for one in cut.failed]
    if sheets:
        asks = [*_floors(worked), *_labels(worked, cut)]
        made = answers(
            asks, printed, send, (lambda n, of: tell("floors and labels", n, of)) if tell else None
        )
        for key, pdf in made.items():
            if isinstance(pdf, Failed):
                left_out.append(f"{key}: {pdf.says}")
            else:
                files[f"{key}.pdf"] = pdf
    manifest = Manifest(
        file.number, file.title, file.revision, "preliminary", file.date, entries_of(files), tuple(left_out)
    )
    write_folder(out, files, manifest)
    return manifest


def _name(text: str) -> str:
    """A text as part of a file's name."""
    return "".join(sign if sign.isalnum() or sign in "-_" else "_" for sign in text)[:40]


def _floors(worked: Worked) -> list[FloorAsk]:
    hands = Hands(worked.tower)
    out: list[FloorAsk] = []
    for floor, flats in by_floor(worked):
        made = tuple(_one(done, hands) for done in flats if done.made is not None)
        if made:
            out.append(FloorAsk(f"floor_{_name(floor)}", floor, made, worked.tower.file))
    return out


def _one(done: Done, hands: Hands) -> OneFlat:
    flat = done.flat
    key = key_of(flat, measured=False)
    held_to = done.checked is not None and done.series
    job = measured_job(flat, hands) if done.checked else drawn_job(flat, hands)
    return OneFlat(
        flat,
        key if not done.checked else f"own {key_of(flat, measured=True)}",
        job,
        (key, drawn_job(flat, hands)) if held_to else None,
        done.findings,
        done.series,
        done.checked.fit if done.checked else None,
        tuple(fillers(done).items()),
        done.undecided,
    )


def _labels(worked: Worked, cut: Pooled) -> list[LabelAsk]:
    out: list[LabelAsk] = []
    for delivery, flats in by_delivery(worked).items():
        parts = {f"{done.flat.id}/{part.id}": part for done in flats for part in done.parts}
        cuts = tuple(one for one in cut.boards if one.delivery == delivery)
        if parts:
            out.append(LabelAsk(f"labels_{_name(delivery)}", delivery, cuts, parts, worked.tower.file))
    return out
