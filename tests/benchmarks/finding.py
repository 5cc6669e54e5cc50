"""How quickly and how surely families are found, in two books: headings made up here, with names of all kinds, and the
generated book, whose makers and names differ by their numbers only."""

from __future__ import annotations

import random
import sqlite3
import time
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from kb.book.find import index_in_memory, search
from kb.book.model.catalogue import Maker
from kb.book.model.family import Heading
from kb.book.model.heading_reader import HeadingReader
from kb.intake.yaml.reader import read
from kb.quantity import read_value
from tests.benchmarks.generate import MAKERS, family_name, family_text, maker_id
from tests.benchmarks.measure import DESIGN_BARE, Row, bare

if TYPE_CHECKING:
    from kb.book.model.documents import RetiredDocument

_STARTS = ("b", "br", "c", "d", "dr", "f", "g", "h", "k", "l", "m", "n", "p", "r", "s", "sk", "st", "t", "v", "w")
_MIDDLES = ("a", "e", "i", "o", "u", "ai", "ea", "oo")
_ENDS = ("l", "m", "n", "r", "ck", "sh", "rt", "nd", "ll", "st", "ver", "ling", "mer", "ton", "wick")
PREFIX_BUDGET = 250e-6
_KEYS = "qwertyuiop asdfghjkl zxcvbnm"


def rows(families: int) -> Iterator[Row]:
    """Every figure, as it is measured; times are judged as multiples of bare Python's start."""
    for name, book in (("names of all kinds", made_up(families, 1)), ("generated book", generated(families, 1))):
        figures = measure(book)
        allowed = PREFIX_BUDGET * bare() / DESIGN_BARE
        yield Row(
            f"find by prefix, {name}",
            _microseconds(figures.prefix),
            f"bare FTS5 prefix, limit 20: {_microseconds(figures.bare_prefix)}: "
            f"{figures.prefix / figures.bare_prefix:.1f} times",
            f"{_microseconds(PREFIX_BUDGET)} (here {_microseconds(allowed)})",
            figures.prefix <= allowed,
        )
        for what, share, seconds in (
            ("maker, power and year", figures.found, figures.words),
            ("the same with a slip", figures.found_with_slip, figures.slip),
        ):
            yield Row(
                f"find by {what}",
                f"{share:.1%}",
                f"in the first 20, {_microseconds(seconds)} each",
                "99 %",
                share >= 0.99,
            )


def _microseconds(seconds: float) -> str:
    return f"{seconds * 1e6:.0f} us"


@dataclass
class Headings:
    """Families without figures, as much of a book as finding asks for."""

    families: dict[str, Heading] = field(default_factory=dict)
    makers: Mapping[str, Maker] = field(default_factory=dict)
    retired: Mapping[str, RetiredDocument] = field(default_factory=dict)

    def family_ids(self) -> Sequence[str]:
        """Every id, sorted."""
        return sorted(self.families)

    def get_heading(self, family: str) -> Heading | None:
        """The family, or nothing."""
        return self.families.get(family)


