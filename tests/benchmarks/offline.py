"""What a phone keeps of the generated site: its bytes and requests as built, and how long a family takes that was never
visited, with the server dead and with it hung.

Times are by the clock, from tapping to the first paint, the worker started afresh for each. The budget is for this
machine as it is; beside it stands what a processor four times slower would take: the page's is made so, the worker's
cannot be, so what it takes, but for waiting for the server, is counted four times.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import islice
from pathlib import Path

from playwright.sync_api import Page

from kb.publish.site.finding.index_files import INDEX
from kb.publish.site.offline.phone_copy import requests_and_bytes
from tests.benchmarks.building import built, site_of
from tests.benchmarks.measure import Row, how_often
from tests.benchmarks.phone import SLOWER, chromium, on_a_phone, site_served, slowed

KEPT, REQUESTS, DEAD, HUNG = 450_000, 10, 200, 2000
_PATIENCE = 1500  # milliseconds that the worker waits for the server
_TRIED = 10
_PAINTED = """async () => {
  const painted = () => performance.getEntriesByName("first-contentful-paint")[0];
  while (!painted()) await new Promise((done) => setTimeout(done, 5));
  const [tapped] = performance.getEntriesByType("navigation");
  return [painted().startTime, tapped.workerStart ? tapped.responseStart - tapped.workerStart : 0];
}"""


def rows(families: int) -> Iterator[Row]:
    """Every figure, as it is measured."""
    built(families)
    place = site_of(families)
    paths = [*(path.relative_to(place).as_posix() for path in sorted((place / "offline").iterdir())), "worker.js"]
    files = {path: (place / path).read_bytes() for path in paths}
    requests, size = requests_and_bytes(files, (place / INDEX).read_bytes())
    pack = sum(len(content) for path, content in files.items() if "/part-" in path or "/shapes" in path)
    yield Row(
        f"offline, {families}: all that is kept",
        f"{size / 1000:.0f} kB",
        f"the pack {pack / 1000:.0f} kB; shell {len(files['offline/shell.bin']) / 1000:.0f} kB",
        f"{KEPT // 1000} kB",
        size <= KEPT,
    )
    yield Row(
        f"offline, {families}: requests", str(requests), ", ".join(paths)[:44], str(REQUESTS), requests <= REQUESTS
    )
    yield from _unvisited(place, families, how_often(families, _TRIED))


def _unvisited(place: Path, families: int, tried: int) -> Iterator[Row]:
    pages = [path.parent.relative_to(place).as_posix() for path in (place / "families").glob("*/*/index.html")]
    each = iter(sorted(pages)[:: max(1, len(pages) // (4 * tried + 4))])
    with chromium() as browser, site_served(place) as host:
        context = on_a_phone(browser, keeps=True)
        page = context.new_page()
        page.goto(host.address)
        page.locator("#copy-state", has_text="families are on this phone").wait_for(timeout=120_000)

        def quickest(tries: int, waited: float, times: int) -> float:
            return min(_painted(page, f"{host.address}{path}/", waited, times) for path in islice(each, tries))

        found: dict[tuple[str, int], float] = {}
        for times in (1, SLOWER):
            if times > 1:
                slowed(page, line=False)
            for mode, waited in (("ok", 0), ("stopped", 0), ("hung", _PATIENCE)):
                host.mode = mode
                found[mode, times] = quickest(min(2, tried) if mode == "ok" else tried, waited, times)
            host.mode = "ok"
        for mode, budget in (("stopped", DEAD), ("hung", HUNG)):
            slower = f"x{SLOWER}: {found[mode, SLOWER]:.0f}, {found['ok', SLOWER]:.0f}"
            said = f"from the server {found['ok', 1]:.0f}; {slower}"
            yield Row(
                f"offline, {families}: never visited, server {mode}",
                f"{found[mode, 1]:.0f} ms",
                said,
                f"{budget} ms",
                found[mode, 1] <= budget,
            )
        context.close()


def _painted(page: Page, address: str, waited: float, times: int) -> float:
    """Milliseconds from the tap to the first paint, with no worker running yet; what the worker takes of it besides
    waiting counts so many times."""
    session = page.context.new_cdp_session(page)
    session.send("ServiceWorker.enable")
    session.send("ServiceWorker.stopAllWorkers")
    session.detach()
    page.goto(address)
    paint, worker = page.evaluate(_PAINTED)
    if not page.locator("section.row").count():
        raise RuntimeError(f"{address} is not the family's page: {page.locator('body').inner_text()[:200]}")
    return float(paint + (times - 1) * max(0.0, worker - waited))
