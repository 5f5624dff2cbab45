"""Photo files for the tests."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

import pytest


@pytest.fixture
def marked(tmp_path: Path) -> Callable[..., Path]:
    """A photo file and its picture in a folder of their own."""

    def write(pixels: Any, lines: Sequence[str], name: str = "wall") -> Path:
        cv2: Any = pytest.importorskip("cv2")
        cv2.imwrite(str(tmp_path / f"{name}.png"), pixels)
        path = tmp_path / f"{name}.toml"
        path.write_text(
            "\n".join(("wallwright-photo = 1", f'picture = "{name}.png"', *lines)) + "\n", "utf-8"
        )
        return path

    return write
