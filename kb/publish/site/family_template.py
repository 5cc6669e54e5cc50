"""The template of a family's page, as the server reads it once for all families."""

from __future__ import annotations

import re

from jinja2 import Environment, StrictUndefined, Template

_TAG = re.compile(r"\{[{%].*?[%}]\}")
_INNER = re.compile(r"\.(\w+)")


def page_template(source: str) -> Template:
    """The template, all texts escaped and every path leading somewhere.

    Its paths go through plain mappings: written as items they are looked up at once, where a point would first be tried
    as an attribute, a thousand times a page.
    """
    by_item = _TAG.sub(lambda tag: _INNER.sub(r"['\1']", tag[0]), source)
    return Environment(autoescape=True, undefined=StrictUndefined).from_string(by_item)
