"""A frozen pydantic model for each kind of file.

Files import downward in this order: key_help, scalars, spelling, value_checks, validation_errors, parsing,
value_keys, statement, catalogue, family, retired, routine.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from importlib import import_module

from kb.intake.models.scalars import Document


@dataclass(frozen=True)
class Kind:
    """A kind of file: its model (module and class), its folder in the book, and how many parts its id has."""

    name: str
    place: str
    folder: str
    depth: int

    @cached_property
    def model(self) -> type[Document]:
        """Its model, built on first use: building all of them takes longer than checking a hundred files."""
        module, name = self.place.split(".")
        model: type[Document] = getattr(import_module(f"{__name__}.{module}"), name)
        model.model_rebuild()
        return model


KINDS: dict[str, Kind] = {
    kind.name: kind
    for kind in (
        Kind("figure", "catalogue.FigureFile", "catalogue", 1),
        Kind("maker", "catalogue.MakerFile", "makers", 1),
        Kind("source", "catalogue.SourceFile", "sources", 1),
        Kind("caution", "routine.CautionFile", "cautions", 1),
        Kind("routine", "routine.RoutineFile", "routines", 1),
        Kind("family", "family.FamilyFile", "families", 2),
        Kind("report", "routine.ReportFile", "reports", 3),
        Kind("retired", "retired.RetiredFile", "retired.yaml", 0),
        Kind("withdrawn", "retired.WithdrawnFile", "withdrawn.yaml", 0),
    )
}
"""Every kind of file by name. ``depth`` is how many parts an id of that kind has; 0 means a single file."""

__all__ = ["KINDS", "Document", "Kind"]
