"""Suggestions for a misspelled name: the known names nearest to it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from difflib import SequenceMatcher, get_close_matches
from functools import lru_cache

_ENOUGH = 0.6  # difflib's ratio: two letters swapped in five still count as near
_FURTHER = 0.12  # a name this much further off than the nearest one is not suggested
_JOINTS = re.compile(r"[\s_./-]+")


@lru_cache(maxsize=4096)
def nearest(word: str, known: tuple[str, ...], count: int = 3) -> tuple[str, ...]:
    """Up to ``count`` of the known names that are spelled most like ``word``, the likeliest first.

    Case, spaces, hyphens and underscores make no difference.

    >>> nearest("Max advance", ("max-advance", "plug-gap"))
    ('max-advance',)
    """
    plain = _plain(word)
    by_plain: dict[str, list[str]] = {}
    for name in known:
        by_plain.setdefault(_plain(name), []).append(name)
    if plain in by_plain:
        return tuple(by_plain[plain][:count])
    close = get_close_matches(plain, by_plain, count, _ENOUGH)
    ratios = {match: SequenceMatcher(None, match, plain).ratio() for match in close}
    as_close = [match for match in close if ratios[match] > ratios[close[0]] - _FURTHER]
    return tuple(name for match in as_close for name in by_plain[match])[:count]


def _plain(name: str) -> str:
    return _JOINTS.sub("", name).casefold()


def either(names: Iterable[str]) -> str:
    """The names as a choice.

    >>> either(["a", "b", "c"])
    'a, b or c'
    """
    *first, last = names
    return f"{', '.join(first)} or {last}" if first else last


def write_instead(word: str, known: Sequence[str], otherwise: str, also_called: Mapping[str, str] | None = None) -> str:
    """What to type instead of a word: the nearest known names, or else what ``otherwise`` says.

    ``also_called`` maps other names to the known ones.
    """
    names = {**(also_called or {}), **{name: name for name in known}}
    near = dict.fromkeys(names[name] for name in nearest(word, tuple(names)))
    return f"write {either(near)}" if near else otherwise
