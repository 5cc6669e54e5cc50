"""A source that names its maker is about that maker's engines, so a statement from it in another maker's family is
probably in the wrong file, or cites a source with a similar name. If one maker's document does cover another's engine,
as with engines sold under two names, accept the warning with an exception."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.facts.citation import one_per_place
from kb.intake.facts.rule_context import FileCase
from kb.intake.rules import Bad, Good, Rule


def check(case: FileCase) -> Iterator[Slip]:
    """The source of every statement."""
    return one_per_place(_strange(case))


def _strange(case: FileCase) -> Iterator[Slip]:
    maker = case.document.get("maker")
    makers = {name: source.document.get("maker") for name, source in case.family_facts.sources.items()}
    strange = {name for name, its in makers.items() if its and its != maker}
    for figure, statements in case.family.statements.items() if maker and strange else ():
        for statement in statements:
            if statement.source in strange:
                its = makers[statement.source]
                what = f"{statement.source} is about engines of {its}, but this family is by {maker}"
                do = "name the source that was meant, or move the statement to the family it belongs to"
                yield Slip(("figures", figure, statement.index, "source"), what, do)


_GAP = "figures:\n  plug-gap:\n    - {mm: 0.9, source: strange}\n"
_STRANGE = "invented: true\nkind: plate\ntitle: A plate\nseen: on-the-engine\n"
_FILE = "sources/strange.yaml"

RULE = Rule(
    severity=Severity.WARNING,
    reads="file",
    summary="a source about another maker's engines",
    why="its figures are another engine's unless someone says otherwise",
    bad=(
        Bad(_GAP, where="strange", beside={_FILE: f"{_STRANGE}maker: pellwater\n"}),
        Bad(_GAP, where="strange", file="families/skerrow/other.yaml", beside={_FILE: f"{_STRANGE}maker: pellwater\n"}),
        Bad(
            "figures:\n  plug-gap:\n    - {absent: not-stated, source: strange}\n",
            where="strange",
            beside={_FILE: f"{_STRANGE}maker: pellwater\n"},
        ),
    ),
    good=(Good(_GAP, beside={_FILE: f"{_STRANGE}maker: skerrow\n"}), Good(_GAP, beside={_FILE: _STRANGE})),
    check=check,
)
