"""The pack: every family's page document, for a phone to keep; any one is read quickly by itself."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping

from kb.book.model.engine_ranges import Document
from kb.publish.site.columns import Columns, parts_of, pressed

FOLDER = "offline"
FAMILIES_A_PART = 2500
"""So many families lie in one part: fewer, and ten thousand would take more than a few requests; more, and one family
is read more slowly."""

LABELS = ("figure", "id")
"""Keys by which the entries of a list are told apart."""


def pack_files(documents: Iterable[Document]) -> Mapping[str, bytes]:
    """The pack by its paths in the site, from page documents in the order of their ids; the same for the same.

    Raises:
        ValueError: the documents are not in the order of their ids, by which one is looked for.
    """
    columns, firsts, last = Columns(LABELS), list[str](), ""
    for place, document in enumerate(documents):
        if place and not last < document["id"]:
            raise ValueError(f"{document['id']} comes after {last}, though it is before it in the order of ids")
        last = document["id"]
        if place % FAMILIES_A_PART == 0:
            firsts.append(last)
        columns.add(document)
    shapes, *parts = parts_of(columns, FAMILIES_A_PART)
    header = json.dumps([firsts], ensure_ascii=False, separators=(",", ":")).encode()[:-1] + b"," + shapes + b"]"
    files = {f"{FOLDER}/shapes.bin": pressed(header)}
    return files | {f"{FOLDER}/part-{number}.bin": pressed(part) for number, part in enumerate(parts)}
