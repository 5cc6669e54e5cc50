"""Every fault that reader and models can tell is put in words by a rule, and no rule waits for one that none tells."""

from __future__ import annotations

import ast
from functools import cache
from pathlib import Path

import pytest

from kb.intake.rules import rules
from tests.support.folders import ROOT

INTAKE = ROOT / "kb" / "intake"
SOURCES = sorted(file for file in INTAKE.rglob("*.py") if "rules" not in file.parts and "authoring" not in file.parts)
TELLING = ("Fault", "fail", "_tell")
IN_WORDS = {name for name, rule in rules().items() if rule.reads in ("text", "typing")}


@cache
def strings(file: Path) -> set[str]:
    """Every text that stands in a module."""
    nodes = ast.walk(ast.parse(file.read_text(encoding="utf-8")))
    return {node.value for node in nodes if isinstance(node, ast.Constant) and isinstance(node.value, str)}


def told(file: Path) -> set[str]:
    """The rules that a module's faults name outright."""
    names = set()
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Call) and node.args and isinstance(node.args[0], ast.Constant):
            called = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
            if called in TELLING:
                names.add(str(node.args[0].value))
    return names


@pytest.mark.parametrize("file", SOURCES, ids=lambda file: file.stem)
def test_every_fault_that_is_told_has_a_rule(file: Path) -> None:
    assert told(file) <= IN_WORDS


@pytest.mark.parametrize("rule", sorted(IN_WORDS))
def test_every_rule_in_words_has_a_fault(rule: str) -> None:
    assert any(rule in strings(file) for file in SOURCES)
