"""A text as an editor shows it: lines and columns counted from 1, columns in characters."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from itertools import accumulate

from kb.finding import Place
from kb.frozen import cached_property

_LONGEST = 60


class Lines:
    """A text with ``\\n`` line ends, and where its lines begin (worked out on first use)."""

    def __init__(self, text: str) -> None:
        self.text = text

    @cached_property
    def starts(self) -> Sequence[int]:
        """The index of each line's first character."""
        return list(accumulate((len(line) + 1 for line in self.text.split("\n")[:-1]), initial=0))

    def line(self, number: int) -> str:
        """A line without its line end; empty if there is no such line."""
        if not 1 <= number <= len(self.starts):
            return ""
        start = self.starts[number - 1]
        end = self.text.find("\n", start)
        return self.text[start:] if end < 0 else self.text[start:end]

    def place(self, start: int, end: int) -> Place:
        """The place of the characters from index ``start`` to before ``end``."""
        line, column = self._point(start)
        end_line, end_column = self._point(end)
        return Place(line, column, end_line, end_column)

    def whole_line(self, number: int) -> Place:
        """The place of a line without its indentation and trailing spaces."""
        line = self.line(number).rstrip()
        return Place(number, len(line) - len(line.lstrip()) + 1, number, len(line) + 1)

    def index(self, line: int, column: int) -> int:
        """The index of the character at a place's line and column."""
        return self.starts[min(line, len(self.starts)) - 1] + column - 1

    def at(self, place: Place) -> str:
        """The text that a place marks."""
        return self.text[self.index(place.line, place.column) : self.index(place.end_line, place.end_column)]

    def _point(self, index: int) -> tuple[int, int]:
        line = bisect_right(self.starts, index)
        return line, index - self.starts[line - 1] + 1


def shortened(text: str) -> str:
    """Text shortened to fit a message, on one line."""
    short = text if len(text) <= _LONGEST else text[: _LONGEST - 1] + "…"
    return short.replace("\n", " ")
