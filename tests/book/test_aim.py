"""Targets: from a printed figure to what the pointer should show on one engine, and where that is on the flywheel.

Rows marked "common practice" are the trade's own check values, without a source; the others are worked by hand.
"""

from __future__ import annotations

import json
from fractions import Fraction
from typing import Any

import pytest

import kb
from kb.book.setting.flywheel import Flywheel
from kb.book.setting.rim_position import way_round
from kb.errors import DeadCentreTooFar, FigureDisputed, MarginTooWide, NotAnAngle, StateNeeded
from tests.support.frozen import frozen_book
from tests.support.one_family import FAMILY, FLYWHEEL, one_family

MAXIMUM = "max-advance: [{btdc: 20, state: cranking}]\ncranking-correction: [{cranking_earlier: 2, at: {rpm: 5000}}]"
RUNNING = "max-advance: [{btdc: 18, state: running, at: {rpm: 5000}}]\n" + MAXIMUM.splitlines()[1]
WINDOW = "max-advance: [{btdc: [20, 22], state: cranking}]"
PICKUP = "throttle-pickup: [{atdc: [5, 7], state: cranking}]"
TABLE = (
    "max-advance: [{btdc: 20, state: cranking}]\ncranking-correction: [{by_rpm: [{rpm: 1000, cranking_earlier: 1}, "
    "{rpm: 3000, cranking_later: 1}, {rpm: 5000, cranking_earlier: 2}]}]"
)
half = Fraction(1, 2)
MAX, PICK, IDLE, CRANKING = "max-advance", "throttle-pickup", "idle-timing", "cranking"
AT_5000 = "{}° BTDC at 5000 rpm"

ROWS = [
    # figures, figure, state, margin, dead-centre reading -> show, window, running; where from
    (MAXIMUM, MAX, CRANKING, 0, 0, "20° BTDC", "19.5 to 20.0° BTDC", AT_5000.format(18), "common practice"),
    (MAXIMUM, MAX, CRANKING, 1, 0, "19° BTDC", "18.5 to 20.0° BTDC", AT_5000.format(17), "common practice"),
    (MAXIMUM, MAX, CRANKING, 1, 2, "21° BTDC", "20.5 to 22.0° BTDC", AT_5000.format(17), "references, 8 and 9"),
    (MAXIMUM, MAX, CRANKING, 0, -2, "18° BTDC", "17.5 to 18.0° BTDC", AT_5000.format(18), "by hand"),
    (MAXIMUM, MAX, CRANKING, 0, Fraction(3, 10), "20° BTDC", "19.8 to 20.3° BTDC", AT_5000.format(17.7), "late"),
    (MAXIMUM, MAX, CRANKING, half, -3, "16.5° BTDC", "16 to 17° BTDC", AT_5000.format(17.5), "by hand"),
    (RUNNING, MAX, CRANKING, 1, 0, "19° BTDC", "18.5 to 20.0° BTDC", AT_5000.format(17), "common practice"),
    (RUNNING, MAX, "running", 1, 0, "17° BTDC", "16.5 to 18.0° BTDC", "", "no correction twice"),
    (WINDOW, MAX, CRANKING, 0, 0, "20° BTDC", "20 to 22° BTDC", None, "the late end"),
    (WINDOW, MAX, CRANKING, 2, 0, "20° BTDC", "20 to 22° BTDC", None, "no margin beyond the late end"),
    (PICKUP, PICK, CRANKING, 0, 0, "6° ATDC", "5 to 7° ATDC", "", "the middle"),
    (PICKUP, PICK, CRANKING, 0, 1, "5° ATDC", "4 to 6° ATDC", "", "by hand"),
    (PICKUP.replace("5, 7", "5, 6"), PICK, CRANKING, 0, 0, "5.5° ATDC", "5 to 6° ATDC", "", "by hand"),
    (
        "throttle-pickup: [{atdc: [0.2, 0.4], state: static}]",
        PICK,
        "static",
        0,
        0,
        "0.3° ATDC",
        "0.2 to 0.4° ATDC",
        "",
        "half a degree would leave the window",
    ),
    (
        "idle-timing: [{from: {btdc: 2}, to: {atdc: 3}, state: cranking}]",
        IDLE,
        CRANKING,
        0,
        0,
        "0.5° ATDC",
        "2° BTDC to 3° ATDC",
        "",
        "straddling",
    ),
    ("idle-timing: [{tdc: 0, state: cranking}]", IDLE, CRANKING, 0, 0, "TDC", "0.5° BTDC to 0.5° ATDC", "", "zero"),
    ("max-advance: [{btdc: {at_most: 24}, state: cranking}]", MAX, CRANKING, 1, 0, "23° BTDC", None, None, "a limit"),
    (
        "max-advance: [{btdc: {nominal: 22, plus_minus: 1}, state: cranking}]",
        MAX,
        CRANKING,
        0,
        0,
        "21° BTDC",
        "21 to 23° BTDC",
        None,
        "the tolerance's late end",
    ),
    # 125^2 - 35^2 = 120^2: 40 mm below the top is 90 degrees, exactly; half a degree is what an eye can read
    (
        "max-advance: [{btdc: {mm: 40.0}, state: static}]",
        MAX,
        "static",
        0,
        0,
        "90° BTDC",
        "89.5 to 90.0° BTDC",
        "",
        "references, r = 35, l = 125",
    ),
    (
        "max-advance: [{btdc: {mm: 2.54}, state: static}]",
        MAX,
        "static",
        0,
        0,
        "19° BTDC",
        "19.0 to 19.4° BTDC",
        "",
        "references: 19.4428 degrees, to half a degree toward late",
    ),
    (
        PICKUP.replace("5, 7", "4.001, 4.004"),
        PICK,
        CRANKING,
        0,
        0,
        "4.003° ATDC",
        "4.001 to 4.004° ATDC",
        "",
        "by hand",
    ),
    ("max-advance: [{btdc: 24.5, state: static}]", MAX, "static", 0, 0, "24.5° BTDC", "24.0 to 24.5° BTDC", "", ""),
]


