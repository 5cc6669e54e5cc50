"""``stopscrew compile``: from a folder of YAML files to a compiled book."""

from __future__ import annotations

import argparse

from kb.cli.options import add_command, add_format, cache_beside, without_plugins

TYPE_CHECKING = False
if TYPE_CHECKING:
    from kb.book.book import Book
    from kb.cli.options import Commands


def add(commands: Commands) -> None:
    """The command's arguments."""
    command = add_command(
        commands, "compile", "examples:\n  stopscrew compile --specs specs --out build/stopscrew.book\n"
    )
    command.add_argument("--specs", metavar="DIR", default="specs", help="the folder to compile (specs)")
    command.add_argument(
        "--out", metavar="FILE", default="build/stopscrew.book", help="the compiled book (build/stopscrew.book)"
    )
    command.add_argument(
        "--verify", metavar="FILE", help="instead of compiling, verify every checksum of this compiled book"
    )
    command.add_argument("--jobs", type=int, metavar="N", help="number of processes of the check (one per core)")
    add_format(command)
    command.set_defaults(run=run)


def run(arguments: argparse.Namespace) -> int:
    """Compile, or verify; if the folder has errors, return 1 and leave the previous compiled book in place."""
    from kb.cli.rendering import foot, print_json, print_lines

    if arguments.verify:
        from kb.book.store.compiled import CompiledBook

        book: Book = (store := CompiledBook(arguments.verify))
        store.verify()
        said = {"book": arguments.verify, "families": len(book.family_ids()), "verified": True}
        words = f"{arguments.verify}: {said['families']} families, all checksums correct"
    else:
        from pathlib import Path

        from kb import open_book
        from kb.intake.compiling import compile_book

        without_plugins()
        made = compile_book(Path(arguments.specs), Path(arguments.out), cache_beside(arguments.specs), arguments.jobs)
        book = open_book(made.path)
        said = {"book": str(made.path), "families": made.families, "warnings": len(made.warnings)}
        warned = f", {len(made.warnings)} warnings (stopscrew check shows them)" if made.warnings else ""
        words = f"{made.path}: {made.families} families{warned}"
    if arguments.format == "json":
        print_json({**said, "date": book.date, "invented": book.invented})
    else:
        print_lines([words, *foot(book)])
    return 0
