"""Options that several commands share, and opening the book that they name."""

from __future__ import annotations

import argparse
import os
import sys
from functools import partial
from types import ModuleType

from kb.cli.commands import DOES
from kb.vocabulary.conditions import MEASURED, Bank, Condition, Gear, Module, Plugs, Warmth
from kb.vocabulary.states import State

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Callable
    from fractions import Fraction
    from pathlib import Path

    from kb.book.book import Book
    from kb.book.model.engine_on_the_stand import EngineOnTheStand

    Commands = argparse._SubParsersAction[argparse.ArgumentParser]

CONDITIONS = {
    Condition.RPM: "at this engine speed",
    Condition.GEAR: " or ".join(Gear.words),
    Condition.CYLINDER: "of this cylinder, counted from 1",
    Condition.BANK: f"of this bank of a V, {' or '.join(Bank.words)}",
    Condition.CARBURETTOR: "of this carburettor, counted from the top",
    Condition.MODULE: f"with the module {' or '.join(Module.words)}",
    Condition.ENGINE: f"with the engine {' or '.join(Warmth.words)}",
    Condition.PLUGS: f"with the plugs {' or '.join(Plugs.words)}",
}
"""Further conditions, and what each asks for; those that are measured have an option of their own."""


class Help(argparse.RawDescriptionHelpFormatter):
    """Help of one width everywhere: to ask the terminal, for each argument, takes longer than to look up a figure."""

    def __init__(self, prog: str) -> None:
        super().__init__(prog, width=100)


def measured(name: str, text: str) -> dict[str, str]:
    """A condition such as ``500 m`` or ``87 aki`` as a mapping of its unit to its number.

    Raises:
        argparse.ArgumentTypeError: it is not; the message says what to type.
    """
    number = text.strip().rstrip("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ").strip()
    unit = text.strip().removeprefix(number).strip().lower()
    if unit not in MEASURED[name] or not number.replace(".", "", 1).isdecimal():
        units = " or ".join(MEASURED[name])
        raise argparse.ArgumentTypeError(
            f"{text!r} is no {name}; write a number and {units}, such as '90 {MEASURED[name][0]}'"
        )
    return {unit: number}


def add_command(commands: Commands, name: str, epilog: str) -> argparse.ArgumentParser:
    """A command with what it does, from the list of commands, and examples."""
    does = DOES[name]
    return commands.add_parser(name, description=f"{does[0].upper()}{does[1:]}.", epilog=epilog, formatter_class=Help)


def add_serial(command: argparse.ArgumentParser) -> None:
    """Which engine of the family: its serial number and year."""
    command.add_argument("--serial", metavar="NUMBER", help="the engine's serial number")
    command.add_argument("--year", type=int, metavar="YEAR", help="the engine's year")


def add_figure(command: argparse.ArgumentParser) -> None:
    """The state, the engine and the further conditions of a figure that is asked for."""
    command.add_argument("--state", choices=State.words, help="the state of the figure")
    add_serial(command)
    for condition in CONDITIONS:
        command.add_argument(f"--{condition}", metavar="VALUE", help=CONDITIONS[condition])
    for name, units in MEASURED.items():
        command.add_argument(
            f"--{name}", type=partial(measured, name), metavar="VALUE", help=f"at this {name}, in {', '.join(units)}"
        )


def add_pointer(command: argparse.ArgumentParser) -> None:
    """What belongs to the engine on the stand and to today: dead-centre reading and margin."""
    command.add_argument(
        "--dead-centre-reads",
        type=angle,
        dest="dead_centre",
        metavar="WORDS",
        help="what the pointer shows at true top dead centre on this engine, such as '2 before'",
    )
    command.add_argument(
        "--margin",
        type=degrees,
        default=0,
        metavar="DEGREES",
        help="degrees to keep in hand on the late side of a maximum",
    )


def add_stand(command: argparse.ArgumentParser) -> None:
    """The same, and the speed at which to tell what it will be when running."""
    add_pointer(command)
    command.add_argument(
        "--running-at",
        type=degrees,
        dest="running_rpm",
        metavar="RPM",
        help="give the running figure at this speed too",
    )


