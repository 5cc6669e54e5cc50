"""What it takes to add something: one hand-written file; all that is made from it follows by itself."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from kb.book.model.family import FigureKind
from kb.intake.check.whole_book import check_files, make_context
from kb.intake.compiling import book_in_memory
from kb.intake.json_schema import schemas
from tests.support.example_book import example_book
from tests.support.folders import ROOT

FAMILY = """\
name: Third 9
maker: pellwater
invented: true
engine: {cycle: two-stroke, cylinders: 1, power: {hp: 9}}
ignition: {type: breaker-magneto}
figures:
  breaker-gap:
    - {mm: 0.35, source: leaflet, page: 3}
"""

FIGURE = """\
label: Choke plate gap
about: How far the choke plate stands open with its knob in.
dimension: length
units: [mm, in]
states: [at-rest]
hazard: C
aim: middle
safest_end: none
job_order: 999
example: {mm: 0.5}
"""

RULE = '''
"""A name may not be shouted."""
from kb.finding import Severity, Slip
from kb.intake.rules import Bad, Good, Rule

def check(case):
    if str(case.document.get("name", "")).isupper():
        yield Slip(("name",), "the name is in capitals", "write it as on the cowl")

RULE = Rule(Severity.WARNING, "file", "a name in capitals", "it hurts the eye",
            bad=(Bad("name: EXAMPLE", where="EXAMPLE"),), good=(Good("name: Example"),), check=check)
'''

PROGRAM = """
import sys
import kb.intake.rules
kb.intake.rules.__path__.append(sys.argv[1])
from kb.intake.check.whole_book import check_files
from tests.support.example_book import lay
from kb.intake.rules import Bad
print(*(found.rule for found in check_files(lay(Bad("name: EXAMPLE", where="EXAMPLE")))))
"""


def test_a_family_is_one_file() -> None:
    files = {**example_book(), "families/pellwater/third.yaml": FAMILY.encode()}
    assert check_files(files) == []
    book = book_in_memory(files)
    assert book.look_up("pellwater/third", "breaker-gap").printed == "0.35 mm"
    assert book.find("third 9")[0].family == "pellwater/third"


def test_a_source_is_one_file() -> None:
    source = b"invented: true\nkind: plate\ntitle: Plate under the cowl\nseen: photograph\n"
    files = {**example_book(), "sources/under-the-cowl.yaml": source}
    assert [found.rule for found in check_files(files)] == ["source-unused"]  # until a family cites it


def test_a_kind_of_figure_is_one_file_and_the_schema_follows() -> None:
    stated = "  choke-plate-gap:\n    - {mm: 0.5, source: leaflet, page: 3}\n"
    files = {
        **example_book(),
        "catalogue/choke-plate-gap.yaml": FIGURE.encode(),
        "families/pellwater/third.yaml": (FAMILY + stated).encode(),
    }
    assert check_files(files) == []
    assert book_in_memory(files).look_up("pellwater/third", "choke-plate-gap").printed == "0.5 mm"
    catalogue: dict[str, FigureKind] = dict(make_context(files, files.__getitem__).figures)
    assert '"choke-plate-gap"' in str(schemas(catalogue)["family"]).replace("'", '"')


def test_a_rule_is_one_file(tmp_path: Path) -> None:
    (tmp_path / "name_shouted.py").write_text(RULE)
    ran = subprocess.run(
        [sys.executable, "-c", PROGRAM, str(tmp_path)], capture_output=True, text=True, check=True, cwd=ROOT
    )
    assert ran.stdout.split() == ["name-shouted"]
