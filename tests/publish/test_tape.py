"""The degree tape: its length measured on the rendered page, its sides, its strips, its words, its command."""

from __future__ import annotations

import json
import math
from collections.abc import Callable, Iterator
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from kb.book.book import Book
from kb.calc.rim import arc
from kb.cli import main
from kb.errors import FamilyNotFound, QuantityError
from kb.publish.drawings.handedness import degrees_clockwise
from kb.publish.drawings.strip import HEIGHT
from kb.publish.drawings.tape import draw_tape, tape_sheets
from kb.publish.drawings.tape_pdf import tape_pdf
from kb.publish.drawings.tape_plan import PAPERS, TapePlan, tape_plan, tape_plan_for
from tests.publish.test_drawings import ATTACKS
from tests.support import drawn, raster
from tests.support.frozen import frozen_book
from tests.support.one_family import FAMILY, one_family

FULL = {"early": Fraction(180), "late": Fraction(-180)}


@pytest.fixture(scope="module")
def book() -> Book:
    return frozen_book()


def plan_of(diameter: str, **asked: Any) -> TapePlan:
    return tape_plan(Fraction(diameter), **{"clockwise": True, **asked})


# The length on the page, measured in pixels.

MEASURED = [
    plan_of("240"),
    plan_of("138", paper="letter"),
    plan_of("298.45", paper="letter", clockwise=False, target=Fraction(26), **FULL),
    plan_of("60", early=Fraction(90), late=Fraction(-90), thickness=Fraction("0.25")),
]


Row = list[float]


def measured_rows(plan: TapePlan) -> Iterator[tuple[list[Row], list[Row], Row, Row]]:
    """For each sheet: a row through the ticks of each strip from PDF and SVG, and through the bar's ends."""
    width, height = map(float, PAPERS[plan.paper])
    document = tape_pdf(plan)
    for number, sheet in enumerate(tape_sheets(plan)):
        page, size = raster.pdf_page(document, number)
        assert size == pytest.approx((width, height), abs=0.01)
        outlines = drawn.of_class(sheet, "outline")
        rows = [drawn.number(outline, "y") + HEIGHT - 1.5 for outline in outlines]
        bar = drawn.number(drawn.of_class(sheet, "check-end")[0], "y1") + 0.4
        yield (
            [raster.pdf_row(page, y) for y in rows],
            [raster.svg_row(sheet, width, height, y) for y in rows],
            raster.pdf_row(page, bar),
            raster.svg_row(sheet, width, height, bar),
        )


@pytest.mark.parametrize("plan", MEASURED, ids=lambda plan: f"{float(plan.diameter):g} mm on {plan.paper}")
def test_the_printed_length_is_right(plan: TapePlan) -> None:
    """Every tick of every strip, and the check bar, in the rasterised PDF and in the rasterised SVG."""
    strips = iter(plan.strips)
    for pdf_rows, svg_rows, *bars in measured_rows(plan):
        for bar in bars:
            first, last = raster.ink(bar)
            assert last - first == pytest.approx(100, abs=0.05)
        for pair in zip(pdf_rows, svg_rows, strict=True):
            strip = next(strips)
            count = abs(strip.last - strip.first) + 1
            blank = (
                1 if strip is plan.strips[0] and not plan.full_turn else 0
            )  # the outline's end stands before the tick
            for row in pair:
                strokes = raster.ink(row)
                assert len(strokes) == blank + count + 1
                ticks = strokes[blank:-1]
                wanted = [arc(degree, float(plan.diameter), float(plan.thickness)) for degree in range(count)]
                assert [tick - ticks[0] for tick in ticks] == pytest.approx(wanted, abs=0.1)
    assert next(strips, None) is None


def test_the_measuring_can_fail() -> None:
    """A tape for a rim a millimetre larger is told from the right one."""
    (rows, _, _, _), *_ = measured_rows(plan_of("241"))
    ticks = raster.ink(rows[0])[1:-1]
    wanted = [arc(degree, 240, 0.1) for degree in range(71)]
    assert [tick - ticks[0] for tick in ticks] != pytest.approx(wanted, abs=0.1)


def test_the_page_is_black_on_white() -> None:
    page, _ = raster.pdf_page(tape_pdf(plan_of("240", target=Fraction(23))), 0)
    assert (page[..., 0] == page[..., 1]).all()
    assert (page[..., 1] == page[..., 2]).all()
    assert page.max() == 255
    assert page.min() == 0


