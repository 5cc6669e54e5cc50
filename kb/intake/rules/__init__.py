"""One file per rule. A rule's id is its file's name with hyphens; its page is its docstring with its examples.

What a rule reads decides how it runs and on what its cached result depends:

==========  ===============================================================================================
text        a fault in the bytes or the YAML, found by the reader; ``check(fault)``
typing      a fault of place, shape or type, found by the models; ``check(fault)``
file        one file with what it refers to; ``check(case)``
maker       all families of one maker: ``extract_facts(case)`` gives plain JSON facts of one file, with paths made
            by ``case.original``; then ``check(facts, context)`` yields pairs of a file and a slip
book        all files, in the same way; without ``extract_facts`` it reads the files' names alone, and no facts
exceptions  one exception that covers no warning; ``check(exemption)``
rules       a rule or a reporter that has failed; ``check(failure)``
==========  ===============================================================================================
"""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache
from typing import TYPE_CHECKING, Any, Literal

from kb.finding import Severity

if TYPE_CHECKING:
    from kb.intake.facts.rule_context import FileCase

FAMILY = "families/skerrow/example.yaml"
"""The family of the tests' example book that the examples change; paths are relative to the book's folder."""


@dataclass(frozen=True, slots=True)
class Bad:
    """An example that the rule must report, with ``where`` as the marked text.

    ``text`` is merged into a file of the example book: each top-level block (and each figure) in it replaces the one
    there, or is added. Bytes, or ``whole``, replace the whole file. ``count`` is how often the rule reports it, and
    ``severity`` how badly, if not as the rule itself. ``beside`` has texts for further files, merged in the same way.
    """

    text: str | bytes
    where: str
    file: str = FAMILY
    whole: bool = False
    count: int = 1
    severity: Severity | None = None
    beside: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Good:
    """A near miss that the rule must not report, merged into the example book in the same way."""

    text: str | bytes
    file: str = FAMILY
    whole: bool = False
    beside: Mapping[str, str] = field(default_factory=dict)


OWN_FAULTS: Literal["rules"] = "rules"
"""What the one rule reads that speaks of rules and reporters which fail: no file can be an example of it."""

MULTI_FILE = ("maker", "book")
"""What rules read that read more than one file."""

Facts = Mapping[str, Any]
"""What ``extract_facts`` returned, by file; plain JSON values."""

ExtractFacts = Callable[["FileCase"], Any]


@dataclass(frozen=True, slots=True)
class Rule:
    """One rule. ``summary`` names the fault, ``why`` says why it matters; ``kinds`` are the kinds of file it reads.

    ``may_warn`` marks a rule of errors that sometimes only warns, by giving a slip its own severity.
    """

    severity: Severity
    reads: Literal["text", "typing", "file", "maker", "book", "exceptions", "rules"]
    summary: str
    why: str
    bad: tuple[Bad, ...]
    good: tuple[Good, ...]
    check: Callable[..., Iterator[Any]]
    kinds: tuple[str, ...] = ("family",)
    extract_facts: ExtractFacts | None = None
    may_warn: bool = False
    id: str = ""
    about: str = ""

    @property
    def can_warn(self) -> bool:
        """Whether it can give warnings, which an exception can accept."""
        return self.may_warn or self.severity is Severity.WARNING


@cache
def rules() -> Mapping[str, Rule]:
    """Every rule by id, in order of id."""
    names = sorted(module.name.replace("_", "-") for module in pkgutil.iter_modules(__path__))
    return {name: rule_of(name) for name in names}


@cache
def rule_of(name: str) -> Rule:
    """The rule with this id.

    Raises:
        KeyError: there is no such rule.
    """
    module = f"{__name__}.{name.replace('-', '_')}"
    try:
        loaded = importlib.import_module(module)
    except ModuleNotFoundError as error:
        if error.name == module:
            raise KeyError(name) from None
        raise
    rule: Rule = loaded.RULE
    object.__setattr__(rule, "id", name)
    object.__setattr__(rule, "about", (loaded.__doc__ or "").strip())
    return rule


RuleScopes = Mapping[str, tuple[str, Sequence[str]]]
"""What each rule reads, and which kinds of file, by id."""

_scopes: dict[str, tuple[str, Sequence[str]]] = {}


def rule_scopes() -> RuleScopes:
    """What each rule reads, so that a check loads only those of the hundred rules that it needs."""
    if not _scopes:
        _scopes.update({name: (rule.reads, rule.kinds) for name, rule in rules().items()})
    return _scopes


def restore_rule_scopes(kept: RuleScopes) -> None:
    """Use the scopes that an earlier run of the same version kept, without loading the rules."""
    if not _scopes:
        _scopes.update(kept)


@cache
def rules_reading(kind: str) -> tuple[Rule, ...]:
    """The rules that read files of this kind, in order of id."""
    return tuple(
        rule_of(name)
        for name, (reads, kinds) in rule_scopes().items()
        if reads in ("file", *MULTI_FILE) and kind in kinds
    )


@cache
def multi_file_rules() -> tuple[Rule, ...]:
    """The rules that read more than one file, in order of id."""
    return tuple(rule_of(name) for name, (reads, _) in rule_scopes().items() if reads in MULTI_FILE)
