"""A figure's name is the name of a file in catalogue/. Other names in use in the trade are listed there under
`also_called`, and are recognised here."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from kb.book.model.family import as_list
from kb.finding import Part, Path, Severity, Slip
from kb.intake.facts.rule_context import FileCase, RuleContext
from kb.intake.rules import Bad, Good, Rule

_KEYED = ("figures", "adjusters", "as_found", "as_left")


def check(case: FileCase) -> Iterator[Slip]:
    """Every figure that a family, a report or a routine names."""
    known, retired = case.context.figure_ids, case.context.retired
    for path, figure, part in _named(case):
        if figure not in known:
            otherwise = f"write a figure from the catalogue, or add catalogue/{figure}.yaml"
            also_called = {} if figure in retired else _also_called(case.context)
            what, do = case.context.unknown_id("figure", figure, known, otherwise, also_called)
            yield Slip(path, what, do, part)


def _named(case: FileCase) -> Iterator[tuple[Path, str, Part]]:
    for key in _KEYED:
        for figure in case.document.get(key) or ():
            yield (key, figure), figure, Part.KEY
    for index, step in enumerate(as_list(case.document.get("steps"))):
        if "figure" in step:
            yield ("steps", index, "figure"), step["figure"], Part.VALUE
        for place, item in enumerate(as_list(step.get("figures"))):
            yield ("steps", index, "figures", place, "figure"), item["figure"], Part.VALUE
            yield from _of_states(item, ("steps", index, "figures", place))
        yield from _of_states(step, ("steps", index))


def _of_states(one: Mapping[str, Any], path: Path) -> Iterator[tuple[Path, str, Part]]:
    for key in ("set", "known"):
        for figure in (one.get("when") or {}).get(key, ()):
            yield (*path, "when", key, figure), figure, Part.KEY


def _also_called(context: RuleContext) -> Mapping[str, str]:
    return {name: key for key, kind in context.figures.items() for name in as_list(kind.document.get("also_called"))}


RULE = Rule(
    severity=Severity.ERROR,
    reads="file",
    summary="a figure that is not in the catalogue",
    why="nobody looking for the figure would find it under that name",
    bad=(
        Bad(
            "figures:\n  max-advanse:\n    - {btdc: 24, state: cranking, source: handbook, page: 42}\n",
            where="max-advanse",
        ),
        Bad("figures:\n  sensor-gap:\n    - {mm: 0.76, source: plate}\n", where="sensor-gap"),
        Bad("adjusters:\n  full-advance: {part: upper stop screw}\n", where="full-advance"),
        Bad(
            "as_found:\n  pickup:\n    - {atdc: 5, state: cranking}\n",
            where="pickup",
            file="reports/skerrow/example/2026-05-12-slip.yaml",
        ),
        Bad(
            "steps:\n  - {id: light, do: Clip it on., when: {set: {maximum: [cranking]}}}\n",
            where="maximum",
            file="routines/example.yaml",
        ),
        Bad(
            "steps:\n  - {id: plugs-in, do: Plugs in., figures: [{figure: plug-gap}, {figure: plug-nut}]}\n",
            where="plug-nut",
            file="routines/example.yaml",
        ),
        Bad(
            "steps:\n  - {id: gap, do: Set the gap., figure: points-gap}\n",
            where="points-gap",
            file="routines/example.yaml",
            beside={
                "retired.yaml": "retired:\n  - {id: points-gap, kind: figure, to: [breaker-gap], "
                "since: 2026-01-25, because: one name for one figure}\n"
            },
        ),
    ),
    good=(
        Good("figures:\n  coil-gap:\n    - {mm: 0.35, source: plate}\n"),
        Good("steps:\n  - {id: wash, do: Wash the plugs.}\n", file="routines/example.yaml"),
    ),
    check=check,
    kinds=("family", "report", "routine"),
)
