"""Typing a document: what is broken becomes faults, the smallest broken part is cut out, the rest is typed again."""

from __future__ import annotations

import copy
from collections.abc import Iterator
from dataclasses import replace
from typing import Any, get_args

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from kb.finding import Part, Path
from kb.intake.documents import KINDS, Document
from kb.intake.documents.scalars import PATTERN_WORDS
from kb.intake.fault import Fault

_ROUNDS = 50  # each round removes something; a document with more broken layers than this is given up


class Cuts:
    """What was cut out of a document, so that a path in the rest leads to its place in the whole."""

    def __init__(self) -> None:
        self._removed: dict[Path, list[int]] = {}

    def original(self, path: Path) -> Path:
        """The path in the document as it was before anything was cut."""
        whole: Path = ()
        for part in path:
            if isinstance(part, int):
                for gone in self._removed.get(whole, ()):
                    part += gone <= part
            whole = (*whole, part)
        return whole

    def add(self, path: Path) -> Path:
        """Note that the entry at a path of the rest is cut; returns its path in the whole."""
        whole = self.original(path)
        if whole and isinstance(whole[-1], int):
            self._removed[whole[:-1]] = sorted([*self._removed.get(whole[:-1], []), whole[-1]])
        return whole


def type_document(kind: str, data: Any) -> tuple[dict[str, Any], list[Fault], Cuts]:
    """The part of ``data`` that is typed right, every fault of the rest, and what was cut.

    ``data`` is not changed. A fault that only follows from a cut (a required key that was cut) is not told again.
    """
    validate = KINDS[kind].model.__pydantic_validator__.validate_python
    try:
        validate(data)
    except ValidationError as error:
        return _cut(kind, data, error)
    return data, [], Cuts()


def _cut(kind: str, data: Any, error: ValidationError) -> tuple[dict[str, Any], list[Fault], Cuts]:
    validate = KINDS[kind].model.__pydantic_validator__.validate_python
    rest = copy.deepcopy(data)
    cuts = Cuts()
    removed: set[Path] = set()
    faults: list[Fault] = []
    for _ in range(_ROUNDS):
        broken: list[Path] = []
        for fault, away in _faults(kind, error, rest):
            fault = replace(fault, path=cuts.original(fault.path))
            lost = (*fault.path, fault.found)
            if fault.rule != "missing-key" or lost not in removed:
                faults.append(fault)
            broken.append(away)
        if any(not away for away in broken):
            return {}, _distinct(faults), cuts
        for away in sorted(set(broken), key=_deepest_first, reverse=True):
            _remove(rest, away)
            removed.add(cuts.add(away))
        try:
            validate(rest)
        except ValidationError as again:
            error = again
        else:
            return rest, _distinct(faults), cuts
    return {}, _distinct(faults), cuts


def _deepest_first(path: Path) -> tuple[int, tuple[str, ...]]:
    return len(path), tuple(f"{part:09}" if isinstance(part, int) else part for part in path)


def _distinct(faults: list[Fault]) -> list[Fault]:
    return list(dict.fromkeys(faults))


def _faults(kind: str, error: ValidationError, rest: Any) -> Iterator[tuple[Fault, Path]]:
    """Each fault with the path of the smallest part that must go."""
    for detail in error.errors(include_url=False, include_input=False):
        path = tuple(part for part in detail["loc"] if not str(part).startswith("~"))
        if path and path[-1] == "[key]":
            path = path[:-1]
            yield Fault("wrong-type", path, str(path[-1])[:40], ("an id of small letters, digits and hyphens",), Part.KEY), path
            continue
        fault = _fault(kind, detail, path, rest)
        yield fault, _smallest(fault, rest)


def _fault(kind: str, detail: ErrorDetails, path: Path, rest: Any) -> Fault:
    """One of pydantic's errors as a fault of ours."""
    error, context = detail["type"], detail.get("ctx") or {}
    if error == "stopscrew":
        deeper = (*path, *context["path"])
        part = Part.KEY if context["rule"] in ("unknown-key", "two-units") else Part.VALUE
        return Fault(context["rule"], deeper, context["found"], tuple(context["expected"]), part)
    if error == "extra_forbidden":
        return Fault("unknown-key", path, str(path[-1])[:60], known_keys(kind, path[:-1]), Part.KEY)
    if error == "missing":
        return Fault("missing-key", path[:-1], str(path[-1]), (str(path[-1]),))
    found = _look(rest, path)
    if error in ("literal_error", "enum"):
        words = context["expected"].replace(" or ", ", ").split(", ")
        return Fault("unknown-word", path, _shown(found), tuple(word.strip("'") for word in words))
    if found == "":
        return Fault("missing-key", path, "nothing", (f"a value behind {path[-1]}" if path else "a document",))
    return Fault("wrong-type", path, _shown(found), (_wanted(error, context),))


def known_keys(kind: str, path: Path) -> tuple[str, ...]:
    """The keys that may stand in the mapping at a path, in the order of the model."""
    models = [KINDS[kind].model]
    for part in path:
        kinds = [
            field.annotation
            for model in models
            for name, field in model.model_fields.items()
            if not isinstance(part, int) and part in (name, field.alias)
        ]
        models = [model for annotation in kinds for model in _models(annotation)] if kinds else models
    return tuple(dict.fromkeys(field.alias or name for model in models for name, field in model.model_fields.items()))


def _models(annotation: Any) -> Iterator[type[Document]]:
    """Every model inside an annotation: through lists, mappings, unions and Annotated."""
    if isinstance(annotation, type) and issubclass(annotation, Document):
        yield annotation
    for inner in get_args(annotation):
        yield from _models(inner)


_WANTED = {
    "string_type": "text",
    "string_too_short": "text that is not empty",
    "model_type": "a mapping of keys to values",
    "model_attributes_type": "a mapping of keys to values",
    "dict_type": "a mapping of keys to values",
    "list_type": "a list, one entry a line, each behind a hyphen",
    "tuple_type": "a list of two, [first, last]",
    "too_long": "fewer entries",
    "too_short": "at least one entry",
}


def _wanted(error: str, context: dict[str, Any]) -> str:
    if error == "string_pattern_mismatch":
        return PATTERN_WORDS.get(context["pattern"], f"text of the form {context['pattern']}")
    if error == "string_too_long":
        return f"at most {context['max_length']} characters"
    return _WANTED.get(error, "something else")


def _shown(found: Any) -> str:
    if isinstance(found, str):
        return repr(found[:40])
    return "a list" if isinstance(found, list) else "a mapping" if isinstance(found, dict) else "nothing"


def _look(data: Any, path: Path) -> Any:
    for part in path:
        try:
            data = data[part]
        except (KeyError, IndexError, TypeError):
            return None
    return data


def _smallest(fault: Fault, rest: Any) -> Path:
    """What must go: an unknown key or a second unit alone, else the statement, else the entry, else its holder."""
    path = fault.path
    if fault.rule in ("unknown-key", "two-units"):
        return path
    for depth in (3, 2):  # figures / <figure> / <index>, then figures / <figure>
        if path[:1] == ("figures",) and len(path) >= depth:
            return path[:depth]
    if fault.rule == "missing-key" and fault.found != "nothing":
        return path
    while path and _look(rest, path) is None:
        path = path[:-1]
    return path


def _remove(rest: Any, path: Path) -> None:
    holder = _look(rest, path[:-1])
    try:
        del holder[path[-1]]
    except (KeyError, IndexError, TypeError):
        return
