"""The text of a query: its words, and what each may stand for in the index."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from kb.book.find.words import LONGEST_NAME, WORD, YEARS, Group, fold, name_key, plain_word

MOST_WORDS = 8
"""The most words that are looked for; the rest are ignored."""

_YEAR = r"(?:1[89]|20)?[0-9]{2}"
_TYPED = re.compile(
    rf"(?<![\w.'/-])'?(?P<first>{_YEAR})\s?(?:-|/|to)\s?'?(?P<last>{_YEAR})(?!\w|[.'/-]\w)"
    r"|(?<![\w.])'?(?P<decade>(?:1[89]|20)?[0-9]0)'?s(?!\w)"
    r"|'(?P<short>[0-9]{2})(?!\w|\.\w)"
    rf"|(?P<word>{WORD.pattern})"
)
_UNITS = {
    "hp": "hp",
    "bhp": "hp",
    "horse": "hp",
    "horsepower": "hp",
    "kw": "kw",
    "kilowatt": "kw",
    "kilowatts": "kw",
    "ps": "ps",
}
_COUNTS = {"one": "1", "two": "2", "three": "3", "four": "4", "five": "5", "six": "6", "seven": "7", "eight": "8"}
_NOISE = {
    "a",
    "an",
    "the",
    "of",
    "in",
    "on",
    "with",
    "by",
    "for",
    "from",
    "year",
    "years",
    "made",
    "model",
    "sn",
    "no",
    "serial",
    "serials",
    "number",
    "numbers",
    "hp",
    "bhp",
    "kw",
    "cyl",
    "cylinder",
    "cylinders",
    "ignition",
    "engine",
    "engines",
    "motor",
    "motors",
    "outboard",
    "outboards",
}


@dataclass(frozen=True, slots=True)
class Word:
    """One word of a query. A family matches when it has all index words of any one group.

    ``exact`` is the word as typed, which where ``grows`` may be the beginning of a longer one; ``wider`` counts like a
    beginning. ``near`` is what else it might mean: tried only as ``also_near``, when nothing better was found.
    ``places`` are the places of its parts in the query.
    """

    typed: str
    exact: tuple[Group, ...]
    grows: bool = True
    wider: tuple[Group, ...] = ()
    near: tuple[Group, ...] = ()
    also_near: tuple[Group, ...] = ()
    places: frozenset[int] = frozenset()


@dataclass(frozen=True, slots=True)
class Serial:
    """A possible serial number, and the places of its parts; ``apart`` where a blank follows its letters, which then
    are more likely a word unless ranges of serial numbers have them."""

    text: str
    places: frozenset[int]
    apart: bool


@dataclass(frozen=True, slots=True)
class Typed:
    """A query as read: its words, its key as a whole name or id, and possible serial numbers in it."""

    words: tuple[Word, ...]
    key: str = ""
    serials: tuple[Serial, ...] = ()


@dataclass(frozen=True, slots=True)
class _Part:
    text: str
    start: int
    end: int
    years: tuple[int, int] | None = None

    @property
    def is_number(self) -> bool:
        return self.years is None and self.text[0] in "0123456789"


def read_typed(text: str) -> Typed:
    """Read a query; any text is accepted."""
    text = text[:LONGEST_NAME]
    folded = fold(text)[:LONGEST_NAME]
    parts = list(_parts(folded))
    words = list(_words(parts))
    telling = [word for word in words if word.typed not in _NOISE] or words
    return Typed(tuple(telling[:MOST_WORDS]), name_key(text), tuple(_serials(parts, folded)))


def _parts(folded: str) -> Iterator[_Part]:
    for match in _TYPED.finditer(folded):
        years = _years(match)
        if match["word"] or years is None:  # two numbers that are not years are two words
            for word in WORD.finditer(folded, match.start(), match.end()):
                if word[0] != "and":
                    yield _Part(plain_word(word[0]), word.start(), word.end())
        else:
            yield _Part(match[0].strip("' "), match.start(), match.end(), years)


def _years(match: re.Match[str]) -> tuple[int, int] | None:
    if short := match["short"]:
        return int(f"19{short}"), int(f"19{short}")
    if decade := match["decade"]:
        first = int(decade.rjust(4, "0")) or 2000
        first += 1900 if first < 100 else 0
        return first, first + 9
    first_text, last_text = match["first"], match["last"]
    if not first_text or (len(first_text) == len(last_text) == 2 and first_text >= last_text):
        return None
    first, last = int(first_text), int(last_text)
    if first < 100:
        first += last - last % 100 if last >= 100 else 1900
    if last < 100:
        last += first - first % 100
        last += 100 if last < first else 0
    return min(first, last), max(first, last)


def _words(parts: Sequence[_Part]) -> Iterator[Word]:
    at = 0
    while at < len(parts):
        part, follower = parts[at], parts[at + 1] if at + 1 < len(parts) else _Part(" ", 0, 0)
        word, taken = _pair(part, follower), 2
        if word is None:
            word, taken = _single(part), 1
        yield replace(word, places=frozenset(range(at, at + taken)))
        at += taken


def _pair(part: _Part, follower: _Part) -> Word | None:
    """Two parts that together are one word, such as a number and its unit."""
    typed, unit = f"{part.text} {follower.text}", follower.text
    if part.is_number and unit in _UNITS:
        return Word(typed, ((f"~{part.text}{_UNITS[unit]}",),), grows=False, near=((part.text,),))
    count = part.text if part.is_number else _COUNTS.get(part.text)
    if count and unit.removesuffix("s") in ("cyl", "cylinder"):
        return Word(typed, ((f"~{count}cyl",),), grows=False)
    if count and (begun := [whole for whole in ("hp", "kw", "ps", "cyl", "cylinders") if whole.startswith(unit)]):
        wider = tuple((f"~{count}{'cyl' if whole == 'cylinders' else whole}",) for whole in begun)
        return Word(typed, ((part.text, unit),), wider=wider)
    if part.text == "v" and follower.is_number and len(follower.text) <= 2:
        return Word(part.text + follower.text, ((f"~v{follower.text}",), ("v", follower.text)), grows=False)
    return None


def _single(part: _Part) -> Word:
    text = part.text
    if part.years:
        first, last = part.years
        each = tuple((str(year),) for year in YEARS if first <= year <= last) or ((str(first),),)
        if first == last or not part.text[-1].isdecimal():  # one year, or a decade
            return Word(text, each, grows=False)
        return Word(text, ((f"~{first}~{last}",),), grows=False, wider=each, near=(tuple(WORD.findall(text)),))
    if not part.is_number:
        return Word(text, ((text,),))
    powers = tuple((f"~{text}{unit}",) for unit in ("hp", "kw", "ps"))
    if not text.isdecimal():
        return Word(text, ((text,),), near=powers)
    year = ((f"19{text}",),) if len(text) == 2 else ()
    return Word(text, ((text,),), near=((f"~{text}",), *powers, *year))


def _serials(parts: Sequence[_Part], folded: str) -> Iterator[Serial]:
    """Possible serial numbers: three or more digits, with the letters next to them; the longest first."""
    for count in (3, 2, 1):
        for at in range(min(len(parts), 2 * MOST_WORDS) - count + 1):
            run = parts[at : at + count]
            letters = [part.text for part in run if not part.is_number]
            digits = "".join(part.text for part in run if part.is_number)
            if len(digits) < 3 or not digits.isdecimal() or any(part.years or part.text == " " for part in run):
                continue
            between = [folded[one.end : other.start] for one, other in pairwise(run)]
            together = all(gap in ("", "-", ".", "/") for gap in between)
            prefixed = count == 2 and not run[0].is_number and between == [" "]
            if all(len(text) <= 4 for text in letters) and (together or prefixed):
                yield Serial("".join(part.text for part in run), frozenset(range(at, at + count)), not together)
