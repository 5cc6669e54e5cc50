"""Where a site is put: a build that fails leaves the last good one, whatever else lies there is left alone, and two
processes build the same bytes."""

from __future__ import annotations

import os
import pty
import re
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path

import pytest

from kb.cli import main
from kb.publish.site import build
from kb.publish.site.atomic_folder import replacing
from kb.publish.site.build import build_site
from tests.support.example_book import example_book
from tests.support.folders import FROZEN, ROOT
from tests.support.frozen import frozen_book
from tests.support.processes import running
from tests.support.served import files_below

BUILD = [sys.executable, "-m", "kb.cli", "site", "build"]
ENDED = """
import os, signal, sys
from kb.cli import main
from kb.publish.site.build import Builder
drawn = Builder.family_html
def told_to_end(builder, page):
    os.kill(os.getpid(), signal.SIGTERM)
    return drawn(builder, page)
Builder.family_html = told_to_end
sys.exit(main(sys.argv[1:]))
"""
LAST = {"index.html": b"the last good one", "version.json": b"{}", "worker.js": b""}
NARROW = """
import resource, sys
from kb.cli import main
resource.setrlimit(resource.RLIMIT_FSIZE, (60_000, 60_000))  # a disk with no room for a larger file
sys.exit(main(sys.argv[1:]))
"""


@pytest.fixture
def last(tmp_path: Path) -> Path:
    """A site of before."""
    place = tmp_path / "site"
    put(place, LAST)
    return place


def put(folder: Path, files: Mapping[str, bytes]) -> None:
    for name, content in files.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_bytes(content)


def require_last(place: Path, *others: str) -> None:
    """The last site is there as it was, and nothing half made lies beside it."""
    assert files_below(place) == LAST
    assert sorted(path.name for path in place.parent.iterdir()) == sorted([place.name, *others])


def test_a_failed_build_leaves_the_last_good_one(last: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(self: object, page: object) -> str:
        raise OSError("the disk is full")

    monkeypatch.setattr(build.Builder, "family_html", broken)
    with pytest.raises(OSError, match="the disk is full"):
        build_site(frozen_book(), last)
    require_last(last)


def test_a_disk_without_room_is_told_and_leaves_the_last_good_one(last: Path) -> None:
    assert main(["check", "--specs", str(FROZEN)]) == 0  # its results are kept while there is room
    command = [sys.executable, "-c", NARROW, "site", "build", "--specs", str(FROZEN), "--out", str(last)]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 2, done.stderr
    assert done.stderr == f"stopscrew: {last}: File too large; the site is as it was\n"
    require_last(last)


def test_a_build_that_is_told_to_end_leaves_the_last_good_one(last: Path) -> None:
    command = [sys.executable, "-c", ENDED, "site", "build", "--specs", str(FROZEN), "--out", str(last)]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 130
    assert done.stderr == "\nstopscrew: interrupted; the site is as it was\n"
    require_last(last)


def test_broken_specs_are_told_slip_by_slip_and_leave_the_last_good_one(
    last: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    book = dict(example_book())
    family = next(name for name in book if name.startswith("families/"))
    put(last.parent / "specs", {**book, family: book[family] + b"powr: 3\nodd: 4\n"})
    assert main(["site", "build", "--specs", str(last.parent / "specs"), "--out", str(last)]) == 1
    told = capsys.readouterr().err
    assert len(re.findall(r"^       do ", told, re.M)) == 2, told
    assert "stopscrew: 2 errors, so nothing is compiled; the first is at " in told
    require_last(last, "build", "specs")


@pytest.mark.parametrize("others", [{"notes.txt": b"mine"}, {"index.html": b"mine"}, {"worker.js": b"", "a/b": b""}])
def test_what_is_no_site_is_not_replaced(tmp_path: Path, others: Mapping[str, bytes]) -> None:
    put(tmp_path / "own", others)
    with pytest.raises(FileExistsError, match="something other than a site"):
        build_site(frozen_book(), tmp_path / "own")
    assert files_below(tmp_path) == {f"own/{name}": content for name, content in others.items()}


def test_a_file_in_its_place_is_left_and_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    put(tmp_path, {"notes.txt": b"mine"})
    for place, why in (("notes.txt", "something other than a site is there"), ("notes.txt/site", "File exists")):
        assert main(["site", "build", "--specs", str(FROZEN), "--out", str(tmp_path / place)]) == 2
        told = capsys.readouterr().err
        assert told.startswith(f"stopscrew: {tmp_path / 'notes.txt'}: {why}"), told
    assert files_below(tmp_path) == {"notes.txt": b"mine"}


def test_an_empty_folder_is_taken_and_a_link_goes_on_leading_there(tmp_path: Path, last: Path) -> None:
    (tmp_path / "empty").mkdir()
    (tmp_path / "link").symlink_to(last)
    for name in ("empty", "link"):
        with replacing(tmp_path / name) as stage:
            put(stage, {"index.html": b"new"})
    assert (tmp_path / "link").is_symlink()
    assert files_below(tmp_path / "empty") == files_below(last) == {"index.html": b"new"}
    assert sorted(path.name for path in tmp_path.iterdir()) == ["empty", "link", "site"]


def test_where_the_new_one_cannot_be_moved_the_old_one_comes_back(last: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    real = Path.rename

    def rename(path: Path, target: Path) -> Path:
        if path.suffix == ".part":
            raise PermissionError("not here")
        return real(path, target)

    monkeypatch.setattr(Path, "rename", rename)
    with pytest.raises(PermissionError, match="not here"), replacing(last) as stage:
        put(stage, {"index.html": b"new"})
    require_last(last)


def test_another_process_builds_the_same_bytes_and_shows_how_far_it_is(
    tmp_path: Path, demonstration_place: Path
) -> None:
    ours, theirs = pty.openpty()
    command = [*BUILD, "--specs", str(FROZEN), "--out", str(tmp_path / "site")]
    environment = {**os.environ, "PYTHONHASHSEED": "7", "TZ": "Pacific/Auckland"}
    with running(command, cwd=ROOT, stderr=theirs, env=environment) as building:
        assert building.stdout
        os.close(theirs)
        told = building.stdout.read()
        shown = os.read(ours, 65536).decode()
        os.close(ours)
    count = len(frozen_book().family_ids())
    assert re.fullmatch(rf".*: {count} families, \d+ files\n", told)
    assert f"\r{'#' * 40} {count} of {count} families" in shown
    assert shown.endswith("\r\x1b[K"), "the line is cleared for what comes after"
    one, other = files_below(demonstration_place), files_below(tmp_path / "site")
    assert sorted(one) == sorted(other)
    assert [name for name in one if one[name] != other[name]] == []
