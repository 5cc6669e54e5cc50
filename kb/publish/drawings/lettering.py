"""The widths of words and where lines break, so that the labels of a drawing keep clear of each other.

A drawing names only a generic font family, so the width of a letter is not known before it is shown. The widths here
are those of a broad sans-serif, rounded up; another font leaves more room.
"""

from __future__ import annotations

from functools import lru_cache
from typing import NamedTuple

_NARROW = frozenset("ijl.,:;'|! ·")
_LEAN = frozenset("ftrI()[]/-")
_BROAD = frozenset("mwMWOQ@%&—→←")

LINE_HEIGHT = 1.3
"""The distance from one line of text to the next, in font sizes."""
_ASCENT, _DESCENT = 0.94, 0.26
_BOLD = 1.13
"""How much wider bold type is."""


class Box(NamedTuple):
    """The box that a line of text takes up, in the drawing's units; downward is positive."""

    left: float
    top: float
    right: float
    bottom: float
    words: str

    def overlaps(self, other: Box) -> bool:
        """Whether the two boxes share any area; touching is not an overlap."""
        return (
            self.left < other.right and other.left < self.right and self.top < other.bottom and other.top < self.bottom
        )


def width_of(words: str, size: float, *, bold: bool = False) -> float:
    """The greatest width of a line of text, in the unit of its size.

    >>> width_of("TDC", 12) < width_of("MAXIMUM", 12)
    True
    """
    return size * (_hundredths(words) / 100) * (_BOLD if bold else 1)


def _hundredths(words: str) -> int:
    """The width of words in hundredths of their size: integers, whose sum is the same on every machine."""
    return sum(map(_LETTERS.__getitem__, words))


class _Letters(dict[str, int]):
    """The widths of letters, each worked out on first use."""

    def __missing__(self, letter: str) -> int:
        if letter in _NARROW:
            width = 34
        elif letter in _LEAN:
            width = 42
        elif letter in _BROAD or ord(letter) > 0x2E7F:
            width = 103
        else:
            width = 78 if letter.isupper() or ord(letter) > 0x17F else 64
        self[letter] = width
        return width


_LETTERS = _Letters()
_SPACE = _LETTERS[" "]


def box_of(x: float, baseline: float, words: str, size: float, anchor: str, *, bold: bool = False) -> Box:
    """The box of a line of text whose start, middle or end is at x."""
    width = width_of(words, size, bold=bold)
    left = x - {"start": 0.0, "middle": width / 2, "end": width}[anchor]
    return Box(left, baseline - _ASCENT * size, left + width, baseline + _DESCENT * size, words)


def broken_into_lines(words: str, size: float, width: float, *, bold: bool = False) -> list[str]:
    """Words broken into lines that are no wider than ``width``; a word that is wider alone is broken too.

    >>> broken_into_lines("top dead centre", 10, 60)
    ['top dead', 'centre']
    """
    most = 100 * width / (size * (_BOLD if bold else 1))  # in hundredths, as a letter is measured
    lines: list[str] = []
    line, wide = "", 0
    for word in words.split():
        for part, longer in _parts(word, most):
            if line and wide + _SPACE + longer > most:
                lines.append(line)
                line, wide = "", 0
            line, wide = (f"{line} {part}", wide + _SPACE + longer) if line else (part, longer)
    return [*lines, line] if line else lines


@lru_cache(maxsize=4096)
def _parts(word: str, most: float) -> list[tuple[str, int]]:
    """A word, cut where it is too wide for a line, each part with its width. Cached: drawings repeat the same words."""
    wide = _hundredths(word)
    if wide <= most:
        return [(word, wide)]
    parts, part, wide = list[tuple[str, int]](), "", 0
    for letter in word:
        longer = wide + _LETTERS[letter]
        if part and longer > most:
            parts.append((part, wide))
            part, longer = "", _LETTERS[letter]
        part, wide = part + letter, longer
    return [*parts, (part, wide)]
