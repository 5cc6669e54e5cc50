"""Engines of one maker with the same kind of ignition and the same cycle are set much alike, so a figure far from the
middle of at least four others in the same state and conditions deserves a second look: it may be another engine's
figure, or a mistake that no page shows. The catalogue says how far is too far. If that is what the page prints, accept
the warning with an exception."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from kb.finding import Severity, Slip
from kb.intake.facts.citation import value_path
from kb.intake.facts.like_engines import Engines, far_from_others, middle_of, words
from kb.intake.facts.rule_context import FileCase, RuleContext
from kb.intake.rules import Bad, Facts, Good, Rule
from kb.vocabulary.conditions import Condition


def extract_facts(case: FileCase) -> Any:
    """Ignition, cycle, and the middle of every figure that the catalogue compares, by its state and conditions."""
    figures, facts = case.context.figures, case.family_facts
    found: dict[str, list[Any]] = {}
    whole = not case.cuts.touched(())
    for figure in facts.statements:
        if figure not in figures or "outlier" not in figures[figure].document:
            continue
        for statement in facts.first_statements(figure):
            key = f"{figure}|{statement.state}"
            if statement.at:
                key += "".join(f"|{name} {value}" for name, value in statement.at if name != Condition.RPM)
            if key not in found and (middle := middle_of(facts, statement)) is not None:
                path = value_path(statement)
                found[key] = [middle, *(path if whole else case.original(path))[2:]]
    engine, ignition = case.document.get("engine") or {}, case.document.get("ignition") or {}
    return [ignition.get("type"), engine.get("cycle"), found] if found else None


def check(facts: Facts, context: RuleContext) -> Iterator[tuple[str, Slip]]:
    """Every figure compared with the same figure of the maker's similar engines."""
    groups: dict[tuple[str, ...], Engines] = {}
    for file, (ignition, cycle, found) in facts.items():
        for key, (middle, *path) in found.items():
            groups.setdefault((ignition, cycle, key), []).append((middle, file, path))
    for (ignition, _, key), engines in groups.items():
        figure = key.partition("|")[0]
        for middle, median, (file, path) in far_from_others(engines, context.figures.get(figure)):
            kind = context.figures[figure]
            what = f"{figure} is about {words(middle, kind)}; on {len(engines) - 1} similar engines it is about "
            what += f"{words(median, kind)} ({ignition}, same maker)"
            do = "check the page, and which engine it is about; if it is right, add an exception that gives the reason"
            yield file, Slip(("figures", figure, *path), what, do)


_FOUR = {
    f"families/skerrow/like-{number}.yaml": (
        f"name: Like {number}\nmaker: skerrow\ninvented: true\nengine: {{cycle: two-stroke, cylinders: 3}}\n"
        "ignition: {type: capacitor-discharge}\nfigures:\n"
        f"  max-advance:\n    - {{btdc: {22 + number}, state: static, source: manual, page: 7-9}}\n"
        f"  plug-gap:\n    - {{in: 0.040, source: manual, page: 7-9}}\n"
    )
    for number in range(4)
}
_STATIC = "figures:\n  max-advance:\n    - {btdc: 11, state: static, source: handbook, page: 42}\n"

RULE = Rule(
    severity=Severity.WARNING,
    reads="maker",
    summary="a figure far from that of the same maker's similar engines",
    why="a maker sets similar engines alike, so the odd one out is often another engine's figure",
    bad=(
        Bad(_STATIC, where="11", beside=_FOUR),
        Bad("figures:\n  plug-gap:\n    - {mm: 0.4, source: plate}\n", where="0.4", beside=_FOUR),
        Bad(_STATIC.replace("btdc: 11", "btdc: {in: 0.02}"), where="{in: 0.02}", beside=_FOUR),
    ),
    good=(
        Good(_STATIC.replace("11", "18"), beside=_FOUR),
        Good(_STATIC.replace("static", "cranking"), beside=_FOUR),
        Good(_STATIC, beside=dict(list(_FOUR.items())[1:])),
        Good("ignition: {type: transistor}\n" + _STATIC, beside=_FOUR),
    ),
    check=check,
    extract_facts=extract_facts,
)
