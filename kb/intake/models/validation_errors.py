"""From pydantic's errors to faults, which rules put into words."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import replace
from functools import lru_cache
from typing import Any, get_args

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from kb.finding import Part, Path
from kb.intake.models import KINDS, Document
from kb.intake.models.scalars import ID_PATTERN, PATTERN_WORDS, PLAIN_PATTERN
from kb.intake.models.spelling import nearest
from kb.intake.models.value_checks import PLAIN_WORDS, described
from kb.intake.yaml.fault import Fault

RULES = ("unknown-key", "missing-key", "wrong-type", "unknown-word", "number-not-plain", "two-units", "window-inverted")
"""Every rule that these faults may name."""

_WANTED = {
    "string_type": "text",
    "string_too_short": "text that is not empty",
    "dict_type": "a mapping of keys to values",
    "list_type": "a list, one entry a line, each after a hyphen",
    "tuple_type": "a list of two, [first, last]",
    "too_long": "a list of two, [first, last]",
    "too_short": "at least one entry",
}
_MOST_SUGGESTED = 200  # more different unknown keys than this are not misspellings
_SHORTEST_SURE = 3  # letters of the shortest misspelled key that certainly means another one


def faults_of(kind: str, error: ValidationError, data: Any) -> Iterator[Fault]:
    """Each of pydantic's errors as a fault; ``data`` is what was validated, ``kind`` is the kind of file."""
    unknown: set[str] = set()
    for detail in error.errors(include_url=False, include_input=False):
        path = tuple(part for part in detail["loc"] if not str(part).startswith("\0"))
        if path and path[-1] == "[key]" and detail["type"] == "string_pattern_mismatch":
            yield _bad_id(path[:-1])
            continue
        fault = _fault(kind, detail, path, data)
        if fault.rule == "unknown-key":
            unknown.add(fault.found)
            fault = _with_nearest(fault) if len(unknown) <= _MOST_SUGGESTED else fault
        yield fault


def _bad_id(path: Path) -> Fault:
    """A key that should be an id."""
    key = str(path[-1])
    slug = re.sub(r"[^a-z0-9]+", "-", key.lower()).strip("-")
    meant = slug if re.fullmatch(ID_PATTERN, slug) else ""
    wanted = f"an id of lower-case letters, digits and hyphens, such as {meant or 'max-advance'}"
    return Fault("wrong-type", path, repr(key[:40]), (wanted,), Part.KEY, meant=meant)


def _fault(kind: str, detail: ErrorDetails, path: Path, data: Any) -> Fault:
    error, context = detail["type"], detail.get("ctx") or {}
    if error == "stopscrew":
        path = (*path, *context["path"])
        rule, expected = context["rule"], tuple(context["expected"])
        if rule == "unknown-key":
            return _unknown_key(path, expected)
        if rule != "missing-key" and value_at(data, path) == "":
            return _no_value(path)
        part = Part.KEY if rule == "two-units" else _holder(path) if rule == "missing-key" else Part.VALUE
        return Fault(rule, path, context["found"], expected, part, page=_cited_page(path, data))
    if error == "extra_forbidden":
        return _unknown_key(path, known_keys(kind, _keys(path[:-1])))
    if error == "missing":
        if isinstance(path[-1], int):
            return Fault("wrong-type", path[:-1], "a list", (_WANTED["tuple_type"],))
        return Fault("missing-key", path[:-1], str(path[-1]), (_example(kind, path),), _holder(path[:-1]))
    found = value_at(data, path)
    if found == "":
        return _no_value(path)
    if error in ("literal_error", "enum"):
        words = context["expected"].replace(" or ", ", ").split(", ")
        return Fault("unknown-word", path, described(found), tuple(word.strip("'") for word in words))
    if context.get("pattern") == PLAIN_PATTERN and isinstance(found, str):
        return Fault("number-not-plain", path, found[:40], (PLAIN_WORDS,))
    return Fault("wrong-type", path, described(found), (_wanted(error, context),))


