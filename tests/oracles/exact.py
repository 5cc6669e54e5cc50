"""What is whole or a fraction: corrections, targets, firing orders, speeds, mixtures, gaps."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise
from typing import Any

from tests.oracles.digits import Oracle, Refused

IMPOSSIBLE = "GeometryImpossible"
CONTRADICT = "ReadingsContradict"
F = Fraction
# NIST SP 811, appendix B.8: the gallons in litres, 128 US and 160 imperial fluid ounces to theirs
US, IMPERIAL = F("3.785411784"), F("4.54609")
LITRES = {
    "us_gal": US,
    "us_fl_oz": US / 128,
    "imp_gal": IMPERIAL,
    "imp_fl_oz": IMPERIAL / 160,
    "L": F(1),
    "mL": F(1, 1000),
    "cm3": F(1, 1000),
}


def correction(points: list[list[str | None]], rpm: str | None) -> dict[str, Any]:
    if not points:
        raise Refused("NoCorrectionKnown")
    if [speed for speed, _ in points] == [None]:
        return {"correction": F(str(points[0][1]))}
    speeds = [None if speed is None else F(speed) for speed, _ in points]
    if None in speeds or any(low >= high for low, high in pairwise(filter(None, speeds))):
        raise Refused(CONTRADICT)
    if rpm is None:
        raise Refused("NoCorrectionKnown")
    table = {F(str(speed)): F(str(degrees)) for speed, degrees in points}
    at = F(rpm)
    if at in table:
        return {"correction": table[at]}
    below, above = [speed for speed in table if speed < at], [speed for speed in table if speed > at]
    if not below or not above:
        raise Refused("Extrapolation")
    low, high = max(below), min(above)
    return {"correction": (table[low] * (high - at) + table[high] * (at - low)) / (high - low)}


def indicated_target(limit: str, dead_centre_reading: str, margin: str, step: str) -> dict[str, Any]:
    if F(margin) < 0 or F(step) <= 0:
        raise Refused(IMPOSSIBLE)
    aimed = F(limit) + F(dead_centre_reading) - F(margin)
    return {"indicated": aimed - aimed % F(step)}


def judging(
    reading: str, low: str | None, high: str | None, late_allowance: str, early_allowance: str
) -> dict[str, Any]:
    if F(late_allowance) < 0 or F(early_allowance) < 0:
        raise Refused(IMPOSSIBLE)
    at = F(reading)
    if low is not None and high is not None and F(low) > F(high):
        raise Refused("WindowInverted")
    if high is not None and at - F(early_allowance) > F(high):
        return {"off": "early", "degrees": at - F(high)}
    if low is not None and at + F(late_allowance) < F(low):
        return {"off": "late", "degrees": F(low) - at}
    return {"off": "inside", "degrees": F(0)}


def firing_angles(order: list[int], even_fire: bool | None, four_stroke: bool) -> dict[str, Any]:
    if not order or set(order) != set(range(1, len(order) + 1)) or len(set(order)) < len(order):
        raise Refused(IMPOSSIBLE)
    if len(order) > 1 and not even_fire:
        raise Refused("OddFire")
    interval = F(720 if four_stroke else 360, len(order))
    return {"angles": {str(cylinder): order.index(cylinder) * interval % 360 for cylinder in order}}


def on_marks_of_the_first(
    angle: float, cylinder: int, order: list[int], even_fire: bool | None, four_stroke: bool
) -> dict[str, Any]:
    places = firing_angles(order, even_fire, four_stroke)["angles"]
    if str(cylinder) not in places:
        raise Refused(IMPOSSIBLE)
    shown = (F(angle) - places[str(cylinder)]) % 360
    return {"shown": shown - 360 if shown > 180 else shown}


def _positive(*numbers: float) -> list[Fraction]:
    if min(numbers) <= 0:
        raise Refused(IMPOSSIBLE)
    return [F(number) for number in numbers]


def rpm_from_frequency(frequency: float, pulses_per_turn: float) -> dict[str, Any]:
    hertz, pulses = _positive(frequency, pulses_per_turn)
    return {"rpm": hertz / pulses * 60}


def frequency_from_rpm(rpm: float, pulses_per_turn: float) -> dict[str, Any]:
    speed, pulses = _positive(rpm, pulses_per_turn)
    return {"frequency": speed / 60 * pulses}


def true_rpm(shown: float, set_for: float, has: float) -> dict[str, Any]:
    speed, taken, given = _positive(shown, set_for, has)
    return {"rpm": speed / given * taken}


def delay_degrees(seconds: float, rpm: float) -> dict[str, Any]:
    (speed,) = _positive(rpm)
    if seconds < 0:
        raise Refused(IMPOSSIBLE)
    return {"angle": F(seconds) * speed / 60 * 360}


def delay_between(degrees_lost: float, slow_rpm: float, fast_rpm: float) -> dict[str, Any]:
    slow, fast = _positive(slow_rpm, fast_rpm)
    if slow >= fast:
        raise Refused(IMPOSSIBLE)
    return {"seconds": F(degrees_lost) / 360 / (fast / 60 - slow / 60)}


def compression_spread(readings: list[float]) -> dict[str, Any]:
    if len(readings) < 2 or min(readings) <= 0:
        raise Refused(CONTRADICT)
    exact = sorted(F(reading) for reading in readings)
    mean = sum(exact) / len(exact)
    of = {"of_highest": exact[-1], "of_mean": mean, "of_lowest": exact[0]}
    return {
        "lowest": exact[0],
        "highest": exact[-1],
        "mean": mean,
        **{name: (exact[-1] - exact[0]) / bottom * 100 for name, bottom in of.items()},
    }


def _litres(volume: Fraction, unit: str) -> Fraction:
    if unit not in LITRES:
        raise Refused("UnitsNotComparable")
    return volume * LITRES[unit]


def premix_oil(petrol: str, ratio: str, petrol_unit: str, oil_unit: str) -> dict[str, Any]:
    if F(petrol) < 0 or F(ratio) < 1:
        raise Refused(IMPOSSIBLE)
    return {"oil": _litres(F(petrol), petrol_unit) / F(ratio) / _litres(F(1), oil_unit)}


def premix_ratio(petrol: str, oil: str, petrol_unit: str, oil_unit: str) -> dict[str, Any]:
    if F(petrol) < 0 or F(oil) <= 0:
        raise Refused(IMPOSSIBLE)
    return {"ratio": _litres(F(petrol), petrol_unit) / _litres(F(oil), oil_unit)}


def _settled(readings: list[list[float]]) -> list[tuple[Fraction, Fraction]]:
    table = sorted((F(at), F(value)) for at, value in readings)
    if len(table) < 2 or len({at for at, _ in table}) < len(table):
        raise Refused(CONTRADICT)
    return table


def breaker_gap_timing(readings: list[list[float]], gap: float) -> dict[str, Any]:
    table = _settled(readings)
    timings = [timing for _, timing in table]
    if timings != sorted(timings):
        raise Refused(CONTRADICT)
    at = F(gap)
    for (low, first), (high, last) in pairwise(table):
        if low <= at <= high:
            return {"timing": (first * (high - at) + last * (at - low)) / (high - low)}
    raise Refused("Extrapolation")


def first_contact(readings: list[list[float]]) -> dict[str, Any]:
    table = _settled(readings)
    gaps = [gap for _, gap in table]
    if gaps != sorted(gaps, reverse=True) or gaps[0] <= 0:
        raise Refused(CONTRADICT)
    if gaps[-1] > 0:
        raise Refused("Extrapolation")
    return {
        "open_at": max(angle for angle, gap in table if gap > 0),
        "shut_at": min(angle for angle, gap in table if gap <= 0),
    }


ORACLES: dict[str, Oracle] = {
    "correction": correction,
    "cranking-from-running": lambda angle, correction: {"cranking": F(angle) + F(correction)},
    "running-from-cranking": lambda angle, correction: {"running": F(angle) - F(correction)},
    "indicated-target": indicated_target,
    "running-of-indicated": lambda indicated, dead_centre_reading, correction: {
        "running": F(indicated) - F(dead_centre_reading) - F(correction)
    },
    "judging": judging,
    "firing-angles": firing_angles,
    "on-marks-of-the-first": on_marks_of_the_first,
    "rpm-from-frequency": rpm_from_frequency,
    "frequency-from-rpm": frequency_from_rpm,
    "true-rpm": true_rpm,
    "delay-degrees": delay_degrees,
    "delay-between": delay_between,
    "compression-spread": compression_spread,
    "premix-oil": premix_oil,
    "premix-ratio": premix_ratio,
    "breaker-gap-timing": breaker_gap_timing,
    "first-contact": first_contact,
}
