"""The work: how grave a caution is, what a step notes and which engines it is for, and how an angle is read."""

from __future__ import annotations

from kb.vocabulary.words import WordList


class CautionSeverity(WordList):
    """How grave a caution or a figure found wrong is, the worst first."""

    DANGER = "danger"
    WARNING = "warning"
    CARE = "care"


class ControlKind(WordList):
    """What stands in the way of a hazard, the strongest first: it cannot be done, work waits for it, or it is said."""

    DESIGN = "design"
    GATE = "gate"
    WORDS = "words"


class Noted(WordList):
    """What is noted at a step: a reading before the work, or one after locking."""

    AS_FOUND = "as-found"
    AS_LEFT = "as-left"


class Turned(WordList):
    """How the flywheel is turned at a step: by hand, ignition dead; or by the starter or the rope."""

    BY_HAND = "by-hand"
    BY_STARTER = "by-starter"


class IgnitionLeft(WordList):
    """How a step leaves the ignition: it can give no spark, or it can."""

    DEAD = "dead"
    LIVE = "live"


class Fitted(WordList):
    """Whether a step is for engines with modules that change the advance, or without."""

    FITTED = "fitted"
    NONE = "none"


class Presence(WordList):
    """Whether a step is for flywheels with numbered marks, or without."""

    PRESENT = "present"
    NONE = "none"


class AngleRead(WordList):
    """What an angle in a report is: the true angle of the crank, or what the pointer showed, whatever its error."""

    TRUE_ANGLE = "true-angle"
    AS_SHOWN = "as-shown"


class Instrument(WordList):
    """What an angle was read with. A depth gauge is any gauge in the plug hole, a meter or lamp is at the breaker."""

    TIMING_LIGHT = "timing-light"
    DEGREE_WHEEL = "degree-wheel"
    DEPTH_GAUGE = "depth-gauge"
    METER_OR_LAMP = "meter-or-lamp"
    BY_EYE = "by-eye"
