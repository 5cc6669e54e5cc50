"""Every state and set of conditions in which a figure of a family can be asked for: those of its statements."""

from __future__ import annotations

from kb.book.lookup.look_up import look_up
from kb.book.model.answer import Answer, in_words
from kb.book.model.engine_on_the_stand import ANY_ENGINE, EngineOnTheStand
from kb.errors import LookUpError, Refusal
from kb.frozen import record

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from kb.book.model.book_reader import BookReader
    from kb.book.model.family import Family

Outcome = Answer | LookUpError | Refusal


@record()
class Combination:
    """A figure in one state under some conditions, as its statements give them; no state for what is absent."""

    figure: str
    state: str
    at: tuple[tuple[str, Any], ...] = ()

    @property
    def words(self) -> str:
        """State and conditions in words."""
        return ", ".join(part for part in (self.state, in_words(self.at)) if part)

    @property
    def conditions(self) -> dict[str, Any]:
        """The conditions by name, as arguments of a look-up."""
        return {key: _asked(value) for key, value in self.at}


def combinations_of(family: Family, figure: str) -> tuple[Combination, ...]:
    """The combinations of a figure in the family's file, each once, in the order of the file."""
    stated = family.statements.get(figure, ())
    return tuple(dict.fromkeys(Combination(figure, "" if one.absent else one.state, one.at) for one in stated))


def outcome_of(book: BookReader, family: Family, way: Combination, engine: EngineOnTheStand = ANY_ENGINE) -> Outcome:
    """The outcome of looking up a combination: the answer, or the error raised."""
    try:
        return look_up(book, family.id, way.figure, engine.asked(way.state, way.conditions))
    except (LookUpError, Refusal) as error:
        return error


def _asked(value: Any) -> Any:
    """A condition as an argument of a look-up: of a range the middle, which no neighbour shares; of units a mapping."""
    if not isinstance(value, tuple):
        return value
    if isinstance(value[0], tuple):
        return {key: _asked(inner) for key, inner in value}
    return f"{(float(value[0]) + float(value[1])) / 2:g}"
