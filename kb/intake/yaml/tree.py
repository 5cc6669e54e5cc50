"""From the tree of a YAML text to plain data, to places, and to the faults that only the tree shows."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

import yaml
from yaml.nodes import CollectionNode, MappingNode, Node, ScalarNode

from kb.finding import Part, Path
from kb.intake.yaml.fault import Fault
from kb.intake.yaml.limits import MOST_CHARACTERS, MOST_DEPTH, MOST_KEYS
from kb.intake.yaml.text_lines import Lines, shortened

_COLON = re.compile(r"\s*:")
_QUOTED_WORD = re.compile(r"""["'][^\W\d_][\w .;()/+-]*["']""")
_QUOTES = ("'", '"')
_QUOTES_OPTIONAL = frozenset({"id", "source", "page", "from", "to", "serial", "serials", "code"})
"""Keys whose value may be written with or without quotes."""
_NOT_ALWAYS_TEXT = frozenset({"y", "n", "yes", "no", "on", "off", "true", "false", "null", "nan", "inf", "infinity"})
"""Words that some version of YAML does not read as text."""


class Irregular(Exception):
    """The tree is not plain keys and values, so ``build_with_faults`` must build its data."""


def build(node: Node, depth: int = 1) -> Any:
    """The data of a plain tree: dicts, lists and text.

    Raises:
        Irregular: a key is repeated or empty, there are too many keys, or the nesting is too deep.
        TypeError: a key is not text.
    """
    if node.__class__ is ScalarNode:
        return node.value
    if depth > MOST_DEPTH:
        raise Irregular
    if node.__class__ is MappingNode:
        data = {
            key.value: value.value if value.__class__ is ScalarNode else build(value, depth + 1)
            for key, value in node.value
        }
        if len(data) != len(node.value) or len(data) > MOST_KEYS or "" in data:
            raise Irregular
        return data
    return [item.value if item.__class__ is ScalarNode else build(item, depth + 1) for item in node.value]


def may_have_needless_quotes(clean: str) -> bool:
    """Whether a text may contain quotes that are not needed: a quick test that can say yes too often."""
    return ('"' in clean or "'" in clean) and _QUOTED_WORD.search(clean) is not None


def build_with_faults(node: Node, lines: Lines, faults: list[Fault], path: Path = ()) -> Any:
    """The data of any tree; what is broken is left out and added to ``faults``, and merge keys are followed."""
    if isinstance(node, ScalarNode):
        if node.style in _QUOTES and _is_needless(node, path):
            faults.append(_fault("quotes-not-needed", path, node, lines, Part.VALUE, (node.value,)))
        return node.value[:MOST_CHARACTERS]
    if len(path) >= MOST_DEPTH:
        return ""
    if not isinstance(node, MappingNode):
        return [build_with_faults(item, lines, faults, (*path, index)) for index, item in enumerate(node.value)]
    data: dict[str, Any] = {}
    merged: list[Any] = []
    first: dict[str, int] = {}
    for key, value in node.value:
        if not isinstance(key, ScalarNode) or key.value == "":
            start, end = span(key, lines.text)
            place = lines.place(start, max(end, start + 1))
            faults.append(Fault("key-not-text", path, shortened(lines.at(place)), place=place))
            continue
        name: str = key.value[:MOST_CHARACTERS]
        deeper = (*path, name)
        if key.style in _QUOTES and _is_needless(key, ()):
            faults.append(_fault("quotes-not-needed", deeper, key, lines, Part.KEY, (name,)))
        inner = build_with_faults(value, lines, faults, deeper)
        if name == "<<" and key.style not in _QUOTES:
            faults.append(_fault("merge-key", path, key, lines, Part.KEY))
            merged += inner if isinstance(inner, list) else [inner]
        elif name in data:
            faults.append(_fault("duplicate-key", deeper, key, lines, Part.KEY, (str(first[name]),)))
        else:
            data[name] = inner
            first[name] = key.start_mark.line + 1
    for other in merged:
        if isinstance(other, dict):
            data = {**other, **data}
    return data


def _fault(rule: str, path: Path, node: ScalarNode, lines: Lines, part: Part, expected: tuple[str, ...] = ()) -> Fault:
    place = lines.place(*span(node, lines.text))
    return Fault(rule, path, shortened(lines.at(place)), expected, part, place)


def _is_needless(node: ScalarNode, path: Path) -> bool:
    """Whether the text inside the quotes of a node certainly means the same without them."""
    keys = [step for step in path if isinstance(step, str)]
    if keys and keys[-1] in _QUOTES_OPTIONAL:
        return False
    text = node.value
    same_as_written = node.end_mark.index - node.start_mark.index == len(text) + 2
    return (
        same_as_written
        and len(text) <= MOST_CHARACTERS
        and text == text.strip()
        and _QUOTED_WORD.fullmatch(f'"{text}"') is not None
        and text.lower() not in _NOT_ALWAYS_TEXT
    )


def child(node: Node, step: str | int) -> tuple[ScalarNode | None, Node] | None:
    """The key and value at one step of a path; the entries of a list have no key."""
    if isinstance(node, MappingNode):
        return next(((key, value) for key, value in node.value if key.value == step), None)
    if isinstance(node, yaml.SequenceNode) and isinstance(step, int) and 0 <= step < len(node.value):
        return None, node.value[step]
    return None


def span(node: Node, text: str, key: Node | None = None) -> tuple[int, int]:
    """The indexes of a node's own text: its first character, and one past its last.

    The place of an empty value is after the colon of its ``key``, or after the hyphen of its entry.
    """
    start, end = node.start_mark.index, node.end_mark.index
    if start == end and key is not None:
        after = key.end_mark.index
        colon = _COLON.match(text, after)
        return (colon.end(),) * 2 if colon else (after, after)
    if isinstance(node, CollectionNode) and not (node.flow_style and text[start:end][-1:] in ("]", "}")):
        ends = [span(inner, text, outer)[1] for outer, inner in _last_entry(node)]
        return start, max([start, *ends])
    return start, start + len(text[start:end].rstrip())


def _last_entry(node: CollectionNode) -> Iterator[tuple[Node | None, Node]]:
    """The last entry of a list or mapping."""
    if node.value and isinstance(node, MappingNode):
        yield node.value[-1]
    elif node.value:
        yield None, node.value[-1]
