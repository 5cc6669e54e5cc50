"""``stopscrew check``: every slip in a folder of YAML files, at its line."""

from __future__ import annotations

import argparse
import sys

from kb.cli.options import Commands, add_command


def add(commands: Commands) -> None:
    """The command's arguments."""
    command = add_command(
        commands, "check", "check a folder of YAML files and report every slip at its line and column",
        "examples:\n  stopscrew check\n  stopscrew check --specs specs --strict\n  stopscrew check --format sarif\n",
    )  # fmt: skip
    command.add_argument("--specs", metavar="DIR", default="specs", help="the folder to check (specs)")
    command.add_argument("--format", choices=("text", "json", "sarif", "github"), default="text", help="how to print (text)")
    command.add_argument("--json", action="store_const", const="json", dest="format", help="the same as --format json")
    command.add_argument("--strict", action="store_true", help="exit with 1 on warnings too")
    command.add_argument("--jobs", type=int, metavar="N", help="processes to use (all cores)")
    command.add_argument("--cache", metavar="FILE", help="where to keep results between runs (build/check.cache beside DIR)")
    command.add_argument("--no-cache", action="store_true", help="check everything afresh and keep nothing")
    command.set_defaults(run=run)


def run(arguments: argparse.Namespace) -> int:
    """Print the findings; 1 when there are errors, or with ``--strict`` warnings."""
    raise SystemExit(f"{sys.argv} {arguments}")
