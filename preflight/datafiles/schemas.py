"""Where the JSON Schemas are: inside the installed package, or at the top of a checkout."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from typing import Any

_PACKAGE = Path(__file__).resolve().parents[1]


@cache
def schema(name: str) -> dict[str, Any]:
    """The schema `schemas/<name>.schema.json`; raises FileNotFoundError for a name that has none."""
    file = f"{name}.schema.json"
    for folder in (_PACKAGE / "schemas", _PACKAGE.parent / "schemas"):
        if (folder / file).is_file():
            loaded: dict[str, Any] = json.loads((folder / file).read_text(encoding="utf-8"))
            return loaded
    raise FileNotFoundError(file)
