"""What a step says under `do` is read at arm's length, with dirty hands: at most 25 words where a figure is read at it,
which shares the screen with its keys, and 35 elsewhere. What else is worth knowing goes to `more`, which is folded away
on a screen and stands whole on paper; the reason to `why`. A routine none of whose steps has `more` was written to be
read whole, and is left as it is."""

from __future__ import annotations

from collections.abc import Iterator

from kb.book.model.family import as_list
from kb.book.setting.routine_figures import figures_of
from kb.finding import Severity, Slip
from kb.intake.facts.rule_context import FileCase
from kb.intake.rules import Bad, Good, Rule

MOST_WHERE_READ = 25
MOST = 35


def check(case: FileCase) -> Iterator[Slip]:
    """The instruction of every step."""
    steps = as_list(case.document.get("steps"))
    for number, step in enumerate(steps if any(step.get("more") for step in steps) else ()):
        most = MOST_WHERE_READ if figures_of(step) else MOST
        words = len(step["do"].split())
        if words > most:
            what = f"the step {step['id']} says what to do in {words} words, and {most} are read at a glance"
            yield Slip(("steps", number, "do"), what, "keep the instruction, and move the rest to more: or why:")


def _step(words: int, more: str = "") -> str:
    words_read = f"{'Set the gap here ' * (words // 4)}now"
    return f"steps:\n  - {{id: look, do: Look, more: Use a mirror}}\n  - {{id: gap, do: {words_read}{more}}}\n"


_FIGURE = ", figure: plug-gap, records: [as-left]"
_FIGURES = ", figures: [{figure: plug-gap}, {figure: plug-torque}], records: [as-left]"
_FILE = "routines/example.yaml"

RULE = Rule(
    severity=Severity.WARNING,
    reads="file",
    summary="an instruction that is too long to be read at the engine",
    why="what is too long is not read, and then the word that mattered is not read either",
    bad=(
        Bad(_step(37), where="Set the gap here " * 9 + "now", file=_FILE),
        Bad(_step(29, _FIGURE), where="Set the gap here " * 7 + "now", file=_FILE),
        Bad(_step(29, _FIGURES), where="Set the gap here " * 7 + "now", file=_FILE),
    ),
    good=(
        Good(_step(33), file=_FILE),
        Good(_step(37).replace(", more: Use a mirror", ""), file=_FILE),
        Good(_step(25, _FIGURE), file=_FILE),
        Good(_step(25, f", more: {'The wider the gap the harder the coil works ' * 4}so{_FIGURE}"), file=_FILE),
    ),
    check=check,
    kinds=("routine",),
)