@pytest.mark.parametrize(("figures", "figure", "state", "margin", "dead", "show", "window", "running", "source"), ROWS)
def test_the_target(
    figures: str,
    figure: str,
    state: str,
    margin: Any,
    dead: Any,
    show: str,
    window: str | None,
    running: str | None,
    source: str,
) -> None:
    found = one_family(figures).aim(FAMILY, figure, state, margin=margin, dead_centre=dead)
    assert str(found.show) == show, source
    assert (None if found.window is None else str(found.window)) == window
    assert running is None or found.running.words == running
    assert found.working[-1 - len(found.running.working)].result == show
    assert found.answer.printed


AIMED = "aimed at"
TDC_IDLE = "idle-timing: [{tdc: 0, state: cranking}]"
AT_MOST = "max-advance: [{btdc: {at_most: 24}, state: cranking}]"
WORKED = [
    # figures, state, margin, dead-centre reading -> the figure's own page, where it is aimed at and why, how rounded
    (TDC_IDLE, CRANKING, 0, None, "handbook page 42", None, ""),
    (PICKUP, CRANKING, 0, 0, "handbook page 42", ("6 after", "the middle of the window"), ""),
    (
        PICKUP.replace("5, 7", "5, 8"),
        CRANKING,
        0,
        Fraction(1, 4),
        "handbook page 42",
        ("6.5 after", "the middle of the window"),
        "toward late",
    ),
    (WINDOW, CRANKING, 0, 0, "handbook page 42", ("20 before", "the late end"), ""),
    (WINDOW, CRANKING, 1, 0, "handbook page 42", ("20 before", "the late end"), ""),
    (AT_MOST, CRANKING, 1, 0, "handbook page 42", None, ""),
    (MAXIMUM, CRANKING, 1, 2, "handbook page 42", None, ""),
    (MAXIMUM, CRANKING, 0, Fraction(3, 10), "handbook page 42", None, "toward late"),
    (RUNNING, CRANKING, 0, 0, "worked out above", None, ""),
    (
        "max-advance: [{btdc: {mm: 2.54}, state: static}]",
        "static",
        0,
        0,
        "handbook page 42",
        ("19.443 before", "through stroke and rod"),
        "toward late",
    ),
    (
        "throttle-pickup: [{atdc: {mm: 40.0}, state: static}]",
        "static",
        0,
        0,
        "handbook page 42",
        ("90 after", "through stroke and rod"),
        "",
    ),
    (
        "throttle-pickup: [{btdc: {mm: [0, 40.0]}, state: static}]",
        "static",
        0,
        0,
        "handbook page 42",
        ("45 before", "the middle of the window"),
        "",
    ),
]


