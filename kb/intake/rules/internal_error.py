"""A rule, a model or a reporter of Stopscrew has stopped with an exception: a fault of the program, and not of the file
that it names. What the rule would have reported is unknown, so the file may not be counted as right, and nothing is
compiled. Everything else has run, and its findings hold; only an exception that seems not to be needed goes unreported,
since the warning that it accepts may be one of those unknown.

The finding names the line of the program where it stopped. Report it, with the file that it names. No results are kept
for the next check, and the exit code is 6, whatever else was found.

This rule has no examples, since no file can be one: whatever a file says, it is the program that must not stop."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

from kb.finding import Severity, Slip
from kb.intake.rules import OWN_FAULTS, Rule

_PROGRAM = Path(__file__).parents[2]
_LONGEST = 200  # characters of an exception's own words


class Failure(NamedTuple):
    """A part of the program, such as "the rule window-inverted", and the exception that stopped it."""

    part: str
    error: Exception


def check(failure: Failure) -> Iterator[Slip]:
    """Say what stopped, why and where, in one line."""
    what = f"{failure.part} stopped with {_in_words(failure.error)} ({_line(failure.error)})"
    yield Slip((), what, "report it with this file; everything else has run, and its findings hold")


def _in_words(error: Exception) -> str:
    words = " ".join(str(error).split())
    cut = f"{words[:_LONGEST]} ..." if len(words) > _LONGEST else words
    return f"{type(error).__name__}: {cut}" if cut else type(error).__name__


def _line(error: Exception) -> str:
    """The innermost line of this program that the exception went through; libraries are left out."""
    found = "no line is known"
    step = error.__traceback__
    while step is not None:
        file = Path(step.tb_frame.f_code.co_filename)
        if file.is_relative_to(_PROGRAM):
            found = f"{file.relative_to(_PROGRAM.parent).as_posix()}:{step.tb_lineno}"
        step = step.tb_next
    return found


RULE = Rule(
    severity=Severity.ERROR,
    reads=OWN_FAULTS,
    summary="a rule or a reporter that stopped with an exception",
    why="what it would have reported is unknown, so the file may not be counted as right",
    bad=(),
    good=(),
    check=check,
    kinds=(),
)
