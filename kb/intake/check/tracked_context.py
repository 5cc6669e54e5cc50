"""A context that records what is looked up in it, so that a cached result is valid while all of that stays the same.

It records the kind and id of each entry looked up, even if the entry does not exist. Going through all entries of a
kind depends on all their ids and is recorded as ``*``. Only the catalogue is not tracked: every family depends on most
of it, so a change to it affects every file.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence, Set
from dataclasses import fields
from typing import Any, TypeVar

from kb.frozen import cached_property
from kb.intake.check.file_kinds import kind_and_id
from kb.intake.facts.rule_context import RuleContext

ALL = "*"
"""Stands for all ids of a kind."""

UNTRACKED = ("figures", "figure_ids", "default_states", "bounds")
"""The fields that come from the catalogue."""

Needs = dict[str, list[str]]
"""What a result depends on: ids by kind of entry."""

T = TypeVar("T")


class Families(Set[str]):
    """The ids of the families among some files; they are listed only when needed."""

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


class _TrackedMapping(Mapping[str, T]):
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


class _TrackedSet(Set[str]):
    """A set that iterates in order of id, so that the order of a set makes no difference between runs."""

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


class _TrackedSequence(Sequence[T]):
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
    """A context with the same content as the one given that records what is looked up."""

    def __init__(self, context: RuleContext) -> None:
        seen: dict[str, set[str]] = {name: set() for name in _tracked_names()}
        entries = {name: _tracked(getattr(context, name), seen[name]) for name in seen}
        self.__dict__.update({name: getattr(context, name) for name in UNTRACKED}, **entries, _seen=seen)

    def take_needs(self) -> Needs:
        """What has been looked up since the last call."""
        seen: dict[str, set[str]] = self.__dict__["_seen"]
        needs = {name: sorted(keys) for name, keys in seen.items() if keys}
        for name in needs:
            seen[name].clear()
        return needs


def _tracked_names() -> list[str]:
    """The tracked fields of a context and the properties it derives from them."""
    derived = [name for name, value in vars(RuleContext).items() if isinstance(value, cached_property)]
    return [name for name in (*(field.name for field in fields(RuleContext)), *derived) if name not in UNTRACKED]


def _tracked(entries: Any, seen: set[str]) -> Any:
    if isinstance(entries, Mapping):
        return _TrackedMapping(entries, seen)
    if isinstance(entries, Set):
        return _TrackedSet(entries, seen)
    if isinstance(entries, Sequence):
        return _TrackedSequence(entries, seen)
    raise TypeError(f"a context has mappings, sets and sequences, not {type(entries)}: nothing else can be tracked")


class ContextChanges:
    """The differences between two contexts."""

    def __init__(self, old: RuleContext, new: RuleContext) -> None:
        self.catalogue = False
        self._changes: dict[str, set[str]] = {}
        if old is new:
            return
        self.catalogue = any(getattr(old, name) != getattr(new, name) for name in UNTRACKED)
        changes = {name: _difference(getattr(old, name), getattr(new, name)) for name in _tracked_names()}
        self._changes = {name: keys for name, keys in changes.items() if keys}

    def __bool__(self) -> bool:
        return self.catalogue or bool(self._changes)

    def touches(self, needs: Needs) -> bool:
        """Whether a result that depends on ``needs`` may have changed."""
        return self.catalogue or any(not keys.isdisjoint(needs.get(name, ())) for name, keys in self._changes.items())


def _difference(old: Any, new: Any) -> set[str]:
    """The keys whose entries differ, and ``ALL`` if the keys themselves differ."""
    if isinstance(new, Mapping):
        changed = {key for key in old.keys() | new.keys() if old.get(key) != new.get(key)}
        return changed | ({ALL} if old.keys() != new.keys() else set())
    if isinstance(new, Families):  # comparing the files is quicker than listing ten thousand families
        changed = set(Families(old.files ^ new.files))
        return changed | ({ALL} if changed else set())
    if isinstance(new, Set):
        return {*(old ^ new), ALL} if old != new else set()
    return {ALL} if old != new else set()
