"""Conditions: what else a page says about when a figure is true, and the words that each takes."""

from __future__ import annotations

from kb.vocabulary.words import WordList

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Mapping


class Condition(WordList):
    """What a figure may depend on beside the state and the engine; the keys under ``at``."""

    RPM = "rpm"
    GEAR = "gear"
    CYLINDER = "cylinder"
    BANK = "bank"
    CARBURETTOR = "carburettor"
    MODULE = "module"
    ENGINE = "engine"
    PLUGS = "plugs"
    OCTANE = "octane"
    ALTITUDE = "altitude"


class Gear(WordList):
    """In gear or in neutral."""

    IN_GEAR = "in-gear"
    NEUTRAL = "neutral"


class Bank(WordList):
    """Which bank of a V."""

    PORT = "port"
    STARBOARD = "starboard"


class Module(WordList):
    """Whether the module that changes the advance is connected."""

    CONNECTED = "connected"
    DISCONNECTED = "disconnected"


class Warmth(WordList):
    """Whether the engine is cold or warm."""

    COLD = "cold"
    WARM = "warm"


class Plugs(WordList):
    """Plugs in or out."""

    IN = "in"
    OUT = "out"


class OctaneScale(WordList):
    """The ways of stating octane: research number, motor number, anti-knock index."""

    RON = "ron"
    MON = "mon"
    AKI = "aki"


CHOICES: Mapping[str, tuple[str, ...]] = {
    Condition.GEAR: Gear.words,
    Condition.ENGINE: Warmth.words,
    Condition.MODULE: Module.words,
    Condition.PLUGS: Plugs.words,
    Condition.BANK: Bank.words,
}
"""Conditions that are one of a few words."""

COUNTED: Mapping[str, str] = {Condition.CYLINDER: "cylinders", Condition.CARBURETTOR: "carburettors"}
"""Conditions that are one of several alike, and what of the engine says how many there are."""

MEASURED: Mapping[str, tuple[str, ...]] = {Condition.ALTITUDE: ("m", "ft"), Condition.OCTANE: OctaneScale.words}
"""Conditions that are a number with a unit or a scale, and which."""
