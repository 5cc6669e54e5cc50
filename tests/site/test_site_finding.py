"""Finding in the browser: the same families, in the same order, for the same reason as on the command line."""

from __future__ import annotations

import dataclasses
import json
import random
import re
from collections.abc import Callable
from functools import cache
from pathlib import Path
from posixpath import normpath
from typing import Any

import pytest

from kb.book.find import index_in_memory, search
from kb.book.model.catalogue import Maker
from kb.book.model.family import Family
from kb.book.model.heading_reader import HeadingReader
from kb.publish.site.finding.index_files import INDEX, finding_files
from tests.benchmarks.finding import Headings, generated, made_up, questions
from tests.book import test_find
from tests.support.folders import ASSETS
from tests.support.modules import modules_needed
from tests.support.node import run_module

_SEARCH = """
import { readFileSync } from "node:fs";
import { Index } from ASSETS/find/index/index.js;
import { search } from ASSETS/find/searching.js;
const raw = readFileSync(process.argv[2]);
const index = await Index.read(raw.buffer.slice(raw.byteOffset, raw.byteOffset + raw.length));
const asked = JSON.parse(readFileSync(process.argv[3], "utf8"));
console.log(JSON.stringify(asked.map(([words, limit]) => search(index, words, limit).map((hit) => ({
  family: hit.family, name: hit.name, maker: hit.maker, power: hit.power, years: hit.years,
  matched: hit.matched, retired_from: hit.retiredFrom, score: hit.score })))));
"""


def found_in_browser(book: HeadingReader, asked: list[tuple[str, int]], folder: Path) -> Any:
    (folder / "index.bin").write_bytes(finding_files(book, "2026-11-01")[INDEX])
    (folder / "asked.json").write_text(json.dumps(asked))
    return json.loads(run_module(_SEARCH, folder / "index.bin", folder / "asked.json"))


def compare(book: HeadingReader, asked: list[tuple[str, int]], folder: Path) -> None:
    connection = index_in_memory(book)
    differing = []
    for (words, limit), there in zip(asked, found_in_browser(book, asked, folder), strict=True):
        here = [dataclasses.asdict(hit) for hit in search(connection, words, limit)]
        if here != there:
            differing.append(
                (
                    words,
                    [(hit["family"], hit["score"], hit["matched"]) for hit in here][:3],
                    [(hit["family"], hit["score"], hit["matched"]) for hit in there][:3],
                )
            )
    assert differing == []


def rows(test: Any) -> list[str]:
    """What the tests of finding ask for."""
    return [row[0] for mark in test.pytestmark if mark.name == "parametrize" for row in mark.args[1]]


def test_all_that_is_asked_on_the_command_line(tmp_path: Path) -> None:
    asked = [*rows(test_find.test_what_is_found_first), *rows(test_find.test_all_that_is_found)]
    asked += [
        *rows(test_find.test_it_says_why),
        "",
        " ",
        "\0",
        "&",
        "'",
        "~47hp",
        "ketch " * 300,
        "1234567 " * 90,
        "٤٧ ketch",
        "k e t c h 4 7",
        "½ ketch",
        "0000",
        "00s",
        "1800s",
        "2099-10",
        "20-30",
        "99-00",
        "3 cyl cyl cyl hp hp",
        "constructor",
        "__proto__ 3",
        "İstanbul ẞ ŉ",
        "straße",
        "car's",
        "H.P. 47",
        "KN 40",
        "TM 40001 pellwater",
        "s 10000",
        "ostmere's knot",
    ]
    asked += [text[:length] for text in ("skerrow ketch 47", "hollin & drake 1955") for length in range(len(text))]
    limited = [("s", 1), ("s", 0), ("s", -3), ("47", 2), ("k", 500)]
    compare(test_find.BOOK, [*((words, 20) for words in asked), *limited], tmp_path)


