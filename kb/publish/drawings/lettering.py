"""How wide words are and where they break, so that a drawing knows that its labels keep clear of each other.

A drawing names only a generic family of type, so that the width of a letter is not known before it is shown. The
widths here are those of a broad sans-serif, rounded up; another type leaves more room.
"""

from __future__ import annotations

from kb.frozen import record

_NARROW = frozenset("ijl.,:;'|! ·")
_LEAN = frozenset("ftrI()[]/-")
_BROAD = frozenset("mwMWOQ@%&—→←")

LINE_HEIGHT = 1.3
"""From one line of type to the next, in sizes."""
_ASCENT, _DESCENT = 0.94, 0.26
_BOLD = 1.13
"""How much broader bold type is."""


@record()
class Box:
    """The room that a line of type takes, in the drawing's units; downward is positive."""

    left: float
    top: float
    right: float
    bottom: float
    words: str

    def overlaps(self, other: Box) -> bool:
        """Whether the two have any room in common; that they touch is no overlap."""
        return (
            self.left < other.right and other.left < self.right and self.top < other.bottom and other.top < self.bottom
        )


def width_of(words: str, size: float, *, bold: bool = False) -> float:
    """How wide a line of type is at most, in the unit of its size.

    >>> width_of("TDC", 12) < width_of("MAXIMUM", 12)
    True
    """
    return size * sum(map(_letter_width, words)) * (_BOLD if bold else 1)


def _letter_width(letter: str) -> float:
    if letter in _NARROW:
        return 0.34
    if letter in _LEAN:
        return 0.42
    if letter in _BROAD or ord(letter) > 0x2E7F:
        return 1.03
    if letter.isupper() or ord(letter) > 0x17F:
        return 0.78
    return 0.64


def box_of(x: float, baseline: float, words: str, size: float, anchor: str, *, bold: bool = False) -> Box:
    """The box of a line of type that begins, has its middle or ends at x."""
    width = width_of(words, size, bold=bold)
    left = x - {"start": 0.0, "middle": width / 2, "end": width}[anchor]
    return Box(left, baseline - _ASCENT * size, left + width, baseline + _DESCENT * size, words)


def broken_into_lines(words: str, size: float, width: float, *, bold: bool = False) -> list[str]:
    """Words broken into lines that are no wider than ``width``; a word that is wider by itself is broken too.

    >>> broken_into_lines("top dead centre", 10, 60)
    ['top dead', 'centre']
    """
    width /= _BOLD if bold else 1
    lines: list[str] = []
    line = ""
    for word in words.split():
        for part in _parts(word, size, width):
            longer = f"{line} {part}" if line else part
            if line and width_of(longer, size) > width:
                lines.append(line)
                longer = part
            line = longer
    return [*lines, line] if line else lines


def _parts(word: str, size: float, width: float) -> list[str]:
    """A word, cut where it is too wide for a line."""
    parts = [""]
    for letter in word:
        if parts[-1] and width_of(parts[-1] + letter, size) > width:
            parts.append("")
        parts[-1] += letter
    return parts
