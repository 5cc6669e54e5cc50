"""A condition names a part that the engine does not have: a fourth cylinder of three, a second carburettor of one, a
bank of an engine that is not a V, a module where none is fitted. Correct the condition, or the number under `engine`;
if the engine does have such a module, list it under `ignition`."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from kb.finding import Severity, Slip
from kb.intake.facts.citation import cite
from kb.intake.facts.rule_context import FileCase
from kb.intake.rules import Bad, Good, Rule
from kb.vocabulary.conditions import COUNTED, Condition
from kb.vocabulary.engine import Layout


def check(case: FileCase) -> Iterator[Slip]:
    """Every condition of every statement."""
    engine = case.document.get("engine") or {}
    ignition = case.document.get("ignition") or {}
    for figure, statements in case.family.statements.items():
        for statement in statements:
            for key, value in statement.at:
                if missing := _missing(key, value, engine, ignition):
                    path = ("figures", figure, statement.index, "at", key)
                    do = f"check {cite(statement)}; correct the condition, or what the file says about the engine"
                    yield Slip(path, missing, do)


def _missing(key: str, value: Any, engine: Mapping[str, Any], ignition: Mapping[str, Any]) -> str:
    counted = COUNTED.get(key)
    if counted and counted in engine and int(value) > int(engine[counted]):
        return f"{key} {value} on an engine with {counted}: {engine[counted]}"
    if key == Condition.BANK and engine.get("layout") in (Layout.SINGLE, Layout.IN_LINE):
        return f"a {value} bank on an engine with layout: {engine['layout']}"
    if key == Condition.MODULE and ignition and not ignition.get("modules"):
        return f"module {value}, but the ignition lists no modules"
    return ""


def _at(at: str) -> str:
    return f"figures:\n  throttle-pickup:\n    - {{atdc: 5, state: static, at: {{{at}}}, source: handbook, page: 41}}\n"


RULE = Rule(
    severity=Severity.ERROR,
    reads="file",
    summary="a condition names a part that the engine does not have",
    why="the engine can never be in that condition, so the statement belongs to another engine or is mistyped",
    bad=(
        Bad(_at("cylinder: 4"), where="4"),
        Bad(_at("carburettor: 5"), where="5"),
        Bad(_at("bank: port"), where="port"),
        Bad("ignition: {type: transistor}\n" + _at("module: disconnected"), where="disconnected"),
    ),
    good=(
        Good(_at("cylinder: 3")),
        Good(_at("module: disconnected")),
        Good("engine: {cycle: two-stroke, cylinders: 4, layout: v}\n" + _at("bank: port, carburettor: 2")),
    ),
    check=check,
)
