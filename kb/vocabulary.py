"""Every closed list of words, once: states, conditions, what an engine is like, sources, hazards, the work.

Floor 0.

A word is written nowhere else in the code: models, schemas, the command line's choices and
``site/assets/vocabulary.js`` are made from these. To rename one, change it here and in the data. Units and sides stand
in ``kb.quantity``, the severity of a finding in ``kb.finding``, standings in ``kb.book.model.standing``.

Members are plain text: as enumerations these lists would cost a cold command a third of a bare interpreter's start.
"""

from __future__ import annotations

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Mapping
    from typing import ClassVar


class WordList:
    """A closed list of words: each is a member by its name, and ``words`` holds them in order."""

    words: ClassVar[tuple[str, ...]]

    def __init_subclass__(cls) -> None:
        cls.words = tuple([word for name, word in vars(cls).items() if name.isupper()])


class State(WordList):
    """The condition in which a figure is true; only like is compared with like."""

    CRANKING = "cranking"
    RUNNING = "running"
    STATIC = "static"
    AT_REST = "at-rest"


SETTING_STATES = (State.CRANKING, State.STATIC, State.RUNNING)
"""Those in which timing is set, in the order in which a figure is looked for: on land first."""

SCREEN_STATES = (*SETTING_STATES, State.AT_REST)
"""All of them, in the order in which a screen shows them."""

CORRECTED_STATES = (State.CRANKING, State.RUNNING)
"""The two between which a correction leads."""

HOW_WORDS: Mapping[str, str] = {
    State.CRANKING: f"while {State.CRANKING}",
    State.RUNNING: State.RUNNING,
    State.STATIC: "standing still",
}
"""How timing is set in each of the states in which it can be."""

SET_WORDS: Mapping[str, str] = {state: f"set {how}" for state, how in HOW_WORDS.items()}

PLACE_WORDS: Mapping[str, str] = {
    State.CRANKING: f"{State.CRANKING}, on land",
    State.STATIC: "standing still",
    State.RUNNING: f"{State.RUNNING}, in the water",
}
"""How a maximum is set, for who chooses when a job begins."""


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

GEAR_WORDS: Mapping[str, str] = {Gear.IN_GEAR: "in gear", Gear.NEUTRAL: "in neutral"}


class Cycle(WordList):
    """Two-stroke or four-stroke."""

    TWO_STROKE = "two-stroke"
    FOUR_STROKE = "four-stroke"


class Layout(WordList):
    """How the cylinders stand."""

    SINGLE = "single"
    IN_LINE = "in-line"
    V = "v"


class IgnitionType(WordList):
    """What makes the spark."""

    BREAKER_MAGNETO = "breaker-magneto"
    BREAKER_BATTERY = "breaker-battery"
    CAPACITOR_DISCHARGE = "capacitor-discharge"
    BATTERY_CAPACITOR_DISCHARGE = "battery-capacitor-discharge"
    TRANSISTOR = "transistor"


BREAKER_IGNITIONS = (IgnitionType.BREAKER_MAGNETO, IgnitionType.BREAKER_BATTERY)


class Linkage(WordList):
    """How spark and throttle are linked."""

    CAM_TOUCHES_AT_IDLE = "cam-touches-at-idle"
    CAM_CLEAR_AT_IDLE = "cam-clear-at-idle"
    ROLLER_ON_MARK = "roller-on-mark"
    PLATES_CRACKED_AT_IDLE = "plates-cracked-at-idle"
    FIXED_SPARK = "fixed-spark"


class TurningIn(WordList):
    """What turning a screw in does to its figure."""

    EARLIER = "earlier"
    LATER = "later"
    LARGER = "larger"
    SMALLER = "smaller"


class Rotation(WordList):
    """How the flywheel turns, seen from above."""

    CLOCKWISE = "clockwise"
    ANTICLOCKWISE = "anticlockwise"


class MarksOn(WordList):
    """Where the numbers of the degrees stand."""

    FLYWHEEL = "flywheel"
    FIXED_SCALE = "fixed-scale"


class HazardTier(WordList):
    """Hazard tier of a kind of figure, the gravest first."""

    A = "A"
    B = "B"
    C = "C"


class AimPoint(WordList):
    """Where in its window a figure is aimed at."""

    EARLY_END = "early-end"
    MIDDLE = "middle"
    LATE_END = "late-end"
    NONE = "none"


class SafestEnd(WordList):
    """Which end of a dispute does the least harm."""

    LATER = "later"
    EARLIER = "earlier"
    SMALLER = "smaller"
    LARGER = "larger"
    NONE = "none"


class SourceKind(WordList):
    """What kind of source it is."""

    HANDBOOK = "handbook"
    WORKSHOP_MANUAL = "workshop-manual"
    BULLETIN = "bulletin"
    PARTS_LIST = "parts-list"
    PLATE = "plate"
    BENCH_MEASUREMENT = "bench-measurement"
    COMMON_PRACTICE = "common-practice"
    MEMORY = "memory"


PAGED_KINDS = frozenset({SourceKind.HANDBOOK, SourceKind.WORKSHOP_MANUAL, SourceKind.BULLETIN, SourceKind.PARTS_LIST})
"""Kinds of source that have pages."""

HEARSAY_KINDS = frozenset({SourceKind.COMMON_PRACTICE, SourceKind.MEMORY})
"""Kinds of source that are never an original beside an original."""


class Seen(WordList):
    """How a source was seen."""

    PAPER = "paper"
    SCAN = "scan"
    PHOTOGRAPH = "photograph"
    ON_THE_ENGINE = "on-the-engine"
    TOLD = "told"


class Absent(WordList):
    """What is said instead of a value: the source does not state it, or it does not apply."""

    NOT_STATED = "not-stated"
    NOT_APPLICABLE = "not-applicable"


class RetiredKind(WordList):
    """What an id that was given up had named."""

    FAMILY = "family"
    SOURCE = "source"
    MAKER = "maker"
    FIGURE = "figure"


class CautionSeverity(WordList):
    """How grave a caution or a figure found wrong is, the worst first."""

    DANGER = "danger"
    WARNING = "warning"
    CARE = "care"


class Noted(WordList):
    """What is noted at a step: a reading before the work, or one after locking."""

    AS_FOUND = "as-found"
    AS_LEFT = "as-left"


class Fitted(WordList):
    """Whether a step is for engines with modules that change the advance, or without."""

    FITTED = "fitted"
    NONE = "none"


class Presence(WordList):
    """Whether a step is for flywheels with numbered marks, or without."""

    PRESENT = "present"
    NONE = "none"
