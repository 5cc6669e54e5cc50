"""``stopscrew deadcentre``: true top dead centre from two readings at a piston stop or a dial gauge."""

from __future__ import annotations

import argparse

from kb.cli.options import add_command, add_engine

TYPE_CHECKING = False
if TYPE_CHECKING:
    from kb.cli.options import Commands

_EXAMPLE = "two readings such as: 31 before 27 after"


def add(commands: Commands) -> None:
    """The command's arguments."""
    command = add_command(
        commands,
        "deadcentre",
        "examples:\n  stopscrew deadcentre 31 before 27 after\n"
        "  stopscrew deadcentre 31 before 27 after --again '30.5 before' '26.5 after'\n"
        "  stopscrew deadcentre skerrow/ketch-47 31 before 27 after --stop-gave '0.05 mm'\n",
    )
    command.add_argument(
        "words", nargs="+", metavar="READING", help="what the pointer shows at the two contacts, such as 31 before"
    )
    command.add_argument(
        "--again",
        nargs="+",
        action="append",
        default=[],
        metavar="READING",
        help="another pair of readings; may be repeated",
    )
    command.add_argument("--gauge", action="store_true", help="the pairs are equal readings of a dial gauge")
    command.add_argument("--uncertain", metavar="DEGREES", help="standard uncertainty of one reading (0.25)")
    command.add_argument("--stop-gave", metavar="LENGTH", help="show the error if the stop gave way by this much")
    command.add_argument("--offset", metavar="LENGTH", help="the offset of the wrist pin, to the before side")
    add_engine(command, crank=True)
    command.set_defaults(run=run)


def run(arguments: argparse.Namespace) -> int:
    """Print what the pointer shows at true top dead centre."""
    from kb.bench.dead_centre import work_dead_centre
    from kb.cli import typed_values, which_engine
    from kb.cli.rendering import print_worked
    from kb.errors import QuantityError

    first, words = typed_values.family_first(arguments.words)
    pairs = []
    for readings in (words, *(typed_values.family_first(again)[1] for again in arguments.again)):
        if len(readings) != 2:
            raise QuantityError(f"{len(readings)} reading{'' if len(readings) == 1 else 's'} given; write {_EXAMPLE}")
        pairs.append(
            (typed_values.angle("first reading", readings[0]), typed_values.angle("second reading", readings[1]))
        )
    uncertainty = (
        None if arguments.uncertain is None else typed_values.size_in_degrees("--uncertain", arguments.uncertain)
    )
    gave = None if arguments.stop_gave is None else typed_values.length("--stop-gave", arguments.stop_gave)
    named = which_engine.named_family(arguments, first)
    crank = which_engine.given_crank(arguments, named[1] if named else None)
    offset = None if arguments.offset is None else typed_values.length("--offset", arguments.offset)
    worked = work_dead_centre(pairs, uncertainty, gauge=arguments.gauge, crank=crank, gave=gave, offset=offset)
    return print_worked(worked, named[0] if named else None, as_json=arguments.format == "json")