@pytest.mark.parametrize(("figures", "state", "margin", "dead", "cited", "aimed", "rounding"), WORKED)
def test_the_working_says_what_went_into_the_target(
    figures: str, state: str, margin: int, dead: Any, cited: str, aimed: tuple[str, str] | None, rounding: str
) -> None:
    found = one_family(figures).aim(FAMILY, figures.partition(":")[0], state, margin=margin, dead_centre=dead)
    step = found.working[-1 - len(found.running.working)]
    inputs = {given.name: (given.value, given.source) for given in step.inputs}
    assert inputs.pop(f"{found.answer.label.lower()}, {state}") == (found.answer.printed, cited)
    assert inputs.pop(AIMED, None) == aimed
    assert inputs.pop("dead-centre reading")[1] == (
        "this engine, this job" if dead is not None else "not given, assumed to be right"
    )
    kept = {"margin to the late side": (f"{margin}°", "the mechanic's choice")} if found.margin else {}
    assert inputs == kept
    assert step.formula == "figure + dead-centre reading" + (" - margin" if kept else "")
    assert (step.result, step.rounding) == (str(found.show), rounding)


ERRORS = [
    # figures, figure, asked -> error, what it says
    (MAXIMUM, MAX, {"margin": 3}, MarginTooWide, "a margin of 3 degrees is too wide; it may be 0 to 2 degrees"),
    (MAXIMUM, MAX, {"margin": -half}, MarginTooWide, "it may be 0 to 2"),
    (PICKUP, PICK, {"margin": 1}, MarginTooWide, "throttle pickup takes no margin: it is set in the middle"),
    (
        MAXIMUM,
        MAX,
        {"dead_centre": Fraction(31, 10)},
        DeadCentreTooFar,
        "the pointer shows 3.1 before at true top dead centre; beyond 3 degrees stop, and look at the flywheel key",
    ),
    (MAXIMUM, MAX, {"dead_centre": -4}, DeadCentreTooFar, "the pointer shows 4 after"),
    (
        "plug-gap: [{mm: 0.9}]",
        "plug-gap",
        {"state": None},
        NotAnAngle,
        "plug gap of skerrow/subject is 0.9 mm: not set by",
    ),
    (
        "main-jet: [{code: 68}]",
        "main-jet",
        {"state": None},
        NotAnAngle,
        "main jet of skerrow/subject is 68: not set by",
    ),
    ("throttle-pickup: [{atdc: {at_least: 2}, state: cranking}]", PICK, {}, NotAnAngle, "there is no single target"),
    ("max-advance: [{btdc: {at_least: 20}, state: cranking}]", MAX, {}, NotAnAngle, "there is no single target"),
    (
        "throttle-pickup: [{atdc: 2, state: cranking}, {atdc: 4, state: static}]",
        PICK,
        {"state": None},
        StateNeeded,
        "say which",
    ),
    (
        "throttle-pickup: [{atdc: 2, state: cranking}]\nplug-gap: [{mm: 0.9}]",
        IDLE,
        {},
        kb.FigureUnknown,
        "no figure is published",
    ),
    (MAXIMUM, "max-advanse", {}, kb.FigureNotFound, "did you mean max-advance"),
    ("max-advance: [{btdc: 20, state: running}]", MAX, {}, kb.NoCorrectionKnown, "earlier or later while cranking"),
]


