"""A firing order names each cylinder once: for four cylinders, the numbers 1 to 4. If it names a cylinder twice, leaves
one out, or names one that the engine does not have, either the order or the number of cylinders is wrong. The same
holds for an order stated as a figure."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from kb.finding import Path, Severity, Slip
from kb.intake.facts.rule_context import FileCase
from kb.intake.rules import Bad, Good, Rule


def check(case: FileCase) -> Iterator[Slip]:
    """The firing order, and every order that is stated as a figure."""
    engine = case.document.get("engine") or {}
    if cylinders := int(engine.get("cylinders", 0)):
        if order := engine.get("firing_order"):
            yield from _compare(("engine", "firing_order"), order, cylinders)
        for figure, statements in case.family.statements.items():
            for statement in statements:
                if stated := statement.document.get("order"):
                    yield from _compare(("figures", figure, statement.index, "order"), stated, cylinders)


def _compare(path: Path, order: Sequence[str], cylinders: int) -> Iterator[Slip]:
    wanted = [str(number) for number in range(1, cylinders + 1)]
    if sorted(order) == sorted(wanted):
        return
    strange = [index for index, number in enumerate(order) if number not in wanted or number in order[:index]]
    missing = [number for number in wanted if number not in order]
    twice = [f"names {order[index]} twice" for index in strange if order[index] in wanted]
    words = twice[:1] or [f"names {order[index]}, which does not exist," for index in strange[:1]]
    words += [f"leaves out {', '.join(missing)}"] if missing else []
    place = (*path, strange[0]) if len(strange) == 1 and len(order) == cylinders else path
    what = f"the firing order of {cylinders} cylinders {' and '.join(words)}".removesuffix(",")
    yield Slip(place, what, f"write each of {', '.join(wanted)} once, or correct cylinders: {cylinders}")


def _engine(order: str, cylinders: int = 3) -> str:
    return f"engine: {{cycle: two-stroke, cylinders: {cylinders}, firing_order: {order}}}\n"


RULE = Rule(
    severity=Severity.ERROR,
    reads="file",
    summary="a firing order that does not name each cylinder once",
    why="the other cylinders are timed by it, so a wrong order is out by a whole firing interval",
    bad=(
        Bad(_engine("[1, 3, 3]"), where="3"),
        Bad(_engine("[1, 4, 2]"), where="4"),
        Bad(_engine("[1, 3, 2]", 4), where="[1, 3, 2]"),
        Bad(_engine("[1, 3, 2, 4]"), where="[1, 3, 2, 4]"),
    ),
    good=(Good(_engine("[1, 2, 3]")), Good(_engine("[3, 1, 2]")), Good(_engine("[1]", 1))),
    check=check,
)
