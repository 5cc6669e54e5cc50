"""The one guard that all of the arithmetic shares."""

from __future__ import annotations

from math import isfinite

from kb.errors import NotFinite


def require_finite(*values: float) -> None:
    """Do nothing if every value is a finite number.

    Raises:
        NotFinite: one is infinite or no number.

    >>> require_finite(24, 0.5)
    """
    for value in values:
        if not isfinite(value):
            raise NotFinite(f"{value} is not a finite number")
