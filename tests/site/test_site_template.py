"""The browser's interpreter of the page template draws what the real one draws, byte for byte, or refuses."""

from __future__ import annotations

import json
import subprocess
from collections.abc import Iterator
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from jinja2 import Environment, StrictUndefined
from jinja2.exceptions import TemplateError, UndefinedError

from tests.support.folders import ASSETS
from tests.support.node import NODE, SCRIPTS
from tests.support.samples import tries

SERVER = Environment(autoescape=True, undefined=StrictUndefined, trim_blocks=True)
NAMES = ["name", "rows", "row", "value", "at", "note", "maker"]


class Browser:
    """One Node process that draws a template a line."""

    def __init__(self) -> None:
        command = [str(NODE), str(SCRIPTS / "draw_lines.mjs"), str(ASSETS)]
        self._process = subprocess.Popen(
            command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, encoding="utf-8"
        )

    def draw(self, template: str, view: dict[str, Any]) -> dict[str, str]:
        """What it drew, or that it refused and why."""
        given, told = self._process.stdin, self._process.stdout
        assert given is not None
        assert told is not None
        given.write(json.dumps({"template": template, "view": view}) + "\n")
        given.flush()
        answer: dict[str, str] = json.loads(told.readline())
        assert "broken" not in answer, answer
        return answer

    def close(self) -> None:
        """End it."""
        self._process.communicate()


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    running = Browser()
    yield running
    running.close()


TEXTS = st.text(st.sampled_from("&<>'\"{}%#ab °\n\t−é𝄞 \u2028\\"), max_size=8)
PATHS = st.lists(st.sampled_from(NAMES), min_size=1, max_size=3).map(".".join)


def _plain(words: str) -> str:
    """Text of a template that opens nothing by chance."""
    return words.replace("{", "(")


@st.composite
def blocks(draw: st.DrawFn, inner: st.SearchStrategy[str]) -> str:
    path, body = draw(PATHS), draw(inner)
    kind = draw(st.sampled_from(["for", "if", "if-else"]))
    space = draw(st.sampled_from(["", " ", "\n  "]))
    if kind == "for":
        return f"{{%{space}for {draw(st.sampled_from(NAMES))} in {path}{space}%}}{body}{{% endfor %}}"
    otherwise = f"{{% else %}}{draw(inner)}" if kind == "if-else" else ""
    return f"{{% if {path} %}}{body}{otherwise}{{%endif%}}"


PIECES = TEXTS.map(_plain) | PATHS.map(lambda path: f"{{{{ {path} }}}}") | PATHS.map(lambda path: f"{{{{{path}}}}}")
TEMPLATES = st.recursive(
    st.lists(PIECES, max_size=4).map("".join),
    lambda inner: st.lists(inner | blocks(inner), max_size=3).map("".join),
    max_leaves=12,
)
VALUES: st.SearchStrategy[Any] = st.recursive(
    TEXTS | st.integers(-9, 9_999),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.sampled_from(NAMES), inner, max_size=5),
    max_leaves=20,
)
WHOLE = dict.fromkeys(NAMES, VALUES)
VIEWS = st.fixed_dictionaries(WHOLE) | st.fixed_dictionaries({}, optional=WHOLE)


@settings(max_examples=tries(120, 400), deadline=None, suppress_health_check=list(HealthCheck))
@given(template=TEMPLATES, view=VIEWS)
def test_any_template_of_the_subset(browser: Browser, template: str, view: dict[str, Any]) -> None:
    answer = browser.draw(template, view)
    if "drawn" in answer:
        assert answer["drawn"] == SERVER.from_string(template).render(view)
        return
    # What the browser refuses the server refuses as well, or it writes or loops over it in Python's own way.
    if answer["refused"].endswith("leads nowhere"):
        with pytest.raises(UndefinedError):
            SERVER.from_string(template).render(view)
    else:
        assert answer["refused"].endswith((" is no list", " is neither text nor a whole number"))


ALIKE = [
    ("a {{ x }} b\n", {"x": '<a href="\'">&amp;'}),
    ("a\r\nb\rc\n\n", {}),
    (
        "{% for x in xs %}{{ x.a }},{% for y in x.b %}{{ x.a }}{{ y }}{% endfor %};{% endfor %}",
        {"xs": [{"a": 1, "b": ["p", "q"]}, {"a": 0, "b": []}]},
    ),
    ("{% if x %}y{% else %}n{% endif %}" * 2, {"x": 0}),
    ("{% if x %}y{% else %}n{% endif %}", {"x": []}),
    ("{% if x %}y{% else %}n{% endif %}", {"x": {}}),
    ("{% if x %}y{% else %}n{% endif %}", {"x": None}),
    ("{% if x %}y{% else %}n{% endif %}", {"x": "0"}),
    ("{% for x in xs %}{{ x }}{% endfor %}{{ x }}", {"xs": ["in"], "x": "out"}),
    ("one {# nothing #} two", {}),
]


@pytest.mark.parametrize(("template", "view"), ALIKE)
def test_drawn_alike(browser: Browser, template: str, view: dict[str, Any]) -> None:
    assert browser.draw(template, view) == {"drawn": SERVER.from_string(template).render(view)}


REFUSED = [
    "{{ x | safe }}",
    "{{ x.items }}",
    "{{ 'x' }}",
    "{{ x[0] }}",
    "{{ x",
    "{% if x %}",
    "{% for x in y %}{% else %}",
    "{% endif %}",
    "{% if x and y %}a{% endif %}",
    "{%- if x %}a{% endif %}",
    "{% include 'x' %}",
    "{{ loop.index }}",
    "{% for x in y %}{% endif %}",
    "{{ x.__class__ }}",
    "{% if x %}{% else %}{% else %}{% endif %}",
    "{{}}",
    "{{ missing }}",
    "{{ x.missing }}",
    "{% for a in x %}{% endfor %}",
    "{{ x }}{{ flag }}",
    "{{ half }}",
    "{{ x.constructor }}",
    "{{ x.length }}",
    "{{ xs.length }}",
]


@pytest.mark.parametrize("template", REFUSED)
def test_anything_else_is_refused(browser: Browser, template: str) -> None:
    view = {"x": "text", "y": ["a"], "xs": ["a"], "flag": True, "half": 0.5}
    assert "refused" in browser.draw(template, view)


def test_the_real_one_refuses_or_differs_where_we_refuse() -> None:
    with pytest.raises(TemplateError):
        SERVER.from_string("{{ missing }}").render({})
    assert SERVER.from_string("{{ x.items }}").render({"x": {"items": "a"}}) != "a"
