"""How findings refer to statements: in words, and by their place."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence

from kb.book.model.family import Statement
from kb.finding import Path, Slip
from kb.quantity import value_key
from kb.vocabulary.conditions import Condition


def one_per_place(slips: Iterable[Slip]) -> Iterator[Slip]:
    """Only the first slip of each place, so that one wrong digit is reported once."""
    seen: set[Path] = set()
    for slip in slips:
        if slip.path not in seen:
            seen.add(slip.path)
            yield slip


def value_path(statement: Statement) -> Path:
    """The path of a statement's value."""
    key = value_key(statement.document)
    path = ("figures", statement.figure, statement.index)
    return (*path, key) if key else path


def cite(statement: Statement) -> str:
    """A statement's page and source, in words."""
    return f"page {statement.page} of {statement.source}" if statement.page else statement.source


def quoted(statement: Statement) -> str:
    """A statement's value with its page and source, in words."""
    return f"{statement.value} ({cite(statement)})"


def stated_speeds(statement: Statement) -> tuple[str, ...]:
    """The speeds at which a statement holds, as printed: one, or both ends of a range; none if it names none."""
    at = statement.conditions.get(Condition.RPM, ())
    return (at,) if isinstance(at, str) else tuple(at)


def speed_words(speeds: Sequence[str]) -> str:
    """Speeds of ``stated_speeds`` in words."""
    return f"{' to '.join(speeds)} rpm"


def same_state_except(but: frozenset[str]) -> Callable[[Statement, Statement], bool]:
    """A test for two statements: in one state, and with no differing condition, apart from those in ``but``."""
    return lambda one, other: one.state == other.state and conditions_agree(one, other, but)


def conditions_agree(one: Statement, other: Statement, but: frozenset[str] = frozenset()) -> bool:
    """Whether no condition that both statements give differs, apart from those in ``but``."""
    if not one.at or not other.at:
        return True
    conditions = other.conditions
    return all(key in but or conditions.get(key, value) == value for key, value in one.at)
