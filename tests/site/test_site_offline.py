"""The worker and the server draw the same, byte for byte: every family, from the pack, by the worker's own script."""

from __future__ import annotations

import json
from base64 import b64encode
from pathlib import Path

from kb.publish.site.build import Builder
from kb.publish.site.family.document import family_page
from kb.publish.site.offline.bundle import one_script
from kb.publish.site.offline.pack import pack_files
from kb.publish.site.offline.phone_copy import BODY, TEMPLATE, TITLE
from tests.support.folders import ASSETS
from tests.support.frozen import frozen_book
from tests.support.node import run_module

_DRAW = """
import { readFileSync } from "node:fs";
import made from "ONE";
const { Pack, draw } = made, [files, ids, framed, shared] = JSON.parse(readFileSync(process.argv[2], "utf8"));
const pack = new Pack(async (name) => Uint8Array.from(Buffer.from(files[`offline/${name}`], "base64")).buffer);
const pages = {};
for (const id of ids) pages[id] = draw(await pack.read(id), framed, shared);
console.log(JSON.stringify(pages));
"""


def test_the_worker_draws_every_family_as_the_server_does(tmp_path: Path) -> None:
    book = frozen_book()
    builder = Builder(book)
    pages = [family_page(book, key) for key in sorted(book.family_ids())]
    entry = 'import { draw } from "./draw.js";\nimport { Pack } from "./pack.js";\nexport const both = [draw, Pack];\n'
    both = "offline/both.js"
    script = one_script(lambda name: entry if name == both else (ASSETS / name).read_text(), both)
    (tmp_path / "one.cjs").write_text(
        f"{script}\nmodule.exports = {{ Pack: $offline_pack.Pack, draw: $offline_draw.draw }};"
    )
    framed = builder.framed(TITLE, BODY) + TEMPLATE + builder.source
    files = {path: b64encode(content).decode() for path, content in pack_files(pages).items()}
    asked = tmp_path / "asked.json"
    asked.write_text(json.dumps([files, [page["id"] for page in pages], framed, builder.shared]))
    there = json.loads(run_module(_DRAW.replace("ONE", (tmp_path / "one.cjs").as_uri()), asked))
    assert {key for key in there if there[key] != builder.family_html(family_page(book, key))} == set()
    assert len(there) == len(pages)
