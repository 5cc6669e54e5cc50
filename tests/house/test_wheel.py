"""The wheel by itself: installed into an empty environment it answers with no other file."""

from __future__ import annotations

import os
import subprocess
import sys
import sysconfig
import tomllib
import venv
import zipfile
from pathlib import Path

import pytest

from tests.support.folders import ROOT, SITE, SPECS

MOST, BLOCK = 30_000_000, 4096
"""Bytes: what a plain install may take beside pip, and of a block of the disk."""

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


SHEETS = ("leaf.css", "leaf.html", "leaf.typ", "page.css", "page.html", "sheet.typ")


def test_what_the_wheel_holds(wheel: Path) -> None:
    names = zipfile.ZipFile(wheel).namelist()
    assert "kb/shipped.book" in names
    assert "kb/py.typed" in names
    assert {f"kb/publish/sheet/{name}" for name in SHEETS} <= set(names)
    assert not [name for name in names if name.startswith(("tests", "specs", "site"))]
    site = [file.relative_to(SITE).as_posix() for file in SITE.rglob("*") if file.is_file()]
    held = {name.removeprefix("kb/publish/site/sources/") for name in names if "/sources/" in name}
    left_out = ("pictures/", "biome.jsonc")  # those are the README's; that one is for `make check`
    wanted = {name for name in site if not name.startswith(left_out)}
    assert {name for name in held if not name.startswith("schema/")} == wanted


@pytest.fixture(scope="module")
def home(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A plain install: an empty environment with the wheel and what it brings, and nothing else."""
    home = tmp_path_factory.mktemp("plain") / "home"
    venv.create(home, with_pip=False)
    run(sys.executable, "-m", "pip", "--python", scripts(home) / "python", "install", "--quiet", wheel)
    return home


def scripts(home: Path) -> Path:
    """Where an environment keeps its commands."""
    return Path(sysconfig.get_path("scripts", "venv", {"base": str(home), "platbase": str(home)}))


def run(*words: str | Path, cwd: Path | None = None, code: int = 0) -> str:
    """What a command prints, and says; the source tree, which a tester's PYTHONPATH may name, is out of its reach."""
    plain = {name: value for name, value in os.environ.items() if name != "PYTHONPATH"}
    ran = subprocess.run(words, capture_output=True, text=True, check=False, cwd=cwd, env=plain)
    assert ran.returncode == code, ran.stdout + ran.stderr
    return ran.stdout + ran.stderr


def test_the_installed_wheel_answers(home: Path, tmp_path: Path) -> None:
    printed, _, rest = run(scripts(home) / "python", "-c", PROGRAM, cwd=tmp_path).partition(" 28 True ")
    assert printed == "24° BTDC"
    assert str(home) in rest
    assert "0.030 in" in run(scripts(home) / "stopscrew", "show", "skerrow/ketch-47", "trigger-gap", cwd=tmp_path)
    assert not list(tmp_path.iterdir())


def test_the_version_stands_in_one_place(home: Path) -> None:
    version = tomllib.loads((ROOT / "pyproject.toml").read_text())["project"]["version"]
    assert run(scripts(home) / "stopscrew", "--version") == f"stopscrew {version}\n"
    assert run(scripts(home) / "python", "-c", "import kb; print(kb.__version__)") == f"{version}\n"
    held = [file for file in (ROOT / "kb").rglob("*.py") if version in file.read_text()]
    assert held == []


def test_a_plain_install_checks_and_compiles(home: Path, tmp_path: Path) -> None:
    command: list[str | Path] = [scripts(home) / "stopscrew", "compile", "--specs", SPECS, "--out", "own.book"]
    assert " families" in run(*command, cwd=tmp_path)


@pytest.mark.parametrize(("command", "extra"), [("site build", "site"), ("sheet skerrow/ketch-47", "paper")])
def test_a_plain_install_names_the_extra(command: str, extra: str, home: Path, tmp_path: Path) -> None:
    said = run(scripts(home) / "stopscrew", *command.split(), cwd=tmp_path, code=2)
    assert said.endswith(f"; type: pip install 'stopscrew[{extra}]'\n")
    assert said.count("\n") == 1


def test_a_plain_install_is_small(home: Path) -> None:
    """With all that it brings and every file rounded up to a block of the disk; pip is not in it."""
    packages = Path(sysconfig.get_path("purelib", "venv", {"base": str(home), "platbase": str(home)}))
    brought = {entry.name for entry in packages.iterdir()}
    assert {"kb", "yaml", "pydantic", "ruamel", "jsonschema", "argcomplete"} <= brought
    assert not {"pip", "setuptools", "mkdocs", "jinja2", "typst", "segno"} & brought
    sizes = [file.stat().st_size for file in packages.rglob("*") if file.is_file()]
    size = sum(-(-size // BLOCK) * BLOCK for size in sizes)
    print(f"a plain install: {size / 1e6:.1f} MB in {len(sizes)} files")
    assert size <= MOST


def test_the_wheel_builds_the_site(wheel: Path, tmp_path: Path) -> None:
    with zipfile.ZipFile(wheel) as packed:
        packed.extractall(tmp_path / "unpacked")
    run(sys.executable, "-m", "kb.cli", "site", "build", "--out", "site", cwd=tmp_path / "unpacked")
    site = tmp_path / "unpacked" / "site"
    for name in (
        "read/what/index.html",
        "rules/tag/index.html",
        "schema/page.json",
        "families/skerrow/ketch-47/index.html",
    ):
        assert (site / name).is_file(), name
