"""Every error that Stopscrew raises on purpose, as one tree.

Floor 0.

::

    StopscrewError
    ├── QuantityError                 a value that cannot be read, converted or compared
    │   ├── NumberNotPlain            not a plain number as files write them
    │   ├── WindowInverted            the first end of a window lies beyond the second
    │   ├── UnknownUnit               no such unit key
    │   ├── UnitsNotComparable        two quantities of different dimensions
    │   ├── GeometryImpossible        no such crank, rod, rim or piston position
    │   ├── NotFinite                 not a finite number
    │   └── ReadingsContradict        readings from which no next step follows
    ├── BookError                     the book itself cannot be read              (exit 5)
    │   ├── BookMissing               there is no such file or folder
    │   ├── BookForeign               the file is not a compiled book of this version
    │   └── BookDamaged               a row or the whole does not match its checksum
    ├── BookHasFaults                 the folder has errors, so nothing is compiled (exit 1)
    ├── InternalError                 a rule or compiling has stopped, so nothing is compiled (exit 6)
    ├── ExtraMissing                  what is asked for needs an extra that is not installed (exit 2)
    ├── LookUpError                   no answer, and why; carries candidates        (exit 3)
    │   ├── FamilyNotFound            no family has that id or name
    │   ├── FamilyRetired             the id is retired, and where it went
    │   ├── SeveralFamilies           the name, serial and year fit more than one
    │   ├── SerialFitsNone            no range of the family holds that serial number
    │   ├── YearFitsNone              the family was not made in that year
    │   ├── FigureNotFound            there is no such kind of figure
    │   ├── FigureUnknown             no figure is published
    │   ├── FigureNotStated           a source says that it does not state it
    │   ├── FigureDoesNotApply        a source says that it does not apply
    │   ├── StateNotFound             the figure is known, but not in that state
    │   ├── StateNeeded               it is known in several states: say which
    │   ├── ConditionNotFound         nothing is known under that condition
    │   ├── ConditionNeeded           it differs by a condition: say which
    │   ├── SerialNeeded              it differs by serial number: say yours
    │   ├── YearNeeded                it differs by year: say yours
    │   ├── RoutineNotFound           there is no order of work for the family's linkage, or its file names no linkage
    │   └── StepNotFound              the order of work has no such step
    └── Refusal                       known, and must not be given as one number    (exit 4)
        ├── FigureDisputed            originals disagree and no end is the safe one
        ├── FigureWithdrawn           every statement of it was found wrong
        ├── NoCorrectionKnown         nothing sourced leads from one state to the other
        ├── DeadCentreTooFar          the pointer is out by more than 3 degrees: stop and look at the flywheel
        ├── MarginTooWide             a margin beyond the catalogue's limit, or on a figure that takes none
        ├── NotAnAngle                the figure is not set by the timing light, or has no one target
        ├── OddFire                   the cylinders do not fire at even intervals, or that is not known
        └── Extrapolation             the correction's table does not reach that speed

Every error says in words what is wrong and, where something can be typed, what to type.
"""

from __future__ import annotations

from collections.abc import Sequence


class StopscrewError(Exception):
    """The root of the tree."""


class QuantityError(StopscrewError, ValueError):
    """A value that cannot be read, converted or compared."""


class NumberNotPlain(QuantityError):
    """Not a plain number as files write them."""


class WindowInverted(QuantityError):
    """The first end of a window lies beyond the second."""


class UnknownUnit(QuantityError):
    """No such unit key."""


class UnitsNotComparable(QuantityError):
    """Two quantities of different dimensions."""


class GeometryImpossible(QuantityError):
    """No such crank, rod, rim or piston position."""


class NotFinite(QuantityError):
    """Not a finite number."""


class ReadingsContradict(QuantityError):
    """Readings from which no next step follows: they contradict each other, or do not move."""


class BookError(StopscrewError):
    """The book itself cannot be read."""


