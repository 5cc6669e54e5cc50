"""Where contact breakers time several cylinders, the file says how many sets of contacts there are: `triggers` under
`ignition`. Each set opens at a moment of its own, since no two gaps are quite alike, so that every cylinder's spark is
read at the maximum, and the earliest counts. Without the number the job reads cylinder one alone."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Part, Severity, Slip
from kb.intake.facts.rule_context import FileCase
from kb.intake.rules import Bad, Good, Rule
from kb.vocabulary.engine import BREAKER_IGNITIONS
from kb.vocabulary.states import State


def check(case: FileCase) -> Iterator[Slip]:
    """An ignition with breakers of a family that has a maximum to read."""
    ignition = case.document.get("ignition") or {}
    cylinders = (case.document.get("engine") or {}).get("cylinders", "1")
    maximum = any(not one.absent for one in case.family.statements.get("max-advance", ()))
    if ignition.get("type") in BREAKER_IGNITIONS and cylinders != "1" and "triggers" not in ignition and maximum:
        what = f"contact breakers time {cylinders} cylinders, and the number of their sets is not given"
        do = "look under the flywheel or in the parts list, and add it, such as triggers: 2, under ignition"
        yield Slip(("ignition",), what, do, Part.KEY)


def _family(cylinders: str, ignition: str, state: str = State.STATIC) -> str:
    return (
        f"name: Example 7\nmaker: skerrow\ninvented: true\nengine: {{cycle: two-stroke, cylinders: {cylinders}}}\n"
        f"ignition: {{{ignition}}}\nfigures:\n  max-advance:\n"
        f"    - {{btdc: 24, state: {state}, source: handbook, page: 42}}\ncautions: [too-much-advance]\n"
    )


RULE = Rule(
    severity=Severity.WARNING,
    reads="file",
    summary="several cylinders on contact breakers whose sets are not counted",
    why="the contacts of one cylinder can open degrees before those of another, and nobody would read it there",
    bad=(
        Bad(_family("2", "type: breaker-magneto"), where="ignition", whole=True),
        Bad(_family("4", "type: breaker-battery"), where="ignition", whole=True),
        Bad(_family("3", "type: breaker-battery, modules: [idle-advance]"), where="ignition", whole=True),
    ),
    good=(
        Good(_family("2", "type: breaker-magneto, triggers: 2"), whole=True),
        Good(_family("4", "type: breaker-battery, triggers: 1"), whole=True),
        Good(_family("1", "type: breaker-magneto"), whole=True),
        Good(
            _family("3", "type: capacitor-discharge", State.CRANKING).replace(
                "cautions", "  cranking-correction:\n    - {absent: not-stated, source: handbook}\ncautions"
            ),
            whole=True,
        ),
    ),
    check=check,
)
