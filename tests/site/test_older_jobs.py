"""A job begun with an older order of work is still opened: steps that are no more are named, and bar nothing."""

from __future__ import annotations

from tests.support.job_entries import begin, entry, job_states


def test_a_step_that_is_no_more_is_named_and_bars_nothing() -> None:
    older, known = job_states(
        [begin(), entry("done", step="plugs"), entry("done", step="tachometer"), entry("done", step="tachometer")],
        [begin(), entry("done", step="plugs")],
    )
    assert older["gone"] == ["tachometer"]
    assert known["gone"] == []
    assert {**older, "gone": []} == known
