"""``stopscrew tape``: a degree tape at true scale, to print and wrap around the flywheel's rim."""

from __future__ import annotations

import argparse

from kb.cli.options import add_command, add_named_book, add_output, angle, open_named_book
from kb.vocabulary.engine import Rotation

TYPE_CHECKING = False
if TYPE_CHECKING:
    from fractions import Fraction

    from kb.cli.options import Commands
    from kb.publish.drawings.tape_plan import TapePlan


def add(commands: Commands) -> None:
    """The command's arguments."""
    command = add_command(
        commands,
        "tape",
        "examples:\n  stopscrew tape skerrow/ketch-47 --out tape.pdf\n"
        f"  stopscrew tape --diameter '240 mm' --rotation {Rotation.CLOCKWISE} --from '40 before' --to '30 after' "
        "--out tape.pdf\n"
        "  stopscrew tape skerrow/ketch-47 --from '180 before' --to '180 after' --paper letter --out tape.svg\n",
    )
    command.add_argument("family", nargs="?", metavar="FAMILY", help="its id, such as skerrow/ketch-47, or its name")
    command.add_argument(
        "--diameter", metavar="LENGTH", help="the rim's diameter, such as '240 mm', in place of the book's"
    )
    command.add_argument("--rotation", choices=Rotation.words, help="how the flywheel turns, seen from above")
    command.add_argument("--from", type=angle, dest="early", metavar="WORDS", help="where the tape begins (40 before)")
    command.add_argument("--to", type=angle, dest="late", metavar="WORDS", help="where the tape ends (30 after)")
    command.add_argument("--target", type=angle, metavar="WORDS", help="mark this reading too, such as '23 before'")
    command.add_argument("--thickness", metavar="LENGTH", help="the thickness of the paper (0.1 mm)")
    command.add_argument("--paper", choices=("a4", "letter"), default="a4", help="the paper's size (a4)")
    add_output(command, "svg", "pdf", "json")
    add_named_book(command)
    command.set_defaults(run=run, extra="paper")


def run(arguments: argparse.Namespace) -> int:
    """Write the tape, or as JSON what it is; errors go up to the command line's exit codes."""
    from pathlib import Path

    from kb.cli.output_files import chosen_form, write_files, write_output
    from kb.cli.rendering import json_text
    from kb.publish.drawings.tape import tape_sheets

    form = chosen_form(arguments)
    plan = _plan(arguments)
    if form == "json":
        return write_output(arguments, json_text(plan.to_document()))
    if form == "pdf":
        from kb.publish.drawings.tape_pdf import tape_pdf

        return write_output(arguments, tape_pdf(plan))
    first, *others = tape_sheets(plan)
    if not others:
        return write_output(arguments, first)
    if arguments.out is None:
        arguments.refuse(f"the tape takes {1 + len(others)} sheets; write them with --out tape.pdf or --out tape.svg")
    name = Path(arguments.out)
    numbered = {str(name.with_stem(f"{name.stem}-{number}")): sheet for number, sheet in enumerate(others, 2)}
    return write_files({arguments.out: first, **numbered})


def _plan(arguments: argparse.Namespace) -> TapePlan:
    from kb.errors import QuantityError
    from kb.publish.drawings.tape_plan import tape_plan, tape_plan_for

    asked = {"early": arguments.early, "late": arguments.late, "target": arguments.target, "paper": arguments.paper}
    asked["thickness"] = _millimetres("--thickness", arguments.thickness)
    given = {name: value for name, value in asked.items() if value is not None}
    diameter = _millimetres("--diameter", arguments.diameter)
    clockwise = None if arguments.rotation is None else arguments.rotation == Rotation.CLOCKWISE
    if arguments.family:
        book = open_named_book(arguments)
        return tape_plan_for(book, arguments.family, diameter=diameter, clockwise=clockwise, **given)
    if diameter is None:
        raise QuantityError("say the rim: a family first, or --diameter '240 mm'")
    return tape_plan(diameter, clockwise=clockwise, **given)


def _millimetres(what: str, words: str | None) -> Fraction | None:
    from kb.errors import QuantityError
    from kb.quantity import UNITS, spoken_quantity

    if words is None:
        return None
    try:
        found = spoken_quantity(words, ("mm", "in"))
    except QuantityError as error:
        raise QuantityError(f"{what}: {error}") from None
    return None if found.nominal is None else found.unit.convert(found.nominal, UNITS["mm"])
