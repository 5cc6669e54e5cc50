"""One frozen pydantic model for each kind of file.

Files import downward in this order: scalars, wording, checks, values, parts, family, catalogue, work, ended.
"""

from __future__ import annotations

from dataclasses import dataclass

from kb.intake.documents.catalogue import FigureKind, Maker, Source
from kb.intake.documents.ended import Retired, Withdrawn
from kb.intake.documents.family import Family
from kb.intake.documents.scalars import Document
from kb.intake.documents.work import Caution, Report, Routine


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of file: its model, where it lies below the book's folder, and how many parts its id has."""

    name: str
    model: type[Document]
    folder: str
    depth: int


KINDS: dict[str, Kind] = {
    kind.name: kind
    for kind in (
        Kind("figure", FigureKind, "catalogue", 1),
        Kind("maker", Maker, "makers", 1),
        Kind("source", Source, "sources", 1),
        Kind("caution", Caution, "cautions", 1),
        Kind("routine", Routine, "routines", 1),
        Kind("family", Family, "families", 2),
        Kind("report", Report, "reports", 3),
        Kind("retired", Retired, "retired.yaml", 0),
        Kind("withdrawn", Withdrawn, "withdrawn.yaml", 0),
    )
}
"""Every kind of file by name. ``depth`` is how many parts an id of that kind has; 0 is a single file."""

__all__ = ["KINDS", "Document", "Kind"]