@pytest.mark.parametrize(("figures", "figure", "asked", "error", "said"), ERRORS)
def test_what_is_refused(figures: str, figure: str, asked: dict[str, Any], error: type[Exception], said: str) -> None:
    with pytest.raises(error, match=said):
        one_family(figures).aim(FAMILY, figure, **{"state": CRANKING, **asked})


@pytest.mark.parametrize(
    ("figures", "margin", "dead", "position", "source"),
    [
        ("max-advance: [{btdc: {mm: 3.20}, state: static}]", 0, 2, "3.20 mm of piston travel BTDC", "as printed"),
        ("max-advance: [{btdc: {in: 0.126}, state: static}]", 0, 0, "0.126 in of piston travel BTDC", "as printed"),
        ("throttle-pickup: [{atdc: {in: 0.126}, state: static}]", 0, 0, "0.126 in of piston travel ATDC", "as printed"),
        ("max-advance: [{btdc: 20, state: static}]", 0, -3, "2.68 mm of piston travel BTDC", "references: 2.68527"),
        ("throttle-pickup: [{atdc: 20, state: static}]", 0, 0, "2.69 mm of piston travel ATDC", "2.68527, toward late"),
        ("max-advance: [{btdc: 11, state: static}]", 1, 0, "0.67 mm of piston travel BTDC", "references: 0.67957"),
    ],
)
def test_the_same_by_the_depth_gauge(figures: str, margin: int, dead: int, position: str, source: str) -> None:
    figure = figures.partition(":")[0]
    found = one_family(figures).aim(FAMILY, figure, "static", margin=margin, dead_centre=dead)
    assert str(found.piston) == position, source


def test_a_piston_position_without_a_crank_is_left_to_the_depth_gauge() -> None:
    book = one_family("max-advance: [{btdc: {mm: 3.2}, state: static}]", crank="bore: {mm: 70}")
    with pytest.raises(NotAnAngle, match="does not state stroke and rod: set it by the depth gauge"):
        book.aim(FAMILY, MAX, "static")


def test_a_dispute_without_a_safest_end_gives_no_number() -> None:
    with pytest.raises(FigureDisputed, match="neither end is the safe one"):
        frozen_book().aim("skerrow/barque-113", PICK, CRANKING)


def test_a_disputed_maximum_is_aimed_at_its_latest() -> None:
    found = frozen_book().aim("skerrow/barque-113", MAX, "running")
    assert str(found.show) == "17° BTDC"
    assert found.answer.how_sure == "disputed"
    assert any("sources do not agree" in remark for remark in found.remarks)


