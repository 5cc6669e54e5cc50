"""What a phone keeps of the generated site: its bytes and requests as built, and how long a family takes that was never
visited, with the server dead and with it hung.

Times are by the clock, from tapping to the first paint, the worker started afresh for each. The page's processor is
made four times slower; the worker's cannot be, so what it takes, but for waiting for the server, is counted four times.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from playwright.sync_api import Page

from kb.publish.site.finding import INDEX
from kb.publish.site.offline import requests_and_bytes
from tests.bench.building import built, site_of
from tests.bench.measure import Row
from tests.bench.phone import SLOWER, chromium, on_a_phone, site_served, slowed

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
    yield Row(f"offline, {families}: all that is kept", f"{size / 1000:.0f} kB",
              f"the pack {pack / 1000:.0f} kB; shell {len(files['offline/shell.bin']) / 1000:.0f} kB",
              f"{KEPT // 1000} kB", size <= KEPT)  # fmt: skip
    yield Row(f"offline, {families}: requests", str(requests), ", ".join(paths)[:44], str(REQUESTS),
              requests <= REQUESTS)  # fmt: skip
    yield from _unvisited(place, families)


def _unvisited(place: Path, families: int) -> Iterator[Row]:
    pages = [path.parent.relative_to(place).as_posix() for path in (place / "families").glob("*/*/index.html")]
    pages = sorted(pages)[:: max(1, len(pages) // (2 * _TRIED + 1))]
    with chromium() as browser, site_served(place) as host:
        context = on_a_phone(browser, keeps=True)
        page = context.new_page()
        page.goto(host.address)
        page.locator("#copy-state", has_text="families are on this phone").wait_for(timeout=120_000)
        slowed(page, line=False)
        there = min(_painted(page, host.address + pages[0] + "/", 0)[0] for _ in range(2))
        for mode, waited, budget in (("stopped", 0, DEAD), ("hung", _PATIENCE, HUNG)):
            found, pages = pages[1 : _TRIED + 1], pages[_TRIED:]
            host.mode = mode
            slow, worker = min(_painted(page, f"{host.address}{path}/", waited) for path in found)
            said = f"its worker {worker:.0f} ms; from the server {there:.0f}; x4"
            yield Row(f"offline, {families}: never visited, server {mode}", f"{slow:.0f} ms", said,
                      f"{budget} ms", slow <= budget)  # fmt: skip
            host.mode = "ok"
        context.close()


def _painted(page: Page, address: str, waited: float) -> tuple[float, float]:
    """Milliseconds from the tap to the first paint, with no worker running yet, and what the worker takes of it besides
    waiting; the latter is in the former four times."""
    session = page.context.new_cdp_session(page)
    session.send("ServiceWorker.enable")
    session.send("ServiceWorker.stopAllWorkers")
    session.detach()
    page.goto(address)
    paint, worker = page.evaluate(_PAINTED)
    if not page.locator("section.row").count():
        raise RuntimeError(f"{address} is not the family's page: {page.locator('body').inner_text()[:200]}")
    own = max(0.0, worker - waited)
    return paint + (SLOWER - 1) * own, own
