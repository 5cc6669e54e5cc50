"""``stopscrew turn``: from readings after known screw turns to the next turn."""

from __future__ import annotations

import argparse

from kb.cli.options import add_book, add_command, add_figure, add_stand, on_the_stand, open_named_book
from kb.vocabulary.engine import TurningIn
from kb.vocabulary.states import State

TYPE_CHECKING = False
if TYPE_CHECKING:
    from kb.bench.adjusting_screw import AdjustingScrew, ScrewTarget
    from kb.book.book import Book
    from kb.cli.options import Commands


def add(commands: Commands) -> None:
    """The command's arguments."""
    command = add_command(
        commands,
        "turn",
        "A reading is the turns in from where you began, or out, and what the pointer showed: 1/2 25 before, 1/4 out "
        "23.5 before.\n\nexamples:\n  stopscrew turn --target '19 before' 0 24 before 1/2 22 before\n"
        f"  stopscrew turn skerrow/ketch-47 max-advance --state {State.CRANKING} --margin 1 0 26 before 1 25 before\n"
        f"  stopscrew turn --target '5 after' --turning-in {TurningIn.EARLIER} 0 7 after\n",
    )
    command.add_argument(
        "words",
        nargs="+",
        metavar="WORD",
        help="a family and a figure, unless --target is given; then pairs of turns and reading: 0 24 before",
    )
    command.add_argument("--target", metavar="ANGLE", help="what the pointer should show, such as '19 before'")
    command.add_argument(
        "--turning-in",
        choices=(TurningIn.EARLIER, TurningIn.LATER),
        help="without a family: what turning the screw in does, if known",
    )
    add_stand(command)
    add_figure(command)
    add_book(command)
    command.set_defaults(run=run)


def run(arguments: argparse.Namespace) -> int:
    """Print the next turn."""
    from kb.bench.adjusting_screw import AdjustingScrew, ScrewTarget
    from kb.bench.next_turn import work_next_turn
    from kb.cli import typed_values
    from kb.cli.rendering import print_worked
    from kb.errors import QuantityError

    named, settings = typed_values.screw_readings(arguments.words)
    book = None
    if arguments.target is not None:
        if named:
            raise QuantityError(f"{' '.join(named)!r} has a target of its own; leave it out, or --target")
        sign = {"earlier": 1, "later": -1, None: 0}[arguments.turning_in]
        target, adjuster = ScrewTarget(typed_values.angle("--target", arguments.target)), AdjustingScrew(sign=sign)
    elif len(named) == 2:
        book = open_named_book(arguments)
        target, adjuster = _from_book(book, arguments, *named)
    else:
        raise QuantityError(
            "say what to aim at: --target '19 before', or a family and a figure: skerrow/ketch-47 max-advance"
        )
    return print_worked(work_next_turn(settings, target, adjuster), book, as_json=arguments.format == "json")


def _from_book(
    book: Book, arguments: argparse.Namespace, family: str, figure: str
) -> tuple[ScrewTarget, AdjustingScrew]:
    from kb.bench.adjusting_screw import AdjustingScrew, ScrewTarget
    from kb.book.setting.aim import aim

    found = aim(book, family, figure, on_the_stand(arguments))
    late = book.figures[found.answer.figure].is_limit
    return ScrewTarget.of(found, late), AdjustingScrew.of(book.family(found.answer.family), found.answer.figure)
