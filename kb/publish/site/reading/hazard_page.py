"""The page of hazards: what can go wrong, and what stands in its way.

The list is a file of the site's own sources, not of a book: it tells of the job, whatever engines the book holds.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any, NamedTuple

import yaml
from jinja2 import Environment

from kb.book.book import Book
from kb.errors import BookError
from kb.publish.site.chapters import WrittenPage
from kb.vocabulary.work import CautionSeverity, ControlKind

FILE = "hazards.yaml"


class Control(NamedTuple):
    """What stands in the way of a cause: ``ticks`` are gates with words of a line, ``shown`` is what shows."""

    kind: str
    what: str
    ticks: Mapping[str, tuple[str, ...]]
    shown: tuple[str, ...]


class Cause(NamedTuple):
    """How a hazard comes about, by a fault or by a slip of the person at work, and its controls."""

    words: str
    slip: bool
    controls: tuple[Control, ...]

    @property
    def only_words(self) -> bool:
        """Whether nothing but words stands in its way."""
        return all(control.kind == ControlKind.WORDS for control in self.controls)


class Hazard(NamedTuple):
    """What can go wrong: the harm, whom it befalls and how gravely, the cautions that tell of it, and its causes."""

    id: str
    title: str
    harm: str
    befalls: str
    severity: str
    cautions: tuple[str, ...]
    causes: tuple[Cause, ...]


def read_hazards(sources: Path) -> list[Hazard]:
    """Every hazard, the gravest first.

    Raises:
        BookError: the list is damaged.
    """
    path = sources / FILE
    try:
        raw = yaml.safe_load(path.read_text(encoding="utf-8"))
        found = [_hazard(entry) for entry in raw]
        return sorted(found, key=lambda hazard: CautionSeverity.words.index(hazard.severity))
    except (yaml.YAMLError, KeyError, TypeError, ValueError) as error:
        raise BookError(f"{path} is not a list of hazards: {error}") from None


def _hazard(raw: Mapping[str, Any]) -> Hazard:
    causes = tuple(
        Cause(cause["cause"], cause["slip"], tuple(map(_control, cause["controls"]))) for cause in raw["causes"]
    )
    severity = _one_of(CautionSeverity.words, raw["severity"])
    words = (raw["title"], raw["harm"], raw["befalls"])
    return Hazard(raw["hazard"], *words, severity, tuple(raw["cautions"]), causes)


def _control(raw: Mapping[str, Any]) -> Control:
    kind = _one_of(ControlKind.words, raw["kind"])
    return Control(
        kind, raw["what"], {gate: tuple(words) for gate, words in raw.get("ticks", {}).items()}, tuple(raw["shown"])
    )


def _one_of(words: tuple[str, ...], word: str) -> str:
    if word not in words:
        raise ValueError(f"{word} is none of {', '.join(words)}")
    return word


def hazard_page(environment: Environment, sources: Path, book: Book) -> WrittenPage:
    """The page of every hazard, the gravest first, with what stands in its way.

    Raises:
        BookError: the list is damaged.
    """
    titles = {key: caution["title"] for key, caution in book.cautions.items()}
    hazards = read_hazards(sources)
    body = environment.get_template("hazards.html").render(hazards=hazards, cautions=titles)
    return WrittenPage("read/hazards/", "What can go wrong", body)
