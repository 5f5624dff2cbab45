"""The image library, loaded only where a photo is worked on: it is the extra `photo`."""

from __future__ import annotations

from importlib import import_module
from typing import Any

from wallwright.job.problem import fail


def opencv() -> Any:
    """OpenCV. JobError where the extra is not installed."""
    try:
        return import_module("cv2")
    except ImportError:
        says = "needs the extra `photo`: pip install 'wallwright[photo]'"
        raise fail("photo", None, says, "wallwright photo") from None
