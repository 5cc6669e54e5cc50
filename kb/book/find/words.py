"""The words of the index: words as typed and as printed, brought to one form.

Index words that begin with a tilde cannot be typed: ``~47hp`` is a power with its unit, ``~3cyl`` a number of
cylinders, ``~v4`` a layout, ``~1978~1981`` exactly these years, ``~ketch~47`` two words side by side in a name, ``~61``
a 6.1 without its point.
"""

from __future__ import annotations

import re
import unicodedata

LONGEST_NAME = 200
"""The most characters of an id or a name that count, and of a query; the rest is ignored."""

YEARS = range(1880, 2051)
"""The years that are indexed: an open range of years ends with them."""

Group = tuple[str, ...]
"""Index words that a family must have, all of them."""

_LETTERS = str.maketrans({"ø": "o", "đ": "d", "ł": "l", "æ": "ae", "œ": "oe", "’": "'", "‘": "'", "–": "-", "—": "-"})
WORD = re.compile(r"[0-9]+(?:\.[0-9]+)?|[^\W0-9_]+")
"""A plain number, or a run of letters."""

_INSIDE = re.compile(r"(?<=[^\W0-9_])'(?=[^\W0-9_])|(?<=\bh)\.(?=p\b)")  # car's, h.p.


def fold(text: str) -> str:
    """Text without case and accents and with single blanks, the same for two spellings of one word."""
    if not text.isascii():
        text = unicodedata.normalize("NFKD", text.casefold()).casefold().translate(_LETTERS)
        text = "".join(letter for letter in text if not unicodedata.combining(letter))
    return _INSIDE.sub("", " ".join(text.lower().split()))


def words_of(text: str) -> list[str]:
    """The words of a text, folded: runs of letters and plain numbers; ``and`` does not count.

    >>> words_of("Hollin & Drake's GR58, 8.30 hp")
    ['hollin', 'drakes', 'gr', '58', '8.3', 'hp']
    """
    return [plain for word in WORD.findall(fold(text)) if (plain := plain_word(word)) != "and"]


def name_key(text: str) -> str:
    """The key of an id or a name, the same whatever separates its parts.

    >>> name_key("Gimlet 6.1") == name_key("gimlet-6-1")
    True
    """
    return " ".join(words_of(text[:LONGEST_NAME])).replace(".", " ")


def plain_word(word: str) -> str:
    """A number without the zeros at the end of its decimals; another word as it is."""
    return word.rstrip("0").rstrip(".") if "." in word else word
