"""Options that several commands share, and opening the book that they name."""

from __future__ import annotations

import argparse

TYPE_CHECKING = False
if TYPE_CHECKING:
    from pathlib import Path

    from kb.book.book import Book

    Commands = argparse._SubParsersAction[argparse.ArgumentParser]

CONDITIONS = ("rpm", "gear", "cylinder", "bank", "carburettor", "module", "engine", "plugs")


class Help(argparse.RawDescriptionHelpFormatter):
    """Help of one width everywhere: to ask the terminal, for each argument, takes longer than to look up a figure."""

    def __init__(self, prog: str) -> None:
        super().__init__(prog, width=100)


def add_command(commands: Commands, name: str, summary: str, epilog: str) -> argparse.ArgumentParser:
    """A command with its one-line summary and examples."""
    return commands.add_parser(
        name, help=summary, description=summary[0].upper() + summary[1:] + ".", epilog=epilog,
        formatter_class=Help,
    )  # fmt: skip


def add_book(command: argparse.ArgumentParser) -> None:
    """Which book, and whether the answer is JSON."""
    command.add_argument("--specs", metavar="DIR", help="read this folder of YAML files instead of the shipped book")
    command.add_argument("--book", metavar="FILE", help="read this compiled book instead of the shipped one")
    command.add_argument("--json", action="store_true", help="print JSON")


def open_named_book(arguments: argparse.Namespace) -> Book:
    """The book that the options name, else the shipped one; it is kept with them, for the foot of an error."""
    from kb import open_book

    arguments.opened = open_book(arguments.specs or arguments.book)
    opened: Book = arguments.opened
    return opened


def cache_beside(specs: str) -> Path:
    """Where results of checks are kept between runs: under ``build/`` beside the folder."""
    from pathlib import Path

    return Path(specs).resolve().parent / "build" / "check.cache"
