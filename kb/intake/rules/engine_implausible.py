"""Bore, stroke, rod and power of an engine go together: an outboard's bore is 0.7 to 1.5 times the stroke, its rod 3 to
4.5 crank throws (half the stroke), it gives 15 to 110 horsepower a litre, and its flywheel is 100 to 450 mm across. A
value outside these is more likely inches for millimetres or a misplaced decimal point. The bounds are common practice
and have no source; if the engine really is like that, accept the warning with an exception."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from math import pi
from typing import Any

from kb.finding import Path, Severity, Slip
from kb.intake.facts.float_values import FACTORS
from kb.intake.facts.rule_context import FileCase
from kb.intake.rules import Bad, Good, Rule
from kb.quantity import Quantity, read_value


def check(case: FileCase) -> Iterator[Slip]:
    """The engine of every family and its flywheel."""
    engine, flywheel = case.document.get("engine") or {}, case.document.get("flywheel") or {}
    bore, stroke, rod = (_nominal(engine, part, "mm") for part in ("bore", "stroke", "rod"))
    cylinders, power = float(engine.get("cylinders", 0)), _nominal(engine, "power", "hp")
    rim = _nominal(flywheel, "rim_diameter", "mm")
    litres = bore**2 * pi / 4 * stroke * cylinders / 1e6
    paths: tuple[Path, ...] = (("engine", "bore"), ("engine", "rod"), ("engine", "power"), ("flywheel", "rim_diameter"))
    ratios = (
        (bore, stroke, 0.7, 1.5, "times the stroke"),
        (rod, stroke / 2, 3.0, 4.5, "times the crank throw"),
        (power, litres, 15.0, 110.0, "hp a litre"),
        (rim, 1.0, 100.0, 450.0, "mm"),
    )
    for path, (value, of, least, most, words) in zip(paths, ratios, strict=True):
        if value and of and not least <= value / of <= most:
            what = f"{path[-1]} is {value / of:.4g} {words}; {least:g} to {most:g} is usual"
            yield Slip(path, what, "check the page: a digit, the unit or the decimal point may be wrong")


def _nominal(holder: Mapping[str, Any], part: str, unit: str) -> float:
    """A length or power in a unit; zero where it is not one number."""
    value = read_value(holder[part]) if holder.get(part) else None
    if isinstance(value, Quantity) and value.nominal is not None:
        return float(value.nominal) * FACTORS[value.unit.key][0] / FACTORS[unit][0]
    return 0.0


def _engine(bore: str = "mm: 61", stroke: str = "mm: 58", rod: str = "mm: 108", power: str = "hp: 31") -> str:
    lengths = f"bore: {{{bore}}}, stroke: {{{stroke}}}, rod: {{{rod}}}"
    return f"engine: {{cycle: two-stroke, cylinders: 3, power: {{{power}}}, {lengths}}}\n"


RULE = Rule(
    severity=Severity.WARNING,
    reads="file",
    summary="bore, stroke, rod, power or flywheel out of proportion",
    why="piston positions and distances on the rim are worked out from them",
    bad=(
        Bad(_engine(rod="mm: 180"), where="{mm: 180}"),
        Bad(_engine(bore="mm: 16"), where="{mm: 16}", count=2),
        Bad(_engine(power="hp: 310"), where="{hp: 310}"),
        Bad("flywheel: {rim_diameter: {in: 90}}\n", where="{in: 90}"),
    ),
    good=(
        Good(_engine(rod="in: 4.25")),
        Good(_engine(power="kW: 23")),
        Good("flywheel: {rim_diameter: {in: 9}}\n"),
        Good("engine: {cycle: two-stroke, cylinders: 3, stroke: {mm: 58}}\n"),
    ),
    check=check,
)
