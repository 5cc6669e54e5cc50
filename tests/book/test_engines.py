"""Serial numbers of letters and digits, ranges that hold them, and the kinds of engine that ranges tell apart."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kb.book.model.engine_kinds import (
    changeovers,
    engine_kinds,
    fit_holds,
    fits_meet,
    range_holds_serial,
    range_holds_year,
    same_shape,
    serial_key,
    serials_meet,
    years_meet,
)
from kb.book.model.engine_on_the_stand import ANY_ENGINE, EngineOnTheStand
from kb.book.model.family import Fit, Range

SERIALS = st.from_regex(r"\A[A-D]{0,2}[0-9]{1,4}\Z")


@pytest.mark.parametrize(
    ("smaller", "greater"),
    [
        ("300100", "418999"),
        ("99999", "100000"),
        ("A 900", "A 12000"),
        ("A99999", "B1"),
        ("b 20417", "B-104170"),
        ("LV10001", "LV27450"),
        ("10A5", "10B1"),
        ("9A5", "10A1"),
        ("0300100", "300101"),
    ],
)
def test_order(smaller: str, greater: str) -> None:
    assert serial_key(smaller) < serial_key(greater)
    assert same_shape(serial_key(smaller), serial_key(greater))


@pytest.mark.parametrize(
    ("one", "other"), [("B 20417", "b-20417"), ("B.20417", "B20417"), ("LV/10001", "lv 10001"), ("007", "7")]
)
def test_the_same_serial_number(one: str, other: str) -> None:
    assert serial_key(one) == serial_key(other)


@pytest.mark.parametrize(("one", "other"), [("300100", "B300100"), ("B300100", "300100B"), ("A1", "A1C"), ("", "1")])
def test_another_shape(one: str, other: str) -> None:
    assert not same_shape(serial_key(one), serial_key(other))


def test_what_is_far_too_long_is_cut_and_not_a_task() -> None:
    assert len(str(serial_key("9" * 100_000)[0])) == 64


@pytest.mark.parametrize(
    ("first", "last", "serial", "holds"),
    [
        ("300100", "418999", "300100", True),
        ("300100", "418999", "418999", True),
        ("300100", "418999", "300099", False),
        ("300100", "418999", "419000", False),
        ("300100", "418999", "B300100", False),
        ("300100", "418999", "", False),
        ("A 500", "C 200", "B 9999", True),
        ("A 500", "C 200", "C 201", False),
        ("350000", None, "999999", True),
        ("350000", None, "B 350001", False),
        (None, "349999", "1", True),
        (None, "349999", "350000", False),
        ("350000", "350000", "350000", True),
    ],
)
def test_a_range_holds_a_serial_number(first: str | None, last: str | None, serial: str, holds: bool) -> None:
    assert range_holds_serial(Range(first, last), serial) is holds


@pytest.mark.parametrize(
    ("first", "last", "year", "holds"),
    [
        ("1978", "1981", 1978, True),
        ("1978", "1981", 1981, True),
        ("1978", "1981", 1977, False),
        ("1978", None, 2001, True),
        (None, "1981", 1900, True),
        (None, "1981", 1982, False),
    ],
)
def test_a_range_holds_a_year(first: str | None, last: str | None, year: int, holds: bool) -> None:
    assert range_holds_year(Range(first, last), year) is holds


BOTH = Fit(Range("1978", "1981"), Range("300100", "418999"))


@pytest.mark.parametrize(
    ("fit", "engine", "holds"),
    [
        (BOTH, EngineOnTheStand("301455", 1979), True),
        (BOTH, EngineOnTheStand("301455"), None),
        (BOTH, EngineOnTheStand(year=1979), None),
        (BOTH, EngineOnTheStand(), None),
        (BOTH, EngineOnTheStand("1", None), False),
        (BOTH, EngineOnTheStand(None, 1990), False),
        (BOTH, EngineOnTheStand("301455", 1990), False),
        (Fit(), EngineOnTheStand(), True),
        (Fit(years=Range("1978", "1981")), EngineOnTheStand("X 1", 1980), True),
    ],
)
def test_a_fit_holds_an_engine(fit: Fit, engine: EngineOnTheStand, holds: bool | None) -> None:
    assert fit_holds(fit, engine) is holds


@pytest.mark.parametrize(
    ("one", "other", "meet"),
    [
        (("100", "199"), ("199", "300"), True),
        (("100", "199"), ("200", "300"), False),
        (("100", None), ("900", "950"), True),
        ((None, "100"), ("101", None), False),
        (("A 100", "A 199"), ("100", "199"), False),
        (("A 100", None), (None, "B 1"), True),
        (("B 100", None), (None, "A 1"), False),
        ((None, None), ("B 100", None), True),
    ],
)
def test_ranges_of_serial_numbers_meet(
    one: tuple[str | None, str | None], other: tuple[str | None, str | None], meet: bool
) -> None:
    assert serials_meet(Range(*one), Range(*other)) is meet
    assert serials_meet(Range(*other), Range(*one)) is meet


@pytest.mark.parametrize(
    ("one", "other", "meet"),
    [
        (("1970", "1975"), ("1975", "1980"), True),
        (("1970", "1975"), ("1976", "1980"), False),
        (("1970", None), (None, "1970"), True),
        (("1971", None), (None, "1970"), False),
    ],
)
def test_ranges_of_years_meet(
    one: tuple[str | None, str | None], other: tuple[str | None, str | None], meet: bool
) -> None:
    assert years_meet(Range(*one), Range(*other)) is meet
    assert years_meet(Range(*other), Range(*one)) is meet


@pytest.mark.parametrize(
    ("one", "other", "meet"),
    [
        (BOTH, Fit(Range("1981", "1985"), Range("418999", "500000")), True),
        (BOTH, Fit(Range("1982", "1985"), Range("418999", "500000")), False),
        (BOTH, Fit(Range("1981", "1985"), Range("419000", "500000")), False),
        (BOTH, Fit(years=Range("1980", "1980")), True),
        (BOTH, Fit(), True),
    ],
)
def test_fits_meet(one: Fit, other: Fit, meet: bool) -> None:
    assert fits_meet(one, other) is meet


@pytest.mark.parametrize(
    ("one", "other", "common"),
    [
        (Fit(serials=Range("300100", "349999")), Fit(serials=Range("350000", "418999")), {(350000,)}),
        (Fit(serials=Range(None, "B 38200")), Fit(serials=Range("B38201", None)), {("B", 38201)}),
        (Fit(serials=Range("350000", None)), Fit(serials=Range("350000", "418999")), {(350000,)}),
        (Fit(years=Range("1978", "1979")), Fit(years=Range("1980", None)), {1980}),
        (Fit(serials=Range("300100", "349999")), Fit(serials=Range("305000", "418999")), set()),
        (Fit(), Fit(years=Range("1980", None)), set()),
    ],
)
def test_where_one_range_ends_and_another_begins(one: Fit, other: Fit, common: set[object]) -> None:
    assert changeovers(one) & changeovers(other) == common


LATE = Fit(serials=Range("350000", None))
EARLY = Fit(serials=Range(None, "349999"))
MIDDLE = Fit(serials=Range("340000", "360000"))
LAST_YEAR = Fit(years=Range("1981", "1981"))
BEYOND = Fit(serials=Range("900000", None))


@pytest.mark.parametrize(
    ("fits", "parts", "engine", "kinds"),
    [
        ([], [], ANY_ENGINE, [set()]),
        ([BOTH], [LATE], ANY_ENGINE, [set(), {LATE}]),
        ([BOTH], [LATE, EARLY], ANY_ENGINE, [{LATE}, {EARLY}]),
        ([BOTH], [LATE, EARLY, MIDDLE], ANY_ENGINE, [{LATE}, {EARLY}, {LATE, MIDDLE}, {EARLY, MIDDLE}]),
        ([BOTH], [LATE, LAST_YEAR], ANY_ENGINE, [set(), {LATE}, {LAST_YEAR}, {LATE, LAST_YEAR}]),
        ([BOTH], [BEYOND], ANY_ENGINE, [set()]),
        ([], [BEYOND], ANY_ENGINE, [set(), {BEYOND}]),
        ([BOTH], [LATE], EngineOnTheStand("351000"), [{LATE}]),
        ([BOTH], [LATE, LAST_YEAR], EngineOnTheStand("351000"), [{LATE}, {LATE, LAST_YEAR}]),
        ([BOTH], [LATE, LAST_YEAR], EngineOnTheStand(year=1981), [{LAST_YEAR}, {LATE, LAST_YEAR}]),
        ([BOTH], [LATE, LATE], EngineOnTheStand("1", 1900), [set()]),
    ],
)
def test_engine_kinds(fits: list[Fit], parts: list[Fit], engine: EngineOnTheStand, kinds: list[set[Fit]]) -> None:
    assert {frozenset(kind) for kind in engine_kinds(fits, parts, engine)} == {frozenset(kind) for kind in kinds}


def test_a_part_that_begins_with_the_first_serial_number_of_a_letter() -> None:
    part = Fit(serials=Range("B 0", None))
    assert set(engine_kinds([Fit(serials=Range("A 1", "C 9"))], [part])) == {frozenset(), frozenset({part})}


def test_a_part_that_ends_with_a_serial_number_of_letters() -> None:
    part = Fit(serials=Range(None, "30 C"))
    assert set(engine_kinds([Fit(serials=Range("10 A", "50 D"))], [part])) == {frozenset(), frozenset({part})}
    assert set(engine_kinds([Fit(serials=Range("10 A", "30 C"))], [part])) == {frozenset({part})}
    assert set(engine_kinds([Fit(serials=Range("10 A", None))], [part])) == {frozenset(), frozenset({part})}


def test_a_year_between_two_parts_is_a_kind_of_its_own() -> None:
    sooner, later = Fit(years=Range("1978", "1979")), Fit(years=Range("1981", "1982"))
    found = engine_kinds([Fit(years=Range("1978", "1982"))], [sooner, later])
    assert set(found) == {frozenset(), frozenset({sooner}), frozenset({later})}


def _range(ends: tuple[Any, Any]) -> Range:
    first, last = sorted(ends, key=serial_key)
    return Range(first, last)


@given(
    st.lists(st.tuples(st.integers(0, 60), st.integers(0, 60)), max_size=4),
    st.lists(st.tuples(st.integers(0, 60), st.integers(0, 60)), min_size=1, max_size=4),
)
def test_every_kind_there_is_is_found(fits: list[tuple[int, int]], parts: list[tuple[int, int]]) -> None:
    fitting = [Fit(serials=_range((str(a), str(b)))) for a, b in fits]
    told_apart = [Fit(serials=_range((str(a), str(b)))) for a, b in parts]
    there_are = {
        frozenset(part for part in told_apart if fit_holds(part, engine))
        for engine in (EngineOnTheStand(str(serial)) for serial in range(63))
        if not fitting or any(fit_holds(fit, engine) for fit in fitting)
    }
    found = set(engine_kinds(fitting, told_apart))
    assert there_are <= found
    assert len(found - there_are) <= (1 if not fitting else 0)  # those before zero, which no engine bears


@given(st.lists(SERIALS, min_size=3, max_size=3))
def test_holding_follows_the_order(serials: list[str]) -> None:
    keys = [serial_key(serial) for serial in serials]
    if same_shape(keys[0], keys[1]) and same_shape(keys[1], keys[2]):
        low, middle, high = sorted(serials, key=serial_key)
        assert range_holds_serial(Range(low, high), middle)
