"""Figures for setting spark timing and throttle linkage on old outboard engines, each with its source.

>>> import kb
>>> book = kb.open_book()
>>> book.look_up("skerrow/ketch-47", "max-advance", "cranking", serial=301455).printed
'24° BTDC'

This is the public list, beside ``__version__``. Apart from the errors each name is imported when it is first used, so
that a look-up starts quickly. ``kb.errors`` draws the tree of errors.
"""

from __future__ import annotations

import os

from kb.errors import (
    BookDamaged,
    BookError,
    BookForeign,
    BookHasFaults,
    BookMissing,
    ConditionNeeded,
    ConditionNotFound,
    DeadCentreTooFar,
    Extrapolation,
    FamilyNotFound,
    FamilyRetired,
    FigureDisputed,
    FigureDoesNotApply,
    FigureNotFound,
    FigureNotStated,
    FigureUnknown,
    FigureWithdrawn,
    GeometryImpossible,
    LookUpError,
    MarginTooWide,
    NoCorrectionKnown,
    NotAnAngle,
    NotFinite,
    NumberNotPlain,
    OddFire,
    QuantityError,
    ReadingsContradict,
    Refusal,
    RoutineNotFound,
    SerialFitsNone,
    SerialNeeded,
    SeveralFamilies,
    StateNeeded,
    StateNotFound,
    StepNotFound,
    StopscrewError,
    UnitsNotComparable,
    UnknownUnit,
    WindowInverted,
    YearFitsNone,
    YearNeeded,
)

TYPE_CHECKING = False
if TYPE_CHECKING:
    from kb.book.book import Book
    from kb.book.find import Hit
    from kb.book.model.answer import Answer, Cited
    from kb.book.model.catalogue import FigureKind, Maker, Source
    from kb.book.model.engine_ranges import Fit, Range
    from kb.book.model.family import Family, Statement
    from kb.book.model.standing import Standing
    from kb.book.setting.aim import Aim
    from kb.book.setting.job import Job, JobStep
    from kb.book.setting.judge import Judged
    from kb.book.setting.rim_position import OnTheRim
    from kb.book.setting.when_running import WhenRunning
    from kb.calc.target import Verdict
    from kb.finding import Finding, Place, Severity
    from kb.quantity import Correction, Dimension, Form, Number, Order, Quantity, Side, Unit, Words, read_value
    from kb.working import Input, Step

    __version__: str

__all__ = [
    "Aim", "Answer", "Book", "BookDamaged", "BookError", "BookForeign", "BookHasFaults", "BookMissing", "Cited",
    "ConditionNeeded", "ConditionNotFound", "Correction", "DeadCentreTooFar", "Dimension", "Extrapolation",
    "Family", "FamilyNotFound", "FamilyRetired", "FigureDisputed", "FigureDoesNotApply", "FigureKind",
    "FigureNotFound", "FigureNotStated", "FigureUnknown", "FigureWithdrawn", "Finding", "Fit", "Form",
    "GeometryImpossible", "Hit", "Input", "Job", "JobStep", "Judged", "LookUpError", "Maker", "MarginTooWide",
    "NoCorrectionKnown", "NotAnAngle", "NotFinite", "Number", "NumberNotPlain", "OddFire", "OnTheRim", "Order",
    "Place", "Quantity", "QuantityError", "Range", "ReadingsContradict", "Refusal", "RoutineNotFound",
    "SerialFitsNone", "SerialNeeded", "SeveralFamilies", "Severity", "Side", "Source", "Standing", "StateNeeded",
    "StateNotFound", "Statement", "Step", "StepNotFound", "StopscrewError", "Unit", "UnitsNotComparable",
    "UnknownUnit", "Verdict", "WhenRunning", "WindowInverted", "Words", "YearFitsNone", "YearNeeded",
    "check_folder", "open_book", "read_value",
]  # fmt: skip

