"""Building the site: what a page costs, alone and in its parts, at the size of the book and at a tenth of it; the
memory it takes; and whether two builds are the same.

The budget of a page is for generating it: its HTML from its document. A family's drawing, its document for programs
and its place in the pack are built besides; all of it together is held against mkdocs making a page of the words alone.
"""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from functools import cache, partial
from pathlib import Path
from time import process_time
from typing import Any

from mkdocs.commands.build import build
from mkdocs.config import load_config

import kb
from kb.book.model.engine_ranges import Document
from kb.publish.site.family.document import family_page
from kb.publish.site.family.shared import shared_document
from tests.benchmarks.looking_up import compiled
from tests.benchmarks.measure import HOME, Row, best_of, how_often, slowness
from tests.benchmarks.page_parts import parts
from tests.support.folders import ROOT

PAGE_BUDGET = 0.0005
MEMORY_BUDGET = 200_000_000
_FEW = 40  # families at most in the book whose build is taken off: what is left is what families cost
_SAMPLE = 400


def rows(families: int) -> Iterator[Row]:
    """Every figure, as it is measured."""
    few = min(_FEW, families // 5)
    small, large = max(2 * few, families // 10), families
    first, again = built(large), one_build(compiled(large), HOME / "site-again")
    others = {count: one_build(compiled(count), HOME / "site-other") for count in (few, small)} | {large: again}

    def each(count: int, what: str = "seconds") -> float:
        """For one family: the less of two builds, for what else the machine does only ever adds."""
        whole, start = (min(built(size)[what], others[size][what]) for size in (count, few))
        return float(whole - start) / (count - few)

    mkdocs = _mkdocs(few, how_often(families, 2))
    with kb.open_book(compiled(small)) as book:
        of_a_page = list(parts(book, _SAMPLE))
    generating = next(part.seconds for part in of_a_page if part.what == "page")
    yield Row(
        "generate a page",
        _said(generating),
        f"bare Python starts {slowness():.2f} times the design's",
        f"{_said(PAGE_BUDGET)}, here {_said(PAGE_BUDGET * slowness())}",
        generating <= PAGE_BUDGET * slowness(),
    )
    yield Row(
        f"build, all of a family of {large}",
        _said(each(large)),
        f"{_said(each(large, 'system'))} of it in the system; mkdocs, words alone: {_said(mkdocs)}",
        "less than mkdocs",
        each(large) < mkdocs,
    )
    for part in of_a_page:
        times = part.seconds / part.peer_seconds
        peer = f"{part.peer}: {_said(part.peer_seconds)}: {times:.1f} times"
        yield Row(f"  of it, {part.what}", _said(part.seconds), peer, "")
    yield Row(
        f"build, a page of {large} to one of {small}",
        f"{each(large) / each(small):.2f} times",
        f"{_said(each(large))} to {_said(each(small))}",
        "1.2 times",
        each(large) <= 1.2 * each(small),
    )
    yield Row(
        f"build of {large}, memory at its most",
        f"{first['memory'] / 1e6:.0f} MB",
        f"of {few}: {built(few)['memory'] / 1e6:.0f} MB",
        f"{MEMORY_BUDGET // 10**6} MB",
        max(first["memory"], again["memory"]) <= MEMORY_BUDGET,
    )
    yield Row(
        f"build of {large}, twice",
        "alike" if first["sum"] == again["sum"] else "not alike",
        f"{first['files']} files, {first['seconds']:.0f} s",
        "byte for byte",
        first["sum"] == again["sum"],
    )


@cache
def built(families: int) -> dict[str, Any]:
    """One build of the generated book of so many families, into ``site_of``, once for all topics of a run."""
    return one_build(compiled(families), site_of(families))


def site_of(families: int) -> Path:
    """Where the site of so many families is built."""
    return HOME / f"site-{families}"


def one_build(book: Path, place: Path) -> dict[str, Any]:
    """A build in a process of its own.

    Raises:
        subprocess.CalledProcessError: it failed.
    """
    shutil.rmtree(place, ignore_errors=True)
    command = [sys.executable, "-m", "tests.benchmarks.one_build", str(book), str(place)]
    told = subprocess.run(command, cwd=ROOT, check=True, stdout=subprocess.PIPE, text=True).stdout
    found: dict[str, Any] = json.loads(told)
    return found


def _said(seconds: float) -> str:
    return f"{seconds * 1000:.2f} ms"


def _mkdocs(few: int, rounds: int) -> float:
    """Seconds that mkdocs with the reading pages' theme takes for one page more, which has a family's words on it but
    no markup of ours, no drawing, no document and no place in a pack; none of the pages is in its navigation."""
    with kb.open_book(compiled(few)) as book:
        shared = shared_document(book)
        texts = [_markdown(family_page(book, key), shared) for key in sorted(book.family_ids())]
    once, more = (best_of(rounds, partial(_mkdocs_seconds, texts * times)) for times in (1, 4))
    return (more - once) / (3 * len(texts))


def _mkdocs_seconds(texts: list[str]) -> float:
    with tempfile.TemporaryDirectory() as folder:
        pages = Path(folder) / "pages"
        pages.mkdir()
        (pages / "index.md").write_text("# Start\n", encoding="utf-8")
        for number, text in enumerate(texts):
            (pages / f"family-{number}.md").write_text(text, encoding="utf-8")
        (Path(folder) / "mkdocs.yml").write_text(
            "site_name: Peer\ntheme: {name: material, font: false}\nplugins: []\nnav: [index.md]\n"
            "validation: {nav: {omitted_files: ignore}}\n",
            encoding="utf-8",
        )
        config = load_config(str(Path(folder) / "mkdocs.yml"), docs_dir=str(pages), site_dir=str(Path(folder) / "out"))
        start = process_time()
        build(config)
        return process_time() - start


def _markdown(page: Document, shared: Document) -> str:
    """The words of a family's page, as one would write them by hand."""
    lines = [f"# {shared['makers'][page['maker']]} {page['name']}", ""]
    for figure in page["figures"]:
        for row in figure["rows"]:
            label = shared["figures"][figure["id"]]["label"]
            lines += [f"## {label} {row['state']}", "", f"**{row['printed']}** {row['standing']}", ""]
            for number, *_ in row["statements"]:
                printed, _, state, conditions, _, source, paper = figure["cited"][number][:7]
                title = shared["sources"][page["sources"][source]]["title"]
                lines.append(f"- {printed} {state} {conditions}: {title}, page {paper}")
            lines.append("")
    lines += [f"**{shared['cautions'][one]['title']}** {shared['cautions'][one]['text']}\n" for one in page["cautions"]]
    return "\n".join([*lines, page["look_for"], shared["first"], ""])
