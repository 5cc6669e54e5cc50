"""``stopscrew check``: every mistake in a folder of YAML files, at its line."""

from __future__ import annotations

import argparse
import os
import sys

from kb.cli import FAILED
from kb.cli.options import add_command, add_format, cache_beside, without_plugins

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Sequence

    from kb.cli.options import Commands
    from kb.finding import Finding


def add(commands: Commands) -> None:
    """The command's arguments."""
    command = add_command(
        commands,
        "check",
        "examples:\n  stopscrew check\n  stopscrew check --specs specs --strict\n  stopscrew check --format sarif\n\n"
        "exit codes: 0 no errors; 1 errors or, with --strict, warnings; 2 usage; 5 the folder cannot be read;\n"
        "  6 a rule or a reporter failed, whatever else was found: stopscrew rule internal-error\n",
    )
    command.add_argument("--specs", metavar="DIR", default="specs", help="the folder to check (specs)")
    add_format(command, "text", "json", "sarif", "github")
    command.add_argument("--strict", action="store_true", help="exit with 1 for warnings too")
    command.add_argument("--jobs", type=int, metavar="N", help="number of processes (one per core)")
    command.add_argument(
        "--cache", metavar="FILE", help="the file that keeps results between runs (build/check.cache beside DIR)"
    )
    command.add_argument("--no-cache", action="store_true", help="check everything again and keep no results")
    command.set_defaults(run=run)


def run(arguments: argparse.Namespace) -> int:
    """Print the findings; return 1 if there are errors or, with ``--strict``, warnings, and 6 if anything failed."""
    from pathlib import Path

    from kb.finding import has_failures
    from kb.intake.check.whole_folder import check

    without_plugins()
    folder = Path(arguments.specs)
    cache = None if arguments.no_cache else Path(arguments.cache or cache_beside(arguments.specs))
    bar = _bar if sys.stderr.isatty() else None
    checked = check(folder, cache, arguments.jobs, bar)
    if bar:
        print("\r\x1b[K", end="", file=sys.stderr)
    try:
        printed = _printed(arguments, checked.findings, checked.files)
    except Exception as error:
        _print_plain(arguments, checked.findings, error)
        return FAILED
    print(printed.rstrip("\n"))
    if has_failures(checked.findings):
        return FAILED
    counted = (
        checked.findings if arguments.strict else [found for found in checked.findings if found.severity == "error"]
    )
    return 1 if counted else 0


def _printed(arguments: argparse.Namespace, findings: Sequence[Finding], files: int) -> str:
    prefix = _prefix(arguments)
    match arguments.format:
        case "json":
            from kb.intake.reporters.json import print_json

            return print_json(findings, prefix, files)
        case "sarif":
            from kb.intake.reporters.sarif import print_sarif

            return print_sarif(findings, prefix, files)
        case "github":
            from kb.intake.reporters.github import print_github

            return print_github(findings, prefix, files)
        case _:
            from kb.intake.reporters.text import print_text

            colour = sys.stdout.isatty() and "NO_COLOR" not in os.environ
            return print_text(findings, prefix, files, colour=colour)


def _print_plain(arguments: argparse.Namespace, findings: Sequence[Finding], error: Exception) -> None:
    """What the reporter could not print, on standard error: a program that reads the other form is not given this."""
    from kb.intake.reporters.plain import print_after_failure

    def again(some: Sequence[Finding]) -> str:
        return _printed(arguments, some, len(some))

    printed = print_after_failure(arguments.format, error, again, findings, _prefix(arguments))
    print(printed, end="", file=sys.stderr)


def _prefix(arguments: argparse.Namespace) -> str:
    return str(arguments.specs).rstrip("/") + "/"


def _bar(done: int, whole: int) -> None:
    """Show a progress bar on standard error; called once the work has taken a second."""
    width = 40
    filled = width * done // max(1, whole)
    print(f"\r{'#' * filled}{'.' * (width - filled)} {done} of {whole} files", end="", file=sys.stderr, flush=True)
