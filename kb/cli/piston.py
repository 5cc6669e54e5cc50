"""``stopscrew piston``: from degrees of crank to the piston's position and back."""

from __future__ import annotations

import argparse

from kb.cli.options import add_command, add_engine

TYPE_CHECKING = False
if TYPE_CHECKING:
    from kb.bench.piston import Hole
    from kb.cli.options import Commands

_EXAMPLE = "degrees with their side, such as 24 before, or a position, such as 3.47 mm or 0.137 in"


def add(commands: Commands) -> None:
    """The command's arguments."""
    command = add_command(
        commands,
        "piston",
        "examples:\n  stopscrew piston skerrow/ketch-47 24 before\n  stopscrew piston skerrow/ketch-47 3.47 mm\n"
        "  stopscrew piston --stroke '64 mm' --rod '120 mm' 0.137 in --hole-angle 20\n",
    )
    command.add_argument("words", nargs="+", metavar="WORD", help=f"a family, if any; then {_EXAMPLE}")
    command.add_argument("--hole-angle", metavar="DEGREES", help="the angle between the plug hole and the bore")
    command.add_argument("--crown-slope", metavar="DEGREES", help="the slope of the crown toward the hole")
    command.add_argument("--offset", metavar="LENGTH", help="the offset of the wrist pin, to the before side")
    add_engine(command, crank=True)
    command.set_defaults(run=run)


def run(arguments: argparse.Namespace) -> int:
    """Print the position, or the degrees."""
    from kb.bench.piston import work_degrees, work_position
    from kb.cli import typed_values, which_engine
    from kb.cli.rendering import print_worked
    from kb.errors import QuantityError

    first, words = typed_values.family_first(arguments.words)
    if not words:
        raise QuantityError(f"nothing to turn into anything; write {_EXAMPLE}")
    asked, *rest = typed_values.position_or_angle(words)
    typed_values.no_more(rest, f"one thing: {_EXAMPLE}")
    position, side, angle = typed_values.position(asked, _EXAMPLE)
    hole = _hole(arguments)
    offset = None if arguments.offset is None else typed_values.length("--offset", arguments.offset)
    named = which_engine.named_family(arguments, first)
    crank = which_engine.given_crank(arguments, named[1] if named else None)
    if crank is None:
        raise QuantityError("say the engine: a family first, or --stroke '64 mm' --rod '120 mm'")
    if position is None:
        worked = work_position(angle, crank, hole, offset)
    else:
        worked = work_degrees(position, side, crank, hole, offset)
    return print_worked(worked, named[0] if named else None, as_json=arguments.format == "json")


def _hole(arguments: argparse.Namespace) -> Hole | None:
    from fractions import Fraction

    from kb.bench.piston import Hole
    from kb.cli import typed_values

    tilt, slope = (
        None if words is None else typed_values.size_in_degrees(name, words)
        for name, words in (("--hole-angle", arguments.hole_angle), ("--crown-slope", arguments.crown_slope))
    )
    return None if tilt is None and slope is None else Hole(tilt or Fraction(0), slope or Fraction(0))
