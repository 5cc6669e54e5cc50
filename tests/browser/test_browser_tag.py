"""The cowl tag and the sheet in a real browser and on paper, and the ways to give words to someone else."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import axe_playwright_python
import pypdfium2
import pytest
import zxingcpp
from playwright.sync_api import Browser, Page, PdfMargins, Route

from kb.book.setting.job import job
from kb.publish.site.family.document import family_page
from kb.publish.site.family.shared import shared_document
from kb.publish.site.frame import Frame
from kb.publish.site.routines import routines_document
from tests.support.folders import ASSETS
from tests.support.frozen import frozen_book
from tests.support.job_entries import FAMILY, Entry, begin, entry, whole_job
from tests.support.served import Host, served

AXE = Path(axe_playwright_python.__file__).with_name("axe.min.js")
MADE = """async ([entries, family]) => {
    const [{ fold }, { tagOf, drawTag }, { drawn }] = await Promise.all(
        ["log/record", "output/cowl-tag", "output/print"].map((name) => import(`../assets/job/${name}.js`)));
    const [page, shared] = await Promise.all(
        [`../families/${family}/page.json`, "../shared.json"].map(async (path) => (await fetch(path)).json()));
    const tag = tagOf(fold(entries), page, shared), sheet = drawTag(tag);
    document.querySelector("#place").replaceChildren(sheet);
    await drawn(sheet);
    return tag;
}"""


@pytest.fixture(scope="module")
def host() -> Iterator[Host]:
    files = {
        f"assets/{path.relative_to(ASSETS).as_posix()}": path.read_bytes()
        for path in ASSETS.rglob("*")
        if path.is_file()
    }
    frame = Frame((ASSETS / "page.css").read_text("utf-8"))
    body = '<main><h1>A job</h1><p>what stands around it</p><div id="place"></div></main>'
    files["job/index.html"] = frame.page("A job", body, "../", (), ("job-print.css",)).encode()
    files["job/routines.json"] = json.dumps(routines_document(frozen_book())).encode()
    files["shared.json"] = json.dumps(shared_document(frozen_book())).encode()
    files[f"families/{FAMILY}/page.json"] = json.dumps(family_page(frozen_book(), FAMILY)).encode()
    files |= {"icon.svg": b'<svg xmlns="http://www.w3.org/2000/svg"/>', "manifest.webmanifest": b"{}"}
    with served(files) as running:
        yield running


@pytest.fixture(scope="module")
def page(chromium: Browser, host: Host) -> Iterator[Page]:
    """A phone at night; what goes wrong in its console, the policy's refusals among them, fails the tests."""
    context = chromium.new_context(viewport={"width": 390, "height": 844}, color_scheme="dark", device_scale_factor=2)
    opened = context.new_page()
    wrong: list[str] = []
    opened.on("console", lambda message: wrong.append(message.text) if message.type in ("error", "warning") else None)
    opened.on("pageerror", lambda error: wrong.append(str(error)))
    opened.goto(f"{host.address}job/")
    yield opened
    context.close()
    assert wrong == []


def tag_of(page: Page, entries: list[Entry]) -> Any:
    return page.evaluate(MADE, [entries, FAMILY])


def read_back(document: bytes, per_inch: int = 300) -> list[str]:
    """What a reader of codes makes of a printed page, at the resolution of a plain office printer or another."""
    opened = pypdfium2.PdfDocument(document)
    try:
        assert len(opened) == 1
        return [code.text for code in zxingcpp.read_barcodes(opened[0].render(scale=per_inch / 72).to_numpy())]
    finally:
        opened.close()


def test_the_encoder_is_fetched_with_the_first_tag_only(page: Page, host: Host) -> None:
    host.asked.clear()
    page.evaluate("async () => { await import('../assets/job/output/cowl-tag.js') }")
    assert "assets/job/output/cowl-tag.js" in host.asked
    assert "assets/vendor/lean-qr.js" not in host.asked
    tag_of(page, whole_job())
    assert "assets/vendor/lean-qr.js" in host.asked


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("pointer", ["0", "-1.5", None])
def test_the_printed_code_holds_the_words_of_the_tag(page: Page, paper: str, pointer: str | None) -> None:
    tag = tag_of(page, whole_job(pointer))
    assert read_back(page.pdf(format=paper)) == [tag["text"]]


SEEN = """() => {
    const [tag, code] = [".tag", ".tag-code svg"].map((one) => document.querySelector(one));
    const { width, height } = tag.getBoundingClientRect(), { color, backgroundColor } = getComputedStyle(tag);
    const digits = [...tag.querySelectorAll(".tag-big strong")].map((b) => parseFloat(getComputedStyle(b).fontSize));
    return { sizes: [width, height, code.getBoundingClientRect().width], digits, colours: [color, backgroundColor] };
}"""


