"""``stopscrew sheet``: the order of work filled in for one engine, to print, to keep, or for a program."""

from __future__ import annotations

import argparse

from kb.cli.options import add_command, add_named_book, add_output, add_serial, add_stand, on_the_stand, open_named_book
from kb.vocabulary.states import SETTING_STATES

TYPE_CHECKING = False
if TYPE_CHECKING:
    from kb.cli.options import Commands
    from kb.publish.sheet.record import Sheet


def add(commands: Commands) -> None:
    """The command's arguments."""
    command = add_command(
        commands,
        "sheet",
        "examples:\n  stopscrew sheet skerrow/ketch-47 --serial 301455 --margin 1 --out ketch.html\n"
        "  stopscrew sheet skerrow/ketch-47 --paper letter --out ketch.pdf\n"
        "  stopscrew sheet skerrow/ketch-47 --dead-centre-reads '2 before' --format markdown\n"
        "  stopscrew sheet skerrow/ketch-47 --long --out ketch-long.pdf\n",
    )
    command.add_argument("family", metavar="FAMILY", help="its id, such as skerrow/ketch-47, or its name")
    add_serial(command)
    command.add_argument("--state", choices=SETTING_STATES, help="the state to set in, where the book has it")
    add_stand(command)
    add_output(command, "html", "markdown", "pdf", "json")
    command.add_argument("--paper", choices=("a4", "letter"), default="a4", help="the paper's size (a4)")
    command.add_argument("--long", action="store_true", help="every step whole on some ten pages, instead of one leaf")
    command.add_argument("--site", type=_site, metavar="URL", help="where the book is published, for the QR code")
    add_named_book(command)
    command.set_defaults(run=run, extra="paper")


def run(arguments: argparse.Namespace) -> int:
    """Write the sheet; errors of look-up go up to the command line's exit codes."""
    from kb.cli.output_files import chosen_form, write_output

    form = chosen_form(arguments)
    book = open_named_book(arguments)
    from kb.publish.sheet.address import EXAMPLE_SITE
    from kb.publish.sheet.making import make_sheet

    sheet = make_sheet(book, arguments.family, on_the_stand(arguments), site=arguments.site or EXAMPLE_SITE)
    return write_output(arguments, _content(sheet, form, arguments.paper, long=arguments.long))


def _content(sheet: Sheet, form: str, paper: str, *, long: bool) -> str | bytes:
    match form:
        case "json":
            from kb.publish.sheet.document import sheet_json

            return sheet_json(sheet)
        case "markdown":
            from kb.publish.sheet.markdown import sheet_markdown

            return sheet_markdown(sheet, long=long)
        case "pdf":
            from kb.publish.sheet.pdf import sheet_pdf

            return sheet_pdf(sheet, paper, long=long)
        case _:
            from kb.publish.sheet.html import sheet_html

            return sheet_html(sheet, paper, long=long)


def _site(words: str) -> str:
    from kb.errors import QuantityError
    from kb.publish.sheet.address import read_site

    try:
        return read_site(words)
    except QuantityError as error:
        raise argparse.ArgumentTypeError(str(error)) from None
