"""What all tests share: golden files, which hold whole outputs and are rewritten by ``make golden``."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

GOLDEN = Path(__file__).parent / "golden"


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--golden", action="store_true", help="rewrite the golden files instead of comparing with them")


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
