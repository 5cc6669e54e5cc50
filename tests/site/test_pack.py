"""What a phone keeps: every family comes back whole, in few requests and small; our modules as one script."""

from __future__ import annotations

import json
import random
from base64 import b64encode
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest

from kb.publish.site.finding.index_files import INDEX
from kb.publish.site.offline import pack
from kb.publish.site.offline.bundle import CannotBundle, one_script
from kb.publish.site.offline.pack import pack_files
from kb.publish.site.offline.phone_copy import requests_and_bytes
from tests.site.test_columns import likened
from tests.support.folders import ASSETS
from tests.support.frozen import frozen_book
from tests.support.node import run_module
from tests.support.small_site import TEMPLATE, documents, drawn, read_module, small_site

_READ = """
import { readFileSync } from "node:fs";
import { Pack } from ASSETS/offline/pack.js;
const [files, ids] = JSON.parse(readFileSync(process.argv[2], "utf8"));
const pack = new Pack(async (name) => Uint8Array.from(Buffer.from(files[`offline/${name}`], "base64")).buffer);
const answers = [];
for (const id of ids) answers.push(await pack.read(id));
console.log(JSON.stringify([await pack.count(), answers]));
"""


def read_from(files: Mapping[str, bytes], ids: list[str], folder: Path) -> Any:
    told = {path: b64encode(content).decode() for path, content in files.items()}
    (folder / "asked.json").write_text(json.dumps([told, ids]))
    return json.loads(run_module(_READ, folder / "asked.json"))


def test_every_family_comes_back_in_any_order(tmp_path: Path) -> None:
    pages = list(documents(frozen_book()))
    ids = random.Random(1).sample([page["id"] for page in pages], len(pages))
    by_id = {page["id"]: page for page in pages}
    assert read_from(pack_files(pages), ids, tmp_path) == [len(pages), [by_id[key] for key in ids]]


def test_several_parts_and_what_is_not_there(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pack, "FAMILIES_A_PART", 100)
    pages = sorted(likened(random.Random(2), 550), key=lambda page: str(page["id"]))
    files = pack_files(pages)
    assert len(files) == 7
    asked = [pages[at]["id"] for at in (0, 99, 100, 549, 313)]
    there = [pages[at] for at in (0, 99, 100, 549, 313)]
    missing = ["", "a", "maker/model-00100x", "zz/zz"]
    assert read_from(files, asked + missing, tmp_path) == [550, there + [None] * 4]


def test_an_empty_book_has_an_empty_pack(tmp_path: Path) -> None:
    assert read_from(pack_files([]), ["skerrow/ketch-47"], tmp_path) == [0, [None]]


def test_documents_out_of_order_are_refused() -> None:
    with pytest.raises(ValueError, match="a/a comes after b/b"):
        pack_files([{"id": "b/b"}, {"id": "a/a"}])


def test_a_copy_takes_few_requests_and_is_the_same_each_time() -> None:
    site = small_site()
    requests, size = requests_and_bytes(site, site[INDEX])
    assert requests <= 6
    assert size < 60_000
    assert small_site.__wrapped__() == site


def test_the_worker_draws_what_python_draws() -> None:
    """The worker's drawing comes from the pack; here all families at once, without a browser."""
    pages = list(documents(frozen_book()))
    given = f"const pages = {json.dumps(pages)}, template = {json.dumps('-' + TEMPLATE)};"
    module = f"{read_module('offline/draw.js')}\n{given}\n"
    answers = json.loads(run_module(f"{module}console.log(JSON.stringify(pages.map((page) => draw(page, template))));"))
    assert answers == [drawn(page) for page in pages]


def test_one_script_does_what_the_modules_do(tmp_path: Path) -> None:
    script = one_script(lambda name: (ASSETS / name).read_text(), "find/searching.js")
    (tmp_path / "one.cjs").write_text(f"{script}\nmodule.exports = $find_searching;")
    asked = f'import one from "{(tmp_path / "one.cjs").as_uri()}";\nconsole.log(Object.keys(one));'
    assert run_module(asked).split() == ["[", "'search'", "]"]


@pytest.mark.parametrize(
    ("modules", "printed"),
    [
        (
            {
                "a.js": 'import { b as c } from "./b.js";\nconsole.log(c);',
                "b.js": "const x = 1;\nexport const b = x, d = [1, 2];",
            },
            "1",
        ),
        (
            {
                "a.js": 'import * as all from "./x/b.js";\nconsole.log(Object.keys(all).join());',
                "c.js": "export class c {}",
                "x/b.js": 'import { c } from "../c.js";\nexport const b = c, d = f(1);\nexport function f(a) {}',
            },
            "b,d,f",
        ),
        (
            {
                "a.js": 'import {\n  b,\n  c,\n} from "./b.js";\nconsole.log(b + c);',
                "b.js": "export let b = 2;\nexport async function c() {}",
            },
            "2async function c() {}",
        ),
    ],
)
def test_modules_become_one_script(modules: Mapping[str, str], printed: str, tmp_path: Path) -> None:
    (tmp_path / "one.cjs").write_text(one_script(modules.__getitem__, "a.js"))
    assert run_module(f'import "{(tmp_path / "one.cjs").as_uri()}";').strip() == printed


@pytest.mark.parametrize(
    ("modules", "fault"),
    [
        ({"a.js": 'import b from "./b.js";', "b.js": ""}, "a.js: import uses syntax that is not supported"),
        ({"a.js": "export default 1;"}, "a.js: export uses syntax that is not supported"),
        ({"a.js": "const a = 1;\nexport { a };"}, "a.js: export uses syntax that is not supported"),
        ({"a.js": 'import { b } from "./a.js";'}, "a.js imports itself by way of a.js"),
    ],
)
def test_other_modules_are_refused(modules: Mapping[str, str], fault: str) -> None:
    with pytest.raises(CannotBundle, match=fault):
        one_script(modules.__getitem__, "a.js")
