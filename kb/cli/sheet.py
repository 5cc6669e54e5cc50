"""``stopscrew sheet``: the order of work filled in for one engine, to print, to keep, or for a program."""

from __future__ import annotations

import argparse
import sys

from kb.cli.options import add_book, add_command, add_serial, add_stand, on_the_stand, open_named_book

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
        "  stopscrew sheet skerrow/ketch-47 --pdf ketch.pdf --paper letter\n"
        "  stopscrew sheet skerrow/ketch-47 --dead-centre-reads '2 before' --md\n",
    )
    command.add_argument("family", metavar="FAMILY", help="its id, such as skerrow/ketch-47, or its name")
    add_serial(command)
    command.add_argument(
        "--state", choices=("cranking", "static", "running"), help="the state to set in, where the book has it"
    )
    add_stand(command)
    command.add_argument("--out", metavar="FILE", help="write there instead of to standard output")
    command.add_argument("--pdf", metavar="FILE", help="write a PDF there")
    command.add_argument("--md", action="store_true", help="Markdown instead of HTML")
    command.add_argument("--paper", choices=("a4", "letter"), default="a4", help="the paper's size (a4)")
    command.add_argument("--site", type=_site, metavar="URL", help="where the book is published, for the QR code")
    add_book(command)
    command.set_defaults(run=run, refuse=command.error)


def run(arguments: argparse.Namespace) -> int:
    """Write the sheet; errors of look-up go up to the command line's exit codes."""
    if arguments.md and arguments.json:
        arguments.refuse("argument --md: not allowed with argument --json")
    book = open_named_book(arguments)
    from kb.cli.output_files import write_files
    from kb.publish.sheet.address import EXAMPLE_SITE
    from kb.publish.sheet.making import make_sheet

    sheet = make_sheet(
        book,
        arguments.family,
        serial=arguments.serial,
        year=arguments.year,
        state=arguments.state,
        site=arguments.site or EXAMPLE_SITE,
        **on_the_stand(arguments),
    )
    files: dict[str, bytes] = {}
    if arguments.pdf:
        from kb.publish.sheet.pdf import sheet_pdf

        files[arguments.pdf] = sheet_pdf(sheet, arguments.paper)
    if arguments.out:
        files[arguments.out] = _text(arguments, sheet).encode("utf-8")
    elif not arguments.pdf or arguments.md or arguments.json:
        code = write_files(files, aside=True) if files else 0
        if not code:
            sys.stdout.write(_text(arguments, sheet))
        return code
    return write_files(files)


def _text(arguments: argparse.Namespace, sheet: Sheet) -> str:
    """The sheet in the form that was asked for."""
    if arguments.json:
        from kb.publish.sheet.document import sheet_json

        return sheet_json(sheet)
    if arguments.md:
        from kb.publish.sheet.markdown import sheet_markdown

        return sheet_markdown(sheet)
    from kb.publish.sheet.html import sheet_html

    return sheet_html(sheet, arguments.paper)


def _site(words: str) -> str:
    from kb.errors import QuantityError
    from kb.publish.sheet.address import read_site

    try:
        return read_site(words)
    except QuantityError as error:
        raise argparse.ArgumentTypeError(str(error)) from None
