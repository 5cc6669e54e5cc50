"""What a phone keeps of jobs, in a real browser: two tabs, a page killed, storage refused, full, gone; no network."""

from __future__ import annotations

import json
import os
import re
import signal
from collections.abc import Iterator, Mapping
from contextlib import suppress
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Error, Page, Route, expect

from kb.publish.site.offline.phone_copy import READ_AT_THE_ENGINE
from tests.browser.test_browser_finding import KEPT
from tests.support.folders import ASSETS
from tests.support.frozen import frozen_book
from tests.support.in_browser import system_browser
from tests.support.random_jobs import Told
from tests.support.served import Host, served

PAGE = b'<!doctype html><html lang="en"><meta charset="utf-8"><title>Kept</title>'
OPEN = """async () => {
  const [keep, made, record] = await Promise.all(["job-log", "entries", "record"].map((name) =>
    import(new URL(`../assets/job/log/${name}.js`, location.href).href)));
  globalThis.kept = await keep.openJobLog();
  Object.assign(globalThis, made, record, { heard: [] });
  kept.onChange((job) => heard.push(job));
}"""
STATE = "() => ({ problem: kept.problem, lasting: kept.lasting })"
APPEND = "(entry) => kept.append(entry)"
ENTRIES = "(job) => kept.entriesOf(job)"


@pytest.fixture(scope="module")
def host() -> Iterator[Host]:
    files = {f"assets/{path.relative_to(ASSETS).as_posix()}": path.read_bytes() for path in ASSETS.rglob("*.js")}
    with served({**files, "job/index.html": PAGE}) as running:
        yield running


@pytest.fixture
def phone(chromium: Browser) -> Iterator[BrowserContext]:
    context = chromium.new_context()
    yield context
    context.close()


@pytest.fixture
def job() -> Told:
    told = Told()
    told.read("28")
    told.read("23", "left")
    return told


def opened(phone: BrowserContext, host: Host) -> Page:
    page = phone.new_page()
    page.goto(f"{host.address}job/")
    page.evaluate(OPEN)
    return page


def test_two_tabs_add_at_once_and_both_know_all(phone: BrowserContext, host: Host, job: Told) -> None:
    one, other = opened(phone, host), opened(phone, host)
    assert one.evaluate(APPEND, job.entries[0]) is True
    other.wait_for_function("(job) => heard.includes(job)", arg=job.job)
    assert other.evaluate(ENTRIES, job.job) == job.entries[:1]
    for page, mark in ((one, "one"), (other, "other")):  # not awaited here: both write at the same time
        page.evaluate(
            """([job, mark]) => {
              globalThis.writing = Promise.all(Array.from({ length: 40 }, (_, number) =>
                kept.append(newEntry(job, "note", { text: `${mark} ${number}` }))));
            }""",
            [job.job, mark],
        )
    assert [page.evaluate("() => writing.then((all) => all.every(Boolean))") for page in (one, other)] == [True, True]
    known = [page.evaluate(ENTRIES, job.job) for page in (one, other)]
    assert known[0] == known[1]
    texts = [entry["text"] for entry in known[0][1:]]
    for mark in ("one", "other"):
        assert [text for text in texts if text.startswith(f"{mark} ")] == [f"{mark} {number}" for number in range(40)]
    (told,) = other.evaluate("() => kept.jobs()")
    assert (told["id"], len(told["notes"]), told["changed"]) == (job.job, 80, known[0][-1]["at"])
    again = other.evaluate("(entries) => kept.appendAll(entries)", [*known[0], *job.entries])
    assert again == {"added": 2, "lasting": True}
    other.evaluate(BROKEN, 2)
    assert other.evaluate(APPEND, job.add("note", text="held in this page")) is False
    other.evaluate("() => { heard.length = 0; }")
    one.evaluate("(job) => kept.remove(job)", job.job)
    other.wait_for_function("() => heard.length > 0")
    assert other.evaluate(ENTRIES, job.job) == []
    with pytest.raises(Error, match="This job was removed in another window, so nothing can be added to it"):
        other.evaluate(APPEND, job.entries[1])
    assert other.evaluate("() => kept.jobs()") == []
    assert other.evaluate(STATE) == {"problem": "", "lasting": True}


def test_a_newer_page_may_take_the_store_over_and_an_older_one_says_so(
    phone: BrowserContext, host: Host, job: Told
) -> None:
    one, other = opened(phone, host), opened(phone, host)
    assert [page.evaluate(APPEND, job.entries[0]) for page in (one, other)] == [True, True]
    one.evaluate(
        """() => new Promise((resolve, reject) => {
          const request = indexedDB.open("stopscrew-jobs", 2);
          request.onblocked = reject;
          request.onsuccess = () => resolve(request.result.close());
        })"""
    )
    assert other.evaluate(APPEND, job.entries[1]) is False
    assert re.match("A newer version of this page .* reload it with a signal", other.evaluate(STATE)["problem"])
    assert other.evaluate(ENTRIES, job.job) == job.entries[:2]


