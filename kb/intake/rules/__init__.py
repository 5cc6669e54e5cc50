"""One file a rule. A rule's id is its file's name with hyphens, its page is its docstring with its examples.

What a rule reads decides how it is run and what its result is cached by:

==========  ===============================================================================================
text        faults of the bytes and the YAML, found by the reader; ``check(fault)``
typing      faults of place, shape and type, found by the models; ``check(fault)``
file        one file with what it refers to; ``check(case)``
maker       all families of one maker; ``gather(case)`` gives plain JSON facts of one file, with paths through
            ``case.original``; then ``check(facts, desk)`` yields pairs of file and slip
book        all files; likewise; one without ``gather`` reads the files' names alone, with no facts
exceptions  one exception that covers no warning; ``check(exemption)``
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
    from kb.intake.facts.rule_context import StatementCase

FAMILY = "families/skerrow/example.yaml"
"""The family of the example book that the examples are laid over (in the tests); paths are below the book's folder."""


@dataclass(frozen=True, slots=True)
class Bad:
    """An example that the rule must report, once, with ``where`` as the marked text.

    ``text`` is laid over a file of the example corpus: each top-level block (and each figure) it holds replaces the
    one there or is added. Bytes, or ``whole``, replace the whole file. ``count`` is how often the rule reports it.
    """

    text: str | bytes
    where: str
    file: str = FAMILY
    whole: bool = False
    count: int = 1
    beside: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Good:
    """A near miss on which the rule must stay silent; laid over the example corpus in the same way."""

    text: str | bytes
    file: str = FAMILY
    whole: bool = False
    beside: Mapping[str, str] = field(default_factory=dict)


WIDE = ("maker", "book")
"""What a rule reads that reads more than one file."""

Facts = Mapping[str, Any]
"""What ``gather`` returned, by file; plain JSON values."""

Gather = Callable[["StatementCase"], Any]


@dataclass(frozen=True, slots=True)
class Rule:
    """One rule. ``summary`` says the fault in one line, ``why`` why it matters; ``kinds`` are the kinds of file read.

    ``may_warn`` is said of a rule of errors that sometimes only warns, by a slip's own severity.
    """

    severity: Severity
    reads: Literal["text", "typing", "file", "maker", "book", "exceptions"]
    summary: str
    why: str
    bad: tuple[Bad, ...]
    good: tuple[Good, ...]
    check: Callable[..., Iterator[Any]]
    kinds: tuple[str, ...] = ("family",)
    gather: Gather | None = None
    may_warn: bool = False
    id: str = ""
    about: str = ""

    @property
    def can_warn(self) -> bool:
        """Whether it gives warnings, which an exception can accept."""
        return self.may_warn or self.severity is Severity.WARNING


@cache
def rules() -> Mapping[str, Rule]:
    """Every rule by id, in order of id."""
    names = sorted(module.name.replace("_", "-") for module in pkgutil.iter_modules(__path__))
    return {name: rule_of(name) for name in names}


@cache
def rule_of(name: str) -> Rule:
    """The rule with that id.

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


Roll = Mapping[str, tuple[str, Sequence[str]]]
"""What each rule reads, and of which kinds of file, by id."""

_remembered: dict[str, tuple[str, Sequence[str]]] = {}


def roll() -> Roll:
    """What each rule reads; so that of a hundred rules only those are loaded that read a file in hand."""
    if not _remembered:
        _remembered.update({name: (rule.reads, rule.kinds) for name, rule in rules().items()})
    return _remembered


def remember(kept: Roll) -> None:
    """Take the roll of an earlier run of the same edition, and load nothing for it."""
    if not _remembered:
        _remembered.update(kept)


@cache
def rules_reading(kind: str) -> tuple[Rule, ...]:
    """The rules that read files of a kind themselves, in order of id."""
    return tuple(rule_of(name) for name, (reads, kinds) in roll().items() if reads in ("file", *WIDE) and kind in kinds)


@cache
def wide_rules() -> tuple[Rule, ...]:
    """The rules that read more than one file, in order of id."""
    return tuple(rule_of(name) for name, (reads, _) in roll().items() if reads in WIDE)
