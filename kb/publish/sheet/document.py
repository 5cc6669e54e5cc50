"""The sheet as JSON, in the shape of ``schema/published/sheet.json``; without drawings, which ``draw`` gives."""

from __future__ import annotations

import json
from typing import Any

from kb.publish.sheet.record import Sheet, plain_values

SHAPE = 1
"""Raised by one when a program that reads the sheet would have to change."""


def sheet_document(sheet: Sheet) -> dict[str, Any]:
    """The sheet as plain values; numbers in words, as on paper."""
    values = plain_values(sheet)
    drawn = [title for title, _ in values.pop("drawings")]
    for target in [*values["targets"], *(target for step in values["steps"] for target in step["targets"])]:
        del target["strip"]
    return {"shape": SHAPE, **values, "drawings": drawn}


def sheet_json(sheet: Sheet) -> str:
    """The sheet as JSON text."""
    return json.dumps(sheet_document(sheet), ensure_ascii=False, indent=2) + "\n"
