"""A wrong figure must be hard to enter."""

from __future__ import annotations

from tests.slips.__main__ import slips, table


def test_single_slips_are_reported_where_evidence_is_redundant() -> None:
    planted, clean, _ = slips(seed=1, count=1000)
    assert clean == []
    caught = sum(bool(found) for _, found in planted)
    assert caught >= 950, "\n".join(table(planted))
