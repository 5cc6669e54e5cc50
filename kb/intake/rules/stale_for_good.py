"""What a step makes stale is read again before the job ends. So it must still be readable: after the plugs went in
nothing that is cranked for or turned by hand can be, and a step that is turned by hand can only be read again where the
ignition is dead at the disturbing step or made dead after it, one that is cranked for where it is live or made live. A
later setting that is the last word, such as the idle in the water, makes nothing stale; else the reading is a step of
its own before the plugs go in."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from kb.book.model.family import as_list
from kb.finding import Severity, Slip
from kb.intake.facts.rule_context import FileCase
from kb.intake.facts.turning import needed_state
from kb.intake.rules import Bad, Good, Rule
from kb.vocabulary.states import State
from kb.vocabulary.work import IgnitionLeft, Turned

_WANTED = {Turned.BY_HAND: IgnitionLeft.DEAD, Turned.BY_STARTER: IgnitionLeft.LIVE}


def check(case: FileCase) -> Iterator[Slip]:
    """Every earlier step that is made stale."""
    if case.cuts.touched(("steps",)):
        return  # the step that makes it readable again may be one that could not be read
    steps = as_list(case.document.get("steps"))
    needed = [needed_state(step, case.context) for step in steps]
    plugs_in = needed.index(State.RUNNING) if State.RUNNING in needed else len(steps)
    places = {step["id"]: place for place, step in enumerate(steps)}
    for number, step in enumerate(steps):
        for index, name in enumerate(as_list(step.get("makes_stale"))):
            place = places.get(name, number)
            turned = steps[place].get("turned", Turned.BY_STARTER if needed[place] == State.CRANKING else "")
            if place >= number or not turned:
                continue
            why = _unreadable(steps, number, plugs_in, turned)
            if why:
                what = f"after the step {step['id']}, {name} can no longer be read: {why}"
                do = f"leave it out if {step['id']} is the last word on it, or move the step to where it can be read"
                yield Slip(("steps", number, "makes_stale", index), what, do)


def _unreadable(steps: Sequence[Mapping[str, Any]], number: int, plugs_in: int, turned: str) -> str:
    """Why nothing that is turned so can be read after this step; empty if it can."""
    if number >= plugs_in:
        return "the plugs are in by then"
    said = [(place, step["ignition"]) for place, step in enumerate(steps[:plugs_in]) if "ignition" in step]
    before = [left for place, left in said if place <= number]
    after = {left for place, left in said if place > number}
    wanted = _WANTED[turned]
    if not before or before[-1] == wanted or wanted in after:
        return ""
    return f"the ignition is {before[-1]} by then, and no step before the plugs go in makes it {wanted}"


_MAXIMUM = "  - {id: maximum, do: Set the maximum., figure: max-advance}\n"
_COIL = "  - {id: coil, do: Turn once round., turned: by-hand}\n"
_STOP = "  - {id: idle-stop, do: Set it to its mark., figure: idle-stop}\n"
_PLUGS = "  - {id: plugs, do: Plugs in., figure: plug-torque}\n"
_DEAD = "  - {id: lead-grounded, do: Ground the lead., ignition: dead}\n"
_LIVE = "  - {id: lead-released, do: Release the lead., ignition: live}\n"
_SPARK = "  - {id: spark, do: Move the coil., turned: by-starter, makes_stale: [coil]}\n"
_FILE = "routines/example.yaml"


def _idle(stale: str) -> str:
    return f"  - {{id: idle, do: Set the idle., figure: idle-speed, makes_stale: [{stale}]}}\n"


RULE = Rule(
    severity=Severity.ERROR,
    reads="file",
    summary="a step makes an earlier one stale that can no longer be read",
    why="the job could not be finished, and the way out would be to call checked what nobody read",
    bad=(
        Bad(f"steps:\n{_MAXIMUM}{_idle('maximum')}", where="maximum", file=_FILE),
        Bad(f"steps:\n{_MAXIMUM}{_STOP}{_PLUGS}{_idle('idle-stop, maximum')}", where="maximum", file=_FILE),
        Bad(f"steps:\n{_DEAD}{_COIL}{_LIVE}{_SPARK}", where="coil", file=_FILE),
        Bad(f"steps:\n{_DEAD}{_COIL}{_LIVE}{_SPARK}{_PLUGS}{_DEAD.replace('lead', 'again')}", where="coil", file=_FILE),
        Bad(
            f"steps:\n{_MAXIMUM}{_DEAD}{_COIL.replace('by-hand', 'by-hand, makes_stale: [maximum]')}",
            where="maximum",
            file=_FILE,
        ),
    ),
    good=(
        Good(f"steps:\n{_STOP}{_MAXIMUM}{_PLUGS}{_idle('idle-stop')}", file=_FILE),
        Good(f"steps:\n{_DEAD}{_COIL}{_LIVE}{_SPARK}{_DEAD.replace('lead', 'again')}", file=_FILE),
        Good(f"steps:\n{_DEAD}{_COIL}{_SPARK}{_LIVE}", file=_FILE),
        Good(
            f"steps:\n{_DEAD}{_COIL.replace('by-hand', 'by-hand, makes_stale: [maximum]')}{_LIVE}{_MAXIMUM}{_PLUGS}",
            file=_FILE,
        ),
        Good(f"steps:\n{_COIL}{_SPARK}", file=_FILE),
    ),
    check=check,
    kinds=("routine",),
)
