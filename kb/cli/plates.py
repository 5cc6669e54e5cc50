"""``stopscrew plates``: how much two carburettors differ in air for a difference in opening."""

from __future__ import annotations

import argparse

from kb.cli.options import add_command, add_format

TYPE_CHECKING = False
if TYPE_CHECKING:
    from kb.cli.options import Commands

_EXAMPLE = "two angles such as: 12 13"


def add(commands: Commands) -> None:
    """The command's arguments."""
    command = add_command(
        commands,
        "plates",
        "examples:\n  stopscrew plates 12 13\n  stopscrew plates 12 13 --closed 10 --shaft 0.2\n"
        "  stopscrew plates 2 3 --opening\n",
    )
    command.add_argument("words", nargs="+", metavar="DEGREES", help="each plate's angle from square across the bore")
    command.add_argument("--opening", action="store_true", help="the angles are counted from where the plates close")
    command.add_argument("--closed", metavar="DEGREES", help="from square, where a plate closes (10)")
    command.add_argument("--shaft", metavar="RATIO", help="the shaft's diameter over the bore's (0.2)")
    add_format(command)
    command.set_defaults(run=run)


def run(arguments: argparse.Namespace) -> int:
    """Print how much more air the wider one lets through."""
    from kb.bench.plates import work_plates
    from kb.cli import typed_values
    from kb.cli.rendering import print_worked
    from kb.errors import QuantityError

    angles = [typed_values.size_in_degrees("angle", word) for word in typed_values.joined(arguments.words)]
    if len(angles) != 2:
        raise QuantityError(f"{len(angles)} angle{'' if len(angles) == 1 else 's'} given; write {_EXAMPLE}")
    closed = None if arguments.closed is None else typed_values.size_in_degrees("--closed", arguments.closed)
    shaft = None if arguments.shaft is None else typed_values.number("--shaft", arguments.shaft)
    if shaft is not None and shaft >= 1:
        raise QuantityError(f"--shaft: {arguments.shaft!r} bores is no shaft; write a share of the bore such as 0.2")
    worked = work_plates(angles[0], angles[1], closed, shaft, opening=arguments.opening)
    return print_worked(worked, None, as_json=arguments.format == "json")
