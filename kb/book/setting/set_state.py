"""The state in which each figure of a family is set: on land wherever the book has a figure for that, else running."""

from __future__ import annotations

from kb.book.model.catalogue import MAXIMUM
from kb.vocabulary.states import SETTING_STATES, State

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Collection, Mapping

    from kb.book.model.book_reader import BookReader
    from kb.book.model.documents import Outcome

    KnownStates = Mapping[str, Collection[str]]
    """By figure the states that the book has it in."""

_SPOKEN_OF = ("FigureDisputed", "FigureWithdrawn")
"""Why there is no one value, although sources speak of the figure in that state."""


def known_states(book: BookReader, family: str, figure: str) -> frozenset[str]:
    """The states in which the book has a figure of a family, printed or worked out, for any of its engines."""
    found = book.conclusions(family, figure)
    if found is None:
        return frozenset()
    asked = [outcome for kind in found[1]["kinds"] for outcome in kind["asked"].items()]
    return frozenset(state for state, outcome in asked if _is_spoken_of(outcome))


def _is_spoken_of(outcome: Outcome) -> bool:
    if "error" in outcome:
        return outcome["error"] in _SPOKEN_OF
    return any("error" not in one or one["error"] in _SPOKEN_OF for one in outcome["entries"])


def set_state(known: KnownStates, figure: str) -> str:
    """The state in which a figure is set. One that is not stated is read as the maximum is; one of a family without
    any is read while cranking, where nothing is set by guesswork."""
    for one in (figure, MAXIMUM):
        for state in SETTING_STATES:
            if state in known.get(one, ()):
                return state
    return State.CRANKING
