"""``stopscrew compression``: how far the cylinders' compression lies apart, of what, and what the book says."""

from __future__ import annotations

import argparse

from kb.cli.options import add_command, add_engine, on_the_stand
from kb.vocabulary.conditions import Condition, Plugs, Warmth

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Sequence
    from fractions import Fraction

    from kb.cli.options import Commands
    from kb.quantity import Unit

UNITS = ("psi", "kPa", "bar", "kgf_cm2")


def add(commands: Commands) -> None:
    """The command's arguments."""
    command = add_command(
        commands,
        "compression",
        "examples:\n  stopscrew compression 110 122 118 --unit psi\n"
        "  stopscrew compression skerrow/ketch-47 110 122 118 --unit psi\n",
    )
    command.add_argument(
        "words", nargs="+", metavar="WORD", help="a family, if any; then the readings from cylinder 1 on"
    )
    command.add_argument("--unit", choices=UNITS, help="the unit on the gauge")
    command.add_argument(f"--{Condition.ENGINE}", choices=Warmth.words, help="compare with the book's figure for this")
    command.add_argument(f"--{Condition.PLUGS}", choices=Plugs.words, help="and for the plugs in or out")
    add_engine(command)
    command.set_defaults(run=run)


def run(arguments: argparse.Namespace) -> int:
    """Print the spread."""
    from kb.bench.compression import work_compression
    from kb.book.lookup.look_up import look_up
    from kb.cli import typed_values, which_engine
    from kb.cli.rendering import print_worked

    first, words = typed_values.family_first(arguments.words)
    readings, unit = _readings(words, arguments.unit)
    named = which_engine.named_family(arguments, first)
    answer = cylinders = None
    if named:
        book, family = named
        answer = look_up(book, family.id, "compression", on_the_stand(arguments))
        stated = family.part("engine", "cylinders")
        cylinders = int(stated) if stated else None
    worked = work_compression(readings, unit, answer, cylinders)
    return print_worked(worked, named[0] if named else None, as_json=arguments.format == "json")


def _readings(words: Sequence[str], named: str | None) -> tuple[list[Fraction], Unit]:
    """The readings, and the one unit that they are all in: named, or said after the last of them."""
    from kb.cli import typed_values
    from kb.errors import QuantityError
    from kb.quantity import UNITS as ALL
    from kb.quantity import spoken_quantity

    if not words:
        raise QuantityError("no readings; write one for each cylinder, such as: 110 122 118 --unit psi")
    unit = typed_values.read("reading", lambda text: spoken_quantity(text, UNITS, bare=named or "none"), words[-1]).unit
    found = [
        typed_values.read("reading", lambda text: spoken_quantity(text, UNITS, bare=unit.key), word) for word in words
    ]
    strange = [str(one) for one in found if one.unit is not unit or (named and one.unit.key != named)]
    if strange:
        raise QuantityError(f"{strange[0]} is in another unit; read all cylinders with one gauge, in one unit")
    return [one.nominal or ALL["psi"].factor * 0 for one in found], unit
