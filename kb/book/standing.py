"""How well a figure is supported: which originals state it, and whether they agree."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from enum import StrEnum
from typing import NamedTuple

from kb.book.address import Address
from kb.book.agreement import agreement, safest
from kb.book.engines import engine_kinds
from kb.book.geometry import Crank
from kb.book.records import Document, Fit, Source, Statement
from kb.quantity import VALUE_KEYS, Value

_VALUE_KEYS = frozenset(VALUE_KEYS)


class Standing(StrEnum):
    """The standings of a figure that has a value; a screen calls it "how sure"."""

    AGREED = "agreed"
    SINGLE = "single"
    DISPUTED = "disputed"
    DERIVED = "derived"

    @property
    def weakness(self) -> int:
        """0 for the strongest."""
        return list(Standing).index(self) if self is not Standing.DERIVED else 1


class Role(StrEnum):
    """What a statement does in its standing."""

    COUNTS = "counts"
    REPRINT = "reprint"
    HEARSAY = "hearsay"
    SUPERSEDED = "superseded"
    WITHDRAWN = "withdrawn"


class Evidence(NamedTuple):
    """A statement with its role."""

    statement: Statement
    role: Role
    reason: str = ""


class Judgement(NamedTuple):
    """What like statements come to: no value when there is none that counts, or a dispute without a safest end.

    ``holds`` is the value, or the statement whose value it is, which is then read only when asked for. ``same`` is
    false where values that agree are not printed the same, ``judged`` where several are not for a program to judge,
    such as marks in words.
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
        """The value that answers."""
        return self.holds.value if isinstance(self.holds, Statement) else self.holds

    @property
    def counting(self) -> tuple[Statement, ...]:
        """The statements on which the value rests, reprints among them."""
        return tuple(one.statement for one in self.evidence if one.role in (Role.COUNTS, Role.REPRINT))


def root(source: str, sources: Mapping[str, Source]) -> str:
    """The original that a source reprints, through any number of reprints; itself if it reprints none."""
    found = sources.get(source)
    if found is None or not found.reprint_of:  # as nearly always
        return source
    seen = [source]
    while found and found.reprint_of:
        source = found.reprint_of
        if source in seen:  # each of a ring says that it reprints the next: they are one original, whichever is asked
            return min(seen[seen.index(source) :])
        seen.append(source)
        found = sources.get(source)
    return source


def superseded_by(
    statement: Statement,
    statements: Iterable[Statement],
    parts: frozenset[Fit],
    sources: Mapping[str, Source] | None = None,
) -> Statement | None:
    """The statement of the same figure that supersedes one, for engines that lie in ``parts``.

    With ``sources``, what supersedes a page also supersedes the same page of a reprint.
    """
    origins = {statement.source, root(statement.source, sources or {})}
    for other in statements:
        if other.supersedes and statement is not other and applies(other, parts):
            source, page = other.supersedes
            if source in origins and page in ("", statement.page):
                return other
    return None


def applies(statement: Statement, parts: frozenset[Fit]) -> bool:
    """Whether a statement speaks of engines that lie in ``parts``."""
    return statement.only is None or statement.only in parts


def weigh(
    statements: Sequence[Statement],
    figure: Sequence[Statement],
    sources: Mapping[str, Source],
    parts: frozenset[Fit],
    withdrawn: Sequence[Document],
) -> list[Evidence]:
    """The role of each statement for engines that lie in ``parts``: withdrawn, superseded, or counting.

    Arguments as for ``judge``; the statements are of one figure and none is an ``absent``.
    """
    superseding = [one for one in figure if "supersedes" in one.document]
    if not superseding and not withdrawn:  # as nearly always
        return [Evidence(one, Role.COUNTS) for one in statements]
    found_wrong = [(Address.read(entry["statement"]), entry["because"]) for entry in withdrawn]
    found = []
    for statement in statements:
        because = next((words for address, words in found_wrong if address.matches(statement)), None)
        if because is not None:
            found.append(Evidence(statement, Role.WITHDRAWN, because))
        elif superseding and (by := superseded_by(statement, superseding, parts, sources)):
            page = f" page {by.page}" if by.page else ""
            found.append(Evidence(statement, Role.SUPERSEDED, f"by {by.source}{page}"))
        else:
            found.append(Evidence(statement, Role.COUNTS))
    return found


