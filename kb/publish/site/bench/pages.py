"""The pages of the bench aids: plain forms, which the site's scripts calculate from, and one that lists them."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

from jinja2 import Environment, StrictUndefined
from markupsafe import Markup

from kb.publish.site.bench.aids import bench_aids, timing_light_figures
from kb.publish.site.foot import SCRIPTS, foot, strip
from kb.publish.site.frame import Frame

if TYPE_CHECKING:
    from kb.publish.site.family.page_types import SharedDocument

_SHEETS = ("bench.css", "finding.css")
_ABOUT = "The arithmetic between the printed figure and the engine. What you type stays on this page."
_OF_KIND = ("label", "aim", "margin_limit", "safest_end", "if_early", "if_late")


def bench_pages(theme: Path, frame: Frame, shared: SharedDocument) -> Iterator[tuple[str, str]]:
    """Each page of the bench: its path under the site's root, and its HTML. All links are relative.

    ``theme`` is the folder with the template, ``shared`` the shared document of the book.
    """
    environment = Environment(autoescape=True, undefined=StrictUndefined, trim_blocks=True)
    template = environment.from_string((theme / "bench.html").read_text(encoding="utf-8"))
    figures = timing_light_figures(shared["figures"])
    kinds = {key: {name: kind[name] for name in _OF_KIND if name in kind} for key, kind in figures.items()}
    aids = list(bench_aids(kinds))

    def page(root: str, content: dict[str, Any], scripts: tuple[str, ...] = ()) -> str:
        head = {"strip": Markup(strip(shared["invented"])), "foot": Markup(foot(root)), "aids": aids}
        title = f"{content['title']} · Stopscrew"
        return frame.page(title, template.render({**head, **content}), root, (*scripts, *SCRIPTS), _SHEETS)

    yield "bench/index.html", page("../", {"aid": "", "title": "The bench", "about": _ABOUT})
    for aid in aids:
        content = {**aid, "kinds": json.dumps(kinds) if aid["of_timing_light"] else ""}
        yield f"bench/{aid['aid']}/index.html", page("../../", content, ("bench/page.js",))
