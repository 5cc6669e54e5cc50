"""Validating a document against its model: collect the faults, cut out the smallest broken parts, validate the rest.

A key that is plainly a misspelling of another is taken for that one instead of being cut, so that one mistake gives
one finding. If a key that the file as a whole requires is missing (a family's name, its engine's cylinders), that is
reported, but the rest is kept without it: rules must not rely on such keys.
"""

from __future__ import annotations

from bisect import insort
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Any

from pydantic import ValidationError

from kb.finding import Path
from kb.intake.models import KINDS
from kb.intake.models.validation_errors import faults_of, value_at
from kb.intake.yaml.fault import Fault

_ROUNDS = 50  # each round removes something; a document with more broken layers than this is abandoned
_CORRECTING_ROUNDS = 3  # the rounds in which misspelled keys are taken for known ones; later ones are no misspellings

_DEPTHS = {
    "figures": 3,
    "as_found": 3,
    "as_left": 3,
    "steps": 3,
    "fits": 2,
    "exceptions": 2,
    "adjusters": 2,
    "plausible": 2,
    "retired": 2,
    "withdrawn": 2,
    "engine": 2,
    "ignition": 2,
    "flywheel": 2,
    "cautions": 2,
    "also_called": 2,
    "units": 2,
    "states": 2,
    "at": 2,
}
"""How deep below each top-level key an entry is cut as a whole: a statement, a range of serial numbers, a property of
the engine. A part of an entry (a statement without its condition) would say something else."""

_KEPT = (("engine",), ("ignition",), ("flywheel",))
"""Top-level mappings that are kept even if a key that they require is missing."""


class Cuts:
    """What was cut out of a document or renamed in it, so that a path in the rest leads to its place in the whole.

    The paths in ``unread`` were cut by the reader before; that did not move anything that is left.
    """

    def __init__(self, unread: Iterable[Path] = ()) -> None:
        self._indexes: dict[Path, list[int]] = {}
        self._spelled: dict[Path, str] = {}
        self._gone: dict[Path, Any] = dict.fromkeys(unread)
        self._holders: set[Path] = {path[:-1] for path in self._gone}

    def original(self, path: Path) -> Path:
        """The path in the whole document, before anything was cut."""
        whole: Path = ()
        for part in path:
            if isinstance(part, int):
                for gone in self._indexes.get(whole, ()):
                    if gone > part:
                        break
                    part += 1
            else:
                part = self._spelled.get((*whole, part), part)
            whole = (*whole, part)
        return whole

    def add(self, path: Path, value: Any = None) -> None:
        """Record that the entry at a path of the rest, with this value, is cut."""
        whole = self.original(path)
        self._gone[whole] = value
        self._holders.add(whole[:-1])
        if whole and isinstance(whole[-1], int):
            insort(self._indexes.setdefault(whole[:-1], []), whole[-1])

    def rename(self, path: Path, key: str) -> None:
        """Record that the key at the end of a path of the rest is taken for another key."""
        whole = self.original(path)
        self._spelled[(*whole[:-1], key)] = str(whole[-1])

    def touched(self, path: Path) -> bool:
        """Whether anything at or below a path was cut."""
        return any(gone[: len(path)] == path for gone in self._gone)

    def below(self, path: Path) -> Iterator[Any]:
        """The values that were cut at or below a path."""
        return (value for gone, value in self._gone.items() if gone[: len(path)] == path)

    def follows(self, fault: Fault) -> bool:
        """Whether a fault only reports as missing what was cut."""
        if fault.rule != "missing-key":
            return False
        if fault.found == "a unit":  # if an unknown key was cut next to it, that was most likely the unit
            return fault.path in self._holders
        return (*fault.path, fault.found) in self._gone


@dataclass(frozen=True, slots=True)
class _BrokenPart:
    """A fault with what to do about it: cut a path, take the key for another key, or nothing."""

    fault: Fault
    cut: Path | None = None
    key: str = ""


