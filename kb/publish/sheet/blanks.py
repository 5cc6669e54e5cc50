"""The boxes to write in at a step."""

from __future__ import annotations

from typing import TYPE_CHECKING

from kb.book.model.catalogue import MAXIMUM
from kb.publish.sheet.given import SheetJob
from kb.publish.sheet.record import Blank, SheetFigure, SheetTarget
from kb.quantity import UNITS

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from kb.book.setting.job import JobStep

COMPRESSION = "compression"
"""The figure that is measured at every cylinder."""


def blanks_of(
    job: SheetJob,
    step: JobStep,
    stated: Mapping[str, tuple[SheetFigure, ...]],
    targets: tuple[SheetTarget, ...],
    cylinders: int,
) -> tuple[Blank, ...]:
    """A box for each thing that the step records; for compression one for each cylinder."""
    records = [record.replace("-", " ") for record in step.records]
    boxes = []
    if targets:
        unit = "°"
        if any("of piston travel" in target.given.printed for target in targets):
            unit = f"° or {targets[0].given.unit}"
        conditions = _apart([target.given for target in targets])
        if MAXIMUM in step.figures and _is_read_at_each(job, cylinders):
            numbers = [f"cylinder {number}" for number in range(1, cylinders + 1)]
            conditions = [", ".join(part for part in (of, at) if part) for of in conditions for at in numbers]
        boxes = [Blank(record, of, unit, True) for of in conditions for record in records]
    if not step.figures:
        return tuple(Blank(record, "", "", False) for record in records)
    several = len(step.figures) > 1
    for figure, held in stated.items():
        unit = _unit(job, figure, held)
        label = job.book.figures[figure].label if several else ""
        parts = [f"cylinder {number}" for number in range(1, cylinders + 1)] if figure == COMPRESSION else None
        of_each = [", ".join(filter(None, (label, of))) for of in parts or _apart(held)]
        boxes += [Blank(record, of, unit, False) for of in of_each for record in records]
    return tuple(boxes)


def _is_read_at_each(job: SheetJob, cylinders: int) -> bool:
    """Whether each cylinder has its own contacts or trigger, or one serves cylinders that do not fire evenly."""
    triggers = job.family.part("ignition", "triggers")
    one = triggers == "1" and job.family.part("engine", "even_fire") == "true"
    return cylinders > 1 and triggers is not None and not one


def _apart(stated: Iterable[SheetFigure]) -> list[str]:
    """Labels that tell the boxes of a step apart: state and conditions, or only conditions where the state is one."""
    printed = [one for one in stated if one.printed]
    same = len({one.state for one in printed}) == 1
    when = dict.fromkeys(one.when.removeprefix(f"{one.state}, ") if same else one.when for one in printed)
    return list(when) if len(when) > 1 else [""]


def _unit(job: SheetJob, figure: str, stated: tuple[SheetFigure, ...]) -> str:
    printed = next((one.unit for one in stated if one.printed), None)
    if printed is not None:
        return printed
    keys = [key for key in job.book.figures[figure].units if key in UNITS]
    return " or ".join(dict.fromkeys(UNITS[key].symbol for key in keys))
