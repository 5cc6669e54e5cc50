"""Look-ups in memory and in a compiled book: every answer, and every reason not to answer with its candidates."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Any

import pytest

from kb import errors
from kb.book.book import Book
from kb.book.evidence.standing import Standing
from kb.book.store.compiled import CompiledBook
from kb.book.store.writing import write_store
from kb.errors import FamilyNotFound, LookUpError, Refusal, SeveralFamilies
from kb.intake.compiling import book_in_memory
from tests.support.asked_book import asked_book, asked_files
from tests.support.frozen import frozen_book

SQUALL, MAXIMUM = "pellwater/squall", "max-advance"
EDDY, FLURRY = "pellwater/eddy", "pellwater/flurry"
GALES = ("pellwater/gale", "pellwater/gale-late")
FROM_SINGLE = "derived, from figures that are single"


@pytest.fixture(scope="module", params=["in memory", "compiled"])
def book(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Book]:
    if request.param == "in memory":
        yield asked_book()
        return
    path = tmp_path_factory.mktemp("book") / "asked.book"
    write_store(path, asked_book())
    with CompiledBook(path) as store:
        yield store


ANSWERS = [
    # family, figure, state, asked -> printed, state, conditions, how sure
    ("skerrow/example", MAXIMUM, "cranking", {}, "24° BTDC", "cranking", "", "agreed"),
    ("skerrow/example", MAXIMUM, "running", {}, "22° BTDC", "running", "5000 rpm", "agreed"),
    ("skerrow/example", MAXIMUM, "running", {"rpm": 5000}, "22° BTDC", "running", "5000 rpm", "agreed"),
    ("skerrow/example", MAXIMUM, "running", {"rpm": "5000.0"}, "22° BTDC", "running", "5000 rpm", "agreed"),
    ("Example 31", "trigger-gap", None, {}, "0.030 in", "at-rest", "", "single"),
    ("skerrow example 31", "trigger-gap", None, {"serial": 300100}, "0.030 in", "at-rest", "", "single"),
    ("skerrow/other", "plug-gap", None, {}, "0.7 mm", "at-rest", "", "single"),
    ("skerrow/other", "plug-torque", None, {}, "18 to 22 N m", "at-rest", "", "single"),
    ("skerrow/other", "cranking-speed", None, {}, "250 to 400 rpm", "cranking", "", "single"),
    # families of one name, told apart
    ("Gale 31", "plug-gap", None, {"year": 1976}, "0.8 mm", "at-rest", "", "single"),
    ("gale  31", "plug-gap", None, {"serial": "p 5000"}, "0.8 mm", "at-rest", "", "single"),
    # zero is a value
    (SQUALL, "throttle-pickup", "cranking", {}, "TDC", "cranking", "", "single"),
    # conditions
    (SQUALL, "idle-speed", None, {"gear": "in-gear"}, "650 to 750 rpm", "running", "in gear", "single"),
    (SQUALL, "idle-speed", None, {"gear": "neutral"}, "800 to 900 rpm", "running", "in neutral", "single"),
    (EDDY, "idle-speed", None, {"gear": "in-gear"}, "650 to 750 rpm", "running", "in gear", "single"),
    (
        SQUALL,
        "idle-speed",
        None,
        {"gear": "neutral", "engine": "cold"},
        "800 to 900 rpm",
        "running",
        "engine cold, in neutral",
        "single",
    ),
    (SQUALL, "main-jet", None, {"altitude": {"m": 500}}, "68", "at-rest", "altitude 0 to 900 m", "single"),
    (SQUALL, "main-jet", None, {"altitude": {"m": 0}}, "68", "at-rest", "altitude 0 to 900 m", "single"),
    (SQUALL, "main-jet", None, {"altitude": {"ft": 2900}}, "68", "at-rest", "altitude 0 to 900 m", "single"),
    # both ranges hold their ends: there the richer of the two
    (SQUALL, "main-jet", None, {"altitude": {"m": 900}}, "68", "at-rest", "altitude 0 to 900 m", "single"),
    (SQUALL, "main-jet", None, {"altitude": {"ft": "2952.7559"}}, "68", "at-rest", "altitude 0 to 900 m", "single"),
    (SQUALL, "main-jet", None, {"altitude": {"m": 901}}, "66", "at-rest", "altitude at least 900 m", "single"),
    (SQUALL, "main-jet", None, {"altitude": {"ft": 3000}}, "66", "at-rest", "altitude at least 900 m", "single"),
    # disputed with a safest end; agreed with a part common to both; hearsay and reprints beside originals
    (SQUALL, "full-throttle-plate", None, {}, "84°", "at-rest", "", "disputed"),
    (SQUALL, "coil-gap", None, {}, "0.3 to 0.4 mm", "at-rest", "", "agreed"),
    (SQUALL, "trigger-gap", None, {}, "0.8 mm", "at-rest", "", "agreed"),
    (SQUALL, "throttle-plate-rest", None, {}, "fully shut", "at-rest", "", "single"),
    # superseded everywhere, and only for some engines
    (SQUALL, "fast-idle-speed", None, {}, "1400 rpm", "running", "", "single"),
    (SQUALL, MAXIMUM, "cranking", {"serial": 1500}, "24° BTDC", "cranking", "", "single"),
    (SQUALL, MAXIMUM, None, {"serial": 1500}, "24° BTDC", "cranking", "", "single"),
    (SQUALL, MAXIMUM, "running", {"serial": 1500}, "21° BTDC", "running", "5000 rpm", FROM_SINGLE),
    (SQUALL, MAXIMUM, "running", {"serial": 6500}, "22° BTDC", "running", "5000 rpm", "single"),
    (SQUALL, MAXIMUM, "cranking", {"serial": 6500}, "25° BTDC", "cranking", "", FROM_SINGLE),
    # told apart by year, which the serial number does not tell
    (SQUALL, "float-level", None, {"year": 1981}, "14 mm", "at-rest", "", "single"),
    # the same for all, but not equally sure
    (SQUALL, "flywheel-nut-torque", None, {}, "90 N m", "at-rest", "", "single"),
    (SQUALL, "flywheel-nut-torque", None, {"serial": 6500}, "90 N m", "at-rest", "", "agreed"),
    # a table of corrections, at a speed; a correction from two maxima
    ("pellwater/calm", MAXIMUM, "running", {"rpm": 3000}, "22° BTDC", "running", "3000 rpm", FROM_SINGLE),
    ("pellwater/calm", MAXIMUM, "running", {"rpm": 4500}, "22° BTDC", "running", "4500 rpm", FROM_SINGLE),
    ("pellwater/gust", MAXIMUM, "running", {}, "22° BTDC", "running", "5000 rpm", "single"),
    ("pellwater/gust", MAXIMUM, "cranking", {}, "21° BTDC", "cranking", "", FROM_SINGLE),
    (
        "pellwater/flurry",
        "cranking-correction",
        None,
        {},
        "reads 2° earlier while cranking than when running",
        "running",
        "",
        "disputed",
    ),
    (
        "pellwater/lull",
        "cranking-correction",
        None,
        {},
        "reads 2° earlier while cranking than when running",
        "running",
        "5000 rpm",
        FROM_SINGLE,
    ),
]


@pytest.mark.parametrize(("family", "figure", "state", "asked", "printed", "in_state", "conditions", "sure"), ANSWERS)
def test_it_answers(
    book: Book,
    family: str,
    figure: str,
    state: str | None,
    asked: dict[str, Any],
    printed: str,
    in_state: str,
    conditions: str,
    sure: str,
) -> None:
    answer = book.look_up(family, figure, state, **asked)
    assert (answer.printed, answer.state, answer.conditions, answer.how_sure) == (printed, in_state, conditions, sure)
    assert str(answer.value) == printed
    assert answer.evidence
    assert answer.date == "2026-09-09"
    assert answer.invented


ERRORS = [
    # family, figure, state, asked -> error, words, candidates
    ("skerrow/exampel", MAXIMUM, None, {}, "FamilyNotFound", "did you mean skerrow/example", ("skerrow/example",)),
    ("qqqq", MAXIMUM, None, {}, "FamilyNotFound", "no family 'qqqq'", ()),
    ("\ud800", MAXIMUM, None, {}, "FamilyNotFound", "no family", ()),
    ("", MAXIMUM, None, {}, "FamilyNotFound", "no family ''", ()),
    ("handbook-old", MAXIMUM, None, {}, "FamilyNotFound", "no family 'handbook-old'", None),
    (
        "skerrow/example-30",
        MAXIMUM,
        None,
        {},
        "FamilyRetired",
        "retired on 2026-02-01: a misread badge; it is now skerrow/example",
        ("skerrow/example",),
    ),
    ("pellwater/lost", MAXIMUM, None, {}, "FamilyRetired", "retired on 2026-02-03: nobody has seen one$", ()),
    (
        "Gale 31",
        "plug-gap",
        None,
        {},
        "SeveralFamilies",
        "is 2 families; give the id, a serial number or a year",
        GALES,
    ),
    (
        "Gale 31",
        "plug-gap",
        None,
        {"serial": "P9999"},
        "SerialFitsNone",
        "no family 'Gale 31' holds serial number P9999",
        GALES,
    ),
    ("Gale 31", "plug-gap", None, {"year": 1990}, "YearFitsNone", "holds year 1990", GALES),
    (
        "pellwater/gale",
        "plug-gap",
        None,
        {"serial": "P5000"},
        "SerialFitsNone",
        "no range of pellwater/gale holds",
        ("1976 to 1979, serials P1000 to P4999",),
    ),
    ("pellwater/gale", "plug-gap", None, {"serial": 1500}, "SerialFitsNone", "holds the serial number 1500", None),
    ("pellwater/gale", "plug-gap", None, {"year": 1975}, "YearFitsNone", "was not made in 1975", None),
    (
        SQUALL,
        "float-level",
        None,
        {"serial": 1500, "year": 1982},
        "SerialFitsNone",
        "no range of pellwater/squall holds serial number 1500 and year 1982 together",
        ("1976 to 1979, serials 1000 to 4999", "1981 to 1983, serials 6000 to 8999"),
    ),
    (SQUALL, "max-advanse", None, {}, "FigureNotFound", "did you mean max-advance", ("max-advance",)),
    (SQUALL, "Full spark", None, {}, "FigureNotFound", "did you mean max-advance", ("max-advance",)),
    (
        SQUALL,
        "points-gap",
        None,
        {},
        "FigureNotFound",
        "retired on 2026-01-25.*it is now breaker-gap",
        ("breaker-gap",),
    ),
    (SQUALL, "compression", None, {}, "FigureUnknown", "no figure is published for the cranking compression", ()),
    (
        "pellwater/breeze",
        "idle-timing",
        "cranking",
        {},
        "FigureUnknown",
        "is superseded",
        ("4° BTDC cranking: handbook page 41 (superseded)",),
    ),
    (SQUALL, "idle-timing", None, {}, "FigureNotStated", "not stated by the sources", ("not stated: handbook",)),
    (SQUALL, "idle-timing", "running", {}, "FigureNotStated", "not stated by the sources", ("not stated: handbook",)),
    (SQUALL, "breaker-gap", None, {}, "FigureDoesNotApply", "does not apply to", ("not applicable: handbook",)),
    (
        SQUALL,
        "throttle-pickup",
        None,
        {},
        "StateNeeded",
        "is stated cranking and running; say which",
        ("cranking", "running"),
    ),
    (SQUALL, "throttle-pickup", "static", {}, "FigureDoesNotApply", "does not apply", ("not applicable: handbook",)),
    (
        SQUALL,
        "throttle-pickup",
        "at-rest",
        {},
        "StateNotFound",
        "cranking and running, not at-rest",
        ("cranking", "running"),
    ),
    (SQUALL, "plug-gap", "cranking", {}, "StateNotFound", "is stated at-rest, not cranking", ("at-rest",)),
    (
        SQUALL,
        "idle-timing",
        "at-rest",
        {},
        "StateNotFound",
        "is stated cranking and running and static, not at-rest",
        ("cranking", "running", "static"),
    ),
    (SQUALL, MAXIMUM, None, {}, "StateNeeded", "say which", ("cranking", "running")),
    (
        SQUALL,
        "idle-speed",
        None,
        {},
        "ConditionNeeded",
        "differs by engine and gear; say which",
        ("in gear", "in neutral", "engine cold, in neutral"),
    ),
    (
        SQUALL,
        "idle-speed",
        None,
        {"gear": "reverse"},
        "ConditionNotFound",
        "nothing is known of idle speed at gear reverse",
        ("in gear", "in neutral", "engine cold, in neutral"),
    ),
    (
        SQUALL,
        "idle-speed",
        None,
        {"bank": "port"},
        "ConditionNotFound",
        "idle speed does not depend on bank",
        ("gear", "engine"),
    ),
    (
        SQUALL,
        "main-jet",
        None,
        {},
        "ConditionNeeded",
        "differs by altitude",
        ("altitude 0 to 900 m", "altitude at least 900 m"),
    ),
    (SQUALL, "main-jet", None, {"altitude": {"fathom": 2}}, "ConditionNotFound", "at altitude 2 fathom", None),
    (
        SQUALL,
        "main-jet",
        None,
        {"altitude": 500},
        "ConditionNotFound",
        "nothing is known of main jet at altitude 500",
        None,
    ),
    # disputed under some of the conditions
    (EDDY, "idle-speed", None, {}, "ConditionNeeded", "differs by gear; say which", ("in gear", "in neutral")),
    (
        EDDY,
        "idle-speed",
        None,
        {"gear": "neutral"},
        "FigureDisputed",
        "do not agree on idle speed, and neither end is the safe one",
        ("820 to 910 rpm running: handbook page 64", "920 to 990 rpm running: manual page 24"),
    ),
    (
        EDDY,
        "idle-speed",
        None,
        {"gear": "reverse"},
        "ConditionNotFound",
        "nothing is known of idle speed at gear reverse",
        ("in gear", "in neutral"),
    ),
    (FLURRY, "idle-speed", None, {}, "ConditionNeeded", "differs by gear; say which", ("in gear", "in neutral")),
    ("skerrow/example", MAXIMUM, "running", {"rpm": 3000}, "ConditionNotFound", "at rpm 3000", ("5000 rpm",)),
    (SQUALL, MAXIMUM, "cranking", {}, "SerialNeeded", "differs by serial number; say yours", ("serials from 6000",)),
    (SQUALL, MAXIMUM, "cranking", {"year": 1990}, "YearFitsNone", "was not made in 1990", None),
    (SQUALL, "float-level", None, {}, "YearNeeded", "differs by year; say yours", ("1976 to 1979", "1981 to 1983")),
    (
        SQUALL,
        "plug-gap",
        None,
        {},
        "FigureDisputed",
        "do not agree on spark plug gap, and neither end is the safe one",
        ("0.9 mm at-rest: handbook page 25", "0.7 mm at-rest: manual page 11"),
    ),
    (
        SQUALL,
        "plug-torque",
        None,
        {},
        "FigureWithdrawn",
        "every statement of it was found wrong: foot pounds taken",
        ("18 to 22 N m at-rest: handbook page 28 (withdrawn)",),
    ),
    (
        "pellwater/breeze",
        MAXIMUM,
        "cranking",
        {},
        "NoCorrectionKnown",
        "no sourced correction leads from one to the other",
        ("26° BTDC running: handbook page 40, at 4800 rpm",),
    ),
    (
        "pellwater/calm",
        MAXIMUM,
        "running",
        {},
        "ConditionNeeded",
        "depends on engine speed; say at which rpm",
        ("1000 rpm", "5000 rpm"),
    ),
    (
        "pellwater/calm",
        MAXIMUM,
        "running",
        {"rpm": 5001},
        "Extrapolation",
        "known from 1000 to 5000 rpm, not at 5001 rpm",
        (),
    ),
    ("pellwater/calm", MAXIMUM, "running", {"rpm": "1e3"}, "ConditionNotFound", "'1e3' is not a plain number", ()),
    ("pellwater/flurry", MAXIMUM, "running", {}, "FigureDisputed", "do not agree on the correction", ()),
    # a correction holds with its own module and at its own speed
    (
        "pellwater/mistral",
        MAXIMUM,
        "cranking",
        {},
        "NoCorrectionKnown",
        "no sourced correction leads from one to the other",
        ("22° BTDC running: handbook page 60, at module disconnected",),
    ),
    (
        "pellwater/sirocco",
        MAXIMUM,
        "cranking",
        {},
        "NoCorrectionKnown",
        "the correction applies at 5000 rpm, the running maximum at 4800$",
        (),
    ),
    (
        "pellwater/eddy",
        MAXIMUM,
        "cranking",
        {},
        "FigureDisputed",
        "leads to more than one maximum",
        (
            "24° BTDC cranking: from 22° BTDC and reads 2° earlier while cranking than when running",
            "22° BTDC cranking: from 20° BTDC and reads 2° earlier while cranking than when running",
        ),
    ),
    ("pellwater/eddy", MAXIMUM, "running", {}, "ConditionNeeded", "differs by rpm", ("5000 rpm", "4000 rpm")),
    (
        "pellwater/breeze",
        "cranking-correction",
        None,
        {},
        "FigureUnknown",
        "no figure is published for the cranking correction",
        (),
    ),
]


@pytest.mark.parametrize(("family", "figure", "state", "asked", "error", "words", "candidates"), ERRORS)
def test_it_says_why_not(
    book: Book,
    family: str,
    figure: str,
    state: str | None,
    asked: dict[str, Any],
    error: str,
    words: str,
    candidates: tuple[str, ...] | None,
) -> None:
    kind: type[LookUpError | Refusal] = getattr(errors, error)
    with pytest.raises(kind, match=words) as raised:
        book.look_up(family, figure, state, **asked)
    assert type(raised.value) is kind
    if candidates is not None:
        assert raised.value.candidates[: len(candidates)] == candidates
        assert bool(raised.value.candidates) == bool(candidates)


def test_every_error_of_the_trees_is_met() -> None:
    elsewhere = {"OddFire"}  # of the arithmetic of cylinders
    elsewhere |= {"DeadCentreTooFar", "MarginTooWide", "NotAnAngle"}  # of targets: tests/book/test_aim.py
    elsewhere |= {"RoutineNotFound", "StepNotFound"}  # of jobs: tests/book/test_routines.py
    kinds = {kind.__name__ for root in (LookUpError, Refusal) for kind in root.__subclasses__()}
    assert kinds - elsewhere == {error for *_, error, _, _ in ERRORS}


def test_an_answer_tells_everything_behind_it(book: Book) -> None:
    answer = book.look_up(SQUALL, MAXIMUM, "cranking", serial=6500)
    assert (answer.family, answer.name, answer.maker, answer.figure) == (SQUALL, "Squall 33", "Pellwater", MAXIMUM)
    assert answer.label == "Maximum spark advance"
    assert (answer.unit, answer.low, answer.high) == ("°", Fraction(25), Fraction(25))
    assert (answer.standing, answer.rests_on) == (Standing.DERIVED, Standing.SINGLE)
    assert answer.remarks == ("worked out, not printed; see the working",)
    assert "holes a piston" in answer.hazard
    assert [caution["title"] for caution in answer.cautions] == ["Open flywheel"]
    assert [(cited.source, cited.page, cited.role, cited.reason) for cited in answer.evidence] == [
        ("leaflet", "2", "counts", ""),
        ("manual", "8", "counts", ""),
        ("handbook", "20", "superseded", "by leaflet page 2"),
    ]
    (cited, _, _) = answer.evidence
    assert (cited.source_kind, cited.source_title, cited.only) == ("bulletin", "Example bulletin", "serials from 6000")
    (step,) = answer.working
    assert (step.formula, step.result) == ("running reading + correction", "25° BTDC")
    assert [(given.value, given.source) for given in step.inputs] == [
        ("22° BTDC", "leaflet page 2, at 5000 rpm"),
        ("reads 3° earlier while cranking than when running", "manual page 8, at 5000 rpm"),
    ]


@pytest.mark.parametrize(
    ("figure", "asked", "roles"),
    [
        (
            "trigger-gap",
            {},
            [("handbook", "counts"), ("reprint", "reprint"), ("manual", "counts"), ("recollection", "hearsay")],
        ),
        ("fast-idle-speed", {}, [("leaflet", "counts"), ("handbook", "superseded")]),
        ("full-throttle-plate", {}, [("handbook", "counts"), ("manual", "counts")]),
        ("flywheel-nut-torque", {"serial": 1500}, [("handbook", "counts")]),
        ("flywheel-nut-torque", {}, [("handbook", "counts"), ("manual", "counts"), ("bench", "counts")]),
    ],
)
def test_what_does_not_count_stays_visible(book: Book, figure: str, asked: dict[str, Any], roles: list[Any]) -> None:
    found = {(cited.source, cited.role) for cited in book.look_up(SQUALL, figure, **asked).evidence}
    assert found == set(roles)


@pytest.mark.parametrize(
    ("figure", "state", "asked", "remark"),
    [
        ("full-throttle-plate", None, {}, "sources do not agree; the safest is given, the one that is smaller"),
        ("coil-gap", None, {}, "sources print different windows; the part common to all is given"),
        ("throttle-plate-rest", None, {}, "different words"),
        ("flywheel-nut-torque", None, {}, "not equally sure; the least sure is given"),
        ("idle-speed", None, {"gear": "in-gear", "engine": "warm"}, "no statement mentions engine"),
        ("idle-speed", None, {"gear": "neutral"}, "the same is stated for: engine cold, in neutral"),
        (
            "main-jet",
            None,
            {"altitude": {"m": 900}},
            "at this height it changes; the richer one answers, not that for altitude at least 900 m",
        ),
    ],
)
def test_what_must_be_said_is_said(book: Book, figure: str, state: str, asked: dict[str, Any], remark: str) -> None:
    assert remark in "; ".join(book.look_up(SQUALL, figure, state, **asked).remarks)


@pytest.mark.parametrize(
    ("family", "standing", "remarks"),
    [
        ("skerrow/example", Standing.AGREED, ()),
        ("pellwater/gust", Standing.SINGLE, ("the cranking correction that belongs to it is single, so this is too",)),
    ],
)
def test_a_running_maximum_and_its_correction_share_the_weaker_standing(
    book: Book, family: str, standing: Standing, remarks: tuple[str, ...]
) -> None:
    running, correction = book.look_up(family, MAXIMUM, "running"), book.look_up(family, "cranking-correction")
    assert (running.standing, correction.standing) == (standing, standing)
    assert running.remarks == remarks


def test_the_document_is_the_answer_and_a_copy(book: Book) -> None:
    answer = book.look_up(SQUALL, "trigger-gap")
    document = answer.to_document()
    document["statements"].clear()
    document["value"]["mm"] = "9"
    assert answer.value.__class__.__name__ == "Quantity"
    assert len(answer.to_document()["statements"]) == 4
    assert book.look_up(SQUALL, "trigger-gap") == answer
    assert hash(book.look_up(SQUALL, "trigger-gap")) == hash(answer)
    assert repr(answer) == "<pellwater/squall trigger-gap at-rest: 0.8 mm (agreed)>"


FAMILIES = [
    ({}, 13),
    ({"maker": "skerrow"}, ["skerrow/example", "skerrow/other"]),
    ({"maker": ["skerrow", "nobody"]}, ["skerrow/example", "skerrow/other"]),
    ({"cylinders": 3, "ignition": "capacitor-discharge", "year": 1980}, ["skerrow/example"]),
    ({"cylinders": "3"}, ["skerrow/example"]),
    ({"cylinders": 6}, []),
    (
        {"ignition": ["breaker-magneto", "battery-capacitor-discharge"]},
        [*(f"pellwater/{name}" for name in ("calm", "eddy", "flurry", "gust", "lull", "sirocco")), "skerrow/other"],
    ),
    ({"module": "idle-advance"}, ["pellwater/mistral", "pellwater/squall", "skerrow/example"]),
    ({"linkage": "cam-touches-at-idle", "layout": "in-line", "cycle": "two-stroke"}, ["skerrow/example"]),
    ({"carburettors": 3}, ["skerrow/example"]),
    ({"figure": ["main-jet", "breaker-gap"]}, ["pellwater/squall", "skerrow/other"]),
    ({"serial": "P 5000"}, ["pellwater/gale-late"]),
    ({"serial": 300100}, ["skerrow/example"]),
    ({"year": 1982}, ["pellwater/gale-late", "pellwater/squall"]),
    ({"power": 17}, ["skerrow/other"]),
    ({"power": (10, 20)}, ["skerrow/other"]),
]


@pytest.mark.parametrize(("properties", "wanted"), FAMILIES)
def test_families_by_property(book: Book, properties: dict[str, Any], wanted: list[str] | int) -> None:
    found = book.families(**properties)
    assert (len(found) if isinstance(wanted, int) else found) == wanted


def test_no_such_property(book: Book) -> None:
    with pytest.raises(TypeError, match="no property 'cilinders'; there are carburettors, cycle"):
        book.families(cilinders=3)


def test_a_family_by_name_and_engine(book: Book) -> None:
    assert book.family("Gale 31", year=1983).id == "pellwater/gale-late"
    assert [str(one.value) for one in book.family(SQUALL).statements["plug-gap"]] == ["0.9 mm", "0.7 mm"]
    assert book.statements(SQUALL, "plug-gap") == book.family(SQUALL).statements["plug-gap"]
    assert book.statements("pellwater/none", "plug-gap") == ()
    with pytest.raises(errors.SerialFitsNone, match="holds the serial number 5000"):
        book.family(SQUALL, serial=5000)


def test_mappings_of_what_families_refer_to(book: Book) -> None:
    assert list(book.makers) == ["pellwater", "skerrow"]
    assert book.sources["reprint"].reprint_of == "handbook"
    assert len(book.figures) == 28
    assert "open-flywheel" in book.cautions
    assert sorted(book.retired) == ["handbook-old", "pellwater/lost", "points-gap", "skerrow/example-30"]
    with pytest.raises(KeyError, match="nothing"):
        book.sources["nothing"]
    assert book.withdrawn("pellwater/squall")[0]["severity"] == "warning"
    assert list(book.withdrawn("pellwater/gale")) == []


def test_at_most_five_families_are_offered_for_one_that_is_not_found() -> None:
    with pytest.raises(FamilyNotFound, match="no family 'skerow'; did you mean") as refused:
        frozen_book().look_up("skerow", MAXIMUM)
    assert len(refused.value.candidates) == 5


@pytest.mark.parametrize(
    ("asked", "ask"),
    [
        ({"serial": "P4500", "year": 1979}, "give the id: "),  # nothing more is left to ask
        ({"serial": "P4500"}, "give the id, a serial number or a year: "),
        ({"year": 1979}, "give the id, a serial number or a year: "),
    ],
)
def test_families_that_overlap_are_told_apart_by_what_is_not_yet_known(asked: dict[str, Any], ask: str) -> None:
    late = "families/pellwater/gale-late.yaml"
    files = asked_files()
    sooner = files[late].replace(b"[1980,", b"[1979,").replace(b", serials: {from: P5000, to: P8999}", b"")
    with pytest.raises(SeveralFamilies, match=f"is 2 families; {ask}") as refused:
        book_in_memory({**files, late: sooner}).look_up("Gale 31", "plug-gap", **asked)
    assert refused.value.candidates == GALES
