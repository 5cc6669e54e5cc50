"""The template of a family's page, as the server reads it once for all families."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import Any

from jinja2 import Environment, StrictUndefined, Template
from markupsafe import escape

_TAG = re.compile(r"\{[{%].*?[%}]\}")
_INNER = re.compile(r"\.(\w+)")
_escaped = lru_cache(maxsize=65536, typed=True)(escape)


def page_template(source: str) -> Template:
    """The template, all texts escaped and undefined names refused.

    Its paths go through plain mappings: written as items they are looked up at once, while a dot would first be tried
    as an attribute, a thousand times a page. All families' pages repeat the same few thousand texts, so each is escaped
    once.
    """
    by_item = _TAG.sub(lambda tag: _INNER.sub(r"['\1']", tag[0]), source)
    template = Environment(autoescape=True, undefined=StrictUndefined, trim_blocks=True).from_string(by_item)
    drawing: Any = template.root_render_func
    drawing.__globals__["escape"] = _escaped
    return template
