"""The drawings of the rim and of cranking against running: handedness, scale, legibility, what is left out and why."""

from __future__ import annotations

import dataclasses
import json
from collections.abc import Callable, Iterator
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kb.book.book import Book
from kb.book.model.engine_on_the_stand import EngineOnTheStand
from kb.cli import main
from kb.errors import (
    DeadCentreTooFar,
    FigureDisputed,
    FigureDoesNotApply,
    FigureNotStated,
    FigureUnknown,
    MarginTooWide,
    SerialFitsNone,
    StopscrewError,
)
from kb.publish.drawings.aimed import maximum_aimed, target_in_words
from kb.publish.drawings.axes import axis_for
from kb.publish.drawings.handedness import degrees_clockwise
from kb.publish.drawings.lettering import Box, broken_into_lines, width_of
from kb.publish.drawings.rim import draw_rim, rim_drawing, rim_or_why
from kb.publish.drawings.rim_view import Band, LeftOut, RimView, rim_view
from kb.publish.drawings.running import draw_running, running_chart
from kb.publish.drawings.running_view import running_view
from kb.publish.drawings.unrolled import Unrolled
from tests.support import drawn
from tests.support.folders import FROZEN
from tests.support.frozen import frozen_book
from tests.support.one_family import FAMILY, one_family
from tests.support.samples import tries

FAMILIES = sorted(
    path.relative_to(FROZEN / "families").with_suffix("").as_posix() for path in (FROZEN / "families").rglob("*.yaml")
)
ATTACKS = (
    "</title></svg><script>alert(1)</script>",
    '" onload="alert(1)',
    "]]><!--",
    "&amp;&#x3c;",
    "a\x00b\x1bc\ud800d\ufffe",
    "https://example.org/x.png",
    "<image href='//example.org'/>",
    "W" * 300,
    "漢字 עברית " * 9,
)


@pytest.fixture(scope="module")
def book() -> Book:
    return frozen_book()


def view_with(**changes: Any) -> RimView:
    """A view of an invented rim; whatever is to be told apart is changed."""
    plain: dict[str, Any] = {
        "family": "maker/subject",
        "name": "Subject",
        "maker": "Maker",
        "engine": "",
        "clockwise": True,
        "marks_on": "flywheel",
        "numbered": (Fraction(-9), Fraction(9), Fraction(18), Fraction(27)),
        "division": Fraction(1),
        "diameter": Fraction(240),
        "bands": (),
        "left_out": (),
        "target": None,
        "target_words": "",
        "dead_centre": Fraction(0),
        "invented": True,
        "date": "2026-01-01",
    }
    return RimView(**{**plain, **changes})


# Handedness: the wheel is turned, and what comes to the pointer is looked at.

FOUR = [(clockwise, marks_on) for clockwise in (True, False) for marks_on in ("flywheel", "fixed-scale")]


def before_at_pointer(drawn_at: dict[float, float], clockwise: bool, marks_on: str) -> dict[float, float]:
    """For each mark, how far before top dead centre the crank is when the mark and the pointer meet.

    ``drawn_at`` is where each mark was drawn, in degrees clockwise of where the pointer is at top dead centre. The
    crank is turned from 60 degrees before to 60 after by tenths of a degree; only what turns is moved.
    """
    met = {}
    way = 1 if clockwise else -1
    for tenth in range(-600, 601):
        crank = tenth / 10  # degrees of turning that have gone by since top dead centre
        for mark, place in drawn_at.items():
            mark_now = place + way * crank if marks_on == "flywheel" else place
            pointer_now = 0.0 if marks_on == "flywheel" else way * crank
            if abs(mark_now - pointer_now) < 0.05:
                met[mark] = -crank
    return met


@pytest.mark.parametrize(("clockwise", "marks_on"), FOUR)
def test_every_mark_meets_the_pointer_when_the_crank_is_where_it_says(clockwise: bool, marks_on: str) -> None:
    marks = (-9.0, 0.0, 9.0, 18.0, 27.0)
    reckoned = {mark: degrees_clockwise(mark, clockwise=clockwise, marks_on=marks_on) for mark in marks}
    assert before_at_pointer(reckoned, clockwise, marks_on) == {mark: mark for mark in marks}

    view = view_with(clockwise=clockwise, marks_on=marks_on, target=Fraction(23))
    drawing, _ = draw_rim(view)
    assert before_at_pointer(on_the_wheel(drawing), clockwise, marks_on) == {mark: mark for mark in marks}


