"""Prints the API's own description, from which the page's types are made: `python -m wallwright.studio.describe`."""

from __future__ import annotations

import json
from typing import cast

from wallwright.studio.app import application
from wallwright.studio.session import Session


def description() -> str:
    """The OpenAPI description as JSON. It asks nothing of a session, so none is opened."""
    described = application(cast(Session, None)).openapi()
    return json.dumps(described, indent=1, ensure_ascii=False) + "\n"


if __name__ == "__main__":
    print(description(), end="")
