"""The cautions of a family and of a routine's steps are names of files in cautions/. A caution that is not found is not
printed, so a mistake in its name is an error."""

from __future__ import annotations

from collections.abc import Iterator

from kb.book.model.family import as_list
from kb.finding import Path, Severity, Slip
from kb.intake.facts.rule_context import FileCase
from kb.intake.models.spelling import write_instead
from kb.intake.rules import Bad, Good, Rule


def check(case: FileCase) -> Iterator[Slip]:
    """Every caution of a family or of a step."""
    known = case.context.cautions
    for path, caution in _named(case):
        if caution not in known:
            do = write_instead(caution, sorted(known), f"add cautions/{caution}.yaml with its title and text")
            yield Slip(path, f"there is no caution {caution}", do)


def _named(case: FileCase) -> Iterator[tuple[Path, str]]:
    for index, caution in enumerate(as_list(case.document.get("cautions"))):
        yield ("cautions", index), caution
    for number, step in enumerate(as_list(case.document.get("steps"))):
        for index, caution in enumerate(as_list(step.get("cautions"))):
            yield ("steps", number, "cautions", index), caution


RULE = Rule(
    severity=Severity.ERROR,
    reads="file",
    summary="a caution that has no file",
    why="whoever works from the sheet would not be warned",
    bad=(
        Bad("cautions: [too-much-advence]\n", where="too-much-advence"),
        Bad("cautions: [open-flywheel, mind-the-dog]\n", where="mind-the-dog"),
        Bad(
            "steps:\n  - {id: crank, do: Crank it., cautions: [flywheel-open]}\n",
            where="flywheel-open",
            file="routines/example.yaml",
        ),
    ),
    good=(
        Good("cautions: [open-flywheel, too-much-advance]\n"),
        Good("steps:\n  - {id: crank, do: Crank it., cautions: [unexpected-start]}\n", file="routines/example.yaml"),
    ),
    check=check,
    kinds=("family", "routine"),
)
