"""What an engine is like: how it works, how it fires, how spark and throttle are linked, how its flywheel is marked."""

from __future__ import annotations

from kb.vocabulary.words import WordList


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
