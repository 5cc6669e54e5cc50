"""Examples as an editor should show them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

Schema = dict[str, Any]


def shown(examples: Sequence[Any]) -> Schema:
    """Examples for a reader. One that holds a mapping would be offered for typing, as ``[object Object]``: those stand
    where an editor shows them beside the key and never offers them."""
    if any(_holds_mapping(example) for example in examples):
        return {"if": True, "then": {"examples": list(examples)}}
    return {"examples": list(examples)} if examples else {}


def _holds_mapping(example: Any) -> bool:
    return isinstance(example, dict) or (isinstance(example, list) and any(map(_holds_mapping, example)))
