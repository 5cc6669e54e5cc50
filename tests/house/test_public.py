"""The public list: what ``import kb`` promises, and that each of it is there."""

from __future__ import annotations

import ast
import importlib.metadata
import subprocess
import sys
from pathlib import Path

import pytest

import kb
import kb.errors
from kb.book.store.writing import write_store
from tests.support.asked_book import asked_book, asked_files

LIST = """
Aim Answer Book BookDamaged BookError BookForeign BookHasFaults BookMissing Cited ConditionNeeded ConditionNotFound
Correction DeadCentreTooFar Dimension Extrapolation Family FamilyNotFound FamilyRetired FigureDisputed
FigureDoesNotApply FigureKind FigureNotFound FigureNotStated FigureUnknown FigureWithdrawn Finding Fit Form
GeometryImpossible Hit Input Job JobStep Judged LookUpError Maker MarginTooWide NoCorrectionKnown NotAnAngle NotFinite
Number NumberNotPlain OddFire OnTheRim Order Place Quantity QuantityError Range ReadingsContradict Refusal
RoutineNotFound SerialFitsNone SerialNeeded SeveralFamilies Severity Side Source Standing StateNeeded StateNotFound
Statement Step StepNotFound StopscrewError Unit UnitsNotComparable UnknownUnit Verdict WhenRunning WindowInverted
Words YearFitsNone YearNeeded check_folder open_book read_value
"""
PUBLIC = LIST.split()
LOOK_UP = "b.look_up('skerrow/ketch-47', 'max-advance', 'cranking', serial=301455)"


def test_the_public_list_is_this() -> None:
    assert kb.__all__ == PUBLIC
    assert dir(kb) == PUBLIC


@pytest.mark.parametrize("name", PUBLIC)
def test_each_is_there_and_says_what_it_is(name: str) -> None:
    assert getattr(kb, name).__doc__


def test_the_version_is_that_of_the_installed_package() -> None:
    assert kb.__version__ == importlib.metadata.version("stopscrew")


def test_another_name_is_told() -> None:
    with pytest.raises(AttributeError, match="kb has no 'open_boook'; it has Aim, Answer, Book"):
        kb.__getattr__("open_boook")


def test_type_checkers_see_the_same_list() -> None:
    tree = ast.parse(Path(kb.__file__).read_text())
    imported = {alias.name for node in ast.walk(tree) if isinstance(node, ast.ImportFrom) for alias in node.names}
    defined = {node.name for node in tree.body if isinstance(node, ast.FunctionDef)}
    assert set(PUBLIC) <= imported | defined
    assert {name for names in kb._HOMES.values() for name in names} <= set(PUBLIC)


def test_every_error_of_a_look_up_is_public() -> None:
    of_look_ups = {
        name
        for name, kind in vars(kb.errors).items()
        if isinstance(kind, type) and issubclass(kind, (kb.BookError, kb.BookHasFaults, kb.LookUpError, kb.Refusal))
    }
    assert of_look_ups <= set(PUBLIC)


def test_the_demonstration_book_opens_from_anywhere(tmp_path: Path) -> None:
    root = Path(kb.__file__).parent.parent
    command = f"import sys; sys.path.insert(0, {str(root)!r}); import kb; b = kb.open_book(); print({LOOK_UP}.printed)"
    done = subprocess.run([sys.executable, "-c", command], cwd=tmp_path, capture_output=True, text=True, check=True)
    assert done.stdout == "24° BTDC\n"
    assert list(tmp_path.iterdir()) == []


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("specs")
    for file, raw in asked_files().items():
        path = folder / file
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(raw)
    return folder


def test_a_folder_and_a_compiled_file_open_alike(folder: Path, tmp_path: Path) -> None:
    write_store(tmp_path / "asked.book", asked_book())
    for path in (folder, str(folder), tmp_path / "asked.book", str(tmp_path / "asked.book")):
        with kb.open_book(path) as book:
            assert isinstance(book, kb.Book)
            answer = book.look_up("skerrow/example", "trigger-gap")
            assert isinstance(answer, kb.Answer)
            assert isinstance(answer.value, kb.Quantity)
            assert (answer.printed, answer.standing) == ("0.030 in", kb.Standing.SINGLE)


def test_a_folder_with_errors_opens_not_and_tells_them(folder: Path, tmp_path: Path) -> None:
    spoilt = tmp_path / "specs"
    for path in folder.rglob("*.yaml"):
        copy = spoilt / path.relative_to(folder)
        copy.parent.mkdir(parents=True, exist_ok=True)
        copy.write_bytes(path.read_bytes().replace(b"    - atdc: [4, 6]", b"    - atdc: [6, 4]"))
    words = r"1 error, so nothing is compiled; the first is at specs/families/skerrow/example.yaml:\d+:13: the first"
    with pytest.raises(kb.BookHasFaults, match=words) as raised:
        kb.open_book(spoilt)
    assert "window-inverted" in [found.rule for found in raised.value.findings if isinstance(found, kb.Finding)]
    assert "window-inverted" in [found.rule for found in kb.check_folder(spoilt)]


@pytest.mark.parametrize(
    ("name", "error", "words"),
    [
        ("none.book", kb.BookMissing, "there is no file .*none.book; give a compiled book, or a folder"),
        ("empty", kb.BookMissing, "holds no families"),
        ("text.book", kb.BookForeign, "is not a compiled book; stopscrew compile makes one"),
    ],
)
def test_what_is_no_book(name: str, error: type[kb.BookError], words: str, tmp_path: Path) -> None:
    (tmp_path / "empty").mkdir()
    (tmp_path / "text.book").write_text("name: Ketch 47\n")
    with pytest.raises(error, match=words):
        kb.open_book(tmp_path / name)