BARE = "{rotation: clockwise, rim_diameter: {mm: 240}, marks_on: flywheel}"
FIXED = FLYWHEEL.replace("marks_on: flywheel", "marks_on: fixed-scale")
TURNED = FLYWHEEL.replace("clockwise", "anticlockwise")
ONE_MARK = FLYWHEEL.replace("[7, 14, 21], atdc: [7]", "[21]")
LAST_AFTER = FLYWHEEL.replace("[7, 14, 21], atdc: [7]", "[24], atdc: [9]")
TAPED = "; {0} mm along the rim by tape, {0} mm across by callipers"
RIMS = [
    # flywheel, margin, dead-centre reading -> where it is, in words; where from
    (
        FLYWHEEL,
        1,
        0,
        "2 divisions, 2° from the mark 21° BTDC toward 14° BTDC, on its late side (anticlockwise seen from above)"
        + TAPED.format(4.2),
        "common practice: on a rim whose nearest number is 21",
    ),
    (TURNED, 1, 0, "toward 14° BTDC, on its late side (clockwise seen from above)", "by hand"),
    (FIXED, 1, 0, "toward 14° BTDC, on its late side (clockwise seen from above)", "by hand"),
    (FIXED.replace("clockwise", "anticlockwise"), 1, 0, "toward 14° BTDC, on its late side (anticlockwise", "by hand"),
    (
        FLYWHEEL.replace(", division: {deg: 1}", ""),
        1,
        0,
        "2° from the mark 21° BTDC toward 14° BTDC, on its late side (anti",
        "no ticks",
    ),
    (
        FLYWHEEL.replace("{deg: 1}", "{deg: 4}"),
        1,
        0,
        "0.5 divisions, 2° from the mark 21° BTDC toward 14° BTDC",
        "by hand",
    ),
    (
        FLYWHEEL,
        0,
        3,
        "2 divisions, 2° on the early side of the mark 21° BTDC, away from 14° BTDC (clockwise seen from above)"
        + TAPED.format(4.1)
        + "; past the last number, so counted on from it",
        "rounded late",
    ),
    (FLYWHEEL, 0, 1, "at the mark 21° BTDC", "by hand"),
    (
        ONE_MARK,
        1,
        0,
        "2 divisions, 2° on the late side of the mark 21° BTDC (anticlockwise",
        "no other to count toward",
    ),
    (LAST_AFTER, 0, 0, "from the mark 24° BTDC toward 9° ATDC, on its late side (", "across top dead centre"),
    (FLYWHEEL, 2, -half, "3.5° from the mark 21° BTDC toward 14° BTDC", "of two marks equally near the earlier"),
    (FLYWHEEL.replace("rim_diameter: {mm: 240}, ", ""), 1, 0, "(anticlockwise seen from above)", "no distance"),
    (
        BARE,
        0,
        2,
        "20° on the early side of your own mark at true top dead centre (clockwise seen from above); "
        "41.8 mm along the rim by tape, 41.6 mm across by callipers",
        "references: 41.8879, 41.6756 mm, rounded late",
    ),
]


WAYS = [
    # rotation, what bears the marks, side -> which way round the rim
    ("clockwise", "flywheel", "early", "clockwise seen from above"),
    ("clockwise", "flywheel", "late", "anticlockwise seen from above"),
    ("anticlockwise", "flywheel", "late", "clockwise seen from above"),
    ("clockwise", "fixed-scale", "late", "clockwise seen from above"),
    ("", "flywheel", "early", "the way the flywheel turns"),
    ("", "flywheel", "late", "against the way the flywheel turns"),
    ("", "fixed-scale", "late", "the way the flywheel turns"),
    ("", "", "late", "against the way the flywheel turns"),
]


@pytest.mark.parametrize(("rotation", "marks_on", "side", "words"), WAYS)
def test_which_way_round_the_rim(rotation: str, marks_on: str, side: str, words: str) -> None:
    assert way_round(Flywheel(rotation, marks_on, (), None, None), side) == words
    if not rotation and marks_on != "fixed-scale":
        assert way_round(None, side) == words


@pytest.mark.parametrize(("flywheel", "margin", "dead", "words", "source"), RIMS)
def test_where_it_is_on_the_flywheel(flywheel: str, margin: int, dead: Any, words: str, source: str) -> None:
    rim = one_family(MAXIMUM, flywheel).aim(FAMILY, MAX, CRANKING, margin=margin, dead_centre=dead).rim
    assert rim is not None
    assert words in rim.words, source
    assert ("division" in rim.words) == ("division" in flywheel and not rim.words.startswith("at "))
    assert (" mm " in rim.words) == ("mm" in flywheel and not rim.words.startswith("at "))


def test_a_flywheel_of_which_nothing_is_known_has_no_place_on_its_rim() -> None:
    book = one_family(MAXIMUM, "{rotation: clockwise}")
    assert book.aim(FAMILY, MAX, CRANKING).rim is None


