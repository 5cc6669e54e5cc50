"""``stopscrew show``: one figure of a family with all that stands behind it, or the family at a glance."""

from __future__ import annotations

import argparse

from kb.cli.options import add_book, add_command, add_figure, on_the_stand, open_named_book
from kb.vocabulary.conditions import Condition, Gear
from kb.vocabulary.states import State

TYPE_CHECKING = False
if TYPE_CHECKING:
    from kb.cli.options import Commands


def add(commands: Commands) -> None:
    """The command's arguments."""
    command = add_command(
        commands,
        "show",
        "examples:\n  stopscrew show skerrow/ketch-47\n"
        f"  stopscrew show skerrow/ketch-47 max-advance --state {State.CRANKING}\n"
        f"  stopscrew show skerrow/ketch-47 idle-speed --{Condition.GEAR} {Gear.NEUTRAL} --serial 301455\n",
    )
    command.add_argument("family", metavar="FAMILY", help="its id, such as skerrow/ketch-47, or its name")
    command.add_argument("figure", nargs="?", metavar="FIGURE", help="such as max-advance; all of them if left out")
    add_figure(command)
    add_book(command)
    command.set_defaults(run=run)


def run(arguments: argparse.Namespace) -> int:
    """Print the figure, or the family; errors of look-up go up to the command line's exit codes."""
    book, engine = open_named_book(arguments), on_the_stand(arguments)
    from kb.cli.rendering import print_json, print_lines

    if arguments.figure:
        from kb.book.lookup.look_up import look_up

        answer = look_up(book, arguments.family, arguments.figure, engine)
        if arguments.format == "json":
            print_json(answer.to_document())
        else:
            from kb.book.lookup.twins import apart_lines
            from kb.cli.rendering import answer_lines

            first, *rest = answer_lines(answer)
            heading = book.get_heading(answer.family)
            print_lines([first, *(apart_lines(book, heading) if heading else ()), *rest])
        return 0
    from kb.book.lookup.which_family import require_family
    from kb.cli.family_overview import glance_document, glance_lines

    family = require_family(book, arguments.family, engine)
    if arguments.format == "json":
        print_json(glance_document(book, family, engine))
    else:
        print_lines(glance_lines(book, family, engine))
    return 0
