"""An id is never used again: what points at the old family must not end up at a new one. Retired ids are listed in
retired.yaml."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import WHOLE_FILE, Severity, Slip
from kb.intake.facts.rule_context import FileCase
from kb.intake.models.spelling import either
from kb.intake.rules import Bad, Good, Rule

_KEYS = {"family": "name", "maker": "name", "source": "title", "figure": "label"}


def check(case: FileCase) -> Iterator[Slip]:
    """The file's own id."""
    entry = case.context.retired.get(case.id)
    if entry and entry["kind"] == case.kind:
        what = f"the id {case.id} was retired on {entry['since']}: {entry['because']}"
        to = entry.get("to")
        do = f"give the file another name, or add to {either(to)}" if to else "give the file another name"
        key = _KEYS[case.kind]
        yield Slip((key,), what, do) if key in case.document else Slip((), what, do, place=WHOLE_FILE)


RULE = Rule(
    severity=Severity.ERROR,
    reads="file",
    summary="a file under a retired id",
    why="links, sheets and notes that name the old id would lead to another engine",
    bad=(
        Bad(
            "name: Example 30\nmaker: skerrow\ninvented: true\nengine: {cycle: two-stroke, cylinders: 3}\n"
            "ignition: {type: breaker-magneto}\nfigures: {}\n",
            where="Example 30",
            file="families/skerrow/example-30.yaml",
            whole=True,
        ),
        Bad(
            "title: Plate on the engine\n",
            where="Plate on the engine",
            file="sources/plate.yaml",
            beside={"retired.yaml": "retired:\n  - {id: plate, kind: source, since: 2026-02-01, because: a mix-up}\n"},
        ),
        Bad(
            "name: Pellwater\n",
            where="Pellwater",
            file="makers/pellwater.yaml",
            beside={
                "retired.yaml": "retired:\n  - {id: pellwater, kind: maker, to: [skerrow], since: 2026-02-01, "
                "because: one firm}\n"
            },
        ),
    ),
    good=(
        Good("name: Example 30\n"),
        Good(
            "title: Plate on the engine\n",
            file="sources/plate.yaml",
            beside={"retired.yaml": "retired:\n  - {id: plate, kind: figure, since: 2026-02-01, because: a slip}\n"},
        ),
    ),
    check=check,
    kinds=("family", "source", "maker", "figure"),
)
