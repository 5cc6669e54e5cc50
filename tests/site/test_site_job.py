"""The order of work in the browser is that of the book: every family, engines by hand, what goes stale."""

from __future__ import annotations

import json
import random
from dataclasses import replace
from functools import cache
from itertools import islice
from typing import Any

from kb.book.setting.job import Job
from kb.book.store.in_memory import MemoryBook
from kb.errors import LookUpError, RoutineNotFound
from kb.publish.site.family.document import family_page
from kb.publish.site.routines import routines_document
from tests.support.engines import LINKAGES, engine, every_engine, ids, job_of
from tests.support.folders import ASSETS
from tests.support.frozen import frozen_book
from tests.support.node import run_node

BOOK = frozen_book()
FITTED = ("engine", "ignition", "flywheel")


def page_of(made: Any) -> dict[str, Any]:
    """A made-up family's page, as much of it as an order of work asks for."""
    linkage = made.get("linkage", "")
    routine = linkage if linkage in BOOK.routines else ""
    fitted = {key: made[key] for key in FITTED if key in made}
    return {"id": "skerrow/made-30", "linkage": linkage, "routine": routine, **fitted}


def pages() -> list[tuple[dict[str, Any], Any]]:
    """Each page with the family that it is made of: the book's by id, others by hand."""
    made = [one for linkage in LINKAGES for one in islice(every_engine(linkage), len(linkage) % 5, None, 5)]
    empty = [{**engine(LINKAGES[0]), key: {}} for key in FITTED]
    bare = [engine(None), engine(LINKAGES[1], None, carburettors=None, marks=None)]
    book = [(json.loads(json.dumps(family_page(BOOK, key))), key) for key in BOOK.family_ids()]
    return book + [(page_of(one), one) for one in (*made, *empty, *bare)]


def wanted(made: Any) -> Job | RoutineNotFound:
    try:
        return BOOK.job(made) if isinstance(made, str) else job_of(BOOK, made)
    except RoutineNotFound as refusal:
        return refusal


def told(work: Job | LookUpError) -> dict[str, Any]:
    if isinstance(work, Job):
        return work.to_document()
    return {"error": [type(work).__name__, str(work), list(work.candidates)]}


Order = tuple[int, list[str], list[int]]


def random_orders(jobs: list[Job | RoutineNotFound]) -> list[Order]:
    """For each job by its number steps done: in its order, and in some that a mechanic would not think of; one names
    a step that there is not. Some are only checked, nothing being moved."""
    rng, orders = random.Random(7), list[Order]()
    for number, work in enumerate(jobs):
        if isinstance(work, Job):
            steps = ids(work)
            more = [*steps, *rng.choices(steps, k=rng.randrange(1, 30))], rng.choices(steps, k=rng.randrange(60))
            unknown = [[*steps[:3], "no-such-step", *steps[:9]]] if number % 50 == 0 else []
            for done in (*more, *unknown):
                orders.append((number, done, [place for place in range(len(done)) if rng.random() < 0.2]))
    return orders


def stale(work: Job, done: list[str]) -> Any:
    try:
        return list(work.stale_after(done))
    except LookUpError as refusal:
        return told(refusal)


def again(work: Job, done: list[str], stood: list[int]) -> list[str]:
    """What is stale by definition: disturbed after it was last done, by a step at which something was moved."""
    last = {step: place for place, step in enumerate(done) if step in work.by_id}
    moved = [(place, step) for place, step in enumerate(done) if step in work.by_id and place not in stood]
    hurt = {
        name for place, step in moved for name in work.by_id[step].makes_stale if name in last and last[name] < place
    }
    return [step.id for step in work.steps if step.id in hurt]


@cache
def came() -> tuple[list[Job | RoutineNotFound], dict[str, Any], list[Order]]:
    asked = pages()
    jobs = [wanted(made) for _, made in asked]
    orders = random_orders(jobs)
    given = {"routines": routines_document(BOOK), "pages": [page for page, _ in asked], "done": orders}
    done = run_node("job_lines.mjs", ASSETS, given=json.dumps(given))
    assert done.returncode == 0, done.stderr
    return jobs, json.loads(done.stdout), orders


def test_every_order_of_work_is_that_of_the_book() -> None:
    jobs, found, _ = came()
    assert found["jobs"] == [told(work) for work in jobs]
    refused = sum(not isinstance(work, Job) for work in jobs)
    assert refused == 1
    assert len(jobs) > 300
    open_ones = {step.do.partition(":")[0] for work in jobs if isinstance(work, Job) for step in work.steps}
    assert "If the ignition is breaker magneto or breaker battery" in open_ones


def test_what_goes_stale_is_what_the_book_says() -> None:
    jobs, found, orders = came()
    expected = [stale(work, done) for number, done, _ in orders if isinstance(work := jobs[number], Job)]
    assert found["stale"] == expected
    assert sum(isinstance(one, list) and bool(one) for one in expected) > 200
    assert any(isinstance(one, dict) for one in expected)


def test_a_record_shows_stale_what_was_disturbed_since_and_not_what_was_only_checked() -> None:
    """Steps that the job no longer has, since the data are newer, count for nothing."""
    jobs, found, orders = came()
    expected = [again(work, done, stood) for number, done, stood in orders if isinstance(work := jobs[number], Job)]
    assert found["again"] == expected


def test_the_routines_are_the_same_for_the_same_book_and_on_one_line_each() -> None:
    document = routines_document(BOOK)
    turned: MemoryBook = replace(BOOK, routines=dict(reversed(list(BOOK.routines.items()))))
    assert json.dumps(routines_document(turned)) == json.dumps(document)
    assert set(document) == set(BOOK.routines)
    for key, routine in document.items():
        assert [step["id"] for step in routine["steps"]] == [step["id"] for step in BOOK.routines[key]["steps"]]
        texts = [routine["name"], routine["about"], *(step[key] for step in routine["steps"] for key in ("do", "why"))]
        assert all(text == " ".join(text.split()) for text in texts)
