"""Choosing among what a figure is under different conditions: the one that was asked for, or an error that asks."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, TypeVar

from kb.book.answer import in_words
from kb.book.records import FigureKind, Statement, frozen
from kb.errors import ConditionNeeded, ConditionNotFound, QuantityError
from kb.quantity import read_number, read_quantity

Held = TypeVar("Held")


def alike(statements: Sequence[Statement]) -> list[list[Statement]]:
    """The statements in groups of one state and the same conditions."""
    if len(statements) == 1:
        return [[statements[0]]]
    groups: dict[object, list[Statement]] = {}
    for statement in statements:
        groups.setdefault((statement.state, statement.at), []).append(statement)
    return list(groups.values())


def choose(
    kind: FigureKind, held: Sequence[tuple[Sequence[Any], Held]], asked: Mapping[str, Any]
) -> tuple[Sequence[Any], Held]:
    """The one of several, each with statements (or a derived figure) that carry its conditions, that was asked for.

    What names more of the conditions asked for goes before what names fewer; what names another value is out.

    Raises:
        ConditionNotFound: nothing is known under those conditions, or the figure has no such condition.
        ConditionNeeded: several are left that say different things; candidates are their conditions.
    """
    for key in asked:
        if key not in kind.conditions:
            raise ConditionNotFound(f"{kind.label.lower()} does not depend on {key}", kind.conditions)
    texts = [in_words(like[0].at) or "no condition" for like, _ in held]
    scored = [(sum(key in dict(like[0].at) for key in asked), like, one) for like, one in held if _matches(like[0].at, asked)]
    if not scored:
        wanted = ", ".join(f"{key} {value}" for key, value in asked.items())
        raise ConditionNotFound(f"nothing is known of {kind.label.lower()} at {wanted}", texts)
    best = max(score for score, _, _ in scored)
    left = [(like, one) for score, like, one in scored if score == best]
    if len({str(getattr(one, "value", None)) for _, one in left}) > 1:
        keys = sorted({key for like, _ in left for key, _ in like[0].at})
        candidates = [in_words(like[0].at) or "no condition" for like, _ in left]
        raise ConditionNeeded(f"{kind.label.lower()} differs by {' and '.join(keys)}; say which", candidates)
    return left[0]


def _matches(at: tuple[tuple[str, Any], ...], asked: Mapping[str, Any]) -> bool:
    return all(key not in asked or _holds(value, asked[key]) for key, value in at)


def _holds(stated: Any, asked: Any) -> bool:
    """Whether a condition as stated (text, a pair of texts, or units with either) holds for what is asked."""
    if isinstance(asked, Mapping):
        pairs = dict(stated) if isinstance(stated, tuple) and stated and isinstance(stated[0], tuple) else {}
        return any(key in pairs and _holds(pairs[key], value) for key, value in asked.items())
    try:
        number = read_number(str(asked)).value
        shape = list(stated) if isinstance(stated, tuple) else stated
        return read_quantity("rpm", shape).holds(number)  # any plain unit: only the numbers are compared
    except QuantityError:
        return bool(stated == frozen(asked))