def test_no_noise_of_a_float_tips_the_rounding_of_a_distance() -> None:
    """Sixty degrees across a rim of 240 mm are 120 mm exactly: references, rim."""
    book = one_family("throttle-pickup: [{btdc: 60, state: static}]", BARE)
    rim = book.aim(FAMILY, PICK, "static").rim
    assert rim is not None
    assert str(rim.callipers) == "120.0 mm"


CORRECTIONS = [
    (None, "19° BTDC at 1000 rpm, 21° BTDC at 3000 rpm, 18° BTDC at 5000 rpm"),
    (3000, "21° BTDC at 3000 rpm"),
    (4000, "19.5° BTDC at 4000 rpm"),  # between one later and two earlier lies half a degree earlier
    (5001, "unknown: the correction is known from 1000 to 5000 rpm, not at 5001 rpm"),
]


@pytest.mark.parametrize(("rpm", "words"), CORRECTIONS)
def test_a_correction_by_speed_is_told_at_its_speeds_and_never_beyond(rpm: int | None, words: str) -> None:
    found = one_family(TABLE).aim(FAMILY, MAX, CRANKING, running_rpm=rpm)
    assert found.running.words == words
    assert len(found.running.working) == len(found.running.values)


def test_without_a_sourced_correction_the_running_figure_is_not_known() -> None:
    found = one_family("max-advance: [{btdc: 20, state: cranking}]").aim(FAMILY, MAX, CRANKING)
    assert found.running.words.startswith("unknown: no figure is published for the cranking correction")
    assert not found.running.values


def test_a_reading_that_was_not_given_is_said_to_be_none() -> None:
    book = one_family(MAXIMUM)
    assert any("no dead-centre reading" in remark for remark in book.aim(FAMILY, MAX, CRANKING).remarks)
    given = book.aim(FAMILY, MAX, CRANKING, dead_centre=0)
    assert not any("no dead-centre reading" in remark for remark in given.remarks)


def test_the_document_holds_all_of_it_as_plain_values() -> None:
    found = one_family(MAXIMUM).aim(FAMILY, MAX, CRANKING, margin=1, dead_centre=2)
    document = json.loads(json.dumps(found.to_document()))
    assert document["show"] == "21° BTDC"
    assert [document[key] for key in ("printed", "margin_deg", "dead_centre_reading")] == ["20° BTDC", "1", "2 before"]
    assert document["rim"]["mark"] == "21° BTDC"
    assert document["running"]["values"] == [{"at": "5000 rpm", "value": "17° BTDC"}]
    assert document["piston"] == "2.42 mm of piston travel BTDC"
    assert document["invented"] is True
    assert document["working"][0]["inputs"][1] == {
        "name": "dead-centre reading",
        "value": "2 before",
        "source": "this engine, this job",
    }


def test_the_document_of_a_target_of_which_little_is_known() -> None:
    book = one_family(AT_MOST, "{rotation: clockwise}", crank="bore: {mm: 70}")
    document = json.loads(json.dumps(book.aim(FAMILY, MAX, CRANKING).to_document()))
    unknown = {name for name, value in document.items() if value is None}
    assert unknown == {"window", "dead_centre_reading", "rim", "piston"}
    known = json.loads(json.dumps(one_family(MAXIMUM).aim(FAMILY, MAX, CRANKING, dead_centre=0).to_document()))
    assert [known[name] for name in ("window", "dead_centre_reading")] == ["19.5 to 20.0° BTDC", "0"]
    assert None not in known.values()


@pytest.mark.parametrize(
    ("degrees", "position", "source"),
    [
        ("20.01789859", "2.69", "2.6899996 mm by the references' formula: a millionth is noise, not a rounding"),
        ("20.01788573", "2.68", "2.6899962 mm"),
    ],
)
def test_a_position_by_the_depth_gauge_is_late_but_for_noise(degrees: str, position: str, source: str) -> None:
    found = one_family(f"max-advance: [{{btdc: {degrees}, state: static}}]").aim(FAMILY, MAX, "static")
    assert found.piston is not None
    assert str(found.piston).startswith(position), source
