"""``stopscrew aim``: what the pointer should show for a figure on one engine today, and where that is on the rim."""

from __future__ import annotations

import argparse

from kb.cli.options import add_book, add_command, add_figure, add_stand, on_the_stand, open_named_book
from kb.vocabulary.states import State

TYPE_CHECKING = False
if TYPE_CHECKING:
    from kb.cli.options import Commands


def add(commands: Commands) -> None:
    """The command's arguments."""
    command = add_command(
        commands,
        "aim",
        f"examples:\n  stopscrew aim skerrow/ketch-47 max-advance --state {State.CRANKING} --margin 1\n"
        f"  stopscrew aim skerrow/ketch-47 max-advance --state {State.CRANKING} --dead-centre-reads '2 before'\n"
        "  stopscrew aim skerrow/ketch-47 throttle-pickup\n",
    )
    command.add_argument("family", metavar="FAMILY", help="its id, such as skerrow/ketch-47, or its name")
    command.add_argument("figure", metavar="FIGURE", help="max-advance, throttle-pickup or idle-timing")
    add_stand(command)
    add_figure(command)
    add_book(command)
    command.set_defaults(run=run)


def run(arguments: argparse.Namespace) -> int:
    """Print the target; errors of look-up go up to the command line's exit codes."""
    book = open_named_book(arguments)
    from kb.book.setting.aim import aim

    target = aim(book, arguments.family, arguments.figure, on_the_stand(arguments))
    from kb.cli.rendering import print_json, print_lines

    if arguments.format == "json":
        print_json(target.to_document())
    else:
        from kb.cli.targets import aim_lines

        print_lines(aim_lines(target))
    return 0
