"""Figures as the book answers them for one engine, in every state and under every condition that it has."""

from __future__ import annotations

from typing import TYPE_CHECKING

from kb.book.lookup.combinations import Combination, Outcome, combinations_of, outcome_of
from kb.book.model.answer import Answer
from kb.errors import ConditionNotFound, StateNotFound
from kb.frozen import record
from kb.publish.sheet.cited import SourceList
from kb.publish.sheet.record import SheetFigure
from kb.vocabulary.states import SETTING_STATES, State

if TYPE_CHECKING:
    from kb.book.book import Book
    from kb.book.model.engine_on_the_stand import EngineOnTheStand
    from kb.book.model.family import Family
    from kb.publish.drawings.rim_view import RimView


@record()
class SheetJob:
    """What a sheet is filled in from: a family of the book, the engine on the stand, the list of cited sources, and its
    rim, None where that cannot be drawn."""

    book: Book
    family: Family
    engine: EngineOnTheStand
    sources: SourceList
    rim: RimView | None

    @property
    def states(self) -> tuple[str, ...]:
        """The states in which a figure is looked for, the one asked for first."""
        return (self.engine.state, *SETTING_STATES) if self.engine.state else SETTING_STATES


OF_OTHER_ENGINES = (StateNotFound, ConditionNotFound)
"""Errors of a look-up where a statement holds only for other engines of the family."""


def outcomes(job: SheetJob, figure: str) -> list[tuple[Combination, Outcome]]:
    """What the book has on a figure in each state and under each condition, without what is only for other engines.

    The states that were asked for come first. A "not stated" is kept only where no other source states the figure.
    """
    spoken = combinations_of(job.family, figure)
    ways = [way for way in spoken if way.state] or spoken[:1] or [Combination(figure, "")]
    order = [*job.states, *State.words]
    ways = sorted(ways, key=lambda way: order.index(way.state) if way.state else len(order))
    found = [(way, outcome_of(job.book, job.family, way, job.engine)) for way in ways]
    return [one for one in found if not isinstance(one[1], OF_OTHER_ENGINES)] or found[:1]


def given(job: SheetJob, way: Combination, outcome: Outcome) -> SheetFigure:
    """The outcome of a look-up as a figure of the sheet."""
    label = job.book.figures[way.figure].label
    if not isinstance(outcome, Answer):
        why = without_family(outcome.message, job.family.id)
        return SheetFigure(
            way.figure, label, way.state, way.words, "", (), "", "", "", "", (), (), why, outcome.candidates
        )
    when = ", ".join(part for part in (outcome.state, outcome.conditions) if part)
    how = "worked out" if outcome.working else "as printed"
    also = next((cited.also for cited in outcome.evidence if cited.printed == outcome.printed), ())
    cited = job.sources.cite(outcome)
    return SheetFigure(
        way.figure,
        label,
        outcome.state,
        when,
        outcome.printed,
        also,
        how,
        outcome.how_sure,
        outcome.unit,
        ", ".join(dict.fromkeys(one.short for one in cited)),
        cited,
        outcome.remarks,
        "",
        (),
    )


def all_given(job: SheetJob, figure: str) -> tuple[SheetFigure, ...]:
    """All that the book has on a figure, each once."""
    return tuple(dict.fromkeys(given(job, way, outcome) for way, outcome in outcomes(job, figure)))


def without_family(message: str, family: str) -> str:
    """A message without the family's id: the sheet is of one family.

    >>> without_family("idle timing of skerrow/ketch-47 is not stated", "skerrow/ketch-47")
    'idle timing is not stated'
    """
    return message.replace(f" of {family}", "").replace(f" to {family}", " here")
