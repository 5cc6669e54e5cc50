"""A family's page is drawn in the browser as on the server, byte for byte: every family, a grid of choices."""

from __future__ import annotations

import json
from collections import Counter
from fractions import Fraction
from functools import cache
from typing import Any

import pytest
from jinja2.exceptions import UndefinedError

from kb.errors import LookUpError, Refusal
from kb.publish.site.family.document import family_page
from kb.publish.site.family.page_types import PageDocument, SharedDocument
from kb.publish.site.family.shared import shared_document
from kb.publish.site.family.template import page_template
from kb.publish.site.family.value_parts import INCH, METRIC
from kb.publish.site.family.view import Choices, view
from tests.support.folders import ASSETS, SITE
from tests.support.frozen import frozen_book
from tests.support.node import run_node
from tests.support.timing import serials

TEMPLATE = (SITE / "theme" / "family.html").read_text(encoding="utf-8")
SERVER = page_template(TEMPLATE)
MARGINS = [Fraction(halves, 2) for halves in range(6)]


def page_of(family: str) -> PageDocument:
    """As it is published: through JSON."""
    page: PageDocument = json.loads(json.dumps(family_page(frozen_book(), family)))
    return page


@cache
def cases() -> list[tuple[int, Choices]]:
    """Each family: every state, every margin, the ends of every range of serial numbers and one that none holds."""
    found = []
    for number, family in enumerate(frozen_book().family_ids()):
        found += [(number, Choices(state)) for state in ("", "cranking", "running", "static")]
        found += [(number, Choices("", margin)) for margin in MARGINS]
        found += [(number, Choices(units=units)) for units in (METRIC, INCH)]
        for place, serial in enumerate((*serials(frozen_book(), family), "no such 7", "ZZ-1")):
            found.append((number, Choices("", MARGINS[place % 3], serial or "")))
    return found


@pytest.fixture(scope="module")
def drawn() -> list[Any]:
    pages = [page_of(family) for family in frozen_book().family_ids()]
    asked = [
        [number, {"state": one.state, "margin": str(one.margin), "serial": one.serial, "units": one.units}]
        for number, one in cases()
    ]
    given = {"template": TEMPLATE, "shared": shared_document(frozen_book()), "pages": pages, "cases": asked}
    done = run_node("view_lines.mjs", ASSETS, given=json.dumps(given))
    assert done.returncode == 0, done.stderr
    return list(json.loads(done.stdout))


def served(page: PageDocument, shared: SharedDocument, choices: Choices) -> Any:
    try:
        return SERVER.render(view(page, shared, choices))
    except (LookUpError, Refusal) as refusal:
        return [type(refusal).__name__, str(refusal), list(refusal.candidates)]


def test_every_family_is_drawn_alike(drawn: list[Any]) -> None:
    shared = json.loads(json.dumps(shared_document(frozen_book())))
    pages = [page_of(family) for family in frozen_book().family_ids()]
    came_of: Counter[str] = Counter()
    for (number, choices), found in zip(cases(), drawn, strict=True):
        assert found == served(pages[number], shared, choices), (pages[number]["id"], choices)
        came_of["page" if isinstance(found, str) else found[0]] += 1
    assert set(came_of) == {"page", "SerialFitsNone", "MarginTooWide"}
    assert came_of["page"] > 8 * len(pages)


def test_the_template_escapes_each_text_and_takes_no_path_that_leads_nowhere() -> None:
    template = page_template("{% for one in rows %}{{ one.text }}{% endfor %}{{ rest.text }}")
    hostile = {"rows": [{"text": "<b onclick='x'>"}], "rest": {"text": "&"}}
    assert template.render(hostile) == "&lt;b onclick=&#39;x&#39;&gt;&amp;"
    with pytest.raises(UndefinedError):
        template.render({"rows": [], "rest": {}})
