"""The worst error of each calculation, in units of the last place, against oracles at sixty digits."""

from __future__ import annotations

import pytest

from kb.publish.vectors.writing import calculations
from tests.accuracy import BOUNDS, CONDITIONED, worst

NAMED = {calculation.name: calculation for calculation in calculations()}
LISTS = {"combined-uncertainty"}  # its inputs are pairs, whose last places are not moved


@pytest.mark.parametrize("name", BOUNDS)
def test_worst_error(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    plain, conditioned = worst(NAMED[name])
    with capsys.disabled():
        print(f"\n{name}: {plain:.2f} ulp plain, {conditioned:.2f} conditioned", end=" ")
    bound = BOUNDS[name]
    assert bound is None or plain <= bound
    assert name in LISTS or conditioned <= CONDITIONED
