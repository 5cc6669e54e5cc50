"""How well a figure is supported: which originals state it, and whether they agree."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, NamedTuple

from kb.book.evidence.agreement import agreement, safest
from kb.book.evidence.roles import (
    Evidence,
    Role,
    applies,
    as_hearsay,
    is_hearsay,
    mark_reprints,
    original_of,
    roles_of,
    superseded_by,
)
from kb.book.model.crank_geometry import Crank
from kb.book.model.engine_kinds import engine_kinds
from kb.book.model.family import Absent, Fit, Source, Statement, stated_values
from kb.book.model.standing import Standing
from kb.quantity import Value, value_key
from kb.vocabulary.catalogue import SafestEnd

if TYPE_CHECKING:
    from kb.book.model.documents import WithdrawnDocument

__all__ = [
    "Evidence",
    "Judgement",
    "Role",
    "Standing",
    "applies",
    "judgement_of",
    "judgements",
    "original_of",
    "roles_of",
    "superseded_by",
]


class Judgement(NamedTuple):
    """The judgement of like statements: without a value when none counts, or in a dispute without a safest end.

    ``holds`` is the value, or the statement whose value it is, which is then read only when asked for. ``same`` is
    false where values that agree are not printed the same, ``judged`` where a program cannot compare several, such as
    marks in words.
    """

    standing: Standing | None
    holds: Value | Statement | None
    evidence: tuple[Evidence, ...] = ()
    safest_end: str = ""
    same: bool = True
    absent: tuple[Statement, ...] = ()
    judged: bool = True

    @property
    def value(self) -> Value | None:
        """The value that a look-up answers with."""
        value = self.holds.value if isinstance(self.holds, Statement) else self.holds
        return None if isinstance(value, Absent) else value

    @property
    def counting(self) -> tuple[Statement, ...]:
        """The statements on which the value rests, reprints among them."""
        return tuple(one.statement for one in self.evidence if one.role in (Role.COUNTS, Role.REPRINT))


def judgement_of(
    like: Sequence[Statement],
    figure: Sequence[Statement],
    sources: Mapping[str, Source],
    *,
    parts: frozenset[Fit] = frozenset(),
    withdrawn: Sequence[WithdrawnDocument] = (),
    crank: Crank | None = None,
    safest_end: str = SafestEnd.NONE,
) -> Judgement:
    """Judge like statements: one figure, one state, the same conditions, one kind of engine.

    ``figure`` holds all statements of the figure, among which are those that supersede; ``parts`` the parts of the
    family that hold the engine; ``withdrawn`` the family's entries of withdrawn.yaml. The order of the statements
    makes no difference to the standing. A superseded statement does not count again when its successor is withdrawn.
    """
    speaking = [one for one in like if one.only is None or one.only in parts]
    stated = [one for one in speaking if not one.absent]
    absent = tuple(one for one in speaking if one.absent) if len(stated) < len(speaking) else ()
    evidence = roles_of(stated, figure, sources, parts, withdrawn)
    counting = [found.statement for found in evidence if found.role is Role.COUNTS]
    if not counting:
        return Judgement(None, None, tuple(evidence), absent=absent)
    if len(counting) == 1:
        return Judgement(Standing.SINGLE, counting[0], tuple(evidence), absent=absent)
    originals = [one for one in counting if not is_hearsay(one, sources)]
    if originals and len(originals) < len(counting):
        evidence, counting = [as_hearsay(found, sources) for found in evidence], originals
    roots = {original_of(one.source, sources) for one in counting}
    evidence = mark_reprints(evidence, sources) if len(roots) < len(counting) else evidence
    agreed = Standing.AGREED if len(roots) > 1 and originals else Standing.SINGLE
    if _printed_alike(counting):
        return Judgement(agreed, counting[0], tuple(evidence), absent=absent)
    values = stated_values(counting)
    found = agreement(values, crank)
    if found is None:
        return Judgement(Standing.SINGLE, counting[0], tuple(evidence), same=False, absent=absent, judged=False)
    if found.agree:
        return Judgement(agreed, found.common, tuple(evidence), same=found.same, absent=absent)
    index = safest(values, safest_end, crank)
    chosen = None if index is None else values[index]
    return Judgement(
        Standing.DISPUTED, chosen, tuple(evidence), safest_end if chosen is not None else "", False, absent
    )


def judgements(
    statements: Sequence[Statement],
    sources: Mapping[str, Source],
    fits: Sequence[Fit],
    *,
    withdrawn: Sequence[WithdrawnDocument] = (),
    crank: Crank | None = None,
    safest_end: str = SafestEnd.NONE,
) -> list[tuple[tuple[Statement, ...], Judgement]]:
    """Every judgement of a figure's statements: for each state and set of conditions, and each kind of engine.

    Kinds of engine with the same statements and the same judgement are given once.
    """
    groups: dict[object, list[Statement]] = {}
    for statement in statements:
        groups.setdefault((statement.state, statement.at), []).append(statement)
    kinds = engine_kinds(fits, [one.only for one in statements if one.only])
    found: dict[object, tuple[tuple[Statement, ...], Judgement]] = {}
    for like in groups.values():
        for parts in kinds:
            holding = tuple([one for one in like if one.only is None or one.only in parts])
            if holding:
                judgement = judgement_of(
                    holding, statements, sources, parts=parts, withdrawn=withdrawn, crank=crank, safest_end=safest_end
                )
                key = (*[one.index for one in holding], *[one.role for one in judgement.evidence])
                found.setdefault(key, (holding, judgement))
    return list(found.values())


def _printed_alike(statements: Sequence[Statement]) -> bool:
    """Whether all print the same under the same key; compared without reading the values."""
    first, *others = (one.document for one in statements)
    key = value_key(first)
    raw = first.get(key)
    if key not in ("from", "to"):
        return all(other.get(key) == raw for other in others)
    return all(other.get("from") == first.get("from") and other.get("to") == first.get("to") for other in others)
