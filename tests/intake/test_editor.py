"""A real editor's server reads the schemas: what it offers at a cursor, says of a key, and marks in a file.

The server is a package of npm, pinned in ``tests/editor``; Node comes with a package of Python.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import count
from typing import Any

import pytest

from kb.intake.json_schema.__main__ import main as write_schemas
from tests.intake.test_json_schema import class_names
from tests.support.editor_tables import HEAD, HOVERS, MARKS, MAX, POSITIONS
from tests.support.folders import FROZEN
from tests.support.language_server import HOME, LanguageServer, install, language_server
from tests.support.samples import THOROUGH
from tests.support.schema_files import book_files, kind_of

NUMBERS = count(1)


@pytest.fixture(scope="module")
def server() -> Iterator[LanguageServer]:
    if why_not := install():
        pytest.skip(why_not)
    (HOME / "schema").mkdir(exist_ok=True)
    assert write_schemas([str(FROZEN), str(HOME / "schema")]) == 0
    with language_server() as running:
        yield running


def opened(server: LanguageServer, kind: str, text: str) -> str:
    """Open a text as a new file of a kind in a book that only the editor holds; its address."""
    folders = {"family": "families/skerrow", "figure": "catalogue", "report": "reports/skerrow/ketch-47"}
    folder = folders.get(kind, f"{kind}s")
    uri = (HOME / "specs" / folder / f"open-{next(NUMBERS)}.yaml").as_uri()
    up = "../" * (folder.count("/") + 2)
    server.open(uri, f"# yaml-language-server: $schema={up}schema/{kind}.json\n{text}")
    return uri


def offered(server: LanguageServer, kind: str, text: str) -> list[dict[str, Any]]:
    """What is offered where ``|`` stands in the text."""
    before, _, after = text.partition("|")
    uri = opened(server, kind, before + after)
    items = server.at("completion", uri, before.count("\n") + 1, len(before.rpartition("\n")[2]))["items"]
    assert all(unclean(item) == [] for item in items)
    return list(items)


def unclean(item: dict[str, Any]) -> list[str]:
    """What is wrong with one thing offered: machinery that shows, or a figure that would be typed by itself."""
    label, typed = item["label"], item.get("insertText", "")
    faults = []
    if re.search(r"object|undefined|\bnull\b", label) or "null" in typed or "[object" in typed:
        faults.append(f"machinery: {label}")
    if label in class_names() or item.get("kind") == 7:  # 7 is a class: everything required at once, under its name
        faults.append(f"a class: {label}")
    if re.search(r"\$\{\d+:", typed) and label != "tdc":
        faults.append(f"typed for the contributor: {typed}")
    return faults


@pytest.mark.parametrize("about", POSITIONS)
def test_exactly_this_is_offered(server: LanguageServer, about: str) -> None:
    kind, text, expected = POSITIONS[about]
    assert [item["label"] for item in offered(server, kind, text)] == expected


def test_a_key_comes_with_what_it_is(server: LanguageServer) -> None:
    items = {item["label"]: item for item in offered(server, "family", MAX + "    - |\n")}
    assert items["btdc"]["insertText"] == "btdc: "
    assert items["from"]["insertText"].split() == ["from:"]
    assert items["page"]["documentation"] == "The page."
    figures = {item["label"]: item for item in offered(server, "family", HEAD + "figures:\n  |\n")}
    assert figures["max-advance"]["documentation"]["value"].startswith("**Maximum spark advance**")


@pytest.mark.parametrize("about", HOVERS)
def test_what_is_said_of_a_key(server: LanguageServer, about: str) -> None:
    text, expected = HOVERS[about]
    before, _, after = text.partition("|")
    uri = opened(server, "family", before + after)
    said = server.at("hover", uri, before.count("\n") + 1, len(before.rpartition("\n")[2]))["contents"]["value"]
    places = [said.find(words) for words in expected]
    assert -1 not in places, said
    assert places == sorted(places)
    assert said.startswith(expected[0])
    assert not [name for name in class_names() if f"`{name}`" in said or f"# {name}" in said]


@pytest.mark.parametrize("about", MARKS)
def test_exactly_this_is_marked_where_it_stands(server: LanguageServer, about: str) -> None:
    text, expected = MARKS[about]
    marks = server.marks(opened(server, "family", text))
    lines = ["", *text.split("\n")]
    found = []
    for mark in marks:
        start, end = mark["range"]["start"], mark["range"]["end"]
        assert start["line"] == end["line"]
        found.append((lines[start["line"]][start["character"] : end["character"]], mark["message"]))
    assert found == expected


FILES = book_files()


def test_no_file_of_a_sound_book_is_marked(server: LanguageServer) -> None:
    marked = {}
    for file, text in FILES.items():
        assert text.startswith("# yaml-language-server: $schema="), file
        server.open((HOME / "specs" / file).as_uri(), text)
    for file in FILES:
        if marks := server.marks((HOME / "specs" / file).as_uri()):
            marked[file] = marks
    assert marked == {}


def _one_of_each_kind() -> dict[str, str]:
    longest_first = sorted(FILES, key=lambda file: -len(FILES[file]))
    kinds = {kind_of(file): file for file in longest_first} | {"family": "families/skerrow/ketch-47.yaml"}
    return {kind: FILES[file] for kind, file in kinds.items()}


@pytest.mark.parametrize("kind", _one_of_each_kind())
def test_nothing_unclean_is_offered_anywhere(server: LanguageServer, kind: str) -> None:
    text = _one_of_each_kind()[kind]
    lines = text.split("\n")
    uri = opened(server, kind, text.partition("\n")[2])
    places = [(number, len(lines[number])) for number in range(1, len(lines))]
    places += [(number, match.end()) for number, line in enumerate(lines) if (match := re.match(r"[\s-]+(?=\S)", line))]
    places += [(number, match.end()) for number, line in enumerate(lines) if (match := re.search(r": ?", line))]
    faults: set[str] = set()
    for line, character in places if THOROUGH else places[::4]:
        if line:
            items = server.at("completion", uri, line, character)["items"]
            faults.update(fault for item in items for fault in unclean(item))
    assert faults == set()
