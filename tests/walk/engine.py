"""An engine that turns: where its spark truly comes, and what is shown of it.

Angles are crank degrees, before top dead centre positive. What a screw holds is the true angle in the state in which
the engine is set; `shift` says how it reads in another one.
"""

from __future__ import annotations

import random
from collections.abc import Mapping
from dataclasses import dataclass, field

MAXIMUM = "max-advance"
CRANKING, RUNNING, STATIC = "cranking", "running", "static"


@dataclass
class Screw:
    """What sets a figure: ``slope`` in degrees a turn inward, ``slack`` the turns lost where the way changes, ``drag``
    the degrees by which tightening its nut moves it; ``hole`` the degrees from hole to hole of a pin; ``found`` what it
    held at first."""

    angle: float
    slope: float
    slack: float = 0.0
    drag: float = 0.0
    nut: bool = True
    hole: float = 0.0
    fixed: bool = False
    locked: bool = False
    found: float = field(init=False)
    _taken: float = 0.0

    def __post_init__(self) -> None:
        self.found = self.angle

    def turn(self, inward: float) -> None:
        """Turn it; a pin goes to the next hole, and what is fixed stays."""
        if self.fixed or not inward:
            return
        if self.hole:
            self.angle += self.hole if (inward > 0) == (self.slope > 0) else -self.hole
            return
        taken = self._taken + inward
        self._taken = min(max(taken, 0.0), self.slack)
        self.angle += (taken - self._taken) * self.slope

    def lock(self) -> None:
        """Tighten its nut, which drags it along."""
        if self.nut and not self.locked:
            self.angle += self.drag
        self.locked = True

    def slacken(self) -> None:
        """Slacken its nut: the screw stands as before it was tightened."""
        if self.nut and self.locked:
            self.angle -= self.drag
        self.locked = False


@dataclass
class Engine:
    """One engine. ``pointer`` is what it shows at true top dead centre, ``play`` how far it can be off by itself,
    ``scatter`` the standard deviation of a reading; ``offsets`` how much earlier each cylinder is than the first;
    ``cable_pull`` how much earlier the maximum is when the control itself pulls the lever; ``late`` what makes the
    light show it later than it is, by its cause; ``slipped`` how much later the maximum is by a fault that no screw
    mends, such as a sheared key."""

    family: str
    serial: str
    screws: dict[str, Screw]
    shift: Mapping[str, float]
    pointer: float = 0.0
    play: float = 0.0
    scatter: float = 0.0
    contact: float = 29.0
    cylinders: int = 1
    offsets: Mapping[int, float] = field(default_factory=dict)
    cable_pull: float = 0.0
    late: dict[str, float] = field(default_factory=dict)
    slipped: float = 0.0
    rim: Mapping[str, float] = field(default_factory=dict)
    round_mm: float = 754.0
    rope: bool = False

    def true(self, figure: str, state: str, cylinder: int = 1, *, pulled: bool = False) -> float:
        """Where the spark of a cylinder truly comes; ``pulled`` by the control with its cable on."""
        angle = self.screws[figure].angle + self.offsets.get(cylinder, 0.0)
        if figure == MAXIMUM:
            angle += self.shift.get(state, 0.0) + (self.cable_pull if pulled else 0.0) - self.slipped
        return angle

    def shows(
        self, figure: str, state: str, chance: random.Random, cylinder: int = 1, *, pulled: bool = False
    ) -> float:
        """What is read of it, by the light or the meter and the pointer."""
        angle = self.true(figure, state, cylinder, pulled=pulled) - (sum(self.late.values()) if state != STATIC else 0)
        return angle + self.pointer + self._off(chance)

    def contacts(self, chance: random.Random) -> tuple[float, float]:
        """What the pointer shows where the piston meets the stop, before the top and after it."""
        early, late = self._off(chance), self._off(chance)
        return self.contact + self.pointer + early, -self.contact + self.pointer + late

    def _off(self, chance: random.Random) -> float:
        if not self.scatter and not self.play:
            return 0.0
        return chance.gauss(0, self.scatter) + chance.uniform(-self.play, self.play)
