"""A desk that notes what is looked up on it, so that a result is kept for as long as all of that stays the same.

What is noted is the kind of entry and its id, also of entries that are not there; whoever goes through all entries of
a kind has asked for their ids as well, noted as ``*``. The catalogue alone is not watched: every family leans on most
of it, so a change to it counts for all.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence, Set
from dataclasses import fields
from functools import cached_property
from typing import Any, TypeVar

from kb.intake.check.file_kinds import kind_and_id
from kb.intake.facts.rule_context import RuleContext

ALL = "*"
"""The ids of a kind, whichever they are."""

UNWATCHED = ("figures", "figure_ids", "default_states", "bounds")
"""What comes from the catalogue."""

Needs = dict[str, list[str]]
"""What was looked up: ids by kind of entry."""

T = TypeVar("T")


class Families(Set[str]):
    """The ids of the families among some files; nothing is gone through until someone does."""

    def __init__(self, files: Set[str]) -> None:
        self.files = files

    def __contains__(self, key: object) -> bool:
        file = f"families/{key}.yaml"
        return file in self.files and kind_and_id(file) == ("family", key)

    @cached_property
    def _all(self) -> frozenset[str]:
        found = (kind_and_id(file) for file in self.files if file.startswith("families/"))
        return frozenset(kind[1] for kind in found if kind)

    def __iter__(self) -> Iterator[str]:
        return iter(self._all)

    def __len__(self) -> int:
        return len(self._all)


class _WatchedMapping(Mapping[str, T]):
    def __init__(self, entries: Mapping[str, T], seen: set[str]) -> None:
        self._entries = entries
        self._seen = seen

    def __getitem__(self, key: str) -> T:
        self._seen.add(key)
        return self._entries[key]

    def get(self, key: str, default: Any = None) -> Any:
        self._seen.add(key)
        return self._entries.get(key, default)

    def __contains__(self, key: object) -> bool:
        self._seen.add(str(key))
        return key in self._entries

    def __iter__(self) -> Iterator[str]:
        self._seen.add(ALL)
        return iter(self._entries)

    def __len__(self) -> int:
        self._seen.add(ALL)
        return len(self._entries)


class _WatchedSet(Set[str]):
    """In order of id, so that no run differs from another by the order of a set."""

    def __init__(self, entries: Set[str], seen: set[str]) -> None:
        self._entries = entries
        self._seen = seen

    @classmethod
    def _from_iterable(cls, it: Any) -> Any:
        return frozenset(it)

    def __contains__(self, key: object) -> bool:
        self._seen.add(str(key))
        return key in self._entries

    def __iter__(self) -> Iterator[str]:
        self._seen.add(ALL)
        return iter(sorted(self._entries))

    def __len__(self) -> int:
        self._seen.add(ALL)
        return len(self._entries)


class _WatchedSequence(Sequence[T]):
    def __init__(self, entries: Sequence[T], seen: set[str]) -> None:
        self._entries = entries
        self._seen = seen

    def __getitem__(self, index: Any) -> Any:
        self._seen.add(ALL)
        return self._entries[index]

    def __len__(self) -> int:
        self._seen.add(ALL)
        return len(self._entries)


class TrackedContext(RuleContext):
    """A desk like the one given, whose every kind of entry is watched."""

    def __init__(self, desk: RuleContext) -> None:
        seen: dict[str, set[str]] = {name: set() for name in _watched_names()}
        entries = {name: _watched(getattr(desk, name), seen[name]) for name in seen}
        self.__dict__.update({name: getattr(desk, name) for name in UNWATCHED}, **entries, _seen=seen)

    def take_needs(self) -> Needs:
        """What was looked up since this was last asked."""
        seen: dict[str, set[str]] = self.__dict__["_seen"]
        needs = {name: sorted(keys) for name, keys in seen.items() if keys}
        for name in needs:
            seen[name].clear()
        return needs


def _watched_names() -> list[str]:
    """The fields of a desk and what it derives from them."""
    derived = [name for name, value in vars(RuleContext).items() if isinstance(value, cached_property)]
    return [name for name in (*(field.name for field in fields(RuleContext)), *derived) if name not in UNWATCHED]


def _watched(entries: Any, seen: set[str]) -> Any:
    if isinstance(entries, Mapping):
        return _WatchedMapping(entries, seen)
    if isinstance(entries, Set):
        return _WatchedSet(entries, seen)
    if isinstance(entries, Sequence):
        return _WatchedSequence(entries, seen)
    raise TypeError(f"a desk holds mappings, sets and sequences, not {type(entries)}: nothing else can be watched")


class Moved:
    """What is not the same on two desks."""

    def __init__(self, old: RuleContext, new: RuleContext) -> None:
        self.catalogue = False
        self._changes: dict[str, set[str]] = {}
        if old is new:
            return
        self.catalogue = any(getattr(old, name) != getattr(new, name) for name in UNWATCHED)
        changes = {name: _difference(getattr(old, name), getattr(new, name)) for name in _watched_names()}
        self._changes = {name: keys for name, keys in changes.items() if keys}

    def __bool__(self) -> bool:
        return self.catalogue or bool(self._changes)

    def touches(self, needs: Needs) -> bool:
        """Whether a result that needed these may now be another."""
        return self.catalogue or any(not keys.isdisjoint(needs.get(name, ())) for name, keys in self._changes.items())


def _difference(old: Any, new: Any) -> set[str]:
    """The keys whose entries differ, and ``ALL`` where the keys do."""
    if isinstance(new, Mapping):
        changed = {key for key in old.keys() | new.keys() if old.get(key) != new.get(key)}
        return changed | ({ALL} if old.keys() != new.keys() else set())
    if isinstance(new, Families):  # to name ten thousand families takes longer than to see that no file came or went
        changed = set(Families(old.files ^ new.files))
        return changed | ({ALL} if changed else set())
    if isinstance(new, Set):
        return {*(old ^ new), ALL} if old != new else set()
    return {ALL} if old != new else set()
