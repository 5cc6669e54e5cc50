"""Statements in words and by their place, as findings name them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from kb.book.model.family import Statement
from kb.finding import Path, Slip
from kb.quantity import VALUE_KEYS

_VALUE_KEYS = frozenset(VALUE_KEYS)


def once(slips: Iterable[Slip]) -> Iterator[Slip]:
    """Only the first slip of each place, so that one wrong digit is told once."""
    seen: set[Path] = set()
    for slip in slips:
        if slip.path not in seen:
            seen.add(slip.path)
            yield slip


def value_path(statement: Statement) -> Path:
    """Where a statement's value stands."""
    key = next((key for key in statement.document if key in _VALUE_KEYS), None)
    path = ("figures", statement.figure, statement.index)
    return path if key is None else (*path, key)


def cite(statement: Statement) -> str:
    """Where a statement is from, in words: its source and page."""
    return f"page {statement.page} of {statement.source}" if statement.page else statement.source


def says(statement: Statement) -> str:
    """What a statement says and where, in words."""
    return f"{statement.value} ({cite(statement)})"


def in_one_state(but: frozenset[str]) -> Callable[[Statement, Statement], bool]:
    """Whether two statements are of one state and no other condition that both state differs, but for those named."""
    return lambda one, other: one.state == other.state and agree_where_both_say(one, other, but)


def agree_where_both_say(one: Statement, other: Statement, but: frozenset[str] = frozenset()) -> bool:
    """Whether no condition that both state differs, but for those named."""
    if not one.at or not other.at:
        return True
    conditions = other.conditions
    return all(key in but or conditions.get(key, value) == value for key, value in one.at)
