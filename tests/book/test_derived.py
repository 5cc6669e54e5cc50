"""What is worked out from other figures of a family, what is not, and how sure figures are that belong together."""

from __future__ import annotations

import pytest

from kb.book.evidence.standing import Standing
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
    answer = one_family(BOTH.format(cranking, running), modules="idle-advance").look_up(FAMILY, CORRECTION)
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
        ("btdc: 24, at: {module: disconnected}", "btdc: 22, at: {module: connected}"),
    ],
)
def test_no_correction_comes_of_what_is_not_two_single_angles_under_like_conditions(
    cranking: str, running: str
) -> None:
    with pytest.raises(FigureUnknown, match="nobody has said"):
        one_family(BOTH.format(cranking, running), modules="idle-advance").look_up(FAMILY, CORRECTION)


AGREED = (
    "max-advance: [{{btdc: 22, state: running, at: {0}, source: handbook, page: 1}}, "
    "{{btdc: 22, state: running, at: {0}, source: manual, page: 2}}]\n"
    "cranking-correction: [{{cranking_earlier: 2, at: {1}, source: handbook, page: 3}}]"
)
TOGETHER = "the cranking correction that belongs to it is single, so this is too"


@pytest.mark.parametrize(
    ("maximum", "correction", "standing"),
    [
        ("{rpm: 5000}", "{rpm: 5000}", Standing.SINGLE),
        ("{module: disconnected, rpm: 5000}", "{module: disconnected, rpm: 5000}", Standing.SINGLE),
        ("{module: disconnected}", "{module: disconnected, rpm: 5000}", Standing.SINGLE),  # no speed is said to differ
        ("{rpm: 5000}", "{rpm: 4800}", Standing.AGREED),
        ("{module: disconnected}", "{module: connected}", Standing.AGREED),
        ("{module: disconnected, rpm: 5000}", "{rpm: 5000}", Standing.AGREED),
    ],
)
def test_a_maximum_is_no_surer_than_the_correction_under_its_own_conditions(
    maximum: str, correction: str, standing: Standing
) -> None:
    answer = one_family(AGREED.format(maximum, correction), modules="idle-advance").look_up(
        FAMILY, "max-advance", "running"
    )
    assert answer.standing is standing
    assert answer.remarks == ((TOGETHER,) if standing is Standing.SINGLE else ())


WINDOWS = (
    "max-advance: [{btdc: 22, state: running, at: {rpm: 5000}, source: handbook, page: 1}, "
    "{btdc: 22, state: running, at: {rpm: 5000}, source: manual, page: 2}]\n"
    "cranking-correction: [{cranking_earlier: 2, at: {rpm: 5000}, source: handbook, page: 3}, "
    "{cranking_earlier: 3, at: {rpm: 5000}, source: manual, page: 4}]"
)


def test_a_maximum_is_as_disputed_as_its_correction() -> None:
    answer = one_family(WINDOWS).look_up(FAMILY, "max-advance", "running")
    assert answer.standing is Standing.DISPUTED
    assert answer.remarks == ("the cranking correction that belongs to it is disputed, so this is too",)
