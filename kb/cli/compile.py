"""``stopscrew compile``: a folder of YAML files to one compiled book."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from kb.cli.options import add_command

if TYPE_CHECKING:
    from kb.cli.options import Commands


def add(commands: Commands) -> None:
    """The command's arguments."""
    command = add_command(
        commands, "compile", "check a folder and compile it to one file that answers look-ups",
        "examples:\n  stopscrew compile --specs specs --out build/stopscrew.book\n",
    )  # fmt: skip
    command.add_argument("--specs", metavar="DIR", default="specs", help="the folder to compile (specs)")
    command.add_argument(
        "--out", metavar="FILE", default="build/stopscrew.book", help="the file (build/stopscrew.book)"
    )
    command.add_argument(
        "--verify", metavar="FILE", help="compile nothing; verify every checksum of this compiled book"
    )
    command.add_argument("--json", action="store_true", help="print JSON")
    command.set_defaults(run=run)


def run(arguments: argparse.Namespace) -> int:
    """Compile, or verify; errors in the folder exit with 1 and leave the last good file in place."""
    raise SystemExit(str(arguments))
