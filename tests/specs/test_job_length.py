"""A job is worked with dirty hands: how many screens it has, how many words are in sight on them, and how many taps
come before anything is read. `python -m tests.walk --lengths` prints the table.
"""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from tests.npm import NotBrought, package, skip
from tests.specs.book import families, specs_book
from tests.walk.length import Length, length_of, table
from tests.walk.phone import Phone

KETCH = "skerrow/ketch-47"
SCREENS = 26
WORDS = 3000
"""To be 2500: it only ever goes down."""
TAPS = 30
NO_FAMILY_MORE_THAN = 1.2


@pytest.fixture(scope="module")
def phone() -> Iterator[Phone]:
    """One for all jobs, each worked on it once."""
    try:
        package("linkedom")
    except NotBrought as reason:
        skip(reason)
    with Phone() as opened:
        yield opened


WORKED = [family for family in families() if "linkage" in specs_book().documents[family]]


@pytest.mark.parametrize("family", WORKED)
def test_a_job_is_short_and_is_worked_to_its_end(family: str, phone: Phone) -> None:
    one: Length = length_of(phone, family)
    most = 1 if family == KETCH else NO_FAMILY_MORE_THAN
    told = "\n".join(table([one]))
    assert one.ended == "finished", told
    assert one.screens <= SCREENS * most, told
    assert sum(one.words.values()) <= WORDS * most, told
    assert 0 < one.taps <= TAPS, told
