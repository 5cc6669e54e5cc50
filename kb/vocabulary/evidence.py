"""What figures rest on: kinds of source, what stands instead of a value, and how sure a figure is."""

from __future__ import annotations

from kb.vocabulary.words import WordList


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


class AbsentWord(WordList):
    """What is said instead of a value: the source does not state it, or it does not apply."""

    NOT_STATED = "not-stated"
    NOT_APPLICABLE = "not-applicable"


class RetiredKind(WordList):
    """What a retired id had named."""

    FAMILY = "family"
    SOURCE = "source"
    MAKER = "maker"
    FIGURE = "figure"


class HowSure(WordList):
    """How well a figure is supported, the surest first."""

    AGREED = "agreed"
    SINGLE = "single"
    DERIVED = "derived"
    DISPUTED = "disputed"
