"""Answering strictly: one figure of one family, or an error that carries the candidates.

``kb.book.evidence.conclusions`` has drawn the conclusions on a figure; here one of them is chosen.
"""

from __future__ import annotations

from kb import errors
from kb.book.lookup.answer_parts import answer_from, least_sure_of
from kb.book.lookup.conditions import choose
from kb.book.model.answer import Answer
from kb.book.model.engine_on_the_stand import ANY_ENGINE, EngineOnTheStand
from kb.errors import (
    ConditionNotFound,
    FigureNotFound,
    FigureUnknown,
    LookUpError,
    NumberNotPlain,
    Refusal,
    SerialNeeded,
    StateNeeded,
    StateNotFound,
    YearNeeded,
)
from kb.frozen import record

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Sequence
    from typing import Any

    from kb.book.model.book_reader import BookReader
    from kb.book.model.catalogue import FigureKind
    from kb.book.model.documents import (
        CitedRow,
        FigureConclusions,
        KindConclusions,
        NamedDocument,
        RefusedDocument,
        RefusedEntry,
    )
    from kb.book.model.engine_ranges import Fit


@record()
class _Question:
    """The figure asked for and the engine, with everything of the book that bears on them."""

    book: BookReader
    family: str
    about: NamedDocument
    kind: FigureKind
    engine: EngineOnTheStand

    @property
    def fits(self) -> Sequence[Fit]:
        """The engines that the family fits."""
        heading = self.book.get_heading(self.family)
        return heading.fits if heading else ()


def look_up(book: BookReader, family: str, figure: str, engine: EngineOnTheStand = ANY_ENGINE) -> Answer:
    """One figure of one family for an engine, in its state and under its conditions.

    A figure that is known in one state only needs no ``state``; the same holds for conditions, serial number and
    year: they are asked for only where the answer depends on them.

    Raises:
        LookUpError: no such family or figure, nothing published, or more must be said; see the tree in ``kb.errors``.
        Refusal: disputed without a safest end, withdrawn, or not derivable.
    """
    found = book.conclusions(family, figure)
    if found is None:
        family, found = _named_otherwise(book, family, figure, engine)
    about, conclusions = found
    question = _Question(book, family, about, book.figures[figure], engine)
    if engine.serial is not None or engine.year is not None:
        from kb.book.lookup.which_family import require_fit

        require_fit(family, question.fits, engine)
    if "parts" in conclusions:
        return _for_engine(question, conclusions)
    return _answer(question, conclusions["cited"], conclusions["kinds"][0], frozenset())


def _named_otherwise(
    book: BookReader, family: str, figure: str, engine: EngineOnTheStand
) -> tuple[str, tuple[NamedDocument, FigureConclusions]]:
    """The id of a family that was named in another way, and the conclusions; raises where there are none."""
    from kb.book.lookup.which_family import resolve

    heading = resolve(book, family, engine)
    kind = book.figures.get(figure)
    if kind is None:
        raise _no_such_figure(book, figure)
    found = book.conclusions(heading.id, figure)
    if found is None:
        raise FigureUnknown(f"no figure is published for the {kind.label.lower()} of {heading.id}")
    return heading.id, found


def _no_such_figure(book: BookReader, figure: str) -> FigureNotFound:
    import difflib

    entry = book.retired.get(figure)
    if entry and entry["kind"] == "figure":
        went = list(entry.get("to", ()))
        where = f"; it is now {' or '.join(went)}" if went else ""
        return FigureNotFound(f"{figure} was retired on {entry['since']}: {entry['because']}{where}", went)
    names = {
        str(name).casefold(): key
        for key, kind in book.figures.items()
        for name in (key, kind.label, *kind.document.get("also_called", ()))
    }
    near = [names[name] for name in difflib.get_close_matches(str(figure).casefold(), names, 3)]
    near = list(dict.fromkeys(near))
    mean = f"; did you mean {', '.join(near)}?" if near else ""
    return FigureNotFound(f"no kind of figure {figure!r}{mean}", near or list(book.figures))


