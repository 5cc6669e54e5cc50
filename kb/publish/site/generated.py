"""Reading pages that the book itself writes, as Markdown: the cautions, and the catalogue of figures."""

from __future__ import annotations

import html
import re
from collections.abc import Mapping

from kb.book.book import Book
from kb.publish.site.shared import line

_MARKUP = re.compile(r"([\\`*_{}\[\]()#+.!|~:-])")


def plain(words: object) -> str:
    """Words that Markdown leaves as they are: nothing in them is markup, HTML, or a link."""
    return _MARKUP.sub(r"\\\1", html.escape(line(words))).replace("&\\#", "&#")


def caution_page(book: Book) -> str:
    """Every caution, the gravest first, with what stands behind it."""
    order = ("danger", "warning", "care")
    cautions = sorted(book.cautions.items(), key=lambda one: (order.index(one[1]["severity"]), one[0]))
    said = [
        f"## {plain(caution['severity'].capitalize())}: {plain(caution['title'])} {{ #{key} }}\n\n"
        f"{plain(caution['text'])}\n\nBehind it: {plain(caution.get('behind', 'common practice'))}.\n"
        for key, caution in cautions
    ]
    first = "The maker's own instructions, local rules and a licensed mechanic come first.\n"
    return "\n".join(["# Cautions\n", first, *said])


def catalogue_pages(book: Book) -> Mapping[str, str]:
    """A page for each kind of figure, and one that lists them in the order of the job."""
    kinds = sorted(book.figures.values(), key=lambda kind: (kind.job_order, kind.id))
    listed = "".join(f"- [{plain(kind.label)}]({kind.id}.md)\n" for kind in kinds)
    pages = {"figures/index.md": f"# The figures, in the order of the job\n\n{listed}"}
    for kind in kinds:
        document = kind.document
        told = [f"# {plain(kind.label)}\n", plain(document.get("about", "")) + "\n"]
        told.append(f"- stated: {plain(', '.join(kind.states))}\n- units: {plain(', '.join(kind.units))}")
        told.append(f"- hazard {plain(kind.hazard)}: {plain(document.get('hazard_because', ''))}")
        for key, words in (("if_early", "too early"), ("if_late", "too late")):
            if key in document:
                told.append(f"- {words}: {plain(document[key])}")
        called = [plain(name) for name in document.get("also_called", ())]
        told += [f"- also called {', '.join(called)}"] if called else []
        told += [f"- plausible: {plain(one['because'])}" for one in document.get("plausible", ()) if "because" in one]
        pages[f"figures/{kind.id}.md"] = "\n".join(told) + "\n"
    return pages
