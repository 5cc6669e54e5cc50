"""``stopscrew judge``: a reading against a figure: inside, or how far out, and which way to turn."""

from __future__ import annotations

import argparse

from kb.cli.options import add_book, add_command, add_figure, add_stand, angle, on_the_stand, open_named_book
from kb.vocabulary.states import State

TYPE_CHECKING = False
if TYPE_CHECKING:
    from kb.cli.options import Commands


def add(commands: Commands) -> None:
    """The command's arguments."""
    command = add_command(
        commands,
        "judge",
        f"examples:\n  stopscrew judge skerrow/ketch-47 max-advance '26 before' --state {State.CRANKING}\n"
        "  stopscrew judge skerrow/ketch-47 throttle-pickup '4 after' --dead-centre-reads '1 before'\n",
    )
    command.add_argument("family", metavar="FAMILY", help="its id, such as skerrow/ketch-47, or its name")
    command.add_argument("figure", metavar="FIGURE", help="max-advance, throttle-pickup or idle-timing")
    command.add_argument("reading", type=angle, metavar="READING", help="what the pointer shows, such as '26 before'")
    add_stand(command)
    add_figure(command)
    add_book(command)
    command.set_defaults(run=run)


def run(arguments: argparse.Namespace) -> int:
    """Print the verdict; errors of look-up go up to the command line's exit codes."""
    book = open_named_book(arguments)
    from kb.book.setting.judge import judge

    judged = judge(book, arguments.family, arguments.figure, arguments.reading, on_the_stand(arguments))
    from kb.cli.rendering import print_json, print_lines

    if arguments.format == "json":
        print_json(judged.to_document())
    else:
        from kb.cli.targets import judged_lines

        print_lines(judged_lines(judged))
    return 0
