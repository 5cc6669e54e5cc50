"""Every order of work as one document for the browser, which makes a family's job from it; texts on one line."""

from __future__ import annotations

from typing import Any

from kb.book.book import Book
from kb.book.model.engine_ranges import Document, as_list
from kb.publish.site.family.shared import line

_LINES = ("do", "more", "why")


def routines_document(book: Book) -> dict[str, Any]:
    """By routine id ``name``, ``about`` (left out where there is none), ``linkage`` and ``steps`` as in specs/routines;
    the same for the same book."""
    return {key: _routine(routine) for key, routine in sorted(book.routines.items())}


def _routine(routine: Document) -> dict[str, Any]:
    about = {"about": line(routine["about"])} if routine.get("about") else {}
    steps = [_step(step) for step in routine["steps"]]
    return {"name": line(routine["name"]), **about, "linkage": routine["linkage"], "steps": steps}


def _step(step: Document) -> dict[str, Any]:
    document = {key: line(value) if key in _LINES else value for key, value in step.items()}
    if "gate" in step:
        document["gate"] = [{**item, "tick": line(item["tick"])} for item in as_list(step["gate"])]
    return document
