"""What holds of every target, for every family of the book, whatever margin and pointer."""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

import kb
from kb.book.book import Book
from kb.book.lookup.combinations import combinations_of
from kb.book.model.answer import Answer
from kb.book.model.crank_geometry import Crank
from kb.book.setting.aim import Aim
from kb.calc.target import Off
from kb.errors import DeadCentreTooFar, LookUpError, MarginTooWide, NotAnAngle, Refusal
from kb.quantity import DEGREE_OF_CRANK, Quantity
from tests.support.folders import SPECS
from tests.support.samples import tries
from tests.support.timing import FIGURES, MAXIMUM, Asked, every_answer

HALF = Fraction(1, 2)

pointers = st.one_of(st.integers(-6, 6).map(lambda halves: halves * HALF), st.fractions(-3, 3, max_denominator=1000))
margins = st.one_of(st.integers(0, 4).map(lambda halves: halves * HALF), st.fractions(0, 2, max_denominator=100))


@cache
def book() -> Book:
    return kb.open_book(SPECS)


@cache
def everything() -> list[Asked]:
    return every_answer(book())


def printed_ends(answer: Answer) -> tuple[Fraction, Fraction]:
    """The later and earlier end of an answer in signed degrees, by a way of its own."""
    value = answer.value
    assert isinstance(value, Quantity)
    assert value.low is not None
    assert value.high is not None
    if value.unit is DEGREE_OF_CRANK:
        return value.low, value.high
    crank = Crank.of(book().family(answer.family))
    assert crank is not None
    low, high = (Fraction(crank.signed_degrees_at(end, value.unit)) for end in (value.low, value.high))
    return low, high


def aimed(asked: Asked, **more: Any) -> Aim:
    family, figure, state, conditions = asked
    return book().aim(family, figure, state, **conditions, **more)


def signed(quantity: Quantity) -> Fraction:
    assert quantity.nominal is not None
    return quantity.nominal


def test_there_is_enough_to_hold_the_properties_of() -> None:
    assert {figure for _, figure, *_ in everything()} == set(FIGURES)
    assert len(everything()) > 150


everything_asked = st.deferred(lambda: st.sampled_from(everything()))
quick = settings(max_examples=tries(40, 120), deadline=None, suppress_health_check=[HealthCheck.too_slow])
TINY = Fraction(1, 10**6)  # what a crank's floats may be off


@quick
@given(everything_asked, pointers, margins)
def test_a_maximum_is_never_aimed_past_its_early_end_nor_a_window_past_its_late_one(
    asked: Asked, pointer: Fraction, margin: Fraction
) -> None:
    margin = margin if asked[1] == MAXIMUM else Fraction(0)
    found = aimed(asked, dead_centre=pointer, margin=margin)
    low, high = printed_ends(found.answer)
    true = signed(found.show) - pointer
    if low == high and asked[1] == MAXIMUM:
        assert high - margin - HALF - TINY < true <= high - margin + TINY, "late of the limit"
        assert found.margin == margin
    else:
        assert low - TINY - (HALF if low == high else 0) <= true <= high + TINY, "inside what is printed"
    if asked[1] != MAXIMUM and low != high:
        assert (low + high) / 2 - HALF - TINY < true <= (low + high) / 2 + TINY, "the middle, rounded toward late"


@quick
@given(everything_asked, pointers, margins)
def test_the_target_and_all_of_its_window_are_judged_inside_and_nothing_beyond(
    asked: Asked, pointer: Fraction, margin: Fraction
) -> None:
    family, figure, state, conditions = asked
    margin = margin if figure == MAXIMUM else Fraction(0)
    found = aimed(asked, dead_centre=pointer, margin=margin)
    assert found.window is not None
    assert found.window.low is not None
    assert found.window.high is not None
    step = Fraction(1, 10)
    for reading, wanted in (
        (signed(found.show), Off.INSIDE),
        (found.window.low, Off.INSIDE),
        (found.window.high, Off.INSIDE),
        (found.window.low - step - TINY, Off.LATE),
        (found.window.high + step + TINY, Off.EARLY),
    ):
        judged = book().judge(family, figure, reading, state, dead_centre=pointer, margin=margin, **conditions)
        assert judged.verdict.off is wanted, (reading, judged.window)
        assert (judged.verdict.degrees == 0) == (wanted is Off.INSIDE)
        assert bool(judged.would) == (wanted is not Off.INSIDE)
        assert bool(judged.turn) == (wanted is not Off.INSIDE)


