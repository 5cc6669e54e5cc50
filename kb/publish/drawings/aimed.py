"""The target that a drawing shows: that of the maximum, in the state in which it is set."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from kb.book.model.catalogue import MAXIMUM
from kb.errors import DeadCentreTooFar, LookUpError, MarginTooWide, Refusal
from kb.publish.drawings.rim_view import look_up_as_set

if TYPE_CHECKING:
    from kb.book.book import Book
    from kb.book.setting.aim import Aim


def maximum_aimed(
    book: Book,
    family: str,
    state: str | None = None,
    *,
    margin: Fraction = Fraction(0),
    dead_centre: Fraction | None = None,
    serial: str | None = None,
    year: int | None = None,
) -> Aim | None:
    """The target of a family's maximum; nothing where the book gives none, which the drawing says itself.

    Raises:
        FamilyNotFound and its like: no such family or engine.
        DeadCentreTooFar, MarginTooWide: what was asked for must not be drawn.
    """
    found = book.family(family, serial=serial, year=year)
    try:
        answer = look_up_as_set(book, found.id, MAXIMUM, state, serial, year)
        return book.aim(
            found.id, MAXIMUM, answer.state, margin=margin, dead_centre=dead_centre, serial=serial, year=year
        )
    except (DeadCentreTooFar, MarginTooWide):
        raise
    except (LookUpError, Refusal):
        return None


def target_in_words(aim: Aim) -> str:
    """What stands beside a target: the margin, and what it will be when running."""
    said = [aim.answer.state]
    said += [f"{float(aim.margin):g}° late, the mechanic's choice"] if aim.margin else []
    said += [f"when running {aim.running.words}"] if aim.running.values else []
    return "; ".join(said)