class BookMissing(BookError):
    """There is no such file or folder."""


class BookForeign(BookError):
    """The file is not a compiled book of this version."""


class BookDamaged(BookError):
    """A row, or the whole, does not match its checksum."""


class BookHasFaults(StopscrewError):
    """The folder has errors, so nothing is compiled from it.

    ``findings`` are all that its check found, warnings among them.
    """

    def __init__(self, message: str, findings: Sequence[object] = ()) -> None:
        super().__init__(message)
        self.message = message
        self.findings: tuple[object, ...] = tuple(findings)


class InternalError(StopscrewError):
    """A rule, or compiling, has stopped with an exception: a fault of this program. Nothing is compiled.

    ``findings`` are all that the check found, and what failed is among them.
    """

    def __init__(self, message: str, findings: Sequence[object] = ()) -> None:
        super().__init__(message)
        self.message = message
        self.findings: tuple[object, ...] = tuple(findings)


class ExtraMissing(StopscrewError):
    """What is asked for needs packages that a plain install leaves out; the message names the extra to install."""


class LookUpError(StopscrewError, LookupError):
    """No answer, and why.

    ``candidates`` are what may be meant: family ids, figures, states, conditions or ranges, as text to type.
    """

    def __init__(self, message: str, candidates: Sequence[str] = ()) -> None:
        super().__init__(message)
        self.message = message
        self.candidates: tuple[str, ...] = tuple(candidates)


class FamilyNotFound(LookUpError):
    """No family has that id or name."""


class FamilyRetired(LookUpError):
    """The id is retired; the candidates are where it went."""


class SeveralFamilies(LookUpError):
    """The name, serial and year fit more than one family."""


class SerialFitsNone(LookUpError):
    """No range of the family holds that serial number."""


class YearFitsNone(LookUpError):
    """The family was not made in that year."""


class FigureNotFound(LookUpError):
    """There is no such kind of figure."""


class FigureUnknown(LookUpError):
    """No figure is published."""


class FigureNotStated(LookUpError):
    """A source says that it does not state the figure."""


class FigureDoesNotApply(LookUpError):
    """A source says that the figure does not apply."""


class StateNotFound(LookUpError):
    """The figure is known, but not in that state."""


class StateNeeded(LookUpError):
    """The figure is known in several states."""


class ConditionNotFound(LookUpError):
    """Nothing is known under that condition."""


class ConditionNeeded(LookUpError):
    """The figure differs by a condition that was not given."""


class SerialNeeded(LookUpError):
    """The figure differs by serial number."""


class YearNeeded(LookUpError):
    """The figure differs by year of manufacture."""


class RoutineNotFound(LookUpError):
    """No order of work for a family: its file names no linkage, or no routine is for that linkage."""


class StepNotFound(LookUpError):
    """The order of work has no step of that id."""


class Refusal(StopscrewError):
    """Known, and must not be given as one number.

    ``candidates`` are what stands in the book instead: the statements, each with its source.
    """

    def __init__(self, message: str, candidates: Sequence[str] = ()) -> None:
        super().__init__(message)
        self.message = message
        self.candidates: tuple[str, ...] = tuple(candidates)


class FigureDisputed(Refusal):
    """Originals disagree and no end is the safe one."""


class FigureWithdrawn(Refusal):
    """Every statement of the figure was found wrong."""


class NoCorrectionKnown(Refusal):
    """Nothing sourced leads from one state to the other."""


class DeadCentreTooFar(Refusal):
    """The pointer is out by more than 3 degrees at true top dead centre: stop and look at the flywheel first."""


class MarginTooWide(Refusal):
    """A margin beyond the catalogue's limit, or on a figure that takes none."""


class NotAnAngle(Refusal):
    """The figure is not set by the timing light, or has no one target."""


class OddFire(Refusal):
    """The cylinders do not fire at even intervals, or that is not known."""


class Extrapolation(Refusal):
    """The correction's table does not reach that speed."""
