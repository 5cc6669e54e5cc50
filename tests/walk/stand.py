"""The engine on the stand: what is fitted, tied and connected just now, and the harm done when it is cranked so."""

from __future__ import annotations

import random
import re
from dataclasses import dataclass, field

from tests.walk.engine import CRANKING, MAXIMUM, RUNNING, STATIC, Engine

_DEEDS: tuple[tuple[str, str, bool], ...] = (
    (r"screw (a|the) piston stop into", "stop_in", True),
    (r"take (the stop|it) out|stop out of its hole", "stop_in", False),
    (r"throttle cable .*take it off|throttle cable off|take the throttle cable off", "cable_on", False),
    (r"put the throttle cable back|throttle cable back", "cable_on", True),
    (r"tie the lever forward", "tied", True),
    (r"untie|lever untied", "tied", False),
    (r"clip it to the block|cable off the battery's negative|cable off the negative", "live", False),
    (r"take the clip off|reconnect the battery|undo what made the ignition dead|cables? back and tight", "live", True),
    (r"stop lead .*back in its place|stop lead off the block", "live", True),
    (r"unplug each module", "module_on", False),
    (r"plug in again each module|every module plugged in again", "module_on", True),
    (r"turn each plug in by hand", "plugs_in", True),
    (r"take every plug out|take the plugs out|every plug out", "plugs_in", False),
    (r"choke it and start|start it", "running", True),
)
"""Words of an instruction, and what is so once it was followed."""


@dataclass
class Stand:
    """What a mechanic's hands have left so."""

    engine: Engine
    chance: random.Random
    stop_in: bool = False
    cable_on: bool = True
    tied: bool = False
    live: bool = True
    module_on: bool = True
    plugs_in: bool = True
    running: bool = False
    harm: list[str] = field(default_factory=list)

    def follow(self, words: str) -> None:
        """Do what an instruction says, sentence by sentence."""
        for sentence in re.split(r"(?<=[.;:,]) ", words.lower()):
            for pattern, name, stands in _DEEDS:
                if re.search(pattern, sentence) or (name == "cable_on" and re.search(pattern, words.lower())):
                    setattr(self, name, stands)
        if not self.plugs_in:
            self.running = False

    def crank(self) -> None:
        """Turn it by the starter or the rope."""
        if self.stop_in:
            self.harm.append("cranked into the piston stop")
            self.stop_in = False

    def state(self, words: str) -> str:
        """How a figure is read by an instruction: running, by the starter, or standing still."""
        if self.running:
            return RUNNING
        return CRANKING if re.search(r"\bcrank", words.lower()) and not re.search(r"do not crank", words) else STATIC

    def read(self, figure: str, words: str, cylinder: int = 1) -> float | None:
        """What is read of a figure where an instruction says how; nothing if no spark lights the light."""
        state = self.state(words)
        if state == CRANKING:
            self.crank()
            if not self.live:
                return None
        pulled = figure == MAXIMUM and self.cable_on and not self.tied
        return self.engine.shows(figure, state, self.chance, cylinder, pulled=pulled)
