"""One text judged twice: by the models with the rules, and by the schema that an editor reads; and why they differ."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from functools import cache
from typing import Any, NamedTuple

import yaml

from kb.finding import Path
from kb.intake.check.file_kinds import read_files
from kb.intake.check.one_file import parse_file
from kb.intake.check.whole_book import make_context
from kb.intake.facts.rule_context import FileCase, RuleContext
from kb.intake.models.scalars import DATE_PATTERN
from kb.intake.rules import rules
from kb.quantity import FRACTION_PATTERN
from tests.support.core_yaml import guess, load
from tests.support.example_book import example_book
from tests.support.folders import FROZEN
from tests.support.schema_files import book_files, kind_of, validator

# Rules of one file that the schema means to say as well; every other rule looks at more than one place.
SAID_TWICE = (
    "unit-not-for-figure",
    "state-not-for-figure",
    "state-missing",
    "condition-not-for-figure",
    "unknown-figure",
    "absent-and-stated",
    "also-not-same",
)

# The classes of difference. First what only the model refuses: JSON Schema has no word for it, or a parser that guesses
# types has changed the text before the schema sees it.
SPELLING = "a number spelled otherwise: 010, +4, .5, 1e3 and 3.0 are numbers to a parser, and not in a book"
DECIMALS = "more than nine decimals: the number is rounded before the schema sees it"
TRUTH = "a truth value spelled otherwise: True and FALSE are true and false to a parser"
ORDER = "the ends of a window, or the speeds of a table, out of order"
DATE = "a date that there is not, such as 30 February"
FRACTION = "a fraction that is none, such as 5/4"
STRADDLE = "the ends of a straddling window in different units"
FEATURES = "a part of YAML that the reader refuses: anchors, aliases, tags, merge keys, directives"
DOUBLED = "a key twice: an editor's parser marks it, a validator sees only the last one"
NEWLINE = "a line's end behind the text: Python's $ passes over it, ECMAScript's, which an editor uses, does not"
ACROSS = "a source that says a figure is absent and states it as well: two statements, each sound by itself"
# Then what only the schema refuses.
GUESSED = "text that a parser takes for a truth value or for nothing, such as a note that says no more than null"
QUOTED = "true in quotes, where the schema admits the one value true"
CLASSES = (
    SPELLING,
    DECIMALS,
    TRUTH,
    ORDER,
    DATE,
    FRACTION,
    STRADDLE,
    FEATURES,
    DOUBLED,
    NEWLINE,
    ACROSS,
    GUESSED,
    QUOTED,
)

_FEATURES = ("anchor", "alias", "tag", "merge-key", "directive", "second-document", "key-not-text")


class Refusal(NamedTuple):
    """What one side refuses: the rule (none for the schema), where, and what stands there."""

    rule: str
    path: Path
    stands: Any


class Verdict(NamedTuple):
    """Who refuses a text, and by which classes the two differ; an empty class is a difference without a reason."""

    refused: bool
    classes: tuple[str, ...] = ()
    apart: bool = False


@cache
def _context() -> RuleContext:
    files = read_files(FROZEN)
    return make_context(files, files.__getitem__)


def judge(file: str, text: str) -> Verdict:
    """Judge a text by both. Where both refuse, they are ``apart`` if no place of one is, holds or is held by one of the
    other."""
    data, by_model = by_models(file, text)
    by_schema = []
    for refusal in by_schemas(file, text):
        by_schema.append(refusal)
        if any(_touch(refusal.path, other.path) for other in by_model):
            return Verdict(True)
    if by_model and by_schema:
        return Verdict(True, apart=True)
    if by_model:
        doubled = "duplicate-key" in {refusal.rule for refusal in by_model}
        # whatever else is told may be of the one that a validator does not see
        classes = {DOUBLED} if doubled else {_only_the_model(refusal) for refusal in by_model}
    else:
        classes = {_only_the_schema(_at(data, refusal.path), refusal.stands) for refusal in by_schema}
    return Verdict(bool(by_model or by_schema), tuple(sorted(classes)))


def by_models(file: str, text: str) -> tuple[Any, list[Refusal]]:
    """The text as read, and what the reader, the model and the rules of one file refuse."""
    opened = parse_file(file, text.encode())
    data = opened.text.data
    faults = [fault for fault in opened.faults if fault.rule != "quotes-not-needed"]  # the one that is a warning
    refused = [Refusal(fault.rule, fault.path, _at(data, fault.path)) for fault in faults]
    if opened.case is not None and opened.document:
        case = FileCase(file, opened.case.kind, opened.case.id, opened.document, _context(), opened.case.cuts)
        for rule in SAID_TWICE:
            slips = rules()[rule].check(case) if case.kind in rules()[rule].kinds else ()
            paths = [case.original(slip.path) for slip in slips]
            refused.extend(Refusal(rule, path, _at(data, path)) for path in paths)
    return data, refused


def by_schemas(file: str, text: str) -> Iterator[Refusal]:
    """What the schema refuses, or the editor's parser before it."""
    try:
        document = load(text)
    except yaml.YAMLError:
        yield Refusal("", (), text)
        return
    for error in validator(kind_of(file)).iter_errors(document):
        yield Refusal("", tuple(error.absolute_path), error.instance)


def _touch(one: Path, other: Path) -> bool:
    return one[: len(other)] == other[: len(one)]


def _at(data: Any, path: Path) -> Any:
    for part in path:
        try:
            data = data[part]
        except (KeyError, IndexError, TypeError):
            return None
    return data


def _only_the_model(refusal: Refusal) -> str:
    """The class of a refusal that the schema does not share, or nothing."""
    stands = refusal.stands
    if refusal.rule in _FEATURES:
        return FEATURES
    if refusal.rule == "absent-and-stated":
        return ACROSS
    if refusal.rule == "window-inverted" or (isinstance(stands, list) and any("rpm" in row for row in stands)):
        return ORDER
    if isinstance(stands, Mapping):
        return STRADDLE if stands.keys() <= {"btdc", "atdc", "tdc"} else ""
    text = stands if isinstance(stands, str) else ""
    if re.fullmatch(r"[0-9]{1,9}\.[0-9]{10,}", text):
        return DECIMALS
    if text.endswith("\n"):
        return NEWLINE
    if guess(text) in ("int", "float"):
        return SPELLING
    if guess(text) == "bool":
        return TRUTH
    if re.fullmatch(DATE_PATTERN, text):
        return DATE
    return FRACTION if re.fullmatch(FRACTION_PATTERN, text) else ""


def _only_the_schema(text: Any, instance: Any) -> str:
    """The class of a refusal that the model does not share: the text as it stands against what a parser made of it."""
    if not isinstance(text, str) or guess(text) not in ("null", "bool"):
        return ""
    return QUOTED if isinstance(instance, str) else GUESSED


def sound_texts() -> list[tuple[str, str]]:
    """The demonstration book and the example book by file; families cut to two figures a text, for speed."""
    example = {file: raw.decode() for file, raw in example_book().items()}
    texts: list[tuple[str, str]] = []
    for file, text in [*book_files().items(), *example.items()]:
        texts.extend((file, part) for part in (_parts(text) if kind_of(file) == "family" else [text]))
    return texts


def _parts(text: str) -> Iterator[str]:
    head, _, rest = text.partition("figures:\n")
    body = re.match(r"(?: .*\n|\n)*", rest)
    assert body is not None
    figures = re.split(r"(?m)^(?=  [a-z])", body[0])[1:]
    for start in range(0, len(figures), 2):
        yield f"{head}figures:\n{''.join(figures[start : start + 2])}{rest[body.end() :]}"
