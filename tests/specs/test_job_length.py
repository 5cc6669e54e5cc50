"""A job is worked with dirty hands: how many screens it has, how many words are in sight on them, and how many taps
come before anything is read. `python -m tests.walk --lengths` prints the table.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

import pytest

from tests.npm import NotBrought, package, skip
from tests.walk.length import Length, length_of, table
from tests.walk.phone import Phone
from tests.walk.walks import families

KETCH = "skerrow/ketch-47"
SCREENS = 26
WORDS = 4500
"""To be 2500: it only ever goes down."""
TAPS = 30
NO_FAMILY_MORE_THAN = 1.2


@cache
def lengths() -> Mapping[str, Length]:
    """How long the job of every family is, each worked once by one phone."""
    with Phone() as phone:
        return {family: length_of(phone, family) for family in families()}


@pytest.fixture(autouse=True)
def _drawn() -> None:
    try:
        package("linkedom")
    except NotBrought as reason:
        skip(reason)


def test_the_job_of_one_engine_is_short() -> None:
    one = lengths()[KETCH]
    assert one.ended == "finished"
    assert one.screens <= SCREENS, one.words
    assert sum(one.words.values()) <= WORDS, one.words


@pytest.mark.parametrize("family", families())
def test_no_job_is_much_longer_and_each_is_worked_to_its_end(family: str) -> None:
    one, most = lengths()[family], NO_FAMILY_MORE_THAN
    told = "\n".join(table([one]))
    assert one.ended == "finished", told
    assert one.screens <= SCREENS * most, told
    assert sum(one.words.values()) <= WORDS * most, told
    assert 0 < one.taps <= TAPS, told
