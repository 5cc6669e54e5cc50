"""Engine speed from sparks or from a tachometer set for another engine; and the degrees that a constant delay loses."""

from __future__ import annotations

from fractions import Fraction

from kb.bench.wording import NEAREST, READ, TYPED, degrees
from kb.bench.worked_calculation import Worked
from kb.calc.speed import degrees_of_delay, delay_between, rpm_from_frequency, true_rpm
from kb.errors import QuantityError
from kb.quantity import UNITS, Quantity, plain
from kb.working import Input, Step

FASTEST = 20_000
"""Revolutions per minute beyond which a number must be mistyped."""

CAUTIONS = ("a running engine: cooling water at once, outdoors, and nothing near the open flywheel",)
_PULSES = "pulses in one turn of the crank: a two-stroke gives one for each cylinder, a four-stroke half of one"


def work_from_frequency(hertz: Fraction, pulses: Fraction) -> Worked:
    """The engine speed from pulses a second, with ``pulses`` in one turn of the crank.

    Raises:
        GeometryImpossible: a number is not positive.
        QuantityError: no engine is that fast.
    """
    found = rpm_from_frequency(float(hertz), float(pulses))
    _require_speed(found)
    inputs = Input("pulses a second", f"{plain(hertz)} Hz", READ), Input("pulses in a turn", plain(pulses), TYPED)
    step = Step("speed", "60 x pulses a second / pulses in a turn", inputs, _rpm(found), NEAREST)
    values = {"rpm": found, "hertz": float(hertz), "pulses_per_turn": float(pulses)}
    return Worked("engine speed", (_rpm(found),), values, (step,), (_PULSES,), CAUTIONS)


def work_tachometer(shown: Fraction, set_for: Fraction, has: Fraction) -> Worked:
    """The true speed where a tachometer is set for another number of pulses in a turn than the engine gives.

    Raises:
        GeometryImpossible: a number is not positive.
        QuantityError: no engine is that fast.
    """
    found = true_rpm(float(shown), float(set_for), float(has))
    _require_speed(found)
    inputs = (
        Input("tachometer shows", _rpm(shown), READ),
        Input("it is set for pulses in a turn", plain(set_for), TYPED),
        Input("the engine gives", plain(has), TYPED),
    )
    step = Step("true speed", "shown x set for / engine gives", inputs, _rpm(found), NEAREST)
    answer = (f"the true speed is {_rpm(found)} where the tachometer shows {plain(shown)}",)
    values = {"rpm": found, "shown_rpm": float(shown), "set_for_pulses": float(set_for), "has_pulses": float(has)}
    return Worked("true engine speed", answer, values, (step,), (_PULSES,), CAUTIONS)


def work_delay(delay: Quantity, at: Fraction) -> Worked:
    """Degrees of crank that pass during a constant delay at a speed.

    Raises:
        GeometryImpossible: the speed is not positive.
        QuantityError: no engine is that fast, or a turn and more passes.
    """
    _require_speed(float(at))
    seconds = float(delay.unit.convert(delay.nominal or Fraction(0), UNITS["s"]))
    found = degrees_of_delay(seconds, float(at))
    if found >= 360:
        raise QuantityError(f"{delay} is more than a whole turn at {_rpm(at)}; write the delay in us, such as '50 us'")
    inputs = Input("delay", str(delay), TYPED), Input("speed", _rpm(at), TYPED)
    step = Step("degrees lost", "6 x rpm x delay in seconds", inputs, degrees(found), NEAREST)
    answer = (f"a delay of {delay} makes the spark {degrees(found)} later at {_rpm(at)}",)
    values = {"lost_deg": found, "delay_us": seconds * 1e6, "rpm": float(at)}
    return Worked("degrees that a delay loses", answer, values, (step,), (_NO_SIDE,), ())


def work_delay_between(lost: Fraction, slow: Fraction, fast: Fraction) -> Worked:
    """The constant delay that loses so many degrees between two speeds.

    Raises:
        GeometryImpossible: the speeds are not positive, or the second is not the faster.
        QuantityError: no engine is that fast.
    """
    _require_speed(float(fast))
    found = delay_between(float(lost), float(slow), float(fast))
    inputs = Input("degrees lost", degrees(lost), READ), Input("between", f"{plain(slow)} and {_rpm(fast)}", READ)
    words = f"{plain(found * 1e6, 1)} µs"
    step = Step("delay", "degrees / (6 x the difference in rpm), in seconds", inputs, words, NEAREST)
    answer = (f"losing {degrees(lost)} between {plain(slow)} and {_rpm(fast)} is a delay of {words}",)
    values = {"delay_us": found * 1e6, "lost_deg": float(lost), "slow_rpm": float(slow), "fast_rpm": float(fast)}
    return Worked("delay from degrees", answer, values, (step,), (_NO_SIDE,), ())


_NO_SIDE = (
    "a delay alone does not show whether an ignition reads earlier or later while cranking: only the book's "
    "correction does"
)


def _require_speed(rpm: float) -> None:
    if rpm > FASTEST:
        raise QuantityError(f"{_rpm(rpm)} is faster than any outboard turns; check the numbers and their units")


def _rpm(speed: Fraction | float) -> str:
    return f"{plain(speed, 1)} rpm"
