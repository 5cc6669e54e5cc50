"""A word of the vocabulary is written once: nowhere else in the code; the browser's script is as it stands there."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from kb.publish.browser_vocabulary import browser_vocabulary
from kb.vocabulary.catalogue import AimPoint
from kb.vocabulary.conditions import Bank, Gear, Module, Warmth
from kb.vocabulary.engine import Cycle, IgnitionType, Linkage, MarksOn, Rotation
from kb.vocabulary.evidence import AbsentWord, HowSure, SourceKind
from kb.vocabulary.states import State
from kb.vocabulary.words import WordList
from kb.vocabulary.work import AngleRead, CautionSeverity, Instrument, Noted, Turned
from tests.support.folders import ASSETS, ROOT

LISTS: tuple[type[WordList], ...] = (
    State, Gear, Bank, Module, Warmth, Cycle, IgnitionType, Linkage, Rotation, MarksOn, AimPoint, AbsentWord, HowSure,
    SourceKind, CautionSeverity, Noted, Turned, AngleRead, Instrument,
)  # fmt: skip
OF_OTHERS = {"flywheel", "middle", "none", "single", "warning", "plate", "memory"}
"""Words that are also keys of a file, or anything else."""
WORDS = {word for words in LISTS for word in words.words} - OF_OTHERS
NO_VALUES = {
    ("kb/book/setting/aim.py", "running"),
    ("kb/book/setting/judge.py", "running"),
    ("kb/cli/targets.py", "running"),
    ("kb/cli/draw.py", "running"),
    ("kb/cli/family_overview.py", "disputed"),
    ("kb/intake/models/statement.py", "disputed"),
    ("kb/publish/site/coverage/pages.py", "agreed"),
    ("kb/publish/site/reading/drawings.py", "running"),
    ("site/assets/job/screens/starter-timer.js", "cranking"),
    ("site/theme/family.html", "danger"),
}
"""Names of parts of an answer and of drawings, ids of rules, phases of a timer, classes of a page: no list's words."""
MODULES = sorted(path for path in (ROOT / "kb").rglob("*.py") if path.parent.name not in ("vocabulary", "vectors"))
SCRIPTS = sorted(
    path for path in ASSETS.rglob("*.js") if path.parent.name not in ("vendor", "bundled") and path.stem != "vocabulary"
)
PAGES = sorted((ROOT / "site" / "theme").rglob("*.html"))
_COMMENT = re.compile(r"/\*.*?\*/|(?<!:)//[^\n]*|{#.*?#}", re.S)
_QUOTED = re.compile(r"[\"'`]([\w-]+)[\"'`]")


def written(path: Path) -> Iterator[str]:
    """Every text that stands by itself in a module; not the examples of a rule, which are as a contributor types."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    examples = {
        id(inner)
        for node in ast.walk(tree)
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in ("Bad", "Good")
        for inner in ast.walk(node)
    }
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in examples:
            yield node.value


def quoted(path: Path) -> Iterator[str]:
    """Every word in quotes in a script or a template."""
    yield from _QUOTED.findall(_COMMENT.sub("", path.read_text(encoding="utf-8")))


def found() -> set[tuple[str, str]]:
    """Every word of the vocabulary that stands by itself in code, with its file."""
    texts = [(path, written(path)) for path in MODULES] + [(path, quoted(path)) for path in (*SCRIPTS, *PAGES)]
    return {(path.relative_to(ROOT).as_posix(), word) for path, said in texts for word in WORDS.intersection(said)}


def test_no_word_stands_by_itself_in_the_code() -> None:
    assert found() == NO_VALUES


def test_the_browsers_script_is_as_the_vocabulary_has_it() -> None:
    assert (ASSETS / "vocabulary.js").read_text(encoding="utf-8") == browser_vocabulary(), "make golden writes it anew"


def test_what_the_browsers_script_holds_is_used() -> None:
    exported = set(re.findall(r"^export const (\w+)", browser_vocabulary(), re.M))
    imports = "".join(
        names
        for path in SCRIPTS
        for names in re.findall(r'import \{([^}]*)\} from "[./]*vocabulary\.js"', path.read_text(encoding="utf-8"))
    )
    assert exported == set(re.findall(r"\w+", imports))


@pytest.mark.parametrize("words", WordList.__subclasses__(), ids=lambda words: words.__name__)
def test_a_list_names_each_word_once(words: type[WordList]) -> None:
    assert len(set(words.words)) == len(words.words) > 1
