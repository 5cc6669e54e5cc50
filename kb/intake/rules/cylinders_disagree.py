"""The number of cylinders shows in several places: a single has one, a V has an even number, no engine has more than
two carburettors to a cylinder, and bore, stroke and cylinders give the displacement within three per cent. If they do
not, a digit is wrong in one of them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction
from math import pi
from typing import Any

from kb.finding import Severity, Slip
from kb.intake.facts.rule_context import FileCase
from kb.intake.models.spelling import either
from kb.intake.rules import Bad, Good, Rule
from kb.quantity import UNITS, Quantity, read_value
from kb.vocabulary.engine import Layout

_WITHIN = 0.03


def check(case: FileCase) -> Iterator[Slip]:
    """The engine of every family."""
    engine = case.document.get("engine") or {}
    cylinders = int(engine.get("cylinders", 0))
    if not cylinders:
        return
    layout, carburettors = engine.get("layout"), int(engine.get("carburettors", 0))
    if (layout == Layout.SINGLE) is not (cylinders == 1) and layout:
        do = f"write layout: {either(Layout.words)} to match, or correct the number of cylinders"
        yield Slip(("engine", "layout"), f"layout: {layout} with cylinders: {cylinders}", do)
    elif layout == Layout.V and cylinders % 2:
        do = f"write layout: {Layout.IN_LINE}, or correct the number of cylinders"
        yield Slip(("engine", "layout"), f"a V with {cylinders} cylinders", do)
    if carburettors > 2 * cylinders:
        what = f"{carburettors} carburettors on {cylinders} {'cylinders' if cylinders > 1 else 'cylinder'}"
        yield Slip(("engine", "carburettors"), what, "correct the one that is wrong")
    yield from _displacement(engine, cylinders)


def _displacement(engine: Mapping[str, Any], cylinders: int) -> Iterator[Slip]:
    if "displacement" not in engine:
        return
    bore, stroke = (_nominal(engine.get(part), "mm") for part in ("bore", "stroke"))
    stated = _nominal(engine["displacement"], "cm3")
    if bore and stroke and stated:
        swept = float(bore) ** 2 * pi / 4 * float(stroke) * cylinders / 1000
        if abs(swept - float(stated)) > _WITHIN * swept:
            what = f"bore, stroke and cylinders give {swept:.0f} cm³, not {float(stated):.0f}"
            yield Slip(("engine", "displacement"), what, "correct bore, stroke, cylinders or displacement")


def _nominal(raw: Any, unit: str) -> Fraction | None:
    value = read_value(raw) if raw else None
    if isinstance(value, Quantity) and value.nominal is not None:
        return value.unit.convert(value.nominal, UNITS[unit])
    return None


def _engine(rest: str) -> str:
    return f"engine: {{cycle: two-stroke, {rest}}}\n"


RULE = Rule(
    severity=Severity.ERROR,
    reads="file",
    summary="the number of cylinders does not match layout, carburettors or displacement",
    why="the firing order and the angle between sparks follow from the number of cylinders",
    bad=(
        Bad(_engine("cylinders: 2, layout: single"), where="single"),
        Bad(_engine("cylinders: 1, layout: in-line"), where="in-line"),
        Bad(_engine("cylinders: 3, layout: v"), where="v"),
        Bad(_engine("cylinders: 2, carburettors: 6"), where="6"),
        Bad(_engine("cylinders: 3, bore: {mm: 61}, stroke: {mm: 58}, displacement: {cm3: 580}"), where="{cm3: 580}"),
    ),
    good=(
        Good(_engine("cylinders: 1, layout: single, carburettors: 1")),
        Good(_engine("cylinders: 6, layout: v, carburettors: 6")),
        Good(_engine("cylinders: 3, bore: {mm: 61}, stroke: {in: 2.283}, displacement: {L: 0.51}")),
    ),
    check=check,
)
