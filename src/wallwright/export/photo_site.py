"""Boxes read from a photo, written into a site file: each with its ± and marked as read from a photo; what was taped stays."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import tomlkit

from wallwright.job.site import KEY, Site, read_site
from wallwright.photo.boxes import SeenBox


def with_boxes(
    text: str, seen: Sequence[SeenBox], by: str, date: str, name: str = "site"
) -> tuple[str, Site]:
    """The site file's text with the boxes entered, and what it then says. text : "" begins one

    A box that somebody taped is left as it is; one from an earlier photo is replaced. JobError where the file was not sound.
    """
    document: Any
    if text.strip():
        before = read_site(text, name)
        document = tomlkit.parse(text)
    else:
        before = Site()
        document = tomlkit.document()
        document[KEY] = 1
        if by:
            document["by"] = by
        if date:
            document["date"] = date
    taped = {box.ref for box in before.boxes if not box.from_photo}
    new = {box.ref: box for box in seen if box.ref not in taped}
    rows = document.setdefault("boxes", tomlkit.aot())
    for row in [row for row in rows if str(row["ref"]) in new]:
        rows.remove(row)
    for box in new.values():
        row = tomlkit.table()
        row["ref"] = box.ref
        for axis, value in (("x", box.x), ("z", box.z)):
            entry = tomlkit.inline_table()
            entry.update({"value": round(value, 1), "state": "photo", "tolerance": round(box.sure, 1)})
            row[axis] = entry
        rows.append(row)
    out = tomlkit.dumps(document)
    return out, read_site(out, name)
