"""The role of each statement in the standing of a figure: it counts, or it is superseded, withdrawn, or a reprint."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from enum import StrEnum
from typing import TYPE_CHECKING, NamedTuple

from kb.book.model.answer import COUNTS
from kb.book.model.family import Address, Fit, Source, Statement

if TYPE_CHECKING:
    from kb.book.model.documents import WithdrawnDocument


class Role(StrEnum):
    """The role of a statement in the standing of its figure."""

    COUNTS = COUNTS
    REPRINT = "reprint"
    HEARSAY = "hearsay"
    SUPERSEDED = "superseded"
    WITHDRAWN = "withdrawn"


class Evidence(NamedTuple):
    """A statement with its role."""

    statement: Statement
    role: Role
    reason: str = ""


def original_of(source: str, sources: Mapping[str, Source]) -> str:
    """The original that a source reprints, through any number of reprints; itself if it reprints none."""
    found = sources.get(source)
    if found is None or not found.reprint_of:  # the usual case
        return source
    seen = [source]
    while found and found.reprint_of:
        source = found.reprint_of
        if source in seen:  # sources that reprint each other in a circle count as one original
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
    """The statement of the same figure that supersedes ``statement``, for engines that lie in ``parts``.

    With ``sources``, a statement that supersedes a page also supersedes the same page of a reprint.
    """
    origins = {statement.source, original_of(statement.source, sources or {})}
    for other in statements:
        if other.supersedes and statement is not other and applies(other, parts):
            source, page = other.supersedes
            if source in origins and page in ("", statement.page):
                return other
    return None


def applies(statement: Statement, parts: frozenset[Fit]) -> bool:
    """Whether a statement holds for engines that lie in ``parts``."""
    return statement.only is None or statement.only in parts


def all_count(figure: Iterable[Statement], withdrawn: Sequence[WithdrawnDocument]) -> bool:
    """Whether nothing of a figure was superseded or withdrawn, as nearly always."""
    return not withdrawn and not any("supersedes" in one.document for one in figure)


def roles_of(
    statements: Sequence[Statement],
    figure: Sequence[Statement],
    sources: Mapping[str, Source],
    parts: frozenset[Fit],
    withdrawn: Sequence[WithdrawnDocument],
) -> list[Evidence]:
    """The role of each statement for engines that lie in ``parts``: withdrawn, superseded, or counting.

    Arguments as for ``judge``; the statements are of one figure and none is an ``absent``.
    """
    if all_count(figure, withdrawn):
        return [Evidence(one, Role.COUNTS) for one in statements]
    superseding = [one for one in figure if "supersedes" in one.document]
    found_wrong = [(Address.read(entry["statement"]), entry["because"]) for entry in withdrawn]
    found = []
    for statement in statements:
        because = next((words for address, words in found_wrong if address.matches(statement)), None)
        if because is not None:
            found.append(Evidence(statement, Role.WITHDRAWN, because))
        elif by := superseded_by(statement, superseding, parts, sources):
            page = f" page {by.page}" if by.page else ""
            found.append(Evidence(statement, Role.SUPERSEDED, f"by {by.source}{page}"))
        else:
            found.append(Evidence(statement, Role.COUNTS))
    return found


def is_hearsay(statement: Statement, sources: Mapping[str, Source]) -> bool:
    """Whether a statement is memory or common practice."""
    source = sources.get(statement.source)
    return source is not None and source.hearsay


def as_hearsay(found: Evidence, sources: Mapping[str, Source]) -> Evidence:
    """The evidence, with the role of hearsay if it counts but is hearsay; used where there is an original beside it."""
    if found.role is Role.COUNTS and is_hearsay(found.statement, sources):
        return Evidence(found.statement, Role.HEARSAY, sources[found.statement.source].kind)
    return found


def mark_reprints(evidence: Sequence[Evidence], sources: Mapping[str, Source]) -> list[Evidence]:
    """Mark reprints beside their original, or beside another reprint of it, since they count only once."""
    counted: set[str] = set()
    marked = []
    originals_first = sorted(
        evidence, key=lambda one: original_of(one.statement.source, sources) != one.statement.source
    )
    reprints = set()
    for found in originals_first:
        if found.role is Role.COUNTS:
            key = original_of(found.statement.source, sources)
            if key in counted and found.statement.source != key:
                reprints.add(id(found))
            counted.add(key)
    for found in evidence:
        if id(found) in reprints:
            found = Evidence(found.statement, Role.REPRINT, f"of {original_of(found.statement.source, sources)}")
        marked.append(found)
    return marked