def test_the_fullest_code_in_other_letters_is_read_from_a_poor_print(page: Page) -> None:
    odd = [begin(name="Æöß 🛥 シャフト", serial="A" * 31), *whole_job("-2.5")[1:]]
    tag = tag_of(page, [{**one, "job": odd[0]["job"]} for one in odd])
    assert "Æöß 🛥 シャフト" in tag["text"]
    assert len(tag["text"].encode()) > 500
    assert read_back(page.pdf(format="A4"), 180) == [tag["text"]]


def test_the_tag_has_its_size_and_what_was_read_can_be_seen_from_afar(page: Page) -> None:
    tag_of(page, whole_job())
    page.emulate_media(media="print")
    seen = page.evaluate(SEEN)
    page.emulate_media(media="null")
    wide, tall, code = (size * 25.4 / 96 for size in seen["sizes"])
    assert wide == pytest.approx(90, abs=0.1)
    assert 55 <= tall <= 66
    assert [size * 25.4 / 96 for size in seen["digits"]] == pytest.approx([8.5, 8.5])
    assert code / (4 * 18 + 17 + 8) >= 0.39, "each module is wide enough for a phone"
    assert seen["colours"] == ["rgb(0, 0, 0)", "rgb(255, 255, 255)"]
    text = re.sub(r"\s+", " ", page.locator(".tag").inner_text())
    for said in (
        "Skerrow Ketch 47",
        "serial 361204",
        "23° BTDC cranking",
        "5° ATDC cranking",
        "As left 2026-11-28 by mk",
        "reads 2° earlier cranking than at 5000 rpm",
        "margin kept: 1° late",
        "Invented demonstration data",
        "a licensed mechanic come first",
    ):
        assert said in text


@pytest.mark.parametrize("width", [320, 390, 1280])
def test_it_fits_every_screen(page: Page, width: int) -> None:
    page.set_viewport_size({"width": width, "height": 844})
    tag_of(page, whole_job("2"))
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    page.set_viewport_size({"width": 390, "height": 844})


def torn(route: Route) -> None:
    route.fulfill(content_type="text/javascript", body="throw new Error('torn')")


def test_without_the_encoder_the_tag_says_so(page: Page) -> None:
    page.route("**/job/output/qr-code.js*", torn)
    page.reload()
    tag_of(page, whole_job())
    note = page.locator(".tag-note").inner_text()
    page.unroute("**/job/output/qr-code.js*")
    page.reload()
    assert note == "The code could not be drawn (torn); the tag holds the same words."


def test_printing_one_thing_prints_nothing_else(page: Page) -> None:
    tag = tag_of(page, whole_job())
    page.evaluate("window.print = () => { window.printed = true }")
    page.evaluate(
        """async () => {
            const { printAlone } = await import("../assets/job/output/print.js");
            await printAlone(document.querySelector(".tag-sheet"));
        }"""
    )
    assert page.evaluate("window.printed")
    document = page.pdf(format="A4", margin={"top": "15mm", "left": "15mm"})
    assert read_back(document) == [tag["text"]]
    words = pypdfium2.PdfDocument(document)[0].get_textpage().get_text_range()
    assert "what stands around it" not in words
    page.evaluate("dispatchEvent(new Event('afterprint'))")
    assert page.locator(".print-room").count() == 0
    assert page.get_by_text("what stands around it").is_visible()


WAYS = """async ([share, clipboard, file]) => {
    const { shareText, shareFile } = await import("../assets/job/output/share.js");
    const given = [];
    const way = (does) => does && (async (what) => {
        if (does !== "works") throw does === "TypeError" ? new TypeError(does) : new DOMException("not now", does);
        given.push(what.files ? await what.files[0].text() : what.text ?? what);
    });
    const put = (name, value) => Object.defineProperty(navigator, name, { value, configurable: true });
    put("share", way(share));
    put("canShare", share ? (what) => !what.files || file !== "no files" : undefined);
    put("clipboard", clipboard && { writeText: way(clipboard) });
    document.execCommand = clipboard === "by hand" ? () => given.push(document.activeElement.value) : () => false;
    const text = "two\\nlines";
    const said = await (file ? shareFile("job.json", text, "application/json") : shareText("A job", text));
    return { ...said, given };
}"""
SHEET = """async ([entries, family, view, draw]) => {
    const [{ fold }, drawn] = await Promise.all(
        ["log/record", `output/${view}`].map((name) => import(`../assets/job/${name}.js`)));
    const { jobOf } = await import("../assets/book/job.js");
    const [page, shared, routines] = await Promise.all([`../families/${family}/page.json`, "../shared.json",
        "routines.json"].map(async (path) => (await fetch(path)).json()));
    const sheet = drawn[draw](fold(entries), jobOf(page, routines), page, shared);
    document.querySelector("#place").replaceChildren(sheet);
    const { color, backgroundColor } = getComputedStyle(sheet);
    return [color, backgroundColor, document.documentElement.scrollWidth];
}"""


LONG, LEAF = ("sheet-view", "drawSheet"), ("leaf-view", "drawLeaf")


