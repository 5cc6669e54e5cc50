"""How a walk ended, held against the engine itself: what no screen knows."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from tests.walk.book import limits
from tests.walk.engine import MAXIMUM, RUNNING
from tests.walk.mechanic import Mechanic
from tests.walk.words import angle

NEAR = 0.05
"""Degrees lost where an exact reading is typed to a hundredth, and a contact measured along the rim."""
UNCERTAIN = 0.35
"""The combined standard uncertainty of a locked reading that scatters, in degrees."""
ROUNDED = 0.5
"""Half a degree of a printed figure is inside it."""
LATE = 3.0
"""How late a maximum may be and still count as set: the widest margin, and what an eighth of a turn moves."""


@dataclass(frozen=True)
class Judged:
    """One walk: ``early`` by how many degrees the worst maximum is earlier than printed, negative if later."""

    finished: bool
    overridden: bool
    early: float
    inside: bool
    faults: tuple[str, ...]


def judge(mechanic: Mechanic) -> Judged:
    """Hold a finished walk against the book and the engine."""
    walk, engine = mechanic.walk, mechanic.engine
    printed = limits(engine.family, MAXIMUM, engine.serial)
    over = {
        f"{limit.state}, cylinder {cylinder}": engine.true(
            MAXIMUM, limit.state, cylinder, pulled=mechanic.stand.cable_on
        )
        - limit.high
        for limit in printed
        for cylinder in range(1, engine.cylinders + 1)
    }
    where, early = max(over.items(), key=lambda one: one[1], default=("", -90.0))
    allowed = NEAR + 4 * UNCERTAIN * bool(engine.scatter)
    faults = [f"harm: {harm}" for harm in mechanic.stand.harm]
    faults += aimed_early(mechanic)
    screw = engine.screws[MAXIMUM]
    # nothing was made earlier by what was shown, but for what its nut drags along
    found_so = mechanic.shown_late and screw.angle <= screw.found + max(0.0, screw.drag) + NEAR
    if walk.finished and not walk.overridden and early > allowed and not found_so:
        faults.append(f"finished {early:.2f} degrees early ({where})")
    faults += called_inside(mechanic, allowed)
    inside = (
        walk.finished and not walk.overridden and not walk.outside - {MAXIMUM} and -LATE - allowed <= early <= allowed
    )
    return Judged(walk.finished, walk.overridden, early, inside, tuple(faults))


def called_inside(mechanic: Mechanic, allowed: float) -> Iterator[str]:
    """Figures without a dangerous end that the phone calls inside while they truly are not."""
    for figure, true in mechanic.walk.inside.items():
        ends = [(one.low, one.high) for one in limits(mechanic.engine.family, figure, mechanic.engine.serial)]
        out = min((max(low - true, true - high) for low, high in ends), default=0.0)
        if figure != MAXIMUM and out > allowed + ROUNDED and not mechanic.shown_late:
            yield f"{figure} called inside, {out:.2f} degrees out"


def aimed_early(mechanic: Mechanic) -> Iterator[str]:
    """Targets that lie earlier than what is printed, by the pointer as it truly stands."""
    engine = mechanic.engine
    states = {limit.state: limit.high for limit in limits(engine.family, MAXIMUM, engine.serial)}
    for state, shown, pointer in mechanic.walk.aims:
        aimed = angle(shown)
        if aimed is not None and state in states and state != RUNNING and aimed - pointer > states[state] + NEAR:
            yield f"aimed at {shown} {state} with a pointer at {pointer:g}: {aimed - pointer - states[state]:.2f} early"
