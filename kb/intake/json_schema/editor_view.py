"""Schemas arranged so that editors show them well."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import Any

Schema = dict[str, Any]


def with_examples(examples: Sequence[Any]) -> Schema:
    """Examples as part of a schema.

    An editor would offer an example with a mapping as ``[object Object]``. Such examples go into a ``then``, where the
    editor shows them with the key but does not offer them.
    """
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
    """A mapping with these keys and no others.

    ``required`` and what else is ``wanted`` are kept apart from the properties: an editor would otherwise offer all
    required keys at once under the definition's name, and an entry of a list for each part of an ``allOf``.
    """
    apart = {**({"required": list(required)} if required else {}), **wanted}
    if examples:
        apart["examples"] = list(examples)
    body = {"type": "object", "properties": dict(properties), "additionalProperties": False, **rules}
    return {**body, "if": True, "then": apart} if apart else body
