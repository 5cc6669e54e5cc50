"""The command ``stopscrew``: one file a command, nothing heavy imported before it is needed.

Floor 5.

Files import downward in this order: commands, options, output_files, rendering, typed_values, which_engine,
reported_jobs, family_overview, targets, find, show, job, deadcentre, aim, judge, turn, piston, rim, cylinders, plates,
compression, premix, rpm, sheet, draw, tape, check, rule, compile, site, candidates, completion, __main__.
"""

from __future__ import annotations

import argparse
import atexit
import gc
import os
import sys
from collections.abc import Sequence
from importlib import import_module

from kb.cli.commands import DOES, GROUPS
from kb.cli.options import Help
from kb.vocabulary.states import State

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import NoReturn

atexit.register(gc.freeze)  # what a command leaves behind is not gone through once more at its end

DONE, ERRORS, USAGE, NOT_FOUND, REFUSED, UNREADABLE, FAILED = range(7)
"""Exit codes: done; errors found; usage, or an extra is not installed; not found, or several; refused; the book cannot
be read; a rule, a reporter or compiling has failed, whatever else was found."""

_EPILOG = f"""\
examples:
  stopscrew find ketch 47
  stopscrew show skerrow/ketch-47
  stopscrew show skerrow/ketch-47 max-advance --state {State.CRANKING}
  stopscrew aim skerrow/ketch-47 max-advance --state {State.CRANKING} --margin 1
  stopscrew deadcentre 31 before 27 after
  stopscrew sheet skerrow/ketch-47 --margin 1 --out ketch.html
  stopscrew check --specs specs
  stopscrew rule window-inverted

exit codes: 0 done; 1 errors in the data; 2 usage, or an extra is not installed; 3 not found, or several; 4 refused;
  5 the book cannot be read; 6 a rule or a reporter of the check failed: report it
"""


class _JsonParser(argparse.ArgumentParser):
    """A parser for whoever asked for JSON: what is wrong with the command comes as JSON too."""

    def error(self, message: str) -> NoReturn:
        from kb.cli.rendering import print_json

        print_json({"error": "Usage", "message": f"{message}; see {self.prog} --help", "candidates": []})
        raise SystemExit(USAGE)


class _Version(argparse.Action):
    """``--version``; the number is looked for only when it is asked for."""

    def __call__(self, parser: argparse.ArgumentParser, *_: object) -> NoReturn:
        import kb

        print(f"{parser.prog} {kb.__version__}")
        raise SystemExit(DONE)


def parser(only: str = "", *, as_json: bool = False) -> argparse.ArgumentParser:
    """The command line as argparse sees it; with ``only`` the command that is to be run, since each takes its time."""
    kind = _JsonParser if as_json else argparse.ArgumentParser
    top = kind(
        prog="stopscrew",
        usage="stopscrew [-h] [--version] COMMAND ...",
        description="Figures for setting spark timing and throttle linkage on old outboards, each with its source.",
        formatter_class=Help,
    )
    top.add_argument("--version", action=_Version, nargs=0, help="print the version")
    commands = top.add_subparsers(
        dest="command", required=True, metavar="COMMAND", prog="stopscrew", help=argparse.SUPPRESS
    )
    if only in DOES:
        import_module(f"kb.cli.{only}").add(commands)
        top.epilog = _EPILOG
        return top
    for command in DOES:  # known by name alone: whoever asks for help runs none of them
        commands.add_parser(command, add_help=False)
    top.epilog = f"{_listed()}\n{_EPILOG}"
    return top


def _listed() -> str:
    """The commands in their groups, each with what it does in a line."""
    lines = []
    for group, commands in GROUPS.items():
        lines.append(f"{group}:")
        lines += [f"  {name:<12} {does[0].upper()}{does[1:]}" for name, does in commands.items()]
    return "\n".join(lines) + "\n"


def _asks_for_json(words: Sequence[str]) -> bool:
    """Whether JSON is asked for, found before the words are parsed: they may be wrong."""
    return bool({"--json", "--format=json"} & {*words}) or "--format json" in " ".join(words)


def _parsed(words: Sequence[str]) -> argparse.Namespace:
    """The arguments; where a command takes any number of words, those that follow an option are among them."""
    top = parser(*words[:1], as_json=_asks_for_json(words))
    if signed := next((word for word in words if word[:1] == "-" and word[1:2].isdigit()), ""):
        top.error(f"{signed!r} has a sign; write the size alone, with its side where it has one, such as '2 after'")
    arguments, rest = top.parse_known_args(words)
    if rest and (not hasattr(arguments, "words") or any(word.startswith("-") for word in rest)):
        top.error(f"unrecognized arguments: {' '.join(rest)}")
    if rest:
        arguments.words += rest
    return arguments


def _run(arguments: argparse.Namespace) -> int:
    """Run the command that the arguments name; the exit code.

    Raises:
        ExtraMissing: it needs packages that a plain install leaves out.
    """
    try:
        code: int = arguments.run(arguments)
    except ModuleNotFoundError as missing:
        extra, package = getattr(arguments, "extra", None), (missing.name or "kb").partition(".")[0]
        if extra is None or package == "kb":
            raise
        from kb.errors import ExtraMissing

        arguments.opened = None  # the book has no part in it
        words = f"this needs {package}, which a plain install leaves out; type: pip install 'stopscrew[{extra}]'"
        raise ExtraMissing(words) from None
    return code


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command; the exit code."""
    words = sys.argv[1:] if argv is None else argv
    if "_ARGCOMPLETE" in os.environ:  # a shell asks how the line goes on
        from kb.cli.completion import complete

        complete(parser(*os.environ["COMP_LINE"].split()[1:2]))
    arguments = _parsed(words)
    from kb.errors import BookError, BookHasFaults, ExtraMissing, InternalError, LookUpError, QuantityError, Refusal

    try:
        code = _run(arguments)
        sys.stdout.flush()
    except BrokenPipeError:  # whoever read our output has had enough
        sys.stderr.close()
        return DONE
    except (LookUpError, Refusal, BookError, BookHasFaults, InternalError, ExtraMissing, QuantityError) as error:
        kinds = (
            (LookUpError, NOT_FOUND),
            (Refusal, REFUSED),
            (BookError, UNREADABLE),
            (BookHasFaults, ERRORS),
            (InternalError, FAILED),
            (ExtraMissing, USAGE),
            (QuantityError, USAGE),
        )
        from kb.cli.rendering import print_error

        as_json = getattr(arguments, "format", None) == "json"
        print_error(error, getattr(arguments, "opened", None), as_json=as_json)
        return next(code for kind, code in kinds if isinstance(error, kind))
    return code
