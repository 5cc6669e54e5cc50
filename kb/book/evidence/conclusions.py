"""The conclusions on a figure of a family, drawn once for every kind of engine and every state that may be asked for.

A look-up then only chooses among them. A book in memory draws them when a figure is first asked for; a compiled book
stores them, so that it answers without computing with quantities. They are plain JSON:

``cited``: the statements spoken of, each a list as ``documents.CitedRow`` says; ``parts``: the parts of the family
that they tell apart; ``kinds``: for each kind of engine its ``parts`` by number, the ``states`` that are stated, and
what is ``asked`` for each state. That is either ``entries``, one for each set of conditions, or an ``error`` by name
with ``message`` and ``candidates``; ``live`` says that it must be worked out again with the speed that is asked for.
``asked`` lacks a state that is not stated where others are; with no state stated, ``""`` holds for every state.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import inf
from typing import TYPE_CHECKING

from kb.book.evidence.derived import At, Derived, derive_correction, derive_maximum, without_rpm
from kb.book.evidence.standing import Evidence, Judgement, Role, Standing, applies, judgement_of
from kb.book.model.answer import WORKED_OUT, in_words
from kb.book.model.catalogue import CORRECTION, MAXIMUM
from kb.book.model.crank_geometry import Crank
from kb.book.model.engine_kinds import engine_kinds
from kb.book.model.engine_ranges import Fit, thawed
from kb.book.model.family import Family, FigureKind, Statement
from kb.errors import (
    ConditionNeeded,
    FigureDisputed,
    FigureDoesNotApply,
    FigureNotStated,
    FigureUnknown,
    FigureWithdrawn,
    LookUpError,
    Refusal,
    StateNotFound,
)
from kb.frozen import cached_property
from kb.quantity import Dimension, Quantity, Value, write_value
from kb.vocabulary.conditions import Condition
from kb.vocabulary.evidence import AbsentWord
from kb.vocabulary.states import CORRECTED_STATES, State
from kb.working import working_document

if TYPE_CHECKING:
    from kb.book.model.book_reader import BookReader
    from kb.book.model.documents import (
        CitedRow,
        Entry,
        FigureConclusions,
        KindConclusions,
        Outcome,
        RefusedDocument,
        ValueEntry,
    )

_PAIRED = {MAXIMUM: CORRECTION, CORRECTION: MAXIMUM}
"""The figures that depend on each other: a maximum and its correction."""


def conclude(book: BookReader, family: Family, figure: str) -> FigureConclusions | None:
    """The conclusions on a figure of a family; None when no statement bears on it."""
    kind = book.figures.get(figure)
    if kind is None or not (figure in family.statements or (figure == CORRECTION and MAXIMUM in family.statements)):
        return None
    basis = _FigureEvidence(book, family, kind)
    parts = {one.only: one.document["only"] for one in (*basis.statements, *basis.others) if one.only}
    kinds = [basis.of_kind(kind, tuple(parts)) for kind in engine_kinds(family.fits, parts)]
    found: FigureConclusions = {"cited": basis.cited, "kinds": kinds}
    if parts:
        found["parts"] = list(parts.values())
    return found


def conclude_for(
    book: BookReader, family: Family, figure: str, parts: frozenset[Fit], rpm: Fraction | None = None
) -> tuple[list[CitedRow], KindConclusions]:
    """The conclusions on a figure for engines in exactly these parts of the family, perhaps at a speed.

    Returns the cited statements and the kind of engine, in the form that ``conclude`` gives.
    """
    basis = _FigureEvidence(book, family, book.figures[figure], rpm)
    return basis.cited, basis.of_kind(parts)


class _FigureEvidence:
    """Everything in the book that bears on one figure of one family, from which the conclusions are drawn."""

    def __init__(self, book: BookReader, family: Family, kind: FigureKind, rpm: Fraction | None = None) -> None:
        self.book, self.family, self.kind, self.rpm = book, family, kind, rpm
        self.statements = family.statements.get(kind.id, ())
        self.others = family.statements.get(_PAIRED.get(kind.id, ""), ())
        self.withdrawn = book.withdrawn(family.id)
        self.parts: frozenset[Fit] = frozenset()
        self.cited: list[CitedRow] = []
        self._numbers: dict[tuple[str, int], int] = {}
        self._judged: dict[tuple[tuple[str, int], ...], Judgement] = {}

    @cached_property
    def _crank(self) -> Crank | None:
        return Crank.of(self.family) if self.kind.dimension is Dimension.CRANK_ANGLE else None

    def of_kind(self, parts: frozenset[Fit], among: Sequence[Fit] = ()) -> KindConclusions:
        """The conclusions for engines in these parts, whose numbers are their places ``among`` all parts."""
        self.parts, self._judged = parts, {}
        self.speaking = [one for one in self.statements if applies(one, parts)]
        self.stated = [one for one in self.speaking if not one.absent]
        stated = {one.state for one in self.stated}
        states = [state for state in self.kind.states if state in stated]  # whatever the order of the file
        asked: dict[str, Outcome] = {}
        for state in self.kind.states if states else ("",):
            try:
                asked[state] = {"entries": self._entries(state)}
            except StateNotFound:
                continue
            except (LookUpError, Refusal) as error:
                asked[state] = refused = _refused(error)
                if isinstance(error, ConditionNeeded):
                    refused["live"] = True
        numbers = [number for number, part in enumerate(among) if part in parts]
        return {"parts": numbers, "states": states, "asked": asked}

    def _judge(self, like: Sequence[Statement]) -> Judgement:
        key = tuple((one.figure, one.index) for one in like)
        if key not in self._judged:
            own = like[0].figure == self.kind.id
            kind = self.kind if own else self.book.figures[like[0].figure]
            self._judged[key] = judgement_of(
                like,
                self.statements if own else self.others,
                self.book.sources,
                parts=self.parts,
                withdrawn=self.withdrawn,
                crank=self._crank,
                safest_end=kind.safest_end,
            )
        return self._judged[key]

    def _entries(self, state: str) -> list[Entry]:
        in_state = [one for one in self.stated if one.state == state]
        judged = [(like, self._judge(like)) for like in _grouped(in_state)]
        if alive := [pair for pair in judged if pair[1].standing]:
            return [self._direct(state, like[0].at, judgement) for like, judgement in alive]
        if derived := self._derive(state):
            return [self._derived(state, one) for one in derived]
        if in_state:
            evidence = [found for _, judgement in judged for found in judgement.evidence]
            lines = [self._line(found) for found in evidence]
            if reasons := [found.reason for found in evidence if found.role is Role.WITHDRAWN]:
                raise FigureWithdrawn(f"every statement of it was found wrong: {'; '.join(reasons)}", lines)
            raise FigureUnknown(f"every statement on {self.kind.id} of {self.family.id} is superseded", lines)
        raise self._missing(state)

    def _missing(self, state: str) -> LookUpError:
        label, family = self.kind.label.lower(), self.family.id
        absent = [one for one in self.speaking if one.absent and (not self.stated or one.state == state)]
        lines = [self._line(Evidence(one, Role.COUNTS)) for one in absent]
        if any(one.absent == AbsentWord.NOT_APPLICABLE for one in absent):
            return FigureDoesNotApply(f"{label} does not apply to {family}", lines)
        if absent:
            return FigureNotStated(f"{label} of {family} is not stated by the sources that were read", lines)
        if self.stated:
            return StateNotFound(f"{label} of {family} is not stated {state}")
        return FigureUnknown(f"no figure is published for the {label} of {family}")

    def _derive(self, state: str) -> list[Derived]:
        others = [one for one in self.others if applies(one, self.parts)]
        if self.kind.id == MAXIMUM and state in CORRECTED_STATES:
            return derive_maximum(state, self.speaking, others, self._judge, self.rpm)
        return derive_correction(others, self._judge) if self.kind.id == CORRECTION else []

    def _direct(self, state: str, at: At, judgement: Judgement) -> Entry:
        value, standing = judgement.value, judgement.standing or Standing.SINGLE
        if value is None:
            label = self.kind.label.lower()
            lines = [self._line(found) for found in judgement.evidence]
            message = f"sources do not agree on {label}, and neither end is the safe one"
            return {
                "at": thawed(at) or {},
                "conditions": in_words(at),
                "error": FigureDisputed.__name__,
                "message": message,
                "candidates": lines,
            }
        remarks = []
        if standing is Standing.DISPUTED:
            remarks.append(f"sources do not agree; the safest is given, the one that is {judgement.safest_end}")
        elif not judgement.judged:
            remarks.append("sources describe it in different words, which no program can compare; read each of them")
        elif not judgement.same:
            remarks.append("sources print different windows; the part common to all is given")
        if self.kind.id in _PAIRED and state == State.RUNNING and (weaker := self._weaker(at, standing)):
            other = self.book.figures[_PAIRED[self.kind.id]].label.lower()
            remarks.append(f"the {other} that belongs to it is {weaker}, so this is too")
            standing = weaker
        return self._entry(state, at, value, standing, judgement.evidence, remarks)

    def _weaker(self, at: At, standing: Standing) -> Standing | None:
        """The standing of the correction that goes with a running maximum (or the reverse), if it is weaker."""
        found = None
        running = [
            one for one in self.others if applies(one, self.parts) and not one.absent and one.state == State.RUNNING
        ]
        for like in _grouped(running):
            speeds = {dict(conditions).get(Condition.RPM) for conditions in (at, like[0].at)} - {None}
            other = self._judge(like).standing
            if without_rpm(at) == without_rpm(like[0].at) and len(speeds) < 2 and other:
                found = other if other.weakness > (found or standing).weakness else found
        return found

    def _derived(self, state: str, found: Derived) -> ValueEntry:
        remarks = [WORKED_OUT]
        entry = self._entry(state or State.RUNNING, found.at, found.value, Standing.DERIVED, found.evidence, remarks)
        return {**entry, "rests_on": str(found.rests_on), "working": working_document(found.working)}

    def _entry(
        self, state: str, at: At, value: Value, standing: Standing, evidence: Sequence[Evidence], remarks: list[str]
    ) -> ValueEntry:
        in_state = _grouped([one for one in self.stated if one.state == state])
        shown = {(found.statement.figure, found.statement.index): found for found in evidence}
        for like in in_state:  # readers must see all that the book has on it, also what no longer counts
            for found in self._judge(like).evidence:
                if found.role in (Role.SUPERSEDED, Role.WITHDRAWN):
                    shown.setdefault((found.statement.figure, found.statement.index), found)
        low, high = value.float_ends if isinstance(value, Quantity) else (inf, inf)
        return {
            "at": thawed(at) or {},
            "state": state,
            "conditions": in_words(at),
            "value": write_value(value),
            "printed": str(value),
            "unit": value.unit.symbol if isinstance(value, Quantity) else "",
            "low": _decimal_text(low),
            "high": _decimal_text(high),
            "standing": str(standing),
            "rests_on": None,
            "statements": [(self._cite(found.statement), str(found.role), found.reason) for found in shown.values()],
            "working": [],
            "remarks": remarks,
        }

    def _cite(self, statement: Statement) -> int:
        """The number of a statement among those cited, to which it is added if need be."""
        key = statement.figure, statement.index
        if key not in self._numbers:
            self._numbers[key] = len(self.cited)
            self.cited.append(
                (
                    str(statement.value),
                    [str(value) for value in statement.also],
                    statement.state,
                    in_words(statement.at),
                    str(statement.only or ""),
                    statement.source,
                    statement.page,
                    str(statement.document.get("note", "")),
                )
            )
        return self._numbers[key]

    def _line(self, found: Evidence) -> str:
        statement = found.statement
        page = f" page {statement.page}" if statement.page else ""
        role = "" if found.role is Role.COUNTS else f" ({found.role})"
        state = f" {statement.state}" if statement.state and not statement.absent else ""
        return f"{statement.value}{state}: {statement.source}{page}{role}"


def _refused(error: LookUpError | Refusal) -> RefusedDocument:
    return {"error": type(error).__name__, "message": error.message, "candidates": list(error.candidates)}


def _grouped(statements: Sequence[Statement]) -> list[list[Statement]]:
    """The statements grouped by state and conditions."""
    groups: dict[object, list[Statement]] = {}
    for statement in statements:
        groups.setdefault((statement.state, statement.at), []).append(statement)
    return list(groups.values())


def _decimal_text(value: float) -> str | None:
    return None if abs(value) == inf else f"{value:.9f}".rstrip("0").rstrip(".")
