"""What must hold of the bench whatever is typed: there and back, the safe side, no lightness lost."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from kb.bench.adjusting_screw import AdjustingScrew, ScrewTarget
from kb.bench.cylinders import Firing, work_cylinders
from kb.bench.dead_centre import work_dead_centre
from kb.bench.next_turn import work_next_turn
from kb.bench.piston import Hole, work_degrees, work_position
from kb.bench.plates import work_plates
from kb.bench.premix import Ratio, work_oil, work_ratio
from kb.bench.rim import Rim, work_angle, work_distance
from kb.bench.wording import CrankGiven
from kb.book.store.writing import write_store
from kb.errors import DeadCentreTooFar, QuantityError, ReadingsContradict
from kb.quantity import Quantity, angle_in_words, read_value
from tests.house.test_light import HEAVY, modules
from tests.support.asked_book import asked_book
from tests.support.bench_calls import call

FEW = settings(max_examples=60, deadline=None)
tenths = st.integers(0, 1800).map(lambda count: Fraction(count, 10))


def length(millimetres: str) -> Quantity:
    found = read_value({"mm": millimetres})
    assert isinstance(found, Quantity)
    return found


CRANK = CrankGiven(length("64"), length("120"))


@FEW
@given(st.integers(100, 600), st.integers(-30, 30), st.booleans())
def test_the_middle_of_two_contacts_is_found_from_either_side(half: int, off: int, swapped: bool) -> None:
    """In tenths of a degree; contacts that the pointer shows on one side are refused, so the half is the larger."""
    assume(half > abs(off))
    first, second = Fraction(off + half, 10), Fraction(off - half, 10)
    found = work_dead_centre([(second, first) if swapped else (first, second)])
    assert found.values["dead_centre_reading_deg"] == pytest.approx(off / 10, abs=1e-12)
    assert found.values["dead_centre_reads"] == angle_in_words(Fraction(off, 10))
    assert found.values["dead_centre_reads"] in found.answer[0]


@FEW
@given(st.integers(301, 500), st.booleans())
def test_beyond_three_degrees_the_job_stops(off: int, late: bool) -> None:
    side = -1 if late else 1
    with pytest.raises(DeadCentreTooFar, match="flywheel key") as stopped:
        work_dead_centre([(side * Fraction(off, 100) + 30, side * Fraction(off, 100) - 30)])
    assert ("after" if late else "before") in str(stopped.value)


@FEW
@given(tenths.filter(lambda angle: 1 <= angle <= 170), st.integers(0, 30), st.integers(-20, 20))
def test_piston_there_and_back(angle: Fraction, tilt: int, slope: int) -> None:
    hole = Hole(Fraction(tilt), Fraction(slope)) if tilt else None
    there = work_position(angle, CRANK, hole)
    shown = there.values["gauge_mm" if hole else "position_mm"]
    back = work_degrees(length(f"{shown:.9f}"), 1, CRANK, hole)
    assert back.values["before_deg"] == pytest.approx(float(angle), abs=1e-5)


@FEW
@given(tenths.filter(lambda angle: 0 < angle <= 180), st.integers(60, 400))
def test_rim_there_and_back(angle: Fraction, diameter: int) -> None:
    rim = Rim(length(str(diameter)), tape=length("0.2"))
    there = work_distance(angle, rim).values
    assert there["callipers_mm"] < there["tape_mm"]
    back = work_angle(rim, length(f"{there['tape_mm']:.9f}"), None).values["by_tape_deg"]
    assert back == pytest.approx(float(angle), abs=1e-6)


@FEW
@given(
    st.integers(-16, 16).filter(bool), st.integers(5, 60), st.booleans(), st.integers(150, 300), st.integers(150, 300)
)
def test_the_next_turn_never_leaves_a_maximum_early(
    eighths: int, slope: int, inward_later: bool, start: int, wanted: int
) -> None:
    """A screw that acts evenly: where the turn that is told leaves it is at the target or late of it, by half a
    degree at most; more than a degree late of it half of that is left. What lies further than twice the way turned so
    far, or three turns, is gone toward as far as that, and no further."""
    per_turn = Fraction(-slope if inward_later else slope, 10)
    turned = Fraction(eighths, 8)
    readings = [(Fraction(0), Fraction(start, 10)), (turned, Fraction(start, 10) + per_turn * turned)]
    target = Fraction(wanted, 10)
    found = work_next_turn(readings, ScrewTarget(target), AdjustingScrew(sign=-1 if inward_later else 1)).values
    left = float(readings[-1][1]) + float(per_turn) * found["turns_in_rounded"]
    late = float(target - readings[-1][1])
    reach = float(min(Fraction(3), 2 * abs(turned)))
    if abs(found["turns_in_rounded"]) == reach and abs(late / float(per_turn)) > reach:
        assert min(late, 0) <= float(target) - left <= max(late, 0), "toward it, and not past it"
    else:
        assert left <= float(target) + 1e-9
        assert left >= float(target) - (0.51 if late <= 1 else late / 2 + 0.51)
    assert abs(found["turns_in_rounded"]) <= max(reach, 1 / 8)
    earlier = found["turns_in_rounded"] * float(per_turn) > 0
    assert not (earlier and found["come_back"]), "the way to it does not pass it on its early side"
    assert found["reading_after_deg"] == pytest.approx(left, abs=1e-9)


@FEW
@given(st.integers(1, 40), st.integers(1, 40))
def test_readings_against_what_the_screw_is_known_to_do_are_refused(slope: int, start: int) -> None:
    readings = [(Fraction(0), Fraction(start)), (Fraction(1), Fraction(start) + Fraction(slope, 10))]
    with pytest.raises(ReadingsContradict, match="against"):
        work_next_turn(readings, ScrewTarget(Fraction(20)), AdjustingScrew(sign=-1))


@FEW
@given(st.permutations(range(1, 7)), st.integers(1, 6), st.booleans())
def test_every_spark_has_its_place(order: list[int], count: int, four: bool) -> None:
    order = [cylinder for cylinder in order if cylinder <= count]
    found = work_cylinders(Firing(tuple(order), four, True), Fraction(24)).values
    places = found["top_dead_centre_deg_after_first"]
    assert places["1"] == 0.0
    assert found["pointer_deg"]["1"] == 24.0
    for cylinder in order:
        assert -180 < found["pointer_deg"][str(cylinder)] <= 180
        turns = (24 - places[str(cylinder)] - found["pointer_deg"][str(cylinder)]) / 360
        assert turns == pytest.approx(round(turns), abs=1e-9)


@FEW
@given(st.integers(101, 600), st.integers(1, 50))
def test_the_same_difference_matters_less_further_open(first: int, more: int) -> None:
    near = work_plates(Fraction(first, 10), Fraction(first + more, 10)).values
    assert near["air_ratio"] > 1
    if "air_ratio_wide" in near:
        assert near["air_ratio_wide"] <= near["air_ratio"]
    swapped = work_plates(Fraction(first + more, 10), Fraction(first, 10)).values
    assert swapped["air_ratio"] == near["air_ratio"]
    assert (near["wider"], swapped["wider"]) == ("second", "first")


@FEW
@given(st.integers(1, 400), st.integers(2, 200), st.sampled_from(["L", "us_gal", "imp_gal", "mL"]))
def test_never_less_oil_than_asked_for(tenths_of_petrol: int, parts: int, unit: str) -> None:
    petrol = read_value({unit: f"{tenths_of_petrol // 10}.{tenths_of_petrol % 10}"})
    assert isinstance(petrol, Quantity)
    found = work_oil(petrol, Ratio.typed(Fraction(parts)))
    said = Fraction(found.answer[0].split(" mL")[0])
    assert 0 <= said - Fraction(found.values["oil_mL"]) <= 1
    if said:
        back = work_ratio(petrol, length_of_oil(said)).values["parts_to_one"]
        assert back <= parts + 1e-9


def length_of_oil(millilitres: Fraction) -> Quantity:
    found = read_value({"mL": str(int(millilitres))})
    assert isinstance(found, Quantity)
    return found


def test_an_error_is_of_one_kind() -> None:
    with pytest.raises(QuantityError, match="no readings"):
        work_next_turn([], ScrewTarget(Fraction(20)))


@pytest.fixture(scope="module")
def path(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("bench-light") / "asked.book"
    write_store(path, asked_book())
    return path


LIGHT = [
    ["deadcentre", "31", "before", "27", "after"],
    ["turn", "skerrow/example", "max-advance", "--state", "cranking", "0", "24 before", "--book", "{path}"],
    ["piston", "--stroke", "64mm", "--rod", "120mm", "24", "before"],
    ["rim", "--diameter", "240mm", "--degrees", "10"],
    ["cylinders", "--order", "1,3,2", "--strokes", "two", "--even-fire"],
    ["plates", "12", "13"],
    ["compression", "110", "122", "--unit", "psi"],
    ["premix", "20 L", "--ratio", "50"],
    ["rpm", "--hertz", "250", "--pulses", "3", "--json"],
]


@pytest.mark.parametrize("words", LIGHT, ids=[row[0] for row in LIGHT])
def test_a_command_of_the_bench_imports_nothing_heavy(words: list[str], path: Path) -> None:
    argv = ["stopscrew", *(str(path) if word == "{path}" else word for word in words)]
    assert call(argv[1:])[0] == 0
    found = modules(f"sys.argv = {argv!r}\nfrom kb.cli import main\nmain()\npass", path)
    assert not {name.partition(".")[0] for name in found} & (HEAVY | {"typst", "segno"})
    assert not any(name.startswith(("kb.intake", "kb.publish")) for name in found)


def test_help_reads_no_quantities(path: Path) -> None:
    command = "sys.argv = ['stopscrew', '--help']\nfrom kb.cli import main\ntry: main()\nexcept SystemExit: pass\npass"
    found = modules(command, path)
    assert not any(name.startswith(("kb.bench", "kb.calc", "kb.quantity", "kb.book")) for name in found)


@FEW
@given(st.integers(5, 60), st.booleans(), st.integers(200, 300), st.integers(-60, 60), st.integers(0, 2))
def test_whoever_does_what_is_said_never_passes_a_maximum(
    slope: int, inward_later: bool, wanted: int, off: int, play: int
) -> None:
    """A screw turned as it is told again and again, with some play or none: from the late side no reading comes earlier
    than the target, with play by no more than half a degree; and in the end it is there."""
    per_turn = Fraction(-slope if inward_later else slope, 10)
    target, slack = Fraction(wanted, 10), Fraction(play, 16)
    screw, acts = Fraction(0), Fraction(0)  # where the screw stands, and where it holds what it moves
    readings: list[tuple[Fraction, Fraction]] = []
    for _ in range(14):
        readings.append((screw, target + Fraction(off, 10) + per_turn * acts))
        late = target - readings[-1][1]
        told = work_next_turn(readings, ScrewTarget(target), AdjustingScrew(sign=-1 if inward_later else 1)).values
        turns = Fraction(told["turns_in_rounded"])
        if not turns:
            break
        past = Fraction(1 if turns > 0 else -1, 2)
        for way in (turns + past, -past) if told.get("come_back") else (turns,):
            screw += way
            acts = min(max(acts, screw - slack), screw)
        if late >= 0:
            assert target + Fraction(off, 10) + per_turn * acts <= target + (Fraction(1, 2) if play else 0)
    assert 0 <= target - readings[-1][1] <= Fraction(1, 2)