@settings(max_examples=12, deadline=None)
@example(Fraction(60), 180, -180, True, "a4", Fraction(0))
@example(Fraction(60), 5, -90, False, "letter", Fraction(1))
@given(
    diameter=st.integers(600, 10000).map(lambda tenth: Fraction(tenth, 10)),
    early=st.integers(1, 200),
    late=st.integers(-160, -1),
    clockwise=st.sampled_from((True, False, None)),
    paper=st.sampled_from(tuple(PAPERS)),
    thickness=st.sampled_from((Fraction(0), Fraction("0.1"), Fraction(1))),
)
def test_every_degree_is_on_the_tape_once_in_its_place(
    diameter: Fraction, early: int, late: int, clockwise: bool | None, paper: str, thickness: Fraction
) -> None:
    plan = tape_plan(
        diameter, early=Fraction(early), late=Fraction(late), clockwise=clockwise, paper=paper, thickness=thickness
    )
    width, height = map(float, PAPERS[paper])
    along: list[float] = []
    start, strips = 0.0, iter(plan.strips)
    for sheet, picture in draw_tape(plan):
        drawn.require_fit_for_a_page(sheet)
        assert drawn.overlapping(picture.boxes) == []
        assert all(box.left >= 0 and box.right <= width and box.bottom <= height for box in picture.boxes)
        assert drawn.read(sheet).get("width") == f"{width:g}mm"
        assert drawn.read(sheet).get("viewBox") == f"0 0 {width:g} {height:g}"
        ticks = [(drawn.number(tick, "y2"), drawn.number(tick, "x1")) for tick in drawn.of_class(sheet, "degree")]
        for outline in drawn.of_class(sheet, "outline"):
            strip = next(strips)
            left, long = drawn.number(outline, "x"), drawn.number(outline, "width")
            assert left + long <= width - 14.9
            mine = [x for y, x in ticks if y == pytest.approx(drawn.number(outline, "y") + HEIGHT)]
            assert len(mine) == abs(strip.last - strip.first) + 1
            places = [start + x - mine[0] for x in mine]
            along += places[1:] if along else places
            start = along[-1]
    count = plan.early - plan.late
    assert along == pytest.approx(
        [arc(degree, float(diameter), float(thickness)) for degree in range(count + 1)], abs=0.01
    )
    assert next(strips, None) is None


# Sides, names, strips.


@pytest.mark.parametrize("clockwise", [True, False])
def test_before_comes_to_the_pointer_first(clockwise: bool) -> None:
    """The tape is on the flywheel and is seen from outside: there a flywheel turning clockwise goes to the left."""
    plan = plan_of("240", clockwise=clockwise, target=Fraction(23))
    sheet = tape_sheets(plan)[0]
    places = {one.text: drawn.number(one, "x") for one in drawn.of_class(sheet, "number")}
    centre = places["TDC"]
    sides = {one.text: drawn.number(one, "x") for one in drawn.of_class(sheet, "side")}
    before = sides["before top dead centre (BTDC)"] - centre
    clockwise_of_centre = degrees_clockwise(20, clockwise=clockwise, marks_on="flywheel")
    assert (before < 0) is (clockwise_of_centre > 0)  # clockwise from the nearest point of the rim is to the left
    goes = -1 if clockwise else 1
    assert before * goes > 0  # ahead in the turn
    (target,) = drawn.of_class(sheet, "target-tick")
    assert drawn.number(target, "x1") - centre == pytest.approx(goes * arc(23, 240, 0.1), abs=0.01)
    assert places["40"] - centre == pytest.approx(goes * arc(40, 240, 0.1), abs=0.01)
    (arrow,) = drawn.of_class(sheet, "turning")
    tip, back = (float(pair.split()[0]) for pair in (arrow.get("d") or "")[1:-1].split("L")[:2])
    assert (tip - back) * goes > 0


def test_where_nobody_knows_the_way_the_sides_have_no_names() -> None:
    plan = plan_of("240", clockwise=None)
    assert (plan.early, plan.late) == (40, -40)
    sheet = tape_sheets(plan)[0]
    said = " ".join(drawn.texts(sheet))
    assert "if it turns clockwise, before top dead centre is LEFT of TDC; if anticlockwise, RIGHT" in said
    assert [one.text for one in drawn.of_class(sheet, "side")] == [
        "before if it turns clockwise, else after",
        "before if it turns anticlockwise, else after",
    ]
    assert drawn.of_class(sheet, "turning") == []


