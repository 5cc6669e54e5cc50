"""The pack: every family's page document, for a phone to keep; each can be read quickly without the others."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping

from kb.book.model.engine_ranges import Document
from kb.publish.site.columns import Columns, compressed, parts_of

FOLDER = "offline"
FAMILIES_A_PART = 2500
"""The families in one part: with fewer, ten thousand would take more than a few requests; with more, reading one family
is slower."""

LABELS = ("figure", "id")
"""Keys that identify the entries of a list."""


def pack_files(documents: Iterable[Document]) -> Mapping[str, bytes]:
    """The pack by its paths in the site, from page documents in the order of their ids; the same input, the same bytes.

    Raises:
        ValueError: the documents are not in the order of their ids, which looking one up relies on.
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
    files = {f"{FOLDER}/shapes.bin": compressed(header)}
    return files | {f"{FOLDER}/part-{number}.bin": compressed(part) for number, part in enumerate(parts)}