@quick
@given(everything_asked, st.integers(-6, 6), margins)
def test_the_pointer_moves_the_target_by_just_what_it_is_out(asked: Asked, halves: int, margin: Fraction) -> None:
    margin = margin if asked[1] == MAXIMUM else Fraction(0)
    there, here = aimed(asked, dead_centre=halves * HALF, margin=margin), aimed(asked, margin=margin)
    assert signed(there.show) - signed(here.show) == halves * HALF
    assert [value for _, value in there.running.values] == [value for _, value in here.running.values]


@quick
@given(everything_asked, margins, margins)
def test_more_margin_is_never_earlier(asked: Asked, one: Fraction, other: Fraction) -> None:
    if asked[1] == MAXIMUM:
        little, much = sorted((one, other))
        assert signed(aimed(asked, margin=much).show) <= signed(aimed(asked, margin=little).show)
    elif one > 0:
        with pytest.raises(MarginTooWide, match="takes no margin"):
            aimed(asked, margin=one)


@quick
@given(everything_asked, pointers, margins)
def test_a_correction_is_applied_once_and_only_to_a_maximum(asked: Asked, pointer: Fraction, margin: Fraction) -> None:
    family, figure, state, conditions = asked
    margin = margin if figure == MAXIMUM else Fraction(0)
    found = aimed(asked, dead_centre=pointer, margin=margin)
    if figure != MAXIMUM or state != "cranking":
        assert not found.running.words, "nothing but a maximum read cranking is corrected"
        return
    corrections = [step for step in found.working if any(given.name == "correction" for given in step.inputs)]
    before = [step for step in corrections if step.name == "cranking maximum"]
    assert len(before) == (1 if found.answer.how_sure.startswith("derived") else 0)
    if found.running.values:
        correction = book().look_up(family, "cranking-correction", serial=conditions["serial"])
        assert isinstance(correction.value, kb.Correction)
        true = signed(found.show) - pointer
        for (_, value), point in zip(found.running.values, correction.value.points, strict=True):
            assert 0 <= true - point.signed - signed(value) < Fraction(1, 10), "rounded toward late"


@quick
@given(everything_asked, pointers)
def test_ticks_are_counted_only_where_their_worth_is_known(asked: Asked, pointer: Fraction) -> None:
    rim = aimed(asked, dead_centre=pointer).rim
    flywheel = book().family(asked[0]).part("flywheel") or {}
    if rim is None:
        assert not flywheel.get("numbered_marks")
        assert not flywheel.get("rim_diameter")
        return
    assert (rim.divisions is not None) == bool(flywheel.get("numbered_marks") and flywheel.get("division"))
    assert (rim.mark is not None) == bool(flywheel.get("numbered_marks"))
    assert (rim.tape is not None) == bool(flywheel.get("rim_diameter"))
    if rim.mark is not None:
        beyond = -rim.degrees if rim.side == "late" else rim.degrees
        assert signed(rim.mark) + beyond == signed(aimed(asked, dead_centre=pointer).show)


@quick
@given(everything_asked, st.fractions(3, 400).filter(lambda degrees: degrees > 3), st.booleans())
def test_beyond_three_degrees_the_job_stops(asked: Asked, size: Fraction, after: bool) -> None:
    with pytest.raises(DeadCentreTooFar, match="stop"):
        aimed(asked, dead_centre=-size if after else size)


@quick
@given(everything_asked, pointers)
def test_the_dead_centre_reading_is_in_no_part_of_the_figure(asked: Asked, pointer: Fraction) -> None:
    assert aimed(asked, dead_centre=pointer).answer == aimed(asked).answer


def test_what_is_no_angle_is_refused_for_every_family() -> None:
    refused = 0
    for family in book().family_ids():
        for figure in set(book().family(family).statements) - set(FIGURES):
            for way in combinations_of(book().family(family), figure):
                with pytest.raises((NotAnAngle, LookUpError, Refusal)):
                    book().aim(family, figure, way.state or None, **way.conditions)
                refused += 1
    assert refused > 300
