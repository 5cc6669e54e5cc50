"""Entries of a job, as a phone keeps them, for tests of what comes out of it."""

from __future__ import annotations

from itertools import count
from typing import Any

from kb.book.store.in_memory import MemoryBook
from kb.publish.site.family.document import family_page
from kb.publish.site.family.shared import shared_document
from kb.publish.site.routines import routines_document
from tests.support.frozen import frozen_book
from tests.support.node import answered

Entry = dict[str, Any]

_numbers = count()
FAMILY = "skerrow/ketch-47"


def entry(kind: str, **said: Any) -> Entry:
    """One entry; each is a second later than the one before it."""
    number = next(_numbers)
    at = f"2026-11-28T{10 + number // 3600 % 10:02}:{number // 60 % 60:02}:{number % 60:02}.000Z"
    return {"id": f"entry-{number:06}", "job": "job-000001", "at": at, "kind": kind, **said}


def begin(family: str = FAMILY, name: str = "Ketch 47", **said: Any) -> Entry:
    """The first entry of a job on the demonstration book."""
    usual = {
        "maker": family.partition("/")[0],
        "invented": True,
        "data_of": "2026-07-27",
        "routine": "cam-clear-at-idle",
        "serial": "361204",
        "year": "1979",
        "state": "cranking",
        "margin": "1",
    }
    return entry("begin", family=family, name=name, **{**usual, **said})


def reading(when: str, figure: str, value: Any, state: str = "cranking", **more: Any) -> Entry:
    return entry("reading", step="", figure=figure, when=when, value=value, state=state, **more)


def left(figure: str, value: Any, state: str = "cranking", **more: Any) -> Entry:
    return reading("left", figure, value, state, **more)


def found(figure: str, value: Any, state: str = "cranking", **more: Any) -> Entry:
    return reading("found", figure, value, state, **more)


def whole_job(pointer: str | None = "0") -> list[Entry]:
    """A job with all that a tag has room for."""
    return [
        begin(),
        entry("engine", by="mk"),
        entry("dead-centre", reads=pointer),
        entry("pointer", answer="stays"),
        found("throttle-pickup", {"atdc": "1"}),
        found("max-advance", {"btdc": "28"}),
        left("throttle-pickup", {"atdc": "5"}),
        left("max-advance", {"btdc": "24"}),
        left("max-advance", {"btdc": "23"}),
        left("max-advance", {"btdc": "21"}, "running", conditions={"rpm": "5000"}),
        left("idle-speed", {"rpm": "750"}, "running", conditions={"gear": "in-gear"}),
        entry("correction", cranking="23", running="21", rpm="5000"),
        entry("close"),
    ]


def job_states(*jobs: list[Entry], book: MemoryBook | None = None) -> list[Any]:
    """How these jobs stand on their screens, by the browser's modules; see tests/site/job_states.mjs."""
    book = book or frozen_book()
    families = [next(one["family"] for one in job if one["kind"] == "begin") for job in jobs]
    given = {
        "pages": {key: family_page(book, key) for key in set(families)},
        "shared": shared_document(book),
        "routines": routines_document(book),
        "jobs": list(zip(families, jobs, strict=True)),
    }
    return list(answered("job_states.mjs", given))
