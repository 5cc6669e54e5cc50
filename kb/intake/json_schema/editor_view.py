"""Schemas as an editor should show them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from types import MappingProxyType
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


def closed(
    properties: Mapping[str, Schema],
    rules: Mapping[str, Any] = MappingProxyType({}),
    required: Sequence[str] = (),
    wanted: Mapping[str, Any] = MappingProxyType({}),
    examples: Sequence[Any] = (),
) -> Schema:
    """A mapping of these keys and no others.

    What is ``required``, and what else is ``wanted``, stand apart from the properties: an editor would offer all that
    is required at once under the definition's name, and an entry of a list for each part of an ``allOf``.
    """
    apart = {**({"required": list(required)} if required else {}), **wanted}
    if examples:
        apart["examples"] = list(examples)
    body = {"type": "object", "properties": dict(properties), "additionalProperties": False, **rules}
    return {**body, "if": True, "then": apart} if apart else body
