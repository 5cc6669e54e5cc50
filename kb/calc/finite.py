"""The guard that all arithmetic shares: numbers must be finite."""

from __future__ import annotations

from math import isfinite

from kb.errors import NotFinite

TYPE_CHECKING = False
if TYPE_CHECKING:
    from fractions import Fraction


def require_finite(*values: float | Fraction) -> None:
    """Raise unless every value is a finite number.

    Raises:
        NotFinite: one is infinite or no number.

    >>> require_finite(24, 0.5)
    """
    for value in values:
        if isinstance(value, float) and not isfinite(value):  # no whole number or fraction is infinite
            raise NotFinite(f"{value} is not a finite number")
