"""A word is renamed in a scratch copy, in the vocabulary and in the data, and everything works by its new name.

What is generated follows by ``make golden``'s commands. By hand one file of the code changes; the examples of rules and
of reading pages are prose, show the word that they were written with, and are left as they are here.
"""

from __future__ import annotations

import json
import re
import subprocess
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest

from kb.cli.commands import DOES
from tests.support.node import NODE
from tests.support.scratch import Scratch

STATE = "spinning"
COMMANDS: Mapping[str, str] = {
    "check": "check --specs specs --strict",
    "compile": "compile --specs specs --out made.book",
    "show": f"show BOOK skerrow/ketch-47 max-advance --state {STATE} --serial 301455",
    "find": "find BOOK ketch 47",
    "job": "job BOOK skerrow/ketch-47",
    "deadcentre": "deadcentre skerrow/ketch-47 31 before 27 after BOOK",
    "aim": f"aim BOOK skerrow/ketch-47 max-advance --state {STATE} --serial 301455 --margin 1",
    "judge": f"judge BOOK skerrow/ketch-47 max-advance 26before --state {STATE} --serial 301455",
    "turn": f"turn BOOK skerrow/ketch-47 max-advance --state {STATE} --serial 301455 0 26 before 1 25 before",
    "piston": "piston BOOK skerrow/ketch-47 24 before",
    "rim": "rim BOOK skerrow/ketch-47 19 before",
    "cylinders": "cylinders BOOK skerrow/ketch-47",
    "plates": "plates 12 13",
    "compression": "compression BOOK skerrow/ketch-47 110 122 118 --unit psi",
    "premix": "premix BOOK skerrow/ketch-47 6 L",
    "rpm": "rpm --hertz 250 --pulses 3",
    "sheet": "sheet BOOK skerrow/ketch-47 --serial 301455 --format markdown",
    "draw": "draw BOOK skerrow/ketch-47 running --serial 301455 --format json",
    "tape": "tape BOOK skerrow/ketch-47 --out tape.svg",
    "rule": "rule correction-missing",
    "completion": "completion bash",
    "site": "site build BOOK --out built",
}
"""Every command, each asked what the state bears on where it can; compiling comes before what reads a compiled book."""

DRIVER = """
import contextlib, io, json, sys
import kb
from kb.cli import main
from kb.publish.site.build import Builder
from kb.publish.site.family.document import family_page

asked, kept = json.load(open("asked.json")), {}
for name, line in asked.items():
    said = io.StringIO()
    with contextlib.redirect_stdout(said), contextlib.redirect_stderr(said):
        try:
            code = main(line.replace("BOOK", "--book made.book").split())
        except SystemExit as end:
            code = end.code
    kept[name] = [code or 0, said.getvalue()]
builder = Builder(kb.open_book("made.book"))
page = family_page(kb.open_book("made.book"), "skerrow/ketch-47")
json.dump({"commands": kept, "page": page, "shared": builder.shared, "template": builder.source}, sys.stdout)
"""

LOOKING = """
import json, kb
with kb.open_book("specs") as book:
    answer = book.look_up("skerrow/ketch-47", "idle-speed", serial=301455, drive="engaged")
    families = book.families(linkage="cam-off-at-idle")
    print(json.dumps([answer.conditions, families, book.job("skerrow/ketch-47").name]))
"""

BROWSER = """
import { readFileSync } from "node:fs";
const { page, shared, template } = JSON.parse(readFileSync(process.argv[2], "utf8"));
const { draw, readTemplate } = await import("ASSETS/family/template.js");
const { view } = await import("ASSETS/family/view.js");
const { figureChoice } = await import("ASSETS/bench/family-fields.js");
const { settableStates } = await import("ASSETS/job/screens/engine-form.js");
const { State } = await import("ASSETS/vocabulary.js");
const state = State.CRANKING;
const { readEntry } = await import("ASSETS/job/log/entries.js");
const entry = { id: "abcd1", job: "abcd2", at: "2026-03-02T14:05:00.000Z", kind: "engine", state };
console.log(JSON.stringify({
  page: draw(readTemplate(template), view(page, shared, { state, serial: "301455" })),
  aid: figureChoice(page, shared, { figure: "max-advance", serial: "301455" }).chosen.state,
  job: settableStates(page),
  entry: readEntry(entry).state,
}));
"""


