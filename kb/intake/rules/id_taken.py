"""Two files in one folder must not have names that differ only in case and hyphens: ketch-47 and ketch47 are one name
to whoever types it, and one file on some disks."""

from __future__ import annotations

import re
from collections.abc import Iterator

from kb.finding import WHOLE_FILE, Severity, Slip
from kb.intake.facts.rule_context import RuleContext
from kb.intake.rules import Bad, Facts, Good, Rule


def check(_facts: Facts, context: RuleContext) -> Iterator[tuple[str, Slip]]:
    """The names of all files; the later of two is reported."""
    if len(set(map(_plain, context.files))) == len(context.files):
        return
    first: dict[str, str] = {}
    for file in sorted(context.files, key=lambda name: (name != name.lower(), name.endswith(".yml"), name)):
        taken = first.setdefault(_plain(file), file)
        if taken != file:
            do = "rename one of the two, or merge them"
            yield file, Slip((), f"{file} and {taken} count as one name", do, place=WHOLE_FILE)


def _plain(file: str) -> str:
    return re.sub(r"[-_ ]", "", file.lower()).removesuffix(".yml").removesuffix(".yaml")


_SOURCE = "invented: true\nkind: plate\ntitle: Plate\nseen: on-the-engine\n"

RULE = Rule(
    severity=Severity.ERROR,
    reads="book",
    summary="two files whose names count as one",
    why="whoever types the name could get either file",
    bad=(
        Bad(_SOURCE, where="", file="sources/hand-book.yaml", whole=True),
        Bad(_SOURCE, where="", file="sources/Plate.yaml", whole=True),
        Bad(_SOURCE, where="", file="sources/plate.yml", whole=True),
        Bad("name: Other 17\n", where="", file="families/skerrow/oth-er.yaml", whole=True),
    ),
    good=(
        Good(_SOURCE, file="sources/plate-2.yaml", whole=True),
        Good(_SOURCE, file="sources/skerrow.yaml", whole=True),
    ),
    check=check,
    kinds=(),
)