_HOMES = {
    "kb.book.setting.aim": ("Aim",),
    "kb.book.model.answer": ("Answer", "Cited"),
    "kb.book.book": ("Book",),
    "kb.book.find": ("Hit",),
    "kb.book.model.engine_ranges": ("Fit", "Range"),
    "kb.book.setting.job": ("Job", "JobStep"),
    "kb.book.setting.judge": ("Judged",),
    "kb.book.setting.rim_position": ("OnTheRim",),
    "kb.book.model.family": ("Family", "Statement"),
    "kb.book.model.catalogue": ("FigureKind", "Maker", "Source"),
    "kb.book.model.standing": ("Standing",),
    "kb.book.setting.when_running": ("WhenRunning",),
    "kb.calc.target": ("Verdict",),
    "kb.finding": ("Finding", "Place", "Severity"),
    "kb.quantity": (
        "Correction", "Dimension", "Form", "Number", "Order", "Quantity", "Side", "Unit", "Words", "read_value",
    ),
    "kb.working": ("Input", "Step"),
}  # fmt: skip
"""The module that each public name is imported from when it is first used."""


def open_book(path: str | os.PathLike[str] | None = None) -> Book:
    """The book at a path: a compiled file, or a folder of YAML files, which is checked first and then held in memory.

    Without a path it is the book that is shipped with the package: invented demonstration data. In a source checkout,
    which ships none, it is compiled from ``specs/`` into ``build/`` when that is newer.

    Raises:
        BookMissing: there is no such file or folder.
        BookForeign: the file is not a compiled book of this version.
        BookDamaged: the file has changed since it was written; also raised later, by whatever reads it.
        BookHasFaults: the folder has errors; ``findings`` lists them.
        kb.errors.InternalError: a rule has stopped with an exception; ``findings`` names it.
    """
    if path is None:
        return _open_shipped()
    return _open_folder(path) if os.path.isdir(path) else _open_file(path)


def check_folder(folder: str | os.PathLike[str]) -> list[Finding]:
    """Every finding of the YAML files below a folder, sorted by file and place.

    Raises:
        BookMissing: there is no such folder.
    """
    from pathlib import Path

    from kb.intake.check.whole_folder import check_folder

    return check_folder(Path(folder))


def _open_file(path: str | os.PathLike[str]) -> Book:
    from kb.book.store.compiled import CompiledBook

    return CompiledBook(path)


def _open_folder(path: str | os.PathLike[str]) -> Book:
    from pathlib import Path

    from kb.intake.compiling import open_folder

    return open_folder(Path(path))


def _open_shipped() -> Book:
    """The compiled book in the package; in a source checkout the one in ``build/``, compiled again when it is stale."""
    package = os.path.dirname(os.path.abspath(__file__))
    checkout = os.path.dirname(package)
    specs = f"{checkout}/specs"
    if not (os.path.isdir(specs) and os.path.isfile(f"{checkout}/pyproject.toml")):
        return _open_file(f"{package}/shipped.book")
    compiled = f"{checkout}/build/shipped.book"
    written = os.path.getmtime(compiled) if os.path.exists(compiled) else 0.0
    made_from = (specs, f"{package}/book", f"{package}/quantity", f"{package}/calc", f"{package}/vocabulary")
    if any(_newest(folder) >= written for folder in made_from):
        from pathlib import Path

        from kb.intake.compiling import compile_book

        try:
            compile_book(Path(specs), Path(compiled), Path(f"{checkout}/build/check.cache"))
        except OSError:  # a checkout without permission to write
            return _open_folder(specs)
    return _open_file(compiled)


def _newest(folder: str) -> float:
    """When anything at or below a folder was last written."""
    newest = os.stat(folder).st_mtime
    with os.scandir(folder) as entries:
        for entry in entries:
            if entry.is_dir():
                newest = newest if entry.name == "__pycache__" else max(newest, _newest(entry.path))
            else:
                newest = max(newest, entry.stat().st_mtime)
    return newest


def __getattr__(name: str) -> object:
    if name == "__version__":  # stands in pyproject.toml alone; the installed package knows it
        from importlib.metadata import version

        return version("stopscrew")
    for home, names in _HOMES.items():
        if name in names:
            import importlib

            found: object = getattr(importlib.import_module(home), name)
            globals()[name] = found
            return found
    raise AttributeError(f"kb has no {name!r}; it has {', '.join(__all__)}")


def __dir__() -> list[str]:
    return __all__
