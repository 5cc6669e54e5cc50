"""The place of a file says what it is: catalogue/, makers/, sources/, cautions/ and routines/ hold files directly,
families/<maker>/ and reports/<maker>/<family>/ in folders, and retired.yaml and withdrawn.yaml are at the top. Names
are lower-case letters, digits and hyphens, and end in .yaml."""

from __future__ import annotations

import re
from collections.abc import Iterator

from kb.finding import WHOLE_FILE, Severity, Slip
from kb.intake.models import KINDS
from kb.intake.models.spelling import nearest
from kb.intake.rules import Bad, Good, Rule
from kb.intake.yaml.fault import Fault

_PLACES = {1: "{folder}/<name>.yaml", 2: "{folder}/<maker>/<name>.yaml", 3: "{folder}/<maker>/<family>/<name>.yaml"}


def check(fault: Fault) -> Iterator[Slip]:
    """Say where the file belongs."""
    folder, *parts = fault.found.split("/")
    *folders, name = parts or [folder]
    kinds = {kind.folder: kind for kind in KINDS.values()}
    near = nearest(folder.removesuffix(".yml") + ".yaml" * (not parts), tuple(kinds), 1)
    kind = kinds.get(folder) or (kinds[near[0]] if near else None)
    folders_there = [name for name, known in kinds.items() if known.depth]
    if kind is None:
        do = f"move it to one of the folders {', '.join(folders_there)}"
        yield Slip((), f"no kind of file belongs at {fault.found}", do, place=WHOLE_FILE)
        return
    if kind.depth and len(parts) != kind.depth:
        do = f"move it to {_PLACES[kind.depth].format(folder=kind.folder)}"
    elif not kind.depth:
        do = f"name it {kind.folder}, at the top"
    else:
        do = f"name it {'/'.join([kind.folder, *map(_slug, folders), _slug(re.sub(r'[.]ya?ml$', '', name))])}.yaml"
    yield Slip((), f"no kind of file belongs at {fault.found}", do, place=WHOLE_FILE)


def _slug(name: str) -> str:
    return re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-")


_SOURCE = "invented: true\nkind: plate\ntitle: Spare plate\nseen: on-the-engine\n"

RULE = Rule(
    severity=Severity.ERROR,
    reads="typing",
    summary="a file in a place where none belongs",
    why="nothing in it would be read",
    bad=(
        Bad(_SOURCE, where="", file="sources/Spare plate.yaml", whole=True),
        Bad(_SOURCE, where="", file="sources/spare.yml", whole=True),
        Bad(_SOURCE, where="", file="source/spare.yaml", whole=True),
        Bad("name: Example 31\n", where="", file="families/example.yaml", whole=True),
        Bad("name: Example 31\n", where="", file="engines.yaml", whole=True),
        Bad("invented: true\nretired: []\n", where="", file="retired.yml", whole=True),
    ),
    good=(
        Good(
            f"{_SOURCE}exceptions:\n  - {{rule: source-unused, because: to come}}\n",
            file="sources/spare.yaml",
            whole=True,
        ),
        Good("invented: true\nby: mk\non: 2026-05-12\n", file="reports/skerrow/other/2026-05-12-slip.yaml", whole=True),
    ),
    check=check,
    kinds=(),
)
