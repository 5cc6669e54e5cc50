"""The wheel by itself: installed into an empty environment it answers with no other file."""

from __future__ import annotations

import subprocess
import sys
import sysconfig
import venv
import zipfile
from pathlib import Path

import pytest

from tests.support.folders import ROOT, SITE

PROGRAM = """
import kb
book = kb.open_book()
answer = book.look_up("skerrow/ketch-47", "max-advance", "cranking", serial=301455)
print(answer.printed, len(book.family_ids()), answer.invented, kb.__file__)
"""


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A wheel built from the source distribution, as anyone else would; with the tests' own tools, to save time."""
    folder = tmp_path_factory.mktemp("wheel")
    build = [sys.executable, "-m", "build", "--no-isolation", "--outdir", str(folder), str(ROOT)]
    ran = subprocess.run(build, capture_output=True, text=True, check=False)
    assert ran.returncode == 0, ran.stdout + ran.stderr
    return next(folder.glob("*.whl"))


def test_what_the_wheel_holds(wheel: Path) -> None:
    names = zipfile.ZipFile(wheel).namelist()
    assert "kb/shipped.book" in names
    assert "kb/py.typed" in names
    assert {f"kb/publish/sheet/{name}" for name in ("page.html", "page.css", "sheet.typ")} <= set(names)
    assert not [name for name in names if name.startswith(("tests", "specs", "site"))]
    site = [file.relative_to(SITE).as_posix() for file in SITE.rglob("*") if file.is_file()]
    held = {name.removeprefix("kb/publish/site/sources/") for name in names if "/sources/" in name}
    wanted = {name for name in site if not name.startswith("pictures/")}  # those are the README's
    assert {name for name in held if not name.startswith("schema/")} == wanted


def test_the_installed_wheel_answers(wheel: Path, tmp_path: Path) -> None:
    home = tmp_path / "home"
    venv.create(home, with_pip=False)
    scripts = Path(sysconfig.get_path("scripts", "venv", {"base": str(home), "platbase": str(home)}))
    python = scripts / "python"
    # nothing but the wheel: a look-up needs no other package
    install = [sys.executable, "-m", "pip", "--python", str(python), "install", "--no-deps", "--no-index", str(wheel)]
    subprocess.run(install, capture_output=True, check=True)
    ran = subprocess.run([python, "-c", PROGRAM], capture_output=True, text=True, check=True, cwd=tmp_path)
    printed, _, rest = ran.stdout.partition(" 28 True ")
    assert printed == "24° BTDC"
    assert str(home) in rest
    shown = subprocess.run(
        [scripts / "stopscrew", "show", "skerrow/ketch-47", "trigger-gap"],
        capture_output=True,
        text=True,
        check=True,
        cwd=tmp_path,
    )
    assert "0.030 in" in shown.stdout
    assert [entry.name for entry in tmp_path.iterdir()] == ["home"]


def test_the_wheel_builds_the_site(wheel: Path, tmp_path: Path) -> None:
    with zipfile.ZipFile(wheel) as packed:
        packed.extractall(tmp_path / "unpacked")
    command = [sys.executable, "-m", "kb.cli", "site", "build", "--out", "site"]
    ran = subprocess.run(command, cwd=tmp_path / "unpacked", capture_output=True, text=True, check=False)
    assert ran.returncode == 0, ran.stdout + ran.stderr
    site = tmp_path / "unpacked" / "site"
    for name in (
        "read/what/index.html",
        "rules/tag/index.html",
        "schema/page.json",
        "families/skerrow/ketch-47/index.html",
    ):
        assert (site / name).is_file(), name
