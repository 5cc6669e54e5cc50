"""Units by the key that a contributor types, with exact factors to the unit each dimension is compared in.

Factors are exact by definition (NIST SP 811, 2008 edition, appendix B.8; the international inch, foot, pound and
standard gravity), except that 1 hp is the mechanical horsepower of 550 foot pounds-force a second. Codes are those of
the Unified Code for Units of Measure, version 2.2; where UCUM has no unit of its own the code is a UCUM expression.
"""

from __future__ import annotations

from enum import StrEnum
from fractions import Fraction
from functools import cache

from kb.errors import UnitsNotComparable, UnknownUnit
from kb.frozen import record
from kb.quantity.form import Side


class Dimension(StrEnum):
    """What is measured; only quantities of one dimension are compared."""

    CRANK_ANGLE = "crank-angle"
    PISTON_POSITION = "piston-position"
    ANGLE = "angle"
    LENGTH = "length"
    ROTATIONAL_SPEED = "rotational-speed"
    POWER = "power"
    PRESSURE = "pressure"
    TORQUE = "torque"
    VOLUME = "volume"
    VOLTAGE = "voltage"
    RATIO = "ratio"
    TURNS = "turns"
    TIME = "time"
    TEMPERATURE = "temperature"
    TEMPERATURE_DIFFERENCE = "temperature-difference"
    ORDER = "order"
    MARK = "mark"
    CODE = "code"
    CORRECTION = "correction"


@record()
class Unit:
    """One unit: ``value * factor + offset`` is the value in the dimension's own unit."""

    key: str
    dimension: Dimension
    symbol: str
    name: str
    ucum: str
    factor: Fraction = Fraction(1)
    offset: Fraction = Fraction(0)
    fractions: bool = False
    signed: bool = False

    def convert(self, value: Fraction, to: Unit) -> Fraction:
        """The value in another unit of the same dimension, exactly.

        Raises:
            UnitsNotComparable: the other unit measures something else.
        """
        if to.dimension is not self.dimension:
            raise UnitsNotComparable(f"{self.name} measures {self.dimension}, {to.name} measures {to.dimension}")
        if to is self:
            return value
        ratio, shift = _scale(self.key, to.key)
        return value * ratio + shift if shift else value * ratio

    def ratio(self, to: Unit) -> Fraction:
        """How many of another unit of the same dimension a difference of one of this unit is; no offset is added."""
        return _scale(self.key, to.key)[0]


@cache
def _scale(key: str, to: str) -> tuple[Fraction, Fraction]:
    """The factor and the offset that convert a value from one unit to another."""
    one, other = UNITS[key], UNITS[to]
    return one.factor / other.factor, (one.offset - other.offset) / other.factor


_INCH = Fraction("25.4")
_POUND_FORCE = Fraction("0.45359237") * Fraction("9.80665")
_KILOGRAM_FORCE = Fraction("9.80665")
_FOOT = Fraction("0.3048")
_US_GALLON = Fraction("3785.411784")
_IMPERIAL_GALLON = Fraction("4546.09")
_D = Dimension

DEGREE_OF_CRANK = Unit("crank_deg", _D.CRANK_ANGLE, "°", "degree of crank", "deg")
PISTON_MM = Unit("piston_mm", _D.PISTON_POSITION, "mm", "millimetre of piston travel", "mm")
PISTON_IN = Unit("piston_in", _D.PISTON_POSITION, "in", "inch of piston travel", "[in_i]", _INCH, fractions=True)