def made_up(count: int, seed: int) -> Headings:
    """So many invented headings, always the same for a seed."""
    chance = random.Random(seed)
    makers: dict[str, Maker] = {}
    while len(makers) < max(4, count // 400):
        name = _word(chance, 2)
        makers[name] = Maker(name, {"name": name.title()})
    headings = Headings(makers=makers)
    while len(headings.families) < count:
        maker, word = chance.choice(list(makers)), _word(chance, chance.choice((1, 2, 2)))
        power = chance.choice((f"{chance.randint(2, 19)}.{chance.randint(1, 9)}", str(chance.randint(20, 180))))
        unit, first = chance.choice(("hp", "hp", "hp", "PS", "kW")), chance.randint(1948, 1986)
        start, cylinders = chance.randrange(1000, 900_000, 100), chance.randint(1, 6)
        key = f"{maker}/{word}-{power.replace('.', '-')}"
        headings.families[key] = Heading(
            key,
            {
                "name": f"{word.title()} {power}",
                "maker": maker,
                "invented": "true",
                "look_for": f"{word[:2].upper()}{power} stamped on the {chance.choice(('bracket', 'block', 'leg'))}",
                "fits": [
                    {
                        "years": [str(first), str(first + chance.randint(0, 6))],
                        "serials": {"from": str(start), "to": str(start + chance.randint(900, 90_000))},
                    }
                ],
                "engine": {
                    "cylinders": str(cylinders),
                    "power": {unit: power},
                    "layout": "single" if cylinders == 1 else "in-line",
                },
                "ignition": {"type": chance.choice(("breaker-magneto", "capacitor-discharge", "transistor"))},
            },
        )
    return headings


def generated(count: int, seed: int) -> Headings:
    """The headings of the generated book of so many families."""
    makers = {maker_id(number): Maker(maker_id(number), {"name": f"Maker {number + 1:02}"}) for number in range(MAKERS)}
    headings, chance = Headings(makers=makers), random.Random(seed)
    for number in range(count):
        maker = maker_id(number % MAKERS)
        text, _, _ = family_text(maker, number, chance).partition("\nfigures:")
        key = f"{maker}/{family_name(number)}"
        headings.families[key] = Heading(key, read(text.encode()).data)
    return headings


def _word(chance: random.Random, syllables: int) -> str:
    return "".join(chance.choice(_STARTS) + chance.choice(_MIDDLES) for _ in range(syllables)) + chance.choice(_ENDS)


def questions(book: HeadingReader, count: int, seed: int, *, slip: bool = False) -> Iterator[tuple[str, str]]:
    """What people type who know maker, power and year, in any order, each with the family they mean."""
    chance = random.Random(seed)
    for family in chance.sample(list(book.family_ids()), count):
        heading = book.get_heading(family)
        assert heading is not None
        maker = book.makers[heading.maker].name
        value, years = read_value(heading.part("engine", "power")), heading.fits[0].years
        assert years is not None
        year = str(chance.randint(int(years.first or 1950), int(years.last or 1990)))
        power = str(value)
        if chance.random() < 0.5:
            power = power.split()[0]
        words = [slipped(maker, chance) if slip else maker, power, year]
        chance.shuffle(words)
        yield " ".join(words), family


def slipped(text: str, chance: random.Random) -> str:
    """A text with one slip of the finger in one of its words of four letters or more."""
    words = text.split()
    long = [at for at, word in enumerate(words) if len(word) >= 4 and word.isalpha()]
    if not long:
        return text
    at = chance.choice(long)
    word, place = words[at].lower(), chance.randrange(len(words[at]) - 1)
    near = chance.choice(_beside(word[place]))
    words[at] = chance.choice(
        (
            word[:place] + word[place + 1] + word[place] + word[place + 2 :],
            word[:place] + word[place + 1 :],
            word[:place] + near + word[place + 1 :],
            word[:place] + near + word[place:],
        )
    )
    return " ".join(words)


def _beside(letter: str) -> str:
    at = _KEYS.find(letter)
    return (_KEYS[max(0, at - 1) : at] + _KEYS[at + 1 : at + 2]).strip() or "x"


def share_found(connection: sqlite3.Connection, asked: Sequence[tuple[str, str]], limit: int = 20) -> float:
    """Of the questions, the share whose family is among the first ``limit``."""
    found = [family in {hit.family for hit in search(connection, words, limit)} for words, family in asked]
    return sum(found) / len(found)


@dataclass(frozen=True)
class Figures:
    """What ``measure`` measured; times in seconds for one search."""

    families: int
    prefix: float
    bare_prefix: float
    words: float
    slip: float
    found: float
    found_with_slip: float


def measure(book: HeadingReader, seed: int = 47, count: int = 1000) -> Figures:
    """Times and shares for a book: typing the beginning of a name against a bare FTS5 prefix query with limit 20 over
    the same headings, maker with power and year, and the same with a slip."""
    connection, bare = index_in_memory(book), _bare(book)
    chance = random.Random(seed)
    ids = chance.sample(list(book.family_ids()), min(300, len(book.family_ids())))
    names = [heading.name.split()[0].lower() for heading in map(book.get_heading, ids) if heading]
    begun = [name[: chance.randint(1, max(1, len(name)))] for name in names]
    count = min(count, len(book.family_ids()))
    plain, slips = list(questions(book, count, seed)), list(questions(book, count, seed, slip=True))
    sql = "select * from headings where headings match ? limit 20"
    prefix, bare_prefix = _each(
        begun, lambda words: search(connection, words), lambda words: bare.execute(sql, (f'"{words}"*',)).fetchall()
    )
    return Figures(
        families=len(book.family_ids()),
        prefix=prefix,
        bare_prefix=bare_prefix,
        words=_each([words for words, _ in plain[:200]], lambda words: search(connection, words))[0],
        slip=_each([words for words, _ in slips[:200]], lambda words: search(connection, words))[0],
        found=share_found(connection, plain),
        found_with_slip=share_found(connection, slips),
    )


def _each(texts: Sequence[str], *tasks: Callable[[str], object], rounds: int = 7) -> list[float]:
    """Seconds of processor time that each task takes for one text: the best of some rounds, the tasks in turn."""
    best = [float("inf")] * len(tasks)
    for _ in range(rounds):
        for number, task in enumerate(tasks):
            start = time.process_time()
            for text in texts:
                task(text)
            best[number] = min(best[number], time.process_time() - start)
    return [seconds / len(texts) for seconds in best]


def _bare(book: HeadingReader) -> sqlite3.Connection:
    connection = sqlite3.connect(":memory:")
    connection.execute("create virtual table headings using fts5(id, name, maker, power, years, prefix='1 2 3 4')")
    for heading in filter(None, map(book.get_heading, book.family_ids())):
        power = read_value(heading.part("engine", "power")) if heading.part("engine", "power") else ""
        years = ", ".join(str(fit.years) for fit in heading.fits)
        values = (heading.id, heading.name, book.makers[heading.maker].name, str(power), years)
        connection.execute("insert into headings values (?, ?, ?, ?, ?)", values)
    connection.execute("insert into headings (headings) values ('optimize')")
    connection.commit()
    return connection
