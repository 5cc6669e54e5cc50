"""The order of work for one family: the routine of its linkage, with the steps and checks that apply to its engine.

What a family's file does not state is not guessed. A step that may apply is kept, and says which engines it is for;
only one that certainly does not apply is left out. So a sparse file gives a longer sheet, never one that lacks a step.
"""

from __future__ import annotations

from functools import cached_property
from itertools import takewhile
from types import MappingProxyType

from kb.book.lookup.which_family import require_family
from kb.book.model.catalogue import MAXIMUM
from kb.book.model.engine_on_the_stand import ANY_ENGINE, EngineOnTheStand
from kb.book.model.engine_ranges import as_list, part
from kb.book.setting.routine_figures import figure_items
from kb.book.setting.set_state import known_states, set_state
from kb.errors import RoutineNotFound, StepNotFound
from kb.frozen import record
from kb.vocabulary.work import Fitted, Presence

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence
    from typing import Any

    from kb.book.model.book_reader import BookReader
    from kb.book.model.documents import RoutineDocument, RoutineStepDocument
    from kb.book.model.engine_ranges import Document
    from kb.book.model.family import Family
    from kb.book.setting.set_state import KnownStates


@record()
class JobStep:
    """One step of a job.

    ``records`` are as-found and as-left, ``makes_stale`` the ids of steps of the job that this one disturbs,
    ``gate`` what must be ticked one by one before going on. ``module`` is disconnected or connected where the step
    leaves the modules so, else empty; ``ignition`` likewise dead or live. ``turned`` is how the flywheel is turned, by
    hand or by starter. What it ``puts_in`` is out of the engine once a gate that ``takes_out`` the same is ticked.
    ``state`` is the one its figure is read in here: a figure of another state is not set at it. ``more`` is what else
    is worth knowing of what to do. A step that ``leads_back`` is not done before all that was disturbed is read again.
    """

    id: str
    do: str
    more: str = ""
    why: str = ""
    figures: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    records: tuple[str, ...] = ()
    makes_stale: tuple[str, ...] = ()
    gate: tuple[str, ...] = ()
    module: str = ""
    turned: str = ""
    ignition: str = ""
    puts_in: tuple[str, ...] = ()
    takes_out: tuple[str, ...] = ()
    state: str = ""
    leads_back: bool = False

    def to_document(self) -> dict[str, Any]:
        """The step as plain values for JSON; empty fields are left out."""
        held = {name: getattr(self, name) for name in self.__match_args__}
        return {name: list(value) if isinstance(value, tuple) else value for name, value in held.items() if value}


@record()
class Job:
    """The order of work for one family, from compression to the record."""

    family: str
    routine: str
    name: str
    about: str
    steps: tuple[JobStep, ...]

    @cached_property
    def by_id(self) -> dict[str, JobStep]:
        """The steps by id, in order."""
        return {step.id: step for step in self.steps}

    def disturbed_before(self, step: JobStep) -> tuple[str, ...]:
        """The earlier steps that a step disturbs: those to look at again when the work goes in order."""
        earlier = list(takewhile(lambda name: name != step.id, self.by_id))
        return tuple(name for name in step.makes_stale if name in earlier)

    def stale_after(self, done: Sequence[str]) -> tuple[str, ...]:
        """The steps to check again when these steps have been done, in that order: ids, in the order of the job.

        A step that is done again is no longer stale; one that was never done is not stale but still to do.

        Raises:
            StepNotFound: the job has no step of that id.
        """
        seen: set[str] = set()
        stale: set[str] = set()
        for name in done:
            if name not in self.by_id:
                raise StepNotFound(f"the job on {self.family} has no step {name}", tuple(self.by_id))
            stale.discard(name)
            seen.add(name)
            stale.update(seen.intersection(self.by_id[name].makes_stale))
        return tuple(step.id for step in self.steps if step.id in stale)

    def to_document(self) -> dict[str, Any]:
        """The job as plain values for JSON."""
        steps = [step.to_document() for step in self.steps]
        return {"family": self.family, "routine": self.routine, "name": self.name, "about": self.about, "steps": steps}


def job(book: BookReader, family: str, engine: EngineOnTheStand = ANY_ENGINE) -> Job:
    """The order of work for a family, by its id or name: the routine of its linkage, for its ignition, modules,
    carburettors and marks.

    Raises:
        RoutineNotFound: the family's file names no linkage, or the book has no routine for it.
        FamilyNotFound, FamilyRetired, SeveralFamilies, SerialFitsNone, YearFitsNone: each says what to type.
    """
    found = require_family(book, family, engine)
    key, routine = _routine(book, found)
    timed = (
        MAXIMUM,
        *(figure for step in routine["steps"] for when in _conditions(step) for figure in _figures_of(when)),
    )
    known = {figure: known_states(book, found.id, figure) for figure in dict.fromkeys(timed)}
    kept = [
        (step, words)
        for step in routine["steps"]
        if (words := ahead(step.get("when"), found.document, known)) is not None
    ]
    names = {step["id"] for step, _ in kept}
    steps = tuple(_step(step, words, names, found, known) for step, words in kept)
    return Job(found.id, key, _line(routine["name"]), _line(routine.get("about", "")), steps)


