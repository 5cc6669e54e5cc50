"""The sheet as one self-contained HTML page: it prints on A4 or Letter, reads on a phone, and loads nothing."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined, Template
from markupsafe import Markup

from kb.book.model.answer import INVENTED_WORDS
from kb.calc.dead_centre import STOP_JOB_BEYOND
from kb.publish.sheet.address import qr_code
from kb.publish.sheet.leaf import READINGS, clipped, leaf_of
from kb.publish.sheet.record import Sheet

PAPERS = {"a4": "A4", "letter": "letter"}
"""Paper sizes by what is typed, as CSS names them."""

FOOT = 80
"""The most letters at the foot of a page of the leaf: a longer line would grow upward into it."""


def sheet_html(sheet: Sheet, paper: str = "a4", *, long: bool = False) -> str:
    """The page, one leaf or the long sheet; ``paper`` is one of ``PAPERS``."""
    invented = f" · {INVENTED_WORDS}" if sheet.invented else ""
    foot = f"{sheet.full_name}{f', serial {sheet.serial}' if sheet.serial else ''}{invented}"
    shared = {"sheet": sheet, "paper": PAPERS[paper], "invented_words": INVENTED_WORDS}
    qr = Markup(qr_code(sheet.address))
    if long:
        drawings = [(title, Markup(drawing)) for title, drawing in sheet.drawings]
        return _template("page.html").render(**shared, foot=css_text(foot), qr=qr, drawings=drawings)
    leaf = leaf_of(sheet)
    return _template("leaf.html").render(
        **shared,
        leaf=leaf,
        readings=READINGS,
        foot=css_text(f"{clipped(foot, FOOT)} · in short; the long sheet has the whole"),
        qr=qr,
        strips=[Markup(one.target.strip) for one in leaf.targets],
        beyond=f"{STOP_JOB_BEYOND:g}",
    )


@cache
def _template(name: str) -> Template:
    environment = Environment(
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
        loader=FileSystemLoader(Path(__file__).parent),
    )
    return environment.get_template(name)


def css_text(words: str) -> Markup:
    """Words as a CSS string in quotes, in which everything but letters, digits and spaces is written by its number.

    >>> str(css_text("K47 </style>"))
    '"K47 \\\\3c \\\\2f style\\\\3e "'
    """
    plain = (one if one.isascii() and (one.isalnum() or one == " ") else f"\\{ord(one):x} " for one in words)
    return Markup(f'"{"".join(plain)}"')