def _for_engine(question: _Question, conclusions: FigureConclusions) -> Answer:
    """The answer that holds for every kind of engine that this one may be."""
    from kb.book.model.engine_kinds import engine_kinds
    from kb.book.model.engine_ranges import Fit

    engine = question.engine
    parts = [part for part in map(Fit.read, conclusions["parts"]) if part]
    by_parts = {frozenset(kind["parts"]): kind for kind in conclusions["kinds"]}
    outcomes: list[Answer | LookUpError | Refusal] = []
    for kind in engine_kinds(question.fits, parts, engine):
        held = by_parts.get(frozenset(number for number, part in enumerate(parts) if part in kind))
        try:
            if held is None:  # a serial number that no range holds
                outcomes.append(_live(question, kind))
            else:
                outcomes.append(_answer(question, conclusions["cited"], held, kind))
        except (LookUpError, Refusal) as error:
            outcomes.append(error)
    if len({_answer_key(outcome) for outcome in outcomes}) > 1:
        states = {state for outcome in outcomes if isinstance(outcome, StateNeeded) for state in outcome.candidates}
        if states:  # the state is known at a glance, the serial number has to be looked up on the engine
            raise _state_needed(question, [state for state in question.kind.states if state in states])
        ranges = [str(part) for part in parts]
        words = f"{_what(question)} differs by"
        if engine.serial is None and any(part.serials for part in parts):
            raise SerialNeeded(f"{words} serial number; say yours", ranges)
        raise YearNeeded(f"{words} year; say yours", ranges)
    outcome = outcomes[0]
    if not isinstance(outcome, Answer):
        raise outcome
    return least_sure_of([one for one in outcomes if isinstance(one, Answer)])


def _answer_key(outcome: Answer | LookUpError | Refusal) -> tuple[object, ...]:
    if isinstance(outcome, Answer):
        return (outcome.printed, outcome.state, outcome.conditions)
    return (type(outcome), *outcome.candidates)


def _answer(
    question: _Question, cited: Sequence[CitedRow], held: KindConclusions, parts: frozenset[Any], fresh: bool = False
) -> Answer:
    engine, states, asked = question.engine, held["states"], held["asked"]
    state, conditions = engine.state, engine.conditions
    if len(states) > 1 and not state:
        raise _state_needed(question, states)
    unstated = not states and (not state or state in question.kind.states)
    outcome = asked.get("" if unstated else state or states[0])
    if outcome is None:
        stated = states or question.kind.states
        raise StateNotFound(f"{_what(question)} is stated {' and '.join(stated)}, not {state}", stated)
    if "live" in outcome and not fresh:
        from kb.vocabulary.conditions import Condition

        if Condition.RPM in conditions:
            return _live(question, parts, conditions[Condition.RPM])
    if "error" in outcome:
        raise _error(outcome)
    entry, *others = outcome["entries"]
    if conditions or others:
        entry = choose(question.kind, outcome["entries"], conditions)
    if "error" in entry:
        raise _error(entry)
    return answer_from(question.book, question.family, question.about, question.kind, cited, entry)


def _live(question: _Question, parts: frozenset[Any], rpm: Any = None) -> Answer:
    """The answer where no conclusions are stored: for another kind of engine, or a speed in a correction's table."""
    from kb.book.evidence.conclusions import conclude_for
    from kb.quantity import read_number

    family = question.book.get_family(question.family)
    if family is None:
        raise FigureUnknown(f"no figure is published for the {_what(question)}")
    try:
        speed = None if rpm is None else read_number(str(rpm)).value
    except NumberNotPlain as error:
        raise ConditionNotFound(f"no engine speed: {error}") from None
    cited, kind = conclude_for(question.book, family, question.kind.id, parts, speed)
    return _answer(question, cited, kind, parts, fresh=rpm is not None)


def _state_needed(question: _Question, states: Sequence[str]) -> StateNeeded:
    return StateNeeded(f"{_what(question)} is stated {' and '.join(states)}; say which", states)


def _what(question: _Question) -> str:
    return f"{question.kind.label.lower()} of {question.family}"


def _error(outcome: RefusedDocument | RefusedEntry) -> LookUpError | Refusal:
    kind: type[LookUpError | Refusal] = getattr(errors, outcome["error"])
    return kind(outcome["message"], outcome["candidates"])
