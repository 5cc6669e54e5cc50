"""The condition of a statement names a part that the engine has not got: a fourth cylinder of three, a second
carburettor of one, a bank of an engine that is no V, a module where none is fitted. Mend the condition, or the number
in the engine; where the engine does have such a module, list it under `ignition`."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from kb.finding import Severity, Slip
from kb.intake.facts.citation import cite
from kb.intake.facts.rule_context import StatementCase
from kb.intake.rules import Bad, Good, Rule

_COUNTED = {"cylinder": "cylinders", "carburettor": "carburettors"}


def check(case: StatementCase) -> Iterator[Slip]:
    """Every condition of every statement."""
    engine = case.document.get("engine") or {}
    ignition = case.document.get("ignition") or {}
    for figure, statements in case.family.statements.items():
        for statement in statements:
            for key, value in statement.at:
                if missing := _missing(key, value, engine, ignition):
                    path = ("figures", figure, statement.index, "at", key)
                    do = f"look at {cite(statement)} again; mend the condition or what the file says of the engine"
                    yield Slip(path, missing, do)


def _missing(key: str, value: Any, engine: Mapping[str, Any], ignition: Mapping[str, Any]) -> str:
    counted = _COUNTED.get(key)
    if counted and counted in engine and int(value) > int(engine[counted]):
        return f"{key} {value} of an engine with {counted}: {engine[counted]}"
    if key == "bank" and engine.get("layout") in ("single", "in-line"):
        return f"a {value} bank of an engine with layout: {engine['layout']}"
    if key == "module" and ignition and not ignition.get("modules"):
        return f"module {value}, and the ignition lists no modules"
    return ""


def _at(at: str) -> str:
    return f"figures:\n  throttle-pickup:\n    - {{atdc: 5, state: static, at: {{{at}}}, source: handbook, page: 41}}\n"


RULE = Rule(
    severity=Severity.ERROR,
    reads="file",
    summary="a condition names a part that the engine has not got",
    why="nobody can bring such an engine into that condition, so the statement is another engine's or mistyped",
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