def test_a_clock_put_back_puts_no_entry_before_another(phone: BrowserContext, host: Host, job: Told) -> None:
    page = opened(phone, host)
    page.evaluate("(entries) => kept.appendAll(entries)", job.entries)
    page.reload()
    page.evaluate(OPEN)
    later = page.evaluate(
        """async (job) => {
          await kept.entriesOf(job);
          Date.now = () => 0;
          for (const text of ["a", "b"]) await kept.append(newEntry(job, "note", { text }));
          return kept.entriesOf(job);
        }""",
        job.job,
    )
    assert later[:3] == job.entries
    assert [entry["text"] for entry in later[3:]] == ["a", "b"]
    assert later[2]["at"] < later[3]["at"] < later[4]["at"]


def processes_of(place: Path) -> list[int]:
    """The browser that keeps its data there, with a script that started it, and none of its helpers."""
    found = []
    for command in Path("/proc").glob("[0-9]*/cmdline"):
        with suppress(OSError):
            words = command.read_bytes().split(b"\0")
            if f"--user-data-dir={place}".encode() in words and not any(word.startswith(b"--type=") for word in words):
                found.append(int(command.parent.name))
    assert found, "no browser has its data there"
    return found


def test_a_browser_killed_right_after_loses_nothing(chromium: Browser, host: Host, job: Told, tmp_path: Path) -> None:
    def phone() -> BrowserContext:
        launch = chromium.browser_type.launch_persistent_context
        return launch(tmp_path / "phone", executable_path=system_browser(), args=["--no-sandbox"])

    killed = phone()
    page = opened(killed, host)
    for entry in job.entries:
        assert page.evaluate(APPEND, entry) is True
    for process in processes_of(tmp_path / "phone"):
        with suppress(ProcessLookupError):  # a script ends with the browser that it started
            os.kill(process, signal.SIGKILL)
    with pytest.raises(Error):
        page.evaluate(STATE)
    killed.close()
    again = phone()
    assert opened(again, host).evaluate(ENTRIES, job.job) == job.entries
    again.close()


def test_storage_refused_is_told_and_the_page_goes_on(phone: BrowserContext, host: Host, job: Told) -> None:
    """As a browser does that is told to keep nothing of this site: its page has no origin of its own."""

    def without_origin(route: Route) -> None:
        answer = route.fetch()
        more = {"Content-Security-Policy": "sandbox allow-scripts", "Access-Control-Allow-Origin": "*"}
        route.fulfill(response=answer, headers={**answer.headers, **more})

    phone.route("**/*", without_origin)
    page = opened(phone, host)
    refused = (
        "This browser does not let the site store jobs.* held in this page only and are lost when it closes: export"
    )
    assert re.match(refused, page.evaluate(STATE)["problem"])
    for entry in job.entries:
        assert page.evaluate(APPEND, entry) is False
    assert page.evaluate(ENTRIES, job.job) == job.entries
    assert [told["id"] for told in page.evaluate("() => kept.jobs()")] == [job.job]
    assert page.evaluate("(entries) => kept.appendAll(entries)", job.entries) == {"added": 0, "lasting": False}
    assert page.evaluate(STATE)["lasting"] is False
    page.evaluate("(job) => kept.remove(job)", job.job)
    assert page.evaluate(ENTRIES, job.job) == []


def test_storage_full_keeps_the_entry_in_the_page_and_tries_again(phone: BrowserContext, host: Host, job: Told) -> None:
    page = opened(phone, host)
    session, origin = phone.new_cdp_session(page), host.address.split("/some")[0]
    session.send("Storage.overrideQuotaForOrigin", {"origin": origin, "quotaSize": 100})
    assert [page.evaluate(APPEND, entry) for entry in job.entries[:2]] == [False, False]
    told = page.evaluate(STATE)
    assert told["lasting"] is False
    assert told["problem"].startswith("This phone's storage is full. New entries are held in this page only")
    assert page.evaluate(ENTRIES, job.job) == job.entries[:2]
    closing = "() => !dispatchEvent(new Event('beforeunload', { cancelable: true }))"
    assert page.evaluate(closing), "the browser asks first"
    session.send("Storage.overrideQuotaForOrigin", {"origin": origin})
    assert page.evaluate(APPEND, job.entries[2]) is True
    assert page.evaluate(STATE) == {"problem": "", "lasting": True}
    assert not page.evaluate(closing)
    assert opened(phone, host).evaluate(ENTRIES, job.job) == job.entries


