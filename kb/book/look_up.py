"""Answering strictly: one figure of one family, or an error that carries the candidates."""

from __future__ import annotations

import difflib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from kb.book.answer import Answer, cite, in_words
from kb.book.derived import Derived, derive_correction, derive_maximum
from kb.book.engines import Engine, engine_kinds
from kb.book.geometry import Crank
from kb.book.records import Document, Family, FigureKind, Fit, Statement
from kb.book.resolve import resolve
from kb.book.select import alike, choose
from kb.book.standing import Evidence, Judgement, Role, Standing, applies, judge
from kb.errors import (
    FigureDisputed,
    FigureDoesNotApply,
    FigureNotFound,
    FigureNotStated,
    FigureUnknown,
    FigureWithdrawn,
    LookUpError,
    Refusal,
    SerialNeeded,
    StateNeeded,
    StateNotFound,
    YearNeeded,
)

if TYPE_CHECKING:
    from kb.book.book import Book

MAXIMUM, CORRECTION = "max-advance", "cranking-correction"


@dataclass(frozen=True)
class _Question:
    """What is asked, with everything of the book that bears on it."""

    book: Book
    family: Family
    kind: FigureKind
    state: str
    conditions: Mapping[str, Any]
    statements: Sequence[Statement]
    corrections: Sequence[Statement]
    withdrawn: Sequence[Document]
    parts: frozenset[Fit] = frozenset()

    def judge(self, like: Sequence[Statement]) -> Judgement:
        figure = self.statements if like[0].figure == self.kind.id else self.corrections
        crank = Crank.of(self.family) if self.kind.dimension.value == "crank-angle" and len(like) > 1 else None
        return judge(
            like, figure, self.book.sources, parts=self.parts, withdrawn=self.withdrawn, crank=crank,
            safest_end=self.book.figures[like[0].figure].safest_end,
        )  # fmt: skip


def look_up(
    book: Book,
    family: str,
    figure: str,
    state: str | None = None,
    *,
    serial: str | int | None = None,
    year: int | None = None,
    **conditions: Any,
) -> Answer:
    """One figure of one family, in one state, under the conditions given.

    A figure that is known in one state only needs no ``state``; the same holds for conditions, serial number and
    year: they are asked for only where the answer depends on them.

    Raises:
        LookUpError: no such family or figure, nobody has said, or more must be told; see the tree in ``kb.errors``.
        Refusal: disputed without a safest end, withdrawn, or not to be derived.
    """
    found = resolve(book, family, serial=serial, year=year)
    kind = book.figures.get(figure)
    if kind is None:
        near = difflib.get_close_matches(figure, book.figures, 3)
        raise FigureNotFound(
            f"no kind of figure {figure!r}" + (f"; did you mean {', '.join(near)}?" if near else ""), near or list(book.figures)
        )
    statements = book.statements(found.id, figure)
    if figure == MAXIMUM:
        corrections: Sequence[Statement] = book.statements(found.id, CORRECTION)
    else:
        corrections = ()
    question = _Question(
        book, found, kind, state or "", {key: value for key, value in conditions.items() if value is not None},
        statements, corrections, book.withdrawn(found.id),
    )  # fmt: skip
    engine = Engine(None if serial is None else str(serial), year)
    return _for_engine(question, engine)


def _for_engine(question: _Question, engine: Engine) -> Answer:
    """The answer that holds for every kind of engine that this one may be."""
    parts = [one.only for one in (*question.statements, *question.corrections) if one.only]
    if not parts:
        return _answer(question)
    outcomes: list[Answer | LookUpError | Refusal] = []
    for kind in engine_kinds(question.family.fits, parts, engine):
        asked = _Question(**{**vars(question), "parts": kind})
        try:
            outcomes.append(_answer(asked))
        except (LookUpError, Refusal) as error:
            outcomes.append(error)
    if len({_gist(outcome) for outcome in outcomes}) > 1:
        ranges = [str(part) for part in dict.fromkeys(parts)]
        words = f"{question.kind.label.lower()} of {question.family.id} differs by"
        if engine.serial is None and any(part.serials for part in parts):
            raise SerialNeeded(f"{words} serial number; say yours", ranges)
        raise YearNeeded(f"{words} year; say yours", ranges)
    outcome = outcomes[0]
    if isinstance(outcome, Answer):
        return outcome
    raise outcome


def _gist(outcome: Answer | LookUpError | Refusal) -> tuple[str, ...]:
    if isinstance(outcome, Answer):
        return (outcome.printed, outcome.state, str(outcome.standing))
    return (type(outcome).__name__, *outcome.candidates)


def _answer(question: _Question) -> Answer:
    speaking = [one for one in question.statements if applies(one, question.parts)]
    stated = [one for one in speaking if not one.absent]
    states = list(dict.fromkeys(one.state for one in stated))
    state = question.state
    if not state:
        if len(states) > 1:
            raise StateNeeded(
                f"{question.kind.label.lower()} of {question.family.id} is stated {' and '.join(states)}; say which", states
            )
        state = states[0] if states else ""
    in_state = [one for one in stated if one.state == state]
    if in_state:
        judged = [(like, question.judge(like)) for like in alike(in_state)]
        alive = [pair for pair in judged if pair[1].standing is not None]
        if alive:
            return _direct(question, state, *choose(question.kind, alive, question.conditions))
    if derived := _derive(question, state):
        return _derived(question, state or "running", derived)
    if in_state:
        reasons = [found.reason for _, judgement in judged for found in judgement.evidence if found.role is Role.WITHDRAWN]
        candidates = [_line(found, question) for _, judgement in judged for found in judgement.evidence]
        if reasons:
            raise FigureWithdrawn(f"every statement of it was found wrong: {'; '.join(reasons)}", candidates)
        raise FigureUnknown(f"what was said of {question.kind.id} of {question.family.id} is superseded", candidates)
    _raise_missing(question, speaking, states)
    raise AssertionError


