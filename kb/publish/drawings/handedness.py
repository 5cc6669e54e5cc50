"""On which side of top dead centre a mark lies, seen from above.

Let the flywheel turn clockwise, and let the crank stand 20 degrees before top dead centre. It still has 20 degrees to
turn clockwise until it is there.

- Marks on the flywheel, the pointer fixed: the mark of 20 before is now at the pointer, and when the crank reaches top
  dead centre it has been carried 20 degrees clockwise past the pointer, where the top-dead-centre mark now is. So on
  the flywheel the mark of 20 before lies 20 degrees clockwise of the top-dead-centre mark: ahead of it in the turn, for
  it passes the pointer first.
- The scale fixed, the pointer on the flywheel: the pointer is now at the scale's mark of 20 before, and is carried 20
  degrees clockwise to the top-dead-centre mark. So the mark of 20 before lies 20 degrees anticlockwise of it: against
  the turn, for the pointer comes to it first.

A flywheel that turns anticlockwise is the mirror image of each.
"""

from __future__ import annotations

from kb.vocabulary.engine import MarksOn


def degrees_clockwise(before: float, *, clockwise: bool, marks_on: str) -> float:
    """How far clockwise of the top-dead-centre mark, seen from above, the mark of an angle lies.

    ``before`` in signed degrees, before top dead centre positive; ``clockwise`` says how the flywheel turns seen from
    above, ``marks_on`` a word of ``MarksOn``. A negative result is anticlockwise.

    >>> degrees_clockwise(20, clockwise=True, marks_on=MarksOn.FLYWHEEL)
    20
    >>> degrees_clockwise(20, clockwise=True, marks_on=MarksOn.FIXED_SCALE)
    -20
    """
    return before if clockwise == (marks_on == MarksOn.FLYWHEEL) else -before
