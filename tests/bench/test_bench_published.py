"""Published and worked check values, asked of the commands: each with the source it stands in."""

from __future__ import annotations

import pytest

from tests.support.bench_calls import document

CRANK = "--stroke 70mm --rod 125mm"
SLIDER = "slider-crank, r 35 mm, l 125 mm; Heywood, eq. 2.4 to 2.6 (from memory), computed with mpmath"
PLATE = "throttle plate closed at 10, shaft 0.20; Heywood, eq. 7.18 (from memory), computed with mpmath"
CIRCLE = "circle of 120 mm radius; spacing of divisions on a circle, machinists' handbooks"

VALUES = [
    *(
        (f"piston {CRANK} '{angle} before'", "position_mm", value, SLIDER)
        for angle, value in (
            (5, 0.17041211517261),
            (10, 0.6795691509085),
            (15, 1.5212659361083),
            (20, 2.6852696400977),
            (25, 4.1574831422027),
            (30, 5.920172922679),
            (60, 21.230671643651),
            (90, 40.0),
        )
    ),
    *(
        (f"piston {CRANK} {position}mm", "before_deg", value, SLIDER)
        for position, value in (
            ("0.5", 8.5730182874287),
            ("1", 12.142349566507),
            ("2", 17.224136485592),
            ("2.54", 19.442790634572),
            ("3", 21.160153538891),
            ("5", 27.489334157314),
            ("10", 39.517652797173),
        )
    ),
    (f"piston {CRANK} 0.1in", "after_deg", 19.442790634572, "0.1 in is 2.54 mm exactly"),
    (f"piston {CRANK} 2.000mm --hole-angle 30", "position_mm", 1.73205080757, "a hole leaning 30 degrees, flat crown"),
    (f"piston {CRANK} 2.000mm --hole-angle 30", "before_deg", 16.0157617888, "a hole leaning 30 degrees, flat crown"),
    (f"piston {CRANK} 4.157483142mm --offset 1mm", "before_deg", 25.3673969126 - 0.35810095337, "offset of 1 mm"),
    (f"piston {CRANK} 4.157483142mm --offset 1mm", "after_deg", 24.6320886898 + 0.35810095337, "offset of 1 mm"),
    *(
        (f"rim --diameter 240mm --degrees {angle}", name, value, CIRCLE)
        for angle, name, value in (
            (10, "tape_mm", 20.943951023932),
            (10, "callipers_mm", 20.917378259438),
            (20, "tape_mm", 41.887902047864),
            (20, "callipers_mm", 41.675562640063),
            (30, "tape_mm", 62.831853071796),
            (30, "callipers_mm", 62.116570824605),
            (60, "tape_mm", 125.66370614359),
            (60, "callipers_mm", 120.0),
        )
    ),
    ("rim --diameter 240mm --tape 62.0mm", "by_tape_deg", 29.602819415093, CIRCLE),
    ("rim --diameter 240mm --callipers 62.0mm", "by_callipers_deg", 29.942381991896, CIRCLE),
    *(
        (f"plates {angle} 90", "first_open_part", value, PLATE)
        for angle, value in (
            (12, 0.0067394122347),
            (15, 0.0191053521735),
            (20, 0.0456420322017),
            (30, 0.1201101070024),
            (45, 0.2803605920896),
            (60, 0.4872463383013),
            (90, 0.7470600781047),
        )
    ),
    ("plates 12 13", "air_ratio", 1.5671525194, PLATE),
    ("plates 30 31", "air_ratio", 1.0745017283, PLATE),
    *(
        (f"rpm --delay '{delay} us' --at 5000", "lost_deg", value, "6 N t")
        for delay, value in ((20, 0.6), (50, 1.5), (100, 3.0))
    ),
    ("rpm --lost 2 --between 300 5000", "delay_us", 70.9219858156, "2 degrees / (6 x 4700 rpm)"),
    ("compression 110 122 --unit psi", "spread_percent_of_highest", 9.8360655738, "12 / 122"),
    ("compression 110 122 --unit psi", "spread_percent_of_mean", 10.3448275862, "12 / 116"),
    ("compression 110 122 113 --unit psi", "spread_percent_of_mean", 10.4347826087, "12 / 115"),
    ("compression 110 122 --unit psi", "spread_percent_of_lowest", 10.9090909091, "12 / 110"),
    ("premix 1 US gal --ratio 1", "oil_mL", 3785.411784, "NIST SP 811: a US gallon is 3.785 411 784 L"),
    ("premix 1 imp gal --ratio 1", "oil_mL", 4546.09, "NIST SP 811: an imperial gallon is 4.546 09 L"),
    ("premix 1 US gal --ratio 1", "oil_us_fl_oz", 128.0, "NIST SP 811"),
    ("premix 1 imp gal --ratio 1", "oil_imp_fl_oz", 160.0, "NIST SP 811"),
    (
        "turn --target '28 before' 0 24.0 before 0.5 25.0 before 1 25.8 before 1.5 26.7 before",
        "degrees_a_turn_in",
        1.78,
        "line of least squares, JCGM 100 H.3",
    ),
    (
        "turn --target '28 before' 0 24.0 before 0.5 25.0 before 1 25.8 before 1.5 26.7 before",
        "turns_in",
        2.2247191011 - 1.5,
        "line of least squares, JCGM 100 H.3",
    ),
    ("deadcentre 31 before 27 after", "dead_centre_reading_deg", 2.0, "Rose, Modern Machine-Shop Practice"),
    ("deadcentre 31 before 27 after --uncertain 1", "standard_uncertainty_deg", 0.7071067812, "root of 2, over 2"),
    (f"deadcentre 10 before 10 after {CRANK} --stop-gave 0.05mm", "moved_by_give_deg", 0.185, "table of references"),
    (f"deadcentre 20 before 20 after {CRANK} --stop-gave 0.05mm", "moved_by_give_deg", 0.095, "table of references"),
    (
        f"deadcentre 25.00929596 before 24.99018964 after {CRANK} --offset 1mm",
        "moved_by_offset_deg",
        0.0095531581,
        "check value of references",
    ),
    (f"deadcentre 30 before 30 after {CRANK} --stop-gave 0.05mm", "moved_by_give_deg", 0.066, "table of references"),
]


@pytest.mark.parametrize(
    ("words", "name", "value", "source"), VALUES, ids=[f"{words} {name}" for words, name, _, _ in VALUES]
)
def test_check_values(words: str, name: str, value: float, source: str) -> None:
    tolerance = 5e-4 if source == "table of references" else 1e-9
    assert document(words)["values"][name] == pytest.approx(value, abs=tolerance)


def test_four_pairs_scatter_as_the_guide_says() -> None:
    """JCGM 100, 4.2 and 5.1.2: middles 2, 2.5, 1.5 and 2; s = root of (0.5 / 3), with 0.25 / root of 2 beside it."""
    found = document(
        "deadcentre 31 before 27 after --again 31 before 26 after --again 30 before 27 after --again 30.5 before "
        "26.5 after"
    )["values"]
    scatter = (0.5 / 3) ** 0.5
    assert found["dead_centre_reading_deg"] == 2.0
    assert found["scatter_deg"] == pytest.approx(scatter, abs=1e-12)
    assert found["standard_uncertainty_deg"] == pytest.approx((scatter**2 / 4 + 0.25**2 / 2) ** 0.5, abs=1e-12)
    assert found["expanded_uncertainty_deg"] == 2 * found["standard_uncertainty_deg"]
