"""The maximum is stated only while cranking, or only when running, and no correction leads from one to the other. A
maximum set on the starter runs earlier or later than it reads, and nobody can work out by how much. Add the cranking
correction if a source gives one, or the maximum in the other state; if a source says that there is no correction, write
it as `absent`."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Part, Severity, Slip
from kb.intake.facts.rule_context import FileCase
from kb.intake.rules import Bad, Good, Rule
from kb.vocabulary.states import State

_FIGURES = ("max-advance", "cranking-correction")
_OTHER = {State.CRANKING: State.RUNNING, State.RUNNING: State.CRANKING}


def check(case: FileCase) -> Iterator[Slip]:
    """The maximum of every family without a correction."""
    statements = case.family.statements
    if "cranking-correction" in statements or any(case.cuts.touched(("figures", figure)) for figure in _FIGURES):
        return
    states = {one.state for one in statements.get("max-advance", ()) if not one.absent}
    for state in states & _OTHER.keys():
        if _OTHER[state] not in states:
            what = f"the maximum is stated for {state} only, and no correction gives it for {_OTHER[state]}"
            do = "add cranking-correction from a source, or an exception that says why there is none"
            yield Slip(("figures", "max-advance"), what, do, Part.KEY)


_BEFORE = "figures:\n  plug-gap:\n    - {mm: 0.9, source: plate}\n  max-advance:\n"
_REST = "cautions: [too-much-advance]\n"


def _family(maxima: str) -> str:
    return (
        "name: Example 31\nmaker: skerrow\ninvented: true\nengine: {cycle: two-stroke, cylinders: 3}\n"
        f"ignition: {{type: capacitor-discharge}}\n{_BEFORE}{maxima}{_REST}"
    )


_CRANKING = "    - {btdc: 24, state: cranking, source: handbook, page: 42}\n"
_RUNNING = "    - {btdc: 22, state: running, source: handbook, page: 42}\n"

RULE = Rule(
    severity=Severity.WARNING,
    reads="file",
    summary="a maximum in one state only, without a correction",
    why="set on the starter to a running figure, or the other way round, it is off by the whole correction",
    bad=(
        Bad(_family(_CRANKING), where="max-advance", whole=True),
        Bad(_family(_RUNNING), where="max-advance", whole=True),
        Bad(
            _family(_RUNNING + "    - {btdc: 24, state: static, source: handbook, page: 42}\n"),
            where="max-advance",
            whole=True,
        ),
    ),
    good=(
        Good(_family(_CRANKING + _RUNNING), whole=True),
        Good(_family("    - {btdc: 24, state: static, source: handbook, page: 42}\n"), whole=True),
        Good(
            _family(_CRANKING + "  cranking-correction:\n    - {absent: not-applicable, source: handbook}\n"),
            whole=True,
        ),
    ),
    check=check,
)
