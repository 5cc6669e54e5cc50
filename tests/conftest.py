"""What all tests share: golden files, which hold whole outputs and are rewritten by ``make golden``; one browser; the
demonstration book, compiled once, and its site, built once."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from hypothesis import settings

from tests.support.folders import GOLDEN
from tests.support.samples import THOROUGH

if TYPE_CHECKING:  # most runs open no browser
    from playwright.sync_api import Browser

    from tests.support.served import Host


# How long one example takes tells of the machine and its other work: times are printed by the benchmarks. Every run
# tries the same examples, so that a run is right or wrong by the code alone; ``make thorough`` tries others, and more.
settings.register_profile("stopscrew", deadline=None, derandomize=not THOROUGH, max_examples=100 if THOROUGH else 50)
settings.load_profile("stopscrew")


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--golden", action="store_true", help="rewrite the golden files instead of comparing with them")


LONGEST = (
    "tests/benchmarks/test_topics.py",
    "tests/browser/test_browser_job.py",
    "tests/site/test_site_quality.py",
    "tests/walk/test_walk.py",
    "tests/house/",
    "tests/browser/",
    "tests/specs/",
    "tests/site/test_site_",
    "tests/publish/test_sheet",
    "tests/cli/",
)
"""Files that begin first, the longest first of all, so that at the end no core waits for another."""


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    def place(item: pytest.Item) -> int:
        return next((at for at, name in enumerate(LONGEST) if item.nodeid.startswith(name)), len(LONGEST))

    items.sort(key=place)


@pytest.fixture
def golden(request: pytest.FixtureRequest) -> Callable[[str, str], None]:
    """``golden("name.txt", text)``: the text equals the golden file of that name, to the character."""
    rewrite = request.config.getoption("--golden")

    def compare(name: str, text: str) -> None:
        file = GOLDEN / name
        if rewrite:
            file.parent.mkdir(parents=True, exist_ok=True)
            file.write_bytes(text.encode("utf-8"))
            return
        wanted = file.read_bytes().decode("utf-8") if file.exists() else None
        if wanted is None:
            pytest.fail(f"there is no tests/golden/{name}; make golden writes it", pytrace=False)
        if text != wanted:  # the comparison is plain, so that pytest shows which lines differ
            assert text.splitlines() == wanted.splitlines(), f"tests/golden/{name} differs; make golden rewrites it"
            pytest.fail(f"tests/golden/{name} differs in its line ends; make golden rewrites it", pytrace=False)

    return compare


@pytest.fixture(scope="session")
def chromium() -> Iterator[Browser]:
    """The one browser of a run; what a test opens in it, it closes."""
    from tests.support.in_browser import browser

    with browser() as running:
        yield running


@pytest.fixture(scope="session")
def compiled_book(tmp_path_factory: pytest.TempPathFactory) -> str:
    """The demonstration book compiled, for a command's ``--book``. It is every test's: nothing is written there."""
    from kb.book.store.writing import write_store
    from tests.support.frozen import frozen_book

    path = tmp_path_factory.mktemp("compiled") / "demonstration.book"
    write_store(path, frozen_book())
    return str(path)


@pytest.fixture(scope="session")
def demonstration_place(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of the site built from the demonstration book. It is every test's: nothing is written there."""
    from kb.cli.site import rule_texts
    from kb.publish.site.build import build_site
    from tests.support.frozen import frozen_book

    return build_site(frozen_book(), tmp_path_factory.mktemp("demonstration") / "site", rules=rule_texts()).place


@pytest.fixture(scope="session")
def demonstration_files(demonstration_place: Path) -> Mapping[str, bytes]:
    """Every file of that site by its path; a host of one's own is ``served(demonstration_files)``."""
    from tests.support.served import files_below

    return files_below(demonstration_place)


@pytest.fixture(scope="session")
def demonstration_site(demonstration_files: Mapping[str, bytes]) -> Iterator[Host]:
    """That site under a sub-path. It is every test's: one that stops it or changes its files starts its own."""
    from tests.support.served import served

    with served(demonstration_files) as running:
        yield running


@pytest.fixture(scope="session")
def hostile_place(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of a site built from a book whose every text is an attack."""
    from kb.publish.site.build import build_site
    from tests.support.hostile_book import hostile_book

    return build_site(hostile_book(), tmp_path_factory.mktemp("hostile") / "site").place