def on_the_wheel(drawing: str) -> dict[float, float]:
    """Where the marks of the small circle are drawn, in degrees clockwise of the pointer's place, to a tenth."""
    circle = next(element for element in drawn.read(drawing).iter(f"{drawn.SVG}circle") if element.get("r") == "68")
    middle = drawn.number(circle, "cx"), drawn.number(circle, "cy")
    marks = drawn.of_class(drawing, "wheel-mark")
    places = [drawn.clockwise_of_pointer(middle, drawn.number(mark, "x2"), drawn.number(mark, "y2")) for mark in marks]
    named = (-9.0, 9.0, 18.0, 27.0, 0.0)
    return {name: round(place, 1) for name, place in zip(named, places, strict=True)}


@pytest.mark.parametrize(("clockwise", "marks_on"), FOUR)
def test_the_same_holds_for_the_part_that_is_rolled_out(clockwise: bool, marks_on: str) -> None:
    """On the side of the flywheel near the reader, what turns clockwise seen from above goes to the left."""
    view = view_with(clockwise=clockwise, marks_on=marks_on)
    drawing, _ = draw_rim(view)
    sheet = Unrolled.of(view, (), 16, 374)
    marks = [drawn.number(mark, "x1") for mark in drawn.of_class(drawing, "mark")]
    centre = marks[-1]
    named = (-9.0, 9.0, 18.0, 27.0, 0.0)
    drawn_at = {name: round((centre - x) / sheet.per_degree, 1) for name, x in zip(named, marks, strict=True)}
    assert before_at_pointer(drawn_at, clockwise, marks_on) == {mark: mark for mark in named}
    (arrow,) = drawn.of_class(drawing, "turning")[1:]
    tip, back = (float(pair.split()[0]) for pair in (arrow.get("d") or "")[1:-1].split("L")[:2])
    assert (tip < back) is clockwise


def test_words_name_the_sides_as_they_are_drawn() -> None:
    for clockwise, marks_on in FOUR:
        _, picture = draw_rim(view_with(clockwise=clockwise, marks_on=marks_on))
        places = {box.words: box.left for box in picture.boxes}
        left = degrees_clockwise(1, clockwise=clockwise, marks_on=marks_on) > 0
        assert (places["before"] < places["after"]) is left
        assert ("← before top dead centre" in places) is left


def test_the_circle_is_true_to_scale(book: Book) -> None:
    for family in FAMILIES:
        view = rim_view(book, family, EngineOnTheStand.of(serial="GR38300" if family.endswith("gregale-58") else None))
        drawing, _ = draw_rim(view)
        circle = next(one for one in drawn.read(drawing).iter(f"{drawn.SVG}circle") if one.get("r") == "68")
        middle = drawn.number(circle, "cx"), drawn.number(circle, "cy")
        for band in view.bands:
            (shape,) = drawn.of_class(drawing, f"wheel-{band.figure}")
            if band.late == band.early:
                corners = [(drawn.number(shape, "x2"), drawn.number(shape, "y2"))]
            else:
                pairs = [pair.split() for pair in (shape.get("d") or "")[1:-1].split("L")]
                corners = [(float(pairs[0][0]), float(pairs[0][1])), (float(pairs[16][0]), float(pairs[16][1]))]
            wanted = [
                degrees_clockwise(float(end), clockwise=view.clockwise, marks_on=view.marks_on)
                for end in dict.fromkeys((band.late, band.early))
            ]
            assert [drawn.clockwise_of_pointer(middle, *corner) for corner in corners] == pytest.approx(
                wanted, abs=1e-3
            )


# Legibility: no label lies on another, none leaves the sheet, none is small.


def all_views(book: Book) -> Iterator[RimView]:
    for family in FAMILIES:
        yield rim_view(book, family)
        yield rim_view(book, family, EngineOnTheStand.of("running"))
        aim = maximum_aimed(book, family, EngineOnTheStand.of(dead_centre=2))
        yield rim_view(
            book,
            family,
            EngineOnTheStand.of(dead_centre=Fraction(5, 2)),
            target=aim.show.low if aim else None,
            target_words=target_in_words(aim) if aim else "",
        )


