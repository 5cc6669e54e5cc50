"""Finding in a browser, and a family out of what a phone keeps, at the size of the generated book.

Times are processor time in Chromium, as on a machine four times slower.
"""

from __future__ import annotations

import base64
import gzip
import json
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import kb
from kb.book.book import Book
from kb.publish.site.family.document import family_page, job_order
from kb.publish.site.finding.index_files import INDEX, finding_files
from kb.publish.site.offline.pack import pack_files
from tests.benchmarks.finding import Headings, generated, made_up, questions
from tests.benchmarks.looking_up import compiled
from tests.benchmarks.measure import Row
from tests.benchmarks.phone import chromium
from tests.support.folders import ASSETS
from tests.support.modules import modules_needed
from tests.support.node import run_module
from tests.support.served import served

_BOX = "find/finding-box.js"
_PAGE = f"""<!doctype html><meta charset="utf-8"><title>Finding</title><div data-finding data-root=""></div>
<script type="module" src="assets/{_BOX}"></script>
"""
_READ_BACK = """
import { readFileSync } from "node:fs";
import { Pack } from ASSETS/offline/pack.js;
const [files, pages] = JSON.parse(readFileSync(process.argv[2], "utf8"));
const bytes = (path) => Uint8Array.from(Buffer.from(files[path], "base64")).buffer;
await new Pack(async (name) => bytes(`offline/${name}`)).read(Object.keys(pages)[0]);
const start = process.cpuUsage(), pack = new Pack(async (name) => bytes(`offline/${name}`));
await pack.read(Object.keys(pages)[0]);
const spent = process.cpuUsage(start), took = (spent.user + spent.system) / 1000;
let same = 0;
for (const [id, page] of Object.entries(pages))
  if (JSON.stringify(await pack.read(id)) === JSON.stringify(page)) same++;
console.log(JSON.stringify([same, took]));
"""
_SEARCHES = """async (asked) => {
  const { Index } = await import("./assets/find/index/index.js");
  const { search } = await import("./assets/find/searching.js");
  const index = await Index.read(await (await fetch("finding/index.bin")).arrayBuffer());
  index.warm();
  return asked.map((questions) => questions.filter(([words, family]) =>
    search(index, words, 20).some((hit) => hit.family === family)).length / questions.length);
}"""
_KEYS = """(words) => {
  const box = document.querySelector("input"), times = [];
  for (const text of words) for (let length = 1; length <= text.length; length++) {
    box.value = text.slice(0, length);
    const start = performance.now();
    box.dispatchEvent(new Event("input"));
    times.push(performance.now() - start);
  }
  return times.sort((a, b) => a - b)[Math.floor(times.length * 0.95)];
}"""


def rows(families: int) -> Iterator[Row]:
    """Every figure, as it is measured."""
    with chromium() as browser:
        yield from _finding(browser, "generated book", generated(families, 1), judged=True)
        yield from _finding(browser, "names of all kinds", made_up(families, 1), judged=False)
    with kb.open_book(compiled(families)) as book:
        yield from _kept(book)


def _kept(book: Book) -> Iterator[Row]:
    """How exactly and quickly one family comes back out of the pack of all, under Node."""
    pages, order = dict[str, Any](), job_order(book)

    def documents() -> Iterator[Any]:
        for number, key in enumerate(sorted(book.family_ids())):
            page = family_page(book, key, order)
            if number % 100 == 0:
                pages[key] = page
            yield page

    files = pack_files(documents())
    with tempfile.TemporaryDirectory() as folder:
        packed = {path: base64.b64encode(content).decode() for path, content in files.items()}
        (Path(folder) / "asked.json").write_text(json.dumps([packed, pages]))
        same, first = json.loads(run_module(_READ_BACK, Path(folder) / "asked.json"))
    told = f"{same} of {len(pages)} the same; processor x4"
    yield Row(
        "offline: a family out of the pack",
        f"{4 * first:.0f} ms",
        told,
        "200 ms",
        same == len(pages) and 4 * first <= 200,
    )


def _finding(browser: Any, name: str, book: Headings, *, judged: bool) -> Iterator[Row]:
    index = finding_files(book, "2026-11-01")[INDEX]
    scripts = {f"assets/{path}": (ASSETS / path).read_bytes() for path in sorted(modules_needed(_BOX))}
    total = len(index) + sum(len(gzip.compress(script, 9)) for script in scripts.values())
    yield Row(
        f"finding, {name}: to the first result",
        f"{total / 1000:.1f} kB",
        f"index {len(index) / 1000:.1f} kB",
        "140 kB" if judged else "",
        total <= 140_000 if judged else None,
    )
    count = min(1000, len(book.families))
    asked = [list(questions(book, count, 47, slip=slip)) for slip in (False, True)]
    with served({"index.html": _PAGE.encode(), INDEX: index, **scripts}) as host:
        first = min(_first_result(browser, host.address, asked[0][at][0]) for at in range(3))
        yield Row(
            f"finding, {name}: first result",
            f"{first:.0f} ms",
            "fetch, read, search, draw; processor x4",
            "500 ms" if judged else "",
            first <= 500 if judged else None,
        )
        page = browser.new_page()
        page.goto(host.address)
        shares = page.evaluate(_SEARCHES, json.loads(json.dumps(asked)))
        for what, share in zip(("maker, power and year", "the same with a slip"), shares, strict=True):
            yield Row(f"finding, {name}: {what}", f"{share:.1%}", "in the first 20", "99 %", share >= 0.99)
        page.fill("input", "x")
        page.wait_for_timeout(1000)
        words, clock = [words for words, _ in asked[1][:40]], _Clock(page)
        start = clock.milliseconds()
        most = page.evaluate(_KEYS, words)
        took = (clock.milliseconds() - start) / sum(map(len, words))
        clocked = f"19 of 20 in {4 * most:.0f} ms by the clock, x4"
        yield Row(
            f"finding, {name}: a key press",
            f"{took:.0f} ms",
            clocked,
            "50 ms" if judged else "",
            took <= 50 if judged else None,
        )
        page.close()


class _Clock:
    """Processor time of a page's main thread: what else the machine does is not counted. A phone is taken to be four
    times slower."""

    def __init__(self, page: Any) -> None:
        self.session = page.context.new_cdp_session(page)
        self.session.send("Performance.enable", {"timeDomain": "threadTicks"})

    def milliseconds(self) -> float:
        """So far, four times."""
        metrics = {one["name"]: one["value"] for one in self.session.send("Performance.getMetrics")["metrics"]}
        return 4000 * float(metrics["TaskDuration"])


def _first_result(browser: Any, address: str, words: str) -> float:
    """Milliseconds of processor time from typing, with nothing fetched yet but the scripts, to the first row."""
    page = browser.new_page()
    page.add_init_script(
        "delete window.requestIdleCallback; window.setTimeout = ((real) => (task, after) =>"
        " after === 1000 ? 0 : real(task, after))(window.setTimeout)"
    )
    page.goto(address)
    clock = _Clock(page)
    before = clock.milliseconds()
    page.evaluate(
        """(words) => new Promise((resolve) => {
          const box = document.querySelector("input");
          new MutationObserver(() => document.querySelector(".finding-rows li") && resolve())
            .observe(document.querySelector(".finding-rows"), { childList: true });
          box.value = words;
          box.dispatchEvent(new Event("input"));
        })""",
        words,
    )
    took = clock.milliseconds() - before
    page.close()
    return took
