"""The vector files as text: one row a line, numbers in their shortest form, the same on every run."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from kb.publish.vectors import (
    breaker,
    centre,
    crank,
    cylinders,
    mixture,
    offset,
    plates,
    readings,
    rim,
    screw,
    speed,
    target,
)
from kb.publish.vectors.calculation import Calculation
from kb.publish.vectors.shape import SCHEMA, document

_GROUPS = (crank, offset, centre, rim, cylinders, target, readings, screw, plates, speed, mixture, breaker)


def calculations() -> tuple[Calculation, ...]:
    """Every calculation that has vectors, group by group."""
    return tuple(calculation for group in _GROUPS for calculation in group.CALCULATIONS)


def render(held: dict[str, Any]) -> str:
    """A document as the text of its file.

    >>> print(render({"calculation": "twice", "rows": [{"in": {"x": 0.1}, "out": {"y": 0.2}}]}), end="")
    {
      "calculation": "twice",
      "rows": [
        {"in": {"x": 0.1}, "out": {"y": 0.2}}
      ]
    }
    """
    lines = [f"  {_line(name)}: {_line(value)}," for name, value in held.items() if name != "rows"]
    rows = ",\n".join(f"    {_line(row)}" for row in held["rows"])
    return "\n".join(["{", *lines, '  "rows": [', rows, "  ]", "}", ""])


def vector_files() -> dict[str, str]:
    """The text of every file of the folder by its name, the schema among them."""
    files = {f"{calculation.name}.json": render(document(calculation)) for calculation in calculations()}
    return {"schema.json": json.dumps(SCHEMA, indent=2, ensure_ascii=False) + "\n", **files}


def write(folder: Path) -> list[str]:
    """Write every file into a folder, delete other JSON files there, and return the names of those that changed."""
    files = vector_files()
    folder.mkdir(parents=True, exist_ok=True)
    changed = []
    for stale in sorted(folder.glob("*.json")):
        if stale.name not in files:
            stale.unlink()
            changed.append(stale.name)
    for name, text in files.items():
        path, raw = folder / name, text.encode("utf-8")
        if not path.exists() or path.read_bytes() != raw:
            path.write_bytes(raw)
            changed.append(name)
    return changed


def _line(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False, allow_nan=False)
