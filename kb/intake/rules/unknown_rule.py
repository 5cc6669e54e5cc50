"""An exception names the rule whose warning it accepts. Errors cannot be accepted: correct them, or say in the
statement that the page is like that (`printed_so`, `only`, `absent`)."""

from __future__ import annotations

from collections.abc import Iterator

from kb.book.model.family import as_list
from kb.finding import Severity, Slip
from kb.intake.facts.rule_context import FileCase
from kb.intake.models.spelling import write_instead
from kb.intake.rules import Bad, Good, Rule, rules


def check(case: FileCase) -> Iterator[Slip]:
    """The rule of every exception."""
    for index, entry in enumerate(as_list(case.document.get("exceptions"))):
        name, book = entry["rule"], rules()
        if name in book and book[name].can_warn:
            continue
        what, do = f"{name} reports errors, which cannot be accepted", "correct what it reports, and delete this"
        if name not in book:
            warning = sorted(key for key, rule in book.items() if rule.can_warn)
            what = f"there is no rule {name}"
            do = write_instead(name, warning, f"delete it; the rules that can be accepted are {', '.join(warning)}")
        yield Slip(("exceptions", index, "rule"), what, do)


RULE = Rule(
    severity=Severity.ERROR,
    reads="file",
    summary="an exception to a rule that does not exist, or that reports errors",
    why="it accepts nothing, but whoever reads it would think that it does",
    bad=(
        Bad("exceptions:\n  - {rule: source-unussed, because: of a slip}\n", where="source-unussed"),
        Bad("exceptions:\n  - {rule: page-missing, because: the page is torn}\n", where="page-missing"),
        Bad("exceptions:\n  - {rule: whatever, because: it is quiet}\n", where="whatever", file="sources/plate.yaml"),
    ),
    good=(
        Good("exceptions:\n  - {rule: source-unused, because: its families are to come}\n", file="sources/plate.yaml"),
        Good("name: An exception to every rule\n"),
    ),
    check=check,
    kinds=("family", "source"),
)