def _direct(question: _Question, state: str, like: Sequence[Statement], judgement: Judgement) -> Answer:
    label = question.kind.label
    standing = judgement.standing or Standing.SINGLE
    if judgement.value is None:
        candidates = [_line(found, question) for found in judgement.evidence]
        raise FigureDisputed(f"sources do not agree on {label.lower()}, and neither end is the safe one", candidates)
    remarks = []
    if standing is Standing.DISPUTED:
        remarks.append(f"sources do not agree; given is the safest, the one that is {judgement.safest_end}")
    elif not judgement.same and standing is Standing.AGREED:
        remarks.append("sources print different windows; given is the part common to all")
    if standing is not Standing.DISPUTED and question.kind.id == MAXIMUM and state == "running":
        standing = _shared(question, standing, remarks)
    return _make(question, state, in_words(like[0].at), judgement.value, standing, None, judgement.evidence, (), remarks)


def _shared(question: _Question, standing: Standing, remarks: list[str]) -> Standing:
    """A running maximum and its correction only make sense together: the weaker standing holds."""
    for like in alike([one for one in question.corrections if applies(one, question.parts) and not one.absent]):
        weaker = question.judge(like).standing
        if weaker and weaker.weakness > standing.weakness:
            remarks.append(f"its correction is {weaker}, so this is too")
            standing = weaker
    return standing


def _derive(question: _Question, state: str) -> list[Derived]:
    if question.kind.id == MAXIMUM and state in ("cranking", "running"):
        maxima = [one for one in question.statements if applies(one, question.parts)]
        return derive_maximum(
            state, maxima, [one for one in question.corrections if applies(one, question.parts)], question.judge
        )
    if question.kind.id == CORRECTION:
        maxima = list(question.book.statements(question.family.id, MAXIMUM))
        as_maximum = _Question(**{**vars(question), "kind": question.book.figures[MAXIMUM], "statements": maxima})
        return derive_correction([one for one in maxima if applies(one, question.parts)], as_maximum.judge)
    return []


def _derived(question: _Question, state: str, found: list[Derived]) -> Answer:
    pairs = [((one,), one) for one in found]
    (_, chosen) = choose(question.kind, pairs, question.conditions)
    remarks = ["worked out, not printed; see the working"]
    return _make(
        question, state, in_words(chosen.at), chosen.value, Standing.DERIVED, chosen.rests_on, chosen.evidence,
        chosen.working, remarks,
    )  # fmt: skip


def _raise_missing(question: _Question, speaking: Sequence[Statement], states: Sequence[str]) -> None:
    label, family = question.kind.label.lower(), question.family.id
    if states:
        raise StateNotFound(f"{label} of {family} is stated {' and '.join(states)}, not {question.state}", states)
    absent = [one for one in speaking if one.absent]
    lines = [_line(Evidence(one, Role.COUNTS), question) for one in absent]
    if any(one.absent == "not-applicable" for one in absent):
        raise FigureDoesNotApply(f"{label} does not apply to {family}", lines)
    if absent:
        raise FigureNotStated(f"{label} of {family} is not stated by the sources that were read", lines)
    raise FigureUnknown(f"nobody has said what the {label} of {family} is")


def _line(found: Evidence, question: _Question) -> str:
    cited = cite(found, question.book.sources)
    page = f" page {cited.page}" if cited.page else ""
    role = "" if cited.role == "counts" else f" ({cited.role})"
    state = f" {cited.state}" if cited.state else ""
    return f"{cited.printed}{state}: {cited.source}{page}{role}"


def _make(
    question: _Question,
    state: str,
    conditions: str,
    value: Any,
    standing: Standing,
    rests_on: Standing | None,
    evidence: Sequence[Evidence],
    working: Any,
    remarks: Sequence[str],
) -> Answer:
    book, family = question.book, question.family
    beside = [  # a reader must see what else the book holds on it, also what no longer counts
        found
        for like in alike([one for one in question.statements if one.state == state and not one.absent])
        for found in question.judge(like).evidence
        if found.role in (Role.SUPERSEDED, Role.WITHDRAWN) and found not in evidence
    ]
    maker = book.makers.get(family.maker)
    return Answer(
        family.id, family.name, maker.name if maker else family.maker, question.kind.id, question.kind.label, state,
        conditions, value, standing, rests_on, tuple(cite(found, book.sources) for found in (*evidence, *beside)),
        working, tuple(remarks), str(question.kind.document.get("hazard_because", "")),
        tuple(book.cautions[caution] for caution in family.document.get("cautions", ()) if caution in book.cautions),
        book.date, book.invented or family.invented,
    )  # fmt: skip
