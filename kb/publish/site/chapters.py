"""The list of reading pages in the order of reading, and the navigation around each."""

from __future__ import annotations

import html
from typing import NamedTuple

from kb.publish.site.foot import SCRIPTS, foot, strip
from kb.publish.site.frame import Frame

CHAPTERS = (
    ("read/what/", "What this is"),
    ("read/page/", "How to read a page"),
    ("read/trust/", "How sure a figure is"),
    ("read/routine/", "The order of work"),
    ("read/cautions/", "Cautions"),
    ("read/hazards/", "What can go wrong"),
    ("figures/", "The figures"),
    ("coverage/", "What the book holds"),
    ("read/contribute/", "Contribute"),
    ("rules/", "The rules of the check"),
    ("read/command-line/", "On the command line"),
    ("read/programmers/", "For programmers"),
    ("read/changes/", "Changes"),
    ("read/releases/", "Versions and releases"),
    ("read/cite/", "How to cite"),
    ("about/", "About"),
)
"""Path and title of each; a page below one of them, such as that of one rule, belongs to it."""

SHEETS = ("finding.css", "reading.css")


class WrittenPage(NamedTuple):
    """A reading page: its path under the site's root, which ends with a slash, its title, and its body as HTML."""

    path: str
    title: str
    body: str


def root_of(path: str) -> str:
    """The relative path from a page to the site's root."""
    return "../" * path.count("/")


def framed(frame: Frame, page: WrittenPage, invented: bool) -> str:
    """The whole page: the strip, the body, the link to the next chapter, and the foot."""
    root = root_of(page.path)
    chapter = next((place for place, (path, _) in enumerate(CHAPTERS) if page.path.startswith(path)), None)
    title = page.title if page.title == "Stopscrew" else f"{page.title} · Stopscrew"
    body = (
        f'<main class="reading">{strip(invented)}'
        f'<p class="over"><a href="{root}">Stopscrew</a>{_above(page, chapter, root)}<a href="#pages">All pages</a></p>'
        f"<article>{page.body}{_onward(page, chapter, root)}</article>"
        f'<nav class="pages" id="pages" aria-label="To read"><ol>{_listed(page, chapter, root)}</ol></nav>'
        f"{foot(root)}</main>"
    )
    return frame.page(title, body, root, SCRIPTS, SHEETS)


def _above(page: WrittenPage, chapter: int | None, root: str) -> str:
    if chapter is None or page.path == CHAPTERS[chapter][0]:
        return ""
    path, title = CHAPTERS[chapter]
    return f'<a href="{root}{path}">{html.escape(title)}</a>'


def _onward(page: WrittenPage, chapter: int | None, root: str) -> str:
    """The link at the end of a chapter to the next one."""
    if chapter is None or page.path != CHAPTERS[chapter][0] or chapter + 1 == len(CHAPTERS):
        return ""
    path, title = CHAPTERS[chapter + 1]
    return f'<p class="onward">Read on: <a href="{root}{path}">{html.escape(title)}</a></p>'


def _listed(page: WrittenPage, chapter: int | None, root: str) -> str:
    made = []
    for place, (path, title) in enumerate(CHAPTERS):
        here = "" if place != chapter else f' aria-current="{"page" if page.path == path else "true"}"'
        made.append(f'<li><a href="{root}{path}"{here}>{html.escape(title)}</a></li>')
    return "".join(made)