CLOSED = """() => {
  const asked = IDBDatabase.prototype.transaction, closed = new WeakSet();
  let first = true;
  IDBDatabase.prototype.transaction = function (...how) {
    if (first) closed.add(this);
    first = false;
    if (closed.has(this)) throw new DOMException("the connection is closing", "InvalidStateError");
    return asked.apply(this, how);
  };
}"""
BROKEN = """(times) => {
  const asked = IDBDatabase.prototype.transaction;
  IDBDatabase.prototype.transaction = function (...how) {
    if (times-- > 0) throw new DOMException("the connection is closing", "InvalidStateError");
    return asked.apply(this, how);
  };
}"""


def test_a_store_that_closed_behind_the_page_is_opened_again(phone: BrowserContext, host: Host, job: Told) -> None:
    page = opened(phone, host)
    assert page.evaluate(APPEND, job.entries[0]) is True
    page.evaluate(CLOSED)
    assert page.evaluate(APPEND, job.entries[1]) is True
    page.evaluate(BROKEN, 2)
    assert page.evaluate(APPEND, job.entries[2]) is False
    assert page.evaluate(STATE)["problem"].startswith("This phone's storage does not answer.")
    assert page.evaluate(ENTRIES, job.job) == job.entries
    for ask in (ENTRIES, "async (job) => (await kept.jobs()).flatMap(({ id }) => kept.entriesOf(id))[0]"):
        page.evaluate(BROKEN, 2)
        assert page.evaluate(ask, job.job) == job.entries, "what is known of it is there also when it does not answer"
        assert page.evaluate(STATE)["problem"].startswith("This phone's storage does not answer.")
    page.evaluate(BROKEN, 2)
    with pytest.raises(Error, match="so the job is still there; try again"):
        page.evaluate("(job) => kept.remove(job)", job.job)
    assert page.evaluate("(entries) => kept.appendAll(entries)", []) == {"added": 0, "lasting": True}
    page.evaluate(BROKEN, 2)
    page.evaluate(ENTRIES, job.job)
    assert page.evaluate(STATE)["problem"], "the page may be asked of what it does not see"
    assert page.evaluate(ENTRIES, job.job) == job.entries
    assert page.evaluate(STATE) == {"problem": "", "lasting": True}


def test_a_store_that_never_answers_is_not_waited_for(phone: BrowserContext, host: Host, job: Told) -> None:
    page = phone.new_page()
    page.clock.install()
    page.goto(f"{host.address}job/")
    page.evaluate(
        """() => {
          globalThis.really = IDBFactory.prototype.open;
          IDBFactory.prototype.open = () => ({ asked: (globalThis.asked = 1) });
        }"""
    )
    opening = "(open) => { globalThis.opening = eval(open)().then(() => true); }"
    page.evaluate(opening, OPEN)
    page.wait_for_function("() => globalThis.asked > 0")
    page.clock.run_for(5000)
    assert page.evaluate("() => opening") is True
    assert page.evaluate(STATE)["problem"].startswith("This phone's storage does not answer.")
    page.evaluate("() => { IDBFactory.prototype.open = really; }")
    assert page.evaluate("(entries) => kept.appendAll(entries)", job.entries) == {"added": 3, "lasting": True}
    assert page.evaluate(STATE) == {"problem": "", "lasting": True}


def test_all_that_is_asked_for_at_the_engine_is_there_without_the_network(
    phone: BrowserContext, demonstration_files: Mapping[str, bytes]
) -> None:
    with served(demonstration_files) as site:
        page = phone.new_page()
        page.goto(site.address)
        expect(page.locator("#copy-state")).to_have_text(KEPT)
        site.mode = "stopped"
        paths = [
            "job/",
            "job/index.html",
            "job/routines.json",
            "shared.json",
            "assets/book/job.js",
            "assets/bundled/job.js",
            "assets/reading.css",
            *(f"{chapter}/" for chapter in READ_AT_THE_ENGINE),
        ]
        paths += [f"families/{family}/page.json" for family in frozen_book().family_ids()]
        texts = page.evaluate("(paths) => Promise.all(paths.map(async (path) => (await fetch(path)).text()))", paths)
    for path, text in zip(paths, texts, strict=True):
        there = demonstration_files[f"{path}index.html" if path.endswith("/") else path].decode()
        assert (json.loads(text) == json.loads(there)) if path.endswith(".json") else (text == there), path
