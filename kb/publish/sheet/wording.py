"""The words beside a target on the sheet: the correction for the pointer, the readings that are right, the margin."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from kb.calc.dead_centre import STOP_JOB_BEYOND
from kb.quantity import Form, Quantity, angle_in_words, plain

if TYPE_CHECKING:
    from kb.book.setting.aim import Aim

STOP_RULE = (
    f"More than {STOP_JOB_BEYOND:g}° to either side: stop, and look at the flywheel key and whether this is the right "
    "flywheel and cylinder."
)

DEAD_CENTRE_OPEN = (
    "The targets are for a pointer that is right at true top dead centre. If it shows another mark there, write down "
    f"which, and correct each target as it says. {STOP_RULE}"
)

NONE_KEPT = "none kept"

CENTRE_OPEN_IN_SHORT = (
    "For a pointer that is right at true top dead centre; if it is not, correct each target by its rule. More than "
    f"{STOP_JOB_BEYOND:g}° out: stop."
)


def dead_centre_words(reading: Fraction | None) -> str:
    """The words on the dead-centre reading at the head of the sheet; ``reading`` in signed degrees."""
    if reading is None:
        return DEAD_CENTRE_OPEN
    if reading == 0:
        return f"The pointer was found right at true top dead centre. {STOP_RULE}"
    return (
        f"The pointer shows {angle_in_words(reading)} at true top dead centre on this engine, for this job alone. "
        f"Every target below is corrected for it already; do not correct again. {STOP_RULE}"
    )


def pointer_rule(shown: Fraction) -> str:
    """How to correct a target, in signed degrees, for a pointer that is not right at true top dead centre.

    >>> pointer_rule(Fraction(24))
    'Pointer reads before: add. After: take away.'
    >>> pointer_rule(Fraction(-5))
    'Pointer reads before: take away. After: add.'
    """
    if shown == 0:
        return "Set it to what the pointer reads at true top dead centre, on the same side."
    side, other, same = ("before", "after", shown > 0) if shown > 0 else ("after", "before", False)
    rule = f"Pointer reads before: {'add' if same else 'take away'}. After: {'take away' if same else 'add'}."
    if abs(shown) < STOP_JOB_BEYOND:
        rule += f" If more is taken away than is there, the rest is {other} instead of {side}."
    return rule


def right_words(window: Quantity | None) -> str:
    """The readings between which a setting is right; empty where one end is open.

    >>> from kb.quantity import plain_angle
    >>> right_words(plain_angle(Fraction(-6), Fraction(-4)))
    'OK from 4 to 6° ATDC'
    """
    if window is None:
        return ""
    return f"OK {'from' if window.form is Form.WINDOW else 'at'} {window}"


def margin_words(target: Aim, chosen: Fraction | int, limit: Fraction) -> str:
    """The margin kept in hand on the late side, in degrees; empty for a figure that takes none."""
    if not limit:
        return ""
    if target.margin:
        return f"{plain(target.margin)}° kept in hand on the late side"
    if chosen:
        return "no room in the printed window for the margin that was chosen"
    return f"{NONE_KEPT}; up to {plain(limit)}° on the late side is the mechanic's choice"
