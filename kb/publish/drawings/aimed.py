"""The target that a drawing shows: the maximum's, in the state in which it is set."""

from __future__ import annotations

from typing import TYPE_CHECKING

from kb.book.lookup.which_family import require_family
from kb.book.model.catalogue import MAXIMUM
from kb.book.model.engine_on_the_stand import ANY_ENGINE, EngineOnTheStand
from kb.book.setting.aim import Aim, aim
from kb.errors import DeadCentreTooFar, LookUpError, MarginTooWide, Refusal
from kb.publish.drawings.rim_view import look_up_as_set

if TYPE_CHECKING:
    from kb.book.book import Book


def maximum_aimed(book: Book, family: str, engine: EngineOnTheStand = ANY_ENGINE) -> Aim | None:
    """The target of a family's maximum; None where the book gives none, which the drawing then says.

    Raises:
        FamilyNotFound and its like: no such family or engine.
        DeadCentreTooFar, MarginTooWide: there must be no drawing for that.
    """
    found = require_family(book, family, engine)
    try:
        answer = look_up_as_set(book, found.id, MAXIMUM, engine)
        return aim(book, found.id, MAXIMUM, engine.asked(answer.state))
    except (DeadCentreTooFar, MarginTooWide):
        raise
    except (LookUpError, Refusal):
        return None


def target_in_words(target: Aim) -> str:
    """The words beside a target: the margin, and what it will be when running."""
    parts = [target.answer.state]
    parts += [f"{float(target.margin):g}° late, the mechanic's choice"] if target.margin else []
    parts += [f"when running {target.running.words}"] if target.running.values else []
    return "; ".join(parts)