def _cited_page(path: Path, data: Any) -> str:
    """The page that the statement with the fault cites, in words."""
    statement = value_at(data, path[:3]) if path[:1] == ("figures",) else None
    source, page = (statement.get(key) for key in ("source", "page")) if isinstance(statement, Mapping) else ("", "")
    if not isinstance(source, str) or not source:
        return "the page"
    return f"page {page} of {source}" if isinstance(page, str) and page else source


def _unknown_key(path: Path, known: tuple[str, ...]) -> Fault:
    return Fault("unknown-key", path, str(path[-1])[:60], known, Part.KEY)


def _with_nearest(fault: Fault) -> Fault:
    """An unknown key with the keys that it may be a misspelling of, and the one that it certainly is."""
    key, near = fault.found, nearest(fault.found, fault.expected)
    sure = near and (len(key) >= _SHORTEST_SURE or near[0].casefold() == key.casefold())
    return replace(fault, near=near, meant=near[0] if sure else "")


def _no_value(path: Path) -> Fault:
    """A key without a value."""
    return Fault("missing-key", path, "nothing", (), _holder(path))


def _holder(path: Path) -> Part:
    """What to mark when something is missing: the key of the mapping that lacks it, or the whole entry of a list."""
    return Part.KEY if path and isinstance(path[-1], str) else Part.VALUE


@lru_cache(maxsize=1024)
def known_keys(kind: str, path: tuple[str, ...]) -> tuple[str, ...]:
    """The keys that are allowed in the mapping at a path of keys, in the order of the model."""
    fields = [item for model in _models_at(kind, path) for item in model.model_fields.items()]
    return tuple(dict.fromkeys(field.alias or name for name, field in fields))


def _keys(path: Path) -> tuple[str, ...]:
    return tuple(part for part in path if isinstance(part, str))


def _models_at(kind: str, path: tuple[str, ...]) -> list[type[Document]]:
    """The models of what is allowed at a path of keys; keys that are names, such as a figure's, are skipped."""
    models = [KINDS[kind].model]
    for part in path:
        kinds = [
            field.annotation
            for model in models
            for name, field in model.model_fields.items()
            if part in (name, field.alias)
        ]
        models = [model for annotation in kinds for model in _models(annotation)] if kinds else models
    return models


def _example(kind: str, path: Path) -> str:
    """A missing key with an example value, as it would be typed."""
    key = str(path[-1])
    for model in _models_at(kind, _keys(path[:-1])):
        for name, field in model.model_fields.items():
            if key in (name, field.alias) and field.examples:
                return f"{key}: {_flow(field.examples[0])}"
    return key


def _flow(value: Any) -> str:
    """A value as YAML on one line."""
    if isinstance(value, Mapping):
        return f"{{{', '.join(f'{key}: {_flow(inner)}' for key, inner in value.items())}}}"
    if isinstance(value, list):
        return f"[{', '.join(map(_flow, value))}]"
    return str(value).lower() if isinstance(value, bool) else str(value)


def _models(annotation: Any) -> Iterator[type[Document]]:
    """Every model inside an annotation: through lists, mappings, unions and Annotated."""
    if isinstance(annotation, type) and issubclass(annotation, Document):
        yield annotation
    for inner in get_args(annotation):
        yield from _models(inner)


def _wanted(error: str, context: Mapping[str, Any]) -> str:
    if error == "string_pattern_mismatch":
        return PATTERN_WORDS.get(context["pattern"], f"text of the form {context['pattern']}")
    if error == "string_too_long":
        return f"at most {context['max_length']} characters"
    return _WANTED.get(error, "something else")


def value_at(data: Any, path: Path) -> Any:
    """The value at a path, or None."""
    for part in path:
        there = part in data if isinstance(data, dict) else isinstance(data, list) and part in range(len(data))
        if not there:
            return None
        data = data[part]
    return data
