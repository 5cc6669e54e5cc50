"""A family that was found, and how well."""

from __future__ import annotations

from dataclasses import dataclass

ID, NAME, OLD_ID, OTHER_NAME = 100, 95, 90, 85
"""Scores of a whole id, name, retired id, or other name."""

WORDS_TOGETHER, WORDS, WORDS_SEEN = 82, 80, 75
"""Scores of all words as typed: side by side as in a name, in any order, also in what is seen on the engine."""

SERIAL, BEGINNINGS, BEGINNINGS_SEEN = 70, 60, 55
"""Scores of a range that holds the serial number, and of beginnings of words."""

ONE_SLIP_TOGETHER, ONE_SLIP, ONE_SLIP_BEGUN, SLIPS = 42, 40, 35, 30
"""Scores of words with a slip in one of them, then also as beginnings, and of words with more slips."""

LEFT_OUT = 20
"""Score with a word left out: for the word without which the surest are found, and of those the fewest; less by one
for each next."""

MOST_HITS = 200
"""The most hits of a search, whatever limit is asked for."""


@dataclass(frozen=True, slots=True)
class Hit:
    """A family that was found.

    ``power`` and ``years`` are as printed, empty when not known. ``matched`` says in words why it was found, with how a
    misspelt word was read and which word was left out; ``retired_from`` is the retired id by which it was found, if
    any. ``score`` orders hits, from 100 for the family's own id down.
    """

    family: str
    name: str
    maker: str
    power: str
    years: str
    matched: str
    retired_from: str
    score: int
