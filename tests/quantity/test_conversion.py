"""Conversions: the factors against NIST SP 811, against pint in exact fractions, and against UCUM by its own parser."""

from __future__ import annotations

from fractions import Fraction
from itertools import permutations

import pint
import pytest
from ucumvert import PintUcumRegistry

from kb.quantity import PLAIN_KEYS, UNITS, Quantity, read_value, write_value

F = Fraction

# NIST Special Publication 811 (2008), appendix B.8, "Factors for units listed alphabetically": the digits as
# printed there, times a power of ten, since it names the coherent unit and this table one of the book's.
NIST = [
    ("in", "2.54", -2, "m", "inch (in)"),
    ("ft", "3.048", -1, "m", "foot (ft)"),
    ("lbf_ft", "1.355818", 0, "Nm", "pound-force foot (lbf ft)"),
    ("lbf_in", "1.129848", -1, "Nm", "pound-force inch (lbf in)"),
    ("kgf_m", "9.80665", 0, "Nm", "kilogram-force meter (kgf m)"),
    ("hp", "7.456999", -1, "kW", "horsepower (550 ft lbf/s)"),
    ("PS", "7.354988", -1, "kW", "horsepower (metric)"),
    ("psi", "6.894757", 0, "kPa", "pound-force per square inch (psi)"),
    ("kgf_cm2", "9.80665", 1, "kPa", "kilogram-force per square centimeter (kgf/cm2)"),
    ("bar", "1.0", 2, "kPa", "bar (bar)"),
    ("us_gal", "3.785412", 0, "L", "gallon (U.S.) (gal)"),
    ("imp_gal", "4.54609", 0, "L", "gallon [Canadian and U.K. (Imperial)] (gal)"),
    ("us_fl_oz", "2.957353", 1, "cm3", "ounce (U.S. fluid) (fl oz)"),
    ("imp_fl_oz", "2.841306", 1, "cm3", "ounce [Canadian and U.K. fluid (Imperial)] (fl oz)"),
    ("h", "3.6", 3, "s", "hour (h)"),
    ("min", "6.0", 1, "s", "minute (min)"),
]


@pytest.mark.parametrize(("unit", "digits", "power", "to", "named"), NIST, ids=[row[4] for row in NIST])
def test_factors_are_those_of_nist_sp_811(unit: str, digits: str, power: int, to: str, named: str) -> None:
    factor = UNITS[unit].convert(F(1), UNITS[to]) / F(10) ** power
    decimals = len(digits.partition(".")[2])
    assert round(factor, decimals) == F(digits), f"{named}: {float(factor)}"


# Exact by definition: the inch and the pound of 1959 and the standard gravity of 1901 (NIST SP 811, B.8, in bold); the
# US gallon of 231 cubic inches (NIST Handbook 44, appendix C); the imperial gallon (UK Units of Measurement Regulations
# 1995); these two from memory.
EXACT = [
    ("in", "mm", "25.4"),
    ("ft", "mm", "304.8"),
    ("kgf_m", "Nm", "9.80665"),
    ("us_gal", "L", "3.785411784"),
    ("imp_gal", "L", "4.54609"),
    ("us_gal", "us_fl_oz", "128"),
    ("imp_gal", "imp_fl_oz", "160"),
    ("lbf_ft", "lbf_in", "12"),
    ("L", "mL", "1000"),
    ("mL", "cm3", "1"),
    ("m", "mm", "1000"),
    ("ms", "us", "1000"),
]


@pytest.mark.parametrize(("unit", "to", "factor"), EXACT)
def test_factors_that_are_exact_by_definition(unit: str, to: str, factor: str) -> None:
    assert UNITS[unit].convert(F(1), UNITS[to]) == F(factor)


PINT = {
    "mm": "mm",
    "in": "inch",
    "m": "m",
    "ft": "foot",
    "kW": "kW",
    "hp": "horsepower",
    "PS": "metric_horsepower",
    "kPa": "kPa",
    "bar": "bar",
    "psi": "psi",
    "kgf_cm2": "kgf/cm**2",
    "Nm": "N*m",
    "lbf_ft": "lbf*ft",
    "lbf_in": "lbf*inch",
    "kgf_m": "kgf*m",
    "cm3": "cm**3",
    "mL": "mL",
    "L": "L",
    "us_gal": "gallon",
    "imp_gal": "imperial_gallon",
    "us_fl_oz": "fluid_ounce",
    "imp_fl_oz": "imperial_fluid_ounce",
    "s": "s",
    "ms": "ms",
    "us": "us",
    "min": "min",
    "h": "h",
    "degC": "degC",
    "degF": "degF",
    "delta_degC": "delta_degC",
    "delta_degF": "delta_degF",
    "V": "V",
}


