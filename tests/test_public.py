"""What the package promises to programs, and that a look-up stays light."""

from __future__ import annotations

import subprocess
import sys

import pytest

import kb

PUBLIC = [
    "Answer", "Book", "BookDamaged", "BookError", "BookForeign", "BookHasFaults", "BookMissing", "Cited",
    "ConditionNeeded", "ConditionNotFound", "Correction", "Dimension", "Extrapolation", "Family", "FamilyNotFound",
    "FamilyRetired", "FigureDisputed", "FigureDoesNotApply", "FigureKind", "FigureNotFound", "FigureNotStated",
    "FigureUnknown", "FigureWithdrawn", "Finding", "Fit", "Form", "GeometryImpossible", "Hit", "Input",
    "LookUpError", "Maker", "NoCorrectionKnown", "Number", "NumberNotPlain", "Order", "Place", "Quantity",
    "QuantityError", "Range", "Refusal", "SerialFitsNone", "SerialNeeded", "SeveralFamilies", "Severity", "Side",
    "Source", "Standing", "StateNeeded", "StateNotFound", "Statement", "Step", "StopscrewError", "Unit",
    "UnitsNotComparable", "UnknownUnit", "WindowInverted", "Words", "YearFitsNone", "YearNeeded", "check_folder",
    "open_book", "read_value",
]  # fmt: skip
HEAVY = ("pydantic", "pydantic_core", "yaml", "mkdocs", "rich", "jinja2", "ruamel", "jsonschema")


def test_the_public_list() -> None:
    assert kb.__all__ == PUBLIC
    assert dir(kb) == PUBLIC


@pytest.mark.parametrize("name", PUBLIC)
def test_every_public_name_is_there_and_documented(name: str) -> None:
    assert getattr(kb, name).__doc__


def test_another_name_is_told() -> None:
    with pytest.raises(AttributeError, match="kb has no 'open_boook'; it has Answer"):
        kb.__getattr__("open_boook")


@pytest.mark.parametrize(
    "words",
    [
        "show skerrow/ketch-47 max-advance --state cranking --serial 301455",
        "show skerrow/ketch-47",
        "find ketch 47",
        "show skerrow/ketch-48",
        "--help",
    ],
)
def test_a_cold_look_up_imports_nothing_heavy(words: str) -> None:
    """In a process of its own, on the compiled book."""
    kb.open_book()  # so that the compiled book is there
    program = (
        "import sys\nfrom kb.cli import main\n"
        f"try: main({words.split()!r})\nexcept SystemExit: pass\n"
        f"print('HEAVY', [name for name in {HEAVY!r} if name in sys.modules])"
    )
    ran = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert ran.stdout.splitlines()[-1] == "HEAVY []"
