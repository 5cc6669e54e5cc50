"""`state` says in which state a step's figure is read there. That is one of the figure's own states; and while
cranking the starter or the rope turns the engine (`turned: by-starter`), standing still a hand does, and running
nobody. A figure of one state that is read in another is wrong by as much as nobody knows."""

from __future__ import annotations

from collections.abc import Iterator

from kb.book.model.family import as_list
from kb.book.setting.routine_figures import figures_of
from kb.finding import Severity, Slip
from kb.intake.facts.rule_context import FileCase
from kb.intake.rules import Bad, Good, Rule
from kb.vocabulary.states import State
from kb.vocabulary.work import Turned

_TURNED = {State.CRANKING: (Turned.BY_STARTER,), State.STATIC: (Turned.BY_HAND,), State.RUNNING: (None,)}
_HOW = {
    State.CRANKING: f"write turned: {Turned.BY_STARTER}, and put it behind the gate before cranking",
    State.STATIC: f"write turned: {Turned.BY_HAND}, and put it where the ignition is dead",
    State.RUNNING: "delete turned: the engine turns itself",
}


def check(case: FileCase) -> Iterator[Slip]:
    """Every step that says in which state its figure is read."""
    for number, step in enumerate(as_list(case.document.get("steps"))):
        state = step.get("state")
        if state is None or case.cuts.touched(("steps", number)):
            continue
        figures = figures_of(step)
        kinds = [kind for kind in map(case.context.figures.get, figures) if kind]
        wrong = next((kind for kind in kinds if state not in kind.states), None)
        if not figures:
            what, do = f"the step {step['id']} reads no figure, and says in which state", "delete state"
            yield Slip(("steps", number, "state"), what, do)
        elif wrong:
            what = f"the step {step['id']} reads {wrong.id} {state}, and there is no such figure"
            yield Slip(("steps", number, "state"), what, f"write one of {', '.join(wrong.states)}")
        elif state in _TURNED and step.get("turned") not in _TURNED[state]:
            turned = f"turned {step['turned'].replace('-', ' ')}" if "turned" in step else "not turned"
            what = f"the step {step['id']} reads {state}, and the flywheel is {turned}"
            yield Slip(("steps", number, "state"), what, _HOW[state])


_FILE = "routines/example.yaml"
_READ = "steps:\n  - {id: maximum, do: Read it., figure: max-advance, state: STATE, turned: TURNED}\n"


def _step(state: str, turned: str) -> str:
    return _READ.replace("STATE", state).replace(", turned: TURNED", turned and f", turned: {turned}")


RULE = Rule(
    severity=Severity.ERROR,
    reads="file",
    summary="a figure of one state is read in another",
    why="a figure read standing still is not what the engine shows on the starter, nor what it shows running",
    bad=(
        Bad(_step("static", "by-starter"), where="static", file=_FILE),
        Bad(_step("cranking", "by-hand"), where="cranking", file=_FILE),
        Bad(_step("cranking", ""), where="cranking", file=_FILE),
        Bad(_step("running", "by-starter"), where="running", file=_FILE),
        Bad(_step("static", "by-hand").replace("max-advance", "cranking-speed"), where="static", file=_FILE),
        Bad(_step("static", "by-hand").replace(" figure: max-advance,", ""), where="static", file=_FILE),
    ),
    good=(
        Good(_step("static", "by-hand"), file=_FILE),
        Good(_step("cranking", "by-starter"), file=_FILE),
        Good(_step("running", ""), file=_FILE),
        Good(_step("cranking", "by-hand").replace(" state: cranking,", ""), file=_FILE),
    ),
    check=check,
    kinds=("routine",),
)
