"""What must hold everywhere: there and back, rising, alike on both sides; and the published rows not yet used."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kb.calc.coverage import combine, coverage_factor
from kb.calc.crank import crank_degrees, piston_position
from kb.calc.cylinders import firing_angles, on_marks_of_the_first
from kb.calc.dead_centre import offset_bias
from kb.calc.offset import dead_centres, offset_crank_degrees, offset_piston_position
from kb.calc.plates import angle_for_part, open_part
from kb.calc.plug_hole import position_of_travel, travel_of_position
from kb.calc.readings import fit_line
from kb.calc.rim import angle_of_chord, chord
from kb.calc.screw import lever_angle, lever_moved, next_turn
from kb.errors import GeometryImpossible, ReadingsContradict
from tests.calc.test_calc_readings import THERMOMETER


def test_offset_of_the_check_values() -> None:
    found = dead_centres(35, 125, 1)  # computed by root finding
    assert found.top == pytest.approx(0.35810095337, abs=1e-11)
    assert found.bottom == pytest.approx(180.63663287, abs=1e-8)
    near, far = offset_crank_degrees(4.1574831422, 35, 125, 1)
    assert near + found.top == pytest.approx(25.3673969126, abs=1e-9)
    assert far + found.top == pytest.approx(-24.6320886898, abs=1e-9)


@pytest.mark.parametrize(("tilt", "late"), [(20, 0.643), (30, 1.519)])  # at 20 degrees, r 35, l 125, uncorrected
def test_a_leaning_hole_read_as_upright(tilt: float, late: float) -> None:
    travel = travel_of_position(piston_position(20, 35, 125), tilt)
    assert crank_degrees(travel, 35, 125) - 20 == pytest.approx(late, abs=5e-4)


def test_a_gauge_in_a_leaning_hole() -> None:
    position = position_of_travel(2.0, 30)
    assert position == pytest.approx(1.73205080757, abs=1e-11)
    assert crank_degrees(position, 35, 125) == pytest.approx(16.0157617888, abs=1e-10)


def test_end_gauge_and_line_of_the_guide() -> None:
    # JCGM 100:2008, H.1: 31.66 nm, 16.75 degrees of freedom, U99 92.5 nm (printed 32, 16, 93)
    assert 31.66 * coverage_factor(0.99, 16.75) == pytest.approx(92.5, abs=0.05)
    assert combine([(25, 18), (9.7, 25.6), (2.9, 50), (16.6, 2)]).freedom == pytest.approx(16.75, abs=0.15)
    line = fit_line([(t - 20, b) for t, b in THERMOMETER])  # H.3.3 and H.3.4; the data from memory
    assert round(line.ends_correlation, 3) == -0.930
    assert round(line.uncertainty_at(10), 4) == 0.0041
    with pytest.raises(ReadingsContradict, match="a third"):
        fit_line([(0, 1), (1, 2)]).uncertainty_at(1)


@given(st.floats(-170, 170), st.floats(10, 60), st.floats(2, 6), st.floats(-0.2, 0.2))
@settings(max_examples=60)
def test_offset_there_and_back_and_mirrored(angle: float, throw: float, ratio: float, share: float) -> None:
    rod, offset = throw * ratio, throw * share
    position = offset_piston_position(angle, throw, rod, offset)
    near, far = offset_crank_degrees(position, throw, rod, offset)
    assert min(abs(near - angle), abs(far - angle)) < 1e-6
    assert position == pytest.approx(offset_piston_position(-angle, throw, rod, -offset), rel=1e-12)
    assert (near + far) / 2 == pytest.approx(offset_bias(offset, position, throw, rod), abs=1e-9)


@given(st.floats(0, 179), st.floats(1e-3, 1))
def test_rising(angle: float, more: float) -> None:
    assert piston_position(angle + more, 35, 125) > piston_position(angle, 35, 125)
    assert chord(angle + more, 240) > chord(angle, 240)
    assert angle_of_chord(-chord(angle, 240), 240) == -angle_of_chord(chord(angle, 240), 240)


@given(st.floats(0, 0.7))
def test_plates_there_and_back(part: float) -> None:
    assert open_part(angle_for_part(part)) == pytest.approx(part, abs=1e-13)


@given(st.floats(11, 69), st.floats(-0.5, 0.5))
def test_a_lever_moved_is_a_difference_of_angles(rod: float, turns: float) -> None:
    moved = lever_moved(30, 40, rod, 1.0, turns)
    assert moved == pytest.approx(lever_angle(30, 40, rod + turns) - lever_angle(30, 40, rod), abs=1e-9)


@given(st.permutations(range(1, 7)), st.floats(-30, 40), st.booleans())
def test_every_cylinder_on_the_marks_of_the_first(order: list[int], angle: float, four_stroke: bool) -> None:
    places = firing_angles(order, even_fire=True, four_stroke=four_stroke)
    for cylinder, place in places.items():
        shown = on_marks_of_the_first(angle, cylinder, order, even_fire=True, four_stroke=four_stroke)
        assert math.remainder(shown + place - angle, 360) == pytest.approx(0, abs=1e-9)


def test_a_repeated_reading_does_not_hide_the_last_movement() -> None:
    assert next_turn([(0, 20.0), (1, 22.0), (1, 22.25)], 21).from_one_side


@pytest.mark.parametrize("offset", [90, -95])
def test_an_offset_too_wide(offset: float) -> None:
    with pytest.raises(GeometryImpossible, match="aside"):
        dead_centres(35, 125, offset)
