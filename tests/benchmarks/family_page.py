"""A family's page on the line and on a phone: its bytes, what is asked for until a figure shows, the first paint on a
slow line and processor, and its layout; on the demonstration site and on the generated one."""

from __future__ import annotations

import gzip
import sys
from collections.abc import Iterator, Sequence
from functools import cache
from pathlib import Path
from statistics import median
from typing import Any

from playwright.sync_api import Browser

from tests.benchmarks.building import built, one_build, site_of
from tests.benchmarks.measure import HOME, Row, how_often, processor_time
from tests.benchmarks.phone import chromium, on_a_phone, site_served, slowed

LARGEST, PAINT, SMALLEST_TYPE, LOWEST, ROWS = 8_000, 800, 28, 250, 8
_LOADED = 5  # so often a page is loaded; the least time counts, for what else the machine does only ever adds
_LOOKED_AT = 28  # so many pages are looked at for their layout: all of the demonstration's
_SHOWN = "section.row :is(.big, .said)"
_UNTIL_SHOWN = """async () => {
  const painted = () => performance.getEntriesByName("first-contentful-paint")[0];
  while (!painted()) await new Promise((done) => setTimeout(done, 20));
  const asked = performance.getEntriesByType("resource");
  return { paint: painted().startTime, asked: 1 + asked.filter((one) => one.renderBlockingStatus === "blocking").length,
    outside: asked.filter((one) => !one.name.startsWith(location.origin)).length };
}"""
_LAYOUT = """(shown) => {
  const rows = [...document.querySelectorAll(shown)].map((one) => one.getBoundingClientRect());
  const type = [...document.querySelectorAll(".big strong")].map((one) => parseFloat(getComputedStyle(one).fontSize));
  const seen = rows.filter((one) => one.bottom <= innerHeight).length;
  return { top: rows[0].top, type: Math.min(...type), rows: seen, all: rows.length };
}"""


def rows(families: int) -> Iterator[Row]:
    """Every figure, as it is measured."""
    built(families)
    often, looked_at = how_often(families, _LOADED), how_often(families, _LOOKED_AT)
    with chromium() as browser:
        for name, place in (("demonstration", demonstration_site()), ("generated", site_of(families))):
            pages = sorted((place / "families").glob("*/*/index.html"))
            sizes = {page: len(gzip.compress(page.read_bytes(), 9)) for page in pages}
            largest = max(pages, key=sizes.__getitem__)
            raw = max(page.stat().st_size for page in pages)
            yield Row(
                f"family page, {name}: the largest of {len(pages)}",
                f"{sizes[largest]} B",
                f"middle {median(sizes.values()):.0f} B; not pressed at most {raw} B",
                f"{LARGEST} B gzipped",
                sizes[largest] <= LARGEST,
            )
            paths = [page.parent.relative_to(place).as_posix() for page in pages]
            yield from _shown(browser, name, place, largest.parent.relative_to(place).as_posix(), often)
            yield from _laid_out(browser, name, place, paths[:: -(-len(paths) // looked_at)])


@cache
def demonstration_site() -> Path:
    """The demonstration site, built anew, once for all topics of a run."""
    book, place = HOME / "demonstration.book", HOME / "site-demonstration"
    processor_time([sys.executable, "-m", "kb.cli", "compile", "--specs", "specs", "--out", book])
    one_build(book, place)
    return place


def _shown(browser: Browser, name: str, place: Path, path: str, often: int) -> Iterator[Row]:
    """What a phone makes of the largest page."""
    with site_served(place) as host:
        found = [_loaded(browser, f"{host.address}{path}/") for _ in range(often)]
        blank = min(_loaded(browser, f"{host.address}version.json")["paint"] for _ in range(often))
    first = found[0]
    yield Row(
        f"family page, {name}: asked for until it shows",
        str(first["asked"]),
        f"{first['outside']} from outside",
        "1, none from outside",
        first["asked"] == 1 and first["outside"] == 0,
    )
    paint = min(one["paint"] for one in found)
    yield Row(
        f"family page, {name}: first paint",
        f"{paint:.0f} ms",
        f"a line of text: {blank:.0f} ms; x4, 400 kbit/s",
        f"{PAINT} ms",
        paint <= PAINT,
    )


def _laid_out(browser: Browser, name: str, place: Path, paths: Sequence[str]) -> Iterator[Row]:
    """The worst of some pages' layouts; a page with fewer rows than are wanted shows all it has."""
    context, found = on_a_phone(browser), dict[str, Any]()
    with site_served(place) as host:
        page = context.new_page()
        for path in paths:
            page.goto(f"{host.address}{path}/")
            found[path] = page.evaluate(_LAYOUT, _SHOWN)
    context.close()
    said = f"of {len(found)} pages, 390 x 844: {{}}"
    small = min(found, key=lambda path: float(found[path]["type"]))
    low = max(found, key=lambda path: float(found[path]["top"]))
    few = min(found, key=lambda path: float(found[path]["rows"] - min(ROWS, found[path]["all"])))
    yield Row(
        f"family page, {name}: the smallest figure",
        f"{found[small]['type']:g} px",
        said.format(small),
        f"{SMALLEST_TYPE} px",
        found[small]["type"] >= SMALLEST_TYPE,
    )
    yield Row(
        f"family page, {name}: the first figure",
        f"y = {found[low]['top']:.0f}",
        said.format(low),
        f"y < {LOWEST}",
        found[low]["top"] < LOWEST,
    )
    yield Row(
        f"family page, {name}: rows in sight",
        f"{found[few]['rows']} of {found[few]['all']}",
        said.format(few),
        str(ROWS),
        found[few]["rows"] >= min(ROWS, found[few]["all"]),
    )


def _loaded(browser: Browser, address: str) -> dict[str, Any]:
    """What the first load of a page comes to on a phone that has seen nothing yet."""
    context = on_a_phone(browser)
    page = context.new_page()
    slowed(page)
    page.goto(address)
    found: dict[str, Any] = page.evaluate(_UNTIL_SHOWN)
    context.close()
    return found
