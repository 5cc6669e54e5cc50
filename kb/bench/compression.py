"""Compression readings of all cylinders: lowest, highest, the spread with its denominator named, and the book's."""

from __future__ import annotations

from fractions import Fraction

from kb.bench.wording import NEAREST, READ, cited, listed
from kb.bench.worked_calculation import Worked
from kb.calc.compression import apart
from kb.errors import QuantityError
from kb.quantity import UNITS, Quantity, Unit, plain
from kb.working import Input, Step

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Sequence
    from typing import Any

    from kb.book.model.answer import Answer
    from kb.calc.compression import Apart

USUAL_PSI = (60, 180)
"""Pounds-force per square inch between which a reading usually lies; common practice, no source."""

MOST_CYLINDERS = 16

CAUTIONS = (
    "put every plug lead on a grounded gap away from the plug holes, shut the fuel off and open the doors",
    "lever in neutral, propeller off, and nothing near the open flywheel",
)
_GAUGE = (
    "gauge, hose, throttle and battery change the number: same gauge, throttle wide open, battery charged, all plugs "
    "out, the same number of turns for each"
)
_PRACTICE = "10 to 15 % apart is the usual limit (common practice, no source): check what the percentage is of"


def work_compression(
    readings: Sequence[Fraction], unit: Unit, answer: Answer | None = None, cylinders: int | None = None
) -> Worked:
    """How far the cylinders lie apart, in percent of the highest, the mean and the lowest.

    ``readings`` in order of the cylinders, in ``unit``; ``answer`` is the book's figure, ``cylinders`` how many the
    family has.

    Raises:
        QuantityError: more readings than there are cylinders, or the book's figure is not a pressure.
        ReadingsContradict: one reading and no book to hold it against, or one that is not positive.
    """
    most = cylinders or MOST_CYLINDERS
    if len(readings) > most:
        many = "1 cylinder" if most == 1 else f"{most} cylinders"
        raise QuantityError(f"{len(readings)} readings, and {many} at most: write one reading for each")
    worded = _PressureText(unit)
    if len(readings) == 1 and answer is not None and readings[0] > 0:
        lines = [f"{worded(readings[0])}: only one cylinder, nothing to compare it with"]
        values: dict[str, Any] = {f"reading_{unit.key}": float(readings[0])}
        steps: list[Step] = []
    else:
        lines, values, steps = _spread(readings, unit.key, worded)
    remarks = [_GAUGE, *([_PRACTICE] if len(readings) > 1 else [])]
    if answer is not None:
        outside = _against_book(readings, unit, answer, lines, steps)
        values.update(book=answer.printed, outside_the_book=outside)
        remarks += answer.remarks
    if cylinders and len(readings) < cylinders:
        remarks.append(f"{len(readings)} readings for {cylinders} cylinders: measure the others too")
    psi = [unit.convert(reading, UNITS["psi"]) for reading in readings]
    implausible = [n for n, one in enumerate(psi, 1) if not USUAL_PSI[0] <= one <= USUAL_PSI[1]]
    if implausible:
        remarks.append(
            f"{_cylinders(implausible)} outside the usual {USUAL_PSI[0]} to {USUAL_PSI[1]} psi: is {unit.symbol} the "
            "unit on the gauge?"
        )
    return Worked("compression of the cylinders", tuple(lines), values, tuple(steps), tuple(remarks), CAUTIONS)


class _PressureText:
    """Writes pressures in one unit."""

    def __init__(self, unit: Unit) -> None:
        self.unit = unit

    def __call__(self, value: Fraction | float) -> str:
        return f"{plain(value, 2 if self.unit.key in ('bar', 'kgf_cm2') else 1)} {self.unit.symbol}"


def _spread(
    readings: Sequence[Fraction], key: str, worded: _PressureText
) -> tuple[list[str], dict[str, Any], list[Step]]:
    """How far several readings lie apart: the lines of the answer, plain values, and the step."""
    found = apart([float(reading) for reading in readings])
    lowest, highest = ([n for n, one in enumerate(readings, 1) if one == end] for end in (min(readings), max(readings)))
    spread = max(readings) - min(readings)
    lines = [
        f"lowest {worded(found.lowest)}, {_cylinders(lowest)}; highest {worded(found.highest)}, {_cylinders(highest)}; "
        f"mean {worded(found.mean)}",
        f"{worded(spread)} apart: {_percents(found)}",
    ]
    if not spread:
        lines[0] = f"all cylinders read {worded(found.mean)}"
    values = {
        f"lowest_{key}": found.lowest,
        f"highest_{key}": found.highest,
        f"mean_{key}": found.mean,
        f"spread_{key}": float(spread),
        "lowest_cylinders": lowest,
        "highest_cylinders": highest,
        "spread_percent_of_highest": found.of_highest,
        "spread_percent_of_mean": found.of_mean,
        "spread_percent_of_lowest": found.of_lowest,
    }
    inputs = tuple(Input(f"cylinder {n}", worded(one), READ) for n, one in enumerate(readings, 1))
    formula = "(highest - lowest) / highest, / mean and / lowest"
    return lines, values, [Step("spread", formula, inputs, _percents(found), NEAREST)]


def _against_book(
    readings: Sequence[Fraction], unit: Unit, answer: Answer, lines: list[str], steps: list[Step]
) -> list[int]:
    """The cylinders that lie outside the book's figure; a line and a step are added."""
    value = answer.value
    if not isinstance(value, Quantity):
        raise QuantityError(f"the book's figure, {answer.printed}, is not a pressure")
    converted = [unit.convert(reading, value.unit) for reading in readings]
    outside = [n for n, one in enumerate(converted, 1) if not value.holds(one)]
    book_figure = f"the book's {answer.printed}"
    if value.low == value.high:
        outside = []
        words = f"the book says {answer.printed}: a single number, so nothing can be inside or outside it"
    elif not outside:
        words = f"all inside {book_figure}"
    else:
        sides = [_side(one, value) for n, one in enumerate(converted, 1) if n in outside]
        words = f"outside {book_figure}: " + listed(
            [f"cylinder {n} ({side})" for n, side in zip(outside, sides, strict=True)]
        )
    lines.append(words)
    condition = ", ".join(part for part in (answer.state, answer.conditions) if part)
    given = Input(f"compression, {condition}", answer.printed, cited(answer))
    formula = "each reading in the book's unit; both ends of a window count as inside"
    steps.append(Step("against the book", formula, (given,), words))
    return outside


def _side(value: Fraction, book: Quantity) -> str:
    return "too low" if book.low is not None and value < book.low else "too high"


def _percents(found: Apart) -> str:
    return (
        f"{plain(found.of_highest, 1)} % of the highest, {plain(found.of_mean, 1)} % of the mean, "
        f"{plain(found.of_lowest, 1)} % of the lowest"
    )


def _cylinders(numbers: Sequence[int]) -> str:
    return f"cylinder{'s' if len(numbers) > 1 else ''} {listed([str(number) for number in numbers])}"
