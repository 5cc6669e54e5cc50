"""Targets and verdicts in the browser are those of the book: every family, every state, a grid of choices."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Callable
from fractions import Fraction
from functools import cache, partial
from typing import Any

import pytest

from kb.book.answer import Answer
from kb.book.reference import CORRECTION
from kb.errors import LookUpError, Refusal, StopscrewError
from kb.quantity import Correction, Quantity, write_value
from tests.node import ASSETS, run_node
from tests.test_aim_properties import book, everything

MARGINS = [Fraction(halves, 2) for halves in range(-1, 6)]
POINTERS = [None, Fraction(0), Fraction(2), Fraction(-3, 2), Fraction(1, 3), Fraction(-3), Fraction(31, 10)]
READINGS = [Fraction(24), Fraction(-5), Fraction(0), Fraction(43, 2), Fraction(61, 3)]

Case = tuple[int, Fraction, Fraction | None, Fraction]


@cache
def grid() -> list[Case]:
    """Each figure with margins and pointers in turn: every margin, every pointer, and every reading for each figure."""
    cases: list[Case] = []
    for number in range(len(everything())):
        cases += [(number, margin, POINTERS[(number + place) % 7], READINGS[place % 5])
                  for place, margin in enumerate(MARGINS)]  # fmt: skip
        cases += [(number, Fraction(place % 3, 2), pointer, READINGS[(number + place) % 5])
                  for place, pointer in enumerate(POINTERS)]  # fmt: skip
    return cases


def correction(answer: Answer, asked: dict[str, Any]) -> dict[str, Any]:
    """What the family's document says of the correction for such an engine."""
    try:
        found = book().look_up(answer.family, CORRECTION, serial=asked["serial"])
    except (LookUpError, Refusal) as error:
        return {"unknown": f"not known: {error}"}
    if not isinstance(found.value, Correction):
        return {"unknown": f"not known: {found.label.lower()} is {found.printed}"}
    return {"value": write_value(found.value), "conditions": found.conditions}


def figure_of(answer: Answer) -> dict[str, Any]:
    """A figure as a page has it."""
    family = book().family(answer.family)
    value = {"value": write_value(answer.value)} if isinstance(answer.value, Quantity) else {}
    parts = {name: family.document[name] for name in ("engine", "flywheel", "adjusters") if name in family.document}
    return {
        "figure": answer.figure, "label": answer.label, "family": answer.family, "state": answer.state,
        "printed": answer.printed, "kind": dict(book().figures[answer.figure].document), **value, **parts,
    }  # fmt: skip


@pytest.fixture(scope="module")
def told() -> list[dict[str, Any]]:
    figures = []
    for family, figure, state, asked in everything():
        answer = book().look_up(family, figure, state, **asked)
        figures.append({"figure": figure_of(answer), "correction": correction(answer, asked)})
    cases = [[number, str(margin), None if pointer is None else str(pointer), str(reading)]
             for number, margin, pointer, reading in grid()]  # fmt: skip
    done = run_node("aim_lines.mjs", ASSETS, given=json.dumps({"figures": figures, "cases": cases}))
    assert done.returncode == 0, done.stderr
    return list(json.loads(done.stdout))


def tried(work: Callable[[], dict[str, Any]]) -> dict[str, Any]:
    try:
        return work()
    except StopscrewError as refusal:
        return {"refused": type(refusal).__name__, "message": str(refusal)}


def target(number: int, margin: Fraction, pointer: Fraction | None) -> dict[str, Any]:
    family, figure, state, asked = everything()[number]
    aimed = book().aim(family, figure, state, margin=margin, dead_centre=pointer, **asked)
    return {
        "show": str(aimed.show), "window": aimed.window and str(aimed.window), "margin": str(aimed.margin),
        "rim": aimed.rim and aimed.rim.words, "piston": aimed.piston and str(aimed.piston),
        "running": aimed.running.words, "remarks": list(aimed.remarks[len(aimed.answer.remarks) :]),
    }  # fmt: skip


def verdict(number: int, margin: Fraction, pointer: Fraction | None, reading: Fraction) -> dict[str, Any]:
    family, figure, state, asked = everything()[number]
    judged = book().judge(family, figure, reading, state, margin=margin, dead_centre=pointer, **asked)
    return {
        "words": judged.words, "window": judged.window and str(judged.window), "would": judged.would,
        "turn": judged.turn, "allowed": judged.allowed, "running": judged.running.words,
    }  # fmt: skip


def test_every_target_is_the_books(told: list[dict[str, Any]]) -> None:
    came_of: Counter[str] = Counter()
    for (number, margin, pointer, _), found in zip(grid(), told, strict=True):
        assert found["aim"] == tried(partial(target, number, margin, pointer)), (everything()[number], margin, pointer)
        came_of[found["aim"].get("refused", "target")] += 1
    assert set(came_of) == {"target", "MarginTooWide", "DeadCentreTooFar"}
    assert came_of["target"] > 2000


def test_every_verdict_is_the_books(told: list[dict[str, Any]]) -> None:
    seen = set()
    for case, found in zip(grid(), told, strict=True):
        assert found["judge"] == tried(partial(verdict, *case)), (everything()[case[0]], case)
        seen.add(found["judge"].get("words", "").split(" ")[-1])
    assert {"inside", "(advanced)", "(retarded)"} <= seen
