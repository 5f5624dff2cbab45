"""From light to a picture file: exposure, a curve that keeps highlights, sRGB, PNG."""

from __future__ import annotations

import struct
import zlib
from typing import Any

import numpy as np

from wallwright.export.picture_scene import When, kelvin_rgb

KEY = {"day": 0.34, "night": 0.22}
"""The mean of the logarithms comes out at this share before the curve: a white room is a light picture, by night a darker one."""
ADAPTED = {"day": 6300.0, "night": 3500.0}
"""The kelvin that the eye takes for white: by night it only half gets used to warm lamps, so that they still look warm."""


def developed(light: Any, when: When) -> Any:
    """8-bit sRGB of an array (rows, columns, 3) of linear light, exposed for its own middle.

    The curve is Reinhard's (2002) with a white point: L·(1 + L/W²)/(1 + L), on luminance, so that colours keep their hue.
    """
    balanced = light / np.array(kelvin_rgb(ADAPTED[when]))
    weights = np.array((0.2126, 0.7152, 0.0722))
    luminance = balanced @ weights
    dark = max(float(np.percentile(luminance, 60)) * 1e-2, 1e-9)
    middle = float(np.exp(np.mean(np.log(np.maximum(luminance, dark)))))
    scaled = luminance * (KEY[when] / max(middle, 1e-9))
    white = max(float(np.percentile(scaled, 99.3)), 1.2)
    mapped = scaled * (1 + scaled / white**2) / (1 + scaled)
    out = balanced * (mapped / np.maximum(luminance, 1e-12))[..., None]
    over = np.maximum(
        out.max(axis=-1, keepdims=True), 1.0
    )  # too bright for the file: towards white, not to another hue
    grey = (out @ weights)[..., None]
    out = np.where(over > 1, grey + (out - grey) / over, out)
    return (_srgb(np.clip(out, 0, 1)) * 255 + 0.5).astype(np.uint8)


def halved(light: Any) -> Any:
    """Half as many rows, each from four by the weights 1 3 3 1: edges neither step nor ring."""
    grown = np.concatenate((light[:1], light, light[-1:]))
    a, b, c, d = grown[0:-3:2], grown[1:-2:2], grown[2:-1:2], grown[3::2]
    return (a + 3 * b + 3 * c + d) / 8


def _srgb(linear: Any) -> Any:
    """IEC 61966-2-1."""
    return np.where(
        linear <= 0.0031308, 12.92 * linear, 1.055 * np.maximum(linear, 1e-9) ** (1 / 2.4) - 0.055
    )


def png(pixels: Any) -> bytes:
    """A PNG (ISO/IEC 15948) of 8-bit rows, without clock or other words."""
    height, width, _ = pixels.shape
    rows = np.concatenate((np.zeros((height, 1), np.uint8), pixels.reshape(height, width * 3)), axis=1)

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n"
        + chunk(b"IHDR", head)
        + chunk(b"IDAT", zlib.compress(rows.tobytes(), 6))
        + chunk(b"IEND", b"")
    )