def _routine(book: BookReader, family: Family) -> tuple[str, RoutineDocument]:
    linkage = family.part("linkage")
    if not linkage:
        kinds = tuple(sorted({document["linkage"] for document in book.routines.values()}))
        raise RoutineNotFound(
            f"{family.id} does not say how spark and throttle are linked, so there is no order of work for it; "
            f"write linkage: and one of these in families/{family.id}.yaml",
            kinds,
        )
    named = book.routines.get(linkage)  # most are named after their linkage
    if named and named["linkage"] == linkage:
        return linkage, named
    for key, document in book.routines.items():
        if document["linkage"] == linkage:
            return key, document
    raise RoutineNotFound(
        f"{family.id} has linkage: {linkage}, and no routine is for that; "
        f"add routines/{linkage}.yaml with linkage: {linkage}, or mend the linkage in families/{family.id}.yaml",
        tuple(sorted(book.routines)),
    )


def _conditions(step: RoutineStepDocument) -> list[Document | None]:
    """The conditions of a step, its figures and its ticks."""
    return [
        step.get("when"),
        *(when for _, when in figure_items(step)),
        *(one.get("when") for one in step.get("gate", ())),
    ]


def _figures_of(when: Document | None) -> list[str]:
    """The figures on whose states it depends whether a step applies."""
    return [figure for key in _BY_STATE for figure in (when or {}).get(key, ())]


def _step(step: RoutineStepDocument, before_it: str, names: set[str], family: Family, known: KnownStates) -> JobStep:
    ticks = [
        _line(before + item["tick"])
        for item in as_list(step.get("gate"))
        if (before := ahead(item.get("when"), family.document, known)) is not None
    ]
    return JobStep(
        step["id"],
        _line(before_it + step["do"]),
        _line(step.get("more", "")),
        _line(step.get("why", "")),
        tuple(figure for figure, when in figure_items(step) if ahead(when, family.document, known) is not None),
        tuple(as_list(step.get("cautions"))),
        tuple(as_list(step.get("records"))),
        tuple(name for name in as_list(step.get("makes_stale")) if name in names),
        tuple(ticks),
        "" if _modules(Fitted.FITTED, family.document)[0] is False else step.get("module", ""),
        step.get("turned", ""),
        step.get("ignition", ""),
        tuple(as_list(step.get("puts_in"))),
        tuple(as_list(step.get("takes_out"))),
        step.get("state", ""),
        "leads_back" in step,
    )


def _line(words: str) -> str:
    return " ".join(words.split())


def ahead(when: Document | None, family: Document, known: KnownStates = MappingProxyType({})) -> str | None:
    """What to put ahead of words that apply under conditions: nothing if all hold, "If ...: " for those that the
    family's file does not settle; and no text at all if one does not hold. ``known`` are the states in which the book
    has the figures that the conditions name: those always settle it."""
    open_ones = []
    for key, wanted in (when or {}).items():
        if key in _BY_STATE:
            if not any(_BY_STATE[key](known, figure, states) for figure, states in wanted.items()):
                return None
            continue
        holds, words = _CONDITIONS[key](wanted, family)
        if holds is False:
            return None
        if holds is None:
            open_ones.append(words)
    return f"If {' and '.join(open_ones)}: " if open_ones else ""


Judged = tuple[bool | None, str]  # whether it holds, None where the file does not say; and the condition in words


def _ignition(wanted: Sequence[str], family: Document) -> Judged:
    fitted = part(family, "ignition", "type")
    words = " or ".join(kind.replace("-", " ") for kind in wanted)
    return (fitted in wanted if fitted else None), f"the ignition is {words}"


def _modules(wanted: str, family: Document) -> Judged:
    """A file that describes the ignition lists its modules, as the rule ``condition-not-on-engine`` makes sure."""
    words = "a module changes the advance" if wanted == Fitted.FITTED else "no module changes the advance"
    if not part(family, "ignition"):
        return None, words
    return bool(part(family, "ignition", "modules")) == (wanted == Fitted.FITTED), words


def _carburettors(wanted: Document, family: Document) -> Judged:
    least = int(wanted["at_least"])
    fitted = part(family, "engine", "carburettors")
    if fitted is None and part(family, "engine", "cylinders") == "1":
        fitted = "1"  # one cylinder has one
    words = f"it has {least} carburettors or more" if least > 1 else "it has a carburettor"
    return (int(fitted) >= least if fitted else None), words


def _numbered_marks(wanted: str, family: Document) -> Judged:
    words = f"the flywheel or its scale has {'' if wanted == Presence.PRESENT else 'no '}numbered marks"
    if not part(family, "flywheel"):
        return None, words
    return bool(part(family, "flywheel", "numbered_marks")) == (wanted == Presence.PRESENT), words


def _is_set(known: KnownStates, figure: str, states: Sequence[str]) -> bool:
    return set_state(known, figure) in states


def _is_known(known: KnownStates, figure: str, states: Sequence[str]) -> bool:
    return not set(states).isdisjoint(known.get(figure, ()))


_BY_STATE: Mapping[str, Callable[[KnownStates, str, Sequence[str]], bool]] = {"set": _is_set, "known": _is_known}
_CONDITIONS: Mapping[str, Callable[[Any, Document], Judged]] = {
    "ignition": _ignition,
    "modules": _modules,
    "carburettors": _carburettors,
    "numbered_marks": _numbered_marks,
}
