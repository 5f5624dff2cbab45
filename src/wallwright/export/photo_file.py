"""A photo's file: its bytes looked at before they are unpacked, its focal length read, its pixels upright."""

from __future__ import annotations

import struct
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np

from wallwright.export.files import read_bytes
from wallwright.job.problem import fail
from wallwright.photo.opencv import opencv

LARGEST_FILE = 80_000_000
MOST_PIXELS = 110_000_000
LEAST_SIDE, MOST_SIDE = 200, 30_000
_FOCAL_35 = 0xA405
_EXIF = 0x8769


@dataclass(frozen=True, slots=True)
class Picture:
    """A photo, upright. pixels : rows of blue, green, red · focal_35 : focal length as for a 36 × 24 mm frame; None where the file
    does not tell
    """

    pixels: Any
    focal_35: float | None

    @property
    def size(self) -> tuple[int, int]:
        """Its width and height [px]."""
        return self.pixels.shape[1], self.pixels.shape[0]


def read_picture(path: Path) -> Picture:
    """A photo from a JPEG or PNG file. JobError, naming the file, where it is missing, none of the two, broken, tiny or huge."""
    return picture_of(read_bytes(path, LARGEST_FILE, "photo"), str(path))


def focal_of(data: bytes) -> float | None:
    """Focal length as for a 36 × 24 mm frame, from the start of a JPEG; None where it does not tell."""
    return _focal(data)


def picture_of(data: bytes, name: str, most: int = MOST_PIXELS) -> Picture:
    """A photo from its bytes. most : pixels that are unpacked. JobError, naming it, as `read_picture`."""
    told = _header(data)
    if told is None:
        says = (
            "is neither a JPEG nor a PNG picture; save the photo as one of the two (phones: share it as JPEG)"
        )
        raise fail("picture", None, says, name)
    wide, high = told
    if wide * high > most:
        says = f"holds {wide} × {high} pixels; at most {most / 1e6:g} million are read. Save it smaller; 12 million are plenty"
        raise fail("picture", None, says, name)
    if max(wide, high) > MOST_SIDE:
        says = f"holds {wide} × {high} pixels: a panorama is sewn of many views and is no single one; take one photo of the wall"
        raise fail("picture", None, says, name)
    if min(wide, high) < LEAST_SIDE:
        raise fail(
            "picture",
            None,
            f"holds {wide} × {high} pixels: too few to measure in; take the photo itself, not its preview",
            name,
        )
    cv = opencv()
    try:
        pixels = cv.imdecode(np.frombuffer(data, np.uint8), cv.IMREAD_COLOR)
    except cv.error:
        pixels = None
    if pixels is None:
        raise fail("picture", None, "is broken: it cannot be unpacked; copy it from the phone again", name)
    return Picture(pixels, _focal(data))


def _header(data: bytes) -> tuple[int, int] | None:
    """Width and height as the file says, before anything is unpacked; None where it is neither JPEG nor PNG."""
    if data[:8] == b"\x89PNG\r\n\x1a\n" and data[12:16] == b"IHDR" and len(data) >= 24:
        wide, high = struct.unpack(">II", data[16:24])
        return wide, high
    for mark, body in _segments(data):
        if 0xC0 <= mark <= 0xCF and mark not in (0xC4, 0xC8, 0xCC) and len(body) >= 5:
            high, wide = struct.unpack(">HH", body[1:5])
            return wide, high
    return None


def _segments(data: bytes) -> Iterator[tuple[int, bytes]]:
    """The marked segments of a JPEG (ITU-T T.81 annex B) before its picture itself."""
    if data[:2] != b"\xff\xd8":
        return
    at = 2
    while at + 4 <= len(data) and data[at] == 0xFF:
        mark, size = data[at + 1], struct.unpack(">H", data[at + 2 : at + 4])[0]
        if mark == 0xFF:
            at += 1
            continue
        if mark == 0xDA or size < 2:
            return
        yield mark, data[at + 4 : at + 2 + size]
        at += 2 + size


def _focal(data: bytes) -> float | None:
    """FocalLengthIn35mmFilm of the Exif segment (CIPA DC-008), where there is one."""
    for mark, body in _segments(data):
        if mark == 0xE1 and body[:6] == b"Exif\0\0":
            try:
                return _focal_in(body[6:])
            except (struct.error, IndexError):
                return None
    return None


def _focal_in(tiff: bytes) -> float | None:
    order = {b"II": "<", b"MM": ">"}.get(tiff[:2])
    if order is None:
        return None
    first = struct.unpack(f"{order}I", tiff[4:8])[0]
    exif = _entry(tiff, order, first, _EXIF, "I")
    told = _entry(tiff, order, exif, _FOCAL_35, "H") if exif else None
    return float(told) if told else None


def _entry(tiff: bytes, order: str, at: int, tag: int, kind: str) -> int | None:
    count = struct.unpack(f"{order}H", tiff[at : at + 2])[0]
    for k in range(min(count, 200)):
        start = at + 2 + 12 * k
        if struct.unpack(f"{order}H", tiff[start : start + 2])[0] == tag:
            return int(
                struct.unpack(f"{order}{kind}", tiff[start + 8 : start + 8 + struct.calcsize(kind)])[0]
            )
    return None


def ending(path: Path) -> str:
    """The kind of picture that a name asks for. JobError for one that is neither .png nor .jpg."""
    end = path.suffix.lower()
    if end not in (".png", ".jpg", ".jpeg"):
        raise fail("--out", str(path), "ends in neither .png nor .jpg", "wallwright photo")
    return end


def encoded(pixels: Any, end: str = ".png") -> bytes:
    """Pixels as a picture's file. end : .png or .jpg"""
    cv = opencv()
    more = [cv.IMWRITE_JPEG_QUALITY, 92] if end != ".png" else [cv.IMWRITE_PNG_COMPRESSION, 6]
    return bytes(cv.imencode(end, pixels, more)[1].tobytes())