@pytest.fixture(scope="module")
def registry() -> pint.UnitRegistry[Fraction]:
    return pint.UnitRegistry(non_int_type=Fraction)


SAME_DIMENSION = [
    (one, other) for one, other in permutations(PINT, 2) if UNITS[one].dimension is UNITS[other].dimension
]


@pytest.mark.parametrize(("one", "other"), SAME_DIMENSION)
def test_every_pair_converts_as_in_pint_exactly(registry: pint.UnitRegistry[Fraction], one: str, other: str) -> None:
    for value in (F(1), F(37, 4), F(-40) if UNITS[one].signed else F(0)):
        expected = registry.Quantity(value, PINT[one]).to(PINT[other]).magnitude
        assert UNITS[one].convert(value, UNITS[other]) == F(expected)


@pytest.fixture(scope="module")
def ucum() -> PintUcumRegistry:
    return PintUcumRegistry()


_BASE = {
    "length": "mm",
    "power": "W",
    "pressure": "Pa",
    "torque": "N*m",
    "volume": "cm**3",
    "time": "s",
    "temperature-difference": "kelvin",
    "voltage": "V",
    "piston-position": "mm",
    "ratio": "",
    "angle": "degree",
    "crank-angle": "degree",
}
SCALED = [key for key, unit in UNITS.items() if unit.dimension.value in _BASE]


@pytest.mark.parametrize("key", SCALED)
def test_ucum_codes_mean_the_same_factor(ucum: PintUcumRegistry, key: str) -> None:
    unit = UNITS[key]
    coded = ucum.from_ucum(unit.ucum).to(_BASE[unit.dimension.value]).magnitude
    assert coded == pytest.approx(float(unit.factor), rel=1e-12)


@pytest.mark.parametrize(("code", "base"), [("Cel", F("273.15")), ("[degF]", F(459670, 1000) * F(5, 9))])
def test_ucum_codes_of_temperatures_mean_the_same_point(ucum: PintUcumRegistry, code: str, base: Fraction) -> None:
    unit = next(unit for unit in UNITS.values() if unit.ucum == code)
    assert unit.offset == base
    parsed = ucum.from_ucum(code)
    assert ucum.Quantity(0, parsed.units).to("kelvin").magnitude == pytest.approx(float(base), rel=1e-12)


def test_ucum_codes_of_turns_are_counts(ucum: PintUcumRegistry) -> None:
    # UCUM 2.2, section 12: an annotation in braces stands for the number one, so rpm is per minute and a turn is one
    assert ucum.from_ucum("1" + UNITS["turns"].ucum).magnitude == 1
    assert ucum.from_ucum(UNITS["rpm"].ucum).to("1/s").magnitude == pytest.approx(1 / 60)


def test_every_unit_is_checked_against_ucum() -> None:
    assert {*SCALED, "degC", "degF", "turns", "rpm"} == set(UNITS)
    assert set(PINT) | {"deg", "rpm", "to_one", "turns"} == set(PLAIN_KEYS)


# What a page prints beside its first unit: rounded to the precision that the first one claims.
PRINTED = [
    ({"in": "0.030"}, "mm", {"mm": "0.76"}),
    ({"in": "7/64"}, "mm", {"mm": "2.8"}),  # a sixty-fourth is 0.4 mm: tenths are kept
    ({"in": "3 7/16"}, "mm", {"mm": "87"}),  # a sixteenth is 1.6 mm: whole millimetres are
    ({"mm": "0.76"}, "in", {"in": "0.0299"}),
    ({"lbf_ft": ["95", "105"]}, "Nm", {"Nm": ["129", "142"]}),
    ({"psi": ["105", "125"]}, "kPa", {"kPa": ["724", "862"]}),
    ({"us_fl_oz": "16"}, "mL", {"mL": "473"}),
    ({"hp": "47"}, "kW", {"kW": "35.0"}),
    ({"degF": "68"}, "degC", {"degC": "20.0"}),
    ({"degF": {"nominal": "68", "plus_minus": "9"}}, "degC", {"degC": {"nominal": "20.0", "plus_minus": "5.0"}}),
    ({"V": {"at_least": "9.6"}}, "V", {"V": {"at_least": "9.6"}}),
]


@pytest.mark.parametrize(("document", "unit", "printed"), PRINTED, ids=lambda value: str(value)[:40])
def test_a_conversion_is_rounded_to_the_printed_precision(
    document: dict[str, object], unit: str, printed: dict[str, object]
) -> None:
    value = read_value(document)
    assert isinstance(value, Quantity)
    assert write_value(value.to(UNITS[unit])) == printed
