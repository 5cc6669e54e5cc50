"""Targets and verdicts in the browser are those of the book: every family, every state, a grid of choices."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Callable
from fractions import Fraction
from functools import cache, partial
from typing import Any

import pytest

from kb.errors import StopscrewError
from kb.publish.site.family.document import family_page
from kb.publish.site.family.shared import shared_document
from tests.support.folders import ASSETS
from tests.support.frozen import frozen_book
from tests.support.node import run_node
from tests.support.timing import every_answer

ANSWERS = every_answer(frozen_book())
MARGINS = [Fraction(halves, 2) for halves in range(-1, 6)]
POINTERS = [None, Fraction(0), Fraction(2), Fraction(-3, 2), Fraction(1, 3), Fraction(-3), Fraction(31, 10)]
READINGS = [Fraction(24), Fraction(-5), Fraction(0), Fraction(43, 2), Fraction(61, 3)]

Case = tuple[int, Fraction, Fraction | None, Fraction]


@cache
def grid() -> list[Case]:
    """Each figure with margins and pointers in turn: every margin, every pointer, and every reading for each figure."""
    cases: list[Case] = []
    for number in range(len(ANSWERS)):
        cases += [
            (number, margin, POINTERS[(number + place) % 7], READINGS[place % 5])
            for place, margin in enumerate(MARGINS)
        ]
        cases += [
            (number, Fraction(place % 3, 2), pointer, READINGS[(number + place) % 5])
            for place, pointer in enumerate(POINTERS)
        ]
    return cases


@pytest.fixture(scope="module")
def told() -> list[dict[str, Any]]:
    families = sorted({family for family, *_ in ANSWERS})
    asked = []
    for family, figure, state, engine in ANSWERS:
        answer = frozen_book().look_up(family, figure, state, **engine)
        asked.append([families.index(family), figure, answer.state, answer.conditions, engine["serial"] or ""])
    cases = [
        [number, str(margin), None if pointer is None else str(pointer), str(reading), rpm_of(number)]
        for number, margin, pointer, reading in grid()
    ]
    pages = [family_page(frozen_book(), family) for family in families]
    given = {"pages": pages, "kinds": shared_document(frozen_book())["figures"], "asked": asked, "cases": cases}
    done = run_node("aim_lines.mjs", ASSETS, given=json.dumps(given))
    assert done.returncode == 0, done.stderr
    return list(json.loads(done.stdout))


def rpm_of(number: int) -> str | None:
    """A speed asked for with some figures, within the correction's table or beyond it."""
    return {0: "2750", 3: "9000"}.get(number % 5)


def tried(work: Callable[[], dict[str, Any]]) -> dict[str, Any]:
    try:
        return work()
    except StopscrewError as refusal:
        return {"refused": type(refusal).__name__, "message": str(refusal)}


def choices(number: int, margin: Fraction, pointer: Fraction | None) -> tuple[tuple[Any, ...], dict[str, Any]]:
    family, figure, state, asked = ANSWERS[number]
    rpm = rpm_of(number)
    speed = None if rpm is None else Fraction(rpm)
    return (family, figure), {"state": state, "margin": margin, "dead_centre": pointer, "running_rpm": speed, **asked}


def target(number: int, margin: Fraction, pointer: Fraction | None) -> dict[str, Any]:
    named, chosen = choices(number, margin, pointer)
    aimed = frozen_book().aim(*named, **chosen).to_document()
    return {
        "show": aimed["show"],
        "window": aimed["window"],
        "margin": str(Fraction(aimed["margin_deg"])),
        "rim": aimed["rim"] and aimed["rim"]["words"],
        "piston": aimed["piston"],
        "running": aimed["running"]["words"],
        "steps": aimed["working"],
        "remarks": aimed["remarks"],
    }


def verdict(number: int, margin: Fraction, pointer: Fraction | None, reading: Fraction) -> dict[str, Any]:
    (family, figure), chosen = choices(number, margin, pointer)
    judged = frozen_book().judge(family, figure, reading, **chosen).to_document()
    told = ("words", "window", "would", "turn", "allowed", "remarks")
    return {**{name: judged[name] for name in told}, "running": judged["running"]["words"], "steps": judged["working"]}


SEVERAL = ("the same for every engine of the family", "the same is stated for")
"""How remarks begin that a look-up makes of several rows at once; a page tells each row by itself."""


def alike(found: dict[str, Any], wanted: dict[str, Any]) -> bool:
    kept = [line for line in wanted.get("remarks", ()) if not line.startswith(SEVERAL)]
    return found == ({**wanted, "remarks": kept} if "remarks" in wanted else wanted)


def test_every_target_is_the_books(told: list[dict[str, Any]]) -> None:
    came_of: Counter[str] = Counter()
    for (number, margin, pointer, _), found in zip(grid(), told, strict=True):
        wanted = tried(partial(target, number, margin, pointer))
        assert alike(found["aim"], wanted), (ANSWERS[number], margin, pointer, found["aim"], wanted)
        came_of[found["aim"].get("refused", "target")] += 1
    assert set(came_of) == {"target", "MarginTooWide", "DeadCentreTooFar"}
    assert came_of["target"] > 2000


def test_every_verdict_is_the_books(told: list[dict[str, Any]]) -> None:
    seen = set()
    for case, found in zip(grid(), told, strict=True):
        wanted = tried(partial(verdict, *case))
        assert alike(found["judge"], wanted), (ANSWERS[case[0]], case, found["judge"], wanted)
        words = found["judge"].get("words", "")
        seen |= {words.split(" ")[-1], words.split(",")[0], words.rpartition(", ")[2]}
    assert {"inside", "(advanced)", "(retarded)", "early", "on target", "still on the safe side"} <= seen
