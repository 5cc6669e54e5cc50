"""A wrong figure must be hard to enter."""

from __future__ import annotations

from tests.slips.__main__ import slips, table
from tests.support.samples import tries


def test_single_slips_are_reported_where_evidence_is_redundant() -> None:
    count = tries(100, 1000)
    planted, clean, _ = slips(seed=1, count=count)
    assert clean == []
    caught = sum(bool(found) for _, found in planted)
    assert caught >= 0.95 * count, "\n".join(table(planted))
