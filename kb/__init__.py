"""Stopscrew: a spec book for setting spark timing and throttle linkage on old outboard engines.

>>> import kb
>>> book = kb.open_book()
>>> book.look_up("skerrow/ketch-47", "max-advance", "cranking", serial=301455).printed
'24° BTDC'

Everything public is named here and imported when first used, so that a look-up stays light.
"""

from __future__ import annotations

from importlib import import_module

TYPE_CHECKING = False  # as typing's, whose import alone is a third of a bare start
if TYPE_CHECKING:
    import os
    from typing import Any

    from kb.book.answer import Answer, Cited
    from kb.book.book import Book
    from kb.book.find import Hit
    from kb.book.records import Family, FigureKind, Maker, Source, Statement
    from kb.book.standing import Standing
    from kb.errors import BookError, BookHasFaults, LookUpError, QuantityError, Refusal, StopscrewError
    from kb.finding import Finding, Place, Severity
    from kb.intake.run import check_folder
    from kb.quantity import Quantity, Unit, read_value

_HOMES = {
    "Answer": "kb.book.answer",
    "Book": "kb.book.book",
    "BookError": "kb.errors",
    "BookHasFaults": "kb.errors",
    "Cited": "kb.book.answer",
    "Family": "kb.book.records",
    "FigureKind": "kb.book.reference",
    "Finding": "kb.finding",
    "Hit": "kb.book.find",
    "LookUpError": "kb.errors",
    "Maker": "kb.book.reference",
    "Place": "kb.finding",
    "Quantity": "kb.quantity",
    "QuantityError": "kb.errors",
    "Refusal": "kb.errors",
    "Severity": "kb.finding",
    "Source": "kb.book.reference",
    "Standing": "kb.book.standing",
    "Statement": "kb.book.records",
    "StopscrewError": "kb.errors",
    "Unit": "kb.quantity",
    "check_folder": "kb.intake.run",
    "read_value": "kb.quantity",
}

__all__ = sorted([*_HOMES, "open_book"])


def open_book(path: str | os.PathLike[str] | None = None) -> Book:
    """The book at a path: a compiled file, or a folder of YAML files, which is checked first.

    Without a path it is the book that is shipped with the package: invented demonstration data. In a source checkout,
    which ships none, it is compiled from ``specs/`` into ``build/`` when that is newer.

    Raises:
        BookMissing, BookForeign, BookDamaged: there is no book there, or not a sound one.
        BookHasFaults: the folder has errors; ``findings`` lists them.
    """
    import os

    here = os.fspath(path) if path is not None else _shipped()
    if os.path.isdir(here):
        from pathlib import Path

        from kb.intake.compile import open_folder

        return open_folder(Path(here))
    from kb.book.store import Store

    return Store(here)


def _shipped() -> str:
    """The compiled book in the package; in a source checkout the one in ``build/``, made anew when it is stale."""
    import os

    package = os.path.dirname(os.path.abspath(__file__))
    shipped = os.path.join(package, "shipped.book")
    specs = os.path.join(os.path.dirname(package), "specs")
    if os.path.exists(shipped) or not os.path.isdir(specs):
        return shipped
    compiled = os.path.join(os.path.dirname(package), "build", "shipped.book")
    written = os.path.getmtime(compiled) if os.path.exists(compiled) else -1.0
    changed = (os.stat(os.path.join(folder, name)).st_mtime for folder, _, names in os.walk(specs) for name in names)
    folders = (os.stat(folder).st_mtime for folder, _, _ in os.walk(specs))
    if max((*changed, *folders)) >= written:
        from pathlib import Path

        from kb.intake.compile import compile_book

        compile_book(Path(specs), Path(compiled), Path(compiled).parent / "check.cache")
    return compiled


def __getattr__(name: str) -> Any:
    home = _HOMES.get(name)
    if home is None:
        raise AttributeError(f"kb has no {name!r}; it has {', '.join(__all__)}")
    return getattr(import_module(home), name)


def __dir__() -> list[str]:
    return __all__
