"""The command ``stopscrew``: one file a command, nothing heavy imported before it is needed."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from importlib import import_module

from kb.cli.options import Help

DONE, ERRORS, USAGE, NOT_FOUND, REFUSED, UNREADABLE = range(6)
"""Exit codes: done; errors found; usage; not found, or several; refused; the book can not be read."""

_COMMANDS = ("find", "show", "check", "rule", "compile")

_EPILOG = """\
examples:
  stopscrew find ketch 47
  stopscrew show skerrow/ketch-47
  stopscrew show skerrow/ketch-47 max-advance --state cranking
  stopscrew check --specs specs
  stopscrew rule window-inverted

exit codes: 0 done; 1 errors in the data; 2 usage; 3 not found, or several; 4 refused; 5 the book can not be read
"""


def parser(only: str = "") -> argparse.ArgumentParser:
    """The command line as argparse sees it; with ``only`` the command that is to be run, since each takes its time."""
    top = argparse.ArgumentParser(
        prog="stopscrew",
        description="Figures for setting spark timing and throttle linkage on old outboards, each with its source.",
        epilog=_EPILOG,
        formatter_class=Help,
    )
    commands = top.add_subparsers(dest="command", required=True, metavar="COMMAND")
    for command in (only,) if only in _COMMANDS else _COMMANDS:
        import_module(f"kb.cli.{command}").add(commands)
    return top


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command; the exit code."""
    words = sys.argv[1:] if argv is None else argv
    arguments = parser(*words[:1]).parse_args(words)
    from kb.errors import BookError, BookHasFaults, LookUpError, Refusal

    try:
        code: int = arguments.run(arguments)
        sys.stdout.flush()
    except BrokenPipeError:  # whoever read our output has had enough
        sys.stderr.close()
        return DONE
    except (LookUpError, Refusal, BookError, BookHasFaults) as error:
        kinds = ((LookUpError, NOT_FOUND), (Refusal, REFUSED), (BookError, UNREADABLE), (BookHasFaults, ERRORS))
        from kb.cli.rendering import print_error

        print_error(error, getattr(arguments, "opened", None), as_json=getattr(arguments, "json", False))
        return next(code for kind, code in kinds if isinstance(error, kind))
    return code
