"""``stopscrew rim``: from degrees to distance on the flywheel's rim and back, and from which mark to count."""

from __future__ import annotations

import argparse

from kb.cli.options import add_command, add_engine

TYPE_CHECKING = False
if TYPE_CHECKING:
    from kb.bench.rim import Marks, Rim
    from kb.book.model.family import Family
    from kb.cli.options import Commands

_EXAMPLE = "an angle such as 19 before, or --degrees 10, --tape '62 mm' or --callipers '62 mm'"


def add(commands: Commands) -> None:
    """The command's arguments."""
    command = add_command(
        commands,
        "rim",
        "examples:\n  stopscrew rim skerrow/ketch-47 19 before\n  stopscrew rim --diameter '240 mm' --degrees 10\n"
        "  stopscrew rim --diameter '240 mm' --callipers '62 mm'\n"
        "  stopscrew rim --diameter '240 mm' 19 before --mark '21 before' --division 1\n",
    )
    command.add_argument("words", nargs="*", metavar="WORD", help="a family, if any; then an angle such as 19 before")
    command.add_argument("--diameter", metavar="LENGTH", help="the rim's diameter, such as '240 mm'")
    command.add_argument("--degrees", metavar="NUMBER", help="degrees from one mark to another")
    command.add_argument("--tape", metavar="LENGTH", help="a distance along the rim, to convert to degrees")
    command.add_argument("--callipers", metavar="LENGTH", help="a straight distance, to convert to degrees")
    command.add_argument("--tape-thickness", metavar="LENGTH", help="the thickness of the tape around the rim")
    command.add_argument(
        "--mark", action="append", default=[], metavar="ANGLE", help="a numbered mark; may be repeated"
    )
    command.add_argument("--division", metavar="DEGREES", help="degrees in one division between the marks")
    command.add_argument(
        "--dead-centre-reads",
        dest="dead_centre",
        metavar="WORDS",
        help="what the pointer shows at true top dead centre, such as '2 before'",
    )
    add_engine(command)
    command.set_defaults(run=run)


def run(arguments: argparse.Namespace) -> int:
    """Print the distance, the place, or the degrees."""
    from kb.bench.rim import work_angle, work_distance, work_place
    from kb.cli import typed_values, which_engine
    from kb.cli.rendering import print_worked
    from kb.errors import QuantityError

    first, words = typed_values.family_first(arguments.words)
    typed_values.no_more(words[1:], f"one thing: {_EXAMPLE}")
    distances = [name for name in ("tape", "callipers") if getattr(arguments, name) is not None]
    ways = bool(words) + (arguments.degrees is not None) + bool(distances)
    if ways != 1:
        raise QuantityError(f"{'one thing at a time' if ways else 'nothing to tell'}; write {_EXAMPLE}")
    lengths = {name: typed_values.length(f"--{name}", getattr(arguments, name)) for name in distances}
    named = which_engine.named_family(arguments, first)
    family = named[1] if named else None
    rim = _rim(arguments, family)
    if distances:
        worked = work_angle(rim, **lengths)
    elif arguments.degrees is not None:
        worked = work_distance(typed_values.size_in_degrees("--degrees", arguments.degrees), rim)
    else:
        centre = (
            None if arguments.dead_centre is None else typed_values.angle("--dead-centre-reads", arguments.dead_centre)
        )
        worked = work_place(typed_values.angle("angle", words[0]), rim, family, _marks(arguments), centre)
    return print_worked(worked, named[0] if named else None, as_json=arguments.format == "json")


def _rim(arguments: argparse.Namespace, family: Family | None) -> Rim:
    from kb.bench.rim import Rim
    from kb.cli import typed_values
    from kb.errors import QuantityError

    thickness = arguments.tape_thickness
    tape = None if thickness is None else typed_values.length("--tape-thickness", thickness)
    if arguments.diameter is not None:
        return Rim(typed_values.length("--diameter", arguments.diameter), tape=tape)
    if family is None:
        raise QuantityError("say the rim: a family first, or --diameter '240 mm'")
    return Rim.of(family, tape)


def _marks(arguments: argparse.Namespace) -> Marks | None:
    from kb.bench.rim import Marks
    from kb.cli import typed_values
    from kb.errors import QuantityError

    division = None if arguments.division is None else typed_values.number("--division", arguments.division)
    if not arguments.mark:
        if division is not None:
            raise QuantityError("--division counts from a mark; write the mark too, such as --mark '21 before'")
        return None
    return Marks(tuple(typed_values.angle("--mark", words) for words in arguments.mark), division)
