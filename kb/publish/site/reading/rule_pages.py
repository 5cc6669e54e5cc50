"""The rules of the check as pages. The site knows no rule itself: the caller of the build passes the texts in."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from jinja2 import Environment
from markupsafe import Markup, escape

from kb.publish.site.chapters import WrittenPage

READS = {
    "text": "the text of a file, before anything in it has a meaning",
    "typing": "the shape of a file: what may stand where, and of which kind it is",
    "file": "one file, with what it refers to",
    "maker": "all families of one maker beside each other",
    "book": "the whole book",
    "exceptions": "the exceptions that accept a warning",
    "rules": "no file, but the rules and reporters themselves",
}
"""What a rule may read, by the key in its text; the index has the rules in this order."""


class RuleExample(NamedTuple):
    """A piece of a file to show; ``marked`` is the part that the rule reports, empty in a sound example."""

    file: str
    text: str
    marked: str = ""


class RuleText(NamedTuple):
    """The text of a rule: ``summary`` is the fault and ``why`` its consequence, without a full stop."""

    id: str
    severity: str
    reads: str
    summary: str
    why: str
    about: str
    reported: Sequence[RuleExample]
    not_reported: Sequence[RuleExample]
    can_warn: bool = False


def rule_pages(environment: Environment, rules: Sequence[RuleText]) -> Iterator[WrittenPage]:
    """The index of the rules, and a page for each; ``environment`` finds the templates."""
    page, index = environment.get_template("rule.html"), environment.get_template("rules.html")
    rules = sorted(rules, key=lambda rule: rule.id)
    found = {reads: sorted((rule for rule in rules if rule.reads == reads), key=_gravest) for reads in READS}
    groups = [{"reads": reads, "words": READS[reads], "rules": those} for reads, those in found.items() if those]
    body = index.render(groups=groups, count=len(rules))
    yield WrittenPage("rules/", "The rules of the check", body)
    for rule in rules:
        about = [_worded(paragraph) for paragraph in rule.about.split("\n\n")]
        reported = [(example.file, _marked(example)) for example in rule.reported]
        body = page.render(rule=rule, about=about, reads=READS[rule.reads], reported=reported)
        yield WrittenPage(f"rules/{rule.id}/", f"Rule {rule.id}", body)


def _gravest(rule: RuleText) -> tuple[str, str]:
    return rule.severity, rule.id


def _worded(paragraph: str) -> Markup:
    """A paragraph of a rule's text; double backquotes mark code."""
    parts = " ".join(paragraph.split()).split("``")
    return Markup("").join(
        Markup("<code>{}</code>").format(part) if place % 2 else escape(part) for place, part in enumerate(parts)
    )


def _marked(example: RuleExample) -> Markup:
    """An example with its marked part; unmarked where that text occurs twice, rather than marking the wrong one."""
    if not example.marked or example.text.count(example.marked) != 1:
        return escape(example.text)
    before, found, after = example.text.partition(example.marked)
    return Markup("{}<mark>{}</mark>{}").format(before, found, after)
