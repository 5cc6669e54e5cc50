"""The engine on the stand: what its keywords are, and what it is made from them."""

from __future__ import annotations

import ast
from fractions import Fraction
from pathlib import Path

from kb.book.model import engine_on_the_stand
from kb.book.model.engine_on_the_stand import ANY_ENGINE, EngineOnTheStand
from kb.vocabulary.conditions import Condition

OWN = {"serial", "year", "margin", "dead_centre", "running_rpm"}


def test_the_keywords_are_its_fields_and_every_condition() -> None:
    tree = ast.parse(Path(engine_on_the_stand.__file__).read_text())
    (keywords,) = (node for node in ast.walk(tree) if isinstance(node, ast.ClassDef) and node.name == "EngineKeywords")
    named = {node.target.id for node in keywords.body if isinstance(node, ast.AnnAssign) and hasattr(node.target, "id")}
    assert named == OWN | {*Condition.words}
    assert set(EngineOnTheStand.__match_args__) == OWN | {"state", "conditions"}


def test_what_was_not_said_is_not_there() -> None:
    assert EngineOnTheStand.of() == EngineOnTheStand.of(None, serial=None, gear=None, dead_centre=None) == ANY_ENGINE


def test_numbers_are_exact_and_a_serial_number_is_text() -> None:
    engine = EngineOnTheStand.of("cranking", serial=301455, margin=1, dead_centre=0, running_rpm=5000, gear="neutral")
    assert engine == EngineOnTheStand(
        "301455", None, "cranking", {"gear": "neutral"}, Fraction(1), Fraction(0), Fraction(5000)
    )
    assert [type(value) for value in (engine.margin, engine.dead_centre, engine.running_rpm)] == [Fraction] * 3


def test_a_pointer_that_was_not_read_is_taken_to_be_right() -> None:
    assert ANY_ENGINE.dead_centre is None
    assert ANY_ENGINE.pointer == 0
    assert EngineOnTheStand.of(dead_centre=-2).pointer == -2


def test_the_same_engine_is_asked_for_something_else() -> None:
    engine = EngineOnTheStand.of("cranking", serial="A 1", year=1979, margin=1, dead_centre=2, rpm=5000)
    assert engine.asked() == EngineOnTheStand.of(serial="A 1", year=1979, margin=1, dead_centre=2)
    other = engine.asked("running", {"gear": "in-gear"}, with_margin=False)
    assert other == EngineOnTheStand.of("running", serial="A 1", year=1979, dead_centre=2, gear="in-gear")