_ALL = (
    DEGREE_OF_CRANK,
    PISTON_MM,
    PISTON_IN,
    Unit("deg", _D.ANGLE, "°", "degree", "deg"),
    Unit("mm", _D.LENGTH, "mm", "millimetre", "mm"),
    Unit("in", _D.LENGTH, "in", "inch", "[in_i]", _INCH, fractions=True),
    Unit("m", _D.LENGTH, "m", "metre", "m", Fraction(1000)),
    Unit("ft", _D.LENGTH, "ft", "foot", "[ft_i]", _FOOT * 1000),
    Unit("rpm", _D.ROTATIONAL_SPEED, "rpm", "revolution per minute", "{rev}/min"),
    Unit("kW", _D.POWER, "kW", "kilowatt", "kW", Fraction(1000)),
    Unit("hp", _D.POWER, "hp", "horsepower (550 ft lbf/s)", "[HP]", 550 * _FOOT * _POUND_FORCE),
    Unit("PS", _D.POWER, "PS", "metric horsepower (75 kgf m/s)", "75.kgf.m/s", 75 * _KILOGRAM_FORCE),
    Unit("kPa", _D.PRESSURE, "kPa", "kilopascal", "kPa", Fraction(1000)),
    Unit("bar", _D.PRESSURE, "bar", "bar", "bar", Fraction(100_000)),
    Unit("psi", _D.PRESSURE, "psi", "pound-force per square inch", "[psi]", _POUND_FORCE / (_INCH / 1000) ** 2),
    Unit(
        "kgf_cm2", _D.PRESSURE, "kgf/cm²", "kilogram-force per square centimetre", "kgf/cm2", _KILOGRAM_FORCE * 10_000
    ),
    Unit("Nm", _D.TORQUE, "N m", "newton metre", "N.m"),
    Unit("lbf_ft", _D.TORQUE, "lbf ft", "pound-force foot", "[lbf_av].[ft_i]", _POUND_FORCE * _FOOT),
    Unit("lbf_in", _D.TORQUE, "lbf in", "pound-force inch", "[lbf_av].[in_i]", _POUND_FORCE * _INCH / 1000),
    Unit("kgf_m", _D.TORQUE, "kgf m", "kilogram-force metre", "kgf.m", _KILOGRAM_FORCE),
    Unit("cm3", _D.VOLUME, "cm³", "cubic centimetre", "cm3"),
    Unit("mL", _D.VOLUME, "mL", "millilitre", "mL"),
    Unit("L", _D.VOLUME, "L", "litre", "L", Fraction(1000)),
    Unit("us_gal", _D.VOLUME, "US gal", "US gallon", "[gal_us]", _US_GALLON),
    Unit("imp_gal", _D.VOLUME, "imp gal", "imperial gallon", "[gal_br]", _IMPERIAL_GALLON),
    Unit("us_fl_oz", _D.VOLUME, "US fl oz", "US fluid ounce", "[foz_us]", _US_GALLON / 128),
    Unit("imp_fl_oz", _D.VOLUME, "imp fl oz", "imperial fluid ounce", "[foz_br]", _IMPERIAL_GALLON / 160),
    Unit("V", _D.VOLTAGE, "V", "volt", "V"),
    Unit("to_one", _D.RATIO, ":1", "to one", "1"),
    Unit("turns", _D.TURNS, "turns", "turn", "{turn}", fractions=True),
    Unit("s", _D.TIME, "s", "second", "s"),
    Unit("ms", _D.TIME, "ms", "millisecond", "ms", Fraction(1, 1000)),
    Unit("us", _D.TIME, "µs", "microsecond", "us", Fraction(1, 1_000_000)),
    Unit("min", _D.TIME, "min", "minute", "min", Fraction(60)),
    Unit("h", _D.TIME, "h", "hour", "h", Fraction(3600)),
    Unit("degC", _D.TEMPERATURE, "°C", "degree Celsius", "Cel", offset=Fraction("273.15"), signed=True),
    Unit(
        "degF",
        _D.TEMPERATURE,
        "°F",
        "degree Fahrenheit",
        "[degF]",
        Fraction(5, 9),
        Fraction("273.15") - 32 * Fraction(5, 9),
        signed=True,
    ),
    Unit("delta_degC", _D.TEMPERATURE_DIFFERENCE, "°C", "Celsius degree of difference", "K"),
    Unit("delta_degF", _D.TEMPERATURE_DIFFERENCE, "°F", "Fahrenheit degree of difference", "K.5/9", Fraction(5, 9)),
)

UNITS: dict[str, Unit] = {unit.key: unit for unit in _ALL}
"""Every unit that has a factor, by key; crank angles stand under ``btdc``, ``atdc``, ``tdc``, ``from`` and ``to``."""

SIDE_KEYS = (Side.BEFORE.value, Side.AFTER.value)
"""The keys of an angle, or of a piston position, that is away from top dead centre."""

CRANK_KEYS = (*SIDE_KEYS, Side.CENTRE.value, "from", "to")
WORD_KEYS = ("mark", "code", "order")
CORRECTION_KEYS = ("cranking_earlier", "cranking_later", "by_rpm")
PLAIN_KEYS = tuple(key for key in UNITS if key not in ("crank_deg", "piston_mm", "piston_in"))
VALUE_KEYS = (*CRANK_KEYS, *PLAIN_KEYS, *WORD_KEYS, *CORRECTION_KEYS)
"""Every key that may hold a statement's value."""

KEY_DIMENSIONS: dict[str, Dimension] = {
    **dict.fromkeys(CRANK_KEYS, _D.CRANK_ANGLE),
    **{key: UNITS[key].dimension for key in PLAIN_KEYS},
    **{key: Dimension(key) for key in WORD_KEYS},
    **dict.fromkeys(CORRECTION_KEYS, _D.CORRECTION),
}
"""What each value key measures."""


def unit_of(key: str) -> Unit:
    """The unit with that key.

    Raises:
        UnknownUnit: there is none.
    """
    try:
        return UNITS[key]
    except KeyError:
        raise UnknownUnit(f"no unit {key!r}; units are {', '.join(PLAIN_KEYS)}") from None
