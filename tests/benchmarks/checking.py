"""Checking ten thousand families: all, after no change, after one, with a slip in each; beside check-jsonschema."""

from __future__ import annotations

import random
import shutil
import sys
import time
from collections.abc import Iterator, Sequence
from pathlib import Path

from tests.benchmarks.compiling import ALONE, UNTIL_TRUSTED
from tests.benchmarks.generate import MAKERS, SERIES, family_name, maker_id, spoil, write_book
from tests.benchmarks.measure import HOME, Row, best_of, how_often, in_milliseconds, processor_time, start_row
from tests.npm import NotBrought
from tests.support.folders import SCHEMA

SAMPLE = 300  # files given to check-jsonschema, which needs minutes for all
_PINS = ("check-jsonschema==0.39.0", "ruamel.yaml==0.19.1")
_C_PART = ("ruamel.yaml.clib==0.2.15",)  # what its ``YAML()`` looks for; the newer clibz it passes over


def rows(families: int) -> Iterator[Row]:
    """Every figure, as it is measured."""
    book, cache = _book(families), HOME / "check-cache.sqlite"
    cache.unlink(missing_ok=True)
    clean = min(_check(book, cache), _check(book, None))
    each = clean / families
    for name, parts, aim, floor in (("plain", [_PINS], 20, 16), ("with its C part", [_PINS, _C_PART], 8, 7)):
        peer, startup = _check_jsonschema([*map(_install, parts)], book, how_often(families, 2))
        whole = startup + peer * families
        yield Row(
            f"check {families} families, cold",
            f"{clean:.1f} s, {in_milliseconds(each)} each",
            f"check-jsonschema {name}: {whole:.0f} s from {min(SAMPLE, families)} files: {whole / clean:.1f} times",
            f"{floor} times less; aim {aim}",
            whole / clean >= floor,
        )
    time.sleep(UNTIL_TRUSTED)
    _check(book, cache)
    again = how_often(families, 5)
    yield start_row("check, nothing changed", best_of(again, lambda: _check(book, cache)), 0.150)
    one = best_of(again, lambda: _check_after_change(book, cache, "families"))
    yield start_row("check, one family changed", one, 0.300)
    source = in_milliseconds(_check_after_change(book, cache, "sources"))
    yield Row("check, one source changed", source, f"{-(-families // MAKERS // SERIES)} families cite it", "none")
    bad = _check(_spoiled(book), None)
    yield Row(
        "check, a slip in every family, cold",
        f"{bad:.1f} s",
        f"clean: {clean:.1f} s: {bad / clean:.2f} times",
        "5 times the clean run",
        bad / clean <= 5,
    )


def _book(families: int) -> Path:
    folder = HOME / f"book-{families}"
    shutil.rmtree(folder, ignore_errors=True)
    write_book(folder, families)
    return folder


def _spoiled(book: Path) -> Path:
    folder = book.with_name(f"{book.name}-spoiled")
    shutil.rmtree(folder, ignore_errors=True)
    shutil.copytree(book, folder)
    chance = random.Random(2)
    for file in sorted(folder.glob("families/*/*.yaml")):
        file.write_text(spoil(file.read_text(encoding="utf-8"), chance), encoding="utf-8")
    return folder


def _check(book: Path, cache: Path | None) -> float:
    keep = ["--cache", cache] if cache else ["--no-cache"]
    command = [sys.executable, "-m", "kb.cli", "check", "--specs", book, "--format", "json", *ALONE, *keep]
    return processor_time(command, (0, 1))


_changes = iter(range(1_000_000))


def _check_after_change(book: Path, cache: Path, folder: str) -> float:
    """Change one value in one file, and check."""
    number = next(_changes)
    if folder == "families":
        file = book / f"families/{maker_id(number % 40)}/{family_name(number)}.yaml"
        old, new = "rim_diameter: {mm: 2", "rim_diameter: {mm: 3"
    else:
        file = book / f"sources/{maker_id(number % 40)}-handbook-1.yaml"
        old, new = "pages: 480", "pages: 481"
    text = file.read_text(encoding="utf-8")
    file.write_text(text.replace(old, new), encoding="utf-8")
    if text == file.read_text(encoding="utf-8"):
        raise RuntimeError(f"nothing was changed in {file}")
    return _check(book, cache)


def _install(pins: tuple[str, ...]) -> Path:
    """A folder of packages, with what they depend on.

    Raises:
        NotBrought: pip cannot bring them.
    """
    home = HOME / "packages" / " ".join(pins).replace("==", "-").replace(" ", "-")
    if not home.is_dir():
        stage = home.with_suffix(".part")
        shutil.rmtree(stage, ignore_errors=True)
        try:
            processor_time([sys.executable, "-m", "pip", "install", "--quiet", "--target", stage, *pins])
        except RuntimeError as reason:
            raise NotBrought(f"no check-jsonschema: {reason} (pip needs a way to its registry once)") from None
        stage.rename(home)
    return home


def _check_jsonschema(homes: Sequence[Path], book: Path, rounds: int) -> tuple[float, float]:
    """Seconds of processor time for one file more, and for starting, with the schema that an editor uses; with the
    packages of these folders and no others: whether the C part is there decides what it uses."""
    files = sorted(book.glob("families/*/*.yaml"))
    sample = max(10, how_often(len(files), SAMPLE))
    files = files[:: max(1, len(files) // sample)][:sample]
    paths = [*map(str, homes)]
    script = f"import runpy, sys; sys.path[:0] = {paths}; runpy.run_module('check_jsonschema', None, '__main__')"
    command: list[str | Path] = [sys.executable, "-S", "-c", script, "--schemafile", SCHEMA / "family.json"]
    few = best_of(rounds, lambda: processor_time([*command, *files[:1]]))
    many = best_of(rounds, lambda: processor_time([*command, *files]))
    each = (many - few) / (len(files) - 1)
    return each, few - each