@pytest.mark.parametrize("make", [made_up, generated], ids=["names of all kinds", "generated"])
def test_what_people_ask_in_larger_books(make: Callable[[int, int], Headings], tmp_path: Path) -> None:
    book = make(1500, 4)
    chance, ids = random.Random(6), book.family_ids()
    asked = [words for slip in (False, True) for words, _ in questions(book, 150, 8, slip=slip)]
    for key in chance.sample(list(ids), 60):
        heading = book.families[key]
        serials = heading.fits[0].serials
        assert serials is not None
        within = chance.randint(int(serials.first or 0), int(serials.last or 0))
        name = heading.name
        asked += [
            key,
            name,
            name[: chance.randint(1, len(name))],
            f"{heading.maker} {within}",
            str(within),
            f"A{within}",
            f"{name} 1899",
            f"{name.split()[0]} 8 hp",
            str(heading.part("look_for")),
            f"{name[:4]} manual",
        ]
    compare(book, [(words, 20) for words in asked], tmp_path)


HARD = [
    "Sea {} King",
    "Lark {}.{}0 de Luxe",
    "O'Neil {}",
    "H.P. {}",
    "No.{} Två",
    "{}½ Elf",
    "V{}{} 00{}",
    "{}.0",
    "St. {} and {}",
]


def test_names_with_numbers_of_every_kind(tmp_path: Path) -> None:
    book = Headings(makers={"hollin": Maker("hollin", {"name": "Hollin & Co."})})
    for at, pattern in enumerate(HARD):
        for number in range(60):
            name = pattern.replace("{}", str(3 * number), 1).replace("{}", str(number % 7)).strip()
            key = f"hollin/a{at}-{number}"
            until = {"to": str(1960 + number % 9)} if number % 2 else {}
            book.families[key] = Family(
                key,
                {
                    "name": name,
                    "maker": "hollin",
                    "look_for": f"{name} on the plate of {number}.5",
                    "fits": [
                        {
                            "years": {"from": str(1900 + number)} | until,
                            "serials": {"from": f"{'A' * (at % 3)}{number}00", "to": f"{'A' * (at % 3)}{number}99"},
                        }
                    ],
                },
            )
    asked = [
        "seaking",
        "sea king 12",
        "king",
        "lark 12",
        "lark 12.4",
        "124",
        "delux",
        "deluxe",
        "oneil 9",
        "o'neil",
        "hp 9",
        "h.p. 9",
        "h p 9",
        "no 12",
        "tva",
        "12½ elf",
        "1",
        "12",
        "12.",
        "0",
        "00",
        "006",
        "v1",
        "v12 0",
        "63.0",
        "63",
        "st 12 and 3",
        "st 3",
        "and",
        "9.5",
        "9.",
        "1.5 plate",
        "1905",
        "190",
        "1905-1961",
        "05-61",
        "a1234",
        "1234",
        "aa 1234",
        "hollin 1950 21",
        "lrak 12",
        "sae king",
        "1095",
        "hollin a0-12",
        "a1-7",
        "hollin a1 7",
    ]
    compare(book, [(words, limit) for words in asked for limit in (20, 200)], tmp_path)


@cache
def index_of_generated() -> bytes:
    return finding_files(generated(2000, 1), "2026-11-01")[INDEX]


def test_the_index_is_the_same_each_time_and_small() -> None:
    assert index_of_generated() == finding_files(generated(2000, 1), "2026-11-01")[INDEX]
    assert len(index_of_generated()) < 12_000


def test_an_empty_book_finds_nothing(tmp_path: Path) -> None:
    assert found_in_browser(Headings(), [("ketch", 20)], tmp_path) == [[]]


def test_no_module_is_come_upon_late() -> None:
    box = "find/finding-box.js"
    named = re.findall(r'^import .*"(.*)";$', (ASSETS / box).read_text("utf-8"), re.M)
    assert {normpath(f"find/{path}") for path in named} == modules_needed(box) - {box}
