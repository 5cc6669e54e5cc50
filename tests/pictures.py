"""``python -m tests.pictures``: the README's pictures of the demonstration book, as a phone shows them."""

from __future__ import annotations

import struct
import tempfile
import zlib
from pathlib import Path

from playwright.sync_api import Page, ViewportSize

import kb
from kb.publish.site.build import build_site
from tests.support.folders import SITE
from tests.support.in_browser import browser
from tests.support.raster import png_rows
from tests.support.served import served

PICTURES = SITE / "pictures"
_FEWER = 12  # shades this near to each other become one, until all that are left fit into a palette

JOB = """async () => {
    const load = (name) => import(new URL(`../assets/${name}.js`, location.href).href);
    const modules = ["job/log/job-log", "job/log/entries", "book/job"].map(load);
    const [{ openJobLog }, { newEntry, newId }, { jobOf }] = await Promise.all(modules);
    const get = async (path) => (await fetch(path)).json();
    const page = await get("../families/skerrow/ketch-47/page.json");
    const steps = jobOf(page, await get("routines.json")).steps, job = newId(), kept = await openJobLog();
    const add = (kind, said) => kept.append(newEntry(job, kind, said));
    await add("begin", { family: page.id, name: page.name, maker: "Skerrow", invented: true, data_of: "2026-07-27",
        routine: page.routine, serial: "301455", year: "1979", state: "cranking", margin: "1" });
    await add("which", { answer: "stamp", serial: "", year: "" });
    for (const step of steps.slice(0, steps.findIndex(({ id }) => id === "pickup"))) {
        if (step.id === "dead-centre") {
            await add("dead-centre", { reads: "2", stops: ["31", "-27"] });
            await add("pointer", { answer: "stays" });
        }
        for (const tick of step.gate) await add("tick", { step: step.id, tick, on: true });
        await add("done", { step: step.id });
    }
    return job;
}"""
"""A job as far as the throttle pickup; its id."""


def make() -> None:
    """Write every picture anew."""
    PICTURES.mkdir(parents=True, exist_ok=True)
    with browser() as shown:
        with tempfile.TemporaryDirectory() as folder:
            place = build_site(kb.open_book(), Path(folder) / "site").place
            held = (file for file in place.rglob("*") if file.is_file())
            files = {file.relative_to(place).as_posix(): file.read_bytes() for file in held}
        with served(files) as host:
            phone: ViewportSize = {"width": 390, "height": 844}
            context = shown.new_context(viewport=phone, service_workers="block", reduced_motion="reduce")
            _on_the_phone(context.new_page(), host.address)
            context.close()


def _on_the_phone(page: Page, address: str) -> None:
    page.goto(address)
    page.get_by_role("searchbox").or_(page.get_by_role("combobox")).first.fill("skerow 47 1979")
    page.locator(".finding-rows a").first.wait_for()
    _taken(page, "start")
    page.goto(f"{address}families/skerrow/ketch-47/#serial=301455&margin=1")
    page.locator(".maximum .big").wait_for()
    _taken(page, "family")
    page.goto(f"{address}job/")
    job = page.evaluate(JOB)
    page.goto(f"{address}job/#{job}/pickup")
    page.locator("#met").click()
    page.locator(".target").first.wait_for()
    _taken(page, "step")


def _taken(page: Page, name: str) -> None:
    page.evaluate("document.activeElement.blur()")
    page.evaluate("document.fonts.ready")
    (PICTURES / f"{name}.png").write_bytes(smaller(page.screenshot()))


def smaller(picture: bytes) -> bytes:
    """A picture of few colours with a palette of at most 256, and nothing else in it."""
    rows, channels = png_rows(picture)
    colours: dict[tuple[int, ...], int] = {}
    drawn = [[tuple(row[at : at + 3]) for at in range(0, len(row), channels)] for row in rows]
    for row in drawn:
        for colour in row:
            colours[colour] = colours.get(colour, 0) + 1
    palette: list[tuple[int, ...]] = []
    places: dict[tuple[int, ...], int] = {}
    for colour in sorted(colours, key=lambda one: -colours[one]):  # the commonest stay as they are
        near = next((at for at, one in enumerate(palette) if _apart(one, colour) < _FEWER), None)
        if near is None and len(palette) == 256:
            near = min(range(256), key=lambda at: _apart(palette[at], colour))
        if near is None:
            palette.append(colour)
        places[colour] = len(palette) - 1 if near is None else near
    packed = zlib.compress(b"".join(b"\0" + bytes(places[colour] for colour in row) for row in drawn), 9)
    head = struct.pack(">IIBBBBB", len(drawn[0]), len(drawn), 8, 3, 0, 0, 0)
    chunks = ((b"IHDR", head), (b"PLTE", bytes(sum(palette, ()))), (b"IDAT", packed), (b"IEND", b""))
    return b"\x89PNG\r\n\x1a\n" + b"".join(
        struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body)) for kind, body in chunks
    )


def _apart(one: tuple[int, ...], other: tuple[int, ...]) -> int:
    return max(abs(mine - theirs) for mine, theirs in zip(one, other, strict=True))


if __name__ == "__main__":
    make()
