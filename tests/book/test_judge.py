"""Readings judged: inside, or how far out, early or late, what the engine would do, which way to turn.

Rows marked "common practice" are the trade's own check values, without a source.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from fractions import Fraction
from typing import Any

import pytest

from kb.calc.target import Off
from kb.cli import main
from kb.errors import DeadCentreTooFar, MarginTooWide, NotAnAngle
from tests.support.one_family import FAMILY, one_family

CRANKING = "cranking"
PICKUP = "throttle-pickup: [{atdc: [5, 7], state: cranking}]"
MAXIMUM = "max-advance: [{btdc: 20, state: cranking}]"
IDLE = "idle-timing: [{atdc: 3, state: cranking}]"
WINDOW = "max-advance: [{btdc: [20, 22], state: cranking}]"
AFTER = "max-advance: [{atdc: 5, state: cranking}]"
LIMIT = "max-advance: [{btdc: {at_most: 20}, state: cranking}]"


ROWS = [
    # figures, reading, margin, dead-centre reading -> verdict; where from
    (PICKUP, "-4", "0", "0", "1 degree early (advanced)", "common practice"),
    (PICKUP, "-9", "0", "0", "2 degrees late (retarded)", "common practice"),
    (PICKUP, "-7", "0", "0", "inside", "common practice"),
    (PICKUP, "-5", "0", "0", "inside", "both ends belong to it"),
    (PICKUP, "-4.999", "0", "0", "0.001 degrees early (advanced)", "by hand"),
    (PICKUP, "-4.9999", "0", "0", "less than 0.001 degrees early (advanced)", "by hand"),
    (PICKUP, "-4.9990005", "0", "0", "less than 0.001 degrees early (advanced)", "by hand"),
    (PICKUP, "-4", "0", "2", "inside", "4 after on a pointer that shows 2 before is 6 after"),
    (PICKUP, "-7", "0", "1", "1 degree late (retarded)", "by hand"),
    (MAXIMUM, "20", "0", "0", "on target, the book's 20", "by hand"),
    (MAXIMUM, "20.1", "0", "0", "early, 0.1° past the book's 20", "a limit allows nothing on its early side"),
    (MAXIMUM, "19.5", "0", "0", "on target, 0.5° late of the book's 20", "half of the last printed degree"),
    (MAXIMUM, "19", "0", "0", "1° late of the book's 20, still on the safe side", "by hand"),
    (MAXIMUM, "21", "1", "0", "early, 1° past the book's 20, 2° from your 19", "both distances"),
    (MAXIMUM, "20.0001", "1", "0", "early, less than 0.001° past the book's 20, 1° from your 19", "both distances"),
    (MAXIMUM, "20", "1", "0", "inside, the book's 20, 1° from your 19", "not early, and not on target"),
    (MAXIMUM, "19.5", "1", "0", "inside, 0.5° late of the book's 20, 0.5° from your 19", "both distances"),
    (MAXIMUM, "19", "1", "0", "on target, 1° late of the book's 20", "the target has the margin in it"),
    (MAXIMUM, "18.5", "1", "0", "on target, 1.5° late of the book's 20", "the margin and half of the last degree"),
    (MAXIMUM, "18", "1", "0", "2° late of the book's 20, 1° from your 19, still on the safe side", "from the printed"),
    (MAXIMUM, "22", "1", "2", "inside, the book's 20 (22 on this pointer), 1° from your 21", "as the pointer shows"),
    (MAXIMUM, "22.5", "1", "2", "early, 0.5° past the book's 20 (22 on this pointer), 1.5° from your 21", "by hand"),
    (WINDOW, "20", "0", "0", "on target, between the book's 20 and 22", "the late end is where to aim"),
    (WINDOW, "21", "1", "0", "inside, between the book's 20 and 22, 1° from the 20 to aim at", "no room for a margin"),
    (WINDOW, "23", "0", "0", "early, 1° past the book's 22, 3° from the 20 to aim at", "both distances"),
    (WINDOW, "19", "0", "0", "1° late of the book's 20, still on the safe side", "one distance, they are the same"),
    (IDLE, "-2.5", "0", "0", "inside", "half of the last printed degree, either side"),
    (IDLE, "-3.5", "0", "0", "inside", "half of the last printed degree, either side"),
    (IDLE, "-3.6", "0", "0", "0.6 degrees late (retarded)", "by hand"),
    (
        LIMIT,
        "5",
        "0",
        "0",
        "inside, 15° late of the book's 20, 15° from the 20 to aim at",
        "at most 20 has no late end",
    ),
    (LIMIT, "19", "1", "0", "on target, 1° late of the book's 20", "by hand"),
    (LIMIT, "21", "0", "0", "early, 1° past the book's 20", "by hand"),
    (AFTER, "-4", "0", "0", "early, 1° past the book's 5 after", "a number after top dead centre has its side"),
    (PICKUP.replace("[5, 7]", "{at_least: 5}"), "-4", "0", "0", "1 degree early (advanced)", "an open end"),
    (PICKUP.replace("[5, 7]", "{at_least: 5}"), "-40", "0", "0", "inside", "an open end"),
    ("idle-timing: [{from: {btdc: 2}, to: {atdc: 3}, state: cranking}]", "0", "0", "0", "inside", "straddling"),
    (
        "idle-timing: [{from: {btdc: 2}, to: {atdc: 3}, state: cranking}]",
        "3",
        "0",
        "0",
        "1 degree early (advanced)",
        "",
    ),
]


WOULD = {
    "max-advance": ("holes a piston", "pulls poorly"),
    "throttle-pickup": ("bucks off idle", "it bogs"),
    "idle-timing": ("idles fast", "idles rough"),
}


@pytest.mark.parametrize(("figures", "reading", "margin", "dead", "words", "source"), ROWS)
def test_the_verdict(figures: str, reading: str, margin: str, dead: str, words: str, source: str) -> None:
    figure = figures.partition(":")[0]
    judged = one_family(figures).judge(
        FAMILY, figure, Fraction(reading), CRANKING, margin=Fraction(margin), dead_centre=Fraction(dead)
    )
    assert judged.words == words, source
    assert judged.true == Fraction(reading) - Fraction(dead)
    assert judged.working[-1].result == words
    early, late = WOULD[figure]
    said = {Off.EARLY: early, Off.LATE: late, Off.INSIDE: ""}[judged.verdict.off]
    assert said in judged.would
    assert bool(judged.would) == bool(said)


NOTHING_EARLIER = (
    "make nothing earlier on one reading: see to the lever on its stop, the light's clip on lead one, its arrow toward "
    "the plug, its dial at nought, a battery of its own, cranking speed and voltage up to their figures, the mark that "
    "is read one before top dead centre; then read again"
)
ADJUSTERS = [
    # adjuster, reading -> which way; turning in is later or earlier, or nobody says
    ("{part: stop screw, turning_in: later}", 22, "make it later: turn the stop screw in"),
    ("{part: stop screw, turning_in: later}", 18, NOTHING_EARLIER),
    ("", 18, NOTHING_EARLIER),
    ("{part: stop screw, turning_in: earlier}", 22, "make it later: turn the stop screw out"),
    (
        "{part: stop screw, turning_in: earlier, locknut: true}",
        22,
        "make it later: turn the stop screw out; the reading after the lock nut is tight is the one that counts",
    ),
    ("{part: stop screw}", 22, "make it later at the stop screw; direction unknown: turn it a little and read again"),
    ("{part: stop pin, holes: 3}", 22, "make it later: put the stop pin into another hole, and read again"),
    ("", 22, "make it later; the file does not say with which screw"),
    ("{part: stop screw, turning_in: later}", 20, ""),
]


@pytest.mark.parametrize(("adjuster", "reading", "way"), ADJUSTERS)
def test_which_way_to_turn(adjuster: str, reading: int, way: str) -> None:
    more = f"adjusters: {{max-advance: {adjuster}}}" if adjuster else ""
    assert one_family(MAXIMUM, more=more).judge(FAMILY, "max-advance", reading, CRANKING).turn == way


def test_what_is_allowed_beyond_a_lone_number_is_said() -> None:
    book = one_family(f"{MAXIMUM}\n{IDLE}\n{PICKUP}")
    maximum = book.judge(FAMILY, "max-advance", 20, CRANKING, margin=1)
    assert maximum.allowed == (
        "a lone number: 1.5° on the late side, for the rounding of its last digit or the reading by eye and the 1° "
        "of margin that you chose; nothing on the early side"
    )
    assert book.judge(FAMILY, "idle-timing", -3, CRANKING).allowed.endswith("; 0.5° on the early side")
    assert one_family(LIMIT).judge(FAMILY, "max-advance", 5, CRANKING).allowed.startswith("it is printed as a limit")
    assert book.judge(FAMILY, "throttle-pickup", -6, CRANKING).allowed == ""


def test_a_maximum_read_cranking_is_told_as_it_will_run() -> None:
    book = one_family(f"{MAXIMUM}\ncranking-correction: [{{cranking_earlier: 2, at: {{rpm: 5000}}}}]")
    assert book.judge(FAMILY, "max-advance", 23, CRANKING, dead_centre=1).running.words == "20° BTDC at 5000 rpm"


@pytest.mark.parametrize(
    ("asked", "error", "said"),
    [
        ({"margin": 3}, MarginTooWide, "it may be 0 to 2 degrees"),
        ({"dead_centre": 4}, DeadCentreTooFar, "beyond 3 degrees stop"),
    ],
)
def test_what_is_refused(asked: dict[str, Any], error: type[Exception], said: str) -> None:
    with pytest.raises(error, match=said):
        one_family(MAXIMUM).judge(FAMILY, "max-advance", 20, CRANKING, **asked)
    with pytest.raises(NotAnAngle, match="not set by the timing light"):
        one_family("plug-gap: [{mm: 0.9}]").judge(FAMILY, "plug-gap", 20)


GOLDEN = {
    "aim": [
        "aim",
        "skerrow/ketch-47",
        "max-advance",
        "--state",
        "cranking",
        "--serial",
        "301455",
        "--margin",
        "1",
        "--dead-centre-reads",
        "2 before",
    ],
    "aim-pickup": ["aim", "skerrow/ketch-47", "throttle-pickup"],
    "aim-piston": ["aim", "ostmere/dunlin-6-7", "max-advance", "--state", "static", "--dead-centre-reads", "0"],
    "aim-table": ["aim", "pellwater/libeccio-87", "max-advance", "--state", "cranking", "--margin", "1/2"],
    "judge": [
        "judge",
        "skerrow/ketch-47",
        "max-advance",
        "27 before",
        "--state",
        "cranking",
        "--margin",
        "1",
        "--dead-centre-reads",
        "2 before",
        "--serial",
        "301455",
    ],
    "judge-inside": ["judge", "skerrow/ketch-47", "throttle-pickup", "5 after"],
}


@pytest.mark.parametrize("name", GOLDEN)
def test_as_it_is_printed(
    name: str, compiled_book: str, golden: Callable[[str, str], None], capsys: pytest.CaptureFixture[str]
) -> None:
    command = [*GOLDEN[name], "--book", compiled_book]
    assert main(command) == 0
    text = capsys.readouterr().out
    golden(f"targets/{name}.txt", text)
    assert "invented demonstration data" in text
    assert "instructions, local rules and a licensed mechanic come first." in text
    assert main([*command, "--json"]) == 0
    document = json.loads(capsys.readouterr().out)
    assert document["invented"] is True
    assert (document["show"] if name.startswith("aim") else document["words"]) in text
    assert document["printed"] in text


USAGE = [
    (["aim", "skerrow/ketch-47"], 2, "the following arguments are required: FIGURE"),
    (["aim", "skerrow/ketch-47", "max-advance", "--dead-centre-reads", "2"], 2, "write degrees and before or after"),
    (["aim", "skerrow/ketch-47", "max-advance", "--dead-centre-reads=-2"], 2, "write degrees and before or after"),
    (["aim", "skerrow/ketch-47", "max-advance", "--margin", "one"], 2, "'one' is not a plain number"),
    (["aim", "skerrow/ketch-47", "max-advance", "--margin", "1e0"], 2, "not a plain number"),
    (["aim", "skerrow/ketch-47", "max-advance", "--margin", "nan"], 2, "not a plain number"),
    (["judge", "skerrow/ketch-47", "max-advance", "26"], 2, "'26' is not an angle with its side"),
    (["judge", "skerrow/ketch-47", "max-advance", "before"], 2, "not an angle with its side"),
    (["judge", "skerrow/ketch-47", "max-advance", "026 before"], 2, "not a plain number"),
    (["aim", "skerrow/ketch-47", "max-advance"], 3, "say which"),
    (["aim", "skerrow/ketch-48", "max-advance"], 3, "no family"),
    (["aim", "skerrow/ketch-47", "idle-timing"], 3, "not stated"),
    (["aim", "skerrow/ketch-47", "max-advance", "--state", "cranking", "--serial", "999999"], 3, "no range"),
    (["aim", "skerrow/ketch-47", "max-advance", "--state", "cranking", "--margin", "5"], 4, "it may be 0 to 2 degrees"),
    (["aim", "skerrow/ketch-47", "throttle-pickup", "--margin", "1"], 4, "takes no margin"),
    (["aim", "skerrow/ketch-47", "max-advance", "--state=cranking", "--dead-centre-reads", "4 after"], 4, "stop, and"),
    (["aim", "skerrow/ketch-47", "plug-gap"], 4, "not set by the timing light"),
    (["aim", "skerrow/barque-113", "throttle-pickup", "--state", "cranking"], 4, "do not agree"),
]


@pytest.mark.parametrize(("words", "code", "said"), USAGE)
def test_bad_input_is_told_what_to_type(
    words: list[str], code: int, said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert told(words) == code
    assert said in " ".join(capsys.readouterr().err.split())
    assert told([*words, "--json"]) == code
    assert set(json.loads(capsys.readouterr().out)) >= {"error", "message", "candidates"}


def told(words: list[str]) -> int:
    """The exit code, also where argparse leaves by itself."""
    try:
        return main(words)
    except SystemExit as end:
        return int(str(end.code))
