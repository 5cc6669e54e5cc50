"""How well a figure is supported: which originals state it, and whether they agree."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from enum import StrEnum

from kb.book.address import Address
from kb.book.agreement import Agreement, agreement, safest
from kb.book.engines import engine_kinds
from kb.book.geometry import Crank
from kb.book.records import Document, Fit, Source, Statement
from kb.quantity import Value


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


@dataclass(frozen=True, slots=True)
class Evidence:
    """A statement with its role."""

    statement: Statement
    role: Role
    reason: str = ""


@dataclass(frozen=True, slots=True)
class Judgement:
    """What like statements come to: no value when there is none that counts, or a dispute without a safest end."""

    standing: Standing | None
    value: Value | None
    evidence: tuple[Evidence, ...] = ()
    safest_end: str = ""
    same: bool = True
    absent: tuple[Statement, ...] = field(default=())


def root(source: str, sources: Mapping[str, Source]) -> str:
    """The original that a source reprints, through any number of reprints; itself if it reprints none."""
    seen = {source}
    while (found := sources.get(source)) and found.reprint_of and found.reprint_of not in seen:
        source = found.reprint_of
        seen.add(source)
    return source


def superseded_by(statement: Statement, statements: Iterable[Statement], parts: frozenset[Fit]) -> Statement | None:
    """The statement of the same figure that supersedes one, for engines that lie in ``parts``."""
    for other in statements:
        if other.supersedes and (other.only is None or other.only in parts):
            source, page = other.supersedes
            if statement.source == source and page in ("", statement.page) and statement is not other:
                return other
    return None


def applies(statement: Statement, parts: frozenset[Fit]) -> bool:
    """Whether a statement speaks of engines that lie in ``parts``."""
    return statement.only is None or statement.only in parts


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
    makes no difference to the standing.
    """
    evidence = [_evidence(one, figure, sources, parts, withdrawn) for one in like if applies(one, parts) and not one.absent]
    absent = tuple(one for one in like if applies(one, parts) and one.absent)
    counting = [found for found in evidence if found.role is Role.COUNTS]
    if not counting:
        return Judgement(None, None, tuple(evidence), absent=absent)
    if any(sources[found.statement.source].hearsay for found in counting if found.statement.source in sources):
        originals = [found for found in counting if not _hearsay(found.statement, sources)]
        if originals:
            evidence = [_demoted(found, sources) for found in evidence]
            counting = originals
    values = [found.statement.value for found in counting]
    found_agreement = agreement(values, crank) if len(values) > 1 else Agreement(True, values[0])
    roots = {root(found.statement.source, sources) for found in counting}
    evidence = _mark_reprints(evidence, sources)
    if found_agreement is None:
        return Judgement(Standing.SINGLE, values[0], tuple(evidence), same=False, absent=absent)
    if found_agreement.agree:
        independent = len(roots) > 1 and not all(_hearsay(found.statement, sources) for found in counting)
        standing = Standing.AGREED if independent else Standing.SINGLE
        return Judgement(standing, found_agreement.common, tuple(evidence), same=found_agreement.same, absent=absent)
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
    """Every judgement that a figure's statements come to: for each state and set of conditions, each kind of engine."""
    found: dict[tuple[Statement, ...], Judgement] = {}
    groups: dict[object, list[Statement]] = {}
    for statement in statements:
        groups.setdefault((statement.state, statement.at), []).append(statement)
    kinds = engine_kinds(fits, (one.only for one in statements if one.only))
    for like in groups.values():
        for parts in kinds:
            holding = tuple(one for one in like if applies(one, parts))
            if holding:
                found[holding] = judge(
                    holding, statements, sources, parts=parts, withdrawn=withdrawn, crank=crank, safest_end=safest_end
                )
    return list(found.items())


def _hearsay(statement: Statement, sources: Mapping[str, Source]) -> bool:
    return statement.source in sources and sources[statement.source].hearsay


def _evidence(
    statement: Statement,
    figure: Sequence[Statement],
    sources: Mapping[str, Source],
    parts: frozenset[Fit],
    withdrawn: Sequence[Document],
) -> Evidence:
    for entry in withdrawn:
        if Address.read(entry["statement"]).matches(statement):
            return Evidence(statement, Role.WITHDRAWN, entry["because"])
    if by := superseded_by(statement, figure, parts):
        return Evidence(statement, Role.SUPERSEDED, f"by {by.source}" + (f" page {by.page}" if by.page else ""))
    return Evidence(statement, Role.COUNTS)


def _demoted(found: Evidence, sources: Mapping[str, Source]) -> Evidence:
    if found.role is Role.COUNTS and _hearsay(found.statement, sources):
        return Evidence(found.statement, Role.HEARSAY, sources[found.statement.source].kind)
    return found


def _mark_reprints(evidence: Sequence[Evidence], sources: Mapping[str, Source]) -> list[Evidence]:
    """A reprint beside its original, or beside another reprint of it, counts once: the later ones are marked."""
    counted: set[str] = set()
    marked = []
    originals_first = sorted(evidence, key=lambda found: root(found.statement.source, sources) != found.statement.source)
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
