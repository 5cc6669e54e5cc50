"""Every topic of the benchmarks runs to its end in a small book; budgets are judged at full size only."""

from __future__ import annotations

import re
from collections.abc import Iterator
from multiprocessing import get_context
from multiprocessing.pool import Pool

import pytest

from tests.benchmarks.__main__ import LONG, TOPICS
from tests.benchmarks.measure import Row
from tests.npm import NotBrought, skip

FAMILIES = 50
_LONGEST = 240  # seconds for one topic


def measured(topic: str) -> list[Row]:
    return list((TOPICS | LONG)[topic](FAMILIES))


@pytest.fixture(scope="module")
def worker() -> Iterator[Pool]:
    """One process for all topics, which share what is built; the tests' own may have a browser open."""
    with get_context("spawn").Pool(1) as pool:
        yield pool


@pytest.mark.parametrize("topic", TOPICS | LONG)
def test_a_topic_measures_what_it_names(topic: str, worker: Pool) -> None:
    try:
        rows = worker.apply_async(measured, (topic,)).get(_LONGEST)
    except NotBrought as reason:
        skip(reason)
    assert rows
    for row in rows:
        assert row.what.strip()
        assert re.search(r"\d", row.figure) or row.figure == "alike", row
        assert not re.search(r"\b(?:nan|inf)\b", f"{row.figure} {row.peer}"), row