NOTED = "<img src=x onerror=alert(1)> lock nut was lost"
SAID = (
    "Invented demonstration data",
    "Skerrow Ketch 47",
    "serial 361204, of 1979",
    NOTED,
    "a licensed mechanic come",
    "5° ATDC cranking (truly 7° ATDC)",
    "1 degree late (retarded)",
    "set to 3° ATDC as the pointer shows it",
    "Sources of the figures",
)


def printed_sheet(page: Page, view: tuple[str, str], margin: PdfMargins) -> list[str]:
    """The words on each page of a job's sheet in print, black on white."""
    entries = [*whole_job("2"), entry("note", step="maximum", text=NOTED), entry("done", step="maximum")]
    assert page.evaluate(SHEET, [entries, FAMILY, *view]) == ["rgb(0, 0, 0)", "rgb(255, 255, 255)", 390]
    document = pypdfium2.PdfDocument(page.pdf(format="Letter", margin=margin))
    pages = [" ".join(one.get_textpage().get_text_range().split()) for one in document]
    document.close()
    return pages


def test_the_sheet_of_a_job_is_one_leaf(page: Page) -> None:
    """Two pages; the override first, every figure with what was found and left, every step and every line of a gate."""
    first, second = printed_sheet(page, LEAF, {"top": "10mm", "bottom": "10mm", "left": "10mm", "right": "10mm"})
    for said in (*SAID, "danger: Open flywheel."):
        assert said in first, said
    for number, step in enumerate(job(frozen_book(), FAMILY).steps, 1):
        assert f"{number} {'Gate. ' if step.gate else ''}{' '.join(step.do.split()[:3])}" in second, step.id
        assert all(" ".join(line.split()[:4]) in second for line in step.gate), step.id


def test_the_long_sheet_prints_whole_and_black_on_white(page: Page) -> None:
    pages = printed_sheet(page, LONG, {"top": "12mm", "bottom": "12mm"})
    words = " ".join(pages)
    steps = job(frozen_book(), FAMILY).steps
    assert 3 <= len(pages) <= 7
    for number, step in enumerate(steps, 1):
        assert f"{number} {' '.join(step.do.split()[:6])}" in words, step.id
        assert all(" ".join(line.split()[:4]) in words for line in step.gate), step.id
    for said in (*SAID, f"{len(steps) - 1} of {len(steps)} steps are not done"):
        assert said in words


def test_nothing_stands_in_anyones_way(page: Page) -> None:
    """axe finds nothing in tag and sheet; whoever cannot see the code hears its words."""
    tag = tag_of(page, whole_job("2"))
    page.evaluate(
        "document.querySelector('#place').id = 'tag'; document.querySelector('main').append(Object.assign("
        "document.createElement('div'), { id: 'place' }))"
    )
    page.evaluate(SHEET, [whole_job("2"), FAMILY, *LEAF])
    assert page.locator(".tag-code svg").get_attribute("aria-label") == f"A code that holds these words: {tag['text']}"
    page.evaluate(AXE.read_text("utf-8"))
    found = page.evaluate("axe.run(document, { resultTypes: ['violations'] })")["violations"]
    page.reload()
    assert [(one["id"], one["nodes"][0]["html"]) for one in found] == []


COPIED = "Copied. Paste it where you want it."
BY_FINGER = "This browser does not allow copying from here: select the text and copy it."
OUTCOMES = [
    # what the phone's sharing does, and its clipboard; what came of it
    ("works", "works", "shared", "Shared."),
    ("AbortError", "works", "left", "Not shared: sharing was cancelled."),
    ("NotAllowedError", "works", "copied", COPIED),
    ("TypeError", "works", "copied", COPIED),
    ("", "works", "copied", COPIED),
    ("", "by hand", "copied", COPIED),
    ("", "NotAllowedError", "failed", BY_FINGER),
    ("", "", "failed", BY_FINGER),
]


@pytest.mark.parametrize(("share", "clipboard", "came", "words"), OUTCOMES)
def test_words_are_shared_else_copied_and_what_came_of_it_is_said(
    page: Page, share: str, clipboard: str, came: str, words: str
) -> None:
    told = page.evaluate(WAYS, [share, clipboard, ""])
    given = ["two\nlines"] if came in ("shared", "copied") else []
    assert told == {"came": came, "words": words, "given": given}
    assert page.locator(".copy-field").count() == 0


def test_a_file_is_shared_where_files_can_be(page: Page) -> None:
    told = page.evaluate(WAYS, ["works", "", "a file"])
    assert told == {"came": "shared", "words": "Shared.", "given": ["two\nlines"]}
    assert page.evaluate(WAYS, ["AbortError", "", "a file"])["came"] == "left"


@pytest.mark.parametrize(("share", "file"), [("works", "no files"), ("NotAllowedError", "a file"), ("", "a file")])
def test_a_file_is_saved_where_it_can_not_be_shared(page: Page, share: str, file: str) -> None:
    with page.expect_download() as fetched:
        told = page.evaluate(WAYS, [share, "", file])
    assert told == {"came": "saved", "words": "Saved as job.json; look for it under downloads.", "given": []}
    assert fetched.value.suggested_filename == "job.json"
    assert fetched.value.path().read_text() == "two\nlines"
