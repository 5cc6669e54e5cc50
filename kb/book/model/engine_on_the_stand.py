"""The engine on the stand: one engine on one day, and what is chosen for the work on it. Light to import."""

from __future__ import annotations

from kb.frozen import record

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Mapping
    from fractions import Fraction
    from typing import Any, TypedDict

    class EngineKeywords(TypedDict, total=False):
        """What ``EngineOnTheStand.of`` takes by name: its own fields, and each condition that a figure may have."""

        serial: str | int | None
        year: int | None
        margin: Fraction | int
        dead_centre: Fraction | int | None
        running_rpm: Fraction | int | None
        rpm: Any
        gear: Any
        cylinder: Any
        bank: Any
        carburettor: Any
        module: Any
        engine: Any
        plugs: Any
        octane: Any
        altitude: Any


_NONE: Mapping[str, Any] = {}


@record()
class EngineOnTheStand:
    """One engine today, as far as it is known; an empty one is any engine of the family.

    ``serial`` and ``year`` are its own. ``state`` and ``conditions`` are those under which a figure is asked for, the
    conditions by name as in the files. ``margin`` is what is kept in hand on the late side of a maximum, in degrees;
    ``dead_centre`` what the pointer shows at true top dead centre, in signed degrees, before positive, or None where
    it was not read; ``running_rpm`` the speed for which to give the running figure of a setting.
    """

    serial: str | None = None
    year: int | None = None
    state: str = ""
    conditions: Mapping[str, Any] = _NONE
    margin: Fraction | int = 0
    dead_centre: Fraction | None = None
    running_rpm: Fraction | None = None

    @classmethod
    def of(
        cls,
        state: str | None = None,
        *,
        serial: str | int | None = None,
        year: int | None = None,
        margin: Fraction | int = 0,
        dead_centre: Fraction | int | None = None,
        running_rpm: Fraction | int | None = None,
        **conditions: Any,
    ) -> EngineOnTheStand:
        """From the keywords of ``Book.look_up``, ``Book.aim`` and the others; None is for what is not known."""
        return cls(
            None if serial is None else str(serial),
            year,
            state or "",
            {name: value for name, value in conditions.items() if value is not None} if conditions else _NONE,
            margin and _exact(margin),
            None if dead_centre is None else _exact(dead_centre),
            None if running_rpm is None else _exact(running_rpm),
        )

    @property
    def pointer(self) -> Fraction:
        """The dead-centre reading; 0 where it was not read, since the pointer is then assumed right."""
        return self.dead_centre or _exact(0)

    def asked(
        self, state: str = "", conditions: Mapping[str, Any] = _NONE, *, with_margin: bool = True
    ) -> EngineOnTheStand:
        """The same engine, asked for another state and other conditions, and without its margin on request."""
        margin = self.margin if with_margin else 0
        return EngineOnTheStand(self.serial, self.year, state, conditions, margin, self.dead_centre, self.running_rpm)


ANY_ENGINE = EngineOnTheStand()
"""Nothing is known of the engine but its family."""


def _exact(number: Fraction | int) -> Fraction:
    from fractions import Fraction  # takes longer to import than a look-up, which needs none

    return Fraction(number)
