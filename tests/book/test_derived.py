"""What is worked out from other figures of a family, what is not, and how sure figures are that belong together."""

from __future__ import annotations

import pytest

from kb.book.evidence.standing import Standing
from kb.errors import FigureUnknown, NoCorrectionKnown
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
    with pytest.raises(FigureUnknown, match="no figure is published"):
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


def test_a_correction_is_no_less_sure_for_a_cranking_maximum_of_one_source() -> None:
    figures = AGREED.format("{rpm: 5000}", "{rpm: 5000}").replace(
        "page: 3}", "page: 3}, {cranking_earlier: 2, at: {rpm: 5000}, source: manual, page: 4}"
    )
    cranking = "max-advance: [{btdc: 24, state: cranking, source: handbook, page: 5}, "
    answer = one_family(figures.replace("max-advance: [", cranking)).look_up(FAMILY, CORRECTION)
    assert answer.standing is Standing.AGREED
    assert answer.remarks == ()


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


TWO = (
    "max-advance: [{{btdc: {}, state: cranking, source: handbook, page: 1}}, "
    "{{btdc: {}, state: cranking, source: manual, page: 2{}}}]"
)
SUPERSEDES = ", supersedes: {source: handbook, page: 1}"


@pytest.mark.parametrize(
    ("figures", "printed", "where"),
    [
        (TWO.format("24", "24", ""), "24° BTDC", "handbook page 1"),
        (TWO.format("24", "24.0", ""), "24° BTDC", "handbook page 1"),
        (TWO.format("24", "22", SUPERSEDES), "22° BTDC", "manual page 2"),
        (TWO.format("24", "22", ""), "22° BTDC", "manual page 2"),  # disputed: the safest
        (TWO.format("22", "24", ""), "22° BTDC", "handbook page 1"),
        (TWO.format("[20, 24]", "[22, 26]", ""), "22 to 24° BTDC", "handbook page 1 and manual page 2"),
    ],
)
def test_a_target_a_verdict_and_what_is_worked_out_cite_the_page_of_the_value(
    figures: str, printed: str, where: str
) -> None:
    book = one_family(f"{figures}\ncranking-correction: [{{cranking_earlier: 2, source: manual, page: 9}}]")
    target = book.aim(FAMILY, "max-advance", "cranking")
    assert target.working[0].inputs[0].value == printed
    assert target.working[0].inputs[0].source == target.answer.where == where
    assert target.running.working[0].inputs[1].source == "manual page 9"
    judged = book.judge(FAMILY, "max-advance", 20, "cranking")
    assert judged.working[1].inputs[1].source == where
    if target.answer.standing is not Standing.DISPUTED:
        running = book.look_up(FAMILY, "max-advance", "running")
        assert [given.source for given in running.working[0].inputs] == [where, "manual page 9"]


def test_a_maximum_that_no_longer_counts_leads_to_none() -> None:
    book = one_family(
        "max-advance: [{btdc: 24, state: cranking, source: handbook, page: 1}, "
        "{btdc: 23, state: static, source: manual, page: 2, supersedes: {source: handbook, page: 1}}]\n"
        "cranking-correction: [{cranking_earlier: 2, source: manual, page: 9}]"
    )
    with pytest.raises(NoCorrectionKnown, match=r"^no cranking maximum in degrees is known that still counts$"):
        book.look_up(FAMILY, "max-advance", "running")
