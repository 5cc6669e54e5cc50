"""The head and the foot of every page: whose data it is, what comes before the book, and links."""

from __future__ import annotations

import html

_FIRST = "The maker's own instructions, local rules and a licensed mechanic come first."
_LINKS = (
    ("", "Find an engine"),
    ("bench/", "The bench"),
    ("job/", "Jobs"),
    ("read/what/", "What this is"),
    ("read/page/", "How to read a page"),
    ("read/routine/", "The order of work"),
    ("read/cautions/", "Cautions"),
    ("coverage/", "What the book holds"),
    ("about/", "About"),
)

SCRIPTS = ("offline/copy-state.js", "find/foot-box.js")
"""The scripts of every page: the line that says what this phone keeps, and the box that finds another engine."""


def strip(invented: bool) -> str:
    """The warning strip at the head of a page whose figures are invented; empty for real ones."""
    return '<p class="strip">Invented demonstration data. Set nothing by it</p>' if invented else ""


def foot(root: str, extra: str = "") -> str:
    """The foot of a page; ``root`` leads to the site's root, ``extra`` is one more line, as HTML."""
    links = "".join(f'<a href="{root + where or "./"}">{words}</a>' for where, words in _LINKS if root or where)
    more = f"<p>{extra}</p>" if extra else ""
    return (
        f'<footer><p>{html.escape(_FIRST)}</p>{more}<nav aria-label="Stopscrew">{links}</nav>'
        '<p id="copy-state"></p></footer>'
    )
