"""The house: who may import whom. Floors of the design; inside a room the order written in its docstring holds."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.house.plan import GUIDE, PICTURE, guide, order_of, picture, rooms
from tests.support.folders import ROOT

KB = ROOT / "kb"
FLOORS = {room.name: room.floor for room in rooms()}
MODULES = sorted(path for path in KB.rglob("*.py"))
PUBLIC = {"kb"}  # the public list itself may be imported by the command line


def module_name(path: Path) -> str:
    parts = path.relative_to(ROOT).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def imports(path: Path) -> Iterator[str]:
    """Every module of ours that a file imports, anywhere in it, absolute or relative."""
    package = module_name(path).split(".")
    if path.name != "__init__.py":
        package = package[:-1]
    for node in ast.walk(ast.parse(path.read_text())):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names if alias.name.split(".")[0] == "kb")
        elif isinstance(node, ast.ImportFrom):
            base = node.module or ""
            if node.level:
                base = ".".join([*package[: len(package) - node.level + 1], *([base] if base else [])])
            if base.split(".")[0] == "kb":
                for alias in node.names:
                    deeper = f"{base}.{alias.name}"
                    is_module = (ROOT / Path(*deeper.split("."))).with_suffix(".py").exists() or (
                        ROOT / Path(*deeper.split("."))
                    ).is_dir()
                    yield deeper if is_module else base


def room(module: str) -> str:
    return module.split(".")[1] if "." in module else ""


@pytest.mark.parametrize("path", MODULES, ids=lambda path: path.relative_to(KB).as_posix())
def test_imports_go_downward(path: Path) -> None:
    here = module_name(path)
    if here == "kb":
        return  # the public list stands outside and imports lazily; its own test reads it
    floor = FLOORS[room(here)]
    for target in imports(path):
        if target in PUBLIC:
            assert room(here) == "cli", f"{here} imports the public list"
            continue
        other = room(target)
        if other == room(here):
            continue
        assert FLOORS[other] < floor or (floor == 0 and other in ("errors", "frozen")), f"{here} imports {target}"
    if room(here) == "errors":
        assert not list(imports(path))


UNORDERED = {"", "intake/rules"}
"""The public list, and the rules, of which none knows another."""
PACKAGES = sorted({path.parent.relative_to(KB).as_posix().removeprefix(".") for path in MODULES} - UNORDERED)


@pytest.mark.parametrize("package", PACKAGES)
def test_the_order_inside_a_room_holds(package: str) -> None:
    """A file imports only files that stand before it; imports inside functions are read too."""
    folder = KB / package
    names = order_of(folder)
    here = module_name(folder / "__init__.py")
    present = {entry.stem for entry in folder.iterdir() if entry.name != "__init__.py" and entry.suffix == ".py"}
    present |= {entry.name for entry in folder.iterdir() if (entry / "__init__.py").exists()}
    assert present == set(names), "the docstring names every file of the room"
    for entry in names:
        files = (
            [folder / f"{entry}.py"] if (folder / f"{entry}.py").exists() else sorted((folder / entry).rglob("*.py"))
        )
        for path in files:
            for target in imports(path):
                if target.startswith(here + "."):
                    other = target.removeprefix(here + ".").split(".")[0]
                    if other in names and other != entry:
                        assert names.index(other) < names.index(entry), (
                            f"{entry} imports {other}, which stands after it"
                        )


def test_no_rule_knows_another() -> None:
    for path in (KB / "intake" / "rules").glob("*.py"):
        assert not [name for name in imports(path) if name.startswith("kb.intake.rules.")], path.name


@pytest.mark.parametrize("package", [one for one in PACKAGES if one.split("/")[0] in ("book", "intake", "quantity")])
def test_a_room_holds_at_most_a_dozen_files(package: str) -> None:
    assert len(order_of(KB / package)) <= 12


def test_the_guide_shows_the_floors_as_they_are() -> None:
    found = rooms()
    text = GUIDE.read_text(encoding="utf-8")
    assert guide(text, found) == text, "DEVELOPERS.md is stale; run: make golden"
    assert PICTURE.read_text(encoding="utf-8") == picture(found), "the picture is stale; run: make golden"


@pytest.mark.parametrize("path", MODULES, ids=lambda path: path.relative_to(KB).as_posix())
def test_modules_are_short(path: Path) -> None:
    """A module holds one idea; past this length, look whether it holds two."""
    assert len(path.read_text().splitlines()) <= 300


def test_the_top_level_holds_what_the_design_names() -> None:
    allowed = {
        "README.md",
        "DEVELOPERS.md",
        "LICENSE",
        "Makefile",
        "pyproject.toml",
        "specs",
        "schema",
        "kb",
        "site",
        "tests",
    }
    built = {"build", "dist"}
    assert {entry.name for entry in ROOT.iterdir() if not entry.name.startswith(".")} <= allowed | built
