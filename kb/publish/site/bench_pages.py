"""The pages of the bench aids: plain forms that the site's scripts work out, and one that lists them."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from jinja2 import Environment, StrictUndefined

from kb.publish.site.bench_fields import bench_aids


def bench_pages(theme: Path) -> Iterator[tuple[str, str]]:
    """Each page of the bench: its path under the site's root, and its HTML. All links are relative.

    ``theme`` is the folder with the template.
    """
    environment = Environment(autoescape=True, undefined=StrictUndefined, keep_trailing_newline=True)
    template = environment.from_string((theme / "bench.html").read_text(encoding="utf-8"))
    aids = list(bench_aids())
    about = "The arithmetic between the printed figure and the engine. What you type stays on this page."
    listed = {"aid": "", "title": "The bench", "about": about, "root": "../", "aids": aids}
    yield "bench/index.html", template.render(listed)
    for aid in aids:
        yield f"bench/{aid['aid']}/index.html", template.render({**aid, "root": "../../"})