def test_labels_keep_clear_of_each_other_for_every_family(book: Book) -> None:
    for view in all_views(book):
        drawing, picture = draw_rim(view)
        require_legible(drawing, picture.boxes)
        drawn.require_fit_for_a_page(drawing)


def require_legible(drawing: str, boxes: list[Box]) -> None:
    assert drawn.overlapping(boxes) == []
    _, _, width, height = map(float, (drawn.read(drawing).get("viewBox") or "").split())
    assert width == 390
    for box in boxes:
        assert box.left >= 0
        assert box.top >= 0
        assert box.right <= width
        assert box.bottom <= height
    sizes = {float(element.get("font-size", 0)) for element in drawn.read(drawing).iter(f"{drawn.SVG}text")}
    assert min(sizes) >= 11
    assert len(boxes) == len(drawn.texts(drawing))


ANGLES = st.integers(-300, 600).map(lambda tenth: Fraction(tenth, 10))


@st.composite
def views(draw: st.DrawFn) -> RimView:
    marks = draw(st.lists(st.integers(-30, 45).filter(bool), max_size=60, unique=True))
    bands = []
    for figure in draw(st.lists(st.sampled_from(("max-advance", "throttle-pickup", "idle-timing")), unique=True)):
        late, early = sorted((draw(ANGLES), draw(ANGLES)))
        words = draw(st.text(st.characters(codec="utf-8"), max_size=60))
        bands.append(Band(figure, figure, late, early, words, "cranking", "single"))
    return view_with(
        clockwise=draw(st.booleans()),
        marks_on=draw(st.sampled_from(("flywheel", "fixed-scale"))),
        numbered=tuple(map(Fraction, sorted(marks))),
        bands=tuple(bands),
        name=draw(st.text(max_size=80)),
        division=draw(st.sampled_from((None, Fraction(1), Fraction(1, 2), Fraction(5)))),
        target=draw(st.none() | ANGLES),
        dead_centre=draw(st.integers(-6, 6).map(lambda half: Fraction(half, 2))),
    )


@settings(max_examples=tries(20, 40), deadline=None)
@given(view=views())
def test_labels_keep_clear_of_each_other_whatever_the_rim(view: RimView) -> None:
    drawing, picture = draw_rim(view)
    require_legible(drawing, picture.boxes)
    drawn.require_fit_for_a_page(drawing)


def test_a_wide_word_is_broken() -> None:
    lines = broken_into_lines("W" * 100, 12, 100)
    assert "".join(lines) == "W" * 100
    assert all(width_of(line, 12) <= 100 for line in lines)


# What is in the picture, and what is not.


def test_the_target_and_the_dead_centre_reading_move_what_is_shown(book: Book) -> None:
    engine = EngineOnTheStand.of(serial="301455", dead_centre=2)
    drawing = rim_drawing(book, "skerrow/ketch-47", engine, target=Fraction(25))
    said = drawn.texts(drawing)
    assert "Target: the pointer shows 25° BTDC" in said
    assert "True top dead centre" in said
    view = rim_view(book, "skerrow/ketch-47", EngineOnTheStand.of(serial="301455"))
    sheet_words = " ".join(said)
    assert "the pointer shows 26° BTDC" in sheet_words
    assert "the pointer shows 2 to 4° ATDC" in sheet_words
    assert ends_of(view) == [(24, 24), (-6, -4)]
    (triangle,) = drawn.of_class(drawing, "target")
    (limit,) = drawn.of_class(drawing, "max-advance")
    tip = float((triangle.get("d") or "M0")[1:].split()[0])
    assert tip > drawn.number(limit, "x1")  # 25 lies to the late side, the right, of 26


def ends_of(view: RimView) -> list[tuple[float, float]]:
    return [(float(band.late), float(band.early)) for band in view.bands]


def test_an_early_pointer_is_refused(book: Book) -> None:
    for call in (rim_view, running_view):
        with pytest.raises(DeadCentreTooFar, match="flywheel key"):
            call(book, "skerrow/ketch-47", EngineOnTheStand.of(dead_centre=Fraction(-7, 2)))