def rename(scratch: Scratch, home: str, old: str, new: str) -> None:
    """Rename a word in its one place in the code and wherever it is a value or a key of the data."""
    scratch.change({home: ((f'= "{old}"\n', f'= "{new}"\n'),)})
    value = re.compile(rf"(?:(?<=[:,] )|(?<=\[)|(?<=- )){old}(?=\s*[,\]}}\n])|(?<=[{{ ]){old}(?=: )")
    for file in sorted((scratch.place / "specs").rglob("*.yaml")):
        file.write_text(value.sub(new, file.read_text(encoding="utf-8")), encoding="utf-8")


@pytest.fixture(scope="module")
def tree(tmp_path_factory: pytest.TempPathFactory) -> Scratch:
    scratch = Scratch(tmp_path_factory.mktemp("state") / "tree")
    rename(scratch, "kb/vocabulary/states.py", "cranking", STATE)
    scratch.run("kb.intake.json_schema", "specs", "schema")
    scratch.run("kb.publish.browser_vocabulary", "site/assets/vocabulary.js")
    return scratch


@pytest.fixture(scope="module")
def done(tree: Scratch) -> dict[str, Any]:
    (tree.place / "asked.json").write_text(json.dumps(COMMANDS), encoding="utf-8")
    (tree.place / "driver.py").write_text(DRIVER, encoding="utf-8")
    said: dict[str, Any] = json.loads(tree.run("driver"))
    return said


def test_every_command_is_asked() -> None:
    assert set(COMMANDS) == set(DOES)


@pytest.mark.parametrize("command", COMMANDS)
def test_a_command_works_by_the_new_word(command: str, done: Mapping[str, Any]) -> None:
    code, said = done["commands"][command]
    assert code == 0, said
    if "state" in COMMANDS[command] or command in ("sheet", "draw"):
        assert STATE in said


def test_the_check_and_the_help_know_the_new_word_alone(tree: Scratch, done: Mapping[str, Any]) -> None:
    assert "nothing found" in done["commands"]["check"][1]
    told = tree.run("kb.cli", "show", "--help")
    assert f"{{{STATE},running,static,at-rest}}" in told
    assert "cranking" not in told
    schema = (tree.place / "schema" / "family.json").read_text(encoding="utf-8")
    assert f'"{STATE}"' in schema
    assert '"cranking"' not in schema


def test_the_pages_bear_the_new_word(tree: Scratch, done: Mapping[str, Any]) -> None:
    assert done["commands"]["site"][0] == 0
    built = tree.place / "built"
    assert f"set while {STATE}" in (built / "families" / "skerrow" / "ketch-47" / "index.html").read_text("utf-8")
    assert f'value="{STATE}"' in (built / "bench" / "target" / "index.html").read_text("utf-8")
    assert STATE in (built / "figures" / "max-advance" / "index.html").read_text("utf-8")
    assert f'"{STATE}"' in (built / "worker.js").read_text("utf-8")


def test_the_browser_works_by_the_new_word(tree: Scratch, done: Mapping[str, Any], tmp_path: Path) -> None:
    given, script = tmp_path / "given.json", tmp_path / "browser.mjs"
    given.write_text(json.dumps(done), encoding="utf-8")
    script.write_text(BROWSER.replace("ASSETS", (tree.place / "site" / "assets").as_uri()), encoding="utf-8")
    ran = subprocess.run([str(NODE), str(script), str(given)], capture_output=True, text=True, timeout=60, check=False)
    assert ran.returncode == 0, ran.stderr
    said = json.loads(ran.stdout)
    assert f"set while {STATE}" in said["page"]
    assert (said["aid"], said["entry"]) == (STATE, STATE)
    assert STATE in said["job"]


def test_the_check_and_look_ups_work_by_other_new_words(tmp_path: Path) -> None:
    scratch = Scratch(tmp_path / "tree")
    for home, old, new in (
        ("conditions", "gear", "drive"),
        ("conditions", "in-gear", "engaged"),
        ("engine", "cam-clear-at-idle", "cam-off-at-idle"),
    ):
        rename(scratch, f"kb/vocabulary/{home}.py", old, new)
    assert "nothing found" in scratch.run("kb.cli", "check", "--specs", "specs", "--strict")
    (scratch.place / "looking.py").write_text(LOOKING, encoding="utf-8")
    conditions, families, job = json.loads(scratch.run("looking"))
    assert conditions == "engaged"
    assert "skerrow/ketch-47" in families
    assert job == "Spark and throttle, cam clear at idle"
