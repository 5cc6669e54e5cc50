"""How much two throttle plates differ in air for a difference in opening, and how little that matters near full."""

from __future__ import annotations

from fractions import Fraction

from kb.bench.wording import ABOVE, NEAREST, READ, TAKEN, TYPED, degrees
from kb.bench.worked_calculation import Worked
from kb.calc.plates import air_ratio, open_part
from kb.errors import QuantityError
from kb.quantity import plain
from kb.working import Input, Step

CLOSED = Fraction(10)
"""Degrees from square across the bore at which a plate closes, where none is given."""

SHAFT = Fraction(1, 5)
"""The shaft's diameter over the bore's, where none is given."""

WIDE = Fraction(60)
"""Degrees from square at which the same difference is shown for comparison."""

_FORMULA = "the area that plate and shaft leave free, over that of the bore"


def work_plates(
    first: Fraction,
    second: Fraction,
    closed: Fraction | None = None,
    shaft: Fraction | None = None,
    *,
    opening: bool = False,
) -> Worked:
    """The air through the wider plate over the air through the other, by open area at the same pressure.

    Angles in degrees from square across the bore, or with ``opening`` from where the plate closes.

    Raises:
        QuantityError: a plate is shut, or stands where none can.
        GeometryImpossible: the closed angle or the shaft is out of its range.
    """
    shut, ratio = CLOSED if closed is None else closed, SHAFT if shaft is None else shaft
    if not 0 <= shut < 90:
        raise QuantityError(f"a plate does not close at {degrees(shut)}; write --closed from 0 to under 90, such as 10")
    angles = tuple(angle + shut if opening else angle for angle in (first, second))
    for angle in angles:
        _require(angle, shut, opening)
    less, more = min(angles), max(angles)
    times = air_ratio(float(less), float(more), float(shut), float(ratio))
    parts = [open_part(float(angle), float(shut), float(ratio)) for angle in angles]
    which = "second" if angles[1] >= angles[0] else "first"
    apart = more - less
    answer = [_compared(which, times) if apart else "both plates let the same air through"]
    answer.append(f"open: {_percent(parts[0])} of the bore at the first, {_percent(parts[1])} at the second")
    given = (
        Input("plate closes at", degrees(shut), TAKEN if closed is None else TYPED),
        Input("shaft over bore", plain(ratio), TAKEN if shaft is None else TYPED),
    )
    plates = tuple(
        Input(f"{name} plate, from square", degrees(angle), READ)
        for name, angle in zip(("first", "second"), angles, strict=True)
    )
    steps = [Step("open part of each", _FORMULA, (*plates, *given), " and ".join(map(_percent, parts)), NEAREST)]
    values = {
        "first_open_part": parts[0],
        "second_open_part": parts[1],
        "air_ratio": times,
        "apart_deg": float(apart),
        "wider": which if apart else "",
    }
    if apart:
        steps.append(
            Step(
                "air of the wider over the other",
                "open part of one over that of the other",
                tuple(
                    Input(f"{name} plate, open", _percent(part), ABOVE)
                    for name, part in zip(("first", "second"), parts, strict=True)
                ),
                _times(times),
                NEAREST,
            )
        )
    if apart and WIDE + apart <= 90 and less < WIDE:
        wide = air_ratio(float(WIDE), float(WIDE + apart), float(shut), float(ratio))
        answer.append(
            f"the same {degrees(apart)} further open, at {degrees(WIDE)} and {degrees(WIDE + apart)}: {_times(wide)}"
        )
        values["air_ratio_wide"] = wide
        wider = Input("plates, from square", f"{degrees(WIDE)} and {degrees(WIDE + apart)}", "for comparison")
        steps.append(Step("the same difference near full", _FORMULA, (wider, *given), _times(wide), NEAREST))
    remarks = (
        "by open area, with the same pressure at both: the idle passages are not counted",
        "formula: Heywood, Internal Combustion Engine Fundamentals (1988), eq. 7.18, from memory",
        "near closed a degree matters: bring the plates level there, then look at full throttle",
    )
    return Worked("air through two throttle plates", tuple(answer), values, tuple(steps), remarks, ())


def _require(angle: Fraction, shut: Fraction, opening: bool) -> None:
    given = degrees(angle - shut if opening else angle)
    if angle == shut:
        raise QuantityError(f"a plate at {given} is shut: no air passes it to compare with; open it a little")
    if not shut < angle <= 90:
        if opening:
            raise QuantityError(f"a plate cannot open by {given}; write up to {degrees(90 - shut)}")
        raise QuantityError(
            f"a plate that closes at {degrees(shut)} does not stand at {given} from square across the bore; write more "
            "than that and up to 90, or add --opening if it is counted from closed"
        )


def _compared(which: str, times: float) -> str:
    return f"the {which} plate lets through {_times(times)} the air of the other, {plain((times - 1) * 100, 1)} % more"


def _times(ratio: float) -> str:
    return f"{plain(ratio, 3)} times"


def _percent(part: float) -> str:
    return f"{plain(part * 100, 2)} %"
