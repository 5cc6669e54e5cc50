"""Several pairs of piston-stop readings: the mean of their middles, how far they scatter, and the uncertainty.

JCGM 100:2008, 4.2 (scatter of repeated readings) and 5.1.2 (combined with what does not average out).
"""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot

from kb.calc.dead_centre import DeadCentre, dead_centre
from kb.calc.readings import spread


def mean_dead_centre(pairs: Sequence[tuple[float, float]], uncertainty: float = 0.25) -> tuple[DeadCentre, float]:
    """The dead-centre reading from one or more pairs of contacts, and how far the pairs' middles scatter.

    Signed degrees as the pointer shows them; ``uncertainty`` is the standard one of each reading. It is counted as
    common to all pairs, since marks and eye are the same ones: it does not shrink with more of them. The scatter is the
    experimental standard deviation of one pair's middle, zero for a single pair.

    Raises:
        GeometryImpossible: both readings of a pair are the same, or the uncertainty is negative.
        NotFinite: a number is not finite.
        ReadingsContradict: there are no pairs.

    >>> found, scatter = mean_dead_centre([(31, -27), (30.5, -26.5)])
    >>> found.reading, round(found.standard, 9), scatter
    (2.0, 0.176776695, 0.0)
    """
    centres = [dead_centre(first, second, uncertainty) for first, second in pairs]
    if len(centres) == 1:
        return centres[0], 0.0
    middles = spread([centre.reading for centre in centres])
    return DeadCentre(middles.mean, hypot(middles.of_mean, centres[0].standard)), middles.scatter
