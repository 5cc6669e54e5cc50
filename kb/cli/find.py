"""``stopscrew find``: families by what is known of them."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING, Any

from kb.cli.options import add_book, add_command, open_named_book

if TYPE_CHECKING:
    from kb.book.find import Hit
    from kb.cli.options import Commands


def add(commands: Commands) -> None:
    """The command's arguments."""
    command = add_command(
        commands,
        "find",
        "examples:\n  stopscrew find ketch 47\n  stopscrew find skerrow 1980\n  stopscrew find kecth47\n",
    )
    command.add_argument("words", nargs="+", metavar="WORD", help="what is known, in any order; slips are forgiven")
    command.add_argument("--limit", type=int, default=20, metavar="N", help="show at most this many (20)")
    add_book(command)
    command.set_defaults(run=run)


def run(arguments: argparse.Namespace) -> int:
    """Print the families found, best first; 3 when there are none."""
    book = open_named_book(arguments)
    hits = book.find(" ".join(arguments.words), max(1, arguments.limit))
    from kb.cli.rendering import foot, print_json, print_lines

    if arguments.format == "json":
        print_json({"families": [document(hit) for hit in hits], "date": book.date, "invented": book.invented})
    else:
        width = max((len(hit.family) for hit in hits), default=0)
        lines = [
            f"{hit.family:<{width}}  {hit.maker} {hit.name}, {hit.power or 'power not given'}, "
            f"{hit.years or 'years not given'}{f'  ({hit.matched})' if hit.matched else ''}"
            for hit in hits
        ]
        print_lines([*(lines or ["nothing found; try fewer words, or the maker and the power"]), "", *foot(book)])
    return 0 if hits else 3


def document(hit: Hit) -> dict[str, Any]:
    """A hit as plain values for JSON."""
    import dataclasses

    return dataclasses.asdict(hit)
