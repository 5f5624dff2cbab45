"""Prints the API's own description, from which the page's types are made: `python -m wallwright.studio.describe`."""

from __future__ import annotations

import json

from wallwright.studio.app import application


def description() -> str:
    """The OpenAPI description as JSON. It asks nothing of a studio, so none is opened."""
    described = application(None).openapi()
    return json.dumps(described, indent=1, ensure_ascii=False) + "\n"


if __name__ == "__main__":
    print(description(), end="")
