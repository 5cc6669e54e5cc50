"""The pointer on one engine: what it shows at true top dead centre, and when that stops the job.

The reading belongs to one engine on one day: it is typed, used, and never stored with a family nor put in a link.
"""

from __future__ import annotations

from kb.calc.dead_centre import STOP_JOB_BEYOND
from kb.errors import DeadCentreTooFar
from kb.quantity import angle_in_words
from kb.working import Input

TYPE_CHECKING = False
if TYPE_CHECKING:
    from fractions import Fraction

NOT_READ = "no dead-centre reading given: the pointer is assumed to be right"


def require_near_centre(dead_centre: Fraction) -> None:
    """Raise when the pointer is out by more than 3 degrees, which stops the job; ``dead_centre`` in signed degrees.

    Raises:
        DeadCentreTooFar: it is; the message says where to look.
    """
    if abs(dead_centre) > STOP_JOB_BEYOND:
        raise DeadCentreTooFar(
            f"the pointer shows {angle_in_words(dead_centre)} at true top dead centre; beyond {STOP_JOB_BEYOND:g} "
            "degrees stop, and look at the flywheel key and whether this is the right flywheel and cylinder"
        )


def pointer_input(dead_centre: Fraction | None) -> Input:
    """The dead-centre reading as an input of a working."""
    if dead_centre is None:
        return Input("dead-centre reading", "0", "not given, assumed to be right")
    return Input("dead-centre reading", angle_in_words(dead_centre), "this engine, this job")


def pointer_remarks(dead_centre: Fraction | None) -> tuple[str, ...]:
    """The remark for an engine whose dead-centre reading was not given."""
    return (NOT_READ,) if dead_centre is None else ()
