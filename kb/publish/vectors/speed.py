"""Engine speed and electrical delay."""

from __future__ import annotations

from collections.abc import Iterator

from kb.calc.speed import degrees_of_delay, delay_between, frequency_from_rpm, rpm_from_frequency, true_rpm
from kb.publish.vectors.calculation import DEGREES, Calculation, Row, rows_of
from kb.publish.vectors.cases import powers, scattered, steps

SOURCE = "NIST SP 811, appendix B.8: one revolution a minute is 6 degrees a second"
RPM, PULSES = "1/min", "pulses a turn"


def _pulsed(first: str, *, most: float) -> Iterator[Row]:
    names = f"{first} pulses_per_turn"
    numbers = (*powers(-12, -1, "1"), *steps(most / 20, most, 19))
    for pulses in (0.5, 1.0, 2.0, 3.0, 4.0, 6.0, 12.0):
        yield from rows_of(names, *((number, pulses) for number in numbers))
    yield from rows_of(names, (0.0, 3.0), (-5.0, 3.0), (250.0, 0.0), (250.0, -1.0))


def _tachometers() -> Iterator[Row]:
    names = "shown set_for has"
    pairs = [(one, other) for one in (1.0, 2.0, 3.0, 4.0, 6.0, 12.0) for other in (0.5, 1.0, 2.0, 3.0, 5.0, 6.0)]
    yield from rows_of(names, *((shown, *pair) for pair in pairs for shown in (300.0, 850.0, 3000.0, 5250.0, 6000.0)))
    yield from rows_of(names, *scattered(60, (200, 6500), (1, 12), (1, 12), places=1))
    yield from rows_of(names, (0.0, 4.0, 6.0), (3000.0, 0.0, 6.0), (3000.0, 4.0, -1.0))


def _delays() -> Iterator[Row]:
    yield from rows_of("seconds rpm", *((seconds, 5000.0) for seconds in (0.0, *powers(-12, -2))))
    yield from rows_of("seconds rpm", *((50e-6, rpm) for rpm in steps(100, 6500, 64)))
    yield from rows_of("seconds rpm", *scattered(120, (0, 0.001), (100, 6500), places=6))
    yield from rows_of("seconds rpm", (-1e-6, 300.0), (50e-6, 0.0), (50e-6, -300.0))


def _between() -> Iterator[Row]:
    names = "degrees_lost slow_rpm fast_rpm"
    yield from rows_of(names, *((lost, 300.0, 5000.0) for lost in (0.0, -1.0, *powers(-12, 0), *steps(0.25, 5, 19))))
    yield from rows_of(names, *scattered(160, (-4, 4), (150, 900), (1000, 6500), places=1))
    yield from rows_of(names, (2.0, 5000.0, 300.0), (2.0, 300.0, 300.0), (2.0, 0.0, 300.0), (2.0, -10.0, 300.0))


CALCULATIONS = (
    Calculation(
        "rpm-from-frequency",
        "60 f / pulses a turn",
        SOURCE,
        {"frequency": "Hz", "pulses_per_turn": PULSES},
        {"rpm": RPM},
        lambda: _pulsed("frequency", most=1200),
        lambda **given: {"rpm": rpm_from_frequency(**given)},
    ),
    Calculation(
        "frequency-from-rpm",
        "speed times pulses a turn / 60",
        SOURCE,
        {"rpm": RPM, "pulses_per_turn": PULSES},
        {"frequency": "Hz"},
        lambda: _pulsed("rpm", most=6500),
        lambda **given: {"frequency": frequency_from_rpm(**given)},
    ),
    Calculation(
        "true-rpm",
        "the true speed where a tachometer is set for other pulses than the engine gives: shown times set_for / has",
        SOURCE,
        {"shown": RPM, "set_for": PULSES, "has": PULSES},
        {"rpm": RPM},
        _tachometers,
        lambda **given: {"rpm": true_rpm(**given)},
    ),
    Calculation(
        "delay-degrees",
        "degrees of crank that pass during a delay: 6 N t",
        SOURCE,
        {"seconds": "s", "rpm": RPM},
        {"angle": DEGREES},
        _delays,
        lambda **given: {"angle": degrees_of_delay(**given)},
    ),
    Calculation(
        "delay-between",
        "the constant delay that loses so many degrees between two speeds: degrees / (6 (fast - slow))",
        SOURCE,
        {"degrees_lost": DEGREES, "slow_rpm": RPM, "fast_rpm": RPM},
        {"seconds": "s"},
        _between,
        lambda **given: {"seconds": delay_between(**given)},
    ),
)