@pytest.mark.parametrize(
    ("family", "figure", "said"),
    [
        ("skerrow/barque-113", "throttle-pickup", "sources do not agree on throttle pickup"),
        ("ostmere/sanderling-93", "idle-timing", "sources do not agree on idle timing"),
        ("pellwater/gregale-58", "max-advance", "differs by serial number; say yours"),
        ("skerrow/ketch-47", "idle-timing", "is not stated by the sources"),
        ("skerrow/wherry-2-7", "throttle-pickup", "does not apply"),
    ],
)
def test_what_cannot_be_answered_is_left_out_and_named(book: Book, family: str, figure: str, said: str) -> None:
    view = rim_view(book, family)
    assert figure in [one.figure for one in view.left_out]
    drawing, _ = draw_rim(view)
    assert said in drawn.description(drawing)
    assert said in " ".join(drawn.texts(drawing))
    assert drawn.of_class(drawing, figure) == []
    assert drawn.of_class(drawing, f"wheel-{figure}") == []


def test_the_candidates_of_a_dispute_stand_in_the_description(book: Book) -> None:
    assert "serials up to GR38200" in drawn.description(rim_drawing(book, "pellwater/gregale-58"))


def test_a_serial_number_brings_the_figure_back(book: Book) -> None:
    engines = EngineOnTheStand("GR38200"), EngineOnTheStand("GR38201")
    early, late = (rim_view(book, "pellwater/gregale-58", engine) for engine in engines)
    assert {band.figure for band in early.bands} == {"max-advance", "throttle-pickup", "idle-timing"}
    assert early.bands[0].words != late.bands[0].words
    with pytest.raises(SerialFitsNone):
        rim_view(book, "pellwater/gregale-58", EngineOnTheStand("ZZ1"))


def test_a_disputed_figure_is_not_replaced_by_one_of_another_state(book: Book) -> None:
    """The pickup of this family is disputed cranking; nothing that is known running may stand in its place."""
    assert [one.figure for one in rim_view(book, "pellwater/levanter-19").left_out] == ["throttle-pickup"]


@pytest.mark.parametrize(
    ("flywheel", "said"),
    [
        ("{rim_diameter: {mm: 240}, marks_on: flywheel}", "which way the flywheel turns"),
        ("{rotation: clockwise, rim_diameter: {mm: 240}}", "what bears the timing marks"),
    ],
)
def test_without_a_side_nothing_is_drawn(flywheel: str, said: str) -> None:
    subject = one_family("max-advance: [{btdc: 20, state: cranking}]", flywheel)
    with pytest.raises(FigureUnknown, match=said):
        rim_view(subject, FAMILY)
    lines = drawn.read(rim_or_why(subject, FAMILY)).iter(f"{drawn.SVG}text")
    told = " ".join(line.text or "" for line in lines)
    assert told.startswith("No drawing: no source says ")
    assert said in told


@pytest.mark.parametrize(
    ("figure", "band", "left_out"),
    [
        ("max-advance: [{btdc: 20, state: cranking}]", (20, 20), ""),
        ("max-advance: [{btdc: {nominal: 20, plus: 1, minus: 3}, state: cranking}]", (17, 21), ""),
        ("max-advance: [{tdc: 0, state: static}]", (0, 0), ""),
        ("throttle-pickup: [{from: {btdc: 2}, to: {atdc: 3}, state: cranking}]", (-3, 2), ""),
        ("max-advance: [{btdc: {at_least: 20}, state: cranking}]", None, "open to one side"),
        ("max-advance: [{btdc: 20, state: running, at: {rpm: 5000}}]", (20, 20), ""),
    ],
)
def test_bands(figure: str, band: tuple[int, int] | None, left_out: str) -> None:
    view = rim_view(one_family(figure), FAMILY)
    assert ends_of(view) == ([band] if band else [])
    assert left_out in " ".join(one.why for one in view.left_out)


def test_a_piston_position_without_a_crank_is_left_out() -> None:
    figure = "max-advance: [{btdc: {mm: 2.685}, state: static}]"
    view = rim_view(one_family(figure, crank="bore: {mm: 70}"), FAMILY)
    assert view.bands == ()
    assert "no crank is known" in view.left_out[0].why


def test_a_piston_position_is_worked_out_and_says_so() -> None:
    view = rim_view(one_family("max-advance: [{btdc: {mm: 2.685}, state: static}]"), FAMILY)
    assert float(view.bands[0].early) == pytest.approx(20, abs=0.01)  # references.md: r 35, l 125, 20 degrees
    assert "worked out to" in view.bands[0].words


