"""Documents as columns: what Python writes, the browser's reader reads back, any one of them and in any book."""

from __future__ import annotations

import json
import random
import string
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kb.publish.site.columns import Columns, compressed, parts_of
from tests.support.node import run_module

_READ_ALL = """
import { readFileSync } from "node:fs";
import { Layout, Part, decompressed } from ASSETS/columns.js;
const sets = JSON.parse(readFileSync(process.argv[2], "utf8")), answers = [];
for (const files of sets) {
  const raw = [];
  for (const file of files) raw.push(await decompressed(Uint8Array.from(Buffer.from(file, "base64")).buffer));
  const layout = new Layout(JSON.parse(new TextDecoder().decode(raw[0]))), documents = [];
  for (let number = raw.length - 2; number >= 0; number--) {
    const part = new Part(layout, raw[number + 1], number * layout.size);
    for (let at = part.count - 1; at >= 0; at--) documents.unshift(part.read(at));
  }
  answers.push(documents);
}
console.log(JSON.stringify(answers));
"""


def read_back(sets: list[list[Any]], tmp_path: Path, size: int = 7, labels: tuple[str, ...] = ("figure",)) -> Any:
    """Every set of documents written here and read, last first, under Node."""
    from base64 import b64encode

    told = []
    for documents in sets:
        columns = Columns(labels)
        for document in documents:
            columns.add(document)
        told.append([b64encode(compressed(part)).decode() for part in parts_of(columns, size)])
    (tmp_path / "sets.json").write_text(json.dumps(told))
    return json.loads(run_module(_READ_ALL, tmp_path / "sets.json"))


def likened(chance: random.Random, count: int) -> list[Any]:
    """Documents of like shape, as families are: some rows missing, numbers in texts, one text from another."""
    documents: list[Any] = []
    for number in range(count):
        power = chance.choice(("8.3", "47", "127", "6.10"))
        rows = [
            {"figure": figure, "value": f"{chance.randint(1, 30)} before", "also": chance.choice((None, "3.50 mm"))}
            for figure in ("idle", "pickup", "maximum", "maximum")
            if chance.random() < 0.8
        ]
        documents.append(
            {
                "id": f"maker/model-{number:05}",
                "stamped": f"M{number:05} below the coil",
                "power": {"hp": power},
                "said": f"{power} hp",
                "serials": [1000 + 10 * number, 1009 + 10 * number],
                "rows": rows,
                "odd": chance.choice(([], {}, "", 0, False, None, [[]], {"": ""}, "007", "1000000000007", -4)),
            }
        )
    return documents


@pytest.mark.parametrize(
    "documents",
    [
        [],
        [{}],
        [{}, [], "x", None, 3, True, 1, 0, False],
        [{"a": 1}, {"a": True}, {"a": "1"}, {"a": None}, {"b": 1}, {"a": 1, "b": 2}, {"b": 2, "a": 1}],
        [[{"figure": "x"}, {"figure": "x"}, {"figure": "x 2"}, {"figure": 3}, 4]],
        [{"constructor": 1, "__proto__": 2, "toString": [3]}],
        [{"n": number, "m": number * 70_000} for number in range(200)],
        [f"{number:03} and {number * 7}" for number in range(300)],
        ["half \ud800 of a pair", "a\0b", "é 12", "١٢"],
        [{"big": number if number % 2 else f"{number}"} for number in range(150)],
    ],
)
def test_what_is_odd_comes_back(documents: list[Any], tmp_path: Path) -> None:
    assert read_back([documents], tmp_path) == [documents]


def test_documents_of_like_shape_come_back(tmp_path: Path) -> None:
    sets = [likened(random.Random(seed), count) for seed, count in enumerate((1, 7, 8, 60, 700))]
    assert read_back(sets, tmp_path) == sets


_SCALARS = st.none() | st.booleans() | st.integers(-(2**40), 2**40) | st.text(max_size=8) | st.text("012 a", max_size=9)
_KEYS = st.sampled_from(("figure", "a", "b", "0", "é")) | st.text(max_size=3)
_JSON = st.recursive(
    _SCALARS, lambda inner: st.lists(inner, max_size=4) | st.dictionaries(_KEYS, inner, max_size=4), max_leaves=12
)


@settings(max_examples=6, deadline=None)
@given(sets=st.lists(st.lists(_JSON, max_size=60), min_size=25, max_size=25))
def test_any_documents_come_back(tmp_path_factory: pytest.TempPathFactory, sets: list[list[Any]]) -> None:
    assert read_back(sets, tmp_path_factory.mktemp("columns")) == sets


def test_the_same_documents_give_the_same_bytes() -> None:
    def files() -> list[bytes]:
        columns = Columns(("figure",))
        for document in likened(random.Random(3), 400):
            columns.add(document)
        return [compressed(part) for part in parts_of(columns, 128)]

    assert files() == files()


def test_what_follows_from_another_column_costs_nothing() -> None:
    def size(documents: list[Any]) -> int:
        columns = Columns()
        for document in documents:
            columns.add(document)
        return sum(len(compressed(part)) for part in parts_of(columns, 5000))

    chance = random.Random(5)
    inches = ["".join(chance.choices(string.digits, k=2)) for _ in range(4000)]
    alone = size([{"in": f"0.0{digits}"} for digits in inches])
    both = size([{"in": f"0.0{digits}", "mm": f"{int(digits) * 0.254:.2f}", "again": digits} for digits in inches])
    assert both < alone + 1500
