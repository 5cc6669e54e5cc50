"""The engine that a calculation is for: a family of the book, or its stroke and rod as typed."""

from __future__ import annotations

from kb.cli import typed_values
from kb.cli.options import open_named_book
from kb.errors import QuantityError

TYPE_CHECKING = False
if TYPE_CHECKING:
    import argparse

    from kb.bench.wording import CrankGiven
    from kb.book.book import Book
    from kb.book.model.family import Family


def named_family(arguments: argparse.Namespace, first: str | None) -> tuple[Book, Family] | None:
    """The family that was named, first or by ``--family``, and its book; nothing when none was.

    Raises:
        QuantityError: two were named.
        LookUpError: there is no such family, or several.
    """
    if first and arguments.family and first != arguments.family:
        raise QuantityError(f"{first!r} and --family {arguments.family!r} are two families; name one")
    name = first or arguments.family
    if not name:
        return None
    book = open_named_book(arguments)
    return book, book.family(name, serial=arguments.serial, year=arguments.year)


def given_crank(arguments: argparse.Namespace, family: Family | None) -> CrankGiven | None:
    """Stroke and rod as typed, else those of the family, else nothing.

    Raises:
        QuantityError: only one of them is typed, or both beside a family.
        FigureUnknown: the family's file does not tell them.
    """
    from kb.bench.wording import CrankGiven

    if arguments.stroke is None and arguments.rod is None:
        return CrankGiven.of(family) if family else None
    if arguments.stroke is None or arguments.rod is None:
        raise QuantityError("stroke and rod go together; write both, such as --stroke '64 mm' --rod '120 mm'")
    if family:
        raise QuantityError(f"stroke and rod of {family.id} are in the book; name it, or write --stroke and --rod")
    return CrankGiven(typed_values.length("--stroke", arguments.stroke), typed_values.length("--rod", arguments.rod))
