"""How well a figure is supported, in one word: its standing."""

from __future__ import annotations

from enum import StrEnum

from kb.vocabulary.evidence import HowSure


class Standing(StrEnum):
    """The standings of a figure that has a value; a screen calls it "how sure"."""

    AGREED = HowSure.AGREED
    SINGLE = HowSure.SINGLE
    DISPUTED = HowSure.DISPUTED
    DERIVED = HowSure.DERIVED

    @property
    def weakness(self) -> int:
        """How weak the support is: 0 for the strongest standing."""
        return list(Standing).index(self) if self is not Standing.DERIVED else 1
