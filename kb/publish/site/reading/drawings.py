"""Drawings in reading pages: plain SVG files, and drawings of a family of the book.

They are put into the page itself, so that their ink is the page's, light or dark, and they cost no further requests.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from fractions import Fraction
from pathlib import Path

from kb.book.book import Book
from kb.errors import LookUpError, QuantityError, Refusal
from kb.publish.drawings.picture import Picture
from kb.publish.drawings.rim import rim_drawing
from kb.publish.drawings.running import running_chart
from kb.publish.drawings.strip import HEIGHT, draw_strip
from kb.publish.drawings.tape_plan import MARGIN, tape_plan_for
from kb.publish.site.family.document import family_page
from kb.publish.site.family.shared import shared_document
from kb.publish.site.family.view import view
from kb.publish.site.reading.row_drawing import row_drawing

SHOWN = "skerrow/ketch-47"
"""The family that is drawn, where the book has it; else the first that can be drawn."""

_IMAGE = re.compile(r'<p><img alt="(?P<words>[^"]*)" src="[^"]*drawings/(?P<name>[a-z-]+)\.svg"\s*/?></p>')
_DESCRIPTION = re.compile(r"<desc[^>]*>(.*?)</desc>", re.S)
_BETWEEN = re.compile(r">\s+<")


def drawings_of(book: Book, folder: Path) -> Mapping[str, str]:
    """Every drawing by its name: the files of a folder, and the drawings of a family.

    A drawing for which no family of the book has the data is empty.
    """
    ours = {path.stem: path.read_text(encoding="utf-8") for path in sorted(folder.glob("*.svg"))}
    made = {"row": _row, "rim": _rim, "running": _running, "tape": _tape}
    families = [*([SHOWN] if book.get_heading(SHOWN) else []), *book.family_ids()[:50]]
    return ours | {name: _first(book, families, draw) for name, draw in made.items()}


def inlined(body: str, drawings: Mapping[str, str]) -> str:
    """A page's body with its drawings put in; for an empty drawing its description is shown.

    Raises:
        KeyError: the page names a drawing that does not exist.
    """

    def put(found: re.Match[str]) -> str:
        words, drawing = found["words"], _BETWEEN.sub("><", drawings[found["name"]].strip())
        if not drawing:
            return f"<p>{words}</p>"
        described = _DESCRIPTION.search(drawing)
        if not described:
            drawing = drawing.replace("<svg ", f'<svg role="img" aria-label="{words}" ', 1)
        in_words = (
            f"<details><summary>The drawing in words</summary><p>{described[1]}</p></details>" if described else ""
        )
        caption = f"<figcaption>{words}{in_words}</figcaption>" if described else ""
        return f'<figure class="drawing {found["name"]}">{drawing}{caption}</figure>'

    return _IMAGE.sub(put, body).replace("<pre><code", '<pre tabindex="0"><code')  # it scrolls, also by keys


def _first(book: Book, families: Sequence[str], draw: Callable[[Book, str], str]) -> str:
    """The drawing of the first family that has the data for it."""
    for family in families:
        try:
            return draw(book, family)
        except (LookUpError, Refusal, QuantityError):
            continue
    return ""


def _row(book: Book, family: str) -> str:
    return row_drawing(view(family_page(book, family), shared_document(book)), "shown-row")


def _rim(book: Book, family: str) -> str:
    return rim_drawing(book, family, prefix="shown-rim")


def _running(book: Book, family: str) -> str:
    return running_chart(book, family, prefix="shown-running")


def _tape(book: Book, family: str) -> str:
    """A short piece of the tape, as large as the screen allows and not at true scale."""
    plan = tape_plan_for(book, family, early=Fraction(18), late=Fraction(-12))
    wide = 2 * float(MARGIN) + plan.along(plan.early - plan.late)
    picture = Picture("shown-tape", wide)
    draw_strip(picture, plan, 1, 1)
    side = "left" if plan.before_left else "right"
    words = (
        f"A piece of a paper tape for the rim of the {plan.name}: a line for every degree from 18 before to 12 after "
        f"top dead centre, longer at every five and ten. Before top dead centre lies to the {side} of zero."
    )
    return picture.finish(HEIGHT + 2, plan.name, words)