def test_a_full_turn_meets_itself() -> None:
    plan = plan_of("240", **FULL)
    assert plan.full_turn
    assert plan.along(360) == pytest.approx(math.pi * 240.1)
    sheets = tape_sheets(plan)
    assert sum(len(drawn.of_class(sheet, "join")) for sheet in sheets) == len(plan.strips)
    numbers = [one.text for sheet in sheets for one in drawn.of_class(sheet, "number")]
    assert numbers.count("180") == 1
    assert numbers.count("TDC") == 1
    assert numbers.count("90") == 2
    assert "glue the start of strip 1 on the tab" in " ".join(drawn.texts(sheets[-1]))


def test_strips_join_where_no_number_stands() -> None:
    for diameter in ("60", "138", "240", "333.3", "640"):
        plan = plan_of(diameter, **FULL)
        assert all(strip.last % 10 == 5 for strip in plan.strips[:-1])
        assert [strip.first for strip in plan.strips[1:]] == [strip.last for strip in plan.strips[:-1]]


@pytest.mark.parametrize("clockwise", [True, False])
@pytest.mark.parametrize(("diameter", "paper"), [("138", "a4"), ("240", "a4"), ("298.45", "letter"), ("330", "a4")])
def test_what_is_read_most_is_on_one_strip(diameter: str, paper: str, clockwise: bool) -> None:
    plan = plan_of(diameter, paper=paper, clockwise=clockwise, **FULL)
    assert any(min(strip.first, strip.last) <= -30 and max(strip.first, strip.last) >= 40 for strip in plan.strips)


def test_the_paper_lies_outside_the_rim() -> None:
    bare, thick = (plan_of("240", thickness=Fraction(thickness)) for thickness in ("0", "0.5"))
    assert thick.along(70) - bare.along(70) == pytest.approx(math.radians(70) * 0.25)
    assert "Paper 0.5 mm thick is allowed for" in " ".join(drawn.texts(tape_sheets(thick)[0]))


def test_the_words_that_keep_it_true_are_on_every_sheet() -> None:
    plan = plan_of("330", paper="letter", **FULL)
    pages = raster.pdf_words(tape_pdf(plan))
    assert len(pages) == len(tape_sheets(plan)) > 1
    for page in pages:
        said = " ".join(page.split())
        for words in (
            "Letter paper at 100 %",
            "MEASURE THE BAR BELOW BEFORE USE",
            "exactly 100 mm",
            "Paper 0.1 mm thick",
            "turns clockwise seen from above: before top dead centre is left of TDC",
        ):
            assert words in said


def test_the_pdf_is_the_same_again() -> None:
    plan = plan_of("240")
    assert tape_pdf(plan) == tape_pdf(plan)


@pytest.mark.parametrize("attack", ATTACKS)
def test_contributed_words_stay_words(attack: str) -> None:
    plan = plan_of("240", name=attack, note=attack)
    for sheet, picture in draw_tape(plan, prefix=attack):
        drawn.require_fit_for_a_page(sheet)
        assert drawn.overlapping(picture.boxes) == []
    assert tape_pdf(plan).startswith(b"%PDF")


# For a family.


def test_a_family_brings_its_rim_and_its_turn(book: Book) -> None:
    plan = tape_plan_for(book, "hollin-drake/rasp-79", target=Fraction(26))
    assert (plan.diameter, plan.clockwise) == (Fraction("298.45"), False)  # 11.75 in
    said = " ".join(drawn.texts(tape_sheets(plan)[0]))
    assert "Degree tape for Hollin & Drake Rasp 79" in said
    assert "invented demonstration data" in said
    assert "target 26° BTDC" in said
    fixed = tape_plan_for(book, "ostmere/whimbrel-41", diameter=Fraction(200), clockwise=False)
    assert (fixed.diameter, fixed.clockwise) == (Fraction(200), False)
    assert "fix a pointer to the block" in " ".join(drawn.texts(tape_sheets(fixed)[0]))


def test_every_family_has_a_tape(book: Book) -> None:
    for family in book.family_ids():
        plan = tape_plan_for(book, family)
        assert len(draw_tape(plan)) == 1


