"""Frozen records behave as frozen dataclasses do, where both do the same."""

from __future__ import annotations

import copy
import pickle
from collections.abc import Callable
from functools import cached_property
from typing import Any

import pytest

from kb.frozen import record


@record(hidden=("note",), aside=("read_by",))
class Mark:
    """A mark on a rim."""

    degrees: int
    side: str = "before"
    note: str = ""
    read_by: str = ""

    @cached_property
    def words(self) -> str:
        return f"{self.degrees} {self.side}"


@record()
class Rim:
    """A record of one field that cannot be hashed by itself."""

    marks: tuple[Mark, ...]


def test_fields_are_given_by_place_or_by_name_and_defaults_stand_in() -> None:
    assert Mark(9) == Mark(degrees=9) == Mark(9, "before") == Mark(9, side="before", note="")
    assert (Mark(9).side, Mark(9, note="worn").note) == ("before", "worn")


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (lambda made: made(), "Mark lacks degrees"),
        (lambda made: made(side="after"), "Mark lacks degrees"),
        (lambda made: made(9, "after", "", "mk", "ro"), "Mark takes degrees, side, note, read_by, each once"),
        (lambda made: made(9, degrees=9), "each once"),
        (lambda made: made(9, sid="after"), "each once"),
    ],
)
def test_what_does_not_fit_is_refused(make: Callable[[Any], Any], words: str) -> None:
    with pytest.raises(TypeError, match=words):
        make(Mark)


@pytest.mark.parametrize("change", [lambda mark: setattr(mark, "degrees", 8), lambda mark: delattr(mark, "degrees")])
def test_nothing_is_changed(change: Callable[[Any], Any]) -> None:
    mark = Mark(9)
    with pytest.raises(AttributeError, match="Mark is frozen: degrees stays as it is"):
        change(mark)
    assert mark == Mark(9)


def test_equality_and_hash_go_by_the_fields_that_count() -> None:
    one, same, other = Mark(9, read_by="mk"), Mark(9, read_by="ro"), Mark(9, note="worn")
    assert one.words == "9 before"  # what is worked out later does not count
    assert one == same
    assert hash(one) == hash(same)
    assert one != other
    assert Rim((one,)) == Rim((same,))
    assert len({Rim((one,)), Rim((same,))}) == 1
    assert one.__eq__(9) is NotImplemented


def test_it_shows_its_fields_and_takes_part_in_matching() -> None:
    assert repr(Mark(9, note="worn")) == "Mark(degrees=9, side='before')"
    match Mark(9):
        case Mark(degrees, "before"):
            assert degrees == 9
        case _:
            raise AssertionError


def test_it_is_copied_and_sent_to_other_processes() -> None:
    mark = Mark(9, "after")
    assert copy.deepcopy(mark) == pickle.loads(pickle.dumps(mark)) == mark
