"""The target that a drawing shows: that of the maximum, in the state in which it is set."""

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
    """The target of a family's maximum; nothing where the book gives none, which the drawing says itself.

    Raises:
        FamilyNotFound and its like: no such family or engine.
        DeadCentreTooFar, MarginTooWide: what was asked for must not be drawn.
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
    """What stands beside a target: the margin, and what it will be when running."""
    said = [target.answer.state]
    said += [f"{float(target.margin):g}° late, the mechanic's choice"] if target.margin else []
    said += [f"when running {target.running.words}"] if target.running.values else []
    return "; ".join(said)
