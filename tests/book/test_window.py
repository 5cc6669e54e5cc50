"""A value as something to set: its ends, what is allowed beyond them, where to aim, and how all of it is rounded.

Worked by hand; every angle is in degrees, before top dead centre positive. References: r = 35 mm and l = 125 mm, at
which 40 mm below the top is 90 degrees exactly, since 125^2 - 35^2 = 120^2.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from kb.book.model.crank_geometry import Crank
from kb.book.setting.window import Setting, SettingRule, setting
from kb.calc.crank import degrees_per_length
from kb.errors import MarginTooWide, NotAnAngle
from kb.quantity import read_value

CRANK = Crank(35, 125)
LIMIT = SettingRule("Maximum advance", "late-end", True, "2")
EARLY, MIDDLE, LATE, NOWHERE = (
    SettingRule("Figure", aim, False, "5") for aim in ("early-end", "middle", "late-end", "")
)
FIXED = SettingRule("Throttle pickup", "middle", False, "")
half = Fraction(1, 2)


def made(document: dict[str, Any], rule: SettingRule, margin: Fraction | int = 0) -> Setting:
    return setting(read_value(document), rule, CRANK, margin)


WHERE = [
    # value, rule, margin -> low, high, late, early, target, margin kept, lone
    ({"btdc": "20"}, LIMIT, 0, (20, 20, half, 0, 20, 0, True)),
    ({"btdc": "20"}, LIMIT, 2, (20, 20, half + 2, 0, 18, 2, True)),
    ({"btdc": "20.5"}, LIMIT, 0, (Fraction(41, 2), Fraction(41, 2), half, 0, Fraction(41, 2), 0, True)),
    ({"btdc": {"at_most": "20"}}, LIMIT, 1, (None, 20, 1, 0, 19, 1, True)),
    ({"atdc": "3"}, FIXED, 0, (-3, -3, half, half, -3, 0, True)),
    ({"tdc": "0"}, FIXED, 0, (0, 0, half, half, 0, 0, True)),
    ({"btdc": {"at_most": "20"}}, FIXED, 0, (None, 20, 0, 0, None, 0, False)),
    ({"btdc": {"at_least": "20"}}, LIMIT, 1, (20, None, 0, 0, None, 0, False)),
    ({"atdc": ["5", "7"]}, FIXED, 0, (-7, -5, 0, 0, -6, 0, False)),
    ({"btdc": ["20", "22"]}, EARLY, 0, (20, 22, 0, 0, 22, 0, False)),
    ({"btdc": ["20", "22"]}, EARLY, 1, (20, 22, 0, 0, 21, 1, False)),
    ({"btdc": ["20", "22"]}, EARLY, 2, (20, 22, 0, 0, 20, 2, False)),
    ({"btdc": ["20", "22"]}, EARLY, 3, (20, 22, 0, 0, 20, 2, False)),
    ({"btdc": ["20", "22"]}, MIDDLE, half, (20, 22, 0, 0, Fraction(41, 2), half, False)),
    ({"btdc": ["20", "22"]}, MIDDLE, 2, (20, 22, 0, 0, 20, 1, False)),
    ({"btdc": ["20", "22"]}, LATE, 1, (20, 22, 0, 0, 20, 0, False)),
    ({"btdc": ["20", "22"]}, NOWHERE, 0, (20, 22, 0, 0, None, 0, False)),
    ({"btdc": {"mm": "40.0"}}, FIXED, 0, (90, 90, half, half, 90, 0, True)),
    ({"atdc": {"mm": ["0", "40.0"]}}, FIXED, 0, (-90, 0, 0, 0, -45, 0, False)),
    ({"btdc": {"mm": {"at_most": "40.0"}}}, LIMIT, 0, (None, 90, 0, 0, 90, 0, True)),
]


@pytest.mark.parametrize(("document", "rule", "margin", "wanted"), WHERE)
def test_where_to_aim_and_what_is_allowed(
    document: dict[str, Any], rule: SettingRule, margin: Any, wanted: tuple[object, ...]
) -> None:
    found = made(document, rule, margin)
    held = (found.low, found.high, found.late, found.early, found.target, found.margin, found.lone)
    assert held == wanted
    assert found.latest == (None if found.low is None else found.low - found.late)
    assert found.earliest == (None if found.high is None else found.high + found.early)


def test_a_piston_position_is_an_angle_to_a_thousand_millionth() -> None:
    assert made({"btdc": {"mm": "2.54"}}, FIXED).low == Fraction("19.442790635")  # references: 19.442790634572


def test_half_of_one_in_the_last_printed_place_where_an_eye_can_read_finer() -> None:
    found = made({"btdc": {"mm": "3"}}, FIXED)  # a millimetre is some 3.5 degrees there
    assert found.late == found.early == Fraction(degrees_per_length(3, 35, 125)) / 2 > half
    assert made({"btdc": {"mm": "3"}}, LIMIT, 1).late == found.late + 1


SAID = [
    ({"btdc": "20"}, LIMIT, 0, ["a single printed maximum is a limit: never set it earlier"]),
    ({"btdc": "20"}, EARLY, 0, []),
    ({"btdc": "20"}, EARLY, 1, ["1° of margin to the late side is your choice, not the book's"]),
    ({"btdc": ["20", "22"]}, EARLY, 2, []),
    ({"btdc": ["20", "22"]}, EARLY, 3, ["the margin stops at the printed window's late end"]),
    ({"btdc": ["20", "22"]}, LATE, 0, []),
    (
        {"btdc": ["20", "22"]},
        LATE,
        1,
        ["the target is the printed window's late end, which leaves no room for a margin"],
    ),
    ({"btdc": ["20", "22"]}, NOWHERE, 0, ["the catalogue does not say where in its window to aim"]),
    ({"btdc": {"at_least": "20"}}, EARLY, 0, ["a bound, not a window: there is no single target"]),
]


@pytest.mark.parametrize(("document", "rule", "margin", "said"), SAID)
def test_what_is_said_with_it(document: dict[str, Any], rule: SettingRule, margin: int, said: list[str]) -> None:
    assert list(made(document, rule, margin).remarks) == said


SHOWN = [
    # window, dead-centre reading -> target at its late end, as the pointer shows it
    (["20.25", "20.5"], "0", "20.25"),  # half a degree and a tenth late would leave the window, a hundredth lands on it
    (["20.2", "20.5"], "0", "20.2"),
    (["20.0003", "20.0015"], "0", "20.001"),  # a thousandth late leaves it too: the next mark inside
    (["20.0003", "20.001"], "0", "20.001"),  # both ends belong to it
    (["20.0003", "20.0007"], "0", "20.0003"),  # no mark inside
    (["20.0303", "20.1"], "0", "20.1"),
    (["20.0303", "20.05"], "0", "20.04"),
    (["20", "22"], "-0.75", "19.25"),
    (["20", "22"], "1/3", "20.4"),  # in thousandths 20.333, which is late of it: the next tenth inside
]


@pytest.mark.parametrize(("ends", "pointer", "shown"), SHOWN)
def test_a_target_is_rounded_late_but_never_out_of_the_window(ends: list[str], pointer: str, shown: str) -> None:
    found = made({"btdc": ends}, LATE)
    assert found.target is not None
    assert found.shown(found.target, Fraction(pointer)) == Fraction(shown)


NEITHER_END_IS_SAFER = [
    # value, dead-centre reading -> target in the middle, as the pointer shows it
    ({"atdc": "3"}, "0", "-3"),
    ({"atdc": "3.2"}, "0", "-3.2"),  # half a degree later would leave 0.2 of 0.5 to the late end
    ({"atdc": "3.3"}, "0", "-3.5"),  # 0.3 is left
    ({"atdc": "3"}, "0.2", "-3"),  # true it is 3.2
    ({"atdc": "3"}, "0.3", "-2.7"),
    ({"atdc": ["5", "7"]}, "0.9", "-5.5"),  # true it is 6.4, of 7
    ({"atdc": ["5", "7"]}, "0.95", "-5.5"),
    ({"atdc": ["5", "5.1"]}, "0", "-5.05"),  # in tenths it would lie on the end
]


@pytest.mark.parametrize(("document", "pointer", "shown"), NEITHER_END_IS_SAFER)
def test_a_target_keeps_half_its_room_where_neither_end_is_safer(
    document: dict[str, Any], pointer: str, shown: str
) -> None:
    found = made(document, FIXED)
    assert found.target is not None
    assert found.shown(found.target, Fraction(pointer)) == Fraction(shown)


@pytest.mark.parametrize("document", [{"btdc": "20.3"}, {"btdc": {"at_most": "20.3"}}])
def test_a_limit_is_shown_late(document: dict[str, Any]) -> None:
    assert made(document, LIMIT).shown(Fraction("20.3"), Fraction(0)) == 20


ALLOWED = [
    # window, dead-centre reading -> between which readings, each end rounded inward to a fifth of it at most
    (["20", "22"], "0", "20 to 22° BTDC"),
    (["20", "22"], "2", "22 to 24° BTDC"),
    (["20", "23"], "1/30", "20.1 to 23.0° BTDC"),
    (["20", "20.5"], "1/30", "20.1 to 20.5° BTDC"),
    (["20", "20.45"], "1/30", "20.04 to 20.48° BTDC"),
    (["20", "20.05"], "1/30", "20.04 to 20.08° BTDC"),
    (["20", "20.045"], "1/30", "20.034 to 20.078° BTDC"),
    (["20.001", "20.004"], "0", "20.001 to 20.004° BTDC"),
    (["20.0001", "20.0019"], "0", "20.001° BTDC"),
    (["20.0001", "20.0009"], "0", "20° BTDC"),  # no thousandth inside: the last one late of it
]


@pytest.mark.parametrize(("ends", "pointer", "words"), ALLOWED)
def test_readings_that_are_right_are_rounded_inward(ends: list[str], pointer: str, words: str) -> None:
    assert str(made({"btdc": ends}, LATE).allowed(Fraction(pointer))) == words


def test_with_an_open_end_no_readings_are_between() -> None:
    assert made({"btdc": {"at_most": "20"}}, LIMIT).allowed(Fraction(0)) is None
    assert made({"btdc": {"at_least": "20"}}, LIMIT).allowed(Fraction(0)) is None


REFUSED = [
    ({"btdc": "20"}, LIMIT, Fraction(201, 100), MarginTooWide, "2.01 degrees is too wide; it may be 0 to 2 degrees"),
    ({"btdc": "20"}, LIMIT, Fraction(-1, 100), MarginTooWide, "0.01 degrees is too wide"),
    ({"btdc": "20"}, FIXED, Fraction(1, 100), MarginTooWide, "throttle pickup takes no margin"),
    ({"mm": "0.9"}, LIMIT, 0, NotAnAngle, "^0.9 mm: not set by the timing light"),
    ({"mark": "a line"}, LIMIT, 0, NotAnAngle, "^a line: not set by the timing light"),
    ({"btdc": {"mm": "71"}}, LIMIT, 0, NotAnAngle, "^71 mm of piston travel BTDC: the piston never gets 71"),
]


@pytest.mark.parametrize(("document", "rule", "margin", "error", "said"), REFUSED)
def test_what_is_no_setting(
    document: dict[str, Any], rule: SettingRule, margin: Any, error: type[Exception], said: str
) -> None:
    with pytest.raises(error, match=said):
        made(document, rule, margin)


def test_the_rule_of_a_figure_is_read_from_the_catalogue() -> None:
    maximum = {"label": "Maximum advance", "aim": "late-end", "safest_end": "later", "margin_limit": {"deg": "1.5"}}
    assert SettingRule.read(maximum) == SettingRule("Maximum advance", "late-end", True, "1.5")
    assert SettingRule.read(maximum).margin_limit == Fraction(3, 2)
    assert SettingRule.read({"label": "Gap", "safest_end": "smaller"}) == SettingRule("Gap", "", False, "")
    assert SettingRule.read({"label": "Gap"}).margin_limit == 0