def test_a_rim_that_nobody_measured_is_asked_for() -> None:
    with pytest.raises(QuantityError, match="measure it: --diameter '240 mm'"):
        tape_plan_for(one_family("max-advance: [{btdc: 20, state: cranking}]", "{rotation: clockwise}"), FAMILY)
    with pytest.raises(FamilyNotFound):
        tape_plan_for(one_family("max-advance: [{btdc: 20, state: cranking}]"), "skerrow/nothing")


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        ({"diameter": Fraction(20)}, "60 to 1000 mm"),
        ({"diameter": Fraction(1001)}, "60 to 1000 mm"),
        ({"early": Fraction(-10)}, "begin before top dead centre"),
        ({"late": Fraction(10)}, "begin before top dead centre"),
        ({"early": Fraction(200), "late": Fraction(-200)}, "at most a full turn"),
        ({"early": Fraction(0), "late": Fraction(0)}, "--from '40 before' --to '30 after'"),
        ({"early": Fraction(81, 2)}, "at a whole degree"),
        ({"thickness": Fraction(5)}, "'0.1 mm'"),
        ({"paper": "a3"}, "a4 and letter"),
        ({"target": Fraction(50)}, "lies beyond the tape; make it longer"),
        ({"target": Fraction(20), "clockwise": None}, "--rotation clockwise"),
    ],
)
def test_what_cannot_be_a_tape(asked: dict[str, Any], said: str) -> None:
    with pytest.raises(QuantityError, match=said):
        tape_plan(**{"diameter": Fraction(240), "clockwise": True, **asked})


@pytest.mark.parametrize(
    ("name", "plan"),
    [
        ("clockwise", MEASURED[0]),
        ("anticlockwise", plan_of("298.45", clockwise=False, target=Fraction(26), paper="letter")),
    ],
)
def test_golden_tapes(name: str, plan: TapePlan, golden: Callable[[str, str], None]) -> None:
    golden(f"drawings/tape-{name}.svg", tape_sheets(plan)[0])


# The command.


def run(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    try:
        code = main(words)
    except SystemExit as stopped:
        code = int(stopped.code or 0)
    printed = capsys.readouterr()
    return code, printed.out, printed.err


def test_tape_writes_what_the_ending_says(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    pdf, svg = tmp_path / "tape.pdf", tmp_path / "tape.svg"
    assert run(capsys, "tape", "skerrow/ketch-47", "--target", "23 before", "--out", str(pdf))[0] == 0
    assert pdf.read_bytes().startswith(b"%PDF")
    around = ("--from", "180 before", "--to", "180 after", "--paper", "letter")
    code, said, _ = run(capsys, "tape", "hollin-drake/rasp-79", *around, "--out", str(svg))
    assert code == 0
    assert said == f"wrote {svg}\nwrote {tmp_path / 'tape-2.svg'}\n"
    code, out, _ = run(capsys, "tape", "--diameter", "9.5 in", "--rotation", "anticlockwise")
    assert code == 0
    drawn.require_fit_for_a_page(out)
    code, out, _ = run(capsys, "tape", "--diameter", "240 mm", "--thickness", "0.2mm", "--json")
    assert json.loads(out)["length_mm"] == pytest.approx(math.radians(80) * 120.1)


@pytest.mark.parametrize(
    ("words", "code", "said"),
    [
        (["tape"], 2, "--diameter '240 mm'"),
        (["tape", "--diameter", "240"], 2, "--diameter: '240': write a number and mm or in"),
        (["tape", "--diameter", "nan mm"], 2, "--diameter"),
        (["tape", "skerrow/ketch-47", "--out", "tape.png"], 2, "tape.svg or tape.pdf"),
        (["tape", "skerrow/ketch-47", "--from", "40"], 2, "such as '2 before'"),
        (["tape", "skerrow/ketch-47", "--paper", "a3"], 2, "letter"),
        (["tape", "hollin-drake/rasp-79", "--from", "180 before", "--to", "180 after"], 2, "--out tape.pdf"),
        (["tape", "skerrow/ketch-48"], 3, "no family"),
    ],
)
def test_tape_says_what_is_wrong(capsys: pytest.CaptureFixture[str], words: list[str], code: int, said: str) -> None:
    stopped, out, error = run(capsys, *words)
    assert stopped == code
    assert said in error
    assert out == ""