def test_ticks_are_drawn_only_where_their_worth_is_known() -> None:
    for division, count in ((Fraction(1), 32), (Fraction(3), 8), (None, 0), (Fraction(1, 10), 0)):
        drawing, _ = draw_rim(view_with(division=division))
        assert len(drawn.of_class(drawing, "tick")) == count
    said = " ".join(drawn.texts(draw_rim(view_with(division=None))[0]))
    assert "do not count divisions" in said
    assert "one division is" not in said


# Contributed words, pages, and the same again.


@pytest.mark.parametrize("attack", ATTACKS)
def test_contributed_words_stay_words(attack: str) -> None:
    band = Band("max-advance", attack, Fraction(20), Fraction(21), attack, attack, attack)
    view = view_with(
        name=attack,
        maker=attack,
        family=attack,
        engine=attack,
        bands=(band,),
        left_out=(LeftOut("idle-timing", attack, attack),),
        target=Fraction(20),
        target_words=attack,
    )
    drawing, picture = draw_rim(view, prefix=attack)
    drawn.require_fit_for_a_page(drawing)
    require_legible(drawing, picture.boxes)
    drawing.encode("utf-8")


def test_families_of_one_name_and_engines_of_one_family_are_told_apart(book: Book) -> None:
    for drawing in (rim_drawing, running_chart):
        said = [
            " ".join(drawn.texts(drawing(book, family, EngineOnTheStand(serial))))
            for family, serial in (
                ("skerrow/ketch-47", "301455"),
                ("skerrow/ketch-47", None),
                ("skerrow/ketch-47-late", None),
            )
        ]
        assert "skerrow/ketch-47; serial 301455" in said[0]
        assert "skerrow/ketch-47;" in said[1]
        assert "serial" not in said[1]
        assert "skerrow/ketch-47-late;" in said[2]


def test_many_stand_in_one_page_without_sharing_an_id(book: Book) -> None:
    drawings = [rim_drawing(book, family) for family in FAMILIES]
    drawings += [running_chart(book, family) for family in charted(book)]
    drawings += [rim_drawing(book, "skerrow/ketch-47", prefix=prefix) for prefix in ("first", "1", "")][:2]
    ids = [element.get("id") for drawing in drawings for element in drawn.read(drawing).iter() if element.get("id")]
    assert len(ids) == len(set(ids))


def test_every_drawing_says_that_it_is_invented(book: Book) -> None:
    for drawing in (rim_drawing(book, "skerrow/ketch-47"), running_chart(book, "skerrow/ketch-47")):
        assert "invented demonstration data" in drawn.description(drawing)
        assert any("invented demonstration data" in words for words in drawn.texts(drawing))
    assert "invented" not in draw_rim(view_with(invented=False))[0]


@pytest.mark.parametrize(
    "family",
    [
        "skerrow/ketch-47",
        "hollin-drake/rasp-79",
        "ostmere/whimbrel-41",
        "hollin-drake/bradawl-1-9",
        "skerrow/barque-113",
    ],
)
def test_golden_rims(book: Book, family: str, golden: Callable[[str, str], None]) -> None:
    aim = maximum_aimed(book, family)
    engine, target = EngineOnTheStand.of(dead_centre=1), aim.show.low if aim else None
    first, second = (rim_drawing(book, family, engine, target=target) for _ in range(2))
    assert first == second
    golden(f"drawings/rim-{family.replace('/', '-')}.svg", first)


# Cranking against running.


def charted(book: Book) -> list[str]:
    """The families of which there is a chart."""
    found = []
    for family in FAMILIES:
        try:
            running_view(book, family)
        except StopscrewError:
            continue
        found.append(family)
    return found


@pytest.mark.parametrize(
    ("family", "error"),
    [
        ("hollin-drake/adze-31", FigureNotStated),
        ("hollin-drake/auger-17", FigureDoesNotApply),
        ("skerrow/barque-113", FigureDisputed),
    ],
)
def test_without_a_correction_there_is_no_chart(book: Book, family: str, error: type[Exception]) -> None:
    with pytest.raises(error, match="correction"):
        running_chart(book, family)