def judge(
    like: Sequence[Statement],
    figure: Sequence[Statement],
    sources: Mapping[str, Source],
    *,
    parts: frozenset[Fit] = frozenset(),
    withdrawn: Sequence[Document] = (),
    crank: Crank | None = None,
    safest_end: str = "none",
) -> Judgement:
    """Judge like statements: one figure, one state, the same conditions, one kind of engine.

    ``figure`` holds all statements of the figure, among which are those that supersede; ``parts`` the parts of the
    family that hold the engine; ``withdrawn`` the family's entries of withdrawn.yaml. The order of the statements
    makes no difference to the standing. What was superseded does not rise again when its successor is withdrawn.
    """
    speaking = [one for one in like if one.only is None or one.only in parts]
    stated = [one for one in speaking if not one.absent]
    absent = tuple(one for one in speaking if one.absent) if len(stated) < len(speaking) else ()
    evidence = weigh(stated, figure, sources, parts, withdrawn)
    counting = [found.statement for found in evidence if found.role is Role.COUNTS]
    if not counting:
        return Judgement(None, None, tuple(evidence), absent=absent)
    if len(counting) == 1:
        return Judgement(Standing.SINGLE, counting[0], tuple(evidence), absent=absent)
    originals = [one for one in counting if not _hearsay(one, sources)]
    if originals and len(originals) < len(counting):
        evidence, counting = [_demoted(found, sources) for found in evidence], originals
    roots = {root(one.source, sources) for one in counting}
    evidence = _mark_reprints(evidence, sources) if len(roots) < len(counting) else evidence
    agreed = Standing.AGREED if len(roots) > 1 and originals else Standing.SINGLE
    if _printed_alike(counting):
        return Judgement(agreed, counting[0], tuple(evidence), absent=absent)
    values = [one.value for one in counting]
    found = agreement(values, crank)
    if found is None:
        return Judgement(
            Standing.SINGLE, counting[0], tuple(evidence), same=False, absent=absent, judged=False
        )
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
    withdrawn: Sequence[Document] = (),
    crank: Crank | None = None,
    safest_end: str = "none",
) -> list[tuple[tuple[Statement, ...], Judgement]]:
    """Every judgement that a figure's statements come to: for each state and set of conditions, each kind of engine.

    Kinds of engine for which the same statements come to the same are told once.
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
                judgement = judge(
                    holding, statements, sources, parts=parts, withdrawn=withdrawn, crank=crank, safest_end=safest_end
                )
                key = (*[one.index for one in holding], *[one.role for one in judgement.evidence])
                found.setdefault(key, (holding, judgement))
    return list(found.values())


def _hearsay(statement: Statement, sources: Mapping[str, Source]) -> bool:
    source = sources.get(statement.source)
    return source is not None and source.hearsay


def _printed_alike(statements: Sequence[Statement]) -> bool:
    """Whether all print the same under the same key; no value is read for it."""
    first, *others = (one.document for one in statements)
    key = next((key for key in first if key in _VALUE_KEYS), "")
    raw = first.get(key)
    if key not in ("from", "to"):
        return all(other.get(key) == raw for other in others)
    return all(other.get("from") == first.get("from") and other.get("to") == first.get("to") for other in others)


def _demoted(found: Evidence, sources: Mapping[str, Source]) -> Evidence:
    if found.role is Role.COUNTS and _hearsay(found.statement, sources):
        return Evidence(found.statement, Role.HEARSAY, sources[found.statement.source].kind)
    return found


def _mark_reprints(evidence: Sequence[Evidence], sources: Mapping[str, Source]) -> list[Evidence]:
    """A reprint beside its original, or beside another reprint of it, counts once: the later ones are marked."""
    counted: set[str] = set()
    marked = []
    originals_first = sorted(evidence, key=lambda one: root(one.statement.source, sources) != one.statement.source)
    reprints = set()
    for found in originals_first:
        if found.role is Role.COUNTS:
            key = root(found.statement.source, sources)
            if key in counted and found.statement.source != key:
                reprints.add(id(found))
            counted.add(key)
    for found in evidence:
        if id(found) in reprints:
            found = Evidence(found.statement, Role.REPRINT, f"of {root(found.statement.source, sources)}")
        marked.append(found)
    return marked
