"""What is worked out from other figures of a family, and what is not."""

from __future__ import annotations

import pytest

from kb.errors import FigureUnknown
from tests.support.one_family import FAMILY, one_family

BOTH = "max-advance: [{{{}, state: cranking}}, {{{}, state: running}}]"
CORRECTION = "cranking-correction"


@pytest.mark.parametrize(
    ("cranking", "running", "printed"),
    [
        ("btdc: 24", "btdc: 22", "reads 2° earlier while cranking than when running"),
        ("btdc: 22", "btdc: 24", "reads 2° later while cranking than when running"),
        ("btdc: 22", "btdc: 22", "reads 0° earlier while cranking than when running"),
        ("tdc: 0", "atdc: 2", "reads 2° earlier while cranking than when running"),
        ("btdc: 24.5", "btdc: 22", "reads 2.5° earlier while cranking than when running"),
    ],
)
def test_a_correction_is_the_difference_of_two_maxima_of_one_page(cranking: str, running: str, printed: str) -> None:
    answer = one_family(BOTH.format(cranking, running)).look_up(FAMILY, CORRECTION)
    assert answer.printed == printed
    (step,) = answer.working
    assert [given.source for given in step.inputs] == ["handbook page 42"] * 2


@pytest.mark.parametrize(
    ("cranking", "running"),
    [
        ("btdc: {mm: 3.20}", "btdc: {mm: 3.00}"),  # millimetres are no degrees
        ("btdc: 24", "btdc: {mm: 3.00}"),
        ("btdc: [23, 25]", "btdc: 22"),
        ("btdc: 24", "btdc: [21, 22]"),
        ("btdc: 24", "btdc: {at_most: 22}"),
        ("btdc: 24", "absent: not-stated"),
        ("btdc: 24, at: {gear: neutral}", "btdc: 22, at: {gear: in-gear}"),
    ],
)
def test_no_correction_comes_of_what_is_not_two_single_angles_under_like_conditions(
    cranking: str, running: str
) -> None:
    with pytest.raises(FigureUnknown, match="nobody has said"):
        one_family(BOTH.format(cranking, running)).look_up(FAMILY, CORRECTION)