def test_labels_of_charts_keep_clear(book: Book) -> None:
    families = charted(book)
    assert {"skerrow/ketch-47", "pellwater/libeccio-87"} < set(families)
    for family in families:
        for target, centre in ((None, Fraction(0)), (Fraction(20), Fraction(1)), (Fraction(-2), Fraction(0))):
            engine = EngineOnTheStand.of(dead_centre=centre)
            drawing, picture = draw_running(running_view(book, family, engine, target=target))
            require_legible(drawing, picture.boxes)
            drawn.require_fit_for_a_page(drawing)


def axis_places(drawing: str) -> tuple[Callable[[float], float], Callable[[float], float]]:
    """From a place on the chart back to the value, across and upward, by the numbers that stand along the axes."""
    across, upward = [], []
    for element in drawn.of_class(drawing, "number"):
        value = float((element.text or "").removesuffix(" after")) * (-1 if "after" in (element.text or "") else 1)
        if element.get("text-anchor") == "middle":
            across.append((drawn.number(element, "x"), value))
        else:
            upward.append((drawn.number(element, "y"), value))

    def reader(pairs: list[tuple[float, float]]) -> Callable[[float], float]:
        (x1, v1), (x2, v2) = pairs[0], pairs[1]
        return lambda x: v1 + (v2 - v1) * (x - x1) / (x2 - x1)

    return reader(across), reader(upward)


@pytest.mark.parametrize(
    ("family", "corrections"),
    [
        ("skerrow/ketch-47", [2]),
        ("ostmere/godwit-62", [3]),
        ("pellwater/levanter-19", [-1]),
        ("pellwater/libeccio-87", [0, 1, 2]),
    ],
)
def test_lines_are_the_correction(book: Book, family: str, corrections: list[int]) -> None:
    drawing = running_chart(book, family, target=Fraction(25))
    across, upward = axis_places(drawing)
    base = min(drawn.number(one, "y") for one in drawn.of_class(drawing, "number") if one.get("text-anchor") == "end")
    shift = {}
    for number, line in enumerate(drawn.of_class(drawing, "correction")):
        ends = [
            across(drawn.number(line, f"x{end}")) - upward(drawn.number(line, f"y{end}") + 11.5 * 0.35)
            for end in (1, 2)
        ]
        assert ends[0] == pytest.approx(ends[1], abs=1e-3)
        shift[number] = ends[0]
    assert list(shift.values()) == pytest.approx(corrections, abs=1e-3)
    assert base > 0
    diamonds = drawn.of_class(drawing, "target")
    assert len(diamonds) == len(corrections)


def test_a_table_is_drawn_between_its_ends_alone(book: Book) -> None:
    drawing = running_chart(book, "pellwater/libeccio-87")
    lines = drawn.of_class(drawing, "by-speed")
    assert len(lines) == 2
    lowest = [one for one in drawn.of_class(drawing, "number") if one.get("text-anchor") == "middle"]
    speeds = [(drawn.number(one, "x"), float(one.text or "")) for one in lowest][-7:]
    (x1, v1), (x2, v2) = speeds[0], speeds[-1]
    ends = [v1 + (v2 - v1) * (drawn.number(line, place) - x1) / (x2 - x1) for line in lines for place in ("x1", "x2")]
    assert ends == pytest.approx([800, 3500, 3500, 5300], abs=0.1)


@pytest.mark.parametrize(
    ("family", "state", "words"),
    [
        ("skerrow/ketch-47", "cranking", "24° BTDC, cranking; derived, from figures that are single"),
        ("ostmere/godwit-62", "running", "27 to 28° BTDC, running, 5400 rpm; agreed"),
    ],
)
def test_printed_figures_show_their_state(book: Book, family: str, state: str, words: str) -> None:
    drawing = running_chart(book, family)
    assert words in drawn.description(drawing)
    assert words in " ".join(drawn.texts(drawing))
    assert drawn.of_class(drawing, state)


def test_the_target_of_a_chart_is_true_and_says_what_the_pointer_shows(book: Book) -> None:
    drawing = running_chart(book, "skerrow/ketch-47", EngineOnTheStand.of(dead_centre=2), target=Fraction(25))
    said = "Target: 23° BTDC while cranking (the pointer shows 25° BTDC), runs at 21° BTDC."
    assert said in drawn.description(drawing)


