"""The sheet as one self-contained HTML page: it prints on A4 or Letter, reads on a phone, and loads nothing."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined, Template
from markupsafe import Markup

from kb.book.model.answer import INVENTED_WORDS
from kb.publish.sheet.address import qr_code
from kb.publish.sheet.record import Sheet

PAPERS = {"a4": "A4", "letter": "letter"}
"""Paper sizes by what is typed, as CSS names them."""


def sheet_html(sheet: Sheet, paper: str = "a4") -> str:
    """The page; ``paper`` is one of ``PAPERS``."""
    invented = f" · {INVENTED_WORDS}" if sheet.invented else ""
    return _template().render(
        sheet=sheet,
        paper=PAPERS[paper],
        invented_words=INVENTED_WORDS,
        foot=css_text(f"{sheet.full_name}{f', serial {sheet.serial}' if sheet.serial else ''}{invented}"),
        qr=Markup(qr_code(sheet.address)),
        drawings=[(title, Markup(drawing)) for title, drawing in sheet.drawings],
    )


@cache
def _template() -> Template:
    environment = Environment(
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
        loader=FileSystemLoader(Path(__file__).parent),
    )
    return environment.get_template("page.html")


def css_text(words: str) -> Markup:
    """Words as a CSS string in quotes, in which everything but letters, digits and spaces is written by its number.

    >>> str(css_text("K47 </style>"))
    '"K47 \\\\3c \\\\2f style\\\\3e "'
    """
    plain = (one if one.isascii() and (one.isalnum() or one == " ") else f"\\{ord(one):x} " for one in words)
    return Markup(f'"{"".join(plain)}"')
