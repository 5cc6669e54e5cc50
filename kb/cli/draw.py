"""``stopscrew draw``: a family's flywheel rim as a drawing, or its cranking against its running maximum as a chart."""

from __future__ import annotations

import argparse

from kb.cli.options import (
    add_command,
    add_named_book,
    add_output,
    add_pointer,
    add_serial,
    on_the_stand,
    open_named_book,
)
from kb.vocabulary.states import SETTING_STATES, State

TYPE_CHECKING = False
if TYPE_CHECKING:
    from kb.cli.options import Commands


def add(commands: Commands) -> None:
    """The command's arguments."""
    command = add_command(
        commands,
        "draw",
        "examples:\n  stopscrew draw skerrow/ketch-47 rim --out rim.svg\n"
        "  stopscrew draw skerrow/ketch-47 rim --margin 1 --dead-centre-reads '2 before' --out rim.svg\n"
        "  stopscrew draw skerrow/ketch-47 running > running.svg\n",
    )
    command.add_argument("family", metavar="FAMILY", help="its id, such as skerrow/ketch-47, or its name")
    command.add_argument("what", choices=("rim", "running"), help="the rim, or cranking against running")
    add_output(command, "svg", "json")
    command.add_argument(
        "--state", choices=SETTING_STATES, help="draw the figures in this state, where the book has it"
    )
    add_serial(command)
    add_pointer(command)
    add_named_book(command)
    command.set_defaults(run=run)


def run(arguments: argparse.Namespace) -> int:
    """Write the drawing, or as JSON what it shows; errors go up to the command line's exit codes."""
    from kb.cli.output_files import chosen_form, write_output
    from kb.cli.rendering import json_text
    from kb.publish.drawings.aimed import maximum_aimed, target_in_words
    from kb.publish.drawings.rim import draw_rim
    from kb.publish.drawings.rim_view import rim_view
    from kb.publish.drawings.running import draw_running
    from kb.publish.drawings.running_view import running_view

    form = chosen_form(arguments)
    book = open_named_book(arguments)
    engine = on_the_stand(arguments)
    aim = maximum_aimed(book, arguments.family, engine if arguments.what == "rim" else engine.asked(State.CRANKING))
    if arguments.what == "rim":
        target, words = (aim.show.low, target_in_words(aim)) if aim else (None, "")
        rim = rim_view(book, arguments.family, engine, target=target, target_words=words)
        document, drawing = rim.to_document(), draw_rim(rim)[0]
    else:
        target = aim.show.low if aim and aim.answer.state == State.CRANKING else None
        chart = running_view(book, arguments.family, engine, target=target)
        document, drawing = chart.to_document(), draw_running(chart)[0]
    return write_output(arguments, json_text(document) if form == "json" else drawing)
