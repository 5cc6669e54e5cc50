"""Every calculation worked out another way, from its definition: at sixty digits, by roots, quadrature and fractions.

Nothing here imports the package, so that its vectors and its accuracy are judged from outside. An oracle takes the
inputs of a vector's row and gives its outputs, or raises ``Refused`` with the error's name.
"""

from __future__ import annotations

from tests.oracles import exact, levers, pistons, plates, rims, scatter
from tests.oracles.digits import Oracle, Refused

ORACLES: dict[str, Oracle] = {
    **pistons.ORACLES,
    **rims.ORACLES,
    **exact.ORACLES,
    **scatter.ORACLES,
    **levers.ORACLES,
    **plates.ORACLES,
}

__all__ = ["ORACLES", "Oracle", "Refused"]
