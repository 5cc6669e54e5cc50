"""``stopscrew cylinders``: where each cylinder fires on the flywheel."""

from __future__ import annotations

import argparse

from kb.cli.options import add_command, add_engine

TYPE_CHECKING = False
if TYPE_CHECKING:
    from kb.cli.options import Commands

_EXAMPLE = "a family, or --order 1,3,2 --strokes two --even-fire"


def add(commands: Commands) -> None:
    """The command's arguments."""
    command = add_command(
        commands,
        "cylinders",
        "examples:\n  stopscrew cylinders skerrow/ketch-47\n"
        "  stopscrew cylinders skerrow/ketch-47 --figure '24 before'\n"
        "  stopscrew cylinders --order 1,3,2 --strokes two --even-fire\n",
    )
    command.add_argument("words", nargs="*", metavar="FAMILY", help="a family by id or name, if the book has it")
    command.add_argument("--order", metavar="LIST", help="without a family: the firing order, such as 1,3,2")
    command.add_argument("--strokes", choices=("two", "four"), help="without a family: two-stroke or four-stroke")
    command.add_argument(
        "--even-fire", action="store_true", help="without a family: it is known to fire at equal intervals"
    )
    command.add_argument("--figure", metavar="ANGLE", help="show this figure for each cylinder, such as '24 before'")
    add_engine(command)
    command.set_defaults(run=run)


def run(arguments: argparse.Namespace) -> int:
    """Print where each cylinder fires."""
    from kb.bench.cylinders import Firing, work_cylinders
    from kb.bench.rim import Rim
    from kb.cli import typed_values, which_engine
    from kb.cli.rendering import print_worked
    from kb.errors import FigureUnknown, OddFire, QuantityError

    first, rest = typed_values.family_first(arguments.words)
    typed_values.no_more(rest, _EXAMPLE)
    figure = None if arguments.figure is None else typed_values.angle("--figure", arguments.figure)
    named = which_engine.named_family(arguments, first)
    if named:
        if arguments.order or arguments.strokes or arguments.even_fire:
            raise QuantityError(f"the book tells how {named[1].id} fires; leave out --order, --strokes, --even-fire")
        try:
            diameter = Rim.of(named[1]).millimetres
        except FigureUnknown:
            diameter = None
        firing = Firing.of(named[1], diameter)
    else:
        if arguments.order is None or arguments.strokes is None:
            raise QuantityError(f"say the engine: {_EXAMPLE}")
        order = tuple(typed_values.whole("--order", word) for word in arguments.order.replace("-", ",").split(","))
        firing = Firing(order, arguments.strokes == "four", arguments.even_fire or None)
    try:
        worked = work_cylinders(firing, figure)
    except OddFire as error:
        raise OddFire(f"{error}{'' if named else '; if you know that it does, write --even-fire'}") from None
    return print_worked(worked, named[0] if named else None, as_json=arguments.format == "json")
