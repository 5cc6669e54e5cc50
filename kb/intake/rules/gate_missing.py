"""A routine has gates whose items must be ticked one by one: one before the engine is cranked at all, one before it is
cranked again with something in it that a step put there, and one before a plug goes back, after which the engine can
start. So there must be a step with a `gate` before the first step that cranks (by `turned: by-starter`, or by a figure
that is read while cranking), and another between that step and the first one after which the engine can run (the plugs
are tightened, or a figure that is read only when running). What a step `puts_in`, such as a piston stop, a gate must
`takes_out` before the next step that cranks, and before the engine can run. A step at which a figure is read in one
`state` needs what that state does. A gate that some of the engines skip, because it or every item of it has a `when`
that the step does not have, does not count."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from kb.book.model.family import as_list
from kb.finding import Severity, Slip
from kb.intake.facts.rule_context import FileCase
from kb.intake.facts.turning import needed_state
from kb.intake.rules import Bad, Good, Rule
from kb.vocabulary.states import CORRECTED_STATES


def check(case: FileCase) -> Iterator[Slip]:
    """The steps of a routine, in order."""
    steps = as_list(case.document.get("steps"))
    if case.cuts.touched(("steps",)):
        return  # the gate may be a step that could not be read
    needed = [needed_state(step, case.context) for step in steps]
    cranked, run = (needed.index(state) if state in needed else None for state in CORRECTED_STATES)
    if cranked is not None and not any(_guards(gate, steps[cranked]) for gate in steps[:cranked]):
        what = f"the step {steps[cranked]['id']} needs cranking, and there is no gate before it"
        do = "put a step with a gate before it, with the items to tick before cranking"
        yield Slip(("steps", cranked, "id"), what, do)
    after = 0 if cranked is None else cranked + 1
    if run is not None and not any(_guards(gate, steps[run]) for gate in steps[after:run]):
        between = f"between {steps[cranked]['id']} and it" if cranked is not None and cranked < run else "before it"
        what = f"the engine can start at the step {steps[run]['id']}, and there is no gate {between}"
        do = "put a step with a gate before it, with the items to tick before the plugs go back"
        yield Slip(("steps", run, "id"), what, do)
    yield from _left_in(steps, needed)


def _left_in(steps: Sequence[Mapping[str, Any]], needed: Sequence[str]) -> Iterator[Slip]:
    """What may still be in the engine when it is next cranked or can start: once for each step that put it there."""
    for number, step in enumerate(steps):
        for thing in as_list(step.get("puts_in")):
            met = _meets(thing, step, steps[number + 1 :], needed[number + 1 :])
            if met:
                what = f"the step {step['id']} puts in the {thing}, and no gate takes it out before {met}"
                do = f"put a step with a gate and takes_out: [{thing}] after its last use"
                yield Slip(("steps", number, "puts_in"), what, do)


def _meets(thing: str, put_in: Mapping[str, Any], later: Sequence[Mapping[str, Any]], needed: Sequence[str]) -> str:
    """The first step that what was put in may meet, in words; empty if a gate stands before every one."""
    gates: list[Mapping[str, Any]] = []
    for step, need in zip(later, needed, strict=True):
        if need and not any(_guards(gate, step) for gate in gates):
            return f"the step {step['id']}"
        if thing in as_list(step.get("takes_out")):
            gates.append(step)
            if _guards(step, put_in):
                return ""
    return "the end"


def _guards(gate: Mapping[str, Any], step: Mapping[str, Any]) -> bool:
    """Whether every engine on which a step is done meets this gate, with something to tick."""
    when = step.get("when") or {}
    ticked = any(_holds_wherever(item.get("when"), when) for item in as_list(gate.get("gate")))
    return ticked and _holds_wherever(gate.get("when"), when)


def _holds_wherever(one: Mapping[str, Any] | None, other: Mapping[str, Any]) -> bool:
    """Whether the first conditions hold on every engine on which the second do."""
    return all(key in other and _takes_in(key, wanted, other[key]) for key, wanted in (one or {}).items())


def _takes_in(key: str, wide: Any, narrow: Any) -> bool:
    if key not in ("set", "known"):
        return bool(wide == narrow)
    return all(set(states) <= set(wide.get(figure, ())) for figure, states in narrow.items())


_GATE = "  - {id: ticks, do: Go round it., gate: [{tick: all plugs out}]}\n"
_READ = "  - {id: maximum, do: Set the maximum., figure: max-advance}\n"
_AGAIN = "  - {id: ticks-again, do: Go round it., gate: [{tick: lever untied}]}\n"
_RUN = "  - {id: idle, do: Set the idle., figure: idle-speed}\n"
_MAYBE = "  - {id: ticks, do: Go round it., gate: [{tick: module plugged in, when: {modules: fitted}}]}\n"
_SOMETIMES = "  - {id: ticks, do: Go round it., when: {modules: fitted}, gate: [{tick: module plugged in}]}\n"
_ALSO = _MAYBE.replace("gate: [", "gate: [{tick: all plugs out}, ")
_STOP = "  - {id: dead-centre, do: Find it with the stop., turned: by-hand, puts_in: [piston-stop]}\n"
_OUT = "  - {id: stop-out, do: Take it out., takes_out: [piston-stop], gate: [{tick: stop out}]}\n"
_STILL = _READ.replace("maximum,", "standing-still,").replace("figure", "state: static, turned: by-hand, figure")
_BY_LIGHT = "when: {set: {max-advance: [cranking]}}"
_LIGHT = _READ.replace("figure", f"state: cranking, {_BY_LIGHT}, figure")
_TO_LIGHT = _AGAIN.replace("gate", f"{_BY_LIGHT}, takes_out: [piston-stop], gate")
_TO_PLUGS = _OUT.replace("stop-out", "before-plugs")
_FILE = "routines/example.yaml"

RULE = Rule(
    severity=Severity.ERROR,
    reads="file",
    summary="a routine without a gate: before cranking, after what was put into the engine, before the plugs go back",
    why="what nobody is asked to tick gets forgotten, and an engine cranked or started like that can hurt someone",
    bad=(
        Bad(f"steps:\n{_READ}{_AGAIN}{_RUN}", where="maximum", file=_FILE),
        Bad(f"steps:\n{_GATE}{_READ}{_RUN}", where="idle", file=_FILE),
        Bad(f"steps:\n{_READ}{_RUN}", where="idle", file=_FILE, count=2),
        Bad(f"steps:\n{_MAYBE}{_READ}{_AGAIN}{_RUN}", where="maximum", file=_FILE),
        Bad(f"steps:\n{_SOMETIMES}{_READ}{_AGAIN}{_RUN}", where="maximum", file=_FILE),
        Bad(
            f"steps:\n{_GATE}{_READ}  - {{id: plugs, do: Plugs in., figure: plug-torque}}\n{_AGAIN}",
            where="plugs",
            file=_FILE,
        ),
        Bad(
            "steps:\n  - {id: compression, do: Crank., turned: by-starter}\n" + _AGAIN + _RUN,
            where="compression",
            file=_FILE,
        ),
        Bad(f"steps:\n{_GATE}{_STOP}{_READ}{_OUT}{_RUN}", where="[piston-stop]", file=_FILE),
        Bad(f"steps:\n{_GATE}{_STOP}{_AGAIN}{_READ}{_OUT}{_RUN}", where="[piston-stop]", file=_FILE),
        Bad(
            f"steps:\n{_GATE}{_STOP}{_MAYBE.replace('gate', 'takes_out: [piston-stop], gate')}{_READ}{_AGAIN}{_RUN}",
            where="[piston-stop]",
            file=_FILE,
        ),
        Bad(f"steps:\n{_GATE}{_READ}{_STOP}{_AGAIN}{_RUN}", where="[piston-stop]", file=_FILE),
        Bad(f"steps:\n{_GATE}{_STOP}{_TO_LIGHT}{_READ}{_TO_PLUGS}{_RUN}", where="[piston-stop]", file=_FILE),
        Bad(f"steps:\n{_GATE}{_STOP}{_STILL}{_LIGHT}{_TO_PLUGS}{_RUN}", where="[piston-stop]", file=_FILE),
    ),
    good=(
        Good(f"steps:\n{_GATE}{_READ}{_AGAIN}{_RUN}", file=_FILE),
        Good(f"steps:\n{_GATE}  - {{id: gap, do: Set it., figure: breaker-gap}}\n{_READ}", file=_FILE),
        Good(f"steps:\n{_ALSO}{_READ}{_AGAIN}{_RUN}", file=_FILE),
        Good("steps:\n  - {id: gap, do: Set the gap., figure: breaker-gap}\n", file=_FILE),
        Good(f"steps:\n{_GATE}{_STOP}{_STOP.replace('centre', 'centre-again')}{_OUT}{_READ}{_AGAIN}{_RUN}", file=_FILE),
        Good(f"steps:\n{_GATE}{_STOP}{_STILL}{_TO_LIGHT}{_LIGHT}{_TO_PLUGS}{_RUN}", file=_FILE),
        Good(
            f"steps:\n{_GATE}{_READ}{_STOP}{_AGAIN.replace('gate', 'takes_out: [piston-stop], gate')}{_RUN}", file=_FILE
        ),
    ),
    check=check,
    kinds=("routine",),
)
