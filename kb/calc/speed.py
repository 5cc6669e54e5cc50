"""Engine speed, and how many degrees a constant electrical delay is at a speed.

One revolution per minute is 6 degrees a second (NIST SP 811, appendix B.8: 1 r/min = 1.047 198 E-01 rad/s).
"""

from __future__ import annotations

from kb.calc.finite import require_finite
from kb.errors import GeometryImpossible


def _require(positive: float, what: str) -> None:
    require_finite(positive)
    if positive <= 0:
        raise GeometryImpossible(f"{what} is positive, not {positive}")


def rpm_from_frequency(frequency: float, pulses_per_turn: float) -> float:
    """Revolutions per minute from a frequency in hertz and the pulses in one turn of the crank.

    A two-stroke cylinder fires once a turn, a four-stroke cylinder every second turn (0.5).

    Raises:
        GeometryImpossible: a number is not positive.
        NotFinite: a number is not finite.

    >>> rpm_from_frequency(250, 3)
    5000.0
    """
    _require(frequency, "a frequency")
    _require(pulses_per_turn, "the number of pulses in a turn")
    return 60 * frequency / pulses_per_turn


def frequency_from_rpm(rpm: float, pulses_per_turn: float) -> float:
    """The frequency in hertz of pulses at a speed in revolutions per minute.

    Raises:
        GeometryImpossible: a number is not positive.
        NotFinite: a number is not finite.

    >>> frequency_from_rpm(5000, 3)
    250.0
    """
    _require(rpm, "a speed")
    _require(pulses_per_turn, "the number of pulses in a turn")
    return rpm * pulses_per_turn / 60


def true_rpm(shown: float, set_for: float, has: float) -> float:
    """The true speed where a tachometer is set for another number of pulses in a turn than the engine gives.

    Raises:
        GeometryImpossible: a number is not positive.
        NotFinite: a number is not finite.

    >>> true_rpm(3000, 4, 6)
    2000.0
    """
    _require(shown, "a speed")
    _require(set_for, "the number of pulses in a turn")
    _require(has, "the number of pulses in a turn")
    return shown * set_for / has


def degrees_of_delay(seconds: float, rpm: float) -> float:
    """Degrees of crank that pass during a delay: 6 N t.

    ``seconds`` of delay, not negative; ``rpm`` positive.

    Raises:
        GeometryImpossible: the delay is negative or the speed not positive.
        NotFinite: a number is not finite.

    >>> round(degrees_of_delay(50e-6, 5000), 12)
    1.5
    """
    _require(rpm, "a speed")
    require_finite(seconds)
    if seconds < 0:
        raise GeometryImpossible("a delay is not negative")
    return 6 * rpm * seconds


def delay_between(degrees_lost: float, slow_rpm: float, fast_rpm: float) -> float:
    """The constant delay in seconds that loses so many degrees between two speeds.

    Raises:
        GeometryImpossible: the speeds are not positive, or the second is not the faster.
        NotFinite: a number is not finite.

    >>> round(delay_between(2, 300, 5000) * 1e6, 1)
    70.9
    """
    _require(slow_rpm, "a speed")
    _require(fast_rpm, "a speed")
    require_finite(degrees_lost)
    if fast_rpm <= slow_rpm:
        raise GeometryImpossible("the second speed is the faster")
    return degrees_lost / (6 * (fast_rpm - slow_rpm))