def on_the_stand(arguments: argparse.Namespace) -> EngineOnTheStand:
    """The engine on the stand, from those of the options above that the command has."""
    from kb.book.model.engine_on_the_stand import EngineOnTheStand

    names = ("state", "serial", "year", "margin", "dead_centre", "running_rpm", *Condition.words)
    return EngineOnTheStand.of(
        **{name: value for name in names if (value := getattr(arguments, name, None)) is not None}
    )


def angle(words: str) -> Fraction:
    """An angle with its side, such as ``2 before``.

    Raises:
        argparse.ArgumentTypeError: it is none; the message says what to type.
    """
    from kb.quantity import spoken_angle

    return _typed(spoken_angle, words)


def degrees(words: str) -> Fraction:
    """A plain number.

    Raises:
        argparse.ArgumentTypeError: it is none; the message says what to type.
    """
    from kb.quantity import read_number

    return _typed(lambda text: read_number(text, fractions=True).value, words)


def _typed(read: Callable[[str], Fraction], words: str) -> Fraction:
    from kb.errors import QuantityError

    try:
        return read(words)
    except QuantityError as error:
        raise argparse.ArgumentTypeError(str(error)) from None


def add_engine(command: argparse.ArgumentParser, *, crank: bool = False) -> None:
    """The engine of a calculation: a family of the book, or with ``crank`` its stroke and rod; and ``add_book``."""
    command.add_argument("--family", metavar="FAMILY", help="a family by id or name; its id may also come first")
    add_serial(command)
    if crank:
        command.add_argument("--stroke", metavar="LENGTH", help="without a family: the stroke, such as '64 mm'")
        command.add_argument("--rod", metavar="LENGTH", help="and the rod between its centres, such as '120 mm'")
    add_book(command)


def add_book(command: argparse.ArgumentParser) -> None:
    """Which book answers, and in which form the answer is printed."""
    add_named_book(command)
    add_format(command)


def add_named_book(command: argparse.ArgumentParser) -> None:
    """Which book: a folder or a compiled file, never both."""
    either = command.add_mutually_exclusive_group()
    either.add_argument("--specs", metavar="DIR", help="read this folder of YAML files instead of the shipped book")
    either.add_argument("--book", metavar="FILE", help="read this compiled book instead of the shipped one")


def add_format(command: argparse.ArgumentParser, *forms: str, default: str | None = "text") -> None:
    """The form in which the answer is printed: text or JSON, where no other ``forms`` are given."""
    forms = forms or ("text", "json")
    usual = default or forms[0]
    command.set_defaults(format=default)  # with a default of its own, an option that names it counts as not given
    either = command.add_mutually_exclusive_group()
    either.add_argument("--format", choices=forms, default=argparse.SUPPRESS, help=f"the form to print ({usual})")
    either.add_argument(
        "--json",
        action="store_const",
        const="json",
        dest="format",
        default=argparse.SUPPRESS,
        help="short for --format json",
    )


def add_output(command: argparse.ArgumentParser, *forms: str) -> None:
    """The file to write, and its form: ``output_files.chosen_form`` settles which of ``forms``, of which the first is
    the usual one."""
    command.add_argument(
        "--out", metavar="FILE", help="write to this file instead of standard output; its ending says the form"
    )
    add_format(command, *forms, default=None)
    command.set_defaults(forms=forms, refuse=command.error)


def open_named_book(arguments: argparse.Namespace) -> Book:
    """The book that the options name, else the shipped one; it is kept with them, for the foot of an error."""
    from kb import open_book

    arguments.opened = open_book(arguments.specs or arguments.book)
    opened: Book = arguments.opened
    return opened


def cache_beside(specs: str) -> Path:
    """Where results of checks are kept between runs: under ``build/`` beside the folder."""
    from pathlib import Path

    return Path(specs).resolve().parent / "build" / "check.cache"


def without_plugins() -> None:
    """For a command that checks a folder: pydantic asks every installed package for plug-ins, which takes as long as
    checking twenty files; only to import what it asks by takes as long as checking ten."""
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")  # heard where its own module is loaded after all
    nobody = ModuleType("pydantic.plugin._loader")
    nobody.__dict__["get_plugins"] = tuple
    sys.modules.setdefault(nobody.__name__, nobody)
