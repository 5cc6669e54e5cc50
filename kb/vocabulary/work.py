"""The work: how grave a caution is, what a step notes and which engines it is for, how an angle is read, and what makes
the light show a spark later than it is.
"""

from __future__ import annotations

from collections.abc import Mapping

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


class FalseLate(WordList):
    """What makes the light show a spark later than it is: believed, it is made earlier and comes out too early."""

    LEVER = "lever"
    CLIP = "clip"
    DIAL = "dial"
    SUPPLY = "supply"
    SPEED = "speed"
    MARK = "mark"


FALSE_LATE_WORDS: Mapping[str, tuple[str, str, str]] = {
    FalseLate.LEVER: (
        "the lever on its stop",
        "Paper laid between the stop and what meets it is held fast while the engine turns.",
        "Tie the lever hard against its stop, so that paper there is held.",
    ),
    FalseLate.CLIP: (
        "the light's clip on lead one, its arrow toward the plug",
        "The light's clip is on the lead of cylinder one, clear of the others, its arrow toward the plug.",
        "Put the clip on lead one, its arrow toward the plug.",
    ),
    FalseLate.DIAL: ("its dial at nought", "The dial of the light stands at nought.", "Turn the dial to nought."),
    FalseLate.SUPPLY: (
        "a battery of its own",
        "The light is fed by a battery of its own, not by the engine's, which sinks while cranking.",
        "Feed the light from another battery.",
    ),
    FalseLate.SPEED: (
        "cranking speed and voltage up to their figures",
        "Cranking speed and voltage are not below their figures.",
        "Charge the battery and clean its terminals until speed and voltage are reached; with a rope, pull briskly.",
    ),
    FalseLate.MARK: (
        "the mark that is read one before top dead centre",
        "The mark that was read is one before top dead centre: turning as it runs, it passes the pointer first.",
        "Find the marks before top dead centre, and read one of those.",
    ),
}
"""Each in short, as a statement to answer yes or no to, and what to do where it is not so."""

FALSE_LATE_IN_SHORT = ", ".join(short for short, *_ in FALSE_LATE_WORDS.values())
"""All of them in one line."""
