"""``stopscrew premix``: oil for petrol, with the gallon named; or the ratio of a mixture."""

from __future__ import annotations

import argparse
from functools import partial

from kb.cli.options import add_command, add_engine, measured, on_the_stand
from kb.vocabulary.conditions import MEASURED, Condition

TYPE_CHECKING = False
if TYPE_CHECKING:
    from kb.cli.options import Commands

_EXAMPLE = "petrol and a ratio, such as: 20 L --ratio 50; or petrol and oil, such as: 20 L 400 mL"


def add(commands: Commands) -> None:
    """The command's arguments."""
    command = add_command(
        commands,
        "premix",
        "examples:\n  stopscrew premix 20 L --ratio 50\n  stopscrew premix skerrow/ketch-47 6 US gal\n"
        "  stopscrew premix 20 L 400 mL\n",
    )
    command.add_argument("words", nargs="+", metavar="WORD", help="a family, if any; then petrol, or petrol and oil")
    command.add_argument("--ratio", metavar="PARTS", help="parts of petrol to one of oil, such as 50 or 50:1")
    command.add_argument(
        f"--{Condition.OCTANE}",
        type=partial(measured, Condition.OCTANE),
        metavar="VALUE",
        help=f"for the book, in {' or '.join(MEASURED[Condition.OCTANE])}",
    )
    add_engine(command)
    command.set_defaults(run=run)


def run(arguments: argparse.Namespace) -> int:
    """Print the oil, or the ratio."""
    from kb.bench.premix import Ratio, work_oil, work_ratio
    from kb.book.lookup.look_up import look_up
    from kb.cli import typed_values, which_engine
    from kb.cli.rendering import print_worked
    from kb.errors import QuantityError

    first, words = typed_values.family_first(arguments.words)
    if not 1 <= len(words) <= 2:
        raise QuantityError(f"{len(words)} volumes given; write {_EXAMPLE}")
    volumes = [typed_values.volume(name, word) for name, word in zip(("petrol", "oil"), words, strict=False)]
    given = [what for what, there in (("a family", first or arguments.family), ("--ratio", arguments.ratio)) if there]
    if len(volumes) == 2:
        if given:
            raise QuantityError(f"two volumes have a ratio of their own; leave out {' and '.join(given)}, or the oil")
        return print_worked(work_ratio(*volumes), None, as_json=arguments.format == "json")
    if len(given) != 1:
        raise QuantityError(f"say the ratio once: a family first, or --ratio 50, or a volume of oil; {_EXAMPLE}")
    if arguments.ratio is not None:
        parts = typed_values.number("--ratio", arguments.ratio.removesuffix(":1"))
        if parts < 1:
            raise QuantityError(f"--ratio: {arguments.ratio!r} is more oil than petrol; write such as 50")
        return print_worked(work_oil(volumes[0], Ratio.typed(parts)), None, as_json=arguments.format == "json")
    named = which_engine.named_family(arguments, first)
    if named is None:
        raise QuantityError(f"say the family; {_EXAMPLE}")
    book, family = named
    answer = look_up(book, family.id, "premix", on_the_stand(arguments))
    return print_worked(work_oil(volumes[0], Ratio.of(answer)), book, as_json=arguments.format == "json")
