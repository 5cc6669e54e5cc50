"""No edit of a sound book, however odd, brings down the check: it ends in findings or in silence."""

from __future__ import annotations

import random
import re

import pytest

from kb.intake.check.file_kinds import read_files
from kb.intake.check.one_file import check_file
from kb.intake.check.whole_book import finish_check, make_context
from tests.support.folders import FROZEN
from tests.support.samples import tries

WORD = re.compile(r"[\w./-]+")
ODDITIES = ("[1, 2]", "{a: b}", "''", '"', "[", "0", "-1", "~", "é", "\t", "!x", "&x", "*x")


def edited(text: str, words: list[str], chance: random.Random) -> str:
    """The text after one odd edit: a word of another place, a line lost, doubled or moved in or out, an oddity."""
    lines = text.split("\n")
    row = chance.randrange(len(lines))
    match chance.randrange(8):
        case 0:
            del lines[row]
        case 1:
            lines.insert(chance.randrange(len(lines)), lines[row])
        case 2:
            lines[row] = " " * chance.choice([1, 2, 4]) + lines[row]
        case 3:
            lines[row] = lines[row].removeprefix("  ")
        case kind:
            places = list(WORD.finditer(text))
            place = chance.choice(places)
            other = chance.choice(ODDITIES if kind == 4 else words)
            return text[: place.start()] + other + text[place.end() :]
    return "\n".join(lines)


@pytest.mark.parametrize("seed", range(4))
def test_odd_edits_never_bring_the_check_down(seed: int) -> None:
    files = read_files(FROZEN)
    context = make_context(files, files.__getitem__)
    results = {file: check_file(file, raw, context) for file, raw in files.items()}
    words = sorted({word for raw in files.values() for word in WORD.findall(raw.decode())})
    chance = random.Random(seed)
    reported = 0
    count = tries(100, 600)
    for number in range(count):
        file = chance.choice(sorted(files))
        text = files[file].decode()
        for _ in range(chance.choice([1, 1, 2, 3])):
            text = edited(text, words, chance)
        one = check_file(file, text.encode(), context)
        reported += bool(one.findings)
        if number % 10 == 0:
            finish_check({**results, file: one}, context, {**files, file: text.encode()}.__getitem__)
    assert reported > count / 2
