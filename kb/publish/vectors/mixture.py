"""Compression readings compared, and petrol with oil."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from kb.calc.compression import apart
from kb.calc.premix import oil_for, ratio_of
from kb.publish.vectors.calculation import Calculation, Row, rows_of
from kb.publish.vectors.cases import powers, scattered
from kb.quantity import UNITS

UNIT_PAIRS = (
    ("us_gal", "us_fl_oz"),
    ("imp_gal", "imp_fl_oz"),
    ("L", "mL"),
    ("us_gal", "mL"),
    ("imp_gal", "mL"),
    ("L", "us_fl_oz"),
    ("us_gal", "imp_fl_oz"),
    ("imp_gal", "us_fl_oz"),
    ("L", "cm3"),
)
VOLUME = "an exact fraction as text, in the unit named"
NAMED = "us_gal, imp_gal, L, mL, cm3, us_fl_oz or imp_fl_oz"
UNITS_NAMED = {"petrol_unit": NAMED, "oil_unit": NAMED}


def _pressures() -> Iterator[Row]:
    for readings in (
        [110.0, 122.0],
        [110.0, 122.0, 118.0],
        [120.0, 120.0],
        [110.0],
        [],
        [110.0, 0.0],
        [-5.0, 110.0],
        [0.5, 0.75],
    ):
        yield {"readings": readings}
    yield from ({"readings": [100.0, 100.0 + size]} for size in powers(-9, 1))
    for count in (2, 3, 4, 6):
        yield from ({"readings": list(row)} for row in scattered(50, *((60, 180) for _ in range(count)), places=1))


def _volumes(last: str) -> Iterator[Row]:
    names = f"petrol {last} petrol_unit oil_unit"
    for units in UNIT_PAIRS:
        for petrol in ("6", "1", "5", "5/2", "0", "1/3"):
            yield from rows_of(names, *((petrol, other, *units) for other in ("50", "16", "24", "100", "99/2")))
    yield from rows_of(names, ("1", "1/2", "L", "mL"), ("-1", "50", "L", "mL"), ("1", "50", "L", "mm"))
    yield from rows_of(names, ("1", "0", "L", "mL"), ("1", "-50", "L", "mL"), ("1", "1", "us_gal", "L"))


def _apart(readings: list[float]) -> Row:
    found = apart(readings)
    return {
        "lowest": found.lowest,
        "highest": found.highest,
        "mean": found.mean,
        "of_highest": found.of_highest,
        "of_mean": found.of_mean,
        "of_lowest": found.of_lowest,
    }


def _oil(petrol: str, ratio: str, petrol_unit: str, oil_unit: str) -> Row:
    return {"oil": str(oil_for(Fraction(petrol), Fraction(ratio), UNITS[petrol_unit], UNITS[oil_unit]))}


def _ratio(petrol: str, oil: str, petrol_unit: str, oil_unit: str) -> Row:
    return {"ratio": str(ratio_of(Fraction(petrol), Fraction(oil), UNITS[petrol_unit], UNITS[oil_unit]))}


CALCULATIONS = (
    Calculation(
        "compression-spread",
        "highest less lowest, as percent of the highest, of the mean and of the lowest",
        "by definition; the denominator is named because the three differ",
        {"readings": "list of pressures in one unit"},
        {
            "lowest": "the readings' unit",
            "highest": "the readings' unit",
            "mean": "the readings' unit",
            "of_highest": "percent",
            "of_mean": "percent",
            "of_lowest": "percent",
        },
        _pressures,
        _apart,
    ),
    Calculation(
        "premix-oil",
        "the oil for a volume of petrol: petrol / ratio, converted exactly; 1 us_gal = 3.785411784 L, 1 imp_gal = "
        "4.54609 L, 128 us_fl_oz or 160 imp_fl_oz to their gallon; a ratio under 1 is refused",
        "NIST SP 811, appendix B.8",
        {"petrol": VOLUME, "ratio": "parts of petrol to one of oil", **UNITS_NAMED},
        {"oil": VOLUME},
        lambda: _volumes("ratio"),
        _oil,
        relative=0.0,
    ),
    Calculation(
        "premix-ratio",
        "parts of petrol to one of oil of two volumes, converted exactly as in premix-oil",
        "NIST SP 811, appendix B.8",
        {"petrol": VOLUME, "oil": VOLUME, **UNITS_NAMED},
        {"ratio": "parts of petrol to one of oil, an exact fraction as text"},
        lambda: _volumes("oil"),
        _ratio,
        relative=0.0,
    ),
)
