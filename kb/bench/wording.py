"""How the bench writes numbers and their sources: rounded for reading, with side and unit, never with a sign."""

from __future__ import annotations

from fractions import Fraction

from kb.errors import FigureUnknown, QuantityError
from kb.frozen import record
from kb.quantity import UNITS, Quantity, angle_in_words, plain, read_value
from kb.working import Input

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Sequence

    from kb.book.model.answer import Answer
    from kb.book.model.family import Family

READ = "read on this engine"
TYPED = "typed"
TAKEN = "assumed, none given"

ABOVE = "worked out above"

NEAREST = "rounded to the nearest"
LATE = "rounded toward late"


def exactly(number: float) -> Fraction:
    """A number without the noise in the last digits of a float, which must not tip a rounding to one side.

    >>> exactly(2.3), exactly(0.1 + 0.2)
    (Fraction(23, 10), Fraction(3, 10))
    """
    return round(Fraction(number), 9)


def angle(degrees: Fraction | float, decimals: int = 2) -> str:
    """Signed degrees, rounded, as words with the side.

    >>> angle(-19.4427906), angle(0.001)
    ('19.44 after', '0')
    """
    return angle_in_words(round(Fraction(degrees), decimals))


def degrees(size: Fraction | float, decimals: int = 2) -> str:
    """A number of degrees without a side.

    >>> degrees(29.6028194)
    '29.6°'
    """
    return f"{plain(size, decimals)}°"


def length(millimetres: Fraction | float) -> str:
    """A length in millimetres and in inches.

    >>> length(20.943951)
    '20.94 mm (0.825 in)'
    """
    return f"{plain(millimetres, 2)} mm ({plain(Fraction(millimetres) / UNITS['in'].factor, 3)} in)"


def in_millimetres(quantity: Quantity) -> float:
    """A length in millimetres, at its nominal."""
    value = quantity.nominal
    if value is None:
        raise QuantityError(f"{quantity} is not one length")
    return float(quantity.unit.convert(value, UNITS["mm"]))


def listed(words: Sequence[str]) -> str:
    """Words joined with commas and a final "and".

    >>> listed(["1", "2", "3"])
    '1, 2 and 3'
    """
    return " and ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else words)


def cited(answer: Answer) -> str:
    """The sources that an answer of the book rests on, with their pages."""
    counted = [one for one in answer.evidence if one.role == "counts"] or list(answer.evidence[:1])
    return "; ".join(f"{one.source_title}{f', page {one.page}' if one.page else ''}" for one in counted)


@record()
class CrankGiven:
    """Stroke and connecting rod of an engine, as given, and their source."""

    stroke: Quantity
    rod: Quantity
    source: str = TYPED

    @classmethod
    def of(cls, family: Family) -> CrankGiven:
        """The crank of a family.

        Raises:
            FigureUnknown: its file does not state stroke and rod.
        """
        parts = [family.part("engine", name) for name in ("stroke", "rod")]
        found = [read_value(part) for part in parts if part]
        lengths = [value for value in found if isinstance(value, Quantity) and value.nominal is not None]
        if len(lengths) != 2:
            raise FigureUnknown(
                f"the file of {family.id} does not state stroke and rod; measure them, and write --stroke and --rod"
            )
        return cls(lengths[0], lengths[1], f"file of {family.id}")

    @property
    def throw(self) -> float:
        """Half the stroke, in millimetres."""
        return in_millimetres(self.stroke) / 2

    @property
    def rod_length(self) -> float:
        """The rod's length between centres, in millimetres."""
        return in_millimetres(self.rod)

    @property
    def inputs(self) -> tuple[Input, ...]:
        """As inputs of a working."""
        return Input("stroke", str(self.stroke), self.source), Input("rod", str(self.rod), self.source)
