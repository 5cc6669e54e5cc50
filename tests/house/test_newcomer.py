"""A newcomer's changes, each made by hand in a scratch copy of the tree: how many files it takes, and that it works.

What is generated follows by ``make golden``'s commands and is not counted. A field that other programs may count on has
a line in ``schema/published/page.json`` too, which is a promise and is made on purpose. Printed with ``-s``.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path

import pytest

from tests.support.scratch import Edit, Scratch

RULE: Mapping[str, Edit] = {
    "kb/intake/rules/name_in_capitals.py": '''\
"""A name is written as on the cowl, not in capitals."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.facts.rule_context import FileCase
from kb.intake.rules import Bad, Good, Rule


def check(case: FileCase) -> Iterator[Slip]:
    """A name without a small letter."""
    if str(case.document.get("name", "")).isupper():
        yield Slip(("name",), "the name is in capitals", "write it as on the cowl")


RULE = Rule(
    severity=Severity.WARNING,
    reads="file",
    summary="a name in capitals",
    why="it hurts the eye",
    bad=(Bad("name: EXAMPLE", where="EXAMPLE"),),
    good=(Good("name: Example"),),
    check=check,
)
'''
}

DIMENSION: Mapping[str, Edit] = {
    "kb/quantity/unit.py": (
        ('    VOLTAGE = "voltage"\n', '    VOLTAGE = "voltage"\n    VISCOSITY = "viscosity"\n'),
        (
            '    Unit("V", _D.VOLTAGE, "V", "volt", "V"),\n',
            '    Unit("V", _D.VOLTAGE, "V", "volt", "V"),\n'
            '    Unit("cSt", _D.VISCOSITY, "cSt", "centistokes", "cSt"),\n',
        ),
    ),
    "specs/catalogue/gear-oil-viscosity.yaml": """\
label: Gear oil viscosity
about: How thick the oil of the gearcase is at 100 degrees Celsius.
dimension: viscosity
units: [cSt]
states: [at-rest]
hazard: C
aim: middle
safest_end: none
job_order: 999
example: {cSt: 16}
""",
}

FORM: Mapping[str, Edit] = {
    "kb/publish/sheet/csv.py": '''\
"""The sheet's targets as comma-separated values, for a spreadsheet."""

from __future__ import annotations

from kb.publish.sheet.record import Sheet


def sheet_csv(sheet: Sheet) -> str:
    """One line a target."""
    return "figure,set to\\n" + "".join(f"{one.given.label},{one.set_to}\\n" for one in sheet.targets)
''',
    "kb/cli/sheet.py": (
        (
            'add_output(command, "html", "markdown", "pdf", "json")',
            'add_output(command, "html", "markdown", "pdf", "json", "csv")',
        ),
        (
            '        case "pdf":\n',
            '        case "csv":\n            from kb.publish.sheet.csv import sheet_csv\n\n'
            '            return sheet_csv(sheet)\n        case "pdf":\n',
        ),
    ),
}

FIELD: Mapping[str, Edit] = {
    "kb/intake/models/family.py": (
        (
            "    also_called: list[Text] | None",
            '    nickname: Text | None = Field(None, description="Its name in the shed.", examples=["Old Tom"])\n'
            "    also_called: list[Text] | None",
        ),
    ),
    "kb/publish/site/family/document.py": (
        (
            '        "also_called": [',
            '        "nickname": line(document.get("nickname", "")),\n        "also_called": [',
        ),
    ),
    "site/theme/family.html": (
        (
            "{% if also_called %}",
            "{% if page.nickname %}\n<p>Known as {{ page.nickname }}</p>\n{% endif %}\n{% if also_called %}",
        ),
    ),
}


def a_rule_finds(scratch: Scratch) -> None:
    scratch.add("ostmere/dunlin-6-7", "name: Dunlin 6.7", "name: DUNLIN 6.7")
    assert "(name-in-capitals)" in scratch.run("kb.cli", "check", "--specs", "specs")
    assert "a name in capitals" in scratch.run("kb.cli", "rule", "name-in-capitals").lower()


def a_figure_is_shown(scratch: Scratch) -> None:
    stated = "  gear-oil-viscosity:\n    - {cSt: 16, source: ostmere-handbook-e2, page: 22}\n"
    scratch.add("ostmere/dunlin-6-7", "figures:\n", f"figures:\n{stated}")
    scratch.run("kb.intake.json_schema", "specs", "schema")
    assert '"cSt"' in (scratch.place / "schema" / "family.json").read_text(encoding="utf-8")
    assert "nothing found" in scratch.run("kb.cli", "check", "--specs", "specs")
    shown = scratch.run("kb.cli", "show", "--specs", "specs", "ostmere/dunlin-6-7", "gear-oil-viscosity")
    assert "16 cSt" in shown


def a_form_is_written(scratch: Scratch) -> None:
    out = scratch.place / "ketch.csv"
    scratch.run("kb.cli", "sheet", "--specs", "specs", "skerrow/ketch-47", "--out", str(out))
    assert out.read_text(encoding="utf-8").startswith("figure,set to\n")


def a_field_is_on_the_page(scratch: Scratch) -> None:
    scratch.add("ostmere/dunlin-6-7", "name: Dunlin 6.7\n", "name: Dunlin 6.7\nnickname: Little Tom\n")
    assert "nothing found" in scratch.run("kb.cli", "check", "--specs", "specs")
    scratch.run("kb.cli", "site", "build", "--specs", "specs", "--out", "built")
    page = (scratch.place / "built" / "families" / "ostmere" / "dunlin-6-7" / "index.html").read_text(encoding="utf-8")
    assert "Known as Little Tom" in page


@pytest.mark.parametrize(
    ("what", "edits", "files", "works"),
    [
        ("a rule", RULE, 1, a_rule_finds),
        ("a kind of figure with a new dimension", DIMENSION, 2, a_figure_is_shown),
        ("a form of the sheet", FORM, 2, a_form_is_written),
        ("a field of a family that its page shows", FIELD, 3, a_field_is_on_the_page),
    ],
    ids=["rule", "dimension", "form", "field"],
)  # what it takes to rename a state is held in test_rename.py
def test_a_newcomers_change(
    what: str, edits: Mapping[str, Edit], files: int, works: Callable[[Scratch], None], tmp_path: Path
) -> None:
    scratch = Scratch(tmp_path / "tree")
    scratch.change(edits)
    works(scratch)
    print(f"{what}: {len(edits)} files by hand")
    assert len(edits) == files
