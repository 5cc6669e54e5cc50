"""What wrong shortcuts cost (common practice, no source): a rod left out, a peak trusted, a rim mismeasured."""

from __future__ import annotations

from math import acos, degrees

import pytest

from kb.calc.crank import crank_degrees, piston_position
from kb.calc.rim import angle_of_arc, arc

THROW, ROD = 35.0, 125.0


def test_leaving_out_the_rod_reads_two_and_a_half_degrees_too_many() -> None:
    """A pure cosine for the position at 20 degrees gives 22.59: the rod's tilt is no small matter."""
    position = piston_position(20, THROW, ROD)
    assert degrees(acos(1 - position / THROW)) == pytest.approx(22.59, abs=0.005)
    assert crank_degrees(position, THROW, ROD) == pytest.approx(20, abs=1e-12)


def test_a_gauge_that_does_not_move_hides_nearly_two_degrees_each_side_of_the_peak() -> None:
    """A dead band of 0.025 mm is 1.914 degrees either way: the peak is never used."""
    assert crank_degrees(0.025, THROW, ROD) == pytest.approx(1.914, abs=0.0005)


def test_a_rim_measured_a_millimetre_too_small_is_a_quarter_of_a_degree_off_at_thirty() -> None:
    """A radius of 120 taken for 121 mm: 0.248 degrees at 30."""
    assert 30 - angle_of_arc(arc(30, 240), 242) == pytest.approx(0.248, abs=0.0005)