def validate_document(kind: str, data: Any, unread: Iterable[Path] = ()) -> tuple[dict[str, Any], list[Fault], Cuts]:
    """The valid part of ``data``, every fault in the rest, and what was cut.

    ``data`` is not changed; ``unread`` are the paths that the reader cut out of it. A fault that only follows from a
    cut (a required key that was cut) is not reported. The valid part may lack keys that the file as a whole requires.
    """
    validate = KINDS[kind].model.__pydantic_validator__.validate_python
    try:
        validate(data)
    except ValidationError as error:
        return _cut(kind, data, error, Cuts(unread))
    return data, [], Cuts(unread)


def _cut(kind: str, data: Any, error: ValidationError, cuts: Cuts) -> tuple[dict[str, Any], list[Fault], Cuts]:
    validate = KINDS[kind].model.__pydantic_validator__.validate_python
    rest = _copied(data)
    faults: dict[Fault, None] = {}
    for round_number in range(_ROUNDS):
        broken = [_remedy(fault, rest, round_number < _CORRECTING_ROUNDS) for fault in faults_of(kind, error, rest)]
        # correcting a key may cure other faults; those that remain are reported in the next round
        broken = [one for one in broken if one.key] or broken
        for one in broken:
            fault = replace(one.fault, path=cuts.original(one.fault.path))
            if not cuts.follows(fault):
                faults[fault] = None
        removed = [_apply(one, rest, cuts) for one in sorted(broken, key=_deepest_first, reverse=True)]
        if not any(removed):
            borne = all(one.cut is None for one in broken)
            return (rest if borne else {}), list(faults), cuts
        try:
            validate(rest)
        except ValidationError as again:
            error = again
        else:
            return rest, list(faults), cuts
    return {}, list(faults), cuts


def _copied(data: Any) -> Any:
    if isinstance(data, dict):
        return {key: _copied(value) for key, value in data.items()}
    return [_copied(value) for value in data] if isinstance(data, list) else data


def _deepest_first(broken: _BrokenPart) -> tuple[int, tuple[str, ...]]:
    path = broken.fault.path if broken.key else broken.cut or ()
    return len(path), tuple(f"{part:09}" if isinstance(part, int) else part for part in path)


def _remedy(fault: Fault, rest: Any, correcting: bool) -> _BrokenPart:
    """Take a misspelled key for the one that is meant, or else cut the key, or else the entry with the fault."""
    path = fault.path
    if correcting and fault.meant and fault.meant not in value_at(rest, path[:-1]):
        return _BrokenPart(fault, key=fault.meant)
    depth = _DEPTHS.get(str(path[0]), 1) if path else 0
    if fault.rule in ("unknown-key", "two-units") and len(path) <= depth + 1:
        return _BrokenPart(fault, path)
    if fault.rule == "missing-key" and fault.found != "nothing" and (not path or path in _KEPT):
        return _BrokenPart(fault)
    return _BrokenPart(fault, path[:depth])


def _apply(broken: _BrokenPart, rest: Any, cuts: Cuts) -> bool:
    """Do it; whether anything changed."""
    if broken.key:
        path = broken.fault.path
        holder = value_at(rest, path[:-1])
        if path[-1] not in holder or broken.key in holder:
            return False
        holder[broken.key] = holder.pop(path[-1])
        cuts.rename(path, broken.key)
        return True
    return bool(broken.cut) and _remove(rest, broken.cut or (), cuts)


def _remove(rest: Any, path: Path, cuts: Cuts) -> bool:
    """Cut the entry at a path, and its list if that becomes empty."""
    holder = value_at(rest, path[:-1])
    if value_at(rest, path) is None:
        return False
    cuts.add(path, holder[path[-1]])
    del holder[path[-1]]
    if holder == [] and len(path) > 1:
        _remove(rest, path[:-1], cuts)
    return True
