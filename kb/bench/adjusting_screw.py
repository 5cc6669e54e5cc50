"""An adjusting screw and the reading that it is to reach: what is known of both before a turn is worked out."""

from __future__ import annotations

from fractions import Fraction

from kb.bench.wording import TYPED
from kb.errors import QuantityError
from kb.frozen import record
from kb.working import Input, Working

TYPE_CHECKING = False
if TYPE_CHECKING:
    from kb.book.model.family import Family
    from kb.book.setting.aim import Aim

CAUTION = "stop the engine before a hand goes near the screw, and keep sleeves and hair away from the open flywheel"
OF_MAXIMUM = "a maximum set too early detonates under load and holes a piston: stay on the late side of it"


@record()
class ScrewTarget:
    """The reading to reach, in signed degrees as the pointer shows them, and its source.

    ``late`` says that the reading must not come out early, as for a maximum: the turn is rounded late, and never goes
    past the target on its early side; else it is rounded to the nearest.
    ``steps`` are the working that leads to it, ``remarks`` are shown with it.
    """

    shown: Fraction
    source: str = TYPED
    late: bool = True
    steps: Working = ()
    remarks: tuple[str, ...] = ()

    @property
    def cautions(self) -> tuple[str, ...]:
        """The cautions to show."""
        return (CAUTION, OF_MAXIMUM) if self.late else (CAUTION,)

    @classmethod
    def of(cls, aim: Aim, late: bool) -> ScrewTarget:
        """The target of a family's figure."""
        shown = aim.show.nominal
        if shown is None:
            raise QuantityError(f"{aim.show} is not one reading to aim at")
        steps = tuple(step for step in aim.working if not step.name.startswith("when running"))
        return cls(shown, f"{aim.answer.label.lower()} of {aim.answer.family}", late, steps, aim.remarks)


@record()
class AdjustingScrew:
    """The screw: its name, which way turning it in moves the reading (+1 earlier, -1 later, 0 unknown), its lock nut.

    ``source`` is where these are from.
    """

    part: str = "the screw"
    sign: int = 0
    pitch: str = ""
    locknut: bool | None = None
    source: str = TYPED

    @classmethod
    def of(cls, family: Family, figure: str) -> AdjustingScrew:
        """A family's screw for a figure; what its file does not state stays unknown."""
        raw = family.part("adjusters", figure) or {}
        pitch = raw.get("pitch") or {}
        locknut = {"true": True, "false": False}.get(str(raw.get("locknut", "")))
        sign = {"earlier": 1, "later": -1}.get(str(raw.get("turning_in", "")), 0)
        words = " ".join(f"{number} {unit}" for unit, number in pitch.items())
        part = f"the {raw['part']}" if "part" in raw else "the screw"
        return cls(part, sign, words, locknut, f"file of {family.id}")

    @property
    def inputs(self) -> tuple[Input, ...]:
        """As inputs of a working."""
        found = []
        if self.sign:
            found.append(Input("turning in makes it", "earlier" if self.sign > 0 else "later", self.source))
        if self.pitch:
            found.append(Input("pitch of the screw", self.pitch, self.source))
        return tuple(found)