@pytest.mark.parametrize("family", ["skerrow/ketch-47", "pellwater/libeccio-87", "pellwater/levanter-19"])
def test_golden_charts(book: Book, family: str, golden: Callable[[str, str], None]) -> None:
    aim = maximum_aimed(book, family, EngineOnTheStand.of("cranking"))
    target = aim.show.low if aim else None
    drawing = running_chart(book, family, target=target)
    assert drawing == running_chart(book, family, target=target)
    golden(f"drawings/running-{family.replace('/', '-')}.svg", drawing)


@settings(max_examples=tries(40, 100))
@given(low=st.integers(-400_000, 6_000_000), width=st.integers(0, 3_000_000), most=st.integers(2, 10))
def test_an_axis_holds_what_it_is_for(low: int, width: int, most: int) -> None:
    first, last = low / 1000, (low + width) / 1000
    axis = axis_for(first, last, most)
    assert axis.first <= first
    assert axis.last >= last
    assert 2 <= len(axis.numbers()) <= most + 1


# The command.


def run(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    try:
        code = main(words)
    except SystemExit as stopped:
        code = int(stopped.code or 0)
    printed = capsys.readouterr()
    return code, printed.out, printed.err


def test_draw_writes_the_drawing(capsys: pytest.CaptureFixture[str], tmp_path: Path, book: Book) -> None:
    code, out, _ = run(capsys, "draw", "skerrow/ketch-47", "rim", "--margin", "1")
    assert code == 0
    drawn.require_fit_for_a_page(out)
    assert "Target: the pointer shows 23° BTDC" in drawn.texts(out)
    file = tmp_path / "rim.svg"
    code, said, _ = run(capsys, "draw", "skerrow/ketch-47", "rim", "--margin", "1", "--out", str(file))
    assert (code, said) == (0, f"wrote {file}\n")
    assert file.read_text(encoding="utf-8") == out
    code, out, _ = run(capsys, "draw", "Ketch 47", "running", "--serial", "301455", "--dead-centre-reads", "1 after")
    assert code == 0
    assert "the pointer shows 23° BTDC" in drawn.description(out)


def test_draw_as_json_tells_what_is_behind(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    code, out, _ = run(capsys, "draw", "hollin-drake/rasp-79", "rim", "--json", "--dead-centre-reads", "2 before")
    assert code == 0
    document = json.loads(out)
    assert document["clockwise"] is False
    assert document["numbered"] == [-12, 12, 24]
    assert document["bands"][0]["early"] == 26
    assert document["target"] == 28
    file = tmp_path / "running.json"
    code, out, _ = run(capsys, "draw", "pellwater/libeccio-87", "running", "--out", str(file))
    assert (code, out) == (0, f"wrote {file}\n")
    assert [line["speed"] for line in json.loads(file.read_text(encoding="utf-8"))["lines"]] == [800, 3500, 5300]


@pytest.mark.parametrize(
    ("words", "code", "said"),
    [
        ("draw skerrow/ketch-47 rim --out rim.png", 2, "write --out rim.svg"),
        ("draw skerrow/ketch-47 rim --out /no/such/folder/rim.svg", 2, "cannot be written"),
        ("draw skerrow/ketch-47 wheel", 2, "rim"),
        ("draw skerrow/ketch-47 rim --dead-centre-reads 2", 2, "such as '2 before'"),
        ("draw skerrow/ketch-47 rim --dead-centre-reads 4before", 4, "flywheel key"),
        ("draw skerrow/ketch-47 rim --margin 40", 4, "margin"),
        ("draw skerrow/ketch-48 rim", 3, "no family"),
        ("draw skerrow/barque-113 running", 4, "do not agree"),
        ("draw hollin-drake/adze-31 running", 3, "not stated"),
    ],
)
def test_draw_says_what_is_wrong(capsys: pytest.CaptureFixture[str], words: str, code: int, said: str) -> None:
    stopped, out, error = run(capsys, *words.split())
    assert stopped == code
    assert said in error
    assert out == ""


def test_a_margin_too_wide_is_not_drawn(book: Book) -> None:
    with pytest.raises(MarginTooWide):
        maximum_aimed(book, "skerrow/ketch-47", EngineOnTheStand.of(margin=30))


def test_the_drawings_data_are_plain(book: Book) -> None:
    assert not dataclasses.is_dataclass(RimView)
    json.dumps([rim_view(book, family).to_document() for family in FAMILIES])
