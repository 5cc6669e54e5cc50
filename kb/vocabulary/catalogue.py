"""What the catalogue says of a kind of figure."""

from __future__ import annotations

from kb.vocabulary.words import WordList


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
